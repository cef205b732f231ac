/* The weightings that may be right, on the map: their rim, and how many of those drawn have which
 * bundle. FORMATS.md sections 33 and 35. */
#include "answer/map.h"

#include "answer/weightings.h"

#include <stdlib.h>

#define DRAWN 4096
#define WHOLE (INT64_C(1) << 20)

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
    *out = (sw_map_corner){{0}};
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

/* ---- weightings drawn -------------------------------------------------------------------------
 */

static int64_t next_prime(int64_t after) {
    for (int64_t n = after + 1;; n++) {
        bool prime = true;
        for (int64_t by = 2; by * by <= n && prime; by++)
            prime = n % by != 0;
        if (prime)
            return n;
    }
}

/* floor(length x h), h the digits of k to the base turned round behind the point. */
static int64_t share_of(int64_t length, int64_t k, int64_t base) {
    int64_t turned = 0, whole = 1;
    for (; k > 0; k /= base) {
        turned = turned * base + k % base;
        whole *= base;
    }
    return length / whole * turned + length % whole * turned / whole;
}

static void draw_swings(int64_t *out, const sw_weight_doubt *doubt, const sw_weightings *of,
                        int64_t k) {
    int64_t prime = 1;
    for (size_t c = 0; c < of->criterion_count; c++) {
        int64_t low = doubt->low[of->criteria[c]], high = doubt->high[of->criteria[c]];
        out[c] = low;
        if (low < high) {
            prime = next_prime(prime);
            out[c] += share_of(high - low, k, prime);
        }
    }
}

static int by_size(const void *left, const void *right) {
    const int64_t *a = left, *b = right;
    return *a < *b ? -1 : *a > *b;
}

static size_t index_of(const sw_weightings *of, int criterion) {
    size_t at = 0;
    while (at + 1 < of->criterion_count && of->criteria[at] != criterion)
        at++;
    return at;
}

/* `cuts`: room for one more than there are criteria. */
static void draw_parts(int64_t *out, int64_t *cuts, const sw_weight_doubt *doubt,
                       const sw_weightings *of, int64_t k) {
    size_t count = of->criterion_count;
    int64_t prime = 1;
    for (size_t c = 0; c + 1 < count; c++) {
        prime = next_prime(prime);
        cuts[c] = share_of(WHOLE, k, prime);
    }
    qsort(cuts, count - 1, sizeof *cuts, by_size);
    cuts[count - 1] = WHOLE;
    for (size_t c = count - 1; c > 0; c--)
        cuts[c] -= cuts[c - 1];
    if (doubt->how == SW_DOUBT_ANY) {
        for (size_t c = 0; c < count; c++)
            out[c] = cuts[c];
        return;
    }
    qsort(cuts, count, sizeof *cuts, by_size);
    for (size_t r = 0; r < count && r < doubt->ranked_count; r++)
        out[index_of(of, doubt->ranked[r])] = cuts[count - 1 - r];
}

sw_status sw_map_share_likely(sw_map *map, const sw_scenario *scenario,
                              const sw_map_value *values) {
    sw_arena *arena = map->answer->arena;
    sw_weightings weightings;
    sw_status status = sw_weightings_of(&weightings, arena, scenario);
    if (status != SW_OK)
        return status;
    int64_t *drawn = SW_NEW(arena, int64_t, weightings.criterion_count);
    int64_t *cuts = SW_NEW(arena, int64_t, weightings.criterion_count + 1);
    size_t *won = SW_NEW(arena, size_t, map->place_count), all = 0;
    sw_map_corner unused;
    int64_t parts[3];
    if (drawn == NULL || cuts == NULL || won == NULL)
        return SW_NO_MEMORY;
    for (int64_t k = 1; k <= DRAWN; k++) {
        if (scenario->doubt.how == SW_DOUBT_SWINGS)
            draw_swings(drawn, &scenario->doubt, &weightings, k);
        else
            draw_parts(drawn, cuts, &scenario->doubt, &weightings, k);
        if (!place_of(&unused, parts, map, &weightings, drawn))
            continue;
        won[sw_map_best(values, map->place_count, parts)]++;
        all++;
    }
    for (size_t p = 0; p < map->place_count && all > 0; p++)
        map->places[p].of_likely = (double)won[p] / (double)all;
    return SW_OK;
}
