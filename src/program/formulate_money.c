/* Charges with their waivers, the budget and the limit on minutes as rows. */
#include "program/stage.h"

#include <math.h>

typedef struct due_columns {
    int *charge; /* [due] 1 when it is paid */
    int *waiver; /* [due] 1 when it is waived, SW_NONE without waiver */
} due_columns;

/* Per group: the picks that make the charge due <= paid + waived. */
static sw_status add_due_rows(sw_matrix *m, size_t d, const due_columns *c) {
    const sw_program *program = m->program;
    const sw_due *due = &program->dues[d];
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        int row = SW_NONE;
        for (int p = group->first; p < group->first + group->count; p++) {
            if (!due->due[p] || m->pick_column[p] == SW_NONE)
                continue;
            if (row == SW_NONE) {
                row =
                    sw_matrix_row(m, sw_arena_format(m->arena, "due_%zu_%zu", d, g), -INFINITY, 0);
                if (row == SW_NONE || !sw_matrix_set(m, row, c->charge[d], -1) ||
                    (c->waiver[d] != SW_NONE && !sw_matrix_set(m, row, c->waiver[d], -1)))
                    return SW_NO_MEMORY;
            }
            if (!sw_matrix_set(m, row, m->pick_column[p], 1))
                return SW_NO_MEMORY;
        }
    }
    return SW_OK;
}

/* Waived only when the goods reach the sum: share of it by each pick. */
static sw_status add_waiver(sw_matrix *m, size_t d, const due_columns *c) {
    const sw_due *due = &m->program->dues[d];
    double sum = due->free_from > 0 ? (double)due->free_from : 1;
    int row = sw_matrix_row(m, sw_arena_format(m->arena, "waive_%zu", d), 0, INFINITY);
    if (row == SW_NONE || !sw_matrix_set(m, row, c->waiver[d], due->free_from > 0 ? -1 : 0))
        return SW_NO_MEMORY;
    for (size_t p = 0; p < m->program->pick_count; p++) {
        double goods = (double)due->goods[p] / sum;
        if (m->pick_column[p] != SW_NONE &&
            !sw_matrix_set(m, row, m->pick_column[p], goods > 1 ? 1 : goods))
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

static sw_status add_dues(sw_matrix *m, due_columns *c) {
    const sw_program *program = m->program;
    c->charge = SW_NEW(m->arena, int, program->due_count);
    c->waiver = SW_NEW(m->arena, int, program->due_count);
    if (c->charge == NULL || c->waiver == NULL)
        return SW_NO_MEMORY;
    for (size_t d = 0; d < program->due_count; d++) {
        const sw_due *due = &program->dues[d];
        c->charge[d] = sw_matrix_column(m, sw_arena_format(m->arena, "charge_%zu", d),
                                        due->always ? 1 : 0, 1, true);
        c->waiver[d] = SW_NONE;
        if (due->goods != NULL)
            c->waiver[d] =
                sw_matrix_column(m, sw_arena_format(m->arena, "waived_%zu", d), 0, 1, true);
        if (c->charge[d] != SW_NONE)
            m->columns[c->charge[d]].cost = due->amount;
        if (c->charge[d] == SW_NONE || (due->goods != NULL && c->waiver[d] == SW_NONE))
            return SW_NO_MEMORY;
        sw_status status = add_due_rows(m, d, c);
        if (status == SW_OK && due->goods != NULL)
            status = add_waiver(m, d, c);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}

/* A budget-like row: picks' amounts and the dues' amounts under a limit. */
static sw_status add_limit(sw_matrix *m, const char *name, const int64_t *amount,
                           const int64_t *due_amount, const due_columns *c, int64_t limit) {
    const sw_program *program = m->program;
    bool *in = SW_NEW(m->arena, bool, program->group_count);
    if (in == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        in[g] = true;
    int row = sw_matrix_sum(m, name, amount, in, limit);
    if (row == SW_NONE)
        return SW_NO_MEMORY;
    for (size_t d = 0; d < program->due_count; d++)
        if (!sw_matrix_set(m, row, c->charge[d],
                           (double)due_amount[d] / (double)m->rows[row].scale))
            return SW_NO_MEMORY;
    return SW_OK;
}

static sw_status add_limits(sw_matrix *m, const due_columns *c) {
    const sw_program *program = m->program;
    int64_t *cost = SW_NEW(m->arena, int64_t, program->pick_count);
    int64_t *minutes = SW_NEW(m->arena, int64_t, program->pick_count);
    int64_t *due_cost = SW_NEW(m->arena, int64_t, program->due_count);
    int64_t *due_minutes = SW_NEW(m->arena, int64_t, program->due_count);
    if (cost == NULL || minutes == NULL || due_cost == NULL || due_minutes == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++) {
        cost[p] = program->picks[p].cost;
        minutes[p] = program->picks[p].minutes;
    }
    for (size_t d = 0; d < program->due_count; d++) {
        due_cost[d] = program->dues[d].amount;
        due_minutes[d] = program->dues[d].minutes;
    }
    sw_status status = SW_OK;
    if (m->limit != SW_NO_LIMIT)
        status = add_limit(m, "budget", cost, due_cost, c, m->limit);
    if (status == SW_OK && program->minutes_limit >= 0)
        status = add_limit(m, "minutes", minutes, due_minutes, c, program->minutes_limit);
    return status;
}

sw_status sw_formulate_money(sw_matrix *m) {
    due_columns c;
    sw_status status = add_dues(m, &c);
    return status == SW_OK ? add_limits(m, &c) : status;
}
