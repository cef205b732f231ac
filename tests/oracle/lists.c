/*
 * Lists of bundles: all of them, the curve of what money buys, and the first so
 * many in the order, if asked so far apart from each other.
 */
#include "hunt.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int by_cost(const void *a, const void *b) {
    const Found *x = a, *y = b;
    if (x->cost != y->cost)
        return x->cost < y->cost ? -1 : 1;
    return x->points > y->points ? -1 : x->points < y->points;
}

static int by_points(const void *a, const void *b) {
    const Found *x = a, *y = b;
    if (x->points != y->points)
        return x->points > y->points ? -1 : 1;
    return x->cost < y->cost ? -1 : x->cost > y->cost;
}

void print_all(Hunt *h) {
    bool first = true;
    if (h->n)
        qsort(h->found, h->n, sizeof *h->found, by_points);
    printf(",\"bundles\":[");
    for (size_t i = 0; i < h->n; i++) {
        const Found *f = &h->found[i];
        if (!within(h, f))
            continue;
        printf("%s{\"cost\":", first ? "" : ",");
        money_print(h->w, f->cost);
        printf(",\"points\":");
        points_print(f->points);
        putchar('}');
        first = false;
    }
    putchar(']');
}

/* Sorted by cost, most points first: a step wherever the points rise. Of those
 * with the step's own cost and points, the first in the order stands for it. */
Steps steps_of(Hunt *h) {
    Steps s = {hold(h->w, h->n * sizeof *s.at), 0};
    if (h->n)
        qsort(h->found, h->n, sizeof *h->found, by_cost);
    for (size_t i = 0; i < h->n; i++) {
        const Found *f = &h->found[i];
        Found *last = s.n ? &s.at[s.n - 1] : NULL;
        if (!last || f->points > last->points)
            s.at[s.n++] = *f;
        else if (f->cost == last->cost && f->points == last->points && comes_first(h, f, last))
            *last = *f;
    }
    return s;
}

size_t print_curve(Hunt *h, const char *from, const char *to) {
    const World *w = h->w;
    Steps s = steps_of(h);
    size_t printed = 0;
    printf(",\"steps\":[");
    for (size_t i = 0; i < s.n; i++) {
        bool stands = i + 1 == s.n || (from && s.at[i + 1].cost > money_of(w, from));
        if (from && s.at[i].cost <= money_of(w, from) && !stands)
            continue;
        if (to && s.at[i].cost > money_of(w, to))
            break;
        printf("%s{\"total\":", printed++ ? "," : "");
        money_print(w, s.at[i].cost + w->set_aside);
        putchar(',');
        print_bundle(h, &s.at[i]);
        putchar('}');
    }
    putchar(']');
    return printed;
}

typedef struct Listed {
    int n, apart;
    const Found **at;
} Listed;

static bool same_parts(const Choice *a, const Choice *b) {
    size_t length = strcspn(a->key, "\t");
    return length == strcspn(b->key, "\t") && !memcmp(a->key, b->key, length);
}

/* Apart 0: the parts or the tasks differ anywhere, whoever sells them. */
static bool is_apart(Hunt *h, const Found *f, const void *about) {
    const Listed *l = about;
    if (!within(h, f))
        return false;
    set_machine(h->w, f->number, h->at);
    for (int i = 0; i < l->n; i++) {
        int differ = 0;
        set_machine(h->w, l->at[i]->number, h->other);
        for (int r = 0; r < h->w->roles; r++)
            differ += l->apart ? !same_parts(h->at[r], h->other[r])
                               : strcmp(h->at[r]->key, h->other[r]->key) != 0;
        if (differ < (l->apart ? l->apart : 1))
            return false;
    }
    return true;
}

void print_ranked(Hunt *h, int best, int apart) {
    Listed l = {0, apart, hold(h->w, (size_t)best * sizeof *l.at)};
    printf(",\"ranked\":[");
    while (l.n < best) {
        const Found *next = pick(h, is_apart, &l);
        if (!next)
            break;
        printf("%s{", l.n ? "," : "");
        print_bundle(h, next);
        putchar('}');
        l.at[l.n++] = next;
    }
    putchar(']');
}
