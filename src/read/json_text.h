/*
 * A JSON value being made or changed, and its text in the style of the shipped files: two blanks a
 * level, what fits into 100 columns on one line; else plain members fill lines, and lists, objects
 * and what the root holds stand each on its own. Equal values give equal bytes, and what is read
 * back is the same value.
 *
 * A failed addition is remembered (memory, a NULL text being one that there was none for, or what
 * JSON cannot say: a number that is not finite, text that is no UTF-8) and makes sw_sketch_write
 * fail, so that callers need not check each one; additions to NULL are ignored.
 */
#ifndef SW_READ_JSON_TEXT_H
#define SW_READ_JSON_TEXT_H

#include "read/json.h"

typedef struct sw_sketch sw_sketch; /* a value; lives in its arena */

/* A new root: an object, or a copy of a value that was read. NULL when memory is out. */
sw_sketch *sw_sketch_new(sw_arena *arena);
sw_sketch *sw_sketch_of(sw_arena *arena, const sw_json *json);

/* Inside an object: the member of that name takes the new value in its place, or stands last when
 * there was none. Inside an array `name` is ignored and the value stands last. */
sw_sketch *sw_sketch_object(sw_sketch *in, const char *name);
sw_sketch *sw_sketch_array(sw_sketch *in, const char *name);
void sw_sketch_text(sw_sketch *in, const char *name, const char *text);
void sw_sketch_whole(sw_sketch *in, const char *name, int64_t number); /* |number| < 2^53 */
void sw_sketch_milli(sw_sketch *in, const char *name, int64_t milli);  /* as a number */
void sw_sketch_truth(sw_sketch *in, const char *name, bool truth);
void sw_sketch_copy(sw_sketch *in, const char *name, const sw_json *json);

/* The member of that name, NULL when there is none; elements by their number. */
sw_sketch *sw_sketch_get(sw_sketch *in, const char *name);
sw_sketch *sw_sketch_element(sw_sketch *in, size_t index);
size_t sw_sketch_count(const sw_sketch *in);
void sw_sketch_remove(sw_sketch *in, const char *name);
/* Moves the member of that name behind the one called `behind`, to the front where that is NULL;
 * nothing where one of them is not there. */
void sw_sketch_move(sw_sketch *in, const char *name, const char *behind);

/* The text with a line end behind it; free() it. SW_NO_MEMORY, SW_BAD_DATA (see above). */
sw_status sw_sketch_write(char **out, const sw_sketch *root);

/* Appends UTF-8 as a JSON text, in its quotes. */
void sw_json_text_add(sw_text *to, const char *text);

/* A number with the fewest digits, of 15 to 17, with which it reads back equal; NULL when it is not
 * finite, or memory is out. */
const char *sw_json_number_text(sw_arena *arena, double number);

#endif
