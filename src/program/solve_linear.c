/*
 * Proves the best bundle under the order of ties with a linear solver that
 * works to tolerances. Each run asks for the best solution not seen yet by one
 * measure; every solution is judged outside in whole numbers; the next measure
 * is asked only when a tie is left:
 *
 *     most points -> least cost -> fewest swaps and tasks -> ids -> sellers
 *
 * Usually the second run already finds that nothing else reaches the points of
 * the first, which proves both the optimum and that it is the only one.
 */
#include "program/stage.h"

#include <math.h>
#include <stdlib.h>

typedef struct solver {
    sw_program *program;
    sw_matrix *matrix;
    const sw_request *request;
    sw_allowance allowance;
    sw_complaints *complaints;
    sw_arena *arena;
    double *objective;
    double *value;
    int *picks; /* the solution just found */
    sw_tally tally;
    double claimed; /* what the solver said its measure was */
    bool have;      /* an incumbent */
    int *best;
    sw_tally best_tally;
    int points_row, cost_row, order_row; /* SW_NONE until added */
    bool out_of_time, exhausted;
    double bound_of_run; /* when out of time: on the measure of that run */
    double bound;        /* on the points of what was not seen yet */
} solver;

static double seconds_left(const solver *s) {
    if (s->allowance.now == NULL)
        return s->allowance.seconds;
    return s->allowance.ends - s->allowance.now();
}

static bool better(const solver *s, const sw_tally *tally, const int *picks) {
    return !s->have ||
           sw_request_compare(s->program, s->request, tally, picks, &s->best_tally, s->best) < 0;
}

static void consider(solver *s) {
    if (!better(s, &s->tally, s->picks))
        return;
    for (size_t g = 0; g < s->program->group_count; g++)
        s->best[g] = s->picks[g];
    s->best_tally = s->tally;
    s->have = true;
}

/* Cuts off this combination of picks in the groups of `in` (NULL: in all). */
static sw_status cut_off(solver *s, const int *picks, const bool *in) {
    int row = sw_matrix_row(s->matrix, "cut", -INFINITY, -1);
    if (row == SW_NONE)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < s->program->group_count; g++) {
        if (in != NULL && !in[g])
            continue;
        s->matrix->rows[row].upper += 1;
        if (!sw_matrix_set(s->matrix, row, s->matrix->pick_column[picks[g]], 1))
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

/* Within the request's own limits, which are rows too, with their tolerance. */
static bool asked_for(const solver *s, const sw_tally *tally) {
    return tally->cost <= s->request->limit && tally->points >= s->request->points_least;
}

/* The groups that decide whether the broken rule is broken. */
static sw_status cut_broken(solver *s, int broken) {
    if (broken < 0 || s->program->book->rules[broken].shape == SW_PLACE)
        return cut_off(s, s->picks, NULL);
    const sw_rule *rule = &s->program->book->rules[broken];
    bool *in = SW_NEW(s->arena, bool, s->program->group_count);
    if (in == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < s->program->group_count; g++)
        in[g] = sw_rule_reads(s->program->fitouts, rule, (int)g);
    for (size_t i = 0; i < rule->when_count; i++)
        if (rule->when[i].role != SW_NONE)
            in[rule->when[i].role] = true;
    for (size_t i = 0; i < rule->unless_count; i++)
        if (rule->unless[i].role != SW_NONE)
            in[rule->unless[i].role] = true;
    return cut_off(s, s->picks, in);
}

/* The pick of every group in the solver's values; false when one is missing. */
static bool read_picks(solver *s) {
    const sw_program *program = s->program;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        s->picks[g] = SW_NONE;
        for (int p = group->first; p < group->first + group->count; p++)
            if (s->matrix->pick_column[p] != SW_NONE && s->value[s->matrix->pick_column[p]] > 0.5)
                s->picks[g] = p;
        if (s->picks[g] == SW_NONE)
            return false;
    }
    return true;
}

static sw_status complain_of_solver(solver *s) {
    sw_complain(s->complaints, s->program->fitouts->scenario->file, "",
                "the solver gave up or its answer names no choice for some role",
                "keep the scenario and catalog as they are and report this as a fault",
                "the linear solver failed on this scenario");
    return SW_INTERNAL;
}

/* The next solution by `measure` (sign -1: most first) that was not seen yet
 * and obeys every rule. Sets `exhausted` or `out_of_time` when there is none.
 * Whatever it finds is weighed against the incumbent and cut off. The solver
 * sees the measure with `constant` added and in units of `unit`. */
static sw_status next(solver *s, const int64_t *measure, double constant, int sign, double unit) {
    for (;;) {
        double left = seconds_left(s);
        s->bound_of_run = NAN;
        s->out_of_time = left <= 0;
        if (s->out_of_time)
            return SW_OK;
        for (size_t c = 0; c < s->matrix->column_count; c++)
            s->objective[c] = sign * ((double)measure[c] / unit);
        sw_glpk_result result = {.value = s->value};
        sw_status status = sw_glpk_minimise(&result, s->matrix, s->objective,
                                            sign * (constant / unit), left, &s->allowance);
        if (status != SW_OK)
            return status;
        if (result.end == SW_GLPK_FAILED)
            return complain_of_solver(s);
        s->exhausted = result.end == SW_GLPK_NONE;
        s->out_of_time = result.end == SW_GLPK_TIME;
        s->bound_of_run = sign * result.bound * unit - constant;
        if (!result.found)
            return SW_OK;
        s->claimed = sign * result.objective * unit - constant;
        if (!read_picks(s))
            return complain_of_solver(s);
        int broken = SW_NONE;
        status = sw_program_check(&s->tally, &broken, s->program, s->picks);
        bool counts = status == SW_OK && broken == SW_NONE && asked_for(s, &s->tally);
        if (counts)
            consider(s);
        if (status == SW_OK)
            status = broken == SW_NONE ? cut_off(s, s->picks, NULL) : cut_broken(s, broken);
        if (counts)
            return status;
        if (status != SW_OK || s->out_of_time)
            return status;
    }
}

/* Keeps a measure at most (sign 1) or at least (sign -1) at `limit`, with half a
 * unit to spare. What the row's tolerance lets through is recognised outside. */
static sw_status hold(solver *s, int *row, const sw_linear *measure, int64_t limit, int sign) {
    double greatest = 1;
    for (size_t c = 0; c < s->matrix->column_count; c++)
        greatest = fmax(greatest, fabs((double)measure->coefficient[c]));
    double end = sign * ((double)(limit - measure->constant)) + 0.5;
    if (*row == SW_NONE) {
        *row = sw_matrix_row(s->matrix, "held", -INFINITY, 0);
        if (*row == SW_NONE)
            return SW_NO_MEMORY;
        for (size_t c = 0; c < s->matrix->column_count; c++)
            if (!sw_matrix_set(s->matrix, *row, (int)c,
                               sign * (double)measure->coefficient[c] / greatest))
                return SW_NO_MEMORY;
    }
    s->matrix->rows[*row].upper = end / greatest;
    return SW_OK;
}

/* What is asked for: which measure, which way, and where it is held. */
typedef struct question {
    const sw_linear *measure;
    int sign;
    double unit;
    int64_t (*of)(const solver *, const sw_tally *);
    const sw_linear *held; /* no better solution has less of this */
    int64_t (*held_of)(const solver *, const sw_tally *);
    int sign_of_held;
    int *row;
    int ties; /* looked at one by one before the next question is asked: asking
                 again for the best bounds better than asking for what is left */
} question;

typedef enum step { STEP_DONE, STEP_TIE } step;

/* A bound on the points of everything not seen yet, from a bound on a measure
 * in which points come first. */
static void note_bound(solver *s, const question *q, double bound) {
    if (!isfinite(bound))
        return;
    bound += (double)q->measure->constant;
    if (q->measure == &s->matrix->value)
        bound = ((double)s->matrix->limit - bound) / (double)s->matrix->value_scale;
    else if (q->measure != &s->matrix->points)
        return;
    s->bound = bound;
}

/* One measure to its end: DONE when the incumbent is proved the only best, TIE
 * when another solution is as good by this measure. */
static sw_status settle(solver *s, step *end, const question *q) {
    int ties = 0;
    *end = STEP_DONE;
    for (;;) {
        bool had = s->have;
        int64_t before = had ? q->of(s, &s->best_tally) : 0;
        if (had) {
            sw_status status =
                hold(s, q->row, q->held, q->held_of(s, &s->best_tally), q->sign_of_held);
            if (status != SW_OK)
                return status;
        }
        double constant = (had ? -(double)before : 0) + (double)q->measure->constant;
        sw_status status = next(s, q->measure->coefficient, constant, q->sign, q->unit);
        if (s->out_of_time)
            note_bound(s, q, s->bound_of_run);
        if (status != SW_OK || s->exhausted || s->out_of_time)
            return status;
        note_bound(s, q, s->claimed);
        /* `claimed` counts the coefficients alone. */
        double gain = s->claimed + (double)q->measure->constant - (double)before;
        if (had && q->sign * gain > 0.5)
            return SW_OK;
        bool tie = had && q->of(s, &s->tally) == before && q->of(s, &s->best_tally) == before;
        if (tie && ++ties > q->ties) {
            *end = STEP_TIE;
            return SW_OK;
        }
    }
}

static int64_t points_of(const solver *s, const sw_tally *tally) {
    (void)s;
    return tally->points;
}

static int64_t cost_of(const solver *s, const sw_tally *tally) {
    (void)s;
    return tally->cost;
}

static int64_t order_of(const solver *s, const sw_tally *tally) {
    (void)s;
    return tally->order;
}

static int64_t value_of(const solver *s, const sw_tally *tally) {
    return tally->cost - tally->points * s->matrix->value_scale;
}

/* Ties to the last: group by group the smallest rank. */
static sw_status settle_ranks(solver *s, bool sellers) {
    const sw_program *program = s->program;
    int64_t *measure = SW_NEW(s->arena, int64_t, s->matrix->column_count);
    if (measure == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        for (size_t c = 0; c < s->matrix->column_count; c++)
            measure[c] = 0;
        for (int p = group->first; p < group->first + group->count; p++)
            if (s->matrix->pick_column[p] != SW_NONE)
                measure[s->matrix->pick_column[p]] =
                    sellers ? program->picks[p].seller_rank : program->picks[p].bundle_rank;
        int64_t before = measure[s->matrix->pick_column[s->best[g]]];
        sw_status status = next(s, measure, -(double)before, 1, 1);
        if (status != SW_OK || s->exhausted || s->out_of_time)
            return status;
        int64_t rank = measure[s->matrix->pick_column[s->best[g]]];
        for (int p = group->first; p < group->first + group->count; p++) {
            int column = s->matrix->pick_column[p];
            if (column != SW_NONE && measure[column] != rank)
                s->matrix->columns[column].upper = 0;
        }
    }
    return SW_OK;
}

#define SW_TIES_ONE_BY_ONE 40

static question plain_question(const sw_linear *measure, int sign,
                               int64_t (*of)(const solver *, const sw_tally *), int *row) {
    return (question){.measure = measure,
                      .sign = sign,
                      .unit = 1,
                      .of = of,
                      .held = measure,
                      .held_of = of,
                      .sign_of_held = sign,
                      .row = row,
                      .ties = 0};
}

/* Most points, then least cost: in one question when the numbers allow it. A minor unit
 * is so little beside the points that the solver may take a dearer solution for the
 * next: with points as many as the best, cost is asked for by itself. */
static sw_status settle_points(solver *s, step *end) {
    sw_matrix *m = s->matrix;
    question together = {.measure = &m->value,
                         .sign = 1,
                         .unit = (double)m->value_scale,
                         .of = value_of,
                         .held = &m->points,
                         .held_of = points_of,
                         .sign_of_held = -1,
                         .row = &s->points_row,
                         .ties = SW_TIES_ONE_BY_ONE};
    question alone = plain_question(&m->points, -1, points_of, &s->points_row);
    sw_status status = settle(s, end, m->value_scale > 0 ? &together : &alone);
    if (status == SW_OK && *end == STEP_DONE && !s->exhausted && !s->out_of_time &&
        s->tally.points == s->best_tally.points)
        *end = STEP_TIE;
    if (status != SW_OK || *end == STEP_DONE)
        return status;
    return hold(s, &s->points_row, &m->points, s->best_tally.points, -1);
}

static sw_status settle_cost(solver *s, step *end) {
    question cost = plain_question(&s->matrix->cost, 1, cost_of, &s->cost_row);
    sw_status status = settle(s, end, &cost);
    if (status != SW_OK || *end == STEP_DONE)
        return status;
    return hold(s, &s->cost_row, &s->matrix->cost, s->best_tally.cost, 1);
}

static sw_status settle_all(solver *s) {
    step end = STEP_TIE;
    sw_status status = SW_OK;
    bool best = s->request->aim == SW_AIM_BEST;
    if (best)
        status = settle_points(s, &end);
    if (status != SW_OK || end == STEP_DONE)
        return status;
    status = settle_cost(s, &end);
    if (status != SW_OK || end == STEP_DONE)
        return status;
    question order = plain_question(&s->matrix->order, 1, order_of, &s->order_row);
    status = settle(s, &end, &order);
    if (status != SW_OK || end == STEP_DONE)
        return status;
    status = hold(s, &s->order_row, &s->matrix->order, s->best_tally.order, 1);
    if (status == SW_OK)
        status = settle_ranks(s, false);
    if (status == SW_OK && !s->exhausted && !s->out_of_time)
        status = settle_ranks(s, true);
    return status;
}

static bool all_in(const solver *s, const int *picks) {
    for (size_t g = 0; g < s->program->group_count; g++)
        if (s->matrix->pick_column[picks[g]] == SW_NONE)
            return false;
    return true;
}

/* Weighs a solution known to be good, unless it holds what is out of the question. */
static sw_status give_start(solver *s, const int *start, const bool *out_of_it) {
    int broken = SW_NONE;
    for (size_t g = 0; g < s->program->group_count; g++) {
        s->picks[g] = start[g];
        if (s->program->picks[start[g]].dropped || (out_of_it != NULL && out_of_it[start[g]]))
            return SW_OK;
    }
    sw_status status = sw_program_check(&s->tally, &broken, s->program, start);
    if (status == SW_OK && broken == SW_NONE && asked_for(s, &s->tally))
        consider(s);
    return status;
}

static void report(const solver *s, sw_solution *out) {
    out->found = s->have;
    out->tally = s->best_tally;
    out->end = s->out_of_time ? SW_END_EARLY : s->have ? SW_END_PROVED : SW_END_NOTHING;
    out->bound = s->best_tally.points;
    if (!s->out_of_time || s->request->aim != SW_AIM_BEST)
        return;
    /* Points are whole thousandths: the bound may be rounded down. */
    double bound = floor(s->bound + 1e-6 * (1 + fabs(s->bound)));
    bool open = !isfinite(bound) || bound > 9e15;
    if (open || bound > (double)out->bound)
        out->bound = open ? INT64_MAX : (int64_t)bound;
}

static bool any_empty(const sw_matrix *matrix) {
    for (size_t g = 0; g < matrix->program->group_count; g++) {
        const sw_group *group = &matrix->program->groups[g];
        bool any = false;
        for (int p = group->first; p < group->first + group->count; p++)
            any = any || matrix->pick_column[p] != SW_NONE;
        if (!any)
            return true;
    }
    return false;
}

/* ---- the request as rows ----------------------------------------------------------- */

/* Differs from the listed bundle in parts or tasks, or in the parts of roles. */
static sw_status add_unlike(solver *s, const int *listed) {
    const sw_program *program = s->program;
    int apart = s->request->apart;
    int row = sw_matrix_row(s->matrix, "unlike", -INFINITY,
                            (double)program->group_count - (apart > 0 ? apart : 1));
    if (row == SW_NONE)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        const sw_pick *like = &program->picks[listed[g]];
        for (int p = group->first; p < group->first + group->count; p++) {
            const sw_pick *pick = &program->picks[p];
            bool alike = apart > 0 ? pick->parts_rank == like->parts_rank
                                   : pick->bundle_rank == like->bundle_rank;
            if (alike && s->matrix->pick_column[p] != SW_NONE &&
                !sw_matrix_set(s->matrix, row, s->matrix->pick_column[p], 1))
                return SW_NO_MEMORY;
        }
    }
    return SW_OK;
}

static sw_status add_request(solver *s) {
    sw_status status = SW_OK;
    if (s->request->points_least != INT64_MIN)
        status = hold(s, &s->points_row, &s->matrix->points, s->request->points_least, -1);
    for (size_t i = 0; i < s->request->listed_count && status == SW_OK; i++)
        status = add_unlike(s, s->request->listed[i]);
    return status;
}

static sw_status allocate(solver *s) {
    size_t columns = s->matrix->column_count;
    s->objective = SW_NEW(s->matrix->arena, double, columns);
    s->value = SW_NEW(s->matrix->arena, double, columns);
    return s->objective != NULL && s->value != NULL ? SW_OK : SW_NO_MEMORY;
}

/* ---- before the first question ------------------------------------------------------- */

/* Of the time that is left, for each run of the relaxation. */
#define SW_TIGHTEN_SHARE 0.05

/* By what is asked first: points, or cost where points do not count. */
static sw_status tighten(solver *s) {
    const sw_matrix *m = s->matrix;
    bool best = s->request->aim == SW_AIM_BEST;
    const sw_linear *measure = best ? &m->points : &m->cost;
    for (size_t c = 0; c < m->column_count; c++)
        s->objective[c] = (double)(best ? -measure->coefficient[c] : measure->coefficient[c]);
    /* What is as good as the incumbent stays in: half a unit lies between. */
    double most = INFINITY;
    if (s->have && best)
        most = (double)(measure->constant - s->best_tally.points) + 0.5;
    else if (s->have)
        most = (double)(s->best_tally.cost - measure->constant) + 0.5;
    return sw_matrix_tighten(s->matrix, s->objective, most, seconds_left(s) * SW_TIGHTEN_SHARE);
}

/* The matrix with the request's rows, without the incumbent, tightened. */
static sw_status prepare(solver *s, const bool *out_of_it) {
    s->points_row = s->cost_row = s->order_row = SW_NONE;
    sw_status status = sw_matrix_make(&s->matrix, s->program, out_of_it, s->request->limit);
    if (status == SW_OK)
        status = allocate(s);
    if (status != SW_OK || any_empty(s->matrix))
        return status;
    status = add_request(s);
    if (status == SW_OK && s->have && all_in(s, s->best))
        status = cut_off(s, s->best, NULL);
    return status == SW_OK ? tighten(s) : status;
}

/* Adds the picks that the matrix closed; how many there were, and how many it closed. */
static void take_closed(const sw_matrix *m, bool *out_of_it, size_t *all, size_t *closed) {
    *all = *closed = 0;
    for (size_t p = 0; p < m->program->pick_count; p++) {
        if (out_of_it[p] || m->program->picks[p].dropped)
            continue;
        (*all)++;
        *closed += m->pairs.in[p] ? 0 : 1;
        out_of_it[p] = !m->pairs.in[p];
    }
}

/* What is closed makes everything that is made from the least and the most of a group
 * tighter: so as long as an eighth is closed the rows are made anew. */
#define SW_PREPARE_AGAIN 8
#define SW_PREPARE_MOST 6

static sw_status prepare_all(solver *s, const bool *out_of_it) {
    bool *out = SW_NEW(s->arena, bool, s->program->pick_count);
    if (out == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < s->program->pick_count && out_of_it != NULL; p++)
        out[p] = out_of_it[p];
    sw_status status = prepare(s, out);
    for (int again = 1; again < SW_PREPARE_MOST && status == SW_OK; again++) {
        size_t all, closed;
        take_closed(s->matrix, out, &all, &closed);
        if (closed * SW_PREPARE_AGAIN < all || any_empty(s->matrix))
            break;
        sw_matrix_free(s->matrix);
        s->matrix = NULL;
        status = prepare(s, out);
    }
    return status;
}

sw_status sw_solve_linear(sw_solution *out, sw_program *program, const sw_request *request,
                          const bool *out_of_it, sw_allowance allowance,
                          sw_complaints *complaints) {
    solver s = {.program = program,
                .request = request,
                .allowance = allowance,
                .complaints = complaints,
                .arena = program->arena,
                .picks = SW_NEW(program->arena, int, program->group_count),
                .best = SW_NEW(program->arena, int, program->group_count),
                .bound = INFINITY};
    sw_status status = s.picks != NULL && s.best != NULL ? SW_OK : SW_NO_MEMORY;
    if (status == SW_OK && request->start != NULL)
        status = give_start(&s, request->start, out_of_it);
    if (status == SW_OK)
        status = prepare_all(&s, out_of_it);
    if (status == SW_OK && !any_empty(s.matrix))
        status = settle_all(&s);
    if (status == SW_OK) {
        *out = (sw_solution){.picks = s.best};
        report(&s, out);
    }
    sw_matrix_free(s.matrix);
    return status;
}
