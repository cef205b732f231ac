/* Which characters may be shown: each of Unicode's, against the lists of the Unicode Character
 * Database (general category Cc; PropList: Bidi_Control; Zl, Zp; and those without width), from
 * memory. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "read/plain.h"

static bool is_one_of(uint32_t point, const uint32_t (*ranges)[2], size_t count) {
    for (size_t i = 0; i < count; i++)
        if (point >= ranges[i][0] && point <= ranges[i][1])
            return true;
    return false;
}

static const uint32_t hidden[][2] = {
    {0x0000, 0x001F}, {0x007F, 0x009F},                   /* Cc */
    {0x061C, 0x061C}, {0x200E, 0x200F}, {0x202A, 0x202E}, /* Bidi_Control */
    {0x2066, 0x2069}, {0x2028, 0x2029},                   /* Zl, Zp */
    {0x00AD, 0x00AD}, {0x200B, 0x200D},                   /* without width */
    {0x2060, 0x206F}, {0xFEFF, 0xFEFF},
};

/* RFC 3629. */
static size_t write_utf8(char *out, uint32_t point) {
    if (point < 0x80) {
        out[0] = (char)point;
        return 1;
    }
    size_t more = point < 0x800 ? 1 : point < 0x10000 ? 2 : 3;
    static const unsigned char leads[] = {0, 0xC0, 0xE0, 0xF0};
    out[0] = (char)(leads[more] | (point >> (6 * more)));
    for (size_t i = 1; i <= more; i++)
        out[i] = (char)(0x80 | ((point >> (6 * (more - i))) & 0x3F));
    return more + 1;
}

Test(plain, every_character) {
    for (uint32_t point = 0; point <= 0x10FFFF; point++) {
        char bytes[8] = "";
        if (point >= 0xD800 && point <= 0xDFFF)
            continue;
        size_t length = write_utf8(bytes, point);
        bool shown = !is_one_of(point, hidden, sizeof hidden / sizeof *hidden);
        if (sw_is_plain(bytes, length) != shown)
            cr_assert_fail("U+%04X", (unsigned)point);
    }
}

static void is_kept(const char *from, const char *wanted) {
    sw_text text = {0};
    sw_plain_keep(&text, from);
    cr_expect_str_eq(text.bytes == NULL ? "" : text.bytes, wanted);
    sw_text_free(&text);
}

/* Controls become blanks, what cannot be seen goes, all else stays. */
Test(plain, keep) {
    is_kept("", "");
    is_kept("a\tb\x7F"
            "c",
            "a b c");
    is_kept("a\xC2\x80"
            "b\xC2\x9F"
            "c\xC2\xA0"
            "d",
            "a b c\xC2\xA0"
            "d");
    is_kept("a\xE2\x80\x8B"
            "b\xE2\x80\xAE"
            "c\xC2\xAD"
            "d\xEF\xBB\xBF"
            "e",
            "abcde");
    is_kept("a\xFF"
            "b",
            "a b");
    is_kept("\xE2\x80\x90\xF0\x9F\x98\x80", "\xE2\x80\x90\xF0\x9F\x98\x80");
}

static void is_added(const char *from, size_t most, const char *wanted) {
    sw_text text = {0};
    sw_plain_add_most(&text, from, most);
    cr_expect_str_eq(text.bytes == NULL ? "" : text.bytes, wanted);
    sw_text_free(&text);
}

/* A letter is shown whole or not at all; what may not be shown is told by a mark. */
Test(plain, add) {
    is_added("abc", 3, "abc");
    is_added("abcd", 3, "abc...");
    is_added("ab\xC3\xA9", 3, "ab...");
    is_added("ab\xC3\xA9", 4, "ab\xC3\xA9");
    is_added("a\x1B[2J\xE2\x80\xAE\xFF", 20, "a?[2J??");
}
