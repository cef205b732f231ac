/* What the driver's parts share: how it was asked, the questions, other programs. */
#ifndef WHY_DRIVER_H
#define WHY_DRIVER_H

#include <stdbool.h>
#include <stddef.h>

#include "../random/driver_compare.h"

typedef struct Setup {
    const char *generate, *brute, *program, *work;
    bool stand_in; /* the checker answers in the program's place */
    long first, count;
} Setup;

typedef struct Question {
    const char *scenario, *part, *over; /* over NULL: not asked */
} Question;

typedef struct Tally { /* how much of what the questions met */
    long questions, nothing_fits, in, beaten, dear, never, left_out, refusals;
    long waivers, gaps; /* jobs with a waiver in play; of those with two intervals or more */
    long prices;        /* planned anew, by the program and by the checker */
    long moved;         /* not planned: with that price the baseline is another */
} Tally;

/* run.c */
void give_up(const char *what);
char *read_text(const char *path);
void write_text(const char *path, const char *text);
cJSON *read_json(const char *path);
void write_json(const char *path, const cJSON *json);
void path_of(const Setup *s, const char *name, char *out, size_t size);
/* Runs a program, the words after its own ending with NULL; gives its JSON and exit
 * code. False when it printed none, with the reason told. */
bool ask(const Setup *s, const char *const words[], cJSON **out, int *code, Talk *t);
bool draw(const Setup *s, long seed, const char *folder, Talk *t);
/* The checker's answer, or the program's. */
bool ask_why(const Setup *s, bool program, const Question *q, cJSON **out, int *code, Talk *t);

/* compare.c: both answers with their exit codes */
bool same_why(Talk *t, const cJSON *oracle, int oracle_code, const cJSON *program, int code);
/* "12.34" as minor units; a missing end of an interval is the highest price. */
long long minor_units(const cJSON *money, const char *currency);
void money_text(long long minor, const char *currency, char *out, size_t size);

/* left_out.c: what keeps the part from being bought, from the files alone */
bool same_left_out(Talk *t, const char *folder, const char *part, const cJSON *program);

/* refusal.c: what keeps the part out of every bundle, where something does */
bool same_refusal(const Setup *s, Talk *t, const char *folder, const Question *q,
                  const cJSON *oracle, const cJSON *program, Tally *tally);

/* ends.c */
/* At the ends of each interval of the entry prices and one minor unit beyond, the job
 * with just that price is planned: the part must be in the best bundle, or out. The
 * folder "priced" holds a copy of the job whose listings may be written over. */
bool check_ends(const Setup *s, Talk *t, const char *part, const cJSON *entry, Tally *tally);

/* cases.c, faults.c: return the exit code */
int check_cases(const Setup *s, const char *file);
int check_faults(const Setup *s, const char *file);
/* Writes the case of that name and asks the checker its first question. */
bool answer_case(const Setup *s, const char *file, const char *name, cJSON **out, int *code,
                 Talk *t);

#endif
