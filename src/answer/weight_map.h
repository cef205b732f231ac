/*
 * The triangle of three weights, divided by which of some bundles is best: exact, in whole numbers.
 *
 * A weighting is three shares that add up to 1; a bundle is worth the sum of its three values, each
 * times its share. Where a bundle is best is a convex polygon, bounded by lines through weightings
 * at which two bundles are worth the same. Such lines have whole coefficients, and a corner is
 * where two of them cross, so that each question "on which side?" is answered without rounding.
 */
#ifndef SW_ANSWER_WEIGHT_MAP_H
#define SW_ANSWER_WEIGHT_MAP_H

#include "base/base.h"

#define SW_MAP_VALUE_LIMIT (INT64_C(1) << 40) /* of a value, either way */

typedef struct sw_map_value {
    int64_t of[3];
} sw_map_value;

#define SW_MAP_GRID 1000

typedef struct sw_map_corner {
    double share[3];  /* add up to 1 */
    int whole[3];     /* of a region's: its shares in SW_MAP_GRID, rounded down, exactly */
    bool is_whole[3]; /* and nothing was left */
} sw_map_corner;

typedef struct sw_map_region {
    size_t which;                 /* of the bundles */
    const sw_map_corner *corners; /* in turn, the first not repeated */
    size_t corner_count;
    double area; /* share of the triangle */
} sw_map_region;

/* The regions that have an area, in the order of their bundles; of equal bundles the first has it
 * all. SW_NO_MEMORY, SW_INTERNAL for a value over the limit, SW_OK. */
sw_status sw_map_make(sw_map_region **out, size_t *count, sw_arena *arena,
                      const sw_map_value *values, size_t value_count);

/* The one that is best at these whole parts (each at least 0, one above, at most the limit); of
 * equally good ones the first. */
size_t sw_map_best(const sw_map_value *values, size_t count, const int64_t parts[3]);

/* How much weight must move from one of the three to another before another bundle is better than
 * the best at these parts: the least share of the whole, and from which to which. No such change:
 * `share` is above 1. */
typedef struct sw_map_change {
    double share;
    int from, to;
    size_t then; /* the bundle that is as good there */
} sw_map_change;
sw_map_change sw_map_nearest(const sw_map_value *values, size_t count, const int64_t parts[3]);

#endif
