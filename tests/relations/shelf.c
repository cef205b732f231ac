/* Reads the catalog folder into flat records: a part's facts, names and prices side
 * by side, listings and sellers with their prices as numbers. Shares nothing with
 * the program, so a fault in its readers cannot hide a fault in the data. */
#include "shelf.h"

#include <csv.h>
#include <dirent.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct block {
    block *next;
    max_align_t bytes[];
};

_Noreturn void give_up(const char *format, ...) {
    va_list rest;
    va_start(rest, format);
    fputs("relations: ", stderr);
    vfprintf(stderr, format, rest);
    fputc('\n', stderr);
    va_end(rest);
    exit(2);
}

void *pool_take(pool *from, size_t size) {
    block *b = calloc(1, sizeof *b + size);
    if (b == NULL)
        give_up("out of memory");
    b->next = from->first;
    from->first = b;
    return b->bytes;
}

char *pool_text(pool *from, const char *text, size_t length) {
    char *copy = pool_take(from, length + 1);
    if (length > 0)
        memcpy(copy, text, length);
    return copy;
}

void pool_empty(pool *all) {
    while (all->first != NULL) {
        block *next = all->first->next;
        free(all->first);
        all->first = next;
    }
}

char *join(pool *memory, const char *left, const char *right) {
    size_t a = strlen(left), b = strlen(right);
    char *text = pool_take(memory, a + b + 1);
    memcpy(text, left, a);
    memcpy(text + a, right, b);
    return text;
}

char *read_file(pool *to, const char *path, size_t *length) {
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        give_up("%s cannot be opened", path);
    if (fseek(file, 0, SEEK_END) != 0)
        give_up("%s cannot be read", path);
    long size = ftell(file);
    if (size < 0 || fseek(file, 0, SEEK_SET) != 0)
        give_up("%s cannot be read", path);
    char *text = pool_take(to, (size_t)size + 1);
    if (fread(text, 1, (size_t)size, file) != (size_t)size)
        give_up("%s cannot be read", path);
    fclose(file);
    *length = (size_t)size;
    return text;
}

bool read_decimal(const char *text, double *value) {
    double number = 0, scale = 1;
    bool point = false, digit = false;
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '.' && !point) {
            point = true;
        } else if (*c >= '0' && *c <= '9') {
            digit = true;
            number = number * 10 + (*c - '0');
            scale = point ? scale * 10 : scale;
        } else {
            return false;
        }
    }
    *value = number / scale;
    return digit;
}

cJSON *read_json(pool *memory, const char *path) {
    size_t length;
    const char *text = read_file(memory, path, &length);
    cJSON *root = cJSON_ParseWithLength(text, length);
    if (root == NULL)
        give_up("%s is not JSON", path);
    return root;
}

/* ---- the table of listings ---- */

typedef struct filler {
    pool *memory;
    table *t;
    char **row;
    size_t cells, room;
} filler;

static void take_cell(void *text, size_t length, void *data) {
    filler *f = data;
    if (f->cells == f->room) {
        size_t room = f->room == 0 ? 8 : f->room * 2;
        char **row = pool_take(f->memory, room * sizeof *row);
        if (f->cells > 0)
            memcpy(row, f->row, f->cells * sizeof *row);
        f->row = row;
        f->room = room;
    }
    f->row[f->cells++] = pool_text(f->memory, text, length);
}

static void take_row(int byte, void *data) {
    (void)byte;
    filler *f = data;
    table *t = f->t;
    if (t->count == 0)
        t->width = f->cells;
    if (f->cells != t->width)
        give_up("listings.csv: row %zu has %zu cells", t->count + 1, f->cells);
    if (t->count == t->room) {
        size_t room = t->room == 0 ? 256 : t->room * 2;
        char ***rows = pool_take(f->memory, room * sizeof *rows);
        if (t->count > 0)
            memcpy(rows, t->rows, t->count * sizeof *rows);
        t->rows = rows;
        t->room = room;
    }
    t->rows[t->count++] = f->row;
    f->row = NULL;
    f->cells = f->room = 0;
}

table read_table(pool *memory, const char *path) {
    table t = {0};
    filler f = {.memory = memory, .t = &t};
    struct csv_parser parser;
    size_t length;
    const char *text = read_file(memory, path, &length);
    if (csv_init(&parser, CSV_STRICT | CSV_APPEND_NULL) != 0)
        give_up("out of memory");
    if (csv_parse(&parser, text, length, take_cell, take_row, &f) != length ||
        csv_fini(&parser, take_cell, take_row, &f) != 0)
        give_up("%s: %s", path, csv_strerror(csv_error(&parser)));
    csv_free(&parser);
    if (t.count < 2)
        give_up("%s has no rows", path);
    return t;
}

/* ---- records ---- */

static void keep(pool *memory, records *in, const cJSON *record) {
    if (in->count == in->room) {
        size_t room = in->room == 0 ? 64 : in->room * 2;
        const cJSON **all = pool_take(memory, room * sizeof *all);
        if (in->count > 0)
            memcpy(all, in->all, in->count * sizeof *all);
        in->all = all;
        in->room = room;
    }
    in->all[in->count++] = record;
}

static cJSON *add_record(shelf *s) {
    cJSON *record = cJSON_CreateObject();
    if (record == NULL || !cJSON_AddItemToArray(s->roots, record))
        give_up("out of memory");
    return record;
}

static void copy_into(cJSON *record, const cJSON *from) {
    for (const cJSON *item = from->child; item != NULL; item = item->next) {
        cJSON *copy = cJSON_Duplicate(item, true);
        if (copy == NULL || !cJSON_AddItemToObject(record, item->string, copy))
            give_up("out of memory");
    }
}

static void set_number(cJSON *record, const char *name, double number) {
    cJSON_DeleteItemFromObjectCaseSensitive(record, name);
    if (cJSON_AddNumberToObject(record, name, number) == NULL)
        give_up("out of memory");
}

static void set_text(cJSON *record, const char *name, const char *text) {
    if (cJSON_AddStringToObject(record, name, text) == NULL)
        give_up("out of memory");
}

static const char *text_of(const cJSON *record, const char *name) {
    const char *text = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(record, name));
    return text == NULL ? "" : text;
}

static void read_listings(shelf *s, pool *memory, const char *path) {
    table t = read_table(memory, path);
    for (size_t i = 1; i < t.count; i++) {
        cJSON *record = add_record(s);
        for (size_t k = 0; k < t.width; k++) {
            double number;
            const char *name = t.rows[0][k], *cell = t.rows[i][k];
            if (strcmp(name, "part") == 0 || strcmp(name, "seller") == 0)
                set_text(record, name, cell);
            else if (read_decimal(cell, &number))
                set_number(record, name, number);
            else
                give_up("%s: row %zu, %s: not a number", path, i + 1, name);
        }
        if (!cJSON_IsNumber(cJSON_GetObjectItemCaseSensitive(record, "price")))
            give_up("%s: row %zu has no price", path, i + 1);
        keep(memory, &s->listings, record);
    }
}

static void read_sellers(shelf *s, pool *memory, const char *path) {
    cJSON *root = read_json(memory, path);
    const cJSON *seller;
    cJSON_ArrayForEach(seller, cJSON_GetObjectItemCaseSensitive(root, "sellers")) {
        cJSON *record = add_record(s);
        static const char *const money[] = {"delivery", "free_from"};
        copy_into(record, seller);
        for (size_t k = 0; k < 2; k++) {
            double number;
            if (read_decimal(text_of(seller, money[k]), &number))
                set_number(record, money[k], number);
        }
        keep(memory, &s->sellers, record);
    }
    cJSON_Delete(root);
}

/* ---- parts ---- */

static bool stands_on(const cJSON *fact, const char *role) {
    const cJSON *item;
    cJSON_ArrayForEach(item, cJSON_GetObjectItemCaseSensitive(fact, "roles")) {
        if (cJSON_IsString(item) && strcmp(item->valuestring, role) == 0)
            return true;
    }
    return false;
}

static void add_absent(const shelf *s, cJSON *record) {
    const cJSON *fact;
    cJSON_ArrayForEach(fact, s->fact_list) {
        const char *name = text_of(fact, "fact");
        const cJSON *absent = cJSON_GetObjectItemCaseSensitive(fact, "absent");
        if (absent == NULL || cJSON_GetObjectItemCaseSensitive(record, name) != NULL ||
            !stands_on(fact, text_of(record, "role")))
            continue;
        cJSON *copy = cJSON_Duplicate(absent, true);
        if (copy == NULL || !cJSON_AddItemToObject(record, name, copy))
            give_up("out of memory");
    }
}

/* The words of an id before the first that holds a digit: parts of one line. */
static void add_line(pool *memory, cJSON *record) {
    const char *id = text_of(record, "id");
    size_t end = 0, digit = strcspn(id, "0123456789");
    for (size_t i = 0; i < digit && id[i] != '\0'; i++)
        if (id[i] == '-')
            end = i;
    if (id[digit] == '\0')
        end = digit;
    set_text(record, "line", pool_text(memory, id, end));
}

static bool asks(const price_name *p, const char *seller) {
    for (size_t k = 0; k < p->seller_count; k++)
        if (strcmp(p->sellers[k], seller) == 0)
            return true;
    return false;
}

static void add_prices(const shelf *s, cJSON *record) {
    const char *id = text_of(record, "id");
    for (size_t i = 0; i < s->listings.count; i++) {
        const cJSON *listing = s->listings.all[i];
        if (strcmp(text_of(listing, "part"), id) != 0)
            continue;
        double price = cJSON_GetObjectItemCaseSensitive(listing, "price")->valuedouble;
        for (size_t p = 0; p < s->price_count; p++) {
            const cJSON *least = cJSON_GetObjectItemCaseSensitive(record, s->prices[p].name);
            if (asks(&s->prices[p], text_of(listing, "seller")) &&
                (least == NULL || price < least->valuedouble))
                set_number(record, s->prices[p].name, price);
        }
    }
}

/* FORMATS.md gives 1 where a place, a thing or what a place takes states no count. */
static void add_counts(cJSON *record, const char *name) {
    cJSON *item;
    cJSON_ArrayForEach(item, cJSON_GetObjectItemCaseSensitive(record, name)) {
        if (cJSON_GetObjectItemCaseSensitive(item, "count") == NULL)
            set_number(item, "count", 1);
        cJSON *taken;
        cJSON_ArrayForEach(taken, cJSON_GetObjectItemCaseSensitive(item, "takes")) {
            if (cJSON_GetObjectItemCaseSensitive(taken, "count") == NULL)
                set_number(taken, "count", 1);
        }
    }
}

static void add_part(shelf *s, pool *memory, const cJSON *part) {
    cJSON *record = add_record(s);
    const cJSON *facts = cJSON_GetObjectItemCaseSensitive(part, "facts");
    copy_into(record, part);
    if (facts != NULL)
        copy_into(record, facts);
    add_absent(s, record);
    add_line(memory, record);
    add_prices(s, record);
    add_counts(record, "sites");
    add_counts(record, "things");
    add_counts(record, "radiators");
    add_counts(record, "fitted_fans");
    keep(memory, &s->parts, record);
}

static int by_name(const void *a, const void *b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

char **list_part_files(pool *memory, const char *catalog, size_t *count) {
    char *folder = join(memory, catalog, "/parts/");
    DIR *open = opendir(folder);
    if (open == NULL)
        give_up("%s cannot be opened", folder);
    char **paths = NULL;
    size_t room = 0;
    *count = 0;
    for (struct dirent *entry; (entry = readdir(open)) != NULL;) {
        size_t length = strlen(entry->d_name);
        if (length < 6 || strcmp(entry->d_name + length - 5, ".json") != 0)
            continue;
        if (*count == room) {
            room = room == 0 ? 32 : room * 2;
            char **more = pool_take(memory, room * sizeof *more);
            if (*count > 0)
                memcpy(more, paths, *count * sizeof *more);
            paths = more;
        }
        paths[(*count)++] = join(memory, folder, entry->d_name);
    }
    closedir(open);
    if (*count == 0)
        give_up("%s holds no parts", folder);
    qsort(paths, *count, sizeof *paths, by_name);
    return paths;
}

/* ---- all of it ---- */

bool shelf_has_field(const shelf *s, const char *name) {
    static const char *const others[] = {"id",
                                         "role",
                                         "name",
                                         "maker",
                                         "note",
                                         "line",
                                         "part",
                                         "seller",
                                         "price",
                                         "stock",
                                         "days",
                                         "kind",
                                         "size",
                                         "sizes",
                                         "count",
                                         "depth_mm",
                                         "reach_mm",
                                         "stall_pa",
                                         "blows",
                                         "caution",
                                         "side",
                                         "site",
                                         "takes",
                                         "delivery",
                                         "delivery_days",
                                         "free_from",
                                         "minutes",
                                         "warranty_months",
                                         "return_days"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcmp(others[i], name) == 0)
            return true;
    for (size_t i = 0; i < s->price_count; i++)
        if (strcmp(s->prices[i].name, name) == 0)
            return true;
    const cJSON *fact;
    cJSON_ArrayForEach(fact, s->fact_list) {
        if (strcmp(text_of(fact, "fact"), name) == 0)
            return true;
    }
    return false;
}

void shelf_read(shelf *out, pool *memory, const char *catalog) {
    out->roots = cJSON_CreateArray();
    cJSON *facts = read_json(memory, join(memory, catalog, "/facts.json"));
    if (out->roots == NULL || !cJSON_AddItemToArray(out->roots, facts))
        give_up("out of memory");
    out->fact_list = cJSON_GetObjectItemCaseSensitive(facts, "facts");
    read_listings(out, memory, join(memory, catalog, "/listings.csv"));
    read_sellers(out, memory, join(memory, catalog, "/sellers.json"));
    size_t count;
    char **paths = list_part_files(memory, catalog, &count);
    for (size_t i = 0; i < count; i++) {
        cJSON *root = read_json(memory, paths[i]);
        const cJSON *part;
        cJSON_ArrayForEach(part, cJSON_GetObjectItemCaseSensitive(root, "parts"))
            add_part(out, memory, part);
        cJSON_Delete(root);
    }
}

void shelf_close(shelf *s) {
    cJSON_Delete(s->roots);
    s->roots = NULL;
}
