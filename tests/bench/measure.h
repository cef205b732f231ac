/*
 * What the timing and the exactness driver share: each measurement runs in a child process of
 * its own, which tells its result in lines of whole numbers; the parent has the child's
 * processor time and peak memory from the kernel (getrusage).
 */
#ifndef BENCH_MEASURE_H
#define BENCH_MEASURE_H

#include "run.h"

#include <stdio.h>

/* A bundle's points (thousandths) and cost (minor units). */
typedef struct bench_point {
    int64_t cost, points;
} bench_point;

typedef struct bench_curve {
    bool proved;
    double setup_s, all_s; /* of the processor; all: setup and solving */
    double peak_mb;
    bench_point *steps;
    size_t count;
} bench_curve;

/* One answer at a budget, by whichever solver. */
typedef struct bench_answer {
    bool proved;
    bench_point point;
    double seconds; /* of the processor */
    double told;    /* the points as CBC tells them */
} bench_answer;

typedef struct bench_answers {
    bench_answer *at; /* [count]; those not asked are not proved and took less than 0 s */
    size_t count;
    double setup_s, peak_mb;
} bench_answers;

/* What a child is to do: lines to `out`; 0 when it went well. */
typedef int (*bench_work)(FILE *out, const void *asked);
/* Runs it, gives its lines (malloc'd) and peak memory. False when the child failed. */
bool bench_child(char **lines, double *peak_mb, bench_work work, const void *asked);

/* For the works: a complaint on standard error, and 1. */
int bench_failed(const char *scenario, sw_complaints *complaints, sw_status status);
/* Scored and presolved, as the curve is asked; and what that took of the processor. */
sw_status bench_make(sw_run *job, const char *file, sw_scenario **scenario,
                     sw_complaints *complaints, double *seconds);
sw_allowance bench_allow(double seconds, double (*now)(void));
/* A line for one answer; all lines read back, the setup's seconds before them. */
void bench_tell(FILE *out, size_t which, const sw_solution *found, double seconds);
bool bench_read_answers(bench_answers *out, char *lines, size_t count);

double bench_processor(void); /* seconds of this process */
double bench_wall(void);      /* seconds on a steady clock */

/* The whole curve, at most so long (of the processor). */
bool bench_ask_curve(bench_curve *out, const char *scenario, double seconds);
/* Where the curve stands at a budget; NULL: before its first step. */
const bench_point *bench_curve_at(const bench_curve *curve, int64_t budget);
/* What the scenario itself may spend; -1: it cannot be read. */
int64_t bench_budget_of(const char *scenario);
/* One budget through the search, as `plan` asks for its first bundle. */
bool bench_ask_best(bench_answers *out, const char *scenario, int64_t budget, double seconds);

typedef struct bench_sweep {
    const char *scenario;
    const int64_t *budgets; /* rising */
    size_t count;
    double seconds;     /* of wall clock for all of them; else only some are asked */
    double seconds_one; /* for one budget at the most */
    bool all;           /* none is left out, whatever it takes */
} bench_sweep;

/* Every budget through the linear solver alone, rising; each starts from the bundle of the
 * one before as its incumbent. Where all would take too long, some spread over all: then
 * the incumbent comes from the search, and its time is not counted. */
bool bench_ask_linear(bench_answers *out, const bench_sweep *sweep);

/* CBC on the exported MPS at one budget. False where it cannot be run. */
bool bench_ask_cbc(bench_answer *out, double *peak_mb, const char *scenario, int64_t budget,
                   double seconds);
/* CBC's optimum is a floating number; points are whole thousandths. */
bool bench_cbc_agrees(const bench_answer *answer, int64_t points);

#endif
