/* Prepares a pass: what has room in some lane, renumbered; losses, rests. */
#include "program/sweep_pass.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- which lanes and items have room --------------------------------------------------- */

/* What each item loses at the least, by lane, in points ([item * lanes]). */
static void lose_items(sw_pass *p, const double *price, double *loss) {
    sw_sweep *s = p->s;
    const sw_model *m = s->m;
    size_t prices = (size_t)sw_price_count(m), lanes = (size_t)s->lanes.count;
    for (int j = 0; j < s->lanes.count; j++) {
        const sw_scratch *x = s->lanes.scratch[j];
        sw_node node = *p->node;
        sw_lane_bound(s, &node, j, (double *)price + (size_t)j * prices, 0);
        for (int g = 0; g < m->groups; g++)
            SW_EACH_ITEM (item, p->node->alive, m->first_word[g], m->first_word[g + 1])
                loss[(size_t)item * lanes + (size_t)j] = x->best[g] - x->value[item];
    }
}

/* Marks the items that some stretch has room for. */
static sw_status find_alive(sw_pass *p, sw_word *alive, const double *price, const double *bound) {
    sw_sweep *s = p->s;
    const sw_model *m = s->m;
    size_t lanes = (size_t)s->lanes.count;
    double *loss = malloc(((size_t)m->items * lanes + 1) * sizeof *loss);
    double *gap = malloc(((size_t)s->lanes.stretches * lanes + 1) * sizeof *gap);
    if (gap != NULL && loss != NULL) {
        sw_sweep_gaps(s, bound, gap);
        lose_items(p, price, loss);
        for (int g = 0; g < m->groups; g++)
            SW_EACH_ITEM (item, p->node->alive, m->first_word[g], m->first_word[g + 1]) {
                const double *own = &loss[(size_t)item * lanes];
                bool any = false;
                p->rank[item] = own[lanes / 2];
                for (int i = 0; i < s->lanes.stretches && !any; i++) {
                    any = true;
                    for (size_t j = 0; j < lanes && any; j++)
                        any = own[j] <= gap[(size_t)i * lanes + j] + 1e-6;
                }
                if (any)
                    alive[item / 64] |= (sw_word)1 << item % 64;
            }
    }
    sw_status status = gap == NULL || loss == NULL ? SW_NO_MEMORY : SW_OK;
    free(loss);
    free(gap);
    return status;
}

/* ---- numbering ------------------------------------------------------------------------- */

typedef struct ranked {
    double rank;
    int item;
} ranked;

static int by_rank(const void *left, const void *right) {
    const ranked *a = left, *b = right;
    return a->rank != b->rank ? (a->rank > b->rank ? 1 : -1)
                              : (a->item > b->item) - (a->item < b->item);
}

/* Within a group by rank, so that neighbours are alike and can be ruled out together. */
static sw_status number_items(sw_pass *p, const sw_word *alive) {
    const sw_model *m = p->s->m;
    for (int at = 0; at < p->groups; at++) {
        int g = p->group_at[at];
        int count = sw_bits_count(alive, m->first_word[g], m->first_word[g + 1]);
        p->first_word[at + 1] = p->first_word[at] + (count + 63) / 64;
    }
    p->words = p->first_word[p->groups];
    p->items = p->words * 64;
    p->model_item = SW_NEW(p->arena, int, (size_t)p->items + 1);
    p->all = SW_NEW(p->arena, sw_word, (size_t)p->words + 1);
    if (p->model_item == NULL || p->all == NULL)
        return SW_NO_MEMORY;
    for (int i = 0; i < p->items; i++)
        p->model_item[i] = SW_NONE;
    ranked *list = malloc(((size_t)m->items + 1) * sizeof *list);
    if (list == NULL)
        return SW_NO_MEMORY;
    for (int at = 0; at < p->groups; at++) {
        int g = p->group_at[at], own = p->first_word[at] * 64;
        size_t count = 0;
        SW_EACH_ITEM (item, alive, m->first_word[g], m->first_word[g + 1])
            list[count++] = (ranked){p->rank[item], item};
        qsort(list, count, sizeof *list, by_rank);
        for (size_t i = 0; i < count; i++) {
            p->all[own / 64] |= (sw_word)1 << own % 64;
            p->model_item[own++] = list[i].item;
        }
    }
    free(list);
    return SW_OK;
}

static sw_status number_clashes(sw_pass *p) {
    const sw_model *m = p->s->m;
    p->clash = SW_NEW(p->arena, sw_word, (size_t)p->items * (size_t)p->words + 1);
    if (p->clash == NULL)
        return SW_NO_MEMORY;
    for (int a = 0; a < p->groups; a++)
        for (int b = 0; b < p->groups; b++) {
            if (!m->clashing[p->group_at[a] * m->groups + p->group_at[b]])
                continue;
            SW_EACH_OF (p, item, a) {
                const sw_word *from = &m->clash[(size_t)p->model_item[item] * (size_t)m->words];
                sw_word *to = &p->clash[(size_t)item * (size_t)p->words];
                SW_EACH_OF (p, other, b)
                    if (sw_is_alive(from, p->model_item[other]))
                        to[other / 64] |= (sw_word)1 << other % 64;
            }
        }
    return SW_OK;
}

/* ---- losses -------------------------------------------------------------------------------- */

void sw_pass_gaps(sw_pass *p) {
    const sw_sweep *s = p->s;
    for (int i = 0; i < p->stretches; i++)
        for (int j = 0; j < p->lanes; j++) {
            int32_t *gap = &p->gap[i * p->lanes + j];
            *gap = INT32_MAX;
            if (j >= p->live)
                continue;
            double room = p->scale * s->lanes.unit[j] * (p->bound[j] - sw_sweep_least(s, i, j)) + 1;
            *gap = room < 0 ? -1 : room < (double)(1 << 30) ? (int32_t)ceil(room) : 1 << 30;
        }
}

/* The worths of a lane's items against the best of their group. */
static void fill_lane(sw_pass *p, int j, const double *price, double *worth) {
    sw_sweep *s = p->s;
    sw_model *m = s->lanes.model[j];
    sw_scratch *x = s->lanes.scratch[j];
    sw_node node = *p->node;
    double money = sw_lane_money(s, j, price), scale = p->scale * s->lanes.unit[j];
    if (s->asker == NULL)
        m->cost_worth = money;
    double sum = sw_item_worths(m, &node, price, x, worth);
    sum -= money * sw_share_dues(m, &node, x);
    for (int at = 0; at < p->groups; at++)
        SW_EACH_OF (p, item, at)
            worth[p->model_item[item]] -= money * x->share[p->model_item[item]];
    p->money_price[j] = scale * money;
    for (int at = 0; at < p->groups; at++) {
        double best = -INFINITY;
        SW_EACH_OF (p, item, at)
            best = fmax(best, worth[p->model_item[item]]);
        sum += best;
        SW_EACH_OF (p, item, at) {
            double loss = scale * (best - worth[p->model_item[item]]);
            p->loss[(size_t)item * (size_t)p->lanes + (size_t)j] =
                loss < SW_LOST ? (int32_t)loss : SW_LOST;
        }
    }
    p->bound[j] = sum + m->blur + 1e-9 * (1 + fabs(sum));
}

static void fill_prices(sw_pass *p, int j, const double *price, double *levels) {
    const sw_model *m = p->s->lanes.model[j];
    size_t lanes = (size_t)p->lanes, lane = (size_t)j;
    double scale = p->scale * p->s->lanes.unit[j], speed = p->s->lanes.speed[j];
    for (int u = 0; u < p->uses; u++)
        for (int k = p->use_first[u]; k < p->use_first[u + 1]; k++) {
            bool cap = p->capped[u] && k + 1 == p->use_first[u + 1];
            int stage = m->use_first[u] + k - p->use_first[u];
            p->stage_price[(size_t)k * lanes + lane] =
                scale * speed *
                (cap ? sw_cap_price(m, price, u) : sw_stage_price(m, price, u, stage));
        }
    for (int i = 0; i < p->sums; i++)
        if (m->sums[i].feature != SW_NONE)
            p->sum_price[(size_t)i * lanes + lane] =
                scale * sw_row_price(m, price, m->sums[i].feature - m->first_row);
    if (p->levels == 0)
        return;
    p->noise_price[lane] = scale * sw_noise_price(m, price);
    int classes = p->s->program->estimates->class_count;
    sw_level_worths(m, p->node, price, levels);
    for (int c = 0; c < classes * p->levels; c++)
        p->level_worth[(size_t)c * lanes + lane] = scale * levels[c];
}

/* As fine as the widest gap that matters allows. */
static double scale_for(const sw_pass *p, const double *bound) {
    double widest = sw_sweep_room(p->s, bound);
    double scale = (double)SW_LOST / 64 / (isfinite(widest) && widest > 1 ? widest : 1e6);
    return scale > 64 ? 64 : scale;
}

static sw_status make_losses(sw_pass *p, const double *price, const double *bound) {
    const sw_model *m = p->s->m;
    const sw_estimates *estimates = p->s->program->estimates;
    size_t lanes, prices = (size_t)sw_price_count(m);
    p->lanes = (p->live + SW_BLOCK - 1) / SW_BLOCK * SW_BLOCK;
    lanes = (size_t)p->lanes;
    p->levels = m->first_row > m->noise ? estimates->level_count : 0;
    p->scale = scale_for(p, bound);
    p->loss = SW_NEW(p->arena, int32_t, ((size_t)p->items + 1) * lanes);
    p->stage_price = SW_NEW(p->arena, double, (size_t)(p->stages + 1) * lanes);
    p->sum_price = SW_NEW(p->arena, double, (size_t)(p->sums + 1) * lanes);
    p->noise_price = SW_NEW(p->arena, double, lanes);
    p->money_price = SW_NEW(p->arena, double, lanes);
    size_t cells = (size_t)p->levels * (size_t)estimates->class_count;
    p->level_worth = SW_NEW(p->arena, double, (cells + 1) * lanes);
    double *worth = malloc(((size_t)m->items + cells + 1) * sizeof *worth);
    if (p->loss == NULL || p->stage_price == NULL || p->sum_price == NULL ||
        p->noise_price == NULL || p->money_price == NULL || p->level_worth == NULL ||
        worth == NULL) {
        free(worth);
        return SW_NO_MEMORY;
    }
    for (int j = 0; j < p->live; j++) {
        const double *own = price + (size_t)j * prices;
        fill_lane(p, j, own, worth);
        fill_prices(p, j, own, worth + m->items);
    }
    free(worth);
    return SW_OK;
}

static sw_status make_start(sw_pass *p) {
    const sw_program *program = p->s->program;
    p->start_stage = SW_NEW(p->arena, int64_t, (size_t)p->stages + 1);
    if (p->start_stage == NULL)
        return SW_NO_MEMORY;
    for (int u = 0; u < p->uses; u++)
        for (int k = p->use_first[u]; k < p->use_first[u + 1]; k++) {
            bool cap = p->capped[u] && k + 1 == p->use_first[u + 1];
            p->start_stage[k] = cap ? program->leasts[u].cap
                                    : program->leasts[u].stages[k - p->use_first[u]].offset;
        }
    return SW_OK;
}

/* The least of neighbours, which rules them all out at once. */
static sw_status make_leasts(sw_pass *p) {
    size_t lanes = (size_t)p->lanes;
    for (int k = 0; k < 2; k++) {
        int size = k == 0 ? SW_FEW : SW_MANY;
        size_t count = (size_t)p->items / (size_t)size + 1;
        p->least_loss[k] = SW_NEW(p->arena, int32_t, count * lanes);
        p->least_cost[k] = SW_NEW(p->arena, int64_t, count);
        if (p->least_loss[k] == NULL || p->least_cost[k] == NULL)
            return SW_NO_MEMORY;
        for (size_t i = 0; i < count; i++)
            p->least_cost[k][i] = INT64_MAX;
        for (int at = 0; at < p->groups; at++)
            SW_EACH_OF (p, item, at) {
                int32_t *least = &p->least_loss[k][(size_t)(item / size) * lanes];
                const int32_t *own = &p->loss[(size_t)item * lanes];
                int64_t *cost = &p->least_cost[k][item / size];
                for (size_t j = 0; j < lanes; j++)
                    least[j] = *cost == INT64_MAX || own[j] < least[j] ? own[j] : least[j];
                *cost = p->cost[item] < *cost ? p->cost[item] : *cost;
            }
    }
    return SW_OK;
}

static sw_status build(sw_pass *p, const sw_word *alive, const double *price, const double *bound) {
    sw_pass_order(p, alive);
    p->loss_position = SW_NONE;
    for (int at = 0; at < p->groups; at++)
        if (p->s->m->first_row > p->s->m->noise &&
            p->s->program->groups[p->group_at[at]].role == p->s->program->estimates->loss_role)
            p->loss_position = at;
    sw_status status = number_items(p, alive);
    if (status == SW_OK)
        status = number_clashes(p);
    if (status == SW_OK)
        status = sw_pass_items(p);
    if (status == SW_OK)
        status = make_start(p);
    if (status == SW_OK)
        status = make_losses(p, price, bound);
    if (status == SW_OK)
        status = make_leasts(p);
    if (status == SW_OK) {
        sw_pass_gaps(p);
        status = sw_pass_tables(p);
    }
    return status;
}

sw_status sw_pass_make(sw_pass **out, sw_sweep *s, const sw_node *node, const double *price,
                       const double *bound) {
    *out = NULL;
    sw_arena *arena = sw_arena_new();
    sw_pass *p = arena == NULL ? NULL : SW_NEW(arena, sw_pass, 1);
    sw_word *alive = arena == NULL ? NULL : SW_NEW(arena, sw_word, (size_t)s->m->words + 1);
    if (p == NULL || alive == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    p->s = s;
    p->node = node;
    p->arena = arena;
    p->groups = s->m->groups;
    p->live = s->lanes.count;
    p->rank = SW_NEW(arena, double, (size_t)s->m->items + 1);
    if (p->rank == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    p->stretches = s->lanes.stretches;
    sw_status status = find_alive(p, alive, price, bound);
    bool empty = false;
    for (int g = 0; g < p->groups && status == SW_OK; g++) {
        bool any = false;
        for (int w = s->m->first_word[g]; w < s->m->first_word[g + 1]; w++)
            any = any || alive[w] != 0;
        empty = empty || !any;
    }
    if (status == SW_OK && !empty)
        status = build(p, alive, price, bound);
    if (status == SW_OK && !empty)
        *out = p;
    else
        sw_arena_free(arena);
    return status;
}

void sw_pass_free(sw_pass *p) {
    if (p != NULL)
        sw_arena_free(p->arena);
}

sw_status sw_pass_run(sw_sweep *s, const sw_node *node, const double *price, const double *bound,
                      size_t width, bool *complete) {
    sw_pass *p = NULL;
    sw_status status = sw_pass_make(&p, s, node, price, bound);
    if (status == SW_OK && p != NULL)
        status = sw_pass_labels(p, width, complete);
    sw_pass_free(p);
    return status;
}
