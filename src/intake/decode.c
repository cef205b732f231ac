/* Text as UTF-8, whatever a shell wrote it in. */
#include <string.h>

#include "intake/tell.h"
#include "read/utf8.h"

typedef enum order { NEITHER, LITTLE, BIG } order;

static bool is_ascii(unsigned char byte) {
    return (byte >= 0x20 && byte < 0x7F) || byte == '\n' || byte == '\r' || byte == '\t';
}

/* Without a mark: two letters of ASCII, each beside a zero. */
static order order_of(const unsigned char *at, size_t length) {
    if (length >= 2 && at[0] == 0xFF && at[1] == 0xFE)
        return LITTLE;
    if (length >= 2 && at[0] == 0xFE && at[1] == 0xFF)
        return BIG;
    if (length < 4)
        return NEITHER;
    if (is_ascii(at[0]) && at[1] == 0 && is_ascii(at[2]) && at[3] == 0)
        return LITTLE;
    return at[0] == 0 && is_ascii(at[1]) && at[2] == 0 && is_ascii(at[3]) ? BIG : NEITHER;
}

static uint32_t unit(const unsigned char *at, order is) {
    return is == LITTLE ? at[0] | (uint32_t)at[1] << 8 : at[1] | (uint32_t)at[0] << 8;
}

/* Halves of pairs that stand alone become U+FFFD, and a byte left over at the end too. */
static void add_units(sw_text *out, const unsigned char *bytes, size_t length, order is) {
    size_t at = 0;
    while (length - at >= 2) {
        uint32_t point = unit(bytes + at, is);
        at += 2;
        if (point >= 0xD800 && point < 0xDC00 && length - at >= 2) {
            uint32_t low = unit(bytes + at, is);
            if (low >= 0xDC00 && low < 0xE000) {
                point = 0x10000 + ((point - 0xD800) << 10) + (low - 0xDC00);
                at += 2;
            }
        }
        if (point >= 0xD800 && point < 0xE000)
            point = 0xFFFD;
        if (point != 0xFEFF)
            sw_utf8_add(out, point);
    }
    if (at < length)
        sw_utf8_add(out, 0xFFFD);
}

const char *sw_dump_decode(size_t *decoded, sw_arena *arena, const char *bytes, size_t length) {
    order is = order_of((const unsigned char *)bytes, length);
    bool marked = length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0;
    *decoded = marked ? length - 3 : length;
    if (is == NEITHER)
        return marked ? bytes + 3 : bytes;
    sw_text text = {0};
    add_units(&text, (const unsigned char *)bytes, length, is);
    const char *kept = text.failed ? NULL : sw_arena_text(arena, text.bytes, text.length);
    *decoded = text.length;
    sw_text_free(&text);
    return kept;
}
