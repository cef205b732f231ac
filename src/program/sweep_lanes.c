/* Which prices of money the sweep looks at, and how much of the money axis each watches. */
#include "program/sweep.h"

#include <math.h>
#include <stdlib.h>
#include <stdio.h>
#include <string.h>

#define FIRST_ROUNDS 300
#define NEXT_ROUNDS 40

double sw_lane_bound(sw_sweep *s, sw_node *node, int lane, double *price, int rounds) {
    sw_model *m = s->m;
    sw_node one = *node;
    one.price = price;
    m->cost_worth = s->lanes.money[lane];
    double target = sw_frontier_least(s->frontier, s->lanes.money[lane], s->lanes.low[lane], s->lanes.high[lane]);
    return sw_node_descend(m, &one, &s->x, false, target, rounds);
}

/* A price of money with its bound, and what the relaxation takes there. */
typedef struct look {
    double money, bound, cost;
} look;

/* The price of money, and the other prices, that bound best at a cost; the subgradient
 * finds them together. */
static look look_at(sw_sweep *s, sw_node *root, double cost, double *price, int rounds) {
    sw_model *m = s->m;
    int64_t limit = m->limit;
    sw_node one = *root;
    one.price = price;
    m->cost_worth = 0;
    m->limit = (int64_t)cost;
    double target = sw_frontier_least(s->frontier, 0, m->limit, m->limit);
    double bound = sw_node_descend(m, &one, &s->x, true, target, rounds);
    bound -= price[0] * (double)m->limit;
    m->limit = limit;
    if (getenv("LOOK")) fprintf(stderr, "look cost %.0f target %.0f bound %.0f money %g -> %.0f\n", cost, target, bound, price[0], bound + price[0]*cost);
    look l = {price[0], bound, cost};
    price[0] = 0;
    return l;
}

/* Where two lines cross. */
static double crossing(const look *a, const look *b) {
    return (b->bound - a->bound) / (a->money - b->money);
}

/* The costs to look at: where the known steps are, or nearer together at low costs. */
static double target(const sw_sweep *s, int i) {
    const sw_frontier *f = s->frontier;
    double share = ((double)i + 0.5) / SW_LANES;
    if (f->count >= SW_LANES)
        return (double)f->treads[(size_t)(share * (double)f->count)].tally.cost;
    return (double)f->from + share * share * (double)(f->to - f->from);
}

static int by_money(const void *left, const void *right) {
    const look *a = left, *b = right;
    return a->money != b->money ? (a->money > b->money ? -1 : 1)
                                : (a->bound > b->bound) - (a->bound < b->bound);
}

static int spread_looks(sw_sweep *s, sw_node *root, look *looks, double *price) {
    size_t prices = (size_t)sw_price_count(s->m);
    for (int i = 0; i < SW_LANES; i++) {
        double *own = price + (size_t)i * prices;
        if (i > 0) {
            memcpy(own, own - prices, prices * sizeof *price);
            own[0] = looks[i - 1].money;
        }
        double cost = i + 1 < SW_LANES ? target(s, i) : (double)s->frontier->to;
        looks[i] = look_at(s, root, cost, own, i == 0 ? 2 * FIRST_ROUNDS : NEXT_ROUNDS);
        looks[i].cost = i;
    }
    return SW_LANES;
}

/* Each lane watches the costs at which its line is the lowest. */
static void cut_axis(sw_sweep *s, look *looks, double *price, double *again, int count) {
    size_t prices = (size_t)sw_price_count(s->m);
    sw_lanes *lanes = &s->lanes;
    double start[SW_LANES];
    int kept = 0;
    qsort(looks, (size_t)count, sizeof *looks, by_money);
    for (int i = 0; i < count; i++) {
        /* Takes away those before that the new line lies under from their start on. */
        if (kept > 0 && !(looks[i].money < looks[kept - 1].money * (1 - 1e-9)))
            continue;
        while (kept > 0 && crossing(&looks[kept - 1], &looks[i]) <= start[kept - 1])
            kept--;
        double from = kept == 0 ? -INFINITY : crossing(&looks[kept - 1], &looks[i]);
        looks[kept] = looks[i];
        start[kept++] = from;
    }
    int64_t low = s->frontier->from, end = s->frontier->to;
    lanes->count = 0;
    for (int i = 0; i < kept; i++) {
        double last = i + 1 < kept ? floor(start[i + 1]) : (double)end;
        int64_t high = last >= (double)end ? end : last < (double)low ? low - 1 : (int64_t)last;
        if (i + 1 == kept)
            high = end;
        if (high < low)
            continue;
        int at = lanes->count++;
        lanes->money[at] = looks[i].money;
        lanes->low[at] = low;
        lanes->high[at] = high;
        memcpy(again + (size_t)at * prices, price + (size_t)looks[i].cost * prices,
               prices * sizeof *price);
        low = high + 1;
    }
    memcpy(price, again, (size_t)lanes->count * prices * sizeof *price);
}

/* One budget: lanes around the price that bounds it best. */
static void surround(sw_sweep *s, sw_node *root, double *price) {
    static const double shares[SW_BLOCK] = {1, 0.5, 2, 0.8, 1.25, 0.2, 0.65, 1.6};
    sw_model *m = s->m;
    sw_lanes *lanes = &s->lanes;
    size_t prices = (size_t)sw_price_count(m);
    int64_t limit = m->limit;
    bool fixed = false;
    sw_node one = *root;
    one.price = price;
    m->cost_worth = 0;
    m->limit = s->frontier->to;
    sw_node_bound(m, &one, &s->x, -INFINITY, 2 * FIRST_ROUNDS, &fixed);
    m->limit = limit;
    double best = price[0];
    price[0] = 0;
    lanes->all = true;
    lanes->count = best > 0 ? SW_BLOCK : 1;
    for (int i = 0; i < lanes->count; i++) {
        lanes->money[i] = best * shares[i];
        lanes->low[i] = lanes->high[i] = s->frontier->to;
        memcpy(price + (size_t)i * prices, price, prices * sizeof *price);
        sw_lane_bound(s, root, i, price + (size_t)i * prices, NEXT_ROUNDS);
    }
}

void sw_lanes_make(sw_sweep *s, sw_node *root, double *price) {
    look looks[SW_LANES];
    sw_prices_start(s->m, price);
    if (s->frontier->from == s->frontier->to) {
        surround(s, root, price);
        return;
    }
    double *again = malloc((size_t)SW_LANES * (size_t)sw_price_count(s->m) * sizeof *again);
    if (again == NULL) {
        s->status = SW_NO_MEMORY;
        return;
    }
    int count = spread_looks(s, root, looks, price);
    cut_axis(s, looks, price, again, count);
    free(again);
}
