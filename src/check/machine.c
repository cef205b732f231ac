/* What stands in the machine today, and what the client brings. */
#include "check/stage.h"

#include <string.h>

#define GIVEN_LIMIT 1000

/* ---- parts of the scenario's own ------------------------------------------------------- */

size_t sw_own_part_limit(const sw_catalog *catalog) {
    return catalog->role_count * SW_COUNT_LIMIT + GIVEN_LIMIT;
}

int sw_add_part(sw_job *job, const sw_part *part) {
    sw_scenario *scenario = job->scenario;
    size_t limit = job->check->catalog->part_count + sw_own_part_limit(job->check->catalog);
    if (scenario->part_count >= limit)
        return SW_NONE;
    scenario->parts[scenario->part_count] = *part;
    return (int)scenario->part_count++;
}

sw_part *sw_read_own_part(sw_job *job, const sw_node *at, const char *id, int role) {
    sw_check *check = job->check;
    sw_node facts, place = sw_member(at, "part");
    if (!sw_is_id(id)) {
        sw_wrong(check, &place, "ids are lower-case letters, digits and hyphens, at most 64",
                 "rename it, and start it with a letter or digit", "is no id: \"%s\"",
                 sw_shown(check, id));
        return NULL;
    }
    sw_part *part = SW_KEEP(check, sw_part, 1);
    sw_value *values = sw_silent_values(check, role);
    if (part == NULL || values == NULL)
        return NULL;
    *part = (sw_part){
        .id = sw_keep_text(check, id), .name = "", .maker = "", .role = role, .values = values};
    if (!sw_register(check, &place, &job->own, part->id, 0))
        return NULL;
    sw_get_text(check, at, "name", SW_REQUIRED, &part->name);
    if (sw_get(check, at, "facts", SW_REQUIRED, SW_JSON_OBJECT, &facts))
        sw_check_stated(check, &facts, role, values);
    return part;
}

/* True when the id is unknown and nothing is given that would make it a new one. */
static bool is_mere_name(sw_job *job, const sw_node *at, const char *id) {
    if (sw_member(at, "name").json != NULL || sw_member(at, "facts").json != NULL)
        return false;
    sw_check *check = job->check;
    sw_node place = sw_member(at, "part");
    sw_wrong(check, &place, "a part is one of the catalog, or brings its own name and facts",
             sw_mend_name(check, id, check->parts.names, check->parts.count,
                          "add its \"name\" and \"facts\""),
             "names the part \"%s\", which is not known", sw_shown(check, id));
    return true;
}

/* ---- present pieces ------------------------------------------------------------------------ */

/* A catalog part, some of whose facts are told of this piece alone. */
static int read_changed(sw_job *job, const sw_node *at, int index) {
    sw_check *check = job->check;
    sw_node facts;
    sw_part part = check->catalog->parts[index];
    bool renamed = sw_get_text(check, at, "name", SW_OPTIONAL, &part.name);
    if (!sw_get(check, at, "facts", SW_OPTIONAL, SW_JSON_OBJECT, &facts))
        return renamed ? sw_add_part(job, &part) : index;
    size_t count = check->catalog->fact_count;
    sw_value *values = SW_KEEP(check, sw_value, count);
    if (values == NULL || part.values == NULL)
        return SW_NONE;
    if (count > 0)
        memcpy(values, part.values, count * sizeof *values);
    sw_check_stated(check, &facts, part.role, values);
    part.values = values;
    return sw_add_part(job, &part);
}

static int find_present(sw_job *job, const sw_node *at, int role) {
    sw_check *check = job->check;
    sw_node place;
    if (!sw_get(check, at, "part", SW_REQUIRED, SW_JSON_TEXT, &place))
        return SW_NONE;
    const char *id = place.json->text;
    int index = sw_names_find(&check->parts, id);
    if (index == SW_NONE) {
        if (!check->parts.whole || is_mere_name(job, at, id))
            return SW_NONE;
        sw_part *own = sw_read_own_part(job, at, id, role);
        return own == NULL ? SW_NONE : sw_add_part(job, own);
    }
    const sw_part *part = &check->catalog->parts[index];
    if (part->role == SW_NONE)
        return SW_NONE;
    if (part->role != role) {
        sw_wrong(check, &place, "a part stands under its own role",
                 "move it, or name a part of this role",
                 "names \"%s\", which is a part of the role \"%s\"", part->id,
                 check->catalog->roles[part->role].id);
        return SW_NONE;
    }
    return read_changed(job, at, index);
}

static bool read_present(sw_job *job, const sw_node *at, int role, sw_present *out) {
    sw_check *check = job->check;
    int condition = SW_GOOD;
    *out = (sw_present){.part = SW_NONE, .count = 1};
    if (!SW_CHECK_NAMES(check, at, "part", "count", "condition", "offer", "hoped", "name", "facts"))
        return false;
    bool good = sw_member(at, "count").json == NULL ||
                sw_get_count(check, at, "count", SW_OPTIONAL, 1, SW_COUNT_LIMIT, &out->count);
    if (SW_GET_CHOICE(check, at, "condition", SW_OPTIONAL, &condition, "good", "worn", "failing",
                      "unproven"))
        out->condition = (sw_condition)condition;
    sw_get_money(check, at, "offer", SW_OPTIONAL, &out->offer);
    sw_get_money(check, at, "hoped", SW_OPTIONAL, &out->hoped);
    out->part = find_present(job, at, role);
    if (out->part == SW_NONE)
        return false;
    sw_node place = sw_member(at, "part");
    return sw_register(check, &place, &job->present, job->scenario->parts[out->part].id,
                       out->part) &&
           good;
}

/* Few enough that putting each in its place is the plainest way. */
static void put_in_order(const sw_scenario *scenario, sw_present *pieces, size_t count) {
    for (size_t i = 1; i < count; i++) {
        sw_present moved = pieces[i];
        size_t at = i;
        for (; at > 0 &&
               strcmp(scenario->parts[pieces[at - 1].part].id, scenario->parts[moved.part].id) > 0;
             at--)
            pieces[at] = pieces[at - 1];
        pieces[at] = moved;
    }
}

/* A machine may hold more today than roles.json would put in; one that holds
 * less has not been listed whole. */
static void check_pieces(sw_check *check, const sw_node *at, int role, int pieces) {
    const sw_role *is = &check->catalog->roles[role];
    if (pieces < is->least)
        sw_wrong(check, at, "roles.json says how many pieces each role holds",
                 "add what is in the machine",
                 "holds %d pieces of the role \"%s\", which takes at least %d", pieces, is->id,
                 is->least);
}

static void read_role(sw_job *job, const sw_node *list, int role) {
    sw_check *check = job->check;
    sw_scenario *scenario = job->scenario;
    bool good = true;
    int pieces = 0;
    if (!sw_is_kind(check, list, SW_JSON_ARRAY)) {
        job->present.whole = false;
        return;
    }
    if (list->json->count > SW_COUNT_LIMIT) {
        sw_wrong(check, list, "a role holds at most 16 pieces", "put equal ones under one count",
                 "has %zu entries", list->json->count);
        job->present.whole = false;
        return;
    }
    sw_present *present = SW_KEEP(check, sw_present, list->json->count);
    for (size_t i = 0; present != NULL && i < list->json->count; i++) {
        sw_node at = sw_element(list, i);
        good &= read_present(job, &at, role, &present[i]);
        pieces += present[i].count;
    }
    if (present == NULL || !good) {
        job->present.whole = false;
        return;
    }
    check_pieces(check, list, role, pieces);
    put_in_order(scenario, present, list->json->count);
    scenario->machine[role] = present;
    scenario->machine_count[role] = list->json->count;
}

void sw_read_machine(sw_job *job) {
    sw_check *check = job->check;
    const sw_catalog *catalog = check->catalog;
    sw_node machine;
    job->present.whole = false;
    if (!sw_get(check, job->root, "machine", SW_REQUIRED, SW_JSON_OBJECT, &machine))
        return;
    job->present.whole = check->roles.whole && check->parts.whole;
    bool known = true;
    for (size_t i = 0; i < machine.json->count; i++) {
        sw_node list = sw_element(&machine, i);
        if (strcmp(list.name, "note") == 0) {
            sw_is_kind(check, &list, SW_JSON_TEXT);
            continue;
        }
        int role = sw_find(check, &list, &check->roles, list.name, "role", "roles.json");
        if (role == SW_NONE)
            known = job->present.whole = false;
        else
            read_role(job, &list, role);
    }
    /* Under a name that is not known stands what seems to be missing. */
    for (size_t r = 0; r < catalog->role_count && known; r++)
        if (sw_member(&machine, catalog->roles[r].id).json == NULL)
            check_pieces(check, &machine, (int)r, 0);
}

/* ---- given parts ------------------------------------------------------------------------------
 */

static int find_given(sw_job *job, const sw_node *at) {
    sw_check *check = job->check;
    sw_node place;
    int role = SW_NONE;
    if (!sw_get(check, at, "part", SW_REQUIRED, SW_JSON_TEXT, &place))
        return SW_NONE;
    int index = sw_names_find(&check->parts, place.json->text);
    if (index != SW_NONE) {
        static const char *const own[] = {"role", "name", "facts"};
        for (size_t i = 0; i < sizeof own / sizeof *own; i++) {
            sw_node extra = sw_member(at, own[i]);
            if (extra.json != NULL)
                sw_wrong(check, &extra, "the catalog says this of its parts",
                         "take it away, or give the part an id of its own",
                         "stands beside a part of the catalog");
        }
        return index;
    }
    if (!check->parts.whole || is_mere_name(job, at, place.json->text) ||
        !sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json", &role))
        return SW_NONE;
    sw_part *part = sw_read_own_part(job, at, place.json->text, role);
    return part == NULL ? SW_NONE : sw_add_part(job, part);
}

static void read_strings(sw_check *check, const sw_node *at, sw_given *out) {
    static const char *const words[] = {"must-use", "must-show", "no-resale"};
    bool *const flags[] = {&out->must_use, &out->must_show, &out->no_resale};
    sw_node list;
    if (!sw_get_list(check, at, "strings", SW_OPTIONAL, 0, 3, &list))
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        bool known = false;
        if (!sw_is_kind(check, &entry, SW_JSON_TEXT))
            continue;
        for (size_t w = 0; w < 3; w++)
            if (strcmp(entry.json->text, words[w]) == 0) {
                if (*flags[w])
                    sw_wrong(check, &entry, "its strings are distinct", "take it away",
                             "is there twice");
                known = *flags[w] = true;
            }
        if (!known)
            sw_wrong(check, &entry, "it is one of: must-use, must-show, no-resale",
                     sw_mend_name(check, entry.json->text, words, 3, "choose one of these"),
                     "is \"%s\"", sw_shown(check, entry.json->text));
    }
}

static void read_arrival(sw_job *job, const sw_node *at, sw_given *out) {
    sw_check *check = job->check;
    sw_node date;
    int64_t day = 0;
    if (!sw_get(check, at, "arrives_on", SW_OPTIONAL, SW_JSON_TEXT, &date))
        return;
    if (!sw_date_parse(&day, date.json->text))
        sw_wrong(check, &date, "dates are days of the calendar, like 2026-03-02 (ISO 8601)",
                 "write year-month-day", "is no date: \"%s\"", sw_shown(check, date.json->text));
    else if (sw_member(job->root, "date").json == NULL)
        sw_wrong(check, &date, "the days until then count from the scenario's date",
                 "add \"date\" to the scenario", "stands in a scenario without a date");
    else if (job->has_day && day > job->day)
        out->days = (int)(day - job->day);
}

static bool read_given(sw_job *job, const sw_node *at, sw_names *seen, sw_given *out) {
    sw_check *check = job->check;
    *out = (sw_given){.part = SW_NONE, .count = 1};
    if (!SW_CHECK_NAMES(check, at, "part", "count", "strings", "arrives_on", "role", "name",
                        "facts"))
        return false;
    sw_get_count(check, at, "count", SW_OPTIONAL, 1, SW_COUNT_LIMIT, &out->count);
    read_strings(check, at, out);
    read_arrival(job, at, out);
    out->part = find_given(job, at);
    if (out->part == SW_NONE)
        return false;
    sw_node place = sw_member(at, "part");
    return sw_register(check, &place, seen, job->scenario->parts[out->part].id, 0);
}

void sw_read_given(sw_job *job) {
    sw_check *check = job->check;
    sw_scenario *scenario = job->scenario;
    sw_node list;
    sw_names seen = {0};
    if (!sw_get_list(check, job->root, "given", SW_OPTIONAL, 0, GIVEN_LIMIT, &list))
        return;
    sw_given *given = SW_KEEP(check, sw_given, list.json->count);
    size_t count = 0;
    for (size_t i = 0; given != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        sw_given one;
        if (!read_given(job, &at, &seen, &one))
            continue;
        size_t to = count++;
        for (; to > 0 &&
               strcmp(scenario->parts[given[to - 1].part].id, scenario->parts[one.part].id) > 0;
             to--)
            given[to] = given[to - 1];
        given[to] = one;
    }
    sw_names_free(&seen);
    scenario->given = given;
    scenario->given_count = count;
}
