/* UTF-8 per RFC 3629: which byte sequences are characters. */
#include "read/utf8.h"

/* The allowed sequences (Unicode table 3-7): what the second byte may be is all
 * that keeps overlong forms, surrogates and points beyond U+10FFFF out. */
typedef struct form {
    unsigned char first_least, first_most, second_least, second_most;
    size_t length;
} form;

static const form forms[] = {
    {0xC2, 0xDF, 0x80, 0xBF, 2}, {0xE0, 0xE0, 0xA0, 0xBF, 3}, {0xE1, 0xEC, 0x80, 0xBF, 3},
    {0xED, 0xED, 0x80, 0x9F, 3}, {0xEE, 0xEF, 0x80, 0xBF, 3}, {0xF0, 0xF0, 0x90, 0xBF, 4},
    {0xF1, 0xF3, 0x80, 0xBF, 4}, {0xF4, 0xF4, 0x80, 0x8F, 4},
};

static size_t form_length(const form *is, const unsigned char *bytes, size_t length) {
    if (length < is->length || bytes[1] < is->second_least || bytes[1] > is->second_most)
        return 0;
    for (size_t i = 2; i < is->length; i++)
        if (bytes[i] < 0x80 || bytes[i] > 0xBF)
            return 0;
    return is->length;
}

size_t sw_utf8_length(const unsigned char *bytes, size_t length) {
    if (length == 0)
        return 0;
    if (bytes[0] < 0x80)
        return 1;
    for (size_t f = 0; f < sizeof forms / sizeof *forms; f++)
        if (bytes[0] >= forms[f].first_least && bytes[0] <= forms[f].first_most)
            return form_length(&forms[f], bytes, length);
    return 0;
}

void sw_utf8_add(sw_text *text, uint32_t point) {
    char bytes[4];
    size_t length = point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
    static const unsigned char marks[] = {0, 0, 0xC0, 0xE0, 0xF0};
    for (size_t i = length - 1; i > 0; i--) {
        bytes[i] = (char)(0x80 | (point & 0x3F));
        point >>= 6;
    }
    bytes[0] = (char)(marks[length] | point);
    sw_text_add_bytes(text, bytes, length);
}
