/* Which prices of money the sweep looks at, and how much of the money axis each watches. */
#include "program/sweep.h"

#include <math.h>
#include <string.h>

#define FIRST_ROUNDS 150
#define NEXT_ROUNDS 25

double sw_lane_bound(sw_sweep *s, sw_node *node, int lane, double *price, int rounds) {
    sw_model *m = s->m;
    bool fixed = false;
    sw_node one = *node;
    one.price = price;
    m->cost_worth = s->lanes.money[lane];
    return sw_node_bound(m, &one, &s->x, -INFINITY, rounds, &fixed);
}

/* A price of money with its bound, and what the relaxation takes there. */
typedef struct look {
    double money, bound, cost;
} look;

/* The bound at the cost, by the lane's line. */
static double line_at(const look *l, double cost) { return l->bound + l->money * cost; }

static double relaxed_cost(const sw_sweep *s, double certain) {
    const sw_model *m = s->m;
    double cost = certain;
    for (int g = 0; g < m->groups; g++)
        cost += m->feature[(size_t)s->x.at[g] * (size_t)m->features] + s->x.share[s->x.at[g]];
    return cost;
}

static look look_at(sw_sweep *s, sw_node *root, double money, double *price, int rounds) {
    s->lanes.money[0] = money;
    double bound = sw_lane_bound(s, root, 0, price, rounds);
    double certain = sw_share_dues(s->m, root, &s->x);
    return (look){money, bound, relaxed_cost(s, certain)};
}

/* Where two lines cross. */
static double crossing(const look *a, const look *b) {
    return (b->bound - a->bound) / (a->money - b->money);
}

/* How far the lines of two neighbours may lie above what is between them, at most. */
static double height(const look *a, const look *b) {
    double at = crossing(a, b), left = fmin(a->cost, b->cost), right = fmax(a->cost, b->cost);
    if (!(a->money > b->money) || !(right > left))
        return 0;
    at = fmin(fmax(at, left), right);
    double from = line_at(a, left), to = line_at(b, right);
    double chord = from + (to - from) * (at - left) / (right - left);
    return line_at(a, at) - chord;
}

/* Splits the widest gap between neighbours until all lanes are used. */
static int spread_looks(sw_sweep *s, sw_node *root, look *looks, double *price, double steepest) {
    size_t prices = (size_t)sw_price_count(s->m);
    bool closed[SW_LANES] = {false};
    int count = 2;
    looks[0] = look_at(s, root, steepest, price, FIRST_ROUNDS);
    memcpy(price + prices, price, prices * sizeof *price);
    looks[1] = look_at(s, root, 0, price + prices, FIRST_ROUNDS);
    while (count < SW_LANES) {
        int widest = SW_NONE;
        double most = 0.5;
        for (int i = 0; i + 1 < count; i++)
            if (!closed[i] && height(&looks[i], &looks[i + 1]) > most) {
                most = height(&looks[i], &looks[i + 1]);
                widest = i;
            }
        if (widest == SW_NONE)
            break;
        const look *a = &looks[widest], *b = a + 1;
        double from = line_at(a, a->cost), to = line_at(b, b->cost);
        double money = (to - from) / (b->cost - a->cost);
        if (!(money < a->money * (1 - 1e-9)) || !(money > b->money + 1e-12 + a->money * 1e-9)) {
            closed[widest] = true;
            continue;
        }
        for (int i = count; i > widest + 1; i--) {
            looks[i] = looks[i - 1];
            closed[i] = closed[i - 1];
            memcpy(price + (size_t)i * prices, price + (size_t)(i - 1) * prices,
                   prices * sizeof *price);
        }
        closed[widest + 1] = false;
        double *own = price + (size_t)(widest + 1) * prices;
        memcpy(own, own - prices, prices * sizeof *price);
        looks[widest + 1] = look_at(s, root, money, own, NEXT_ROUNDS);
        count++;
    }
    return count;
}

/* Each lane watches the costs at which its line is the lowest. */
static void cut_axis(sw_sweep *s, look *looks, double *price, int count) {
    size_t prices = (size_t)sw_price_count(s->m);
    sw_lanes *lanes = &s->lanes;
    double start[SW_LANES];
    int kept = 0;
    for (int i = 0; i < count; i++) {
        /* Takes away those before that the new line lies under from their start on. */
        while (kept > 0 && crossing(&looks[kept - 1], &looks[i]) <= start[kept - 1])
            kept--;
        double from = kept == 0 ? -INFINITY : crossing(&looks[kept - 1], &looks[i]);
        if (kept != i) {
            looks[kept] = looks[i];
            memcpy(price + (size_t)kept * prices, price + (size_t)i * prices,
                   prices * sizeof *price);
        }
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
        memmove(price + (size_t)at * prices, price + (size_t)i * prices, prices * sizeof *price);
        low = high + 1;
    }
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
    /* At this price of a minor unit no points are worth a single one. */
    double steepest = s->m->point_spread + 1;
    int count = spread_looks(s, root, looks, price, steepest);
    cut_axis(s, looks, price, count);
}
