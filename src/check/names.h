/* Names and the indexes they stand for. */
#ifndef SW_CHECK_NAMES_H
#define SW_CHECK_NAMES_H

#include "check/catalog.h"

typedef struct sw_names {
    const char **names; /* in the order they were added; owned by someone else */
    int *indexes;
    size_t count;
    size_t *table; /* open addressing: 1 + place in `names`, 0 when free */
    size_t names_room, indexes_room, table_size;
    /* True once the file was read and every entry had a good name. Only then is
     * a name that is not found a mistake of its own, worth a complaint. */
    bool whole;
} sw_names;

/* False when memory is out. The name must not be there yet. */
bool sw_names_add(sw_names *names, const char *name, int index);
/* SW_NONE when it is not there. */
int sw_names_find(const sw_names *names, const char *name);
/* Forgets the names, keeps `whole`. */
void sw_names_clear(sw_names *names);
void sw_names_free(sw_names *names);

#endif
