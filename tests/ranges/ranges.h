/* What the driver's parts share: how it was asked, one drawn job, other programs. */
#ifndef RANGES_RANGES_H
#define RANGES_RANGES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "../fits/child.h"
#include "../random/driver_compare.h"

enum { MOST_WORDS = 400, WORD = 2048 };

typedef enum { ALL, RANGES_ALONE, WHATIF_ALONE } Only;

typedef struct Setup {
    const char *generate, *brute, *program, *work;
    long first, count;
    Only only;
} Setup;

typedef struct Tally { /* how much of what was met */
    long jobs, nothing_fits, inside, outside, either, endless, priced, named, unsettled;
    long whatifs, cases, refused_alike, best, beaten, dear, refused, gone, open, open_as_gone;
} Tally;

typedef struct Words { /* a command line in the making */
    char *at[MOST_WORDS + 1];
    int n;
} Words;

typedef struct Job { /* one drawn job */
    const Setup *s;
    Tally *tally;
    Talk *t;
    uint64_t dice;
    char folder[2048], scenario[2048], changed[2048];
    cJSON *json, *catalog, *sellers;
    char *listings;
    bool unsettled; /* the program says that it did not settle all */
} Job;

/* run.c */
void add_word(Words *w, const char *format, ...) __attribute__((format(printf, 2, 3)));
void drop_words(Words *w);
/* Runs it; its JSON (NULL where it printed none) and exit code. */
cJSON *ask(const Setup *s, Words *w, int *code);
bool fail(Talk *t, const char *format, ...) __attribute__((format(printf, 2, 3)));
void path_of(const Setup *s, const char *name, char *out, size_t size);
void write_tree(const char *path, const cJSON *json);
cJSON *must_have(cJSON *pointer);
/* "12.34" as minor units, and back; by the currency of the job. */
long long minor_of(const Job *j, const char *money);
void money_of(const Job *j, long long minor, char *out, size_t size);

/* job.c: draws the job of a seed, with quotes in some, and rolls its dice */
bool open_job(Job *j, long seed);
void close_job(Job *j);
int below(Job *j, int n);
const char *any_part(Job *j);
const char *any_seller(Job *j);
const char *any_role(Job *j);
bool is_listed(const Job *j, const char *part, const char *seller);

/* span.c: where the best bundle stays best, section 21 */
bool check_ranges(Job *j);
/* The program's answer to it against the checker. */
bool judge_ranges(Job *j, const cJSON *program, int code, char *const named[], int n);
cJSON *ask_ranges(Job *j, char *const named[], int n, int *code);

/* patch.c: section 18's changes of a scenario, by this page's words alone. False
 * where the path leads nowhere. */
bool patch(cJSON *job, const char *path, const char *value);

/* sets.c: random changes */
enum { MOST_SETS = 6, MOST_VALUES = 8 };
typedef struct Set {
    char path[WORD], value[WORD]; /* as given to --set */
    char each[MOST_VALUES][WORD]; /* what a sweep comes to */
    int values;                   /* 0: no sweep */
} Set;
typedef struct Sets {
    Set at[MOST_SETS];
    int n;
} Sets;
void draw_sets(Job *j, Sets *out);

/* whatif.c */
bool check_whatif(Job *j);
cJSON *ask_whatif(Job *j, const Sets *sets, int *code);
bool judge_whatif(Job *j, const Sets *sets, const cJSON *program, int code);

/* refused.c, faults.c: return the exit code */
int check_refused(const Setup *s, const char *file, const char *scenario);
int check_faults(const Setup *s);

#endif
