/* What the items of a pass are, and what those of later groups can still bring. */
#include "program/sweep_pass.h"

#include <math.h>
#include <string.h>

/* ---- what the items are ------------------------------------------------------------------ */

static bool in_bits(const sw_model *m, const sw_bits *bits, int item) {
    return (bits->word[item / 64 - m->first_word[bits->group]] >> (item % 64) & 1) != 0;
}

static void fill_rules(sw_pass *p, int item, int g) {
    const sw_model *m = p->s->m;
    int from = p->model_item[item];
    for (int i = 0; i < p->sums; i++) {
        const sw_model_sum *sum = &m->sums[i];
        p->amount[item * p->sums + i] = sum->in[g] ? sum->amount[m->pick_of[from]] : 0;
        bool hit = true;
        for (size_t w = 0; w < sum->when_count; w++)
            hit = hit && (sum->when[w].group != g || in_bits(m, &sum->when[w], from));
        p->sum_hit[item * p->sums + i] = hit;
    }
    int row = 0;
    for (size_t i = 0; i < m->not_all_count; i++) {
        bool hit = true;
        for (size_t k = 0; k < m->not_alls[i].count; k++)
            hit = hit &&
                  (m->not_alls[i].sets[k].group != g || in_bits(m, &m->not_alls[i].sets[k], from));
        p->row_hit[item * p->rows + row++] = hit;
    }
}

static void fill_counts(sw_pass *p, int item) {
    const sw_program *program = p->s->program;
    const sw_placing *placing = &program->placing;
    int pick = p->s->m->pick_of[p->model_item[item]], at = 0;
    uint16_t *count = &p->count[(size_t)item * (size_t)p->counts];
    if (p->counts == 0)
        return;
    for (size_t t = 0; t < placing->thing_count; t++)
        count[at++] = (uint16_t)placing->things[t].count[pick];
    for (size_t t = 0; t < placing->site_count; t++)
        count[at++] = (uint16_t)placing->sites[t].count[pick];
    for (size_t r = 0; r < program->book->count && placing->silent != NULL; r++)
        if (placing->silent[r] != NULL)
            count[at++] = placing->silent[r][pick] ? 1 : 0;
}

static int count_counts(const sw_program *program) {
    const sw_placing *placing = &program->placing;
    size_t count = placing->thing_count + placing->site_count;
    if (placing->thing_count == 0)
        return 0;
    for (size_t r = 0; r < program->book->count && placing->silent != NULL; r++)
        count += placing->silent[r] != NULL;
    return (int)count;
}

static void fill_item(sw_pass *p, int item, int at) {
    const sw_model *m = p->s->m;
    const sw_program *program = p->s->program;
    int g = p->group_at[at], own = m->pick_of[p->model_item[item]];
    const sw_pick *pick = &program->picks[own];
    p->cost[item] = pick->cost;
    for (int a = 0; a < p->aims; a++)
        p->points[item * p->aims + a] = p->s->added != NULL ? p->s->added[a][own]
                                        : program->scored   ? pick->points
                                                            : 0;
    p->tie[item] = pick->swaps * program->swap_order + pick->tasks;
    p->noise[item] = m->first_row > m->noise ? pick->noise : 0;
    p->loss_class[item] = program->estimates->loss_class[pick->fitout];
    for (int u = 0; u < p->uses; u++)
        for (int k = p->use_first[u]; k < p->use_first[u + 1] - p->capped[u]; k++)
            p->term[item * p->stages + k] =
                program->leasts[u].stages[k - p->use_first[u]].terms[pick->fitout];
    fill_rules(p, item, g);
    fill_counts(p, item);
}

static sw_status make_items(sw_pass *p) {
    const sw_model *m = p->s->m;
    size_t items = (size_t)p->items + 1;
    p->uses = m->uses;
    p->use_first = SW_NEW(p->arena, int, (size_t)p->uses + 1);
    p->capped = SW_NEW(p->arena, bool, (size_t)p->uses + 1);
    if (p->use_first == NULL || p->capped == NULL)
        return SW_NO_MEMORY;
    for (int u = 0; u < p->uses; u++) {
        p->capped[u] = isfinite(m->cap[u]);
        p->use_first[u + 1] =
            p->use_first[u] + m->use_first[u + 1] - m->use_first[u] + p->capped[u];
    }
    p->stages = p->use_first[p->uses];
    p->sums = (int)m->sum_count;
    p->rows = (int)m->not_all_count;
    p->counts = count_counts(p->s->program);
    p->cost = SW_NEW(p->arena, int64_t, items);
    p->aims = p->s->aims;
    p->points = SW_NEW(p->arena, int64_t, items * (size_t)p->aims);
    p->tie = SW_NEW(p->arena, int64_t, items);
    p->noise = SW_NEW(p->arena, int64_t, items);
    p->loss_class = SW_NEW(p->arena, int, items);
    p->term = SW_NEW(p->arena, int64_t, items * (size_t)(p->stages + 1));
    p->amount = SW_NEW(p->arena, int64_t, items * (size_t)(p->sums + 1));
    p->sum_hit = SW_NEW(p->arena, bool, items *(size_t)(p->sums + 1));
    p->row_hit = SW_NEW(p->arena, bool, items *(size_t)(p->rows + 1));
    p->count = SW_NEW(p->arena, uint16_t, items * (size_t)(p->counts + 1));
    p->has_count = SW_NEW(p->arena, bool, (size_t)p->groups);
    if (p->cost == NULL || p->points == NULL || p->tie == NULL || p->noise == NULL ||
        p->loss_class == NULL || p->term == NULL || p->amount == NULL || p->sum_hit == NULL ||
        p->row_hit == NULL || p->count == NULL || p->has_count == NULL)
        return SW_NO_MEMORY;
    for (int at = 0; at < p->groups; at++) {
        p->has_count[at] = p->counts > 0 && m->placed[p->group_at[at]];
        SW_EACH_OF (p, item, at)
            fill_item(p, item, at);
    }
    return SW_OK;
}

static sw_status make_dues(sw_pass *p) {
    const sw_model *m = p->s->m;
    size_t items = (size_t)p->items + 1, dues = m->due_count + 1;
    p->dues = (int)m->due_count;
    p->terms = SW_NEW(p->arena, sw_due_terms, dues);
    p->is_due = SW_NEW(p->arena, bool, items *dues);
    p->goods = SW_NEW(p->arena, int64_t, items * dues);
    p->due_before = SW_NEW(p->arena, int, (size_t)p->groups *dues);
    p->due_at = SW_NEW(p->arena, bool, (size_t)p->groups *dues);
    if (p->terms == NULL || p->is_due == NULL || p->goods == NULL || p->due_before == NULL ||
        p->due_at == NULL)
        return SW_NO_MEMORY;
    for (int d = 0; d < p->dues; d++) {
        const sw_model_due *due = &m->dues[d];
        int before = 0;
        p->terms[d] = sw_terms_of_due(m, p->node, (size_t)d);
        for (int at = 0; at < p->groups; at++) {
            const sw_bits *set = NULL;
            for (size_t k = 0; k < due->set_count; k++)
                if (due->sets[k].group == p->group_at[at])
                    set = &due->sets[k];
            p->due_before[at * p->dues + d] = before;
            if (set == NULL)
                continue;
            /* As the shares were counted: over what was alive in the node. */
            for (int w = m->first_word[set->group]; w < m->first_word[set->group + 1]; w++)
                p->due_at[at * p->dues + d] =
                    p->due_at[at * p->dues + d] ||
                    (p->node->alive[w] & set->word[w - m->first_word[set->group]]) != 0;
            before += p->due_at[at * p->dues + d];
            SW_EACH_OF (p, item, at) {
                bool in = in_bits(m, set, p->model_item[item]);
                p->is_due[item * p->dues + d] = in;
                if (in && due->goods != NULL)
                    p->goods[item * p->dues + d] = due->goods[m->pick_of[p->model_item[item]]];
            }
        }
    }
    return SW_OK;
}

/* ---- what may still come --------------------------------------------------------------------- */

static void widen(int64_t *least, int64_t *most, int64_t by, bool first) {
    *least = first || by < *least ? by : *least;
    *most = first || by > *most ? by : *most;
}

static sw_status add_rest(sw_pass *p, int at) {
    const sw_model *m = p->s->m;
    sw_rest *rest = &p->rest[at], *next = rest + 1;
    int g = p->group_at[at];
    bool first = true;
    int64_t cost = 0, ignore = 0, low = 0, high = 0;
    SW_EACH_OF (p, item, at) {
        widen(&cost, &ignore, p->cost[item], first);
        widen(&low, &high, p->noise[item], first);
        first = false;
    }
    rest->cost_least = next->cost_least + cost;
    rest->noise_least = next->noise_least + low;
    rest->noise_most = next->noise_most + high;
    rest->noise_open = next->noise_open || high != 0 || p->loss_position == at;
    rest->placing_open = next->placing_open || p->has_count[at];
    for (int k = 0; k < p->stages; k++) {
        first = true;
        SW_EACH_OF (p, item, at) {
            widen(&low, &high, p->term[item * p->stages + k], first);
            first = false;
        }
        rest->stage_least[k] = next->stage_least[k] + (first ? 0 : low);
        rest->stage_most[k] = next->stage_most[k] + (first ? 0 : high);
    }
    for (int d = 0; d < p->dues; d++)
        rest->due_open[d] = next->due_open[d] || p->due_at[at * p->dues + d];
    for (int u = 0; u < p->uses; u++) {
        rest->use_open[u] = next->use_open[u];
        for (int k = p->use_first[u]; k < p->use_first[u + 1]; k++)
            SW_EACH_OF (p, item, at)
                rest->use_open[u] = rest->use_open[u] || p->term[item * p->stages + k] != 0;
    }
    for (int i = 0; i < p->sums; i++) {
        first = true;
        SW_EACH_OF (p, item, at) {
            widen(&low, &high, p->amount[item * p->sums + i], first);
            first = false;
        }
        rest->amount_least[i] = next->amount_least[i] + (first ? 0 : low);
        rest->amount_most[i] = next->amount_most[i] + (first ? 0 : high);
        rest->sum_open[i] = next->sum_open[i] || m->sums[i].in[g];
        for (size_t w = 0; w < m->sums[i].when_count; w++)
            rest->sum_open[i] = rest->sum_open[i] || m->sums[i].when[w].group == g;
    }
    int row = 0;
    for (size_t i = 0; i < m->not_all_count; i++, row++) {
        rest->row_open[row] = next->row_open[row];
        for (size_t k = 0; k < m->not_alls[i].count; k++)
            rest->row_open[row] = rest->row_open[row] || m->not_alls[i].sets[k].group == g;
    }
    return SW_OK;
}

static sw_status make_rests(sw_pass *p) {
    size_t stages = (size_t)p->stages + 1, sums = (size_t)p->sums + 1;
    for (int at = p->groups; at >= 0; at--) {
        p->rest[at] = (sw_rest){.stage_least = SW_NEW(p->arena, int64_t, stages),
                                .stage_most = SW_NEW(p->arena, int64_t, stages),
                                .amount_least = SW_NEW(p->arena, int64_t, sums),
                                .amount_most = SW_NEW(p->arena, int64_t, sums),
                                .use_open = SW_NEW(p->arena, bool, (size_t)p->uses + 1),
                                .sum_open = SW_NEW(p->arena, bool, sums),
                                .row_open = SW_NEW(p->arena, bool, (size_t)p->rows + 1),
                                .due_open = SW_NEW(p->arena, bool, (size_t)p->dues + 1)};
        const sw_rest *rest = &p->rest[at];
        if (rest->stage_least == NULL || rest->stage_most == NULL || rest->amount_least == NULL ||
            rest->amount_most == NULL || rest->use_open == NULL || rest->sum_open == NULL ||
            rest->row_open == NULL || rest->due_open == NULL)
            return SW_NO_MEMORY;
        if (at < p->groups)
            add_rest(p, at);
    }
    return SW_OK;
}

sw_status sw_pass_items(sw_pass *p) {
    sw_status status = make_items(p);
    if (status == SW_OK)
        status = make_dues(p);
    return status == SW_OK ? make_rests(p) : status;
}
