/* A hash table from names to indexes, kept in the order of adding. */
#include "check/names.h"

#include <stdlib.h>
#include <string.h>

/* FNV-1a, 64 bits. */
static size_t hash_of(const char *name) {
    uint64_t hash = UINT64_C(14695981039346656037);
    for (const unsigned char *at = (const unsigned char *)name; *at != '\0'; at++)
        hash = (hash ^ *at) * UINT64_C(1099511628211);
    return (size_t)(hash ^ hash >> 32);
}

/* Where `name` stands in the table, or the free place where it would. */
static size_t place_of(const sw_names *names, const char *name) {
    size_t at = hash_of(name) & (names->table_size - 1);
    while (names->table[at] != 0 && strcmp(names->names[names->table[at] - 1], name) != 0)
        at = (at + 1) & (names->table_size - 1);
    return at;
}

static bool grow_table(sw_names *names) {
    if ((names->count + 1) * 2 <= names->table_size)
        return true;
    size_t size = names->table_size == 0 ? 32 : names->table_size * 2;
    size_t *table = calloc(size, sizeof *table);
    if (table == NULL)
        return false;
    free(names->table);
    names->table = table;
    names->table_size = size;
    for (size_t i = 0; i < names->count; i++)
        table[place_of(names, names->names[i])] = i + 1;
    return true;
}

bool sw_names_add(sw_names *names, const char *name, int index) {
    if (!grow_table(names) || !SW_GROW(names->names, names->names_room, names->count) ||
        !SW_GROW(names->indexes, names->indexes_room, names->count))
        return false;
    size_t place = place_of(names, name);
    names->names[names->count] = name;
    names->indexes[names->count] = index;
    names->table[place] = ++names->count;
    return true;
}

int sw_names_find(const sw_names *names, const char *name) {
    if (names->count == 0)
        return SW_NONE;
    size_t found = names->table[place_of(names, name)];
    return found == 0 ? SW_NONE : names->indexes[found - 1];
}

void sw_names_clear(sw_names *names) {
    names->count = 0;
    if (names->table != NULL)
        memset(names->table, 0, names->table_size * sizeof *names->table);
}

void sw_names_free(sw_names *names) {
    free(names->names);
    free(names->indexes);
    free(names->table);
    *names = (sw_names){0};
}
