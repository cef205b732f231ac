/* criteria.json and uses.json: what a client may want. */
#include "check/stage.h"

#include <string.h>

#define NUMBER SW_TYPE_BIT(SW_NUMBER)
#define CRITERIA_LIMIT 64

/* ---- criteria ------------------------------------------------------------------------ */

static void read_speed(sw_check *check, const sw_node *at, sw_criterion *out) {
    (void)check;
    (void)at;
    (void)out;
}

/* A fact of levels, of sound pressure or of sound power. */
static void read_levels(sw_check *check, const sw_node *at, const char *name, bool sound_power,
                        int *out) {
    int fact = SW_NONE;
    if (!sw_get_fact(check, at, name, NUMBER, &fact))
        return;
    sw_node found = sw_member(at, name);
    const sw_fact *is = &check->catalog->facts[fact];
    if (is->combine != SW_POWER)
        sw_wrong(check, &found, "noise adds up as powers", "name a fact that combines as power",
                 "does not combine as power");
    else if (is->sound_power != sound_power)
        sw_wrong(check, &found,
                 "levels of sound pressure and of sound power are told apart (ISO 7779)",
                 sound_power ? "name a fact whose quantity is power"
                             : "name a fact whose quantity is pressure, or say it under "
                               "\"declared\"",
                 is->sound_power ? "is a sound power level" : "is a sound pressure level");
    *out = fact;
}

static bool of_role(sw_check *check, const sw_node *at, const char *name, int role,
                    const sw_term *term) {
    if (term->role == role)
        return true;
    sw_node found = sw_member(at, name);
    sw_wrong(check, &found, "it is a fact of the role that runs", "name a fact of that role",
             "names a fact of another role");
    return false;
}

static void read_run(sw_check *check, const sw_node *at, sw_runs *out) {
    *out = (sw_runs){.role = SW_NONE, .busy = SW_NONE, .least = {SW_NONE, SW_NONE}};
    if (!SW_CHECK_NAMES(check, at, "role", "by", "busy", "full", "least"))
        return;
    bool good = sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json",
                             &out->role);
    sw_get_index(check, at, "busy", SW_REQUIRED, &check->roles, "role", "roles.json", &out->busy);
    sw_get_term(check, at, "by", NUMBER, &out->by);
    if (sw_get_term(check, at, "full", NUMBER, &out->full) && good)
        of_role(check, at, "full", out->role, &out->full);
    if (sw_member(at, "least").json != NULL &&
        sw_get_term(check, at, "least", NUMBER, &out->least) && good)
        of_role(check, at, "least", out->role, &out->least);
}

static void read_runs(sw_check *check, const sw_node *at, sw_criterion *out) {
    sw_node list;
    if (!sw_get_list(check, at, "runs", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_runs *runs = SW_KEEP(check, sw_runs, list.json->count);
    for (size_t i = 0; runs != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        read_run(check, &entry, &runs[i]);
        for (size_t j = 0; j < i && runs[i].role != SW_NONE; j++)
            if (runs[j].role == runs[i].role) {
                sw_wrong(check, &entry, "a role runs in one way", "take one of the two away",
                         "names a role again");
                break;
            }
    }
    out->runs = runs;
    out->runs_count = runs == NULL ? 0 : list.json->count;
}

static void read_quiet(sw_check *check, const sw_node *at, sw_criterion *out) {
    out->at_milli = 500;
    read_levels(check, at, "noise", false, &out->noise_fact);
    if (sw_member(at, "declared").json != NULL)
        read_levels(check, at, "declared", true, &out->declared_fact);
    if (sw_member(at, "steady").json != NULL)
        read_levels(check, at, "steady", false, &out->steady_fact);
    if (sw_member(at, "tone").json != NULL)
        sw_get_fact(check, at, "tone", NUMBER, &out->tone_fact);
    sw_get_milli(check, at, "at_m", SW_OPTIONAL, 50, 10000, &out->at_milli);
    read_runs(check, at, out);
    sw_get_term(check, at, "loss", NUMBER, &out->loss);
}

static void read_shows(sw_check *check, const sw_node *at, sw_criterion *out) {
    sw_node list;
    if (!sw_get_list(check, at, "shows", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_shows *shows = SW_KEEP(check, sw_shows, list.json->count);
    for (size_t i = 0; shows != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        shows[i].role = SW_NONE;
        if (!SW_CHECK_NAMES(check, &entry, "role", "weight"))
            continue;
        sw_get_milli(check, &entry, "weight", SW_REQUIRED, 1, SW_MILLI_LIMIT,
                     &shows[i].weight_milli);
        if (!sw_get_index(check, &entry, "role", SW_REQUIRED, &check->roles, "role", "roles.json",
                          &shows[i].role))
            continue;
        for (size_t j = 0; j < i; j++)
            if (shows[j].role == shows[i].role) {
                sw_wrong(check, &entry, "each role shows once", "add the weights up in one entry",
                         "names a role again");
                break;
            }
    }
    out->shows = shows;
    out->shows_count = list.json->count;
}

static void read_aspect(sw_check *check, const sw_node *at, sw_aspect *out) {
    *out = (sw_aspect){.fact = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "fact", "weight", "scale"))
        return;
    bool scaled = sw_member(at, "scale").json != NULL;
    sw_get_milli(check, at, "weight", SW_REQUIRED, 1, SW_MILLI_LIMIT, &out->weight_milli);
    sw_get_milli(check, at, "scale", SW_OPTIONAL, 1, SW_MILLI_LIMIT, &out->scale_milli);
    sw_get_fact(check, at, "fact", scaled ? NUMBER : SW_TYPE_BIT(SW_TOKEN), &out->fact);
}

static void read_looks(sw_check *check, const sw_node *at, sw_criterion *out) {
    sw_node list;
    read_shows(check, at, out);
    if (!sw_get_list(check, at, "aspects", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_aspect *aspects = SW_KEEP(check, sw_aspect, list.json->count);
    for (size_t i = 0; aspects != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        read_aspect(check, &entry, &aspects[i]);
        for (size_t j = 0; j < i && aspects[i].fact != SW_NONE; j++)
            if (aspects[j].fact == aspects[i].fact) {
                sw_wrong(check, &entry, "each fact is one aspect", "take one of the two away",
                         "names a fact again");
                break;
            }
    }
    out->aspects = aspects;
    out->aspect_count = list.json->count;
}

static void read_rated(sw_check *check, const sw_node *at, sw_criterion *out) {
    sw_get_terms(check, at, "facts", SW_REQUIRED, 1, NUMBER, &out->facts, &out->fact_count);
    sw_get_milli(check, at, "scale", SW_REQUIRED, 1, SW_MILLI_LIMIT, &out->scale_milli);
}

static const struct {
    const char *names[10];
    size_t name_count;
    void (*read)(sw_check *check, const sw_node *at, sw_criterion *out);
} kinds[] = {
    [SW_SPEED] = {{"id", "name", "kind"}, 3, read_speed},
    [SW_QUIET] = {{"id", "name", "kind", "noise", "loss", "at_m", "declared", "steady", "tone",
                   "runs"},
                  10,
                  read_quiet},
    [SW_LOOKS] = {{"id", "name", "kind", "shows", "aspects"}, 5, read_looks},
    [SW_RATED] = {{"id", "name", "kind", "facts", "scale"}, 5, read_rated},
};

static void read_criterion(sw_check *check, const sw_node *at, int index, bool *seen,
                           sw_criterion *out) {
    int kind = 0;
    *out = (sw_criterion){.id = "",
                          .name = "",
                          .noise_fact = SW_NONE,
                          .declared_fact = SW_NONE,
                          .steady_fact = SW_NONE,
                          .tone_fact = SW_NONE};
    if (!sw_is_kind(check, at, SW_JSON_OBJECT)) {
        check->criteria.whole = false;
        return;
    }
    out->id = sw_get_new_id(check, at, &check->criteria, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    if (!SW_GET_CHOICE(check, at, "kind", SW_REQUIRED, &kind, "speed", "quiet", "looks", "rated"))
        return;
    out->kind = (sw_criterion_kind)kind;
    if (out->kind != SW_RATED && seen[kind]) {
        sw_node found = sw_member(at, "kind");
        sw_wrong(check, &found, "speed, quiet and looks are one criterion each",
                 "put both together, or make a rated one", "is \"%s\" a second time",
                 found.json->text);
    }
    seen[kind] = true;
    sw_check_names(check, at, kinds[kind].names, kinds[kind].name_count);
    kinds[kind].read(check, at, out);
}

void sw_read_criteria(sw_check *check) {
    sw_node root, list;
    bool seen[SW_RATED + 1] = {false};
    if (!sw_open_list(check, "criteria.json", "criteria", 0, CRITERIA_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "criteria");
    sw_criterion *criteria = SW_KEEP(check, sw_criterion, list.json->count);
    if (criteria == NULL)
        return;
    check->criteria.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_criterion(check, &at, (int)i, seen, &criteria[i]);
    }
    check->catalog->criteria = criteria;
    check->catalog->criterion_count = list.json->count;
}

/* ---- uses ---------------------------------------------------------------------------------- */

static void read_stage(sw_check *check, const sw_node *at, sw_names *ids, int index,
                       sw_stage *out) {
    *out = (sw_stage){.id = "", .name = ""};
    if (!SW_CHECK_NAMES(check, at, "stage", "name", "rate"))
        return;
    sw_node id = sw_member(at, "stage"), rate = sw_member(at, "rate");
    if (sw_get_id(check, at, "stage", SW_REQUIRED, &out->id))
        sw_register(check, &id, ids, out->id, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    if (rate.json == NULL) {
        sw_wrong(check, at, "it says how fast the stage is", "add it", "has no \"rate\"");
        return;
    }
    sw_expr *expr = SW_KEEP(check, sw_expr, 1);
    out->rate = expr;
    if (expr != NULL)
        sw_check_expression(check, &rate, SW_NONE, 0, expr);
}

static void read_busy(sw_check *check, const sw_node *at, sw_use *out) {
    sw_node busy;
    int64_t *milli = SW_KEEP(check, int64_t, check->catalog->role_count);
    out->busy_milli = milli;
    if (milli == NULL || !sw_get(check, at, "busy", SW_OPTIONAL, SW_JSON_OBJECT, &busy))
        return;
    for (size_t i = 0; i < busy.json->count; i++) {
        sw_node entry = sw_element(&busy, i);
        int64_t share = 0;
        if (entry.json->kind == SW_JSON_TEXT && strcmp(entry.name, "note") == 0)
            continue;
        int role = sw_find(check, &entry, &check->roles, entry.name, "role", "roles.json");
        if (sw_check_milli(check, &entry, 0, 1000, &share) && role != SW_NONE)
            milli[role] = share;
    }
}

static void read_use(sw_check *check, const sw_node *at, int index, sw_use *out) {
    sw_node list;
    sw_names ids = {0};
    *out = (sw_use){.id = "", .name = "", .unit = ""};
    if (!SW_CHECK_NAMES(check, at, "id", "name", "unit", "stages", "busy")) {
        check->uses.whole = false;
        return;
    }
    out->id = sw_get_new_id(check, at, &check->uses, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    sw_get_text(check, at, "unit", SW_REQUIRED, &out->unit);
    read_busy(check, at, out);
    if (!sw_get_list(check, at, "stages", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_stage *stages = SW_KEEP(check, sw_stage, list.json->count);
    for (size_t i = 0; stages != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        read_stage(check, &entry, &ids, (int)i, &stages[i]);
    }
    sw_names_free(&ids);
    out->stages = stages;
    out->stage_count = list.json->count;
}

void sw_read_uses(sw_check *check) {
    sw_node root, list;
    if (!sw_open_list(check, "uses.json", "uses", 0, SW_SHORT_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "uses");
    sw_use *uses = SW_KEEP(check, sw_use, list.json->count);
    if (uses == NULL)
        return;
    check->uses.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_use(check, &at, (int)i, &uses[i]);
    }
    check->catalog->uses = uses;
    check->catalog->use_count = list.json->count;
}
