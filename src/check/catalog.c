/* A catalog's folder, file by file in the order in which they name each other. */
#include "check/catalog.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "check/stage.h"

/* ---- what every file needs ------------------------------------------------------------ */

const char *sw_catalog_path(sw_check *check, const char *name) {
    const char *path = sw_arena_format(check->arena, "%s/%s", check->catalog->folder, name);
    if (path == NULL)
        check->no_memory = true;
    return path == NULL ? "" : path;
}

bool sw_open_list(sw_check *check, const char *name, const char *list, size_t least, size_t most,
                  sw_node *root, sw_node *out) {
    return sw_check_open(check, sw_catalog_path(check, name), root) &&
           sw_get_list(check, root, list, SW_REQUIRED, least, most, out);
}

const char *sw_get_new_name(sw_check *check, const sw_node *at, const char *member, sw_names *names,
                            int index) {
    const char *id = NULL;
    sw_node found = sw_member(at, member);
    if (!sw_get_id(check, at, member, SW_REQUIRED, &id)) {
        names->whole = false;
        return "";
    }
    sw_register(check, &found, names, id, index);
    return id;
}

const char *sw_get_new_id(sw_check *check, const sw_node *at, sw_names *names, int index) {
    return sw_get_new_name(check, at, "id", names, index);
}

/* A pointer to a struct is one to its first member. */
static const char *id_of(const void *thing) { return *(const char *const *)thing; }

static int by_id(const void *left, const void *right) { return strcmp(id_of(left), id_of(right)); }

void sw_order_by_id(sw_check *check, sw_names *names, void *things, size_t count, size_t size) {
    if (check->no_memory)
        return; /* some were not read, and have no id */
    qsort(things, count, size, by_id);
    sw_names_clear(names);
    for (size_t i = 0; i < count; i++) {
        const char *id = id_of((const char *)things + i * size);
        if (id[0] != '\0' && sw_names_find(names, id) == SW_NONE &&
            !sw_names_add(names, id, (int)i))
            check->no_memory = true;
    }
}

/* ---- the folder ------------------------------------------------------------------------- */

/* One complaint about the folder rather than one about each file in it. */
static bool is_folder(sw_check *check, const char *folder) {
    struct stat about;
    if (stat(folder, &about) == 0 && S_ISDIR(about.st_mode))
        return true;
    check->bad = true;
    check->unreadable = true;
    sw_complain(check->complaints, folder, "", "a catalog is a folder of JSON files and a table",
                "check the path; in a scenario it counts from the scenario's folder",
                "is no folder that can be read");
    return false;
}

static void (*const readers[])(sw_check *check) = {
    sw_read_sellers,  sw_read_roles,    sw_read_facts,    sw_read_observations, sw_read_tasks,
    sw_read_parts,    sw_read_rules,    sw_read_charges,  sw_read_criteria,     sw_read_uses,
    sw_read_listings, sw_read_measures, sw_read_findings, sw_read_troubles,     sw_read_hazards,
    sw_read_paper,    sw_read_bench,    sw_read_intake,   sw_read_interview,    sw_read_profiles,
    sw_read_patterns,
};

void sw_catalog_fill(sw_check *check, const char *folder) {
    check->arena = check->catalog->arena;
    check->catalog->folder = sw_keep_text(check, folder);
    if (!is_folder(check, folder))
        return;
    for (size_t i = 0; i < sizeof readers / sizeof *readers && !check->no_memory; i++)
        readers[i](check);
}

sw_catalog *sw_catalog_new(void) {
    sw_arena *arena = sw_arena_new();
    sw_catalog *catalog = arena == NULL ? NULL : SW_NEW(arena, sw_catalog, 1);
    if (catalog == NULL) {
        sw_arena_free(arena);
        return NULL;
    }
    catalog->arena = arena;
    return catalog;
}

void sw_catalog_free(sw_catalog *catalog) {
    if (catalog != NULL)
        sw_arena_free(catalog->arena);
}

sw_status sw_catalog_read(sw_catalog **out, const char *folder, sw_complaints *complaints) {
    sw_check check = sw_check_start(complaints);
    check.catalog = sw_catalog_new();
    if (check.catalog == NULL)
        return SW_NO_MEMORY;
    sw_catalog_fill(&check, folder);
    sw_status status = sw_check_status(&check);
    if (status == SW_OK)
        *out = check.catalog;
    else
        sw_catalog_free(check.catalog);
    sw_check_end(&check);
    return status;
}

sw_status sw_catalog_check(const char *folder, sw_complaints *complaints) {
    sw_catalog *catalog = NULL;
    sw_status status = sw_catalog_read(&catalog, folder, complaints);
    sw_catalog_free(catalog);
    return status;
}
