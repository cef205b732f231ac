/* Text from a file, made safe to show on one line of a terminal. */
#ifndef SW_READ_PLAIN_H
#define SW_READ_PLAIN_H

#include "base/base.h"

/* Appends at most 64 bytes of valid UTF-8 `text`: control characters and marks that cannot be seen
 * as "?", and "..." for what is left out. */
void sw_plain_add(sw_text *text, const char *shown);
/* The same of any bytes, at most `most` of them. */
void sw_plain_add_most(sw_text *text, const char *shown, size_t most);

/* Valid UTF-8 with nothing in it that moves the cursor, turns the direction of writing round or
 * cannot be seen at all. */
bool sw_is_plain(const char *bytes, size_t length);

/* Appends all of valid UTF-8 `text` that is plain: control characters as blanks, without what
 * cannot be seen or turns the direction of writing round. */
void sw_plain_keep(sw_text *text, const char *from);

#endif
