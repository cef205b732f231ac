/* The program as the search wants it: bits, pairs that clash, features in a row. */
#include "program/search.h"

#include <math.h>
#include <stdlib.h>

#define SW_ITEMS_MOST 16384 /* the pairs take items^2 / 8 bytes */

static sw_status lay_out(sw_model *m, const bool *out_of_it) {
    const sw_program *program = m->program;
    m->first_word = SW_NEW(m->arena, int, (size_t)m->groups + 1);
    if (m->first_word == NULL)
        return SW_NO_MEMORY;
    for (int g = 0; g < m->groups; g++) {
        int count = 0;
        for (int p = program->groups[g].first;
             p < program->groups[g].first + program->groups[g].count; p++)
            count += !program->picks[p].dropped && !out_of_it[p];
        m->first_word[g + 1] = m->first_word[g] + (count + 63) / 64;
    }
    m->words = m->first_word[m->groups];
    m->items = m->words * 64;
    if (m->items > SW_ITEMS_MOST)
        return SW_OK;
    m->pick_of = SW_NEW(m->arena, int, (size_t)m->items);
    m->root = SW_NEW(m->arena, sw_word, (size_t)m->words);
    m->group_of_word = SW_NEW(m->arena, int, (size_t)m->words);
    if (m->pick_of == NULL || m->root == NULL || m->group_of_word == NULL)
        return SW_NO_MEMORY;
    for (int i = 0; i < m->items; i++)
        m->pick_of[i] = SW_NONE;
    for (int g = 0; g < m->groups; g++) {
        int item = m->first_word[g] * 64;
        for (int w = m->first_word[g]; w < m->first_word[g + 1]; w++)
            m->group_of_word[w] = g;
        for (int p = program->groups[g].first;
             p < program->groups[g].first + program->groups[g].count; p++)
            if (!program->picks[p].dropped && !out_of_it[p]) {
                m->root[item / 64] |= (sw_word)1 << item % 64;
                m->pick_of[item++] = p;
            }
    }
    return SW_OK;
}

/* The items of a set of picks: both rise. */
static sw_word *bits_of(const sw_model *m, const sw_set *set) {
    int first = m->first_word[set->group], end = m->first_word[set->group + 1];
    sw_word *word = SW_NEW(m->arena, sw_word, (size_t)(end - first + 1));
    size_t at = 0;
    SW_EACH_ITEM (item, m->root, first, end) {
        while (at < set->count && set->picks[at] < m->pick_of[item])
            at++;
        if (word != NULL && at < set->count && set->picks[at] == m->pick_of[item])
            word[item / 64 - first] |= (sw_word)1 << item % 64;
    }
    return word;
}

static bool in_bits(const sw_model *m, const sw_bits *bits, int item) {
    return (bits->word[item / 64 - m->first_word[bits->group]] >> (item % 64) & 1) != 0;
}

static void clash(sw_model *m, int a, int b) {
    int g = m->group_of_word[a / 64], h = m->group_of_word[b / 64];
    m->clash[(size_t)a * (size_t)m->words + (size_t)(b / 64)] |= (sw_word)1 << b % 64;
    m->clash[(size_t)b * (size_t)m->words + (size_t)(a / 64)] |= (sw_word)1 << a % 64;
    m->clashing[g * m->groups + h] = m->clashing[h * m->groups + g] = true;
}

/* ---- features ---------------------------------------------------------------------- */

static sw_status make_uses(sw_model *m) {
    const sw_program *program = m->program;
    m->uses = program->scored ? (int)program->least_count : 0;
    m->use_first = SW_NEW(m->arena, int, (size_t)m->uses + 1);
    m->cap = SW_NEW(m->arena, double, (size_t)m->uses + 1);
    m->use_base = SW_NEW(m->arena, double, (size_t)m->uses + 1);
    if (m->use_first == NULL || m->cap == NULL || m->use_base == NULL)
        return SW_NO_MEMORY;
    for (int u = 0; u < m->uses; u++) {
        const sw_least *least = &program->leasts[u];
        m->use_first[u + 1] = m->use_first[u] + (int)least->count;
        m->cap[u] = least->cap == INT64_MAX ? INFINITY : (double)least->cap;
        m->use_base[u] = (double)least->base;
    }
    m->stages = m->use_first[m->uses];
    m->offset = SW_NEW(m->arena, double, (size_t)m->stages + 1);
    if (m->offset == NULL)
        return SW_NO_MEMORY;
    for (int u = 0; u < m->uses; u++)
        for (int s = m->use_first[u]; s < m->use_first[u + 1]; s++)
            m->offset[s] = (double)program->leasts[u].stages[s - m->use_first[u]].offset;
    return SW_OK;
}

static void number_features(sw_model *m) {
    const sw_program *program = m->program;
    m->first_stage = 2;
    m->noise = m->first_stage + m->stages;
    m->first_row = m->noise + (program->scored && program->levelled ? 1 : 0);
    m->rows = 0;
    for (size_t i = 0; i < m->sum_count; i++)
        if (m->sums[i].when_count == 0)
            m->sums[i].feature = m->first_row + m->rows++;
    m->features = m->first_row + m->rows;
}

static void fill_item(const sw_model *m, int item) {
    const sw_program *program = m->program;
    int pick = m->pick_of[item], fitout = program->picks[pick].fitout;
    double *f = &m->feature[(size_t)item * (size_t)m->features];
    f[0] = (double)program->picks[pick].cost;
    f[1] = program->scored ? (double)program->picks[pick].points : 0;
    for (int u = 0; u < m->uses; u++)
        for (int s = m->use_first[u]; s < m->use_first[u + 1]; s++)
            f[m->first_stage + s] =
                (double)program->leasts[u].stages[s - m->use_first[u]].terms[fitout];
    if (m->first_row > m->noise)
        f[m->noise] = (double)program->picks[pick].noise;
    for (size_t i = 0; i < m->sum_count; i++)
        if (m->sums[i].feature != SW_NONE)
            f[m->sums[i].feature] =
                m->sums[i].in[m->group_of_word[item / 64]] ? (double)m->sums[i].amount[pick] : 0;
}

/* Most groups know nothing of most features. */
static void note_used(sw_model *m) {
    for (int g = 0; g < m->groups; g++) {
        int count = m->used_first[g];
        for (int f = 0; f < m->features; f++) {
            bool any = false;
            SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1])
                any = any || m->feature[(size_t)item * (size_t)m->features + (size_t)f] != 0;
            if (any)
                m->used[count++] = f;
        }
        m->used_first[g + 1] = count;
    }
}

static sw_status make_features(sw_model *m) {
    number_features(m);
    m->feature = SW_NEW(m->arena, double, (size_t)m->items *(size_t)m->features);
    m->spread = SW_NEW(m->arena, double, (size_t)m->features);
    m->used = SW_NEW(m->arena, int, (size_t)m->features *(size_t)m->groups);
    m->used_first = SW_NEW(m->arena, int, (size_t)m->groups + 1);
    m->row_limit = SW_NEW(m->arena, double, (size_t)m->rows + 1);
    if (m->feature == NULL || m->spread == NULL || m->row_limit == NULL || m->used == NULL ||
        m->used_first == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < m->sum_count; i++)
        if (m->sums[i].feature != SW_NONE)
            m->row_limit[m->sums[i].feature - m->first_row] = (double)m->sums[i].limit;
    for (int g = 0; g < m->groups; g++) {
        int first = m->first_word[g], end = m->first_word[g + 1];
        SW_EACH_ITEM (item, m->root, first, end)
            fill_item(m, item);
        for (int f = 0; f < m->features; f++) {
            double least = INFINITY, most = -INFINITY;
            SW_EACH_ITEM (item, m->root, first, end) {
                double x = m->feature[(size_t)item * (size_t)m->features + (size_t)f];
                least = x < least ? x : least;
                most = x > most ? x : most;
            }
            m->spread[f] += most > least ? most - least : 0;
        }
    }
    note_used(m);
    double stages = 0;
    for (int s = 0; s < m->stages; s++)
        stages += m->spread[m->first_stage + s] / m->stages;
    m->point_spread = m->spread[1] + 1;
    for (int u = 0; u < m->uses; u++)
        m->point_spread += m->spread[m->first_stage + m->use_first[u]];
    m->share_scale = stages > 0 ? 1 / (stages * stages) : 0;
    return SW_OK;
}

/* ---- rules ----------------------------------------------------------------------------- */

static sw_status add_not_all(sw_model *m, const sw_not_all *row) {
    sw_model_not_all *out = &m->not_alls[m->not_all_count];
    out->sets = SW_NEW(m->arena, sw_bits, row->count);
    out->count = row->count;
    for (size_t s = 0; out->sets != NULL && s < row->count; s++) {
        out->sets[s] = (sw_bits){row->sets[s].group, bits_of(m, &row->sets[s])};
        if (out->sets[s].word == NULL)
            return SW_NO_MEMORY;
    }
    if (out->sets == NULL)
        return SW_NO_MEMORY;
    if (row->count != 2) {
        m->not_all_count++;
        return SW_OK;
    }
    const sw_bits *a = &out->sets[0], *b = &out->sets[1];
    SW_EACH_ITEM (item, m->root, m->first_word[a->group], m->first_word[a->group + 1])
        if (in_bits(m, a, item)) {
            sw_word *row_of = &m->clash[(size_t)item * (size_t)m->words];
            for (int w = m->first_word[b->group]; w < m->first_word[b->group + 1]; w++)
                row_of[w] |= b->word[w - m->first_word[b->group]];
        }
    SW_EACH_ITEM (item, m->root, m->first_word[b->group], m->first_word[b->group + 1])
        if (in_bits(m, b, item)) {
            sw_word *row_of = &m->clash[(size_t)item * (size_t)m->words];
            for (int w = m->first_word[a->group]; w < m->first_word[a->group + 1]; w++)
                row_of[w] |= a->word[w - m->first_word[a->group]];
        }
    m->clashing[a->group * m->groups + b->group] = true;
    m->clashing[b->group * m->groups + a->group] = true;
    return SW_OK;
}

/* Is the row on, as far as this item goes? */
static bool switches_on(const sw_model *m, const sw_model_sum *sum, int item) {
    for (size_t w = 0; w < sum->when_count; w++)
        if (sum->when[w].group == m->group_of_word[item / 64] && !in_bits(m, &sum->when[w], item))
            return false;
    return true;
}

static int64_t amount_of(const sw_model *m, const sw_model_sum *sum, int item) {
    return sum->in[m->group_of_word[item / 64]] ? sum->amount[m->pick_of[item]] : 0;
}

/* A row over at most two groups is pairs that clash. */
static void sum_as_pairs(sw_model *m, const sw_model_sum *sum, const int *over, int count) {
    int g = over[0], h = count > 1 ? over[1] : over[0];
    SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1]) {
        if (!switches_on(m, sum, item))
            continue;
        if (count == 1) {
            if (amount_of(m, sum, item) > sum->limit)
                m->root[item / 64] &= ~((sw_word)1 << item % 64);
            continue;
        }
        SW_EACH_ITEM (other, m->root, m->first_word[h], m->first_word[h + 1])
            if (switches_on(m, sum, other) &&
                amount_of(m, sum, item) + amount_of(m, sum, other) > sum->limit)
                clash(m, item, other);
    }
}

static sw_status add_sum(sw_model *m, const sw_sum *row) {
    sw_model_sum *out = &m->sums[m->sum_count];
    *out = (sw_model_sum){.amount = row->amount,
                          .in = row->in,
                          .limit = row->limit,
                          .when = SW_NEW(m->arena, sw_bits, row->when_count),
                          .when_count = row->when_count,
                          .feature = SW_NONE};
    int over[2], count = 0;
    if (out->when == NULL)
        return SW_NO_MEMORY;
    for (size_t w = 0; w < row->when_count; w++) {
        out->when[w] = (sw_bits){row->when[w].group, bits_of(m, &row->when[w])};
        if (out->when[w].word == NULL)
            return SW_NO_MEMORY;
    }
    for (int g = 0; g < m->groups; g++) {
        bool in = row->in[g];
        for (size_t w = 0; w < row->when_count; w++)
            in = in || row->when[w].group == g;
        if (in && count++ < 2)
            over[count - 1] = g;
    }
    if (count > 2)
        m->sum_count++;
    else if (count > 0)
        sum_as_pairs(m, out, over, count);
    return SW_OK;
}

static sw_status add_limit(sw_model *m) {
    const sw_program *program = m->program;
    int64_t *minutes = SW_NEW(m->arena, int64_t, program->pick_count);
    bool *in = SW_NEW(m->arena, bool, program->group_count);
    if (minutes == NULL || in == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++)
        minutes[p] = program->picks[p].minutes;
    for (size_t g = 0; g < program->group_count; g++)
        in[g] = true;
    m->minutes_sum = (int)m->sum_count;
    m->sums[m->sum_count++] = (sw_model_sum){
        .amount = minutes, .in = in, .limit = program->minutes_limit, .feature = SW_NONE};
    return SW_OK;
}

static sw_status add_due(sw_model *m, const sw_due *due, bool with_minutes) {
    bool takes_time = with_minutes && m->program->minutes_limit >= 0 && due->minutes > 0;
    if (due->amount == 0 && !takes_time)
        return SW_OK;
    sw_model_due *out = &m->dues[m->due_count];
    *out = (sw_model_due){.sets = SW_NEW(m->arena, sw_bits, (size_t)m->groups),
                          .goods = due->goods,
                          .amount = due->amount,
                          .minutes = due->minutes,
                          .free_from = due->free_from,
                          .always = due->always};
    if (out->sets == NULL)
        return SW_NO_MEMORY;
    for (int g = 0; g < m->groups; g++) {
        int first = m->first_word[g], end = m->first_word[g + 1];
        sw_word *word = SW_NEW(m->arena, sw_word, (size_t)(end - first + 1));
        bool any = false;
        if (word == NULL)
            return SW_NO_MEMORY;
        SW_EACH_ITEM (item, m->root, first, end)
            if (due->due[m->pick_of[item]]) {
                word[item / 64 - first] |= (sw_word)1 << item % 64;
                any = true;
            }
        if (any)
            out->sets[out->set_count++] = (sw_bits){g, word};
    }
    m->due_count += out->set_count > 0 || out->always ? 1 : 0;
    return SW_OK;
}

static void note_placing(sw_model *m) {
    const sw_placing *placing = &m->program->placing;
    for (int g = 0; g < m->groups; g++)
        SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1]) {
            int pick = m->pick_of[item];
            for (size_t t = 0; t < placing->thing_count && !m->placed[g]; t++)
                m->placed[g] = placing->things[t].count[pick] > 0;
            for (size_t s = 0; s < placing->site_count && !m->placed[g]; s++)
                m->placed[g] = placing->sites[s].count[pick] > 0;
        }
    m->places = placing->thing_count > 0;
    for (size_t r = 0; r < m->program->book->count && placing->silent != NULL; r++)
        for (size_t p = 0; placing->silent[r] != NULL && p < m->program->pick_count; p++)
            if (placing->silent[r][p])
                m->placed[m->program->picks[p].group] = true;
}

static sw_status make_rules(sw_model *m, bool with_minutes) {
    const sw_program *program = m->program;
    size_t pairs = (size_t)m->items * (size_t)m->words;
    m->clash = SW_NEW(m->arena, sw_word, pairs);
    m->clashing = SW_NEW(m->arena, bool, (size_t)m->groups *(size_t)m->groups);
    m->not_alls = SW_NEW(m->arena, sw_model_not_all, program->not_all_count + 1);
    m->sums = SW_NEW(m->arena, sw_model_sum, program->sum_count + 2);
    m->dues = SW_NEW(m->arena, sw_model_due, program->due_count + 1);
    m->placed = SW_NEW(m->arena, bool, (size_t)m->groups);
    if (m->clash == NULL || m->clashing == NULL || m->not_alls == NULL || m->sums == NULL ||
        m->dues == NULL || m->placed == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t i = 0; i < program->not_all_count && status == SW_OK; i++)
        status = add_not_all(m, &program->not_alls[i]);
    for (size_t i = 0; i < program->sum_count && status == SW_OK; i++)
        status = add_sum(m, &program->sums[i]);
    if (status == SW_OK && program->minutes_limit >= 0)
        status = add_limit(m);
    for (size_t d = 0; d < program->due_count && status == SW_OK; d++)
        status = add_due(m, &program->dues[d], with_minutes);
    note_placing(m);
    return status;
}

/* ---- what is asked for ------------------------------------------------------------- */

int64_t sw_model_dearest(const sw_model *m) {
    int64_t sum = 0;
    for (int g = 0; g < m->groups; g++) {
        int64_t most = 0;
        SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1]) {
            int64_t cost = m->program->picks[m->pick_of[item]].cost;
            most = cost > most ? cost : most;
        }
        sum += most;
    }
    for (size_t d = 0; d < m->due_count; d++)
        sum += m->dues[d].amount;
    return sum;
}

/* The total with its invoice tax, as a straight line within half a minor unit. */
static void price_cost(sw_model *m) {
    const sw_tax *tax = &m->program->fitouts->scenario->tax;
    double rate = (double)m->request->cost_worth / (double)m->request->point_worth;
    bool added = tax->per_invoice && tax->prices == SW_PRICES_WITHOUT_TAX;
    m->cost_worth = added ? rate * (1 + (double)tax->percent_milli / 100000) : rate;
    m->blur = added ? rate : 0;
}

static void set_aim(sw_model *m) {
    const sw_request *request = m->request;
    int64_t most = sw_model_dearest(m);
    m->limit = request->limit < most ? request->limit : most;
    m->point_worth = request->aim == SW_AIM_CHEAPEST ? 0 : 1;
    m->cost_worth = request->aim == SW_AIM_CHEAPEST ? 1 : 1 / ((double)most + 1);
    if (request->points_alone)
        m->cost_worth = 0;
    if (request->aim == SW_AIM_WORTHWHILE)
        price_cost(m);
}

sw_status sw_model_make(sw_model **out, sw_program *program, const sw_request *request,
                        const bool *out_of_it, bool with_minutes) {
    *out = NULL;
    sw_arena *arena = sw_arena_new();
    sw_model *m = arena == NULL ? NULL : SW_NEW(arena, sw_model, 1);
    if (m == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    m->program = program;
    m->request = request;
    m->arena = arena;
    m->groups = (int)program->group_count;
    m->minutes_sum = SW_NONE;
    sw_status status = lay_out(m, out_of_it);
    bool small = status == SW_OK && m->items <= SW_ITEMS_MOST;
    if (small)
        status = make_rules(m, with_minutes);
    if (small && status == SW_OK)
        status = sw_model_tie(m);
    if (small && status == SW_OK)
        status = make_uses(m);
    if (small && status == SW_OK)
        status = make_features(m);
    if (small && status == SW_OK) {
        set_aim(m);
        *out = m;
        return SW_OK;
    }
    sw_arena_free(arena);
    return status;
}
