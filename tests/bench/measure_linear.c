/* A sweep of the linear solver over many budgets. See measure.h. */
#include "measure.h"

#include "program/stage.h"

#include <stdlib.h>

typedef struct linear {
    const bench_sweep *sweep;
    sw_run job;
    bool *out_of_it;
    FILE *out;
} linear;

/* As sw_solve leaves picks out: those with others ahead, but for the incumbent's own. */
static void mark_out(bool *out_of_it, const sw_program *program, const int *start) {
    for (size_t p = 0; p < program->pick_count; p++)
        out_of_it[p] = program->picks[p].ahead > 0;
    for (size_t g = 0; g < program->group_count; g++)
        out_of_it[start[g]] = false;
}

static sw_status ask_one(sw_solution *found, linear *l, size_t which, const int *start) {
    sw_program *program = l->job.setup.program;
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    request.limit = l->sweep->budgets[which];
    request.start = start;
    mark_out(l->out_of_it, program, start);
    double begun = bench_processor();
    sw_status status =
        sw_solve_linear(found, program, &request, l->out_of_it,
                        bench_allow(l->sweep->seconds_one, bench_wall), l->job.complaints);
    if (status == SW_OK)
        bench_tell(l->out, which, found, bench_processor() - begun);
    return status;
}

static sw_status ask_all(linear *l) {
    const int *start = l->job.baseline.picks;
    sw_status status = SW_OK;
    for (size_t i = 0; i < l->sweep->count && status == SW_OK; i++) {
        sw_solution found;
        status = ask_one(&found, l, i, start);
        if (status == SW_OK && found.found)
            start = found.picks;
    }
    return status;
}

/* The incumbent that a full sweep would have at this budget: the bundle of the one before. */
static sw_status find_incumbent(const int **start, linear *l, size_t which) {
    *start = l->job.baseline.picks;
    if (which == 0)
        return SW_OK;
    sw_solution found;
    sw_request request = sw_request_for(l->job.setup.program, SW_AIM_BEST);
    request.limit = l->sweep->budgets[which - 1];
    request.start = l->job.baseline.picks;
    sw_status status = sw_solve(&found, l->job.setup.program, &request,
                                bench_allow(l->sweep->seconds, bench_wall), l->job.complaints);
    if (status == SW_OK && found.found)
        *start = found.picks;
    return status;
}

/* The bits of i turned round: the first few are spread over all. */
static size_t spread_over(size_t i, size_t count) {
    size_t turned = 0;
    for (size_t size = 1; size < count; size *= 2, i /= 2)
        turned = turned * 2 + i % 2;
    return turned;
}

#define PILOTS 3 /* budgets by which the time of all is judged */

/* Some of the budgets until the time is gone; `*quick`: all would have been done in it. */
static sw_status ask_some(linear *l, bool *quick) {
    size_t count = l->sweep->count, asked = 0, size = 1;
    double spent = 0;
    sw_status status = SW_OK;
    while (size < count)
        size *= 2;
    *quick = false;
    for (size_t i = 1; i < size && status == SW_OK && !*quick; i++) {
        size_t which = spread_over(i, count);
        if (which >= count)
            continue;
        if (asked >= PILOTS && spent > l->sweep->seconds)
            break;
        const int *start;
        sw_solution found;
        status = find_incumbent(&start, l, which);
        double begun = bench_wall();
        if (status == SW_OK)
            status = ask_one(&found, l, which, start);
        spent += bench_wall() - begun;
        *quick = ++asked == PILOTS && spent / PILOTS * (double)count < l->sweep->seconds;
    }
    return status;
}

static int work_linear(FILE *out, const void *asked) {
    linear l = {.sweep = asked, .out = out};
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    double setup_s;
    bool quick = l.sweep->all;
    sw_status status = bench_make(&l.job, l.sweep->scenario, &scenario, complaints, &setup_s);
    if (status == SW_OK) {
        fprintf(out, "%.6f\n", setup_s);
        l.out_of_it = calloc(l.job.setup.program->pick_count + 1, sizeof *l.out_of_it);
        status = l.out_of_it == NULL ? SW_NO_MEMORY : SW_OK;
    }
    if (status == SW_OK && !quick)
        status = ask_some(&l, &quick);
    if (status == SW_OK && quick)
        status = ask_all(&l);
    return status == SW_OK ? 0 : bench_failed(l.sweep->scenario, complaints, status);
}

bool bench_ask_linear(bench_answers *out, const bench_sweep *sweep) {
    char *lines = NULL;
    *out = (bench_answers){0};
    if (bench_child(&lines, &out->peak_mb, work_linear, sweep))
        return bench_read_answers(out, lines, sweep->count);
    free(lines);
    return false;
}
