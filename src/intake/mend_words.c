/* Texts, names and words of JSON that is not quite sound. */
#include <stdlib.h>
#include <string.h>

#include "intake/mend_json.h"
#include "intake/mend_parts.h"
#include "read/json_scan.h"
#include "read/utf8.h"

#define REPLACEMENT "\xEF\xBF\xBD"

/* ---- texts ---------------------------------------------------------------------------- */

static void keep_bytes(sw_text *decoded, const char *bytes, size_t length) {
    if (decoded != NULL)
        sw_text_add_bytes(decoded, bytes, length);
}

/* The number of four hexadecimal digits; -1 when they are none. */
static long hex4(const char *at, size_t left) {
    long number = 0;
    if (left < 4)
        return -1;
    for (size_t i = 0; i < 4; i++) {
        char byte = at[i];
        long digit = byte >= '0' && byte <= '9'   ? byte - '0'
                     : byte >= 'a' && byte <= 'f' ? byte - 'a' + 10
                     : byte >= 'A' && byte <= 'F' ? byte - 'A' + 10
                                                  : -1;
        if (digit < 0)
            return -1;
        number = number * 16 + digit;
    }
    return number;
}

static bool is_high(long point) { return point >= 0xD800 && point <= 0xDBFF; }
static bool is_low(long point) { return point >= 0xDC00 && point <= 0xDFFF; }

/* Behind "\u": how many bytes the escape takes in all, 0 when it is none; the point is -1 for what
 * is no character. */
static size_t unicode(const char *at, size_t left, long *point) {
    *point = left < 2 ? -1 : hex4(at + 2, left - 2);
    if (*point < 0)
        return 0;
    if (is_high(*point) && left >= 12 && at[6] == '\\' && at[7] == 'u') {
        long low = hex4(at + 8, left - 8);
        if (is_low(low)) {
            *point = 0x10000 + ((*point - 0xD800) << 10) + (low - 0xDC00);
            return 12;
        }
    }
    if (*point == 0 || is_high(*point) || is_low(*point))
        *point = -1;
    return 6;
}

static void escape(sw_mend *to, sw_text *decoded) {
    static const char letters[] = "\"\\/bfnrt", meant[] = "\"\\/\b\f\n\r\t";
    const char *at = to->text.bytes + to->at;
    size_t left = to->length - to->at;
    const char *letter = left < 2 || at[1] == '\0' ? NULL : strchr(letters, at[1]);
    long point = -1;
    size_t taken = left >= 2 && at[1] == 'u' ? unicode(at, left, &point) : 0;
    if (letter != NULL) {
        keep_bytes(decoded, meant + (letter - letters), 1);
        to->at += 2;
    } else if (taken > 0) {
        if (point < 0) {
            sw_mend_edit(to, SW_MEND_BYTES, to->at, taken, REPLACEMENT);
            keep_bytes(decoded, REPLACEMENT, 3);
        } else if (decoded != NULL) {
            sw_utf8_add(decoded, (uint32_t)point);
        }
        to->at += taken;
    } else {
        /* A backslash that escapes nothing is itself. */
        sw_mend_edit(to, SW_MEND_BYTES, to->at, 0, "\\");
        keep_bytes(decoded, "\\", 1);
        to->at++;
    }
}

static void plain(sw_mend *to, sw_text *decoded) {
    const char *at = to->text.bytes + to->at;
    size_t width = sw_utf8_length((const unsigned char *)at, to->length - to->at);
    if (width == 0 || (unsigned char)*at < 0x20) {
        sw_mend_edit(to, SW_MEND_BYTES, to->at, 1, REPLACEMENT);
        keep_bytes(decoded, REPLACEMENT, 3);
        width = 1;
    } else {
        keep_bytes(decoded, at, width);
    }
    to->at += width;
}

/* An end of line within a text is no damaged byte: there a quote is missing. */
static bool text(sw_mend *to, sw_text *decoded) {
    to->at++;
    for (int byte = sw_mend_peek(to);
         byte != SW_SCAN_END && byte != '\n' && !to->no_memory && to->mended <= SW_MEND_LIMIT;
         byte = sw_mend_peek(to)) {
        if (byte == '"') {
            to->at++;
            return true;
        }
        if (byte == '\\')
            escape(to, decoded);
        else
            plain(to, decoded);
    }
    return false;
}

bool sw_mend_take_text(sw_mend *to) { return text(to, NULL); }

/* ---- names ---------------------------------------------------------------------------- */

bool sw_mend_take_name(sw_mend *to) {
    sw_mend_named kept = {.offset = to->name_bytes.length, .begin = to->at};
    if (!text(to, &to->name_bytes))
        return false;
    kept.end = to->at;
    sw_text_add_bytes(&to->name_bytes, "", 1);
    if (to->name_bytes.failed || !SW_GROW(to->names, to->name_room, to->name_count))
        to->no_memory = true;
    else
        to->names[to->name_count++] = kept;
    return !to->no_memory;
}

static int by_text(const void *left, const void *right) {
    const sw_mend_named *a = left, *b = right;
    int order = strcmp(a->text, b->text);
    return order != 0 ? order : (a->begin > b->begin) - (a->begin < b->begin);
}

static bool is_taken(const sw_mend_named *names, size_t count, const char *wanted) {
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = strcmp(names[middle].text, wanted);
        if (order == 0)
            return true;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return false;
}

/* " #2" for the second of a name, or the next number that no other name has. */
static const char *apart(sw_mend *to, const sw_mend_named *names, size_t count, const char *name,
                         size_t *number) {
    for (;;) {
        const char *wanted = sw_arena_format(to->arena, "%s #%zu", name, ++*number);
        if (wanted == NULL) {
            to->no_memory = true;
            return "";
        }
        if (!is_taken(names, count, wanted))
            return wanted + strlen(name);
    }
}

void sw_mend_close_names(sw_mend *to, size_t first, size_t first_byte) {
    size_t count = to->name_count > first ? to->name_count - first : 0;
    sw_mend_named *names = count > 0 ? to->names + first : NULL;
    for (size_t i = 0; i < count; i++)
        names[i].text = to->name_bytes.bytes + names[i].offset;
    if (count > 1)
        qsort(names, count, sizeof *names, by_text);
    size_t number = 1;
    for (size_t i = 1; i < count && to->notes[SW_MEND_NAMES].count <= SW_MEND_LIMIT; i++) {
        if (strcmp(names[i].text, names[i - 1].text) != 0)
            number = 1;
        else
            sw_mend_edit(to, SW_MEND_NAMES, names[i].end - 1, 0,
                         apart(to, names, count, names[i].text, &number));
    }
    if (count > 0)
        to->name_count = first;
    if (to->name_bytes.length > first_byte)
        to->name_bytes.length = first_byte;
}

void sw_mend_drop_names(sw_mend *to, size_t from) {
    while (to->name_count > 0 && to->names[to->name_count - 1].begin >= from)
        to->name_count--;
}

/* ---- words ---------------------------------------------------------------------------- */

static bool is_of_word(int byte) {
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
           (byte >= '0' && byte <= '9') || byte == '+' || byte == '-' || byte == '.';
}

static bool is_one_of(const char *at, size_t length, const char *const *words, bool any_case) {
    for (; *words != NULL; words++) {
        size_t same = 0;
        while (same < length && (*words)[same] != '\0' &&
               (any_case ? at[same] | 0x20 : at[same]) == (*words)[same])
            same++;
        if (same == length && (*words)[same] == '\0')
            return true;
    }
    return false;
}

/* A number that the gate would refuse: of digits, too large, too long or with a leading zero. */
static bool is_digits(const char *at, size_t length) {
    size_t digits = 0;
    for (size_t i = 0; i < length; i++) {
        bool digit = at[i] >= '0' && at[i] <= '9';
        digits += digit;
        if (!digit && strchr("+-.eE", at[i]) == NULL)
            return false;
    }
    return digits > 0;
}

bool sw_mend_take_word(sw_mend *to) {
    static const char *const sound[] = {"true", "false", "null", NULL};
    static const char *const nothing[] = {"nan", "inf", "infinity", NULL};
    size_t begin = to->at;
    while (is_of_word(sw_mend_peek(to)))
        to->at++;
    const char *at = to->text.bytes + begin;
    size_t length = to->at - begin;
    if (length == 0 || is_one_of(at, length, sound, false))
        return length > 0;
    sw_scan scan = {.bytes = (const unsigned char *)at, .length = length, .line = 1};
    if (sw_scan_number(&scan) && scan.at == length)
        return true;
    size_t sign = *at == '-' || *at == '+';
    bool mendable = is_one_of(at + sign, length - sign, nothing, true) || is_digits(at, length);
    if (mendable)
        sw_mend_edit(to, SW_MEND_WORDS, begin, length, "null");
    else
        to->at = begin;
    return mendable;
}
