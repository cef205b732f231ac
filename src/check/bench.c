/* bench.json: how the shop works. What hangs on what and what covers what, the steps, and the rest.
 * The file may be missing: then the work is the swaps and tasks alone. */
#include "check/bench.h"

#include <string.h>

#include "check/stage.h"

#define CALL_AFTER_DAYS 7

/* ---- lists of names ------------------------------------------------------------------------ */

void sw_get_work_roles(sw_check *check, const sw_node *at, const char *name, const int **out,
                       size_t *count) {
    sw_node list;
    if (!sw_get_list(check, at, name, SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    int *roles = SW_KEEP(check, int, list.json->count);
    for (size_t i = 0; roles != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        const char *role = NULL;
        int found = sw_check_token(check, &entry, &role)
                        ? sw_find(check, &entry, &check->roles, role, "role", "roles.json")
                        : SW_NONE;
        if (found != SW_NONE)
            roles[(*count)++] = found;
    }
    *out = roles;
}

/* ---- stages ---------------------------------------------------------------------------------- */

static void read_stage(sw_check *check, const sw_node *at, sw_names *ids, int index,
                       sw_work_stage *out) {
    *out = (sw_work_stage){.id = "", .name = ""};
    if (!SW_CHECK_NAMES(check, at, "stage", "name", "machine")) {
        ids->whole = false;
        return;
    }
    out->id = sw_get_new_name(check, at, "stage", ids, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    sw_get_flag(check, at, "machine", SW_OPTIONAL, &out->machine);
}

static void read_stages(sw_check *check, const sw_node *root, sw_names *ids, sw_bench_form *out) {
    sw_node list;
    size_t machines = 0;
    if (!sw_get_list(check, root, "stages", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_work_stage *stages = SW_KEEP(check, sw_work_stage, list.json->count);
    ids->whole = stages != NULL;
    for (size_t i = 0; stages != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_stage(check, &at, ids, (int)i, &stages[i]);
        machines += stages[i].machine;
        if (stages[i].machine)
            out->machine_stage = (int)i;
    }
    if (stages != NULL && machines != 1)
        sw_wrong(check, &list, "parts come off and go on in one stage",
                 "write \"machine\": true in one of them and in no other",
                 machines == 0 ? "has no stage of that kind" : "has %zu stages of that kind",
                 machines);
    out->stages = stages;
    out->stage_count = stages == NULL ? 0 : list.json->count;
}

/* ---- sentences --------------------------------------------------------------------------------
 */

/* "{measure-id}", "{role}" or "{role.fact}". */
static void check_slot(sw_check *check, const sw_node *at, const char *slot, const void *of) {
    (void)of;
    const char *point = strchr(slot, '.');
    size_t length = point == NULL ? strlen(slot) : (size_t)(point - slot);
    const char *name = sw_arena_text(check->scratch, slot, length);
    if (name == NULL) {
        check->no_memory = true;
        return;
    }
    if (point == NULL && sw_names_find(&check->measures, name) != SW_NONE)
        return;
    int role = sw_find(check, at, &check->roles, name, point == NULL ? "role or measure" : "role",
                       point == NULL ? "roles.json and measures.json" : "roles.json");
    if (point == NULL || role == SW_NONE)
        return;
    int fact = sw_find(check, at, &check->facts, point + 1, "fact", "facts.json");
    if (fact != SW_NONE)
        sw_check_stands(check, at, role, fact);
}

void sw_get_work_words(sw_check *check, const sw_node *at, const char *name, sw_need need,
                       const char **out) {
    if (need == SW_REQUIRED || sw_member(at, name).json != NULL)
        sw_get_sentence(check, at, name, check_slot, NULL, out);
}

/* ---- what hangs on what ------------------------------------------------------------------------
 */

static void read_mount_sites(sw_check *check, const sw_node *at, sw_mount *out) {
    sw_node list;
    if (!sw_get_list(check, at, "sites", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_mount_site *sites = SW_KEEP(check, sw_mount_site, list.json->count);
    for (size_t i = 0; sites != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        sites[i] = (sw_mount_site){.kind = "", .of = SW_NONE};
        if (!SW_CHECK_NAMES(check, &entry, "kind", "of"))
            continue;
        sw_get_token(check, &entry, "kind", SW_REQUIRED, &sites[i].kind);
        sw_get_index(check, &entry, "of", SW_REQUIRED, &check->roles, "role", "roles.json",
                     &sites[i].of);
    }
    out->sites = sites;
    out->site_count = sites == NULL ? 0 : list.json->count;
}

static void read_mount(sw_check *check, const sw_node *at, int *mount_of, int index,
                       sw_mount *out) {
    *out = (sw_mount){.role = SW_NONE, .take = "", .fit = "", .lay = ""};
    if (!SW_CHECK_NAMES(check, at, "role", "on", "sites", "rides", "take", "fit", "lay"))
        return;
    sw_node role = sw_member(at, "role");
    if (sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json",
                     &out->role)) {
        if (mount_of[out->role] != SW_NONE)
            sw_wrong(check, &role, "a role hangs on what one entry says", "join the two entries",
                     "has an entry already");
        mount_of[out->role] = index;
    }
    sw_get_work_roles(check, at, "on", &out->on, &out->on_count);
    read_mount_sites(check, at, out);
    sw_get_flag(check, at, "rides", SW_OPTIONAL, &out->rides);
    sw_get_work_words(check, at, "take", SW_OPTIONAL, &out->take);
    sw_get_work_words(check, at, "fit", SW_OPTIONAL, &out->fit);
    sw_get_work_words(check, at, "lay", SW_OPTIONAL, &out->lay);
}

/* Does `role` hang on `other`, straight or through others? Each role is looked at once. */
static bool hangs_on(const sw_bench_form *bench, bool *seen, int role, int other) {
    int mount = bench->mount_of[role];
    if (seen[role] || mount == SW_NONE)
        return false;
    seen[role] = true;
    const sw_mount *of = &bench->mounts[mount];
    for (size_t i = 0; i < of->on_count; i++)
        if (of->on[i] == other || hangs_on(bench, seen, of->on[i], other))
            return true;
    for (size_t i = 0; i < of->site_count; i++)
        if (of->sites[i].of != SW_NONE &&
            (of->sites[i].of == other || hangs_on(bench, seen, of->sites[i].of, other)))
            return true;
    return false;
}

static void check_circles(sw_check *check, const sw_node *list, const sw_bench_form *bench) {
    size_t roles = check->catalog->role_count;
    bool *seen = SW_KEEP(check, bool, roles);
    for (size_t m = 0; seen != NULL && m < bench->mount_count; m++) {
        sw_node at = sw_element(list, m);
        if (bench->mounts[m].role == SW_NONE)
            continue;
        memset(seen, 0, roles * sizeof *seen);
        if (!hangs_on(bench, seen, bench->mounts[m].role, bench->mounts[m].role))
            continue;
        sw_wrong(check, &at, "what hangs on something cannot carry it as well",
                 "take one of the roles out of \"on\" or \"sites\"", "hangs on itself in the end");
    }
}

static void read_mounts(sw_check *check, const sw_node *root, int *mount_of, sw_bench_form *out) {
    sw_node list;
    if (!sw_get_list(check, root, "mounts", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_mount *mounts = SW_KEEP(check, sw_mount, list.json->count);
    for (size_t i = 0; mounts != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_mount(check, &at, mount_of, (int)i, &mounts[i]);
    }
    out->mounts = mounts;
    out->mount_count = mounts == NULL ? 0 : list.json->count;
    if (mounts != NULL)
        check_circles(check, &list, out);
}

static void read_cover(sw_check *check, const sw_node *at, sw_cover *out) {
    *out = (sw_cover){.role = SW_NONE, .over = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "role", "over", "when"))
        return;
    sw_node over = sw_member(at, "over");
    sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json", &out->role);
    sw_get_index(check, at, "over", SW_REQUIRED, &check->roles, "role", "roles.json", &out->over);
    if (out->role != SW_NONE && out->role == out->over)
        sw_wrong(check, &over, "a role covers another one", "name the role that lies under it",
                 "is the role itself");
    sw_get_conditions(check, at, "when", SW_OPTIONAL, 0, SW_NONE, &out->when, &out->when_count);
}

static void read_covers(sw_check *check, const sw_node *root, sw_bench_form *out) {
    sw_node list;
    if (!sw_get_list(check, root, "covers", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_cover *covers = SW_KEEP(check, sw_cover, list.json->count);
    for (size_t i = 0; covers != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_cover(check, &at, &covers[i]);
    }
    out->covers = covers;
    out->cover_count = covers == NULL ? 0 : list.json->count;
}

/* ---- the rest
 * ------------------------------------------------------------------------------------ */

static int rule_named(sw_check *check, const sw_node *at, const char *id) {
    const sw_catalog *catalog = check->catalog;
    const char **known = SW_KEEP(check, const char *, catalog->rule_count);
    for (size_t r = 0; known != NULL && r < catalog->rule_count; r++) {
        if (strcmp(catalog->rules[r].id, id) == 0)
            return (int)r;
        known[r] = catalog->rules[r].id;
    }
    if (known != NULL)
        sw_wrong(check, at, "rules are listed in rules.json",
                 sw_mend_name(check, id, known, catalog->rule_count, "name one of them"),
                 "names the rule \"%s\", which is not known", sw_shown(check, id));
    return SW_NONE;
}

static void read_leads(sw_check *check, const sw_node *root, sw_bench_form *out) {
    sw_node list;
    if (!sw_get_list(check, root, "leads", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    int *leads = SW_KEEP(check, int, list.json->count);
    for (size_t i = 0; leads != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        const char *id = NULL;
        int rule = sw_check_token(check, &entry, &id) ? rule_named(check, &entry, id) : SW_NONE;
        if (rule == SW_NONE)
            continue;
        sw_shape shape = check->catalog->rules[rule].shape;
        if (shape != SW_WITHIN && shape != SW_SUPPLY)
            sw_wrong(check, &entry, "leads are counted by a rule of shape within or supply",
                     "take it out of the list", "is a rule that counts nothing");
        leads[out->lead_count++] = rule;
    }
    out->leads = leads;
}

static void read_files(sw_check *check, const sw_node *root, sw_bench_form *out) {
    const int *roles = NULL;
    size_t count = 0;
    bool *files = SW_KEEP(check, bool, check->catalog->role_count);
    sw_get_work_roles(check, root, "files", &roles, &count);
    for (size_t i = 0; files != NULL && i < count; i++)
        files[roles[i]] = true;
    out->files = files;
    if (sw_member(root, "wiping").json != NULL)
        sw_get_text(check, root, "wiping", SW_OPTIONAL, &out->wiping);
}

static void read_call(sw_check *check, const sw_node *root, sw_bench_form *out) {
    sw_node call, list;
    if (!sw_get(check, root, "call", SW_OPTIONAL, SW_JSON_OBJECT, &call))
        return;
    SW_CHECK_NAMES(check, &call, "after_days", "asks");
    sw_get_count(check, &call, "after_days", SW_OPTIONAL, 1, 1000, &out->call_after_days);
    if (!sw_get_list(check, &call, "asks", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_call_ask *asks = SW_KEEP(check, sw_call_ask, list.json->count);
    for (size_t i = 0; asks != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        asks[i].words = "";
        if (!SW_CHECK_NAMES(check, &at, "any", "words"))
            continue;
        sw_get_conditions(check, &at, "any", SW_OPTIONAL, 1, SW_NONE, &asks[i].any,
                          &asks[i].any_count);
        sw_get_text(check, &at, "words", SW_REQUIRED, &asks[i].words);
    }
    out->asks = asks;
    out->ask_count = asks == NULL ? 0 : list.json->count;
}

/* Where the file is missing: one stage, in which the swaps and tasks are done. */
static void start(sw_check *check, sw_bench_form *out, int *mount_of) {
    static const sw_work_stage only = {"work", "Work", true};
    *out = (sw_bench_form){.stages = &only,
                           .stage_count = 1,
                           .mount_of = mount_of,
                           .files = SW_KEEP(check, bool, check->catalog->role_count),
                           .wiping = "",
                           .call_after_days = CALL_AFTER_DAYS};
    for (size_t r = 0; r < check->catalog->role_count; r++)
        mount_of[r] = SW_NONE;
}

void sw_read_bench(sw_check *check) {
    sw_node root;
    sw_names stages = {0};
    sw_bench_form *bench = SW_KEEP(check, sw_bench_form, 1);
    int *mount_of = SW_KEEP(check, int, check->catalog->role_count);
    if (bench == NULL || mount_of == NULL)
        return;
    start(check, bench, mount_of);
    check->catalog->bench = bench;
    if (!sw_has_file(check, "bench.json") ||
        !sw_check_open(check, sw_catalog_path(check, "bench.json"), &root))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "stages", "mounts", "covers", "steps", "leads", "files",
                   "wiping", "checks", "call");
    read_stages(check, &root, &stages, bench);
    read_mounts(check, &root, mount_of, bench);
    read_covers(check, &root, bench);
    sw_read_steps(check, &root, &stages, bench);
    read_leads(check, &root, bench);
    read_files(check, &root, bench);
    sw_read_proofs(check, &root, bench);
    read_call(check, &root, bench);
    sw_names_free(&stages);
}
