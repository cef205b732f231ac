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
    scenario->mains_v = 230;
    scenario->work_hours_milli = scenario->idle_hours_milli = -1;
    return scenario;
}

void sw_scenario_free(sw_scenario *scenario) {
    if (scenario == NULL)
        return;
    sw_catalog_free(scenario->catalog);
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
    if (check->no_memory)
        return false;
    if (catalog->part_count > 0)
        memcpy(scenario->parts, catalog->parts, catalog->part_count * sizeof(sw_part));
    scenario->part_count = catalog->part_count;
    return true;
}

/* ---- the smaller fields --------------------------------------------------------------- */

static void read_date(sw_job *job) {
    sw_check *check = job->check;
    sw_node date;
    if (!sw_get(check, job->root, "date", SW_OPTIONAL, SW_JSON_TEXT, &date))
        return;
    job->has_day = sw_date_parse(&job->day, date.json->text);
    if (job->has_day)
        job->scenario->date = sw_keep_text(check, date.json->text);
    else
        sw_wrong(check, &date, "dates are days of the calendar, like 2026-03-02 (ISO 8601)",
                 "write year-month-day", "is no date: \"%s\"", sw_shown(check, date.json->text));
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
                   "labour", "tax", "allow_unknown");
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
    read_room(job);
    read_electricity(job);
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

static void read_all(sw_check *check, sw_scenario *scenario, const char *path,
                     const char *catalog) {
    sw_node root;
    const char *folder = catalog;
    bool open = sw_check_open(check, path, &root);
    scenario->file = check->file;
    if (open && catalog == NULL)
        folder = named_catalog(check, path, &root);
    if (folder != NULL && !check->no_memory)
        fill_catalog(check, folder);
    if (!open || check->no_memory)
        return;
    sw_job job = {.check = check, .scenario = scenario, .root = &root};
    check->currency_doubt |= folder == NULL;
    read_job(&job, catalog == NULL);
    sw_names_free(&job.present);
    sw_names_free(&job.own);
}

sw_status sw_scenario_read(sw_scenario **out, const char *path, const char *catalog,
                           sw_complaints *complaints) {
    sw_check check = sw_check_start(complaints);
    sw_scenario *scenario = scenario_new();
    if (scenario == NULL)
        return SW_NO_MEMORY;
    scenario->catalog = check.catalog = sw_catalog_new();
    check.arena = scenario->arena;
    sw_status status = SW_NO_MEMORY;
    if (scenario->catalog != NULL) {
        read_all(&check, scenario, path, catalog);
        status = sw_check_status(&check);
    }
    sw_check_end(&check);
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
                 catalog->currency, catalog->currency_digits, most == NULL ? "a limit" : most);
    sw_complain(complaints, option, "", why.bytes == NULL ? "" : why.bytes,
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
