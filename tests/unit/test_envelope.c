/* The envelope of a curve against its definition, checked in another way: a straight line
 * between two steps is a piece of it when no step lies above that line. Products by
 * multiplication in __int128, which the program does without. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "answer/answer.h"

#define MOST 40

static sw_answer *curve_of(sw_answer *answer, const int64_t *costs, const int64_t *points,
                           size_t count) {
    *answer = (sw_answer){.arena = sw_arena_new(), .currency = "EUR", .digits = 2};
    cr_assert(answer->arena != NULL);
    answer->bundles = SW_NEW(answer->arena, sw_answer_bundle, count);
    cr_assert(answer->bundles != NULL);
    answer->bundle_count = count;
    for (size_t i = 0; i < count; i++) {
        answer->bundles[i].cost = costs[i];
        answer->bundles[i].points = points[i];
    }
    cr_assert_eq(sw_find_envelope(answer), SW_OK);
    return answer;
}

/* How far the step m lies above (more than 0) the line from a to b. */
__extension__ typedef __int128 wide;
static wide above(const sw_answer *answer, size_t a, size_t b, size_t m) {
    const sw_answer_bundle *low = &answer->bundles[a], *high = &answer->bundles[b];
    const sw_answer_bundle *at = &answer->bundles[m];
    return ((wide)at->points - low->points) * ((wide)high->cost - low->cost) -
           ((wide)high->points - low->points) * ((wide)at->cost - low->cost);
}

static void obeys_definition(const sw_answer *answer) {
    size_t at = 0;
    for (size_t i = 0; i < answer->envelope_count; i++) {
        const sw_answer_slope *slope = &answer->envelope[i];
        cr_assert_eq(slope->from, at, "piece %zu begins at %zu, not %zu", i, slope->from, at);
        cr_assert_gt(slope->to, slope->from);
        at = slope->to;
        for (size_t m = 0; m < answer->bundle_count; m++) {
            wide over = above(answer, slope->from, slope->to, m);
            bool outside = m < slope->from || m > slope->to;
            cr_assert(over <= 0, "step %zu lies above piece %zu", m, i);
            /* Beyond its ends the next pieces turn off: none is one straight line with it. */
            cr_assert(!outside || over < 0, "piece %zu goes on to step %zu", i, m);
        }
    }
    cr_assert_eq(at, answer->bundle_count - 1, "the envelope ends at step %zu", at);
}

Test(envelope, worked_by_hand) {
    /* From 10.00 for nothing: 2 points at 12.00 (1.00 each), 3 at 13.00 (on the same line), 4 at
     * 20.00 (under the line to the last), 6 at 25.00: 12.00 / 3 = 4.00 a point, 25 per 100. */
    const int64_t costs[] = {1000, 1200, 1300, 2000, 2500};
    const int64_t points[] = {0, 2000, 3000, 4000, 6000};
    sw_answer answer;
    curve_of(&answer, costs, points, 5);
    cr_assert_eq(answer.envelope_count, 2);
    cr_assert_eq(answer.envelope[0].from, 0);
    cr_assert_eq(answer.envelope[0].to, 2);
    cr_assert_eq(answer.envelope[0].price_millionths, 1000000);
    cr_assert_eq(answer.envelope[0].per_hundred, 100000);
    cr_assert_eq(answer.envelope[1].from, 2);
    cr_assert_eq(answer.envelope[1].to, 4);
    cr_assert_eq(answer.envelope[1].price_millionths, 4000000);
    cr_assert_eq(answer.envelope[1].per_hundred, 25000);
    sw_arena_free(answer.arena);
}

/* Minor units by ISO 4217: the yen has none, the dinar of Kuwait three. */
Test(envelope, digits_of_the_currency) {
    const int64_t costs[] = {0, 1000}, points[] = {0, 2500};
    static const int64_t price[] = {400000000, 40000000, 4000000, 400000};
    for (int digits = 0; digits <= 3; digits++) {
        sw_answer answer;
        curve_of(&answer, costs, points, 2);
        answer.digits = digits;
        cr_assert_eq(sw_find_envelope(&answer), SW_OK);
        cr_assert_eq(answer.envelope[0].price_millionths, price[digits], "%d digits", digits);
        sw_arena_free(answer.arena);
    }
}

Test(envelope, none_or_one_step) {
    const int64_t costs[] = {500}, points[] = {700};
    sw_answer answer;
    for (size_t count = 0; count < 2; count++) {
        curve_of(&answer, costs, points, count);
        cr_assert_eq(answer.envelope_count, 0);
        sw_arena_free(answer.arena);
    }
}

/* Where products of differences would not fit 64 bits the order is still exact: the middle
 * step is one thousandth of a point above, on, or below the line. */
Test(envelope, exact_where_products_overflow) {
    const int64_t half = INT64_C(1) << 61;
    for (int64_t off = -1; off <= 1; off++) {
        const int64_t costs[] = {0, half, 2 * half}, points[] = {-half, off, half};
        sw_answer answer;
        curve_of(&answer, costs, points, 3);
        cr_assert_eq(answer.envelope_count, off > 0 ? 2 : 1, "%d off the line", (int)off);
        obeys_definition(&answer);
        cr_assert_eq(answer.envelope[0].price_millionths, -1);
        sw_arena_free(answer.arena);
    }
}

static int64_t drawn(uint64_t *state, int64_t most) {
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int64_t)((*state >> 33) % (uint64_t)most) + 1;
}

Test(envelope, random_staircases) {
    uint64_t state = 7;
    size_t pieces = 0;
    for (int trial = 0; trial < 2000; trial++) {
        int64_t costs[MOST], points[MOST];
        size_t count = (size_t)drawn(&state, MOST);
        /* Small numbers, so that steps in one straight line are common. */
        int64_t most = trial % 3 == 0 ? 3 : trial % 3 == 1 ? 20 : 1000000;
        for (size_t i = 0; i < count; i++) {
            costs[i] = (i > 0 ? costs[i - 1] : 0) + drawn(&state, most);
            points[i] = (i > 0 ? points[i - 1] : -5) + drawn(&state, most);
        }
        sw_answer answer;
        curve_of(&answer, costs, points, count);
        obeys_definition(&answer);
        pieces += answer.envelope_count;
        sw_arena_free(answer.arena);
    }
    cr_assert_gt(pieces, 4000, "hardly any pieces were drawn: %zu", pieces);
}

Test(figures, three_of_them) {
    static const struct {
        int64_t number;
        int decimals;
        const char *text;
    } cases[] = {
        {0, 6, "0"},
        {1, 6, "0.000001"},
        {999, 6, "0.000999"},
        {37449, 6, "0.0374"},
        {374000, 6, "0.374"},
        {3745000, 6, "3.75"},
        {9994999, 6, "9.99"},
        {9995000, 6, "10.0"},
        {99950000, 6, "100"},
        {374499999, 6, "374"},
        {1234500000, 6, "1235"},
        {-3744999, 6, "-3.74"},
        {2, 3, "0.002"},
        {1234, 3, "1.23"},
        {99949, 3, "99.9"},
        {7, 0, "7"},
        {INT64_MAX, 6, "9223372036855"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        sw_text text = {0};
        sw_text_add_figures(&text, cases[i].number, cases[i].decimals);
        cr_assert(!text.failed);
        cr_assert_str_eq(text.bytes, cases[i].text);
        sw_text_free(&text);
    }
}
