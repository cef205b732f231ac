/* Which prices of money the sweep looks at, and how much of the money axis each watches. */
#include "program/sweep.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FIRST_ROUNDS 300
#define NEXT_ROUNDS 40
#define SW_LOOKS 64

double sw_lane_bound(sw_sweep *s, sw_node *node, int lane, double *price, int rounds) {
    sw_model *m = s->lanes.model[lane];
    sw_node one = *node;
    one.price = price;
    if (s->asker == NULL)
        m->cost_worth = s->lanes.money[lane];
    return sw_node_descend(m, &one, s->lanes.scratch[lane], s->asker != NULL, -INFINITY, rounds);
}

double sw_lane_money(const sw_sweep *s, int lane, const double *price) {
    return s->asker == NULL ? s->lanes.money[lane] : s->lanes.model[lane]->cost_worth + price[0];
}

double sw_sweep_least(const sw_sweep *s, int stretch, int lane) {
    const sw_lanes *lanes = &s->lanes;
    if (s->asker != NULL)
        return s->asker->least(s->asker->who, stretch, lane);
    return sw_frontier_least(s->frontier, lanes->money[lane], lanes->low[stretch],
                             lanes->high[stretch]);
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
    look l = {price[0], bound, cost};
    price[0] = 0;
    return l;
}

/* The costs to look at: where the known steps are, or nearer together at low costs. */
static double target(const sw_sweep *s, double share) {
    const sw_frontier *f = s->frontier;
    if (f->count >= SW_STRETCHES)
        return (double)f->treads[(size_t)(share * (double)f->count)].tally.cost;
    return (double)f->from + share * share * (double)(f->to - f->from);
}

static int by_money(const void *left, const void *right) {
    const look *a = left, *b = right;
    return (a->money < b->money) - (a->money > b->money);
}

/* Prices of money that differ: those of nearly the same are looked at once. */
#define NEAR 1.02

static void spread_lanes(sw_sweep *s, sw_node *root, double *price, double *again) {
    look looks[SW_LOOKS];
    size_t prices = (size_t)sw_price_count(s->m);
    for (int i = 0; i < SW_LOOKS; i++) {
        double *own = again + (size_t)i * prices;
        if (i > 0) {
            memcpy(own, own - prices, prices * sizeof *price);
            own[0] = looks[i - 1].money;
        }
        double cost =
            i + 1 < SW_LOOKS ? target(s, ((double)i + 0.5) / SW_LOOKS) : (double)s->frontier->to;
        looks[i] = look_at(s, root, cost, own, i == 0 ? FIRST_ROUNDS : NEXT_ROUNDS);
        looks[i].cost = i;
    }
    qsort(looks, SW_LOOKS, sizeof *looks, by_money);
    s->lanes.count = 0;
    for (int i = 0; i < SW_LOOKS && s->lanes.count < SW_LANES; i++) {
        int at = s->lanes.count;
        if (at > 0 && looks[i].money > 0 && looks[i].money * NEAR >= s->lanes.money[at - 1])
            continue;
        if (at > 0 && looks[i].money == s->lanes.money[at - 1])
            continue;
        s->lanes.money[s->lanes.count++] = looks[i].money;
        memcpy(price + (size_t)at * prices, again + (size_t)looks[i].cost * prices,
               prices * sizeof *price);
    }
}

/* Stretches with about as many steps each, as far as steps are known. */
void sw_lanes_cut(sw_sweep *s) {
    sw_lanes *lanes = &s->lanes;
    const sw_frontier *f = s->frontier;
    int64_t low = f->from;
    if (f->from == f->to)
        return;
    lanes->stretches = 0;
    for (int i = 1; i <= SW_STRETCHES; i++) {
        int64_t high = i < SW_STRETCHES ? (int64_t)target(s, (double)i / SW_STRETCHES) - 1 : f->to;
        if (high < low)
            continue;
        lanes->low[lanes->stretches] = low;
        lanes->high[lanes->stretches++] = high;
        low = high + 1;
    }
}

/* One budget: lanes around the price that bounds it best. */
static void surround(sw_sweep *s, sw_node *root, double *price) {
    static const double shares[SW_BLOCK] = {3, 1.7, 1.3, 1, 0.75, 0.5, 0.2, 0};
    sw_lanes *lanes = &s->lanes;
    size_t prices = (size_t)sw_price_count(s->m);
    double best = look_at(s, root, (double)s->frontier->to, price, FIRST_ROUNDS).money;
    lanes->count = best > 0 ? SW_BLOCK : 1;
    lanes->stretches = 1;
    lanes->low[0] = lanes->high[0] = s->frontier->to;
    for (int i = 0; i < lanes->count; i++) {
        lanes->money[i] = best * shares[i];
        if (i > 0)
            memcpy(price + (size_t)i * prices, price, prices * sizeof *price);
    }
    for (int i = 0; i < lanes->count; i++)
        sw_lane_bound(s, root, i, price + (size_t)i * prices, NEXT_ROUNDS);
}

void sw_lanes_make(sw_sweep *s, sw_node *root, double *price) {
    sw_prices_start(s->m, price);
    if (s->frontier->from == s->frontier->to) {
        surround(s, root, price);
        return;
    }
    double *again = malloc((size_t)SW_LOOKS * (size_t)sw_price_count(s->m) * sizeof *again);
    if (again == NULL) {
        s->status = SW_NO_MEMORY;
        return;
    }
    sw_prices_start(s->m, again);
    spread_lanes(s, root, price, again);
    sw_lanes_cut(s);
    free(again);
}

void sw_sweep_gaps(const sw_sweep *s, const double *bound, double *gap) {
    const sw_lanes *lanes = &s->lanes;
    for (int i = 0; i < lanes->stretches; i++)
        for (int j = 0; j < lanes->count; j++)
            gap[i * lanes->count + j] = bound[j] - sw_sweep_least(s, i, j);
}

double sw_sweep_room(const sw_sweep *s, const double *bound) {
    const sw_lanes *lanes = &s->lanes;
    double widest = -INFINITY;
    for (int i = 0; i < lanes->stretches; i++) {
        double least = INFINITY;
        for (int j = 0; j < lanes->count && least >= 0; j++) {
            double gap = lanes->unit[j] * (bound[j] - sw_sweep_least(s, i, j));
            least = gap < least ? gap : least;
        }
        widest = least > widest ? least : widest;
    }
    return widest;
}
