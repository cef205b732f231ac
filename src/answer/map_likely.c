/* The weightings that may be right, on the map: their rim, and how many of those drawn have which
 * bundle. FORMATS.md sections 33 and 35. */
#include "answer/map.h"

#include "answer/drawn.h"

#include <stdlib.h>

/* ---- the rim -----------------------------------------------------------------------------------
 */

static double turn(const sw_map_corner *a, const sw_map_corner *b, const sw_map_corner *c) {
    return (b->share[0] - a->share[0]) * (c->share[1] - a->share[1]) -
           (b->share[1] - a->share[1]) * (c->share[0] - a->share[0]);
}

static int by_place(const void *left, const void *right) {
    const double *a = ((const sw_map_corner *)left)->share;
    const double *b = ((const sw_map_corner *)right)->share;
    for (int i = 0; i < 2; i++)
        if (a[i] != b[i])
            return a[i] < b[i] ? -1 : 1;
    return 0;
}

/* Andrew, Information Processing Letters 9 (1979) 216-219: the lower side, then the upper one. */
static size_t hull(sw_map_corner *out, const sw_map_corner *sorted, size_t count) {
    size_t used = 0;
    for (int side = 0; side < 2; side++) {
        size_t least = used + 1;
        for (size_t i = 0; i < count; i++) {
            const sw_map_corner *next = &sorted[side == 0 ? i : count - 1 - i];
            while (used > least && turn(&out[used - 2], &out[used - 1], next) <= 1e-12)
                used--;
            out[used++] = *next;
        }
        used--; /* it begins the other side */
    }
    return used > 0 ? used : 1;
}

/* Projected from the weights of all criteria; false where it weighs none of the map's. */
static bool place_of(sw_map_corner *out, int64_t parts[3], const sw_map *map,
                     const sw_weightings *weightings, const int64_t *weighs) {
    double sum = 0;
    *out = (sw_map_corner){.share = {0}};
    for (size_t a = 0; a < 3; a++)
        parts[a] = 0;
    for (size_t c = 0; c < weightings->criterion_count; c++)
        for (size_t a = 0; a < map->axis_count; a++)
            if (map->axes[a].criterion == (size_t)weightings->criteria[c]) {
                parts[a] = weighs[c];
                sum += (double)weighs[c];
            }
    for (size_t a = 0; a < 3 && sum > 0; a++)
        out->share[a] = (double)parts[a] / sum;
    return sum > 0;
}

sw_status sw_map_find_likely(sw_map *map, const sw_scenario *scenario) {
    sw_arena *arena = map->answer->arena;
    sw_weightings weightings;
    sw_status status = sw_weightings_of(&weightings, arena, scenario);
    if (status != SW_OK)
        return status;
    sw_map_corner *corners = SW_NEW(arena, sw_map_corner, weightings.extreme_count);
    sw_map_corner *rim = SW_NEW(arena, sw_map_corner, 2 * weightings.extreme_count + 2);
    size_t count = 0, different = 0;
    int64_t parts[3];
    if (corners == NULL || rim == NULL)
        return SW_NO_MEMORY;
    for (size_t e = 0; e < weightings.extreme_count; e++)
        count += place_of(&corners[count], parts, map, &weightings, weightings.extremes[e]);
    qsort(corners, count, sizeof *corners, by_place);
    for (size_t i = 0; i < count; i++)
        if (i == 0 || by_place(&corners[i], &corners[different - 1]) != 0)
            corners[different++] = corners[i];
    map->likely = rim;
    map->likely_count = different < 2 ? different : hull(rim, corners, different);
    if (different == 1)
        rim[0] = corners[0];
    return SW_OK;
}

sw_status sw_map_share_likely(sw_map *map, const sw_scenario *scenario,
                              const sw_map_value *values) {
    sw_arena *arena = map->answer->arena;
    sw_weightings weightings;
    sw_status status = sw_weightings_of(&weightings, arena, scenario);
    if (status != SW_OK)
        return status;
    const int64_t *drawn = sw_draw_weightings(arena, scenario, &weightings);
    size_t *won = SW_NEW(arena, size_t, map->place_count), all = 0;
    sw_map_corner unused;
    int64_t parts[3];
    if (drawn == NULL || won == NULL)
        return SW_NO_MEMORY;
    for (size_t k = 0; k < SW_DRAWN_COUNT; k++) {
        if (!place_of(&unused, parts, map, &weightings, drawn + k * weightings.criterion_count))
            continue;
        won[sw_map_best(values, map->place_count, parts)]++;
        all++;
    }
    for (size_t p = 0; p < map->place_count && all > 0; p++)
        map->places[p].of_likely = (double)won[p] / (double)all;
    return SW_OK;
}
