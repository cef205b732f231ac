/*
 * Which bundle is best, whichever way the client weighs up to three criteria: catalog/FORMATS.md
 * section 35. Owned by its answer's arena.
 */
#ifndef SW_ANSWER_MAP_H
#define SW_ANSWER_MAP_H

#include "answer/answer.h"
#include "answer/weight_map.h"

#define SW_MAP_AXES 3

/* One of the criteria that are weighed against each other. */
typedef struct sw_map_axis {
    size_t criterion; /* of the answer's */
    double at;        /* the client's share of the weight of these criteria, 0 to 1 */
    size_t best;      /* the region in this corner */
} sw_map_axis;

/* Where one bundle is best. Its points: by criterion, as if each had all weight; their sum at the
 * client's answer on the map. */
typedef struct sw_map_place {
    sw_answer_bundle bundle;
    double area;      /* share of the triangle or line */
    bool is_proved;   /* nothing is better anywhere in it */
    double of_likely; /* share of the weightings drawn of those that may be right */
    const sw_map_corner *corners;
    size_t corner_count; /* of a line 2: its ends */
} sw_map_place;

struct sw_map {
    sw_answer *answer; /* SW_STOPPED_EARLY: some bundles may be missing */
    sw_map_axis axes[SW_MAP_AXES];
    size_t axis_count;
    int64_t others_milli; /* what other criteria weigh and go on weighing, of all */
    sw_map_place *places; /* the largest first */
    size_t place_count;
    size_t here; /* the place at the client's answer */
    bool has_change;
    sw_map_change change;        /* `then`: a place */
    const sw_map_corner *likely; /* corners of the weightings that may be right, in turn */
    size_t likely_count;
    int64_t short_of; /* at the client's answer no bundle has so much more; INT64_MAX: unknown */
};

sw_status sw_find_map(sw_map **out, const sw_scenario *scenario, bool allow_unknown,
                      sw_allowance allowance, sw_complaints *complaints);

/* ---- the parts of it --------------------------------------------------------------------------
 */

/* The rim of the weightings that may be right, as the map's weights alone. */
sw_status sw_map_find_likely(sw_map *map, const sw_scenario *scenario);
/* The shares of the weightings drawn for which each value is best. */
sw_status sw_map_share_likely(sw_map *map, const sw_scenario *scenario, const sw_map_value *values);

#endif
