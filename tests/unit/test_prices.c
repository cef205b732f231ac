/* Price lists: prices in their dialects, likenesses, encodings, loose tables. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "intake/price_amount.h"
#include "read/csv.h"
#include "read/encoding.h"
#include "read/like.h"

#define NBSP "\xC2\xA0"
#define NARROW "\xE2\x80\xAF"
#define EURO "\xE2\x82\xAC"

/* ---- prices --------------------------------------------------------------------------------- */

static const char *const points[] = {"."}, *const commas[] = {","}, *const ticks[] = {"'"},
                         *const blanks[] = {" ", NBSP, NARROW}, *const euro[] = {EURO},
                         *const dollar[] = {"$"};

/* 1.234,56 */
static const sw_price_style german = {
    .decimal = ',', .digits = 2, .grouping = points, .grouping_count = 1};
/* 1 234,56 EUR sign behind, which must stand */
static const sw_price_style french = {.decimal = ',',
                                      .digits = 2,
                                      .grouping = blanks,
                                      .grouping_count = 3,
                                      .grouped_must = true,
                                      .signs = euro,
                                      .sign_count = 1,
                                      .sign_place = SW_SIGN_BEHIND,
                                      .sign_must = true};
/* 1'234.56 */
static const sw_price_style swiss = {
    .decimal = '.', .digits = 2, .grouping = ticks, .grouping_count = 1};
/* $1,299 */
static const sw_price_style american = {.decimal = '.',
                                        .digits = 2,
                                        .decimals = SW_DECIMALS_WHOLE_OR_FULL,
                                        .grouping = commas,
                                        .grouping_count = 1,
                                        .signs = dollar,
                                        .sign_count = 1,
                                        .sign_place = SW_SIGN_BEFORE};
/* 1234.5 */
static const sw_price_style plain = {.decimal = '.', .digits = 2, .decimals = SW_DECIMALS_UP_TO};
static const sw_price_style yen = {
    .decimal = '.', .digits = 0, .grouping = commas, .grouping_count = 1};
static const sw_price_style dinar = {.decimal = '.', .digits = 3};

Test(prices, exactly_or_not_at_all) {
    static const struct {
        const sw_price_style *style;
        const char *cell;
        int64_t minor; /* -1: refused */
    } rows[] = {
        {&german, "1.234,56", 123456},
        {&german, "1234,56", 123456},
        {&german, "0,05", 5},
        {&german, "1.234.567,00", 123456700},
        {&german, "1.234", -1}, /* never taken for 1.234 or 1234 */
        {&german, "1,234", -1},
        {&german, "1.23", -1},
        {&german, "1.2345,00", -1},
        {&german, "12345.678,00", -1},
        {&german, "1.234567,00", -1},
        {&german, "0.123,00", -1},
        {&german, ".123,00", -1},
        {&german, "1..234,00", -1},
        {&german, "1.234.,00", -1},
        {&german, "12,5", -1},
        {&german, "12,500", -1},
        {&german, "12,", -1},
        {&german, ",50", -1},
        {&german, "12,50-", -1},
        {&german, "-12,50", -1},
        {&german, "+12,50", -1},
        {&german, "12,50 " EURO, -1}, /* no sign was declared */
        {&german, "=12,50", -1},
        {&german, "12,50,00", -1},
        {&german, "1 234,56", -1},
        {&german, "", -1},
        {&german, "0,00", -1},
        {&german, "1e3", -1},
        {&german, "\xD9\xA1\xD9\xA2,00", -1}, /* digits of another script */
        {&german, "10.000.000,00", 1000000000},
        {&german, "10.000.000,01", -1},
        {&german, "99999999999999999999999,00", -1},
        {&french, "1 234,56 " EURO, 123456},
        {&french, "1" NBSP "234,56" NBSP EURO, 123456},
        {&french, "1" NARROW "234" NARROW "567,00" NARROW EURO, 123456700},
        {&french, "12,00" EURO, 1200},
        {&french, "1 234" NBSP "567,00 " EURO, -1}, /* one mark in one number */
        {&french, "1234,56 " EURO, -1},
        {&french, "12,00", -1},
        {&french, EURO "12,00", -1},
        {&french, "12,00  " EURO, -1},
        {&french, "12,00 " EURO EURO, -1},
        {&swiss, "1'234.56", 123456},
        {&swiss, "1'234,56", -1},
        {&american, "$1,299", 129900},
        {&american, "$ 1,299.00", 129900},
        {&american, "1299", 129900},
        {&american, "1,29", -1},
        {&american, "$1,299.5", -1},
        {&american, "1,299$", -1},
        {&american, "$-5", -1},
        {&plain, "1234.5", 123450},
        {&plain, "1234", 123400},
        {&plain, "1234.56", 123456},
        {&plain, "1,234", -1},
        {&plain, "1.234", -1},
        {&yen, "12,980", 12980},
        {&yen, "12,980.0", -1},
        {&dinar, "1.234", 1234},
        {&dinar, "1.23", -1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        int64_t minor = -1;
        const char *what = NULL;
        bool good = sw_amount_read(&minor, rows[i].style, rows[i].cell, &what);
        cr_expect_eq(good, rows[i].minor >= 0, "%s: %s", rows[i].cell, what);
        if (good)
            cr_expect_eq(minor, rows[i].minor, "%s: %lld", rows[i].cell, (long long)minor);
    }
}

/* From memory: 19 % on 84.03 is 100.00 to the cent; halves go up. */
Test(prices, tax) {
    sw_price_style style = {.has_tax = true, .listings_with = true, .tax_milli = 19000};
    int64_t amount = 8403;
    cr_expect(sw_amount_tax(&amount, &style));
    cr_expect_eq(amount, 10000); /* 99.9957 */
    style.tax_milli = 5000;
    amount = 10;
    cr_expect(sw_amount_tax(&amount, &style));
    cr_expect_eq(amount, 11); /* 10.5 */
    style = (sw_price_style){.has_tax = true, .list_with = true, .tax_milli = 25000};
    amount = 1000;
    cr_expect(sw_amount_tax(&amount, &style));
    cr_expect_eq(amount, 800);
    style = (sw_price_style){.has_tax = true, .listings_with = true, .tax_milli = 100000};
    amount = SW_MONEY_LIMIT;
    cr_expect_not(sw_amount_tax(&amount, &style));
    style = (sw_price_style){.has_tax = false, .listings_with = true};
    amount = 77;
    cr_expect(sw_amount_tax(&amount, &style));
    cr_expect_eq(amount, 77);
}

/* ---- likenesses --------------------------------------------------------------------------------
 */

static bool like(const char *text, const char *of, int64_t *milli) {
    sw_arena *arena = sw_arena_new();
    sw_like is;
    const char *fault = NULL;
    bool good = sw_like_read(&is, arena, of, &fault) && sw_like_is(&is, text, milli);
    cr_expect(fault == NULL, "%s: %s", of, fault);
    sw_arena_free(arena);
    return good;
}

Test(like, whole_texts) {
    static const struct {
        const char *like, *text;
        int64_t milli; /* of the first slot; -1: not like it */
    } rows[] = {
        {"{n}", "7", 7000},
        {"{n}+", "10+", 10000},
        {"{n}+", "10", -1},
        {"{-}-{n} days", "3-5 days", 5000},
        {"{-}-{n} days", "3-5DAYS", 5000},
        {"{-}-{n} days", "3 - 5 days", -1},
        {"{-} - {n} days", "3-5 days", 5000},
        {"in stock", "IN" NBSP "STOCK", 0},
        {"in stock", "in stocks", -1},
        {"Total{*}", "Total of 12", 0},
        {"Total{*}", "TOTAL", 0},
        {"{tb.,} TB", "1.5 TB", 1500},
        {"{tb.,} TB", "1,5TB", 1500},
        {"{tb.,} TB", "1,500 TB", -1},
        {"{tb.,} TB", "0.500 TB", 500},
        {"{tb.,} TB", "1234.500 TB", 1234500},
        {"{tb.,} TB", "1.5.2 TB", -1},
        {"{tb.} TB", "1,5 TB", -1},
        {"{n} W", "1.5 W", -1},
        {"{n} W", "1000001 W", -1},
        {"{n} W", "12345678 W", -1},
        {"", "", 0},
        {"", " ", -1},
        {"{n}", "", -1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        int64_t milli[SW_LIKE_SLOTS] = {0};
        bool is = like(rows[i].text, rows[i].like, milli);
        cr_expect_eq(is, rows[i].milli >= 0, "%s like %s", rows[i].text, rows[i].like);
        if (is)
            cr_expect_eq(milli[0], rows[i].milli, "%s like %s", rows[i].text, rows[i].like);
    }
}

Test(like, read_in_one_way_only) {
    static const char *const wrong[] = {"{n}{x}",  "{n} {x}", "{n}5", "{n} 5",
                                        "{*}x",    "{n",      "{}",   "{N}",
                                        "{n}x{n}", "{.}",     "{1}",  "{a}b{c}d{e}f{g}h{i}"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        sw_arena *arena = sw_arena_new();
        sw_like is;
        const char *fault = NULL;
        cr_expect_not(sw_like_read(&is, arena, wrong[i], &fault), "%s", wrong[i]);
        cr_expect(fault != NULL, "%s", wrong[i]);
        sw_arena_free(arena);
    }
}

/* ---- encodings
 * ------------------------------------------------------------------------------------ */

typedef struct bytes {
    const char *bytes;
    size_t length;
} bytes;
#define BYTES(text)                                                                                \
    { text, sizeof(text) - 1 }

Test(encoding, to_utf8) {
    static const struct {
        sw_encoding encoding;
        sw_mark mark;
        bytes in;
        const char *out; /* NULL: refused */
    } rows[] = {
        {SW_UTF_8, SW_MARK_NONE, BYTES("a\xC3\xA9"), "a\xC3\xA9"},
        {SW_UTF_8, SW_MARK_NONE,
         BYTES("\xEF\xBB\xBF"
               "a"),
         NULL},
        {SW_UTF_8, SW_MARK_MUST,
         BYTES("\xEF\xBB\xBF"
               "a"),
         "a"},
        {SW_UTF_8, SW_MARK_MUST, BYTES("a"), NULL},
        {SW_UTF_8, SW_MARK_MAY, BYTES("a"), "a"},
        {SW_UTF_8, SW_MARK_MAY,
         BYTES("\xFF\xFE"
               "a\0"),
         NULL},
        {SW_UTF_8, SW_MARK_NONE, BYTES("\xE9"), NULL},
        {SW_UTF_8, SW_MARK_NONE, BYTES("a\0b"), NULL},
        {SW_WINDOWS_1252, SW_MARK_NONE, BYTES("\x80\xE9\xA0"), EURO "\xC3\xA9" NBSP},
        {SW_WINDOWS_1252, SW_MARK_NONE, BYTES("\x9F\x8A"), "\xC5\xB8\xC5\xA0"},
        {SW_WINDOWS_1252, SW_MARK_NONE, BYTES("\x81"), NULL},
        {SW_WINDOWS_1252, SW_MARK_NONE, BYTES("\x9D"), NULL},
        {SW_WINDOWS_1252, SW_MARK_NONE,
         BYTES("\xEF\xBB\xBF"
               "a"),
         NULL},
        {SW_UTF_16_LE, SW_MARK_NONE, BYTES("a\0\xAC\x20"), "a" EURO},
        {SW_UTF_16_BE, SW_MARK_NONE, BYTES("\0a\x20\xAC"), "a" EURO},
        {SW_UTF_16_LE, SW_MARK_MUST,
         BYTES("\xFF\xFE"
               "a\0"),
         "a"},
        {SW_UTF_16_LE, SW_MARK_MAY, BYTES("\xFE\xFF\0a"), NULL},
        /* RFC 2781, 5: U+12345 is D808 DF45 */
        {SW_UTF_16_BE, SW_MARK_NONE, BYTES("\xD8\x08\xDF\x45"), "\xF0\x92\x8D\x85"},
        {SW_UTF_16_BE, SW_MARK_NONE, BYTES("\xD8\x08\0a"), NULL},
        {SW_UTF_16_BE, SW_MARK_NONE, BYTES("\xDF\x45\0a"), NULL},
        {SW_UTF_16_BE, SW_MARK_NONE, BYTES("\xD8\x08"), NULL},
        {SW_UTF_16_LE, SW_MARK_NONE, BYTES("a\0b"), NULL},
        {SW_UTF_16_LE, SW_MARK_NONE, BYTES("\0\0"), NULL},
        {SW_UTF_8, SW_MARK_NONE, BYTES(""), ""},
        {SW_UTF_16_LE, SW_MARK_MUST, BYTES("\xFF\xFE"), ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_arena *arena = sw_arena_new();
        sw_complaints *complaints = sw_complaints_new();
        const char *out = NULL;
        size_t length = 0;
        char *copy = malloc(rows[i].in.length + 1);
        memcpy(copy, rows[i].in.bytes, rows[i].in.length);
        sw_status status = sw_encoding_read(&out, &length, arena, "t", copy, rows[i].in.length,
                                            rows[i].encoding, rows[i].mark, complaints);
        cr_expect_eq(status, rows[i].out == NULL ? SW_BAD_DATA : SW_OK, "row %zu", i);
        cr_expect_eq(sw_complaints_count(complaints), rows[i].out == NULL, "row %zu", i);
        if (status == SW_OK && rows[i].out != NULL)
            cr_expect(length == strlen(rows[i].out) && memcmp(out, rows[i].out, length) == 0,
                      "row %zu", i);
        free(copy);
        sw_complaints_free(complaints);
        sw_arena_free(arena);
    }
}

/* ---- loose tables
 * ------------------------------------------------------------------------------------ */

/* Cells joined by "_", records by "/", "!" for one with a flaw. */
Test(csv_records, each_by_itself) {
    static const struct {
        sw_csv_dialect dialect;
        const char *in, *out;
    } rows[] = {
        {{';', true}, "a;b\r\n\"c;\"\"\";d,e\r\n", "a_b/c;\"_d,e"},
        {{'\t', true}, "a\tb\nc\n", "a_b/c"},
        {{'|', false}, "a\"|\"b\n\"\n", "a\"_\"b/\""},
        {{',', true}, "a\n\nb,c,d", "a//b_c_d"},
        {{',', true}, "a\"b\nc\n\"d\"e\nf\n", "!/c/!/f"},
        {{',', true}, "a\rb\nc\n", "!/c"},
        {{',', true}, "a\n\"b\nc\n", "a/!"},
        {{',', true}, "", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sw_arena *arena = sw_arena_new();
        const sw_csv_record *records = NULL;
        size_t count = 0;
        sw_text text = {0};
        sw_text_add(&text, "");
        cr_expect_eq(sw_csv_records(&records, &count, arena, "t", rows[i].in, strlen(rows[i].in),
                                    &rows[i].dialect, NULL),
                     SW_OK);
        for (size_t r = 0; r < count; r++) {
            sw_text_add(&text, r == 0 ? "" : "/");
            if (records[r].flaw != NULL)
                sw_text_add(&text, "!");
            for (size_t c = 0; c < records[r].width; c++)
                sw_text_addf(&text, "%s%s", c == 0 ? "" : "_", records[r].cells[c]);
        }
        cr_expect_str_eq(text.bytes, rows[i].out, "row %zu: %s", i, text.bytes);
        sw_text_free(&text);
        sw_arena_free(arena);
    }
}
