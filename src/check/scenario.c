/* A scenario and the catalog that it names, read as one: everything that is
 * wrong in either is said at once. */
#include "check/scenario.h"

#include <string.h>

#include "check/stage.h"
#include "read/plain.h"

#define ROOM_LEVEL_MILLI INT64_C(25000)
#define ROOM_LEVEL_LIMIT_MILLI INT64_C(150000)
#define OVER_ROOM_LEAST_MILLI 3000
#define ROOM_C_MILLI 22000
#define DAY_MILLI 24000

/* ---- making and freeing ------------------------------------------------------------- */

static sw_scenario *scenario_new(void) {
    sw_arena *arena = sw_arena_new();
    sw_scenario *scenario = arena == NULL ? NULL : SW_NEW(arena, sw_scenario, 1);
    if (scenario == NULL) {
        sw_arena_free(arena);
        return NULL;
    }
    scenario->arena = arena;
    scenario->file = scenario->title = scenario->date = "";
    scenario->loudness_limit_milli = -1;
    scenario->days_limit = -1;
    scenario->minutes_limit = -1;
    scenario->worth_at_least_milli = -1;
    scenario->room_milli = ROOM_LEVEL_MILLI;
    scenario->machine_milli = -1;
    scenario->distance_milli = -1;
    scenario->room_c_milli = ROOM_C_MILLI;
    scenario->kwh_minor = -1;
    scenario->day = -1;
    scenario->surprise = SW_NONE;
    scenario->mains_v = 230;
    scenario->work_hours_milli = scenario->idle_hours_milli = -1;
    return scenario;
}

/* What reading it once more takes: the names of the catalog, and the JSON as it was. */
struct sw_reading {
    sw_check check;
    const sw_json *root;
    bool needs_catalog; /* the scenario need not name one */
};

void sw_scenario_free(sw_scenario *scenario) {
    if (scenario == NULL)
        return;
    if (scenario->reading != NULL)
        sw_check_end(&scenario->reading->check);
    sw_catalog_free(scenario->own_catalog);
    sw_arena_free(scenario->arena);
}

static bool make_room(sw_job *job) {
    sw_check *check = job->check;
    sw_scenario *scenario = job->scenario;
    const sw_catalog *catalog = check->catalog;
    size_t own = sw_own_part_limit(catalog);
    scenario->parts = SW_KEEP(check, sw_part, catalog->part_count + own);
    scenario->machine = SW_KEEP(check, const sw_present *, catalog->role_count);
    scenario->machine_count = SW_KEEP(check, size_t, catalog->role_count);
    scenario->observed = SW_KEEP(check, bool, catalog->observation_count);
    scenario->weights = SW_KEEP(check, double, catalog->criterion_count);
    scenario->doubt.swing = SW_KEEP(check, int64_t, catalog->criterion_count);
    scenario->doubt.low = SW_KEEP(check, int64_t, catalog->criterion_count);
    scenario->doubt.high = SW_KEEP(check, int64_t, catalog->criterion_count);
    if (check->no_memory)
        return false;
    if (catalog->part_count > 0)
        memcpy(scenario->parts, catalog->parts, catalog->part_count * sizeof(sw_part));
    scenario->part_count = catalog->part_count;
    return true;
}

/* ---- the smaller fields --------------------------------------------------------------- */

static void read_date(sw_job *job) {
    job->has_day =
        sw_get_date(job->check, job->root, "date", SW_OPTIONAL, &job->scenario->date, &job->day);
    if (job->has_day)
        job->scenario->day = job->day;
}

static void read_observed(sw_job *job) {
    sw_check *check = job->check;
    sw_node list;
    if (!sw_get_list(check, job->root, "observed", SW_OPTIONAL, 0, SW_LIST_LIMIT, &list))
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        int index = SW_NONE;
        if (sw_is_kind(check, &at, SW_JSON_TEXT))
            index = sw_find(check, &at, &check->observations, at.json->text, "observation",
                            "observations.json");
        if (index != SW_NONE)
            job->scenario->observed[index] = true;
    }
}

static void read_sentences(sw_job *job, const char *name, const char *const **out, size_t *count) {
    sw_check *check = job->check;
    sw_node list;
    if (!sw_get_list(check, job->root, name, SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    const char **texts = SW_KEEP(check, const char *, list.json->count);
    for (size_t i = 0; texts != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        texts[i] = "";
        sw_check_text(check, &at, &texts[i]);
    }
    *out = texts;
    *count = texts == NULL ? 0 : list.json->count;
}

static void read_to_ask(sw_job *job) {
    sw_check *check = job->check;
    sw_node list;
    if (!sw_get_list(check, job->root, "to_ask", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_open_question *open = SW_KEEP(check, sw_open_question, list.json->count);
    for (size_t i = 0; open != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        open[i] = (sw_open_question){SW_NONE, ""};
        if (!SW_CHECK_NAMES(check, &at, "role", "ask"))
            continue;
        sw_get_index(check, &at, "role", SW_REQUIRED, &check->roles, "role", "roles.json",
                     &open[i].role);
        sw_get_text(check, &at, "ask", SW_REQUIRED, &open[i].ask);
    }
    job->scenario->to_ask = open;
    job->scenario->to_ask_count = open == NULL ? 0 : list.json->count;
}

static void read_room(sw_job *job) {
    sw_node room;
    if (!sw_get(job->check, job->root, "room", SW_OPTIONAL, SW_JSON_OBJECT, &room))
        return;
    SW_CHECK_NAMES(job->check, &room, "level_dba", "distance_m", "machine_dba", "temperature_c");
    sw_scenario *scenario = job->scenario;
    sw_get_milli(job->check, &room, "level_dba", SW_OPTIONAL, 0, ROOM_LEVEL_LIMIT_MILLI,
                 &scenario->room_milli);
    sw_get_milli(job->check, &room, "distance_m", SW_OPTIONAL, 50, 10000,
                 &scenario->distance_milli);
    sw_get_milli(job->check, &room, "temperature_c", SW_OPTIONAL, 5000, 45000,
                 &scenario->room_c_milli);
    sw_node machine = sw_member(&room, "machine_dba");
    if (machine.json != NULL &&
        sw_get_milli(job->check, &room, "machine_dba", SW_OPTIONAL, 0, ROOM_LEVEL_LIMIT_MILLI,
                     &scenario->machine_milli) &&
        scenario->machine_milli < scenario->room_milli + OVER_ROOM_LEAST_MILLI)
        sw_wrong(job->check, &machine,
                 "nearer to the room's own level the machine cannot be told from the room",
                 "measure nearer or in a quieter room, or leave it out",
                 "is less than 3 dB above the room's level");
}

static void read_electricity(sw_job *job) {
    sw_node found;
    sw_scenario *scenario = job->scenario;
    int64_t mains = scenario->mains_v;
    if (!sw_get(job->check, job->root, "electricity", SW_OPTIONAL, SW_JSON_OBJECT, &found))
        return;
    SW_CHECK_NAMES(job->check, &found, "price_per_kwh", "mains_v", "work_hours_a_day",
                   "idle_hours_a_day");
    sw_get_money(job->check, &found, "price_per_kwh", SW_OPTIONAL, &scenario->kwh_minor);
    sw_get_milli(job->check, &found, "work_hours_a_day", SW_OPTIONAL, 0, DAY_MILLI,
                 &scenario->work_hours_milli);
    sw_get_milli(job->check, &found, "idle_hours_a_day", SW_OPTIONAL, 0, DAY_MILLI,
                 &scenario->idle_hours_milli);
    if (scenario->work_hours_milli + scenario->idle_hours_milli > DAY_MILLI)
        sw_wrong(job->check, &found, "a day has 24 hours", "lower one of the two",
                 "has more than 24 hours in a day");
    if (sw_get_whole(job->check, &found, "mains_v", SW_OPTIONAL, 0, 1000, &mains) && mains != 115 &&
        mains != 230) {
        sw_node at = sw_member(&found, "mains_v");
        sw_wrong(job->check, &at, "efficiency is stated at 115 V and at 230 V", "give 115 or 230",
                 "is neither");
    }
    scenario->mains_v = mains;
}

static void read_job(sw_job *job, bool needs_catalog) {
    sw_check *check = job->check;
    const char *catalog = NULL;
    SW_CHECK_NAMES(check, job->root, "schema", "title", "catalog", "currency", "date", "machine",
                   "given", "observed", "musts", "wishes", "room", "electricity", "budget",
                   "labour", "tax", "allow_unknown", "quotes", "phases", "complaints", "surprise",
                   "assumed", "beware", "to_ask");
    if (!check->draft && sw_member(job->root, "wishes").json == NULL &&
        sw_member(job->root, "budget").json == NULL) {
        sw_wrong(check, job->root, "the client's wishes and money decide what is best",
                 "let swapworth intake ask ask for them, or write them",
                 "is a draft: it has no \"wishes\" and no \"budget\"");
        check->draft = true;
    }
    /* That it is there was checked before the catalog was read. */
    if (!needs_catalog)
        sw_get_text(check, job->root, "catalog", SW_OPTIONAL, &catalog);
    sw_get_text(check, job->root, "title", SW_OPTIONAL, &job->scenario->title);
    sw_get_flag(check, job->root, "allow_unknown", SW_OPTIONAL, &job->scenario->allow_unknown);
    read_date(job);
    sw_read_money(job);
    if (!make_room(job))
        return;
    sw_read_machine(job);
    sw_read_given(job);
    read_observed(job);
    sw_read_musts(job);
    sw_read_wishes(job);
    sw_read_stated_troubles(job);
    sw_read_surprise(job);
    read_sentences(job, "assumed", &job->scenario->assumed, &job->scenario->assumed_count);
    read_sentences(job, "beware", &job->scenario->beware, &job->scenario->beware_count);
    read_to_ask(job);
    read_room(job);
    read_electricity(job);
    sw_read_quotes(job, job->root, (sw_quotes){0}, &job->scenario->quotes);
    sw_read_phases(job);
}

/* ---- the catalog that it names --------------------------------------------------------- */

static const char *beside(sw_check *check, const char *path, const char *catalog) {
    const char *slash = strrchr(path, '/');
    if (catalog[0] == '/' || slash == NULL)
        return catalog;
    const char *joined =
        sw_arena_format(check->arena, "%.*s/%s", (int)(slash - path), path, catalog);
    if (joined == NULL)
        check->no_memory = true;
    return joined;
}

static const char *named_catalog(sw_check *check, const char *path, const sw_node *root) {
    const char *name = NULL;
    if (!sw_get_text(check, root, "catalog", SW_REQUIRED, &name))
        return NULL;
    return strcmp(path, "-") == 0 ? name : beside(check, path, name);
}

/* Reads the catalog while the scenario's own nodes stay alive. */
static void fill_catalog(sw_check *check, const char *folder) {
    sw_arena *arena = check->arena, *scratch = check->scratch;
    const char *file = check->file;
    check->scratch = NULL;
    sw_catalog_fill(check, folder);
    sw_arena_free(check->scratch);
    check->scratch = scratch;
    check->arena = arena;
    check->file = file;
}

/* ---- the whole ---------------------------------------------------------------------------- */

/* The quotes make a catalog of their own, that shares all else with the one read. */
static void quote(sw_check *check, sw_scenario *scenario) {
    sw_catalog *quoted = SW_KEEP(check, sw_catalog, 1);
    size_t count = 0;
    scenario->catalog = check->catalog;
    if (scenario->quotes.count == 0 || quoted == NULL)
        return;
    *quoted = *check->catalog;
    quoted->listings =
        sw_quoted_listings(&count, scenario->arena, check->catalog, scenario->quotes);
    quoted->listing_count = count;
    check->no_memory |= quoted->listings == NULL;
    scenario->catalog = quoted;
}

static void read_root(sw_check *check, sw_scenario *scenario, const sw_node *root,
                      bool needs_catalog) {
    sw_job job = {.check = check, .scenario = scenario, .root = root};
    read_job(&job, needs_catalog);
    sw_names_free(&job.present);
    sw_names_free(&job.own);
    if (!check->no_memory)
        quote(check, scenario);
}

/* Bytes or a tree that stand for the file at a path; both NULL: the file itself. */
typedef struct source {
    const char *path, *bytes;
    size_t length;
    const sw_json *json;
} source;

static bool open_source(sw_check *check, const source *from, sw_node *root) {
    const sw_json *json = from->json;
    if (from->bytes == NULL && json == NULL)
        return sw_check_open(check, from->path, root);
    check->file = sw_keep_text(check, from->path);
    check->scratch = sw_arena_new();
    check->no_memory |= check->file == NULL || check->scratch == NULL;
    if (check->no_memory)
        return false;
    sw_status status = json != NULL ? SW_OK
                                    : sw_json_read(&json, check->scratch, check->file, from->bytes,
                                                   from->length, check->complaints);
    check->bad |= status == SW_BAD_DATA;
    check->no_memory |= status == SW_NO_MEMORY;
    return status == SW_OK && sw_check_root(check, json, root);
}

static void read_all(sw_reading *reading, sw_scenario *scenario, const source *from,
                     const char *catalog) {
    sw_node root;
    sw_check *check = &reading->check;
    const char *folder = catalog;
    bool open = open_source(check, from, &root);
    scenario->file = check->file;
    if (open && catalog == NULL)
        folder = named_catalog(check, from->path, &root);
    if (folder != NULL && !check->no_memory)
        fill_catalog(check, folder);
    if (!open || check->no_memory)
        return;
    check->currency_doubt |= folder == NULL;
    reading->root = root.json;
    reading->needs_catalog = catalog == NULL;
    read_root(check, scenario, &root, catalog == NULL);
}

static sw_status read_source(sw_scenario **out, const source *from, const char *catalog, bool draft,
                             sw_complaints *complaints) {
    sw_scenario *scenario = scenario_new();
    sw_reading *reading = scenario == NULL ? NULL : SW_NEW(scenario->arena, sw_reading, 1);
    sw_status status = SW_NO_MEMORY;
    if (reading != NULL) {
        scenario->reading = reading;
        reading->check = sw_check_start(complaints);
        reading->check.arena = scenario->arena;
        scenario->own_catalog = reading->check.catalog = sw_catalog_new();
    }
    if (reading != NULL && scenario->own_catalog != NULL) {
        reading->check.draft = draft;
        read_all(reading, scenario, from, catalog);
        status = sw_check_status(&reading->check);
    }
    if (status == SW_OK)
        *out = scenario;
    else
        sw_scenario_free(scenario);
    return status;
}

sw_status sw_scenario_read(sw_scenario **out, const char *path, const char *catalog,
                           sw_complaints *complaints) {
    return read_source(out, &(source){.path = path}, catalog, false, complaints);
}

sw_status sw_scenario_read_draft(sw_scenario **out, const char *path, const char *catalog,
                                 sw_complaints *complaints) {
    return read_source(out, &(source){.path = path}, catalog, true, complaints);
}

sw_status sw_scenario_read_bytes(sw_scenario **out, const char *path, const char *bytes,
                                 size_t length, const char *catalog, bool draft,
                                 sw_complaints *complaints) {
    return read_source(out, &(source){.path = path, .bytes = bytes, .length = length}, catalog,
                       draft, complaints);
}

sw_status sw_scenario_read_tree(sw_scenario **out, const char *path, const sw_json *json,
                                const char *catalog, bool draft, sw_complaints *complaints) {
    return read_source(out, &(source){.path = path, .json = json}, catalog, draft, complaints);
}

const sw_json *sw_scenario_json(const sw_scenario *scenario) { return scenario->reading->root; }

/* The names of the catalog are shared, and only looked up: whoever read them frees them. */
static sw_check again(const sw_scenario *base, sw_scenario *scenario, sw_complaints *complaints) {
    sw_check check = base->reading->check;
    check.complaints = complaints;
    check.arena = scenario->arena;
    check.scratch = sw_arena_new();
    check.file = "--set";
    check.bad = check.unreadable = false;
    check.no_memory = check.scratch == NULL;
    check.wrong_count = 0;
    return check;
}

/* The catalog was read already, and phases are a question of their own. */
static bool may_change(sw_check *check, const sw_change *changes, size_t count) {
    static const char *const fixed[] = {"schema", "catalog", "phases"};
    for (size_t i = 0; i < count; i++)
        for (size_t f = 0; f < sizeof fixed / sizeof *fixed; f++) {
            size_t length = strlen(fixed[f]);
            if (strncmp(changes[i].path, fixed[f], length) != 0 ||
                (changes[i].path[length] != '\0' && changes[i].path[length] != '.'))
                continue;
            check->bad = true;
            sw_complain(check->complaints, check->file, fixed[f],
                        "it plays no part in what is asked here", "change it in the scenario",
                        "cannot be changed on the way");
            return false;
        }
    return true;
}

sw_status sw_scenario_change(sw_scenario **out, const sw_scenario *base, const sw_change *changes,
                             size_t count, sw_complaints *complaints) {
    sw_scenario *scenario = scenario_new();
    sw_node root;
    if (scenario == NULL)
        return SW_NO_MEMORY;
    sw_check check = again(base, scenario, complaints);
    const sw_json *json = base->reading->root;
    scenario->file = base->file;
    bool good = !check.no_memory && may_change(&check, changes, count);
    for (size_t i = 0; i < count && good; i++)
        good = sw_change_json(&json, &check, changes[i].path, changes[i].value);
    if (good && sw_check_root(&check, json, &root))
        read_root(&check, scenario, &root, base->reading->needs_catalog);
    sw_status status = sw_check_status(&check);
    sw_arena_free(check.scratch);
    if (status == SW_OK)
        *out = scenario;
    else
        sw_scenario_free(scenario);
    return status;
}

/* ---- the budget --------------------------------------------------------------------------- */

sw_status sw_scenario_money(int64_t *out, const sw_scenario *scenario, const char *option,
                            const char *text, sw_complaints *complaints) {
    if (sw_money_parse(out, text, scenario->catalog->currency_digits))
        return SW_OK;
    const sw_catalog *catalog = scenario->catalog;
    sw_text shown = {0}, why = {0};
    sw_plain_add(&shown, text);
    const char *most = sw_money_text(scenario->arena, SW_MONEY_LIMIT, catalog->currency_digits);
    sw_text_addf(&why, "in %s money is digits, with at most %d behind a point, up to %s",
                 catalog->currency, catalog->currency_digits, most == NULL ? "" : most);
    bool lacks = most == NULL || why.failed || shown.failed;
    sw_complain(complaints, option, "", lacks ? NULL : why.bytes,
                "write plain digits, without a currency sign", "is no amount: \"%s\"",
                shown.bytes == NULL ? "" : shown.bytes);
    sw_text_free(&shown);
    sw_text_free(&why);
    return SW_BAD_DATA;
}

sw_status sw_scenario_set_budget(sw_scenario *scenario, const char *text,
                                 sw_complaints *complaints) {
    return sw_scenario_money(&scenario->budget_total, scenario, "--budget", text, complaints);
}

int64_t sw_scenario_budget(const sw_scenario *scenario) {
    int64_t left = scenario->budget_total - scenario->reserve - scenario->sundries;
    return left < 0 ? 0 : left;
}
