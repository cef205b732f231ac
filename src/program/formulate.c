/* The program as linear rows. The formulation was chosen for tight relaxations:
 * logical rows hold only ones; sums are shifted, clamped and scaled. */
#include "program/stage.h"

#include <math.h>

static sw_status add_picks(sw_matrix *m) {
    const sw_program *program = m->program;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        const char *role = program->fitouts->catalog->roles[group->role].id;
        int row = sw_matrix_row(m, sw_arena_format(m->arena, "one_%s", role), 1, 1);
        if (row == SW_NONE)
            return SW_NO_MEMORY;
        for (int p = group->first; p < group->first + group->count; p++) {
            m->pick_column[p] = SW_NONE;
            if (!m->pairs.in[p])
                continue;
            const char *name = sw_arena_format(m->arena, "x_%s_%d", role, p - group->first);
            m->pick_column[p] = sw_matrix_column(m, name, 0, 1, true);
            if (m->pick_column[p] == SW_NONE || !sw_matrix_set(m, row, m->pick_column[p], 1))
                return SW_NO_MEMORY;
            m->pick_columns++;
            sw_column *column = &m->columns[m->pick_column[p]];
            column->points = program->scored ? program->picks[p].points : 0;
            column->cost = program->picks[p].cost;
            column->order = program->picks[p].swaps * program->swap_order + program->picks[p].tasks;
        }
    }
    return SW_OK;
}

static bool put_set(sw_matrix *m, int row, const sw_set *set) {
    for (size_t i = 0; i < set->count; i++)
        if (m->pick_column[set->picks[i]] != SW_NONE &&
            !sw_matrix_set(m, row, m->pick_column[set->picks[i]], 1))
            return false;
    return true;
}

static bool any_in(const sw_matrix *m, const sw_set *set) {
    for (size_t i = 0; i < set->count; i++)
        if (m->pick_column[set->picks[i]] != SW_NONE)
            return true;
    return false;
}

/* With a set of which nothing is left, the others may all be hit. */
static bool says_nothing(const sw_matrix *m, const sw_not_all *of) {
    for (size_t s = 0; s < of->count; s++)
        if (!any_in(m, &of->sets[s]))
            return true;
    return false;
}

static sw_status add_not_alls(sw_matrix *m) {
    const sw_program *program = m->program;
    for (size_t i = 0; i < program->not_all_count; i++) {
        const sw_not_all *of = &program->not_alls[i];
        if (says_nothing(m, of))
            continue;
        const char *name =
            sw_arena_format(m->arena, "%s_%zu",
                            of->rule == SW_NONE ? "beside" : program->book->rules[of->rule].id, i);
        int row = sw_matrix_row(m, name, -INFINITY, (double)of->count - 1);
        if (row == SW_NONE)
            return SW_NO_MEMORY;
        for (size_t s = 0; s < of->count; s++)
            if (!put_set(m, row, &of->sets[s]))
                return SW_NO_MEMORY;
    }
    return SW_OK;
}

static const sw_set *when_of(const sw_sum *sum, size_t group) {
    for (size_t i = 0; i < sum->when_count; i++)
        if (sum->when[i].group == (int)group)
            return &sum->when[i];
    return NULL;
}

static bool in_set(const sw_set *set, int pick) {
    size_t low = 0, high = set->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (set->picks[middle] < pick)
            low = middle + 1;
        else
            high = middle;
    }
    return low < set->count && set->picks[low] == pick;
}

/* The greatest amount of the group where the row counts; false without any. */
static bool greatest_of(const sw_matrix *m, const sw_sum *sum, size_t g, int64_t *greatest) {
    const sw_group *group = &m->program->groups[g];
    const sw_set *when = when_of(sum, g);
    bool any = false;
    for (int p = group->first; p < group->first + group->count; p++) {
        if (!m->pairs.in[p] || (when != NULL && !in_set(when, p)))
            continue;
        if (!any || sum->amount[p] > *greatest)
            *greatest = sum->amount[p];
        any = true;
    }
    return any;
}

/* The most that each group brings where the row counts, and all of them together;
 * false when the row counts nowhere. */
static bool greatest_of_all(const sw_matrix *m, const sw_sum *sum, bool *in, int64_t *greatest,
                            int64_t *most) {
    *most = 0;
    for (size_t g = 0; g < m->program->group_count; g++) {
        in[g] = sum->in[g] || when_of(sum, g) != NULL;
        if (in[g] && !greatest_of(m, sum, g, &greatest[g]))
            return false;
        greatest[g] = sum->in[g] ? greatest[g] : 0;
        *most += greatest[g];
    }
    return true;
}

/* The sum without its conditions. An amount never needs to be lower than what satisfies
 * the row whatever stands beside it; picks that switch the row off get just that.
 * `*tells` is false when nothing can break the row. */
static sw_status load_of_sum(sw_load_row *out, bool *tells, const sw_matrix *m, const sw_sum *sum) {
    const sw_program *program = m->program;
    int64_t *greatest = SW_NEW(m->arena, int64_t, program->group_count);
    int64_t *amount = SW_NEW(m->arena, int64_t, program->pick_count), most;
    bool *in = SW_NEW(m->arena, bool, program->group_count);
    if (greatest == NULL || amount == NULL || in == NULL)
        return SW_NO_MEMORY;
    *tells = greatest_of_all(m, sum, in, greatest, &most) && most > sum->limit;
    for (size_t g = 0; g < program->group_count && *tells; g++) {
        const sw_group *group = &program->groups[g];
        const sw_set *when = when_of(sum, g);
        int64_t enough = sum->limit - (most - greatest[g]);
        for (int p = group->first; in[g] && p < group->first + group->count; p++) {
            bool off = when != NULL && !in_set(when, p);
            int64_t own = sum->in[g] ? sum->amount[p] : 0;
            amount[p] = off || own < enough ? enough : own;
        }
    }
    *out =
        (sw_load_row){.name = sum->rule == SW_NONE ? "demand" : program->book->rules[sum->rule].id,
                      .amount = amount,
                      .in = in,
                      .limit = sum->limit,
                      .when_column = SW_NONE};
    return SW_OK;
}

static sw_status add_sum(sw_matrix *m, const sw_sum *sum, size_t index) {
    sw_load_row load;
    bool tells;
    sw_status status = load_of_sum(&load, &tells, m, sum);
    if (status != SW_OK || !tells)
        return status;
    const char *name = sw_arena_format(m->arena, "%s_sum_%zu", load.name, index);
    bool added = sw_matrix_sum(m, name, load.amount, load.in, load.limit) != SW_NONE;
    return added && sw_matrix_load(m, &load) ? SW_OK : SW_NO_MEMORY;
}

/* Which picks can be in a solution at all, and which two of them together. */
static sw_status pair_up(sw_matrix *m, const bool *out_of_it) {
    const sw_program *program = m->program;
    sw_load_row *loads = SW_NEW(m->arena, sw_load_row, program->sum_count + SW_LIMIT_ROWS);
    m->pairs = (sw_pairs){.program = program, .in = SW_NEW(m->arena, bool, program->pick_count)};
    if (loads == NULL || m->pairs.in == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++)
        m->pairs.in[p] = !program->picks[p].dropped && (out_of_it == NULL || !out_of_it[p]);
    size_t count = 0;
    sw_status status = sw_limit_rows(loads, &count, m);
    for (size_t i = 0; i < program->sum_count && status == SW_OK; i++) {
        bool tells;
        status = load_of_sum(&loads[count], &tells, m, &program->sums[i]);
        count += status == SW_OK && tells ? 1 : 0;
    }
    return status == SW_OK ? sw_pairs_make(&m->pairs, m->arena, loads, count) : status;
}

void sw_spread(const sw_matrix *m, const sw_group *group, const int64_t *by_fitout, int64_t *least,
               int64_t *most) {
    *least = INT64_MAX;
    *most = INT64_MIN;
    for (int p = group->first; p < group->first + group->count; p++) {
        if (m->pick_column[p] == SW_NONE)
            continue;
        int64_t term = by_fitout[m->program->picks[p].fitout];
        *least = term < *least ? term : *least;
        *most = term > *most ? term : *most;
    }
    if (*least > *most)
        *least = *most = 0;
}

/* ---- measures -------------------------------------------------------------------- */

#define SW_VALUE_SCALE_MOST INT64_C(300000)

static void measure_value(sw_matrix *m) {
    m->value_scale = m->limit < SW_VALUE_SCALE_MOST ? m->limit + 1 : 0;
    for (size_t c = 0; c < m->column_count && m->value_scale > 0; c++) {
        int64_t points;
        if (!sw_multiply(&points, m->points.coefficient[c], -m->value_scale) ||
            !sw_add(&m->value.coefficient[c], points, m->cost.coefficient[c]))
            m->value_scale = 0;
    }
    int64_t constant;
    if (!sw_multiply(&constant, m->points.constant, -m->value_scale))
        m->value_scale = 0;
    m->value.constant = m->value_scale > 0 ? constant : 0;
}

static sw_status measure_all(sw_matrix *m) {
    sw_linear *all[4] = {&m->points, &m->cost, &m->order, &m->value};
    for (int i = 0; i < 4; i++) {
        all[i]->coefficient = SW_NEW(m->arena, int64_t, m->column_count);
        if (all[i]->coefficient == NULL)
            return SW_NO_MEMORY;
    }
    for (size_t c = 0; c < m->column_count; c++) {
        m->points.coefficient[c] = m->columns[c].points;
        m->cost.coefficient[c] = m->columns[c].cost;
        m->order.coefficient[c] = m->columns[c].order;
    }
    if (!m->program->scored)
        return SW_OK;
    m->points.constant -= m->program->points_base;
    if (m->program->levelled)
        m->points.constant -= m->program->estimates->level_base;
    measure_value(m);
    return SW_OK;
}

static sw_status formulate(sw_matrix *m, const bool *out_of_it) {
    const sw_program *program = m->program;
    m->pick_column = SW_NEW(m->arena, int, program->pick_count);
    sw_status status = m->pick_column == NULL ? SW_NO_MEMORY : pair_up(m, out_of_it);
    if (status == SW_OK)
        status = add_picks(m);
    if (status == SW_OK)
        status = add_not_alls(m);
    for (size_t i = 0; i < program->sum_count && status == SW_OK; i++)
        status = add_sum(m, &program->sums[i], i);
    if (status == SW_OK)
        status = sw_formulate_place(m);
    if (status == SW_OK)
        status = sw_formulate_money(m);
    if (status == SW_OK && program->scored)
        status = sw_formulate_speed(m);
    if (status == SW_OK && program->levelled)
        status = sw_formulate_sound(m);
    if (status == SW_OK)
        status = sw_matrix_thin(m, 0);
    return status == SW_OK ? measure_all(m) : status;
}

sw_status sw_matrix_make(sw_matrix **out, const sw_program *program, const bool *out_of_it,
                         int64_t limit) {
    sw_arena *arena = sw_arena_new();
    sw_matrix *matrix = arena == NULL ? NULL : SW_NEW(arena, sw_matrix, 1);
    if (matrix == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    matrix->arena = arena;
    matrix->program = program;
    matrix->limit = limit;
    sw_status status = formulate(matrix, out_of_it);
    if (status == SW_OK)
        *out = matrix;
    else
        sw_matrix_free(matrix);
    return status;
}
