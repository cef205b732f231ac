/* parts/ (a folder of JSON files): every part, its role and what it states. */
#include "check/stage.h"

#include <stdlib.h>
#include <string.h>

#include "read/bytes.h"

#define PART_LIMIT ((size_t)50000)
/* Values in memory, parts times facts: some 400 MB. */
#define VALUE_LIMIT ((size_t)5000000)

typedef struct gathered {
    sw_part *parts;
    size_t count, room;
} gathered;

static void read_maker(sw_check *check, const sw_node *at, sw_part *part) {
    if (!sw_get_text(check, at, "maker", SW_OPTIONAL, &part->maker))
        return;
    if (sw_names_find(&check->makers, part->maker) == SW_NONE &&
        !sw_names_add(&check->makers, part->maker, 0))
        check->no_memory = true;
}

static void read_part(sw_check *check, const sw_node *at, int index, sw_part *part) {
    sw_node facts;
    *part = (sw_part){.id = "", .name = "", .maker = "", .role = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "id", "role", "name", "maker", "numbers", "facts")) {
        check->parts.whole = false;
        return;
    }
    part->id = sw_get_new_id(check, at, &check->parts, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &part->name);
    sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json", &part->role);
    read_maker(check, at, part);
    sw_read_part_numbers(check, at, index, part);
    sw_value *values = sw_silent_values(check, part->role);
    part->values = values;
    if (values != NULL && sw_get(check, at, "facts", SW_REQUIRED, SW_JSON_OBJECT, &facts))
        sw_check_stated(check, &facts, part->role, values);
}

static bool has_room(sw_check *check, const sw_node *list, size_t count) {
    size_t facts = check->catalog->fact_count;
    if (count < PART_LIMIT && (facts == 0 || count < VALUE_LIMIT / facts))
        return true;
    sw_wrong(check, list, "at most 50,000 parts, and 5 million facts of parts, are held",
             "split the catalog", "holds too many parts");
    check->parts.whole = false;
    return false;
}

static void read_file(sw_check *check, const char *name, gathered *all) {
    sw_node root, list;
    const char *path = sw_arena_format(check->arena, "parts/%s", name);
    if (path == NULL) {
        check->no_memory = true;
        return;
    }
    if (!sw_open_list(check, path, "parts", 0, PART_LIMIT, &root, &list)) {
        check->parts.whole = false;
        return;
    }
    SW_CHECK_NAMES(check, &root, "schema", "parts");
    for (size_t i = 0; i < list.json->count && !check->no_memory; i++) {
        sw_node at = sw_element(&list, i);
        if (!has_room(check, &at, all->count))
            return;
        if (!SW_GROW(all->parts, all->room, all->count)) {
            check->no_memory = true;
            return;
        }
        read_part(check, &at, (int)all->count, &all->parts[all->count]);
        all->count++;
    }
}

static void keep_parts(sw_check *check, const gathered *all) {
    sw_part *parts = SW_KEEP(check, sw_part, all->count);
    if (parts == NULL)
        return;
    if (all->count > 0)
        memcpy(parts, all->parts, all->count * sizeof *parts);
    check->catalog->parts = parts;
    check->catalog->part_count = all->count;
    sw_order_by_id(check, &check->parts, parts, all->count, sizeof *parts);
}

void sw_read_parts(sw_check *check) {
    gathered all = {0};
    const char *const *names = NULL;
    size_t count = 0;
    const char *folder = sw_catalog_path(check, "parts");
    sw_status status =
        sw_folder_list(&names, &count, check->arena, folder, ".json", check->complaints);
    check->no_memory |= status == SW_NO_MEMORY;
    check->unreadable |= status == SW_CANNOT_READ;
    check->bad |= status != SW_OK;
    if (status != SW_OK)
        return;
    check->parts.whole = true;
    check->makers.whole = true;
    for (size_t i = 0; i < count && !check->no_memory; i++)
        read_file(check, names[i], &all);
    keep_parts(check, &all);
    free(all.parts);
}
