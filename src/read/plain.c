/* What a file says is shown in complaints; it must neither move the cursor nor
 * flood the screen. */
#include "read/plain.h"

#include <string.h>

#include "read/utf8.h"

#define SHOWN_BYTES 64

/* C0, DEL, C1, and the marks that turn the direction of writing round. */
static bool is_control(const unsigned char *bytes, size_t length) {
    if (length == 1)
        return bytes[0] < 0x20 || bytes[0] == 0x7F;
    if (length == 2)
        return bytes[0] == 0xC2 && bytes[1] < 0xA0;
    return length == 3 && bytes[0] == 0xE2 &&
           ((bytes[1] == 0x80 && bytes[2] >= 0xA8 && bytes[2] <= 0xAE) ||
            (bytes[1] == 0x81 && bytes[2] >= 0xA6 && bytes[2] <= 0xA9));
}

/* Blanks without width, marks of direction and of byte order (U+200B to U+200F, U+2060 to U+206F,
 * U+FEFF, U+061C, U+00AD). */
static bool is_unseen(const unsigned char *bytes, size_t length) {
    if (length == 2)
        return (bytes[0] == 0xC2 && bytes[1] == 0xAD) || (bytes[0] == 0xD8 && bytes[1] == 0x9C);
    if (length != 3)
        return false;
    return (bytes[0] == 0xE2 && bytes[1] == 0x80 && bytes[2] >= 0x8B && bytes[2] <= 0x8F) ||
           (bytes[0] == 0xE2 && bytes[1] == 0x81 && bytes[2] >= 0xA0 && bytes[2] <= 0xAF) ||
           (bytes[0] == 0xEF && bytes[1] == 0xBB && bytes[2] == 0xBF);
}

void sw_plain_add_most(sw_text *text, const char *shown, size_t most) {
    const unsigned char *at = (const unsigned char *)shown;
    size_t length = strlen(shown), done = 0;
    while (done < length) {
        size_t step = sw_utf8_length(at + done, length - done);
        if (done + (step == 0 ? 1 : step) > most) {
            sw_text_add(text, "...");
            return;
        }
        if (step == 0 || is_control(at + done, step) || is_unseen(at + done, step))
            sw_text_add(text, "?");
        else
            sw_text_add_bytes(text, shown + done, step);
        done += step == 0 ? 1 : step;
    }
}

void sw_plain_add(sw_text *text, const char *shown) { sw_plain_add_most(text, shown, SHOWN_BYTES); }

bool sw_is_plain(const char *bytes, size_t length) {
    const unsigned char *at = (const unsigned char *)bytes;
    while (length > 0) {
        size_t step = sw_utf8_length(at, length);
        if (step == 0 || is_control(at, step) || is_unseen(at, step))
            return false;
        at += step;
        length -= step;
    }
    return true;
}

void sw_plain_keep(sw_text *text, const char *from) {
    size_t left = strlen(from);
    for (size_t step = 0; left > 0; from += step, left -= step) {
        step = sw_utf8_length((const unsigned char *)from, left);
        step = step == 0 ? 1 : step;
        if (sw_is_plain(from, step))
            sw_text_add_bytes(text, from, step);
        else if (step == 1 ||
                 (step == 2 && (unsigned char)from[0] == 0xC2 && (unsigned char)from[1] < 0xA0))
            sw_text_add(text, " ");
    }
}
