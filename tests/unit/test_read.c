/* The gates in front of all JSON: UTF-8 and RFC 8259. Hostile bytes are refused
 * with the line they stand on, and never crash or hang. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "outcome.h"
#include "read/plain.h"
#include "read/utf8.h"

/* ---- UTF-8: RFC 3629; Unicode, table 3-7 ----------------------------------------- */

static bool is_utf8(const char *bytes, size_t length) {
    for (size_t i = 0; i < length;) {
        size_t step = sw_utf8_length((const unsigned char *)bytes + i, length - i);
        if (step == 0)
            return false;
        i += step;
    }
    return true;
}

Test(utf8, valid) {
    static const sample rows[] = {
        BYTES("\x00"),
        BYTES("\x7f"),
        BYTES("\xc2\x80"),
        BYTES("\xdf\xbf"),
        BYTES("\xe0\xa0\x80"),
        BYTES("\xed\x9f\xbf"),
        BYTES("\xee\x80\x80"),
        BYTES("\xef\xbf\xbf"),
        BYTES("\xf0\x90\x80\x80"),
        BYTES("\xf4\x8f\xbf\xbf"),
        BYTES("\xc3\xa9"),
        BYTES("\xe2\x82\xac"),
        BYTES("\xf0\x9f\x98\x80"),
        BYTES("\xef\xbb\xbf\x41"),
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        cr_expect(is_utf8(rows[i].bytes, rows[i].length), "row %zu", i);
}

static const sample broken_utf8[] = {
    /* overlong */
    BYTES("\xc0\x80"),
    BYTES("\xc0\xaf"),
    BYTES("\xc1\xbf"),
    BYTES("\xe0\x80\x80"),
    BYTES("\xe0\x9f\xbf"),
    BYTES("\xf0\x80\x80\xaf"),
    BYTES("\xf0\x8f\xbf\xbf"),
    /* surrogates, too high */
    BYTES("\xed\xa0\x80"),
    BYTES("\xed\xbf\xbf"),
    BYTES("\xf4\x90\x80\x80"),
    BYTES("\xf5\x80\x80\x80"),
    BYTES("\xf8\x88\x80\x80\x80"),
    BYTES("\xfe"),
    BYTES("\xff"),
    /* broken */
    BYTES("\x80"),
    BYTES("\xbf"),
    BYTES("\xc3"),
    BYTES("\xe2\x82"),
    BYTES("\xf0\x9f\x98"),
    BYTES("\xc3\x28"),
};

Test(utf8, refused) {
    for (size_t i = 0; i < COUNT(broken_utf8); i++)
        cr_expect_not(is_utf8(broken_utf8[i].bytes, broken_utf8[i].length), "row %zu", i);
}

Test(utf8, written_as_it_is_read) {
    static const uint32_t points[] = {0x7F, 0x80, 0x7FF, 0x800, 0xFFFF, 0x10000, 0x10FFFF};
    static const size_t lengths[] = {1, 2, 2, 3, 3, 4, 4};
    for (size_t i = 0; i < COUNT(points); i++) {
        sw_text text = {0};
        sw_utf8_add(&text, points[i]);
        cr_expect_eq(text.length, lengths[i], "row %zu", i);
        cr_expect(is_utf8(text.bytes, text.length), "row %zu", i);
        sw_text_free(&text);
    }
}

Test(plain, harmless_on_a_terminal) {
    static const struct {
        const char *text, *shown;
    } rows[] = {
        {"plain", "plain"},
        {"\x1b[31mred", "?[31mred"},
        {"a\nb\x7f", "a?b?"},
        {"\xc2\x9b"
         "x",
         "?x"},
        {"\xe2\x80\xae"
         "x",
         "?x"},
        {"gr\xc3\xb6\xc3\x9f"
         "e",
         "gr\xc3\xb6\xc3\x9f"
         "e"},
        {"0123456789012345678901234567890123456789012345678901234567890123",
         "0123456789012345678901234567890123456789012345678901234567890123"},
        {"01234567890123456789012345678901234567890123456789012345678901234",
         "0123456789012345678901234567890123456789012345678901234567890123..."},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        sw_text text = {0};
        sw_plain_add(&text, rows[i].text);
        cr_expect_str_eq(text.bytes, rows[i].shown, "row %zu", i);
        sw_text_free(&text);
    }
}

/* ---- JSON: RFC 8259 ------------------------------------------------------------------ */

static outcome read_json(const char *bytes, size_t length) {
    outcome is = start();
    /* A copy without a NUL behind it: reading one byte too far shows. */
    char *copy = malloc(length == 0 ? 1 : length);
    if (length > 0)
        memcpy(copy, bytes, length);
    is.status = sw_json_read(&is.json, is.arena, "t.json", copy, length, is.complaints);
    free(copy);
    return is;
}

static void expect_refused(const char *bytes, size_t length, const char *place, const char *what) {
    outcome is = read_json(bytes, length);
    const sw_complaint *first = sw_complaints_get(is.complaints, 0);
    cr_expect_eq(is.status, SW_BAD_DATA, "%.40s", bytes);
    cr_expect_eq(sw_complaints_count(is.complaints), 1, "%.40s", bytes);
    if (first != NULL) {
        cr_expect_str_eq(first->file, "t.json");
        cr_expect_str_eq(first->place, place, "%.40s: at %s", bytes, first->place);
        cr_expect_not_null(strstr(first->what, what), "%.40s: %s", bytes, first->what);
        cr_expect(first->why[0] != '\0' && first->mend[0] != '\0', "%.40s", bytes);
    }
    finish(&is);
}

Test(json, valid) {
    static const sample rows[] = {
        BYTES("[]"),
        BYTES("{}"),
        BYTES("null"),
        BYTES("true"),
        BYTES("false"),
        BYTES("\"a\""),
        BYTES("1"),
        BYTES("-0"),
        BYTES("1e5"),
        BYTES("1E+2"),
        BYTES("0.1"),
        BYTES("0e0"),
        BYTES("-1.5e-3"),
        BYTES("\"\\u0041\""),
        BYTES("\"\\ud83d\\ude00\""),
        BYTES(" \t\r\n[ 1 , 2 ]\n"),
        BYTES("{\"a\":{\"a\":1},\"b\":[{\"a\":2}]}"),
        BYTES("9007199254740991"),
        BYTES("-9007199254740991"),
        BYTES("1e307"),
        BYTES("\"\x7f\""),
        BYTES("\"\xef\xbb\xbf\""),
        BYTES("\"\\\"\\\\\\/\\b\\f\\n\\r\\t\""),
        BYTES("0.00000000000000000000000000000000000000000000000000001"),
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        outcome is = read_json(rows[i].bytes, rows[i].length);
        cr_expect_eq(is.status, SW_OK, "%s: %s", rows[i].bytes, what_of(&is));
        finish(&is);
    }
}

Test(json, grammar_refused) {
    static const struct {
        sample text;
        const char *what;
    } rows[] = {
        {BYTES("[1,]"), "no value"},
        {BYTES("{\"a\":1,}"), "no name"},
        {BYTES("01"), "no value"},
        {BYTES("-01"), "no value"},
        {BYTES(".5"), "no value"},
        {BYTES("1."), "no value"},
        {BYTES("1.e1"), "no value"},
        {BYTES("1e"), "no value"},
        {BYTES("1e+"), "no value"},
        {BYTES("-"), "no value"},
        {BYTES("+1"), "no value"},
        {BYTES("0x1"), "behind its end"},
        {BYTES("'a'"), "no value"},
        {BYTES("\"\\x\""), "escape"},
        {BYTES("\"\\u12g4\""), "\\u escape"},
        {BYTES("\"\\u12"), "\\u escape"},
        {BYTES("\"\\"), "escape"},
        {BYTES("\"a\tb\""), "control"},
        {BYTES("\"a\nb\""), "control"},
        {BYTES("[1 2]"), "no comma"},
        {BYTES("{\"a\" 1}"), "no colon"},
        {BYTES("{\"a\":1 \"b\":2}"), "no comma"},
        {BYTES("{a:1}"), "no name"},
        {BYTES("{1:1}"), "no name"},
        {BYTES("[}"), "no value"},
        {BYTES("{]"), "no name"},
        {BYTES("[1}"), "no comma"},
        {BYTES(""), "too early"},
        {BYTES("  "), "too early"},
        {BYTES("["), "too early"},
        {BYTES("[1"), "too early"},
        {BYTES("{\"a\":"), "too early"},
        {BYTES("{\"a"), "too early"},
        {BYTES("\"a"), "too early"},
        {BYTES("[1] x"), "behind its end"},
        {BYTES("[1][2]"), "behind its end"},
        {BYTES("{}}"), "behind its end"},
        {BYTES("tru"), "word"},
        {BYTES("truth"), "word"},
        {BYTES("nul"), "word"},
        {BYTES("True"), "no value"},
        {BYTES("NaN"), "no value"},
        {BYTES("Infinity"), "no value"},
        {BYTES("-Infinity"), "no value"},
        {BYTES("// x\n1"), "no value"},
        {BYTES("[1]\0"), "behind its end"},
        {BYTES("\0"), "no value"},
        {BYTES("\v1"), "no value"},
        {BYTES("\xc2\xa0"
               "1"),
         "no value"},
        {BYTES("[\xff]"), "no value"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        expect_refused(rows[i].text.bytes, rows[i].text.length, "line 1", rows[i].what);
}

/* What the parser behind the gate would have let through, one by one. */
Test(json, parser_traps) {
    static const struct {
        sample text;
        const char *what;
    } rows[] = {
        {BYTES("{\"a\":1,\"a\":2}"), "\"a\" twice"},
        {BYTES("{\"a\":1,\"\\u0061\":2}"), "\"a\" twice"},
        {BYTES("{\"\":1,\"\":2}"), "\"\" twice"},
        {BYTES("{\"x\":{\"b\":1,\"c\":2,\"b\":3}}"), "\"b\" twice"},
        {BYTES("{\"\xf0\x9f\x98\x80\":1,\"\\ud83d\\ude00\":2}"), "twice"},
        {BYTES("\xef\xbb\xbf[]"), "byte order mark"},
        {BYTES("\"a\\u0000b\""), "\\u0000"},
        {BYTES("{\"a\\u0000b\":1}"), "\\u0000"},
        {BYTES("\"a\0b\""), "control"},
        {BYTES("1e400"), "too large"},
        {BYTES("-1e400"), "too large"},
        {BYTES("1e99999999999999999999"), "too large"},
        {BYTES("0.001e400"), "too large"},
        {BYTES("9007199254740992"), "too large"},
        {BYTES("9007199254740993"), "too large"},
        {BYTES("-9007199254740993"), "too large"},
        {BYTES("99999999999999999999999"), "too large"},
        {BYTES("\"\\ud800\""), "surrogate"},
        {BYTES("\"\\ud800x\""), "surrogate"},
        {BYTES("\"\\udc00\""), "surrogate"},
        {BYTES("\"\\ud800\\ud800\""), "surrogate"},
        {BYTES("\"\\ud800\\u0041\""), "surrogate"},
        {BYTES("\"\\ud83d\\ude0\""), "surrogate"},
        {BYTES("0.0000000000000000000000000000000000000000000000000000000000001"), "too long"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        expect_refused(rows[i].text.bytes, rows[i].text.length, "line 1", rows[i].what);
}

Test(json, names_differ_by_case) {
    outcome is = read_json("{\"A\":1,\"a\":2}", 13);
    cr_assert_eq(is.status, SW_OK);
    cr_expect_eq(sw_json_get(is.json, "a")->number, 2);
    cr_expect_eq(sw_json_get(is.json, "A")->number, 1);
    cr_expect_null(sw_json_get(is.json, "b"));
    cr_expect_null(sw_json_get(NULL, "a"));
    finish(&is);
}

Test(json, every_repeated_name_is_said) {
    static const char text[] = "{\"a\":1,\n\"b\":{\"c\":1,\n\"c\":2},\n\"a\":3,\n\"a\":4}";
    static const char *const places[] = {"line 3", "line 4", "line 5"};
    outcome is = read_json(text, sizeof text - 1);
    cr_expect_eq(is.status, SW_BAD_DATA);
    cr_assert_eq(sw_complaints_count(is.complaints), COUNT(places));
    for (size_t i = 0; i < COUNT(places); i++)
        cr_expect_str_eq(sw_complaints_get(is.complaints, i)->place, places[i]);
    finish(&is);
}

Test(json, lines_are_counted) {
    expect_refused("{\n\"a\": [\n1,\r\n2\n3]}", 18, "line 5", "no comma");
    expect_refused("[\n\n\n", 4, "line 4", "too early");
}

Test(json, broken_utf8_in_texts) {
    for (size_t i = 0; i < COUNT(broken_utf8); i++) {
        char text[16] = "\"";
        memcpy(text + 1, broken_utf8[i].bytes, broken_utf8[i].length);
        text[1 + broken_utf8[i].length] = '"';
        expect_refused(text, broken_utf8[i].length + 2, "line 1", "not UTF-8");
    }
}

Test(json, tree) {
    static const char text[] =
        "{\"n\":null,\"t\":true,\"f\":false,\"x\":-2.5e1,\"s\":\"\\u00e9\\ud83d\\ude00\\n\","
        "\"l\":[1,[],{}]}";
    outcome is = read_json(text, sizeof text - 1);
    cr_assert_eq(is.status, SW_OK);
    cr_assert_eq(is.json->kind, SW_JSON_OBJECT);
    cr_assert_eq(is.json->count, 6);
    static const char *const names[] = {"n", "t", "f", "x", "s", "l"};
    for (size_t i = 0; i < 6; i++)
        cr_expect_str_eq(is.json->children[i].name, names[i], "in file order");
    cr_expect_eq(sw_json_get(is.json, "n")->kind, SW_JSON_NULL);
    cr_expect(sw_json_get(is.json, "t")->kind == SW_JSON_BOOL && sw_json_get(is.json, "t")->truth);
    cr_expect(sw_json_get(is.json, "f")->kind == SW_JSON_BOOL && !sw_json_get(is.json, "f")->truth);
    cr_expect_eq(sw_json_get(is.json, "x")->number, -25);
    cr_expect_str_eq(sw_json_get(is.json, "s")->text, "\xc3\xa9\xf0\x9f\x98\x80\n");
    const sw_json *list = sw_json_get(is.json, "l");
    cr_assert_eq(list->count, 3);
    cr_expect_eq(list->children[0].number, 1);
    cr_expect_null(list->children[0].name);
    cr_expect_eq(list->children[1].kind, SW_JSON_ARRAY);
    cr_expect_eq(list->children[2].count, 0);
    finish(&is);
}

/* `depth` lists in one another. */
static char *nested(size_t depth, char open, char close) {
    char *text = malloc(depth * 2 + 1);
    memset(text, open, depth);
    memset(text + depth, close, depth);
    text[depth * 2] = '\0';
    return text;
}

Test(json, depth_is_bounded) {
    char *deepest = nested(64, '[', ']'), *deeper = nested(65, '[', ']');
    outcome is = read_json(deepest, 128);
    cr_expect_eq(is.status, SW_OK);
    finish(&is);
    expect_refused(deeper, 130, "line 1", "too deep");
    free(deepest);
    free(deeper);
    char *endless = nested(5000000, '[', ']');
    expect_refused(endless, 10000000, "line 1", "too deep");
    free(endless);
}

Test(json, values_are_bounded) {
    size_t count = 400001;
    char *text = malloc(count * 2 + 1);
    text[0] = '[';
    for (size_t i = 0; i < count; i++) {
        text[1 + i * 2] = '1';
        text[2 + i * 2] = i + 1 == count ? ']' : ',';
    }
    expect_refused(text, count * 2 + 1, "line 1", "too many values");
    free(text);
}

Test(json, many_names_take_no_square_of_time) {
    sw_text text = {0};
    sw_text_add(&text, "{");
    for (int i = 0; i < 200000; i++)
        sw_text_addf(&text, "\"n%d\":%d,", i, i);
    sw_text_add(&text, "\"n0\":0}");
    expect_refused(text.bytes, text.length, "line 1", "\"n0\" twice");
    sw_text_free(&text);
}

/* Every prefix, and every single byte changed, ends in a status. */
Test(json, survives_mutation) {
    static const char text[] = "{\"a\":[1,-2.5e3,\"x\\u00e9\\n\",{\"b\":null,\"c\":[true,false]}]}";
    static const char bytes[] = "\"\\{}[],:0-.eut\x00\x1f\x80\xff";
    for (size_t cut = 0; cut < sizeof text - 1; cut++) {
        outcome is = read_json(text, cut);
        cr_expect_eq(is.status, SW_BAD_DATA, "cut at %zu", cut);
        finish(&is);
        for (size_t b = 0; b < sizeof bytes - 1; b++) {
            char changed[sizeof text];
            memcpy(changed, text, sizeof text);
            changed[cut] = bytes[b];
            is = read_json(changed, sizeof text - 1);
            cr_expect(is.status == SW_OK || is.status == SW_BAD_DATA, "%zu %zu", cut, b);
            cr_expect_eq(is.status == SW_OK, sw_complaints_count(is.complaints) == 0);
            finish(&is);
        }
    }
}
