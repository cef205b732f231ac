/* Which part of the catalog is meant by a name or a maker's number. */
#ifndef SW_INTAKE_MATCH_H
#define SW_INTAKE_MATCH_H

#include "check/catalog.h"

/* The same but for ASCII case, blanks and hyphens; false when nothing else is in them. */
bool sw_same_number(const char *a, const char *b);

/* Parts of the role whose id, name or number is `text`, or whose name is `maker` (may be NULL) and
 * `text`. Adds those to `found` (room for all of the catalog's parts) that are not among its
 * `count`; gives the new count. */
size_t sw_parts_named(const sw_catalog *catalog, int role, const char *maker, const char *text,
                      int *found, size_t count);

#endif
