/*
 * Every bundle that is best somewhere on the map, proved from corner to corner.
 *
 * What the best bundle is worth is a convex function of the weights, and so is the worth of the
 * best of those that were found. Where both are the same at all corners of its regions, they are
 * the same everywhere (weight space decomposition: Przybylski, Gandibleux & Ehrgott, INFORMS
 * Journal on Computing 22 (2010) 371-386). A corner is proved inside a small triangle of weightings
 * that are whole numbers: all non-dominated bundles over that triangle are found.
 */
#ifndef SW_ANSWER_MAP_SEARCH_H
#define SW_ANSWER_MAP_SEARCH_H

#include "answer/map.h"
#include "answer/unsure.h"

typedef struct sw_map_ways {
    size_t axis_count, criteria;
    const size_t *axes;   /* [axis] criterion */
    const int64_t *fixed; /* [criterion] what others weigh and go on weighing */
    int64_t own;          /* what the axes share */
    int64_t at[SW_MAP_AXES];
} sw_map_ways;

typedef struct sw_map_found {
    sw_undominated_bundle *bundles; /* as in a sw_undominated_set; `value`: in the corners */
    bool *is_first;                 /* [bundle] no bundle of equal values comes before it */
    size_t count;
    bool complete;
    int64_t most_here; /* no bundle is worth more at the client's answer, `own` and all that is
                          fixed together; INT64_MAX: not known */
    const struct sw_map_cell *cells; /* what was proved */
    size_t cell_count, axis_count;
} sw_map_found;

/* `unsure` was started, with a baseline; the result is in its arenas. */
sw_status sw_map_search(sw_map_found *out, sw_unsure *unsure, const sw_map_ways *ways,
                        sw_allowance allowance);
/* Nothing that was not found is better anywhere in the region. */
bool sw_map_proves(const sw_map_found *found, const sw_map_region *region);

#endif
