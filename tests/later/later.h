/* What the driver's parts share. Files and other programs: tests/why/run.c. */
#ifndef LATER_LATER_H
#define LATER_LATER_H

#include "../why/driver.h"

typedef struct Met { /* how much of what the questions met */
    long nothing_fits, groups, purchases, together, horizon_less; /* first */
    long phases, changes, idle, later, beats_greedy, none_in_phases, slow_is_less;
    long drawn_again, too_large;
} Met;

/* job.c: makes a drawn job ready for both questions: money, musts, limits, quotes and
 * phases; `thin` times about half of what is sold is left out. */
void make_job(const Setup *s, long seed, int thin);

/* compare.c: the checker's answer and the program's. */
bool same_first(Talk *t, const cJSON *oracle, int oracle_code, const cJSON *program, int code);
/* The checker's answer holds its judgement of the program's. */
bool same_phases(Talk *t, const cJSON *oracle, int oracle_code, const cJSON *program, int code);

/* ask.c */
typedef enum { FIRST, PHASES } Command;
/* Asks the checker; false with *code 3 where there is too much to try. `said`: an answer
 * to judge, or NULL. */
bool ask_checker(const Setup *s, Command command, const char *scenario, const cJSON *said,
                 cJSON **out, int *code, Talk *t);
bool ask_program(const Setup *s, Command command, const char *scenario, cJSON **out, int *code,
                 Talk *t);
/* Both are asked and compared; *program may be NULL after a failure. */
bool same_answers(const Setup *s, Command command, const char *scenario, cJSON **oracle,
                  cJSON **program, Talk *t);

/* cases.c, faults.c: return the exit code */
int check_later_cases(const Setup *s, const char *file);
int check_later_faults(const Setup *s, const char *file);
/* Writes the case of that name; gives its scenario's path and what it asks. */
bool write_case(const Setup *s, const char *file, const char *name, char *scenario, size_t size,
                Command *command);

#endif
