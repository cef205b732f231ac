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

/* The only group that can make the charge due, SW_NONE when there are others. A waiver
 * looks at all groups. */
static int only_group(const sw_matrix *m, const sw_due *due) {
    int only = SW_NONE;
    for (size_t p = 0; p < m->program->pick_count; p++) {
        int group = m->program->picks[p].group;
        if (!due->due[p] || !m->pairs.in[p] || group == only)
            continue;
        if (only != SW_NONE || due->goods != NULL)
            return SW_NONE;
        only = group;
    }
    return only;
}

static sw_status limit_row(sw_load_row *out, const sw_matrix *m, bool minutes, int64_t limit) {
    const sw_program *program = m->program;
    int64_t *amount = SW_NEW(m->arena, int64_t, program->pick_count);
    int64_t *due = SW_NEW(m->arena, int64_t, program->due_count);
    bool *in = SW_NEW(m->arena, bool, program->group_count);
    if (amount == NULL || due == NULL || in == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++)
        amount[p] = minutes ? program->picks[p].minutes : program->picks[p].cost;
    for (size_t g = 0; g < program->group_count; g++)
        in[g] = true;
    for (size_t d = 0; d < program->due_count; d++) {
        const sw_due *of = &program->dues[d];
        due[d] = minutes ? of->minutes : of->amount;
        bool own = !of->always && only_group(m, of) != SW_NONE;
        for (size_t p = 0; p < program->pick_count && own; p++)
            amount[p] += of->due[p] ? due[d] : 0;
        limit -= of->always ? due[d] : 0;
        due[d] = own || of->always ? 0 : due[d];
    }
    *out = (sw_load_row){.name = minutes ? "minutes" : "budget",
                         .amount = amount,
                         .in = in,
                         .due = due,
                         .limit = limit,
                         .when_column = SW_NONE};
    return SW_OK;
}

/* The picks' amounts; what a charge adds that one group alone brings is in them, what
 * is always paid off the limit. */
sw_status sw_limit_rows(sw_load_row *rows, size_t *count, const sw_matrix *m) {
    sw_status status = SW_OK;
    if (m->limit != SW_NO_LIMIT)
        status = limit_row(&rows[(*count)++], m, false, m->limit);
    if (status == SW_OK && m->program->minutes_limit >= 0)
        status = limit_row(&rows[(*count)++], m, true, m->program->minutes_limit);
    return status;
}

static sw_status add_limit(sw_matrix *m, const sw_load_row *load) {
    int row = sw_matrix_sum(m, load->name, load->amount, load->in, load->limit);
    if (row == SW_NONE || !sw_matrix_load(m, load))
        return SW_NO_MEMORY;
    double scale = (double)m->rows[row].scale;
    for (size_t d = 0; d < m->program->due_count; d++)
        if (!sw_matrix_set(m, row, m->charge_column[d], (double)load->due[d] / scale))
            return SW_NO_MEMORY;
    return SW_OK;
}

sw_status sw_formulate_money(sw_matrix *m) {
    due_columns c;
    sw_load_row rows[SW_LIMIT_ROWS];
    size_t count = 0;
    sw_status status = add_dues(m, &c);
    m->charge_column = c.charge;
    if (status == SW_OK)
        status = sw_limit_rows(rows, &count, m);
    for (size_t i = 0; i < count && status == SW_OK; i++)
        status = add_limit(m, &rows[i]);
    return status;
}
