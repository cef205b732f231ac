/* UTF-8 per RFC 3629, one character at a time. */
#ifndef SW_READ_UTF8_H
#define SW_READ_UTF8_H

#include "base/base.h"

/* Bytes of the character at `bytes`, of which `length` are left: 1 to 4; 0 when
 * they are no character (overlong, a surrogate, beyond U+10FFFF, cut short). */
size_t sw_utf8_length(const unsigned char *bytes, size_t length);

/* Appends one code point, which is a valid one. */
void sw_utf8_add(sw_text *text, uint32_t point);

#endif
