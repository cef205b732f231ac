/* A JSON tree being written, byte-stable, by cJSON. */
#ifndef SW_RENDER_JSON_WRITER_H
#define SW_RENDER_JSON_WRITER_H

#include "base/base.h"

typedef struct sw_writer sw_writer; /* an object or array under way */

/* A new root object; NULL when memory is out. A failed addition is remembered
 * and makes sw_writer_finish fail, so callers need not check each one. */
sw_writer *sw_writer_new(void);
/* The text (free() it) and the end of the writer, or SW_NO_MEMORY. */
sw_status sw_writer_finish(char **out, sw_writer *root);

/* `name` is ignored inside arrays. Children end with their root. */
sw_writer *sw_writer_object(sw_writer *in, const char *name);
sw_writer *sw_writer_array(sw_writer *in, const char *name);
void sw_writer_text(sw_writer *in, const char *name, const char *text);  /* NULL: null */
void sw_writer_integer(sw_writer *in, const char *name, int64_t number); /* |n| < 2^53 */
/* A number as text, rounded once. */
void sw_writer_rounded(sw_writer *in, const char *name, double number, int decimals);
/* A measured number, to six decimals. */
void sw_writer_number(sw_writer *in, const char *name, double number);
/* A number with the fewest digits, of 15 to 17, with which it reads back equal. */
void sw_writer_exact(sw_writer *in, const char *name, double number);
void sw_writer_bool(sw_writer *in, const char *name, bool truth);
/* Exact decimals as text, so that no reader can round them. */
void sw_writer_money(sw_writer *in, const char *name, int64_t minor, int digits);
void sw_writer_millionths(sw_writer *in, const char *name, int64_t millionths);
void sw_writer_milli(sw_writer *in, const char *name, int64_t milli, int decimals);

#endif
