/* The shipped catalog as this test sees it: flat records, read without the program. */
#ifndef RELATIONS_SHELF_H
#define RELATIONS_SHELF_H

#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stddef.h>

/* Memory that is given back in one go. */
typedef struct block block;
typedef struct pool {
    block *first;
} pool;

void *pool_take(pool *from, size_t size);
char *pool_text(pool *from, const char *text, size_t length);
void pool_empty(pool *all);

/* Says why and ends the program with code 2: the test could not be run. */
_Noreturn void give_up(const char *format, ...) __attribute__((format(printf, 1, 2)));

char *read_file(pool *to, const char *path, size_t *length);
bool read_decimal(const char *text, double *value); /* digits, at most one point */

/* A price by name: the least among some sellers. */
typedef struct price_name {
    const char *name;
    const char **sellers;
    size_t seller_count;
} price_name;

typedef struct records {
    const cJSON **all;
    size_t count, room;
} records;

typedef struct table {
    char ***rows; /* the first is the header; every row has `width` cells */
    size_t count, room, width;
} table;

typedef struct shelf {
    records parts, listings, sellers;
    const cJSON *fact_list;
    const price_name *prices;
    size_t price_count;
    cJSON *roots; /* owns all records */
} shelf;

table read_table(pool *memory, const char *path);
char **list_part_files(pool *memory, const char *catalog, size_t *count);
cJSON *read_json(pool *memory, const char *path); /* to be deleted by the caller */
char *join(pool *memory, const char *left, const char *right);

/* Fills `out`, whose prices are already set. */
void shelf_read(shelf *out, pool *memory, const char *catalog);
bool shelf_has_field(const shelf *s, const char *name);
void shelf_close(shelf *s);

#endif
