/* Prints bundles: what goes out, what comes in and from whom, and what is done. */
#include "hunt.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void print_out(const Role *r, const Choice *c) {
    bool first = true;
    printf("\"out\":[");
    for (int round = 0, last = -1; round < r->presents; round++) {
        int next = -1;
        for (int i = 0; i < r->presents; i++)
            if ((last < 0 || strcmp(r->present[i].id, r->present[last].id) > 0) &&
                (next < 0 || strcmp(r->present[i].id, r->present[next].id) < 0))
                next = i;
        last = next;
        if (c->kept[next] == r->present[next].count)
            continue;
        printf("%s{\"part\":\"%s\",\"count\":%d}", first ? "" : ",", r->present[next].id,
               r->present[next].count - c->kept[next]);
        first = false;
    }
    printf("],");
}

static void print_swaps(const World *w, const Choice **at) {
    bool first = true;
    printf("\"swaps\":[");
    for (int r = 0; r < w->roles; r++) {
        const Choice *c = at[r];
        if (!c->changed)
            continue;
        printf("%s{\"role\":\"%s\",", first ? "" : ",", w->role[r].id);
        print_out(&w->role[r], c);
        printf("\"in\":[");
        for (int i = 0; i < c->lines; i++) {
            const Line *line = &c->line[i];
            printf("%s{\"part\":\"%s\",\"seller\":\"%s\",\"count\":%d,\"price\":", i ? "," : "",
                   w->part[line->listing->part].id, w->seller[line->listing->seller].id,
                   line->count);
            money_print(w, line->listing->price * line->count);
            putchar('}');
        }
        printf("]}");
        first = false;
    }
    printf("],");
}

static int by_text(const void *a, const void *b) {
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static void print_tasks(World *w, const Choice **at) {
    int n = tasks_of(w, at), k = 0;
    const char **id = hold(w, (size_t)n * sizeof *id);
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < at[r]->tasks; i++)
            id[k++] = w->task[at[r]->task[i]].id;
    qsort(id, (size_t)n, sizeof *id, by_text);
    printf("\"tasks\":[");
    for (int i = 0; i < n; i++)
        printf("%s\"%s\"", i ? "," : "", id[i]);
    printf("]");
}

void print_changes(World *w, const Choice **at) {
    print_swaps(w, at);
    print_tasks(w, at);
}

void print_bundle(Hunt *h, const Found *f) {
    printf("\"points\":");
    points_print(f->points);
    printf(",\"cost\":");
    money_print(h->w, f->cost);
    putchar(',');
    set_machine(h->w, f->number, h->at);
    print_changes(h->w, h->at);
}

void print_criteria(Hunt *h, const Found *f) {
    World *w = h->w;
    long long *by = hold(w, (size_t)w->criteria * sizeof *by);
    bool first = true;
    set_machine(w, f->number, h->at);
    score_of(w, &(Machine){h->at}, &h->baseline, by);
    printf(",\"criteria\":{");
    for (int i = 0; i < w->criteria; i++) {
        if (!w->criterion[i].weight)
            continue;
        printf("%s\"%s\":", first ? "" : ",", w->criterion[i].id);
        points_print(by[i]);
        first = false;
    }
    putchar('}');
}

/* A step as one number of money and one of points; NULL prints null. */
void print_step(Hunt *h, const char *name, const Found *f) {
    printf(",\"%s\":", name);
    if (!f) {
        printf("null");
        return;
    }
    printf("{\"points\":");
    points_print(f->points);
    printf(",\"cost\":");
    money_print(h->w, f->cost);
    putchar('}');
}
