/* Polygons cut by lines, in homogeneous whole coordinates: a weighting is any row of three numbers
 * in its ratio, a corner the cross product of two lines. */
#include "answer/weight_map.h"

#include <stdlib.h>

/* A line's coefficients are at most 2^41, a corner's 2^83, and a corner seen from a line is below
 * 2^126. */
__extension__ typedef __int128 sw_wide;

typedef struct line {
    int64_t of[3]; /* inside where the sum of these times the weights is at least 0 */
} line;

typedef struct corner {
    sw_wide at[3];
} corner;

/* Corner k lies between side k - 1 and side k. */
typedef struct polygon {
    corner *corners;
    line *sides;
    size_t count;
} polygon;

static sw_wide side_of(const line *of, const corner *at) {
    return of->of[0] * at->at[0] + of->of[1] * at->at[1] + of->of[2] * at->at[2];
}

/* Both lines cross inside the triangle or on its rim: all three come out of one sign. */
static corner crossing(const line *a, const line *b) {
    corner out;
    for (int i = 0; i < 3; i++) {
        int j = (i + 1) % 3, k = (i + 2) % 3;
        out.at[i] = (sw_wide)a->of[j] * b->of[k] - (sw_wide)a->of[k] * b->of[j];
    }
    sw_wide sum = out.at[0] + out.at[1] + out.at[2];
    for (int i = 0; i < 3 && sum < 0; i++)
        out.at[i] = -out.at[i];
    return out;
}

/* What is left of `from` inside the line; `to` has room for one corner more. */
static void cut(polygon *to, const polygon *from, const line *by) {
    to->count = 0;
    for (size_t k = 0; k < from->count; k++) {
        size_t next = (k + 1) % from->count;
        sw_wide here = side_of(by, &from->corners[k]), there = side_of(by, &from->corners[next]);
        if (here >= 0) {
            to->corners[to->count] = from->corners[k];
            to->sides[to->count++] = from->sides[k];
        }
        if ((here > 0 && there < 0) || (here < 0 && there > 0)) {
            to->corners[to->count] = crossing(&from->sides[k], by);
            /* Leaving, the new side begins here; coming back, the old one goes on. */
            to->sides[to->count++] = here > 0 ? *by : from->sides[k];
        } else if (here == 0 && there < 0 && to->count > 0) {
            to->sides[to->count - 1] = *by;
        }
    }
}

/* Fewer than three corners enclose nothing. */
static bool is_empty(const polygon *of) { return of->count < 3; }

static double as_double(sw_wide number) { return (double)number; }

static double area_of(const sw_map_corner *corners, size_t count) {
    double twice = 0;
    for (size_t k = 1; k + 1 < count; k++) {
        const double *a = corners[0].share, *b = corners[k].share, *c = corners[k + 1].share;
        twice += (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
    }
    return twice < 0 ? -twice : twice; /* of the whole triangle twice the area is 1 */
}

static bool same_value(const sw_map_value *a, const sw_map_value *b) {
    return a->of[0] == b->of[0] && a->of[1] == b->of[1] && a->of[2] == b->of[2];
}

static line between(const sw_map_value *inside, const sw_map_value *outside) {
    line out;
    for (int i = 0; i < 3; i++)
        out.of[i] = inside->of[i] - outside->of[i];
    return out;
}

static void whole_triangle(polygon *out) {
    static const line sides[3] = {{{0, 0, 1}}, {{1, 0, 0}}, {{0, 1, 0}}};
    static const corner corners[3] = {{{1, 0, 0}}, {{0, 1, 0}}, {{0, 0, 1}}};
    for (size_t i = 0; i < 3; i++) {
        out->sides[i] = sides[i];
        out->corners[i] = corners[i];
    }
    out->count = 3;
}

/* Cuts the triangle down to where `which` is best; the result is in `*a` or `*b`. */
static polygon *cut_all(polygon *a, polygon *b, const sw_map_value *values, size_t count,
                        size_t which) {
    whole_triangle(a);
    for (size_t other = 0; other < count; other++) {
        if (other == which)
            continue;
        if (same_value(&values[other], &values[which])) {
            if (other < which)
                return NULL;
            continue;
        }
        line by = between(&values[which], &values[other]);
        cut(b, a, &by);
        polygon *swapped = a;
        a = b;
        b = swapped;
        if (is_empty(a))
            return NULL;
    }
    return a;
}

static bool keep_region(sw_map_region *out, sw_arena *arena, const polygon *from, size_t which) {
    sw_map_corner *corners = SW_NEW(arena, sw_map_corner, from->count);
    if (corners == NULL)
        return false;
    for (size_t k = 0; k < from->count; k++) {
        const sw_wide *at = from->corners[k].at;
        double sum = as_double(at[0] + at[1] + at[2]);
        for (int i = 0; i < 3; i++) {
            sw_wide part = at[i] * SW_MAP_GRID, all = at[0] + at[1] + at[2];
            corners[k].share[i] = as_double(at[i]) / sum;
            corners[k].whole[i] = (int)(part / all);
            corners[k].is_whole[i] = part % all == 0;
        }
    }
    *out = (sw_map_region){which, corners, from->count, area_of(corners, from->count)};
    return true;
}

static bool polygon_new(polygon *out, sw_arena *arena, size_t corners) {
    out->corners = SW_NEW(arena, corner, corners);
    out->sides = SW_NEW(arena, line, corners);
    out->count = 0;
    return out->corners != NULL && out->sides != NULL;
}

sw_status sw_map_make(sw_map_region **out, size_t *count, sw_arena *arena,
                      const sw_map_value *values, size_t value_count) {
    polygon a, b;
    sw_arena *scratch = sw_arena_new();
    sw_map_region *regions = SW_NEW(arena, sw_map_region, value_count);
    bool good = scratch != NULL && regions != NULL && polygon_new(&a, scratch, value_count + 4) &&
                polygon_new(&b, scratch, value_count + 4);
    size_t made = 0;
    sw_status status = good ? SW_OK : SW_NO_MEMORY;
    for (size_t v = 0; v < value_count && status == SW_OK; v++)
        for (int i = 0; i < 3; i++)
            if (values[v].of[i] > SW_MAP_VALUE_LIMIT || values[v].of[i] < -SW_MAP_VALUE_LIMIT)
                status = SW_INTERNAL;
    for (size_t v = 0; v < value_count && status == SW_OK; v++) {
        const polygon *left = cut_all(&a, &b, values, value_count, v);
        if (left == NULL)
            continue;
        if (!keep_region(&regions[made], arena, left, v))
            status = SW_NO_MEMORY;
        else if (regions[made].area > 0)
            made++;
    }
    sw_arena_free(scratch);
    *out = regions;
    *count = made;
    return status;
}

/* ---- at one weighting ----------------------------------------------------------------------- */

static sw_wide worth(const sw_map_value *value, const int64_t parts[3]) {
    return (sw_wide)value->of[0] * parts[0] + (sw_wide)value->of[1] * parts[1] +
           (sw_wide)value->of[2] * parts[2];
}

size_t sw_map_best(const sw_map_value *values, size_t count, const int64_t parts[3]) {
    size_t best = 0;
    for (size_t v = 1; v < count; v++)
        if (worth(&values[v], parts) > worth(&values[best], parts))
            best = v;
    return best;
}

/* Weight that moves from a to b takes (gain of b - gain of a) times the share from the lead; no
 * more can move than there is. */
sw_map_change sw_map_nearest(const sw_map_value *values, size_t count, const int64_t parts[3]) {
    sw_map_change nearest = {.share = 2, .from = -1, .to = -1, .then = 0};
    size_t best = sw_map_best(values, count, parts);
    double sum = (double)parts[0] + (double)parts[1] + (double)parts[2];
    for (size_t v = 0; v < count; v++) {
        double lead = as_double(worth(&values[best], parts) - worth(&values[v], parts)) / sum;
        for (int from = 0; from < 3 && v != best; from++)
            for (int to = 0; to < 3; to++) {
                double loss = (double)(values[best].of[from] - values[v].of[from]) -
                              (double)(values[best].of[to] - values[v].of[to]);
                double share = loss > 0 ? lead / loss : 2;
                if (from != to && share <= (double)parts[from] / sum && share < nearest.share)
                    nearest = (sw_map_change){share, from, to, v};
            }
    }
    return nearest;
}
