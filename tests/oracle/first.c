/*
 * What first: the groups of the best bundle in every order there is, bought one by one
 * or together, and the one under which the points stand longest along the money.
 */
#include "later.h"

#include <stdio.h>
#include <string.h>

enum { MOST_GROUPS = 8 }; /* of which every order can be tried */

typedef unsigned Set; /* of groups */

typedef struct Order {
    Set buy[MOST_GROUPS];
    int n;
    long long area, spent;
} Order;

typedef struct First {
    Hunt *h;
    World *w;
    const Choice **best, **at;
    int *group; /* by role, from 0; -1: as today */
    int groups;
    Set all;
    long long *price, *points; /* by set */
    bool *works;
    long long horizon, orders;
    Order now, told;
    bool any;
} First;

/* In the order of their first roles, which is the order they are met in. */
static void number_groups(First *f) {
    World *w = f->w;
    Machine m = {f->at};
    set_machine(w, f->h->best.number, f->at);
    const int *by_role = groups_of(w, &m);
    for (int r = 0; r < w->roles; r++)
        f->group[r] = by_role[r] < 0 ? -1 : by_role[r] == r ? f->groups++ : f->group[by_role[r]];
    if (f->groups > MOST_GROUPS)
        stop(3, "more than %d groups", MOST_GROUPS);
    f->all = (1u << f->groups) - 1;
}

static bool in_set(const First *f, int role, Set set) {
    return f->group[role] >= 0 && (set >> f->group[role] & 1);
}

/* Sets f->at to the stage. */
static void set_stage(First *f, Set set) {
    for (int r = 0; r < f->w->roles; r++)
        f->at[r] = in_set(f, r, set) ? f->best[r] : f->w->role[r].today;
}

/* Wishes, musts and strings may bar what a role holds today. */
static bool todays_may_stay(First *f, Set set) {
    World *w = f->w;
    for (int r = 0; r < w->roles; r++)
        if (!in_set(f, r, set) && f->group[r] >= 0 &&
            ways_of(w, r, key_of(w, w->role[r].today)).n == 0)
            return false;
    return true;
}

static bool stage_works(First *f, Set set, double loud_today) {
    World *w = f->w;
    Machine m = {f->at};
    set_stage(f, set);
    if (w->has_loudness && w->quiet.scored) {
        double loud = sones(w, &m);
        if (loud > w->loudness && loud > loud_today)
            return false;
    }
    return todays_may_stay(f, set) && rules_allow(w, &m);
}

static long long price_set(First *f, Set set) {
    World *w = f->w;
    Ways *ways = hold(w, (size_t)w->roles * sizeof *ways);
    const Ways **bought = hold(w, (size_t)w->roles * sizeof *bought);
    for (int r = 0; r < w->roles; r++)
        if (in_set(f, r, set)) {
            ways[r] = ways_of(w, r, f->best[r]->key);
            bought[r] = &ways[r];
        }
    return price_of(w, bought, false).cost;
}

static void weigh_sets(First *f) {
    size_t n = (size_t)f->all + 1;
    f->price = hold(f->w, n * sizeof *f->price);
    f->points = hold(f->w, n * sizeof *f->points);
    f->works = hold(f->w, n * sizeof *f->works);
    set_stage(f, 0);
    double loud_today = sones(f->w, &(Machine){f->at});
    for (Set set = 0; set <= f->all; set++) {
        f->works[set] = stage_works(f, set, loud_today);
        f->points[set] = score_of(f->w, &(Machine){f->at}, &f->h->baseline, NULL);
        f->price[set] = price_set(f, set);
    }
    for (int g = 0; g < f->groups; g++)
        f->horizon += f->price[1u << g];
}

/* The rising numbers of two sets, compared as lists. */
static int by_numbers(const First *f, Set a, Set b) {
    int i = 0, k = 0;
    for (;; i++, k++) {
        while (i < f->groups && !(a >> i & 1))
            i++;
        while (k < f->groups && !(b >> k & 1))
            k++;
        if (i == f->groups || k == f->groups)
            return (k == f->groups) - (i == f->groups);
        if (i != k)
            return i < k ? -1 : 1;
    }
}

static bool is_told_before(const First *f, const Order *a, const Order *b) {
    if (a->area != b->area)
        return a->area > b->area;
    if (a->n != b->n)
        return a->n < b->n;
    for (int i = 0; i < a->n; i++)
        if (a->buy[i] != b->buy[i])
            return by_numbers(f, a->buy[i], b->buy[i]) < 0;
    return false;
}

static void take_order(First *f) {
    Order whole = f->now;
    /* What was spent beyond the horizon counts against the order. */
    whole.area += f->points[f->all] * (f->horizon - whole.spent);
    f->orders++;
    if (!f->any || is_told_before(f, &whole, &f->told))
        f->told = whole;
    f->any = true;
}

static void go_on(First *f, Set done) {
    if (done == f->all) {
        take_order(f);
        return;
    }
    Set rest = f->all & ~done;
    for (Set buy = rest; buy; buy = (buy - 1) & rest) {
        Order before = f->now;
        if (!f->works[done | buy])
            continue;
        /* What stands while this purchase is saved for; before the first nothing counts. */
        f->now.area += f->now.n ? f->points[done] * f->price[buy] : 0;
        f->now.spent += f->price[buy];
        f->now.buy[f->now.n++] = buy;
        go_on(f, done | buy);
        f->now = before;
    }
}

static void print_numbers(const First *f, Set set) {
    const char *between = "";
    printf("[");
    for (int g = 0; g < f->groups; g++)
        if (set >> g & 1) {
            printf("%s%d", between, g + 1);
            between = ",";
        }
    printf("]");
}

static void print_group(const First *f, int g) {
    const char *between = "";
    printf("%s{\"number\":%d,\"roles\":[", g ? "," : "", g + 1);
    for (int r = 0; r < f->w->roles; r++)
        if (f->group[r] == g) {
            printf("%s\"%s\"", between, f->w->role[r].id);
            between = ",";
        }
    printf("],\"alone\":");
    money_print(f->w, f->price[1u << g]);
    printf("}");
}

static void print_purchases(First *f) {
    Set done = 0;
    long long spent = 0;
    printf(",\"purchases\":[");
    for (int i = 0; i < f->told.n; i++) {
        done |= f->told.buy[i];
        spent += f->price[f->told.buy[i]];
        printf("%s{\"groups\":", i ? "," : "");
        print_numbers(f, f->told.buy[i]);
        printf(",\"cost\":");
        money_print(f->w, f->price[f->told.buy[i]]);
        printf(",\"spent\":");
        money_print(f->w, spent);
        printf(",\"stage\":{\"points\":");
        points_print(f->points[done]);
        putchar(',');
        set_stage(f, done);
        print_changes(f->w, f->at);
        printf("}}");
    }
    putchar(']');
}

int print_first(Hunt *h) {
    World *w = h->w;
    size_t room = (size_t)w->roles;
    printf("{\"status\":\"%s\"", h->within ? "optimal" : "nothing-fits");
    if (!h->within) {
        printf("}\n");
        return 1;
    }
    score_all(h);
    h->best = *pick(h, NULL, NULL);
    First f = {.h = h, .w = w, .best = hold(w, room * sizeof *f.best)};
    f.at = hold(w, room * sizeof *f.at);
    f.group = hold(w, room * sizeof *f.group);
    set_machine(w, h->best.number, f.best);
    number_groups(&f);
    weigh_sets(&f);
    go_on(&f, 0);
    printf(",\"bundle\":{");
    print_bundle(h, &h->best);
    printf("},\"groups\":[");
    for (int g = 0; g < f.groups; g++)
        print_group(&f, g);
    printf("],\"horizon\":");
    money_print(w, f.horizon);
    printf(",\"area\":%lld,\"orders\":%lld", f.told.area, f.orders);
    print_purchases(&f);
    printf("}\n");
    return 0;
}
