/* Weights in doubt. */
#ifndef ORACLE_DOUBT_H
#define ORACLE_DOUBT_H

#include "hunt.h"

enum { EXTREMES_MOST = 64 };

typedef struct Doubt {
    Hunt *h;
    int extremes, criteria;
    long long *weight; /* [extreme * criteria + criterion] */
    long long *points; /* [bundle * criteria + criterion] */
    long long *value;  /* [bundle * extremes + extreme] */
} Doubt;

/* Once all are found and scored; returns the exit code. */
int print_doubt(Hunt *h, const char *extremes);

/* The points of every bundle on each criterion by itself. */
void score_each(Doubt *d);
/* From points and weights the values. */
void value_each(Doubt *d);
/* The bundles of at most that cost that no other one dominates, in their order; the caller frees
 * the list. */
size_t *undominated(const Doubt *d, long long most, size_t *count);
void free_doubt(Doubt *d);

#endif
