/* The ground under every stage: decimals, roundings, currencies, text, arena,
 * complaints. Each published value names where it is published. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/base.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* ---- currencies: ISO 4217, list one ---------------------------------------------- */

Test(currency, minor_units_of_iso_4217) {
    static const struct {
        const char *code;
        int digits;
    } rows[] = {
        {"USD", 2}, {"EUR", 2}, {"GBP", 2},   {"HUF", 2},  {"TWD", 2},  {"MRU", 2},  {"JPY", 0},
        {"KRW", 0}, {"VND", 0}, {"CLP", 0},   {"ISK", 0},  {"XAF", 0},  {"XPF", 0},  {"PYG", 0},
        {"KWD", 3}, {"BHD", 3}, {"OMR", 3},   {"TND", 3},  {"JOD", 3},  {"CLF", 4},  {"UYW", 4},
        {"", -1},   {"EU", -1}, {"EURO", -1}, {"eur", -1}, {"XAU", -1}, {"R E", -1}, {"UR ", -1},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        cr_expect_eq(sw_currency_digits(rows[i].code), rows[i].digits, "%s: %d digits",
                     rows[i].code, sw_currency_digits(rows[i].code));
}

/* ---- roundings --------------------------------------------------------------------- */

/* Ties to even: IEEE 754-2019, 4.3.1, roundTiesToEven; ISO 80000-1, annex B, rule
 * A. Ties away from zero: ISO 80000-1, annex B, rule B. Each row is a decimal
 * with its exact integer numerator over the denominator of the rounded place. */
Test(rounding, ties_and_others) {
    static const struct {
        int64_t numerator, denominator, even, up;
    } rows[] = {
        {1, 2, 0, 1},         /* 0.5 */
        {3, 2, 2, 2},         /* 1.5 */
        {5, 2, 2, 3},         /* 2.5 */
        {-5, 2, -2, -3},      /* -2.5 */
        {-1, 2, 0, -1},       /* -0.5 */
        {125, 10, 12, 13},    /* 0.125 to 0.12 and 0.13 */
        {1005, 10, 100, 101}, /* 1.005 */
        {135, 10, 14, 14},    /* 0.135 */
        {2675, 10, 268, 268}, /* 2.675 */
        {10075, 10, 1008, 1008},
        {12345, 10, 1234, 1235},    /* KWD 1.2345, three digits */
        {10050, 100, 100, 101},     /* JPY 1005 at 10 %, no digits */
        {1649175, 10000, 165, 165}, /* 19.99 at 8.25 %: no tie */
        {1725, 100, 17, 17},        /* 2.30 at 7.5 %, two digits: no tie */
        {1725, 10, 172, 173},       /* the same at three digits: a tie */
        {7725, 100, 77, 77},        /* one line of 10.30 at 7.5 % */
        {23175, 100, 232, 232},     /* three such lines as one sum: not 3 x 77 */
        {0, 7, 0, 0},
        {6, 3, 2, 2},
        {-7, 3, -2, -2},
        {-8, 3, -3, -3},
        {INT64_MAX, 1, INT64_MAX, INT64_MAX},
        {INT64_MAX, INT64_MAX, 1, 1},
        {INT64_MAX / 2, INT64_MAX, 0, 0},
        {INT64_MAX / 2 + 1, INT64_MAX, 1, 1},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        cr_expect_eq(sw_divide(rows[i].numerator, rows[i].denominator, SW_HALF_EVEN), rows[i].even,
                     "row %zu, half-even", i);
        cr_expect_eq(sw_divide(rows[i].numerator, rows[i].denominator, SW_HALF_UP), rows[i].up,
                     "row %zu, half-up", i);
    }
}

Test(rounding, doubles_away_from_zero) {
    static const struct {
        double x;
        int64_t rounded;
    } rows[] = {{0.5, 1},
                {-0.5, -1},
                {2.5, 3},
                {-2.5, -3},
                {0.49999999999999994, 0},
                {1e15, INT64_C(1000000000000000)},
                {0x1p62, INT64_C(1) << 62}};
    int64_t out = 0;
    for (size_t i = 0; i < COUNT(rows); i++) {
        cr_expect(sw_round(&out, rows[i].x), "row %zu", i);
        cr_expect_eq(out, rows[i].rounded, "row %zu", i);
    }
    out = 77;
    cr_expect_not(sw_round(&out, NAN));
    cr_expect_not(sw_round(&out, INFINITY));
    cr_expect_not(sw_round(&out, 0x1.8p62));
    cr_expect_eq(out, 77, "a failed call leaves the result alone");
}

/* ---- thousandths --------------------------------------------------------------------- */

Test(milli, exact_or_refused) {
    static const struct {
        double number;
        bool good;
        int64_t milli;
    } rows[] = {
        {0, true, 0},
        {-0.0, true, 0},
        {0.1, true, 100},
        {1.005, true, 1005},
        {-2.675, true, -2675},
        {999999.999, true, 999999999},
        {1e6, true, 1000000000},
        {-1e6, true, -1000000000},
        {0.0005, false, 0},
        {0.1234, false, 0},
        {1e-300, false, 0},
        {1000000.001, false, 0},
        {9007199254740993.0, false, 0}, /* no double at all: IEEE 754 makes it ...992 */
        {1e300, false, 0},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        int64_t out = 5;
        cr_expect_eq(sw_milli_from_number(&out, rows[i].number), rows[i].good, "row %zu", i);
        cr_expect_eq(out, rows[i].good ? rows[i].milli : 5, "row %zu", i);
    }
    int64_t out = 0;
    cr_expect_not(sw_milli_from_number(&out, NAN));
    cr_expect_not(sw_milli_from_number(&out, -INFINITY));
}

Test(milli, every_thousandth_survives_the_double) {
    for (int64_t milli = -SW_MILLI_LIMIT; milli <= SW_MILLI_LIMIT; milli += 99991) {
        int64_t back = 0;
        cr_assert(sw_milli_from_number(&back, (double)milli / 1000.0));
        cr_assert_eq(back, milli);
    }
}

Test(milli, as_text) {
    static const struct {
        int64_t milli;
        int decimals;
        const char *text;
    } rows[] = {{0, 0, "0"},         {1234, 3, "1.234"}, {1234, 2, "1.23"}, {1235, 2, "1.24"},
                {-1235, 2, "-1.24"}, {-4, 2, "0.00"},    {-5, 2, "-0.01"},  {999, 0, "1"},
                {-500, 0, "-1"},     {50, 1, "0.1"}};
    sw_arena *arena = sw_arena_new();
    for (size_t i = 0; i < COUNT(rows); i++)
        cr_expect_str_eq(sw_milli_text(arena, rows[i].milli, rows[i].decimals), rows[i].text,
                         "row %zu", i);
    sw_arena_free(arena);
}

/* ---- money ----------------------------------------------------------------------------- */

Test(money, parse) {
    static const struct {
        const char *text;
        int digits;
        int64_t minor; /* -1: refused */
    } rows[] = {
        {"210", 2, 21000},
        {"210.00", 2, 21000},
        {"210.5", 2, 21050},
        {"0", 2, 0},
        {"0.01", 2, 1},
        {"007", 2, 700},
        {"10000000.00", 2, 1000000000},
        {"10000000.01", 2, -1},
        {"10000001", 2, -1},
        {"99999999999999999999999999", 2, -1},
        {"1005", 0, 1005},
        {"1005.0", 0, -1},
        {"1.234", 3, 1234},
        {"1.2345", 4, 12345},
        {"1.2345", 3, -1},
        {"1.234", 2, -1},
        {"", 2, -1},
        {".", 2, -1},
        {".5", 2, -1},
        {"5.", 2, -1},
        {"1.2.3", 2, -1},
        {"-1", 2, -1},
        {"+1", 2, -1},
        {" 1", 2, -1},
        {"1 ", 2, -1},
        {"1,5", 2, -1},
        {"1e3", 2, -1},
        {"0x10", 2, -1},
        {"1'000", 2, -1},
        {"\xD9\xA1", 2, -1}, /* a digit, but not one of ours */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        int64_t out = -1;
        cr_expect_eq(sw_money_parse(&out, rows[i].text, rows[i].digits), rows[i].minor >= 0,
                     "\"%s\"", rows[i].text);
        if (rows[i].minor >= 0)
            cr_expect_eq(out, rows[i].minor, "\"%s\"", rows[i].text);
    }
}

Test(money, text_reads_back) {
    static const int64_t amounts[] = {0, 1, 9, 10, 99, 100, 12345, 1000000000};
    sw_arena *arena = sw_arena_new();
    for (int digits = 0; digits <= 4; digits++)
        for (size_t i = 0; i < COUNT(amounts); i++) {
            int64_t back = -1;
            const char *text = sw_money_text(arena, amounts[i], digits);
            cr_expect(sw_money_parse(&back, text, digits), "%s", text);
            cr_expect_eq(back, amounts[i], "%s", text);
        }
    cr_expect_str_eq(sw_money_text(arena, -5, 2), "-0.05");
    cr_expect_str_eq(sw_money_text(arena, 1005, 0), "1005");
    cr_expect_str_eq(sw_money_text(arena, INT64_MIN, 0), "-9223372036854775808");
    sw_arena_free(arena);
}

/* Rounding each line with its tax is not rounding the sum (three lines of 10.30
 * at 7.5 %): arithmetic, by ISO 80000-1 rule A and rule B alike. */
Test(money, per_line_is_not_per_invoice) {
    for (int rounding = SW_HALF_UP; rounding <= SW_HALF_EVEN; rounding++) {
        int64_t line = sw_divide(1030 * 7500, 100000, (sw_rounding)rounding);
        int64_t invoice = sw_divide(3 * 1030 * 7500, 100000, (sw_rounding)rounding);
        cr_expect_eq(3 * line, 231);
        cr_expect_eq(invoice, 232);
    }
}

/* ---- checked arithmetic ------------------------------------------------------------------ */

Test(arithmetic, overflow_is_refused) {
    int64_t out = 5;
    cr_expect(sw_add(&out, INT64_MAX - 1, 1) && out == INT64_MAX);
    cr_expect(sw_add(&out, INT64_MIN + 1, -1) && out == INT64_MIN);
    cr_expect(sw_multiply(&out, INT64_C(3037000499), INT64_C(3037000499)) &&
              out == INT64_C(9223372030926249001));
    cr_expect(sw_multiply(&out, INT64_MIN, 1) && out == INT64_MIN);
    out = 5;
    cr_expect_not(sw_add(&out, INT64_MAX, 1));
    cr_expect_not(sw_add(&out, INT64_MIN, -1));
    cr_expect_not(sw_multiply(&out, INT64_MIN, -1));
    cr_expect_not(sw_multiply(&out, INT64_C(3037000500), INT64_C(3037000500)));
    cr_expect_eq(out, 5, "a failed call leaves the result alone");
}

/* ---- arena and text ------------------------------------------------------------------------ */

Test(arena, zeroed_aligned_and_apart) {
    sw_arena *arena = sw_arena_new();
    unsigned char *before = NULL;
    size_t length = 0;
    for (size_t size = 0; size < 200000; size = size * 3 + 1) {
        unsigned char *bytes = sw_arena_alloc(arena, size, 1);
        cr_assert_not_null(bytes);
        cr_expect_eq((uintptr_t)bytes % _Alignof(max_align_t), 0);
        for (size_t i = 0; i < size; i++)
            cr_assert_eq(bytes[i], 0);
        memset(bytes, 0xAB, size);
        for (size_t i = 0; i < length; i++)
            cr_assert_eq(before[i], 0xAB);
        before = bytes;
        length = size;
    }
    sw_arena_free(arena);
}

Test(arena, refuses_what_overflows) {
    sw_arena *arena = sw_arena_new();
    cr_expect_null(sw_arena_alloc(arena, SIZE_MAX, 2));
    cr_expect_null(sw_arena_alloc(arena, SIZE_MAX / 2, 3));
    cr_expect_null(sw_arena_text(arena, "", SIZE_MAX));
    cr_expect_not_null(sw_arena_alloc(arena, 0, 8));
    sw_arena_free(arena);
    sw_arena_free(NULL);
}

Test(arena, texts) {
    sw_arena *arena = sw_arena_new();
    cr_expect_str_eq(sw_arena_text(arena, "abcdef", 3), "abc");
    cr_expect_str_eq(sw_arena_copy(arena, ""), "");
    cr_expect_str_eq(sw_arena_format(arena, "%s-%d", "x", 7), "x-7");
    sw_arena_free(arena);
}

Test(text, grows) {
    sw_text text = {0};
    for (int i = 0; i < 1000; i++)
        sw_text_addf(&text, "%d,", i % 10);
    sw_text_add(&text, "end");
    sw_text_add_bytes(&text, "\0x", 2);
    cr_expect_not(text.failed);
    cr_expect_eq(text.length, 2005);
    cr_expect_eq(strlen(text.bytes), 2003);
    cr_expect_eq(memcmp(text.bytes + 1998, "9,end\0x", 7), 0);
    sw_text_free(&text);
    cr_expect_null(text.bytes);
    sw_text_free(&text);
}

Test(text, compares_bytes) {
    cr_expect_eq(sw_text_compare(NULL, NULL), 0);
    cr_expect_lt(sw_text_compare(NULL, ""), 0);
    cr_expect_gt(sw_text_compare("a", NULL), 0);
    cr_expect_lt(sw_text_compare("a", "b"), 0);
    cr_expect_gt(sw_text_compare("\xC3\xA9", "z"), 0, "bytes count as unsigned");
}

Test(grow, keeps_what_is_there) {
    int *numbers = NULL;
    size_t room = 0;
    for (int i = 0; i < 5000; i++) {
        cr_assert(SW_GROW(numbers, room, (size_t)i));
        numbers[i] = i;
    }
    for (int i = 0; i < 5000; i++)
        cr_assert_eq(numbers[i], i);
    free(numbers);
}

/* ---- nearest ----------------------------------------------------------------------------------
 */

Test(nearest, likely_slips_only) {
    static const char *const names[] = {"socket", "length_mm", "noise_dba", "cores", "core"};
    static const struct {
        const char *typed, *meant;
    } rows[] = {
        {"sockte", "socket"},
        {"sockt", "socket"},
        {"lenght_mm", "length_mm"},
        {"noise_db", "noise_dba"},
        {"coress", "cores"},
        {"core", "core"},
        {"xyz", NULL},
        {"", NULL},
        {"completely", NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const char *found = sw_nearest(rows[i].typed, names, COUNT(names));
        cr_expect_eq(sw_text_compare(found, rows[i].meant), 0, "\"%s\" gave \"%s\"", rows[i].typed,
                     found == NULL ? "nothing" : found);
    }
    char endless[5000];
    memset(endless, 'a', sizeof endless - 1);
    endless[sizeof endless - 1] = '\0';
    cr_expect_null(sw_nearest(endless, names, COUNT(names)));
    cr_expect_null(sw_nearest("socket", NULL, 0));
}

/* ---- complaints --------------------------------------------------------------------------------
 */

Test(complaints, copied_in_order_and_counted) {
    sw_complaints *complaints = sw_complaints_new();
    char place[] = "line 7";
    sw_complain(complaints, "a.json", place, "why", "mend", "what %d", 1);
    place[0] = 'X';
    for (int i = 0; i < 500; i++)
        sw_complain(complaints, "b.json", "", "", "", "%d", i);
    cr_expect_eq(sw_complaints_count(complaints), 501);
    const sw_complaint *first = sw_complaints_get(complaints, 0);
    cr_assert_not_null(first);
    cr_expect_str_eq(first->file, "a.json");
    cr_expect_str_eq(first->place, "line 7");
    cr_expect_str_eq(first->what, "what 1");
    cr_expect_str_eq(first->why, "why");
    cr_expect_str_eq(first->mend, "mend");
    cr_expect_str_eq(sw_complaints_get(complaints, 199)->what, "198");
    cr_expect_null(sw_complaints_get(complaints, 200));
    sw_complaints_free(complaints);
}

Test(complaints, none_to_gather_is_fine) {
    sw_complain(NULL, "a", "b", "c", "d", "e");
    cr_expect_eq(sw_complaints_count(NULL), 0);
    cr_expect_null(sw_complaints_get(NULL, 0));
    sw_complaints_free(NULL);
}
