/* Two answers to one question: the first difference between them, in words. */
#ifndef RANDOM_DRIVER_COMPARE_H
#define RANDOM_DRIVER_COMPARE_H

#include <stdbool.h>
#include <stddef.h>

#include <cjson/cJSON.h>

typedef struct Talk { /* where the difference is told */
    char *why;
    size_t size;
} Talk;

typedef struct Wanted { /* what else than the best bundle is compared */
    bool ranked, groups;
} Wanted;

/* driver_compare.c. Compares the checker's answer with the program's plan, both
 * JSON texts. On a difference writes it to `why` and returns false. */
bool same_answer(const char *oracle, const char *plan, Wanted wanted, char *why, size_t size);
/* Likewise the checker's curve and the program's, whose exit code is given. */
bool same_curve(const char *oracle, const char *plan, int code, char *why, size_t size);

const cJSON *get(const cJSON *object, const char *name);
const char *text_of(const cJSON *object, const char *name);
bool same_text(Talk *t, const char *what, const char *oracle, const char *plan);
bool same_count(Talk *t, const char *what, const cJSON *oracle, const cJSON *plan);
/* Points, cost, swaps and tasks; `what` names the bundle. */
bool same_content(Talk *t, const char *what, const cJSON *oracle, const cJSON *plan);

/* driver_worth.c: groups, the money before and after, the verdict. */
bool same_worth(Talk *t, const cJSON *oracle, const cJSON *plan);

/* driver_rows.c: an answer (the program's or the checker's) and a published one.
 * A cost or items of "-" are not printed by the source. Items are a list with
 * commas, in byte order, or "none". */
bool same_row(const char *answer, const char *points, const char *cost, const char *items,
              char *why, size_t size);
/* The first bundles: points and costs with commas; the numbers of the items with
 * plus signs between, sets with commas. */
bool same_ranking(const char *answer, const char *points, const char *costs, const char *items,
                  char *why, size_t size);
/* A curve, as cost:points with commas. */
bool same_steps(const char *answer, const char *steps, char *why, size_t size);

#endif
