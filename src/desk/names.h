/* What a catalog calls things, for the page's pickers: FORMATS.md section 37. */
#ifndef SW_DESK_NAMES_H
#define SW_DESK_NAMES_H

#include "base/base.h"

typedef enum sw_naming_kind { SW_NAME_PARTS, SW_NAME_WORDS, SW_NAME_PROFILES } sw_naming_kind;

typedef struct sw_naming {
    sw_naming_kind kind;
    const char *catalog;
    const char *role; /* of parts; NULL: all */
} sw_naming;

/* Reads the catalog and prints the names as JSON on standard output, or the complaints: the exit
 * code of a worker. */
int sw_names_print(const sw_naming *naming);

/* Is the catalog there, and sound? As a command finds it, with its complaints. */
sw_status sw_names_check(const char *catalog, sw_complaints *complaints);

#endif
