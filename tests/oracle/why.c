/*
 * Why a part is in the best bundle, or is not: where it stands, the bundles with
 * and without it, what comes along with it. Section 13 of the page, less the trial.
 */
#include "why.h"

#include <stdio.h>
#include <string.h>

typedef struct Pair { /* a bundle that holds the one and not the other; NULL: whatever */
    const char *with, *without;
    bool within;
} Pair;

bool holds(const World *w, const Choice **at, const char *part) {
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < at[r]->pieces; i++)
            if (!strcmp(at[r]->piece[i].id, part))
                return true;
    return false;
}

static bool is_pair(Hunt *h, const Found *f, const void *about) {
    const Pair *p = about;
    if (p->within && !within(h, f))
        return false;
    set_machine(h->w, f->number, h->at);
    return (!p->with || holds(h->w, h->at, p->with)) &&
           (!p->without || !holds(h->w, h->at, p->without));
}

/* Picked as if there were no points: the order of the baseline. */
static const Found *cheapest_with(Hunt *h, const char *part) {
    const Found *best = NULL;
    for (size_t i = 0; i < h->n; i++) {
        const Found *f = &h->found[i];
        if (is_pair(h, f, &(Pair){.with = part}) && (!best || is_cheaper(h, f, best)))
            best = f;
    }
    return best;
}

bool is_cheaper(Hunt *h, const Found *a, const Found *b) {
    return comes_first(h, &(Found){.number = a->number, .cost = a->cost},
                       &(Found){.number = b->number, .cost = b->cost});
}

static bool stands_today(const World *w, const char *part) {
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < w->role[r].presents; i++)
            if (!strcmp(w->role[r].present[i].id, part))
                return true;
    return false;
}

static int role_of(const World *w, const char *part) {
    int known = find_part(w, part);
    if (known >= 0)
        return w->part[known].role;
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < w->role[r].presents; i++)
            if (!strcmp(w->role[r].present[i].id, part))
                return r;
    stop(2, "no part %s", part);
}

static void print_one(Hunt *h, const char *name, const Found *f) {
    printf("\"%s\":", name);
    if (!f) {
        printf("null");
        return;
    }
    putchar('{');
    print_bundle(h, f);
    putchar('}');
}

static const char *standing(const Found *best, const Found *with, const Found *cheapest) {
    if (with && with == best)
        return "in";
    return with ? "beaten" : cheapest ? "dear" : "never";
}

/* Parts as they are told apart: a kept piece is not the same as one bought. */
static bool other_parts(const Choice *a, const Choice *b) {
    size_t length = strcspn(a->key, "\t");
    return length != strcspn(b->key, "\t") || memcmp(a->key, b->key, length) != 0;
}

static void print_along(Hunt *h, const char *part, const Found *cheapest) {
    int own = role_of(h->w, part);
    bool first = true;
    printf(",\"along\":[");
    if (cheapest)
        set_machine(h->w, cheapest->number, h->at);
    for (int r = 0; cheapest && r < h->w->roles; r++)
        if (r != own && other_parts(h->at[r], h->baseline.at[r])) {
            printf("%s\"%s\"", first ? "" : ",", h->w->role[r].id);
            first = false;
        }
    putchar(']');
}

static void print_over(Hunt *h, const char *part, const char *over) {
    role_of(h->w, over);
    printf(",\"over\":{\"part\":\"%s\",", over);
    print_one(h, "this", pick(h, is_pair, &(Pair){part, over, true}));
    putchar(',');
    print_one(h, "other", pick(h, is_pair, &(Pair){over, part, true}));
    putchar('}');
}

int print_why(Hunt *h, const Why *why) {
    const char *part = why->part;
    int role = role_of(h->w, part);
    const Found *best = pick(h, is_pair, &(Pair){.within = true});
    const Found *with = pick(h, is_pair, &(Pair){.with = part, .within = true});
    const Found *without = pick(h, is_pair, &(Pair){.without = part, .within = true});
    const Found *cheapest = cheapest_with(h, part);
    printf("{\"status\":\"%s\",\"currency\":\"%s\",\"part\":{\"part\":\"%s\",\"role\":\"%s\","
           "\"present\":%s},",
           best ? "optimal" : "nothing-fits", text_of(h->w->job, "currency", ""), part,
           h->w->role[role].id, stands_today(h->w, part) ? "true" : "false");
    printf("\"standing\":\"%s\",", standing(best, with, cheapest));
    print_one(h, "best", best);
    putchar(',');
    print_one(h, "with", with);
    putchar(',');
    print_one(h, "without", without);
    putchar(',');
    print_one(h, "cheapest_with", cheapest);
    print_along(h, part, cheapest);
    printf(",\"behind\":");
    if (with)
        points_print(best->points - with->points);
    else
        printf("null");
    print_entry(h, why);
    print_weights(h, part);
    if (why->over)
        print_over(h, part, why->over);
    printf(",\"unsettled\":false,\"combinations\":%llu,\"feasible\":%zu}\n", h->combinations,
           h->within);
    return best ? 0 : 1;
}
