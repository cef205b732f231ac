/*
 * Weights in doubt: all bundles that no other one dominates over a set of weights.
 * catalog/FORMATS.md section 32 says what that is.
 */
#ifndef SW_PROGRAM_DOUBT_H
#define SW_PROGRAM_DOUBT_H

#include "program/program.h"

#define SW_EXTREMES_MOST 64
#define SW_EXTREME_SUM_MOST 1000000

/* The corners of the weights that may be: [extreme * criteria + criterion], whole numbers. */
typedef struct sw_extremes {
    size_t count, criteria;
    const int64_t *weight;
    bool any_equal; /* of equal vectors any bundle will do: much is sooner proved */
} sw_extremes;

typedef struct sw_undominated_bundle {
    int *picks;
    sw_tally tally;        /* points: of all weighed criteria at weight 1, never to be told */
    int64_t *by_criterion; /* v, thousandths; 0 where no extreme has weight */
    int64_t *value;        /* P, of every extreme */
} sw_undominated_bundle;

typedef struct sw_undominated_set {
    sw_undominated_bundle *bundles; /* value falls, the first extreme first */
    size_t count;
    bool complete;
    /* Of every extreme what no bundle within the limit goes beyond. Complete: what is reached.
     * INT64_MAX: not known. */
    int64_t *most;
    long long nodes, labels; /* looked at */
} sw_undominated_set;

/* `program` is scored at weight 1 for every criterion that an extreme weighs, 0 for others. The
 * results are in its arena. `limit`: on the bill. SW_BAD_DATA: the points are too large. */
sw_status sw_undominated(sw_undominated_set *out, sw_program *program, const sw_extremes *extremes,
                         int64_t limit, sw_allowance allowance);

#endif
