/* Strings and numbers of JSON, held to the grammar of RFC 8259. */
#include "read/json_scan.h"

#include <stdio.h>
#include <string.h>

#include "read/plain.h"
#include "read/utf8.h"

/* The parser behind the gate reads no longer number. */
#define NUMBER_BYTES 60
/* From here on a number may be none that binary64 holds. */
#define ORDER_LIMIT 308
/* Below it is nothing but 0. */
#define SMALLEST_ORDER (-324)
#define LARGEST_INTEGER "9007199254740991" /* 2^53 - 1 */

static bool fail_on_line(sw_scan *scan, size_t line, const char *why, const char *mend,
                         const char *what) {
    char place[40];
    snprintf(place, sizeof place, "line %zu", line);
    scan->bad = true;
    sw_complain(scan->complaints, scan->file, place, why, mend, "%s", what);
    return false;
}

bool sw_scan_fail(sw_scan *scan, const char *why, const char *mend, const char *what) {
    return fail_on_line(scan, scan->line, why, mend, what);
}

void sw_scan_repeated(sw_scan *scan, const char *name, size_t line) {
    sw_text what = {0};
    sw_text_add(&what, "gives the name \"");
    sw_plain_add(&what, name);
    sw_text_add(&what, "\" twice in one object");
    if (what.failed)
        scan->no_memory = true;
    else
        fail_on_line(scan, line, "only one of the two could be used", "keep one of them",
                     what.bytes);
    sw_text_free(&what);
}

int sw_scan_peek(const sw_scan *scan) {
    return scan->at < scan->length ? scan->bytes[scan->at] : SW_SCAN_END;
}

void sw_scan_blanks(sw_scan *scan) {
    for (; scan->at < scan->length; scan->at++) {
        unsigned char byte = scan->bytes[scan->at];
        if (byte != ' ' && byte != '\t' && byte != '\r' && byte != '\n')
            return;
        scan->line += byte == '\n';
    }
}

/* ---- strings --------------------------------------------------------------------- */

static void decode(sw_text *decoded, uint32_t point) {
    if (decoded != NULL)
        sw_utf8_add(decoded, point);
}

/* Four hexadecimal digits at hand; -1 when they are none. */
static long hex4(sw_scan *scan) {
    static const char digits[] = "0123456789abcdef";
    long number = 0;
    for (int i = 0; i < 4; i++) {
        int byte = sw_scan_peek(scan);
        if (byte >= 'A' && byte <= 'F')
            byte += 'a' - 'A';
        const char *digit = byte <= 0 ? NULL : strchr(digits, byte);
        if (digit == NULL)
            return -1;
        number = number * 16 + (digit - digits);
        scan->at++;
    }
    return number;
}

static bool lone_surrogate(sw_scan *scan) {
    return sw_scan_fail(scan, "half of a surrogate pair is no character",
                        "write both halves, or the character itself in UTF-8",
                        "holds a lone surrogate");
}

/* Behind the "u" of an escape. */
static bool unicode_escape(sw_scan *scan, sw_text *decoded) {
    long point = hex4(scan);
    if (point < 0)
        return sw_scan_fail(scan, "\\u takes four hexadecimal digits", "write all four",
                            "holds a broken \\u escape");
    if (point == 0)
        return sw_scan_fail(scan, "a NUL is no text", "take it away", "holds \\u0000");
    if (point >= 0xDC00 && point <= 0xDFFF)
        return lone_surrogate(scan);
    if (point >= 0xD800 && point <= 0xDBFF) {
        if (scan->length - scan->at < 6 || memcmp(scan->bytes + scan->at, "\\u", 2) != 0)
            return lone_surrogate(scan);
        scan->at += 2;
        long low = hex4(scan);
        if (low < 0xDC00 || low > 0xDFFF)
            return lone_surrogate(scan);
        point = 0x10000 + ((point - 0xD800) << 10) + (low - 0xDC00);
    }
    decode(decoded, (uint32_t)point);
    return true;
}

static bool escape(sw_scan *scan, sw_text *decoded) {
    static const char letters[] = "\"\\/bfnrt", meant[] = "\"\\/\b\f\n\r\t";
    scan->at++;
    int byte = sw_scan_peek(scan);
    scan->at++;
    if (byte == 'u')
        return unicode_escape(scan, decoded);
    const char *letter = byte <= 0 ? NULL : strchr(letters, byte);
    if (letter == NULL)
        return sw_scan_fail(scan, "JSON knows \\\" \\\\ \\/ \\b \\f \\n \\r \\t and \\uXXXX",
                            "double the backslash if it is meant to be one",
                            "holds an escape that JSON does not have");
    decode(decoded, (uint32_t)(unsigned char)meant[letter - letters]);
    return true;
}

static bool plain_character(sw_scan *scan, sw_text *decoded) {
    const unsigned char *at = scan->bytes + scan->at;
    if (*at < 0x20)
        return sw_scan_fail(scan, "control characters and line ends stand in text as escapes",
                            "write \\n, \\t or \\uXXXX; close a quote left open",
                            "holds a raw control character in a text");
    size_t length = sw_utf8_length(at, scan->length - scan->at);
    if (length == 0)
        return sw_scan_fail(scan, "JSON is UTF-8 (RFC 3629)",
                            "save the file as UTF-8, without changing its contents",
                            "holds bytes that are not UTF-8");
    if (decoded != NULL)
        sw_text_add_bytes(decoded, (const char *)at, length);
    scan->at += length;
    return true;
}

bool sw_scan_string(sw_scan *scan, sw_text *decoded) {
    scan->at++;
    for (;;) {
        int byte = sw_scan_peek(scan);
        if (byte == '"') {
            scan->at++;
            return true;
        }
        if (byte == SW_SCAN_END)
            return sw_scan_fail(scan, "a text is still open",
                                "close the quote, or restore the cut-off end", "ends too early");
        if (byte == '\\' ? !escape(scan, decoded) : !plain_character(scan, decoded))
            return false;
    }
}

/* ---- numbers ---------------------------------------------------------------------- */

static bool at_digit(const sw_scan *scan) {
    int byte = sw_scan_peek(scan);
    return byte >= '0' && byte <= '9';
}

static size_t digits(sw_scan *scan) {
    size_t start = scan->at;
    while (at_digit(scan))
        scan->at++;
    return scan->at - start;
}

static bool no_number(sw_scan *scan) {
    return sw_scan_fail(scan, "a number is written like 12, -0.5 or 1e3, and text in quotes",
                        "take away a leading zero or plus, write digits on both sides of a point, "
                        "or put quotes around text",
                        "holds something that is no value");
}

/* Where a number's digits stand, and its exponent. */
typedef struct number {
    const unsigned char *whole, *fraction;
    size_t whole_count, fraction_count;
    long exponent;
    bool has_exponent;
} number;

static bool exponent(sw_scan *scan, number *out) {
    scan->at++;
    bool minus = sw_scan_peek(scan) == '-';
    if (minus || sw_scan_peek(scan) == '+')
        scan->at++;
    if (!at_digit(scan))
        return no_number(scan);
    for (; at_digit(scan); scan->at++)
        if (out->exponent < 100000)
            out->exponent = out->exponent * 10 + (scan->bytes[scan->at] - '0');
    out->has_exponent = true;
    if (minus)
        out->exponent = -out->exponent;
    return true;
}

static bool grammar(sw_scan *scan, number *out) {
    if (sw_scan_peek(scan) == '-')
        scan->at++;
    out->whole = scan->bytes + scan->at;
    out->whole_count = digits(scan);
    if (out->whole_count == 0 || (out->whole_count > 1 && out->whole[0] == '0'))
        return no_number(scan);
    if (sw_scan_peek(scan) == '.') {
        scan->at++;
        out->fraction = scan->bytes + scan->at;
        out->fraction_count = digits(scan);
        if (out->fraction_count == 0)
            return no_number(scan);
    }
    int byte = sw_scan_peek(scan);
    return (byte != 'e' && byte != 'E') || exponent(scan, out);
}

/* The power of ten of the first digit that is not 0; 0 for zero. */
static long order_of(const number *is) {
    if (is->whole[0] != '0')
        return (long)is->whole_count - 1 + is->exponent;
    for (size_t i = 0; i < is->fraction_count; i++)
        if (is->fraction[i] != '0')
            return is->exponent - (long)i - 1;
    return 0;
}

static bool is_large_integer(const number *is) {
    size_t most = sizeof LARGEST_INTEGER - 1;
    if (is->fraction_count > 0 || is->has_exponent || is->whole_count < most)
        return false;
    return is->whole_count > most || memcmp(is->whole, LARGEST_INTEGER, most) > 0;
}

bool sw_scan_number(sw_scan *scan) {
    size_t start = scan->at;
    number found = {0};
    if (!grammar(scan, &found))
        return false;
    if (is_large_integer(&found))
        return sw_scan_fail(scan, "whole numbers beyond 9007199254740991 lose digits",
                            "write a smaller number, or text in quotes",
                            "holds a whole number that is too large");
    if (order_of(&found) >= ORDER_LIMIT)
        return sw_scan_fail(scan, "it is beyond what binary64 holds", "write a smaller number",
                            "holds a number that is too large");
    if (order_of(&found) < SMALLEST_ORDER)
        return sw_scan_fail(scan, "it is nearer to 0 than binary64 holds", "write 0, or round it",
                            "holds a number that is too small");
    if (scan->at - start > NUMBER_BYTES)
        return sw_scan_fail(scan, "a number is written with at most 60 characters",
                            "round it; three decimals are used at most",
                            "holds a number that is too long");
    return true;
}
