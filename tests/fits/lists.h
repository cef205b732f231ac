/* Lists of parts to ask about, drawn from a job by dice of their own. */
#ifndef FITS_LISTS_H
#define FITS_LISTS_H

#include <stdbool.h>
#include <stdint.h>

#include <cjson/cJSON.h>

enum { MOST_NAMED = 6, MOST_POOL = 600 };

typedef struct Pool { /* every id that may be named; the texts are the job's */
    const char *id[MOST_POOL], *role[MOST_POOL];
    int n;
    const cJSON *roles; /* the catalog's file */
} Pool;

typedef struct Dice {
    uint64_t state;
} Dice;

int roll(Dice *d, int n);
Pool pool_of(const cJSON *roles, const cJSON *parts, const cJSON *scenario);
/* Fills `out` with at most MOST_NAMED ids; returns how many. */
int draw_list(Dice *d, const Pool *p, const char **out);

#endif
