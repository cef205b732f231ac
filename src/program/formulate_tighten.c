/*
 * Tightens the rows by the relaxation's own solutions: a few rounds in which rows are
 * added that the solution breaks, and picks leave that cannot be in a solution worth
 * having. What does not bind at the end is taken out again.
 */
#include "program/cuts.h"

#include <math.h>
#include <stdlib.h>

#define SW_CUT_ROUNDS 20
#define SW_CUT_GAIN_LEAST 0.01 /* of what all rounds gained: a round with less is the last */
#define SW_CUT_TINY 1e-7       /* of a pick: the relaxation's own tolerance */

double sw_taken(const sw_cuts *cuts, int pick) {
    double taken = cuts->value[cuts->matrix->pick_column[pick]];
    return taken > SW_CUT_TINY ? taken : 0;
}

/* ---- a bound from the prices of the rows alone ----------------------------------------- */

typedef struct prices {
    double *row;     /* [row] of the relaxation */
    double *reduced; /* [column] what one of it costs at these prices */
    double *least;   /* [group] least of its picks */
} prices;

/* A price counts on the end of its row that it presses on; the rows "one of each group"
 * have none, since one pick of each group is taken whatever the prices. */
static double price_of(const sw_matrix *m, const prices *at, size_t r) {
    const sw_row *row = &m->rows[r];
    double end = at->row[r] > 0 ? row->lower : row->upper;
    return r < m->program->group_count || isinf(end) ? 0 : at->row[r];
}

/* Below the objective of every whole solution, however rough the prices: the solver's
 * tolerances are not in it. */
static double bound_of(const sw_matrix *m, const prices *at, const double *objective) {
    double bound = 0;
    for (size_t c = 0; c < m->column_count; c++)
        at->reduced[c] = objective[c];
    for (size_t r = 0; r < m->row_count; r++) {
        const sw_row *row = &m->rows[r];
        double price = price_of(m, at, r);
        if (price == 0)
            continue;
        bound += price * (price > 0 ? row->lower : row->upper);
        for (size_t e = 0; e < row->count; e++)
            at->reduced[row->entries[e].column] -= price * row->entries[e].value;
    }
    for (size_t c = (size_t)m->pick_columns; c < m->column_count; c++)
        bound += fmin(at->reduced[c] * m->columns[c].lower, at->reduced[c] * m->columns[c].upper);
    for (size_t g = 0; g < m->program->group_count; g++) {
        const sw_group *group = &m->program->groups[g];
        at->least[g] = INFINITY;
        for (int p = group->first; p < group->first + group->count; p++)
            if (m->pairs.in[p])
                at->least[g] = fmin(at->least[g], at->reduced[m->pick_column[p]]);
        bound += at->least[g];
    }
    return bound;
}

/* Picks with which the objective goes above `most` leave. */
static void leave_out(sw_matrix *m, const prices *at, const double *objective, double most) {
    double bound = bound_of(m, at, objective);
    if (!isfinite(bound))
        return;
    for (size_t p = 0; p < m->program->pick_count; p++) {
        int column = m->pick_column[p];
        if (!m->pairs.in[p] ||
            bound + at->reduced[column] - at->least[m->program->picks[p].group] <= most)
            continue;
        m->pairs.in[p] = false;
        m->columns[column].upper = 0;
    }
}

/* ---- rounds ------------------------------------------------------------------------------ */

static sw_status add_cuts(sw_cuts *cuts) {
    sw_status status = SW_OK;
    for (size_t i = 0; i < cuts->matrix->load_count && status == SW_OK; i++)
        status = sw_cut_cover(cuts, &cuts->matrix->loads[i]);
    return status == SW_OK ? sw_cut_pairs(cuts) : status;
}

/* One round; `*more` is false when the next would bring nothing. */
static sw_status one_round(bool *more, sw_cuts *cuts, sw_relaxation *relaxation,
                           const double *objective, double most, double seconds) {
    sw_matrix *m = cuts->matrix;
    prices at = {SW_NEW(cuts->arena, double, m->row_count),
                 SW_NEW(cuts->arena, double, m->column_count),
                 SW_NEW(cuts->arena, double, m->program->group_count)};
    *more = false;
    if (at.row == NULL || at.reduced == NULL || at.least == NULL)
        return SW_NO_MEMORY;
    sw_relaxed relaxed = {.value = cuts->value, .price = at.row};
    sw_status status = sw_relaxation_solve(&relaxed, relaxation, seconds);
    if (status != SW_OK || !relaxed.solved)
        return status;
    if (isfinite(most))
        leave_out(m, &at, objective, most);
    if (cuts->rounds == 0)
        cuts->first_bound = relaxed.bound;
    else if (relaxed.bound - cuts->last_bound <
             SW_CUT_GAIN_LEAST * (relaxed.bound - cuts->first_bound) + SW_CUT_TINY)
        return SW_OK;
    cuts->last_bound = relaxed.bound;
    size_t before = m->row_count;
    if (++cuts->rounds < SW_CUT_ROUNDS)
        status = add_cuts(cuts);
    *more = m->row_count > before;
    return status;
}

static double left_of(const sw_cuts *cuts, const sw_row *row) {
    double sum = 0;
    for (size_t e = 0; e < row->count; e++)
        sum += row->entries[e].value * cuts->value[row->entries[e].column];
    return row->upper - sum;
}

/* Takes out the rows from `first` on that the last solution leaves room in. */
static void drop_loose(const sw_cuts *cuts, size_t first) {
    sw_matrix *m = cuts->matrix;
    size_t kept = first;
    for (size_t r = first; r < m->row_count; r++)
        if (left_of(cuts, &m->rows[r]) > 1e-6)
            free(m->rows[r].entries);
        else
            m->rows[kept++] = m->rows[r];
    m->row_count = kept;
}

sw_status sw_matrix_tighten(sw_matrix *m, const double *objective, double most, double seconds) {
    sw_cuts cuts = {.matrix = m, .value = SW_NEW(m->arena, double, m->column_count)};
    sw_relaxation *relaxation = NULL;
    size_t first = m->row_count;
    if (cuts.value == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_relaxation_open(&relaxation, m, objective);
    bool more = status == SW_OK;
    while (more && status == SW_OK) {
        cuts.arena = sw_arena_new();
        status = cuts.arena == NULL ? SW_NO_MEMORY
                                    : one_round(&more, &cuts, relaxation, objective, most, seconds);
        sw_arena_free(cuts.arena);
    }
    sw_relaxation_close(relaxation);
    if (status == SW_OK)
        drop_loose(&cuts, first);
    return status == SW_OK ? sw_matrix_thin(m, first) : status;
}
