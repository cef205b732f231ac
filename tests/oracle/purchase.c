/*
 * What a purchase costs: the least bill, over the sellers, of the machine of today in
 * which just these roles are changed, less the bill of the untouched machine.
 */
#include "later.h"

#include <string.h>

typedef struct Bill {
    World *w;
    const Ways *const *bought;
    const Choice **at;
    bool timed, any, any_slow;
    long long least, least_slow;
} Bill;

Ways ways_of(World *w, int role, const char *key) {
    const Role *r = &w->role[role];
    Ways ways = {NULL, 0};
    int n = 0;
    for (int i = 0; i < r->choices; i++)
        n += !strcmp(r->choice[i].key, key);
    ways.at = hold(w, (size_t)n * sizeof *ways.at);
    for (int i = 0; i < r->choices; i++)
        if (!strcmp(r->choice[i].key, key))
            ways.at[ways.n++] = &r->choice[i];
    return ways;
}

static void take_least(bool *any, long long *least, long long cost) {
    if (!*any || cost < *least)
        *least = cost;
    *any = true;
}

static void add_up(Bill *b) {
    long long minutes, cost = cost_of(b->w, &(Machine){b->at}, &minutes);
    take_least(&b->any_slow, &b->least_slow, cost);
    if (!b->timed || !b->w->has_bench || minutes <= b->w->bench_minutes)
        take_least(&b->any, &b->least, cost);
}

static void try_sellers(Bill *b, int role) {
    if (role == b->w->roles) {
        add_up(b);
        return;
    }
    b->at[role] = b->w->role[role].today;
    if (!b->bought[role]) {
        try_sellers(b, role + 1);
        return;
    }
    for (int i = 0; i < b->bought[role]->n; i++) {
        b->at[role] = b->bought[role]->at[i];
        try_sellers(b, role + 1);
    }
}

Price price_of(World *w, const Ways *const *bought, bool timed) {
    Bill b = {.w = w, .bought = bought, .timed = timed};
    long long minutes;
    b.at = hold(w, (size_t)w->roles * sizeof *b.at);
    for (int r = 0; r < w->roles; r++)
        b.at[r] = w->role[r].today;
    long long untouched = cost_of(w, &(Machine){b.at}, &minutes);
    try_sellers(&b, 0);
    Price p = {.some = b.any, .cost = b.any && b.least > untouched ? b.least - untouched : 0};
    p.slow_is_less = b.any_slow && (!b.any || b.least_slow < b.least);
    return p;
}
