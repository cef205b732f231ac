/* The envelope of the curve: the upper hull of its steps, exact in whole numbers. The
 * slope of each of its pieces is what the money there buys at most. */
#include "answer/stage.h"

/* b - a for a <= b: right however far they lie apart. */
static uint64_t rise(int64_t a, int64_t b) { return (uint64_t)b - (uint64_t)a; }

/* a/b against c/d: -1, 0 or 1; over 0 is more than all else. By continued fractions, since
 * the products might not fit. */
static int compare_ratios(uint64_t a, uint64_t b, uint64_t c, uint64_t d) {
    if (b == 0 || d == 0)
        return (b == 0) - (d == 0);
    for (int sign = 1;; sign = -sign) {
        uint64_t whole = a / b, other = c / d;
        if (whole != other)
            return whole < other ? -sign : sign;
        uint64_t rest = a % b, other_rest = c % d;
        if (rest == 0 || other_rest == 0)
            return rest == other_rest ? 0 : rest == 0 ? -sign : sign;
        /* What is left are shares below 1: the other way up, and the other way round. */
        a = b;
        b = rest;
        c = d;
        d = other_rest;
    }
}

/* Does the step `middle` stand above the straight line from `low` to `high`? */
static bool stands_out(const sw_answer_bundle *low, const sw_answer_bundle *middle,
                       const sw_answer_bundle *high) {
    return compare_ratios(rise(low->points, middle->points), rise(low->cost, middle->cost),
                          rise(middle->points, high->points), rise(middle->cost, high->cost)) > 0;
}

static int64_t price_of_point(const sw_answer *answer, const sw_answer_bundle *low,
                              const sw_answer_bundle *high) {
    int64_t scale = INT64_C(1000000000), scaled; /* thousandths to points, units to millionths */
    for (int i = 0; i < answer->digits; i++)
        scale /= 10;
    int64_t points = high->points - low->points;
    return points > 0 && sw_multiply(&scaled, high->cost - low->cost, scale)
               ? sw_divide(scaled, points, SW_HALF_UP)
               : -1;
}

/* The steps of the hull, cheapest first, into `corner`; how many there are. Steps rise in
 * cost and points, so that one pass does (Andrew's monotone chain). */
static size_t find_corners(size_t *corner, const sw_answer *answer) {
    size_t count = 0;
    for (size_t i = 0; i < answer->bundle_count; i++) {
        while (count >= 2 && !stands_out(&answer->bundles[corner[count - 2]],
                                         &answer->bundles[corner[count - 1]], &answer->bundles[i]))
            count--;
        corner[count++] = i;
    }
    return count;
}

sw_status sw_find_envelope(sw_answer *answer) {
    size_t *corner = SW_NEW(answer->arena, size_t, answer->bundle_count);
    if (corner == NULL)
        return SW_NO_MEMORY;
    size_t count = find_corners(corner, answer);
    answer->envelope_count = 0;
    answer->envelope = SW_NEW(answer->arena, sw_answer_slope, count);
    if (answer->envelope == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 1; i < count; i++) {
        const sw_answer_bundle *low = &answer->bundles[corner[i - 1]];
        const sw_answer_bundle *high = &answer->bundles[corner[i]];
        answer->envelope[answer->envelope_count++] = (sw_answer_slope){
            corner[i - 1], corner[i], price_of_point(answer, low, high),
            sw_per_hundred(answer, high->points - low->points, high->cost - low->cost)};
    }
    return SW_OK;
}
