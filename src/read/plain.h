/* Text from a file, made safe to show on one line of a terminal. */
#ifndef SW_READ_PLAIN_H
#define SW_READ_PLAIN_H

#include "base/base.h"

/* Appends at most 64 bytes of valid UTF-8 `text`: control characters as "?",
 * and "..." for what is left out. */
void sw_plain_add(sw_text *text, const char *shown);

#endif
