/* Finds every bundle that obeys, one by one, and puts them in the page's order. */
#include "hunt.h"

#include <stdlib.h>
#include <string.h>

void set_machine(const World *w, unsigned long long number, const Choice **at) {
    for (int r = 0; r < w->roles; r++) {
        unsigned long long n = (unsigned long long)w->role[r].choices;
        at[r] = &w->role[r].choice[number % n];
        number /= n;
    }
}

static void count_combinations(Hunt *h, unsigned long long limit) {
    h->combinations = 1;
    for (int r = 0; r < h->w->roles; r++) {
        unsigned long long n = (unsigned long long)h->w->role[r].choices;
        if (n && h->combinations > limit / n)
            stop(3, "more than %llu combinations", limit);
        h->combinations *= n;
    }
}

static void keep_found(Hunt *h, Found found) {
    if (h->n == h->room) {
        h->room = h->room ? h->room * 2 : 1024;
        Found *fresh = realloc(h->found, h->room * sizeof *fresh);
        if (!fresh)
            stop(2, "no memory");
        h->found = fresh;
    }
    h->found[h->n++] = found;
}

static bool obeys(const Hunt *h, const Machine *m, double today, long long *cost) {
    const World *w = h->w;
    long long minutes;
    *cost = cost_of(w, m, &minutes);
    if ((!h->wide && *cost > w->budget) || (w->has_bench && minutes > w->bench_minutes))
        return false;
    if (w->has_loudness && w->quiet.scored) {
        double loud = sones(w, m);
        if (loud > w->loudness && loud > today)
            return false;
    }
    return rules_allow(w, m);
}

bool within(const Hunt *h, const Found *f) { return f->cost <= h->w->budget; }

void find_all(Hunt *h, unsigned long long limit) {
    World *w = h->w;
    const Choice **today = hold(w, (size_t)w->roles * sizeof *today);
    h->at = hold(w, (size_t)w->roles * sizeof *h->at);
    h->other = hold(w, (size_t)w->roles * sizeof *h->other);
    count_combinations(h, limit);
    for (int r = 0; r < w->roles; r++)
        today[r] = w->role[r].today;
    double loud_today = sones(w, &(Machine){today});
    Machine m = {h->at};
    for (unsigned long long i = 0; i < h->combinations; i++) {
        Found found = {.number = i};
        set_machine(w, i, h->at);
        if (!obeys(h, &m, loud_today, &found.cost))
            continue;
        keep_found(h, found);
        h->within += within(h, &found);
    }
}

int swaps_of(const World *w, const Choice **at) {
    int n = 0;
    for (int r = 0; r < w->roles; r++)
        n += at[r]->changed;
    return n;
}

int tasks_of(const World *w, const Choice **at) {
    int n = 0;
    for (int r = 0; r < w->roles; r++)
        n += at[r]->tasks;
    return n;
}

/* Fewest swaps, fewest tasks, ids, sellers; roles stand in byte order already. */
static int by_ties(const World *w, const Choice **a, const Choice **b) {
    int d = swaps_of(w, a) - swaps_of(w, b);
    d = d ? d : tasks_of(w, a) - tasks_of(w, b);
    for (int r = 0; !d && r < w->roles; r++)
        d = strcmp(a[r]->key, b[r]->key);
    for (int r = 0; !d && r < w->roles; r++)
        d = strcmp(a[r]->from, b[r]->from);
    return d;
}

bool comes_first(Hunt *h, const Found *a, const Found *b) {
    if (a->points != b->points)
        return a->points > b->points;
    if (a->cost != b->cost)
        return a->cost < b->cost;
    set_machine(h->w, a->number, h->at);
    set_machine(h->w, b->number, h->other);
    return by_ties(h->w, h->at, h->other) < 0;
}

const Found *pick(Hunt *h, May may, const void *about) {
    const Found *best = NULL;
    for (size_t i = 0; i < h->n; i++) {
        const Found *f = &h->found[i];
        if ((!best || comes_first(h, f, best)) && (!may || may(h, f, about)))
            best = f;
    }
    return best;
}
