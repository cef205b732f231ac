/* The words of JSON, byte by byte: strings, numbers, blanks, and the complaint
 * that names the line. */
#ifndef SW_READ_JSON_SCAN_H
#define SW_READ_JSON_SCAN_H

#include "base/base.h"

#define SW_SCAN_END (-1)

typedef struct sw_scan {
    const char *file;
    const unsigned char *bytes;
    size_t length, at, line;
    sw_complaints *complaints;
    bool bad, no_memory;
} sw_scan;

/* The byte at hand, SW_SCAN_END behind the last. */
int sw_scan_peek(const sw_scan *scan);
void sw_scan_blanks(sw_scan *scan);

/* Pass over one string or number; false when it is none. The string's decoded
 * text is appended to `decoded` unless that is NULL. */
bool sw_scan_string(sw_scan *scan, sw_text *decoded);
bool sw_scan_number(sw_scan *scan);

/* Complains of what stands at hand; always false. */
bool sw_scan_fail(sw_scan *scan, const char *why, const char *mend, const char *what);
/* Complains that `name` is given again on `line`. */
void sw_scan_repeated(sw_scan *scan, const char *name, size_t line);

#endif
