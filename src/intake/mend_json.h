/*
 * JSON as tools really write it, made into the JSON that the gate lets through. Only bytes are
 * mended: messages between the lines go, words that are no value become null, a name given again
 * is told apart ("name #2"), bytes that are no text become U+FFFD, commas too many or too few are
 * set right, several texts in a row become a list. No value is made up. From the first fault that
 * is none of these on, the text is cut, and what is open is closed.
 */
#ifndef SW_INTAKE_MEND_JSON_H
#define SW_INTAKE_MEND_JSON_H

#include "base/base.h"

/* Dumps of one machine hold some thousand values; more costs time and memory for nothing. */
#define SW_MEND_VALUE_LIMIT ((size_t)200000)
#define SW_MEND_LIMIT ((size_t)1000) /* places mended in one file; more is no dump */

typedef struct sw_mended {
    const char *bytes; /* in the arena */
    size_t length;
    bool whole; /* nothing was cut */
} sw_mended;

/* What was mended and where it was cut is told in `faults`. SW_BAD_DATA when nothing stands before
 * the first fault; SW_NO_MEMORY; else SW_OK. Neither recursive nor quadratic. */
sw_status sw_mend_json(sw_mended *out, sw_arena *arena, const char *file, const char *bytes,
                       size_t length, sw_complaints *faults);

#endif
