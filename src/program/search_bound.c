/*
 * The Lagrangian bound of a node and its prices.
 *
 * Prices: [0] of money (on the limit), [1] of points (on the least wanted), then
 * per use the shares of its stages and of its cap (they add up to 1: a least is at most
 * any mixture), [noise] of power, then one per row. All are at least 0.
 *
 *     bound = sum over groups of max over picks of its worth at the prices
 *             + what the limits are worth at the prices
 *
 * holds for any prices (weak duality; Geoffrion 1974, Lagrangean relaxation for
 * integer programming). Prices go down the subgradient with Polyak's step
 * (Held, Wolfe & Crowder 1974, Validation of subgradient optimization), each
 * scaled by how far the groups can move it.
 */
#include "program/search.h"

#include <math.h>
#include <string.h>

#define SHARES 2 /* where the shares begin */
#define SW_STALE_ROUNDS 4

static int noise_price(const sw_model *m) { return SHARES + m->stages + m->uses; }
static int first_row_price(const sw_model *m) { return noise_price(m) + 1; }
int sw_price_count(const sw_model *m) { return first_row_price(m) + m->rows; }
/* Stage `s` of use `u`, whose cap stands behind its stages. */
static int share_at(int u, int s) { return SHARES + s + u; }
static int cap_at(const sw_model *m, int u) { return SHARES + m->use_first[u + 1] + u; }

void sw_prices_start(const sw_model *m, double *price) {
    for (int k = 0; k < sw_price_count(m); k++)
        price[k] = 0;
    /* What a point may cost, for a start, when a number of them is asked for. */
    if (m->request->points_least > 0)
        price[1] = (double)m->limit * m->cost_worth / (double)m->request->points_least;
    for (int u = 0; u < m->uses; u++) {
        int count = m->use_first[u + 1] - m->use_first[u] + (isfinite(m->cap[u]) ? 1 : 0);
        for (int s = m->use_first[u]; s < m->use_first[u + 1]; s++)
            price[share_at(u, s)] = 1.0 / count;
        price[cap_at(m, u)] = isfinite(m->cap[u]) ? 1.0 / count : 0;
    }
}

void sw_prices_take(const sw_model *m, double *price, const double *from) {
    memcpy(price, from, (size_t)sw_price_count(m) * sizeof *price);
    /* Without a number of points asked for, its price has nothing to bound. */
    if (m->request->points_least == INT64_MIN)
        price[1] = 0;
}

/* ---- noise ----------------------------------------------------------------------------- */

typedef struct noise_range {
    int low, high;
    double most; /* power */
} noise_range;

static noise_range range_of_noise(const sw_model *m, const sw_node *node) {
    const sw_estimates *e = m->program->estimates;
    noise_range range = {0, 0, 0};
    double least = 0;
    if (m->first_row == m->noise)
        return range;
    for (int g = 0; g < m->groups; g++) {
        double low = INFINITY, high = 0;
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
            double power = m->feature[(size_t)item * (size_t)m->features + (size_t)m->noise];
            low = power < low ? power : low;
            high = power > high ? power : high;
        }
        least += isfinite(low) ? low : 0;
        range.most += high;
    }
    while (range.low < e->level_count - 1 && (double)e->level_power[range.low] < least)
        range.low++;
    range.high = range.low;
    while (range.high < e->level_count - 1 && (double)e->level_power[range.high] < range.most)
        range.high++;
    range.low = range.low > node->low ? range.low : node->low;
    range.high = range.high < node->high ? range.high : node->high;
    return range;
}

void sw_node_levels(const sw_model *m, const sw_node *node, int *low, int *high) {
    noise_range range = range_of_noise(m, node);
    *low = range.low;
    *high = range.high;
}

double sw_node_level_span(const sw_model *m, const sw_node *node) {
    const sw_estimates *e = m->program->estimates;
    noise_range range = range_of_noise(m, node);
    double span = 0;
    if (m->first_row == m->noise || range.high <= range.low)
        return 0;
    for (int c = 0; c < e->class_count; c++) {
        double fall = (double)(e->level_points[c * e->level_count + range.low] -
                               e->level_points[c * e->level_count + range.high]);
        span = fall > span ? fall : span;
    }
    return (m->point_worth + node->price[1]) * span;
}

/* The best level of a loss class at the price of power; -INFINITY: none is allowed. */
static double best_level(const sw_model *m, const noise_range *range, int class, double worth,
                         double price, double *power) {
    const sw_estimates *e = m->program->estimates;
    double best = -INFINITY;
    for (int level = range->low; level <= range->high; level++) {
        int cell = class * e->level_count + level;
        double most = (double)e->level_power[level];
        most = most < range->most ? most : range->most;
        double value = worth * (double)e->level_points[cell] + price * most;
        if (!e->level_allowed[cell] || value <= best)
            continue;
        best = value;
        *power = most;
    }
    return best;
}

typedef struct evaluation {
    double bound, scale; /* scale: sum of what was added, for the rounding */
    double certain;      /* dues */
    noise_range noise;
} evaluation;

static int loss_class(const sw_model *m, int item) {
    return m->program->estimates->loss_class[m->program->picks[m->pick_of[item]].fitout];
}

/* What one of each feature is worth at the prices. */
static void weigh_features(const sw_model *m, const double *price, double *w) {
    double worth = m->point_worth + price[1], money = m->cost_worth + price[0];
    w[0] = -money;
    w[1] = worth;
    for (int u = 0; u < m->uses; u++)
        for (int s = m->use_first[u]; s < m->use_first[u + 1]; s++)
            w[m->first_stage + s] = worth * price[share_at(u, s)];
    if (m->first_row > m->noise)
        w[m->noise] = -price[noise_price(m)];
    for (int r = 0; r < m->rows; r++)
        w[m->first_row + r] = -price[first_row_price(m) + r];
}

/* The worth of the items of a group by their features and loss class. */
static void weigh_group(const sw_model *m, const sw_node *node, int g, const double *w,
                        const double *class_value, double *worth) {
    const sw_estimates *estimates = m->program->estimates;
    bool classes = m->first_row > m->noise && estimates->loss_role == m->program->groups[g].role;
    SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
        const double *f = &m->feature[(size_t)item * (size_t)m->features];
        double value = 0;
        for (int k = m->used_first[g]; k < m->used_first[g + 1]; k++)
            value += w[m->used[k]] * f[m->used[k]];
        worth[item] = value + (classes ? class_value[loss_class(m, item)] : 0);
    }
}

/* The worth of every alive item at the prices; the best of each group. */
static void weigh_items(const sw_model *m, const sw_node *node, const double *price, sw_scratch *x,
                        evaluation *e, const double *class_value, const double *class_power) {
    double money = m->cost_worth + price[0];
    const sw_estimates *estimates = m->program->estimates;
    bool loud = m->first_row > m->noise;
    weigh_features(m, price, x->weight);
    for (int g = 0; g < m->groups; g++) {
        weigh_group(m, node, g, x->weight, class_value, x->value);
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
            x->value[item] -= money * x->share[item];
            e->scale =
                fmax(e->scale, isfinite(x->value[item]) ? fabs(x->value[item]) * m->groups : 0);
        }
    }
    e->bound = sw_tree_weigh(m, node, x);
    for (int g = 0; g < m->groups && loud && isfinite(e->bound); g++)
        if (estimates->loss_role == m->program->groups[g].role)
            x->slope[noise_price(m)] = class_power[loss_class(m, x->at[g])];
}

static void add_constants(const sw_model *m, const double *price, evaluation *e) {
    const sw_program *program = m->program;
    double worth = m->point_worth + price[1], money = m->cost_worth + price[0];
    double fixed = price[0] * (double)m->limit - money * e->certain;
    double points = program->scored ? -(double)program->points_base : 0;
    if (m->first_row > m->noise)
        points -= (double)program->estimates->level_base;
    for (int u = 0; u < m->uses; u++) {
        points -= m->use_base[u];
        for (int s = m->use_first[u]; s < m->use_first[u + 1]; s++)
            points += price[share_at(u, s)] * m->offset[s];
        if (isfinite(m->cap[u]))
            points += price[cap_at(m, u)] * m->cap[u];
    }
    if (m->request->points_least != INT64_MIN)
        fixed -= price[1] * (double)m->request->points_least;
    for (int r = 0; r < m->rows; r++)
        fixed += price[first_row_price(m) + r] * m->row_limit[r];
    e->bound += fixed + worth * points;
    e->scale += fabs(fixed) + fabs(worth * points) + fabs(price[0] * (double)m->limit);
}

static double sum_at(const sw_model *m, const sw_scratch *x, int feature) {
    double sum = 0;
    for (int g = 0; g < m->groups; g++)
        sum += m->feature[(size_t)x->at[g] * (size_t)m->features + (size_t)feature];
    return sum;
}

/* The derivative of the bound by each price, at the bests just found. */
static void find_slopes(const sw_model *m, const double *price, sw_scratch *x,
                        const evaluation *e) {
    double cost = e->certain;
    for (int g = 0; g < m->groups; g++)
        cost += x->share[x->at[g]];
    x->slope[0] = (double)m->limit - cost - sum_at(m, x, 0);
    double points = sum_at(m, x, 1) - (m->program->scored ? (double)m->program->points_base : 0);
    for (int u = 0; u < m->uses; u++) {
        double least = 0;
        for (int s = m->use_first[u]; s < m->use_first[u + 1]; s++) {
            double value = m->offset[s] + sum_at(m, x, m->first_stage + s);
            x->slope[share_at(u, s)] = value;
            least += price[share_at(u, s)] * value;
        }
        x->slope[cap_at(m, u)] = m->cap[u];
        if (isfinite(m->cap[u]))
            least += price[cap_at(m, u)] * m->cap[u];
        points += least - m->use_base[u];
    }
    bool loud = m->first_row > m->noise;
    x->slope[1] = 0;
    if (m->request->points_least != INT64_MIN)
        x->slope[1] = points - (double)m->request->points_least;
    if (loud)
        x->slope[noise_price(m)] -= sum_at(m, x, m->noise);
    else
        x->slope[noise_price(m)] = 0;
    for (int r = 0; r < m->rows; r++)
        x->slope[first_row_price(m) + r] = m->row_limit[r] - sum_at(m, x, m->first_row + r);
}

static void value_classes(const sw_model *m, const noise_range *noise, const double *price,
                          double *class_value, double *class_power) {
    if (m->first_row > m->noise)
        for (int c = 0; c < m->program->estimates->class_count; c++)
            class_value[c] = best_level(m, noise, c, m->point_worth + price[1],
                                        price[noise_price(m)], &class_power[c]);
}

static evaluation evaluate(const sw_model *m, const sw_node *node, const double *price,
                           sw_scratch *x, double certain, const noise_range *noise,
                           double *class_value, double *class_power) {
    evaluation e = {.certain = certain, .noise = *noise};
    value_classes(m, noise, price, class_value, class_power);
    weigh_items(m, node, price, x, &e, class_value, class_power);
    if (isfinite(e.bound))
        add_constants(m, price, &e);
    return e;
}

double sw_item_worths(const sw_model *m, const sw_node *node, const double *price, sw_scratch *x,
                      double *worth) {
    noise_range noise = range_of_noise(m, node);
    evaluation e = {.certain = 0};
    value_classes(m, &noise, price, x->class_value, x->class_power);
    weigh_features(m, price, x->weight);
    for (int g = 0; g < m->groups; g++)
        weigh_group(m, node, g, x->weight, x->class_value, worth);
    add_constants(m, price, &e);
    return e.bound;
}

void sw_level_worths(const sw_model *m, const sw_node *node, const double *price, double *worth) {
    const sw_estimates *estimates = m->program->estimates;
    noise_range noise = range_of_noise(m, node);
    if (m->first_row == m->noise)
        return;
    for (int c = 0; c < estimates->class_count; c++)
        for (int low = 0; low < estimates->level_count; low++) {
            double power;
            noise_range from = noise;
            from.low = low > noise.low ? low : noise.low;
            worth[c * estimates->level_count + low] =
                best_level(m, &from, c, m->point_worth + price[1], price[noise_price(m)], &power);
        }
}

double sw_stage_price(const sw_model *m, const double *price, int use, int stage) {
    return (m->point_worth + price[1]) * price[share_at(use, stage)];
}

double sw_cap_price(const sw_model *m, const double *price, int use) {
    return (m->point_worth + price[1]) * price[cap_at(m, use)];
}

double sw_noise_price(const sw_model *m, const double *price) { return price[noise_price(m)]; }

double sw_row_price(const sw_model *m, const double *price, int row) {
    return price[first_row_price(m) + row];
}

/* Projects the shares of a use to at least 0 and a sum of 1 (Held, Wolfe & Crowder
 * 1974): the smallest leave until what is left can be shifted. */
static void project(double *share, int count) {
    bool out[SW_SHARES_MOST] = {false};
    for (int left = count; left > 0;) {
        double sum = 0;
        for (int i = 0; i < count; i++)
            sum += out[i] ? 0 : share[i];
        double shift = (sum - 1) / left;
        bool any = false;
        for (int i = 0; i < count; i++)
            if (!out[i] && share[i] - shift < 0) {
                out[i] = any = true;
                share[i] = 0;
                left--;
            }
        if (any)
            continue;
        for (int i = 0; i < count; i++)
            share[i] = out[i] ? 0 : share[i] - shift;
        return;
    }
    share[0] = 1;
}

/* How far a price is moved by one unit of slope, before the step: its scale. */
static double scale_of(const sw_model *m, int k) {
    double spread = 0;
    if (k == 0)
        spread = m->spread[0];
    else if (k == 1)
        spread = m->point_spread;
    else if (k == noise_price(m))
        spread = m->first_row > m->noise ? m->spread[m->noise] : 0;
    else if (k >= first_row_price(m))
        spread = m->spread[m->first_row + k - first_row_price(m)];
    return spread > 0 ? 1 / (spread * spread) : 0;
}

static void step(const sw_model *m, double *price, const sw_scratch *x, double length) {
    double norm = 0;
    int count = sw_price_count(m);
    double worth = m->point_worth + price[1];
    for (int k = 0; k < count; k++) {
        bool share = k >= SHARES && k < noise_price(m);
        if (share)
            continue;
        if (price[k] > 0 || x->slope[k] < 0)
            norm += scale_of(m, k) * x->slope[k] * x->slope[k];
    }
    for (int u = 0; u < m->uses && worth > 0; u++) {
        int first = share_at(u, m->use_first[u]), n = cap_at(m, u) - first + 1;
        n -= isfinite(m->cap[u]) ? 0 : 1;
        double mean = 0;
        for (int i = 0; i < n; i++)
            mean += x->slope[first + i] / n;
        for (int i = 0; i < n; i++)
            if (price[first + i] > 0 || x->slope[first + i] < mean)
                norm +=
                    m->share_scale * (x->slope[first + i] - mean) * (x->slope[first + i] - mean);
    }
    if (norm <= 0)
        return;
    double t = length / norm;
    for (int k = 0; k < count; k++) {
        if (k >= SHARES && k < noise_price(m))
            continue;
        price[k] -= t * scale_of(m, k) * x->slope[k];
        price[k] = price[k] > 0 ? price[k] : 0;
    }
    for (int u = 0; u < m->uses && worth > 0; u++) {
        int first = share_at(u, m->use_first[u]), n = cap_at(m, u) - first + 1;
        n -= isfinite(m->cap[u]) ? 0 : 1;
        for (int i = 0; i < n; i++)
            price[first + i] -= t / worth * m->share_scale * x->slope[first + i];
        project(&price[first], n);
    }
}

static double slack_of(const sw_model *m, const evaluation *e) {
    /* What the terms lose by rounding: with the scale where it is large, and never less than terms
     * that cancel out may lose. Far below what one minor unit is worth. */
    return m->blur + 1e-9 + 1e-11 * e->scale;
}

/* Items that cannot be in a bundle as good as the known one. */
static bool take_away(const sw_model *m, sw_node *node, const sw_scratch *x, double spare) {
    bool any = false;
    for (int g = 0; g < m->groups; g++)
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
            if (x->best[g] - x->value[item] > spare) {
                node->alive[item / 64] &= ~((sw_word)1 << item % 64);
                any = true;
            }
    return any;
}

double sw_node_bound(const sw_model *m, sw_node *node, sw_scratch *x, double known, int rounds,
                     bool *fixed) {
    int count = sw_price_count(m);
    size_t size = (size_t)count * sizeof *x->trial;
    noise_range noise = range_of_noise(m, node);
    double certain = sw_share_dues(m, node, x), best = INFINITY, hope = 0;
    int stale = 0;
    memcpy(x->trial, node->price, size);
    for (int round = 0; round <= rounds; round++) {
        evaluation e =
            evaluate(m, node, x->trial, x, certain, &noise, x->class_value, x->class_power);
        double slack = slack_of(m, &e);
        if (!isfinite(e.bound))
            return -INFINITY;
        if (round == 0)
            hope = 0.01 * e.scale;
        if (e.bound + slack < best) {
            best = e.bound + slack;
            memcpy(node->price, x->trial, size);
            stale = 0;
            if (best < known)
                return best;
            if (isfinite(known))
                *fixed = take_away(m, node, x, e.bound + slack - known) || *fixed;
        } else if (++stale % SW_STALE_ROUNDS == 0) {
            hope *= 0.5;
            memcpy(x->trial, node->price, size);
            continue;
        }
        if (round == rounds)
            break;
        find_slopes(m, x->trial, x, &e);
        step(m, x->trial, x, e.bound - best + hope);
    }
    /* The caller reads the worths at the prices that gave the bound. */
    evaluation e =
        evaluate(m, node, node->price, x, certain, &noise, x->class_value, x->class_power);
    return isfinite(e.bound) ? e.bound + slack_of(m, &e) : -INFINITY;
}

sw_status sw_scratch_make(sw_scratch *x, const sw_model *m) {
    sw_arena *arena = m->arena;
    size_t items = (size_t)m->items, groups = (size_t)m->groups;
    size_t classes = (size_t)m->program->estimates->class_count + 1;
    *x = (sw_scratch){.value = SW_NEW(arena, double, items),
                      .share = SW_NEW(arena, double, items),
                      .best = SW_NEW(arena, double, groups),
                      .at = SW_NEW(arena, int, groups),
                      .weight = SW_NEW(arena, double, (size_t)m->features),
                      .slope = SW_NEW(arena, double, (size_t)sw_price_count(m)),
                      .trial = SW_NEW(arena, double, (size_t)sw_price_count(m)),
                      .class_value = SW_NEW(arena, double, classes),
                      .class_power = SW_NEW(arena, double, classes),
                      .machine = SW_NEW(arena, int, groups),
                      .picks = SW_NEW(arena, int, groups),
                      .climb = SW_NEW(arena, int, groups),
                      .climb_picks = SW_NEW(arena, int, groups)};
    bool all = x->value != NULL && x->share != NULL && x->best != NULL && x->at != NULL &&
               x->weight != NULL && x->slope != NULL && x->trial != NULL &&
               x->class_value != NULL && x->class_power != NULL && x->machine != NULL &&
               x->picks != NULL && x->climb != NULL && x->climb_picks != NULL &&
               sw_scratch_tie(x, m);
    return all ? SW_OK : SW_NO_MEMORY;
}

/* ---- descent ------------------------------------------------------------------------- */

/*
 * Shor's r-algorithm (Shor 1985, Minimization Methods for Non-Differentiable Functions): steps
 * along the subgradient in a space that is stretched across the differences of successive
 * subgradients, so that narrow valleys become wide. Prices stay in their bounds by
 * projection.
 */
typedef struct descent {
    const sw_model *m;
    const sw_node *node;
    sw_scratch *x;
    noise_range noise;
    double certain;
    int count;
    int at[SW_AXES_MOST];      /* the price of each axis */
    double unit[SW_AXES_MOST]; /* its natural size */
    double space[SW_AXES_MOST][SW_AXES_MOST];
    double slope[SW_AXES_MOST], last[SW_AXES_MOST];
} descent;

static double unit_of(const sw_model *m, int k) {
    double scale = sqrt(scale_of(m, k));
    return k >= SHARES && k < noise_price(m) ? 1 : scale * m->point_spread;
}

static void add_axis(descent *d, int k) {
    double unit = unit_of(d->m, k);
    if (unit > 0 && d->count < SW_AXES_MOST) {
        d->unit[d->count] = unit;
        d->at[d->count++] = k;
    }
}

static void choose_axes(descent *d, bool money) {
    const sw_model *m = d->m;
    if (money)
        add_axis(d, 0);
    if (m->request->points_least != INT64_MIN)
        add_axis(d, 1);
    for (int u = 0; u < m->uses; u++) {
        int first = share_at(u, m->use_first[u]), n = cap_at(m, u) - first + 1;
        n -= isfinite(m->cap[u]) ? 0 : 1;
        for (int i = 0; i < n && n > 1; i++)
            add_axis(d, first + i);
    }
    if (m->first_row > m->noise)
        add_axis(d, noise_price(m));
    for (int r = 0; r < m->rows; r++)
        add_axis(d, first_row_price(m) + r);
}

/* Bound and slope by the axes at the prices in `trial`; the slope across a bound is left
 * out. */
static double look_at_slope(descent *d) {
    const sw_model *m = d->m;
    sw_scratch *x = d->x;
    evaluation e =
        evaluate(m, d->node, x->trial, x, d->certain, &d->noise, x->class_value, x->class_power);
    if (!isfinite(e.bound))
        return -INFINITY;
    find_slopes(m, x->trial, x, &e);
    double worth = m->point_worth + x->trial[1];
    for (int u = 0; u < m->uses; u++) {
        int first = share_at(u, m->use_first[u]), n = cap_at(m, u) - first + 1, in = 0;
        n -= isfinite(m->cap[u]) ? 0 : 1;
        double mean = 0;
        for (int i = 0; i < n; i++)
            if (x->trial[first + i] > 0) {
                mean += x->slope[first + i];
                in++;
            }
        for (int i = 0; i < n; i++) {
            double across = x->slope[first + i] - mean / in;
            x->slope[first + i] = worth * (x->trial[first + i] > 0 || across < 0 ? across : 0);
        }
    }
    for (int i = 0; i < d->count; i++) {
        int k = d->at[i];
        bool out = !(k >= SHARES && k < noise_price(m)) && x->trial[k] <= 0 && x->slope[k] > 0;
        d->slope[i] = out ? 0 : x->slope[k] * d->unit[i];
    }
    return e.bound + slack_of(m, &e);
}

static void move(descent *d, const double *way, double length) {
    const sw_model *m = d->m;
    double *price = d->x->trial;
    for (int i = 0; i < d->count; i++) {
        int k = d->at[i];
        price[k] += length * d->unit[i] * way[i];
        if (k < SHARES || k >= noise_price(m))
            price[k] = price[k] > 0 ? price[k] : 0;
    }
    for (int u = 0; u < m->uses; u++) {
        int first = share_at(u, m->use_first[u]), n = cap_at(m, u) - first + 1;
        n -= isfinite(m->cap[u]) ? 0 : 1;
        project(&price[first], n);
    }
}

/* The way down in the stretched space, of length 1 there; false when there is none. */
static bool find_way(const descent *d, double *way) {
    double turned[SW_AXES_MOST], norm = 0;
    for (int j = 0; j < d->count; j++) {
        turned[j] = 0;
        for (int i = 0; i < d->count; i++)
            turned[j] += d->space[i][j] * d->slope[i];
        norm += turned[j] * turned[j];
    }
    norm = sqrt(norm);
    if (!(norm > 1e-9))
        return false;
    for (int i = 0; i < d->count; i++) {
        way[i] = 0;
        for (int j = 0; j < d->count; j++)
            way[i] -= d->space[i][j] * turned[j] / norm;
    }
    return true;
}

#define STRETCH 0.5

/* Shrinks the space along the difference of the last two slopes. */
static void stretch(descent *d) {
    double r[SW_AXES_MOST], norm = 0;
    for (int j = 0; j < d->count; j++) {
        r[j] = 0;
        for (int i = 0; i < d->count; i++)
            r[j] += d->space[i][j] * (d->slope[i] - d->last[i]);
        norm += r[j] * r[j];
    }
    norm = sqrt(norm);
    if (!(norm > 1e-9))
        return;
    for (int i = 0; i < d->count; i++) {
        double along = 0;
        for (int j = 0; j < d->count; j++)
            along += d->space[i][j] * r[j] / norm;
        for (int j = 0; j < d->count; j++)
            d->space[i][j] += (STRETCH - 1) * along * r[j] / norm;
    }
}

double sw_node_descend(const sw_model *m, sw_node *node, sw_scratch *x, bool money, double target,
                       int rounds) {
    descent d = {.m = m, .node = node, .x = x, .noise = range_of_noise(m, node)};
    size_t size = (size_t)sw_price_count(m) * sizeof *x->trial;
    double way[SW_AXES_MOST], length = 0.1;
    d.certain = sw_share_dues(m, node, x);
    choose_axes(&d, money);
    for (int i = 0; i < d.count; i++)
        d.space[i][i] = 1;
    memcpy(x->trial, node->price, size);
    double best = look_at_slope(&d);
    if (m->first_row > m->noise && node->price[noise_price(m)] > 0) {
        double price = node->price[noise_price(m)];
        x->trial[noise_price(m)] = 0;
        double quiet = look_at_slope(&d);
        if (quiet < best) {
            best = quiet;
            node->price[noise_price(m)] = 0;
        } else {
            x->trial[noise_price(m)] = price;
            look_at_slope(&d);
        }
    }
    for (int round = 0; round < rounds && best >= target && find_way(&d, way);) {
        memcpy(d.last, d.slope, sizeof d.last);
        int steps = 0;
        double along = -1;
        while (along < 0 && round < rounds && steps < 12) {
            move(&d, way, length);
            double bound = look_at_slope(&d);
            round++;
            steps++;
            if (!isfinite(bound))
                return bound;
            if (bound < best) {
                best = bound;
                memcpy(node->price, x->trial, size);
            }
            along = 0;
            for (int i = 0; i < d.count; i++)
                along += d.slope[i] * way[i];
            if (steps % 2 == 0 && length < 0.5)
                length *= 1.3;
        }
        if (steps == 1)
            length *= 0.8;
        stretch(&d);
    }
    return best;
}
