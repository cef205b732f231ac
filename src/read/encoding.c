/* Windows-1252 by the code page's table (bytes 81, 8D, 8F, 90 and 9D stand for nothing; the rest
 * from A0 up is ISO 8859-1), UTF-16 per RFC 2781, UTF-8 per RFC 3629. */
#include "read/encoding.h"

#include <string.h>

#include "read/utf8.h"

static const uint16_t upper[32] = {0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,
                                   0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0,      0x017D, 0,
                                   0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,
                                   0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

typedef struct decoding {
    sw_arena *arena;
    const char *file;
    const unsigned char *bytes;
    size_t length, line;
    sw_encoding encoding;
    sw_text text;
    sw_complaints *complaints;
} decoding;

static const char *name_of(sw_encoding encoding) {
    static const char *const names[] = {"UTF-8", "windows-1252", "UTF-16, low byte first",
                                        "UTF-16, high byte first"};
    return names[encoding];
}

static bool wrong(decoding *in, const char *what) {
    const char *place = sw_arena_format(in->arena, "line %zu", in->line);
    const char *why =
        sw_arena_format(in->arena, "the profile says that the list is %s", name_of(in->encoding));
    sw_complain(in->complaints, in->file, place, why,
                "choose the profile of this list, or save it anew in that encoding", "%s", what);
    return false;
}

/* ---- marks ---------------------------------------------------------------------------- */

typedef struct form {
    const char *bytes;
    size_t length;
} form;

static bool begins(const decoding *in, form mark) {
    return in->length >= mark.length && memcmp(in->bytes, mark.bytes, mark.length) == 0;
}

static bool take_mark(decoding *in, sw_mark mark) {
    static const form marks[] = {[SW_UTF_8] = {"\xEF\xBB\xBF", 3},
                                 [SW_UTF_16_LE] = {"\xFF\xFE", 2},
                                 [SW_UTF_16_BE] = {"\xFE\xFF", 2}};
    bool own = in->encoding != SW_WINDOWS_1252 && begins(in, marks[in->encoding]);
    if (!own && (begins(in, marks[SW_UTF_8]) || begins(in, marks[SW_UTF_16_LE]) ||
                 begins(in, marks[SW_UTF_16_BE])))
        return wrong(in, "begins with the byte order mark of another encoding");
    if (own && mark == SW_MARK_NONE)
        return wrong(in, "begins with a byte order mark, and the profile says that it has none");
    if (!own && mark == SW_MARK_MUST)
        return wrong(in, "begins without the byte order mark that the profile asks for");
    if (own) {
        in->bytes += marks[in->encoding].length;
        in->length -= marks[in->encoding].length;
    }
    return true;
}

/* ---- letters ---------------------------------------------------------------------------- */

static bool add(decoding *in, uint32_t point) {
    if (point == 0)
        return wrong(in, "holds a NUL, which is no text");
    in->line += point == '\n';
    sw_utf8_add(&in->text, point);
    return true;
}

static bool check_utf8(decoding *in) {
    for (size_t i = 0; i < in->length;) {
        size_t step = sw_utf8_length(in->bytes + i, in->length - i);
        if (step == 0)
            return wrong(in, "holds bytes that are not UTF-8");
        if (in->bytes[i] == 0)
            return wrong(in, "holds a NUL, which is no text");
        in->line += in->bytes[i] == '\n';
        i += step;
    }
    return true;
}

static bool from_1252(decoding *in) {
    for (size_t i = 0; i < in->length; i++) {
        uint32_t point = in->bytes[i];
        if (point >= 0x80 && point < 0xA0) {
            point = upper[point - 0x80];
            if (point == 0)
                return wrong(in, "holds a byte that stands for no letter in windows-1252");
        }
        if (!add(in, point))
            return false;
    }
    return true;
}

static uint32_t unit(const decoding *in, size_t i) {
    uint32_t first = in->bytes[i], second = in->bytes[i + 1];
    return in->encoding == SW_UTF_16_LE ? first | second << 8 : first << 8 | second;
}

static bool from_utf16(decoding *in) {
    for (size_t i = 0; i < in->length; i += 2) {
        if (in->length - i < 2)
            return wrong(in, "ends with half of a letter");
        uint32_t point = unit(in, i);
        if (point >= 0xD800 && point < 0xE000) {
            uint32_t low = point < 0xDC00 && in->length - i >= 4 ? unit(in, i + 2) : 0;
            if (low < 0xDC00 || low >= 0xE000)
                return wrong(in, "holds one half of a pair alone");
            point = 0x10000 + ((point - 0xD800) << 10) + (low - 0xDC00);
            i += 2;
        }
        if (!add(in, point))
            return false;
    }
    return true;
}

sw_status sw_encoding_read(const char **out, size_t *decoded, sw_arena *arena, const char *file,
                           const char *bytes, size_t length, sw_encoding encoding, sw_mark mark,
                           sw_complaints *complaints) {
    decoding in = {.arena = arena,
                   .file = file,
                   .bytes = (const unsigned char *)bytes,
                   .length = length,
                   .line = 1,
                   .encoding = encoding,
                   .complaints = complaints};
    bool good = take_mark(&in, mark);
    if (good)
        good = encoding == SW_UTF_8          ? check_utf8(&in)
               : encoding == SW_WINDOWS_1252 ? from_1252(&in)
                                             : from_utf16(&in);
    sw_status status = in.text.failed ? SW_NO_MEMORY : good ? SW_OK : SW_BAD_DATA;
    if (status == SW_OK && encoding == SW_UTF_8) {
        *out = (const char *)in.bytes;
        *decoded = in.length;
    } else if (status == SW_OK) {
        const char *kept =
            sw_arena_text(arena, in.text.bytes == NULL ? "" : in.text.bytes, in.text.length);
        status = kept == NULL ? SW_NO_MEMORY : SW_OK;
        *out = kept == NULL ? "" : kept;
        *decoded = in.text.length;
    }
    sw_text_free(&in.text);
    return status;
}
