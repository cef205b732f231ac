/*
 * Sharp questions for the tests: budgets at which a bundle is too dear just below
 * the price that waives delivery and within the budget just above.
 */
#include "why.h"

#include <stdio.h>
#include <stdlib.h>

typedef struct Rival { /* least cost first: the most points for the cost at most */
    long long cost, points;
} Rival;

typedef struct Rivals {
    size_t n;
    Rival *at;
} Rivals;

static int by_cost(const void *a, const void *b) {
    const Rival *x = a, *y = b;
    return x->cost < y->cost ? -1 : x->cost > y->cost;
}

static Rivals rivals_of(Asked *a) {
    Rivals r = {0, hold(a->w, a->h->n * sizeof *r.at)};
    for (size_t i = 0; i < a->h->n; i++) {
        const Found *f = &a->h->found[i];
        set_machine(a->w, f->number, a->h->at);
        if (!holds(a->w, a->h->at, a->part))
            r.at[r.n++] = (Rival){f->cost, f->points};
    }
    if (r.n)
        qsort(r.at, r.n, sizeof *r.at, by_cost);
    for (size_t i = 1; i < r.n; i++)
        if (r.at[i].points < r.at[i - 1].points)
            r.at[i].points = r.at[i - 1].points;
    return r;
}

static bool beats(const Rivals *r, long long points, long long budget) {
    size_t low = 0, high = r->n;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (r->at[middle].cost <= budget)
            low = middle + 1;
        else
            high = middle;
    }
    return low == 0 || points > r->at[low - 1].points;
}

/* Of the bundles that open a gap the one with most points; false when none does. */
static bool gap_for(Asked *a, long long *budget) {
    Rivals rivals = rivals_of(a);
    const Found *best = NULL;
    for (size_t i = 0; i < a->h->n; i++) {
        const Found *f = &a->h->found[i];
        if ((best && f->points <= best->points) || !buys(a, f))
            continue;
        long long waived = waived_from(a, f);
        if (waived < 1 || waived > DEAREST)
            continue;
        long long at = cost_at(a, f, waived), below = cost_at(a, f, waived - 1);
        if (below <= at || !beats(&rivals, f->points, at))
            continue;
        best = f;
        *budget = at;
    }
    return best != NULL;
}

void print_sharp(Hunt *h) {
    World *w = h->w;
    const char *between = "";
    printf("{\"sharp\":[");
    for (int p = 0; p < w->parts; p++) {
        long long budget;
        Asked a = {h, w, w->part[p].id, w->part[p].role, who_is_asked(w, p)};
        if (!a.listing || is_given(w, a.part))
            continue;
        long long price = a.listing->price;
        if (gap_for(&a, &budget)) {
            printf("%s{\"part\":\"%s\",\"total\":", between, a.part);
            money_print(w, budget + w->set_aside);
            putchar('}');
            between = ",";
        }
        put_back_price(&a, price);
    }
    printf("]}\n");
}
