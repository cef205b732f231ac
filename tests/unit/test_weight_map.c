/* The triangle of weights divided by best bundle: against trying every bundle at many weightings.
 */
#include "answer/weight_map.h"

#include <criterion/criterion.h>
#include <math.h>

static sw_arena *arena;
static uint64_t seed;
static void begin(void) {
    arena = sw_arena_new();
    seed = 20261129;
}
static void end(void) { sw_arena_free(arena); }
TestSuite(weight_map, .init = begin, .fini = end);

static int64_t draw(int64_t below) {
    seed = seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int64_t)((seed >> 33) % (uint64_t)below);
}

/* Is the weighting inside the polygon, by less than a hair's breadth outside? */
static bool is_inside(const sw_map_region *region, const double at[3]) {
    double turn = 0;
    for (size_t k = 0; k < region->corner_count; k++) {
        const double *a = region->corners[k].share;
        const double *b = region->corners[(k + 1) % region->corner_count].share;
        double side = (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]);
        if (fabs(side) < 1e-12)
            continue;
        if (turn != 0 && (side > 0) != (turn > 0))
            return false;
        turn = side;
    }
    return true;
}

static void try_weightings(const sw_map_value *values, size_t count, const sw_map_region *regions,
                           size_t region_count, int tries) {
    for (int t = 0; t < tries; t++) {
        int64_t parts[3] = {draw(1000001), draw(1000001), draw(1000001)};
        parts[t % 3] += 1;
        double sum = (double)(parts[0] + parts[1] + parts[2]);
        double at[3] = {(double)parts[0] / sum, (double)parts[1] / sum, (double)parts[2] / sum};
        size_t best = sw_map_best(values, count, parts);
        bool found = false, inside = false;
        for (size_t r = 0; r < region_count; r++)
            if (regions[r].which == best) {
                found = true;
                inside = is_inside(&regions[r], at);
            }
        cr_expect(found && inside, "best %zu at %.6f %.6f %.6f is not its region's", best, at[0],
                  at[1], at[2]);
    }
}

/* 10,000 weightings over 100 random sets, and the areas add up to the triangle's to 1e-9. */
Test(weight_map, regions_are_where_bundles_are_best) {
    static const int64_t ranges[] = {3, 10, 100, 1000000};
    for (int set = 0; set < 100; set++) {
        size_t count = 1 + (size_t)draw(60), regions = 0;
        sw_map_value *values = SW_NEW(arena, sw_map_value, count);
        for (size_t v = 0; v < count; v++)
            for (int i = 0; i < 3; i++)
                values[v].of[i] = draw(ranges[set % 4]) - ranges[set % 4] / 2;
        sw_map_region *made = NULL;
        cr_assert_eq(sw_map_make(&made, &regions, arena, values, count), SW_OK);
        double area = 0;
        for (size_t r = 0; r < regions; r++)
            area += made[r].area;
        cr_expect(fabs(area - 1) < 1e-9, "the areas of set %d add up to %.12f", set, area);
        try_weightings(values, count, made, regions, 100);
    }
}

/* At the limit of values: a rounding or an overflow would leave gaps between the regions. */
Test(weight_map, values_at_the_limit) {
    for (int set = 0; set < 40; set++) {
        size_t count = 3 + (size_t)draw(20), regions = 0;
        sw_map_value *values = SW_NEW(arena, sw_map_value, count);
        for (size_t v = 0; v < count; v++)
            for (int i = 0; i < 3; i++) {
                int64_t less = draw(INT64_C(1) << 30) * (draw(2) == 0 ? 1 : 1023);
                values[v].of[i] =
                    draw(2) == 0 ? SW_MAP_VALUE_LIMIT - less : less - SW_MAP_VALUE_LIMIT;
            }
        sw_map_region *made = NULL;
        cr_assert_eq(sw_map_make(&made, &regions, arena, values, count), SW_OK);
        double area = 0;
        for (size_t r = 0; r < regions; r++)
            area += made[r].area;
        cr_expect(fabs(area - 1) < 1e-9, "the areas of set %d add up to %.12f", set, area);
        try_weightings(values, count, made, regions, 40);
    }
}

/* On the rim where the third weight is 0 the regions begin and end where two criteria alone change
 * over: block E of Liesio, Mild and Salo's definitions (EJOR 181, 2007), computed by hand: ABC up
 * to 1/3, ABD up to 3/4, ADE from there; ACD only ties at 3/4. */
Test(weight_map, block_e_on_its_rim) {
    static const sw_map_value values[] = {
        {{17, 23, 0}}, {{21, 21, 0}}, {{22, 18, 0}}, {{23, 15, 0}}};
    static const double ends[][2] = {{0, 1.0 / 3}, {1.0 / 3, 0.75}, {2, -1}, {0.75, 1}};
    sw_map_region *made = NULL;
    size_t count = 0;
    cr_assert_eq(sw_map_make(&made, &count, arena, values, 4), SW_OK);
    cr_expect_eq(count, 3);
    for (size_t r = 0; r < count; r++) {
        double low = 2, high = -1;
        for (size_t k = 0; k < made[r].corner_count; k++)
            if (made[r].corners[k].share[2] < 1e-12) {
                low = fmin(low, made[r].corners[k].share[0]);
                high = fmax(high, made[r].corners[k].share[0]);
            }
        cr_expect(fabs(low - ends[made[r].which][0]) < 1e-12 &&
                      fabs(high - ends[made[r].which][1]) < 1e-12,
                  "bundle %zu from %.6f to %.6f", made[r].which, low, high);
    }
}

Test(weight_map, equal_bundles_are_the_first) {
    static const sw_map_value values[] = {{{5, 5, 5}}, {{5, 5, 5}}, {{4, 4, 4}}};
    sw_map_region *made = NULL;
    size_t count = 0;
    cr_assert_eq(sw_map_make(&made, &count, arena, values, 3), SW_OK);
    cr_expect(count == 1 && made[0].which == 0 && fabs(made[0].area - 1) < 1e-15);
}

/* A hair less weight moved leaves the best as it is, a hair more does not. */
Test(weight_map, the_nearest_change_is_the_least) {
    for (int set = 0; set < 300; set++) {
        size_t count = 2 + (size_t)draw(20);
        sw_map_value *values = SW_NEW(arena, sw_map_value, count);
        for (size_t v = 0; v < count; v++)
            for (int i = 0; i < 3; i++)
                values[v].of[i] = draw(1000);
        int64_t parts[3] = {1 + draw(1000), 1 + draw(1000), 1 + draw(1000)};
        size_t best = sw_map_best(values, count, parts);
        sw_map_change change = sw_map_nearest(values, count, parts);
        double sum = (double)(parts[0] + parts[1] + parts[2]);
        double least = 2;
        /* Every move in steps of a thousandth. */
        for (int from = 0; from < 3; from++)
            for (int to = 0; to < 3; to++)
                for (int64_t step = 1; from != to && step <= 1000; step++) {
                    int64_t moved[3] = {parts[0] * 1000, parts[1] * 1000, parts[2] * 1000};
                    moved[from] -= parts[from] * step;
                    moved[to] += parts[from] * step;
                    size_t now = sw_map_best(values, count, moved);
                    bool other = false;
                    for (int i = 0; i < 3; i++)
                        other |= values[now].of[i] != values[best].of[i];
                    if (other) {
                        least = fmin(least, (double)parts[from] * (double)step / 1000 / sum);
                        break;
                    }
                }
        double hair = 0.0011;
        if (least > 1)
            cr_expect(change.share > 1 - hair ||
                          change.share >= (double)parts[change.from] * 0.999 / sum,
                      "set %d: %.6f, by trying none", set, change.share);
        else
            cr_expect(change.share <= least && change.share > least - hair,
                      "set %d: %.6f, by trying %.6f", set, change.share, least);
    }
}
