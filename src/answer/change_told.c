/* What a change of the job is about, by the names of the catalog. */
#include "answer/whatif.h"

#include <string.h>

static const char *part_name(const sw_scenario *scenario, const char *id, size_t length) {
    for (size_t i = 0; i < scenario->part_count; i++)
        if (strncmp(scenario->parts[i].id, id, length) == 0 &&
            scenario->parts[i].id[length] == '\0')
            return scenario->parts[i].name;
    return NULL;
}

static const char *role_name(const sw_catalog *catalog, const char *id) {
    for (size_t r = 0; r < catalog->role_count; r++)
        if (strcmp(catalog->roles[r].id, id) == 0)
            return catalog->roles[r].name;
    return NULL;
}

static const char *criterion_name(const sw_catalog *catalog, const char *id) {
    for (size_t c = 0; c < catalog->criterion_count; c++)
        if (strcmp(catalog->criteria[c].id, id) == 0)
            return catalog->criteria[c].name;
    return NULL;
}

static const char *seller_name(const sw_catalog *catalog, const char *id, size_t length) {
    for (size_t s = 0; s < catalog->seller_count; s++)
        if (strncmp(catalog->sellers[s].id, id, length) == 0 &&
            catalog->sellers[s].id[length] == '\0')
            return catalog->sellers[s].name;
    return NULL;
}

/* The name behind the id that the path goes to, where it is one of these lists. */
static const char *subject_of(const sw_scenario *scenario, const char *path, const char **seller) {
    static const char *const lists[] = {"wishes.swings.",  "quotes.",      "given.",
                                        "wishes.replace.", "wishes.keep.", "wishes.avoid."};
    *seller = NULL;
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
        size_t head = strlen(lists[i]);
        if (strncmp(path, lists[i], head) != 0)
            continue;
        const char *id = path + head;
        size_t length = strcspn(id, ".@");
        if (i == 0)
            return criterion_name(scenario->catalog, id);
        if (id[length] == '@')
            *seller =
                seller_name(scenario->catalog, id + length + 1, strcspn(id + length + 1, "."));
        const char *role = role_name(scenario->catalog, id);
        return role != NULL ? role : part_name(scenario, id, length);
    }
    return NULL;
}

sw_status sw_change_tell(sw_whatif_change *out, sw_arena *arena, const sw_scenario *scenario,
                         const char *path, const char *value) {
    const char *seller, *subject = subject_of(scenario, path, &seller);
    *out = (sw_whatif_change){.path = sw_arena_copy(arena, path),
                              .value = value == NULL ? NULL : sw_arena_copy(arena, value),
                              .subject = subject == NULL ? NULL : sw_arena_copy(arena, subject),
                              .seller = seller == NULL ? NULL : sw_arena_copy(arena, seller)};
    bool all = out->path != NULL && (value == NULL || out->value != NULL) &&
               (subject == NULL || out->subject != NULL) && (seller == NULL || out->seller != NULL);
    return all ? SW_OK : SW_NO_MEMORY;
}
