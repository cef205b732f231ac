/* What the driver's parts share: how it was asked, one drawn job, both answers. */
#ifndef OPTIONS_OPTIONS_H
#define OPTIONS_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>

#include "../fits/child.h"
#include "../random/driver_compare.h"

typedef struct Setup {
    const char *generate, *brute, *program, *work;
    long first, count;
} Setup;

typedef struct Tally { /* how much of what was met */
    long jobs, nothing_fits, alone, ends, best_rate, kept, dearer, bend, nested, off_curve;
    long shows, hidden, affordable, dear, never, by_rate, given_up, next, luck, asks, hazards;
    long nests_elsewhere;
} Tally;

/* run.c */
/* Draws the job of a seed into the work folder; gives its scenario's path. */
bool draw_job(const Setup *s, long seed, char *scenario, size_t size, Talk *t);
/* The checker's answer, or the program's; NULL, with the reason told, where none came. */
cJSON *ask_checker(const Setup *s, const char *scenario, int *code, Talk *t);
cJSON *ask_program(const Setup *s, const char *scenario, int *code, Talk *t);
cJSON *must_have(cJSON *pointer);

/* compare.c, compare_option.c: the program's answer against the checker's */
bool same_options(Talk *t, const cJSON *oracle, int oracle_code, const cJSON *program, int code);
bool same_option(Talk *t, const cJSON *oracle, const cJSON *program);
bool is_null(const cJSON *json);
bool fail(Talk *t, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Texts that both have; or null in both. */
bool same_member(Talk *t, const char *what, const cJSON *oracle, const cJSON *program,
                 const char *name);
/* A number told in so many digits: within half of the last. */
bool near_told(Talk *t, const char *what, double value, const cJSON *told);

/* right.c: the checker's answer in the program's words */
cJSON *right_answer(const cJSON *oracle);

/* faults.c: returns the exit code */
int check_faults(const Setup *s);

#endif
