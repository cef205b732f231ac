/* Text in a declared encoding to UTF-8: nothing is guessed, nothing replaced. */
#ifndef SW_READ_ENCODING_H
#define SW_READ_ENCODING_H

#include "base/base.h"

typedef enum sw_encoding { SW_UTF_8, SW_WINDOWS_1252, SW_UTF_16_LE, SW_UTF_16_BE } sw_encoding;
typedef enum sw_mark { SW_MARK_NONE, SW_MARK_MUST, SW_MARK_MAY } sw_mark;

/* UTF-8 without a mark and without NUL, in `bytes` itself or in the arena. What is not text in the
 * encoding is complained of with its line: SW_BAD_DATA, SW_NO_MEMORY or SW_OK. */
sw_status sw_encoding_read(const char **out, size_t *decoded, sw_arena *arena, const char *file,
                           const char *bytes, size_t length, sw_encoding encoding, sw_mark mark,
                           sw_complaints *complaints);

#endif
