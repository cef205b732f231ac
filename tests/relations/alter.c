/* Changes one datum in a copy of the catalog, as the relation's `break` line says, so
 * that the relation can be seen to fail. A change that changes nothing ends the test. */
#include "alter.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void write_file(const char *path, const char *text, size_t length) {
    FILE *file = fopen(path, "wb");
    if (file == NULL || fwrite(text, 1, length, file) != length || fclose(file) != 0)
        give_up("%s cannot be written", path);
}

static void write_json(const char *path, const cJSON *root) {
    char *text = cJSON_Print(root);
    if (text == NULL)
        give_up("out of memory");
    write_file(path, text, strlen(text));
    free(text);
}

/* `null` takes the field away. */
static void set_field(const relation *r, cJSON *record, const char *name, const char *text) {
    cJSON *now = cJSON_Parse(text);
    const cJSON *before = cJSON_GetObjectItemCaseSensitive(record, name);
    if (now == NULL)
        give_up("relation %s: break: not a JSON value: %s", r->name, text);
    if (before != NULL ? cJSON_Compare(before, now, true) : cJSON_IsNull(now))
        give_up("relation %s: break: %s is %s already", r->name, name, text);
    cJSON_DeleteItemFromObjectCaseSensitive(record, name);
    if (cJSON_IsNull(now))
        cJSON_Delete(now);
    else if (!cJSON_AddItemToObject(record, name, now))
        give_up("out of memory");
}

static cJSON *with_id(cJSON *list, const char *id) {
    cJSON *item;
    cJSON_ArrayForEach(item, list) {
        const char *name = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(item, "id"));
        if (name != NULL && strcmp(name, id) == 0)
            return item;
    }
    return NULL;
}

/* Changes `name` of the record in this file; false when it is not there. */
static bool alter_json(const relation *r, pool *memory, const char *path, const char *list) {
    const char *id = r->alter[1], *name = r->alter[2], *text = r->alter[3];
    cJSON *root = read_json(memory, path);
    cJSON *record = with_id(cJSON_GetObjectItemCaseSensitive(root, list), id);
    if (record != NULL) {
        cJSON *facts = cJSON_GetObjectItemCaseSensitive(record, "facts");
        bool outer = cJSON_GetObjectItemCaseSensitive(record, name) != NULL;
        set_field(r, facts != NULL && !outer ? facts : record, name, text);
        write_json(path, root);
    }
    cJSON_Delete(root);
    return record != NULL;
}

static bool alter_part(const relation *r, pool *memory, const char *catalog) {
    size_t count;
    char **paths = list_part_files(memory, catalog, &count);
    for (size_t i = 0; i < count; i++)
        if (alter_json(r, memory, paths[i], "parts"))
            return true;
    return false;
}

static bool alter_listing(const relation *r, pool *memory, const char *catalog) {
    const char *path = join(memory, catalog, "/listings.csv");
    table t = read_table(memory, path);
    bool done = false;
    FILE *file = fopen(path, "wb");
    if (file == NULL)
        give_up("%s cannot be written", path);
    for (size_t i = 0; i < t.count; i++) {
        char **row = t.rows[i];
        bool this = i > 0 && strcmp(row[0], r->alter[1]) == 0 && strcmp(row[1], r->alter[2]) == 0;
        for (size_t k = 0; k < t.width; k++) {
            const char *cell = row[k];
            if (this && strcmp(t.rows[0][k], r->alter[3]) == 0) {
                done = strcmp(cell, r->alter[4]) != 0;
                cell = r->alter[4];
            }
            fprintf(file, "%s%c", cell, k + 1 < t.width ? ',' : '\n');
        }
    }
    if (fclose(file) != 0)
        give_up("%s cannot be written", path);
    return done;
}

void alter(const relation *r, pool *memory, const char *catalog) {
    const char *kind = r->alter[0];
    bool done = false;
    if (strcmp(kind, "part") == 0 && r->alter_count == 4)
        done = alter_part(r, memory, catalog);
    else if (strcmp(kind, "seller") == 0 && r->alter_count == 4)
        done = alter_json(r, memory, join(memory, catalog, "/sellers.json"), "sellers");
    else if (strcmp(kind, "listing") == 0 && r->alter_count == 5)
        done = alter_listing(r, memory, catalog);
    if (!done)
        give_up("relation %s: break: nothing to change there", r->name);
}
