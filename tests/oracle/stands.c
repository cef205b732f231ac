/*
 * How the best bundle of one job stands in another: section 18. The other job is the
 * one that this checker was asked; the first is read and searched here by itself.
 */
#include "stays.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Wanted { /* per role: the key of the fit-out with its tasks */
    const char **role, **key;
    int roles;
} Wanted;

static bool is_affordable(Hunt *h, const Found *f, const void *about) {
    (void)about;
    return within(h, f);
}

/* False where nothing fits in the first job. What is found lives in `w`. */
static bool best_of(World *w, const Before *before, Wanted *out) {
    Hunt h = {.w = w};
    load_world(w, before->scenario);
    make_choices(w);
    learn_today(w);
    find_all(&h, before->limit);
    if (h.n) {
        score_all(&h);
        set_machine(w, pick(&h, NULL, NULL)->number, h.at);
        out->roles = w->roles;
        out->role = hold(w, (size_t)w->roles * sizeof *out->role);
        out->key = hold(w, (size_t)w->roles * sizeof *out->key);
        for (int r = 0; r < w->roles; r++) {
            out->role[r] = w->role[r].id;
            out->key[r] = h.at[r]->key;
        }
    }
    free(h.found);
    return h.n > 0;
}

/* Whether the two keys say the same parts, and, if asked for, the same tasks. */
static bool same_key(const char *a, const char *b, bool tasks) {
    size_t m = strcspn(a, "\t"), n = strcspn(b, "\t");
    return tasks ? !strcmp(a, b) : m == n && !memcmp(a, b, m);
}

static bool has_choice(const World *w, const char *role, const char *key, bool tasks) {
    int at = find_role(w, role);
    for (int i = 0; at >= 0 && i < w->role[at].choices; i++)
        if (same_key(w->role[at].choice[i].key, key, tasks))
            return true;
    return false;
}

static bool has_all(const World *w, const Wanted *x, bool tasks) {
    for (int r = 0; r < x->roles; r++)
        if (!has_choice(w, x->role[r], x->key[r], tasks))
            return false;
    return true;
}

/* The job read again with fewer wishes, only as far as its choices go. */
static bool all_there(const char *scenario, bool with_limits, bool with_wishes, const Wanted *x,
                      bool tasks) {
    World w = {.free_of_limits = !with_limits, .free_of_wishes = !with_wishes};
    load_world(&w, scenario);
    make_choices(&w);
    bool there = has_all(&w, x, tasks);
    drop_all(&w);
    return there;
}

/* Some choice of X is not among this job's: why. What the page leaves open is told
 * as such: a listing that a wish or the days leave out, a task no longer offered. */
static const char *lacking(const char *scenario, const Wanted *x) {
    if (!all_there(scenario, true, false, x, false))
        return "gone";
    if (!all_there(scenario, false, false, x, true))
        return "task-gone";
    return all_there(scenario, false, true, x, true) ? "left-out" : "refused";
}

static bool is_wanted(Hunt *h, const Found *f, const void *about) {
    const Wanted *x = about;
    set_machine(h->w, f->number, h->at);
    for (int r = 0; r < x->roles; r++)
        if (strcmp(h->at[r]->key, x->key[r]) != 0)
            return false;
    return true;
}

/* Of bundles with the same points the first in the order has the least bill. */
static void print_standing(Hunt *h, const char *scenario, const Wanted *x) {
    const Found *best = pick(h, is_affordable, NULL), *mine = pick(h, is_wanted, x);
    const char *how = best && is_wanted(h, best, x) ? "best"
                      : mine && within(h, mine)     ? "beaten"
                      : mine                        ? "dear"
                      : has_all(h->w, x, true)      ? "refused"
                                                    : lacking(scenario, x);
    printf("\"%s\"", how);
    if (!mine)
        return;
    printf(",\"stands_points\":");
    points_print(mine->points);
    printf(",\"stands_cost\":");
    money_print(h->w, mine->cost);
}

void print_stands(Hunt *h, const char *scenario, const Before *before) {
    World first = {0};
    Wanted x = {0};
    printf(",\"stands\":");
    if (best_of(&first, before, &x))
        print_standing(h, scenario, &x);
    else
        printf("null");
    drop_all(&first);
}
