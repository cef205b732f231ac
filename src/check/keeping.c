/* What stays, what goes, and what is not bought; and that these agree. */
#include "check/stage.h"

#include <string.h>

/* ---- names of two kinds --------------------------------------------------------------- */

/* Complains of a name that is in neither list, with the nearest of both. */
static void wrong_name(sw_check *check, const sw_node *at, const char *kinds, const sw_names *a,
                       const sw_names *b) {
    if (!a->whole || !b->whole)
        return;
    const char *name = at->json->text;
    const char *mend =
        sw_mend_name(check, name, b->names, b->count, "correct the name, or take it away");
    sw_wrong(check, at, "only names that are listed can be used",
             sw_mend_name(check, name, a->names, a->count, mend), "names \"%s\", which is no %s",
             sw_shown(check, name), kinds);
}

static void read_names(sw_job *job, const sw_node *wishes, const char *name, bool *roles,
                       bool *parts) {
    sw_check *check = job->check;
    sw_node list;
    if (!sw_get_list(check, wishes, name, SW_OPTIONAL, 0, SW_LIST_LIMIT, &list))
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        if (!sw_is_kind(check, &at, SW_JSON_TEXT))
            continue;
        int role = sw_names_find(&check->roles, at.json->text);
        int part = sw_names_find(&job->present, at.json->text);
        if (role != SW_NONE)
            roles[role] = true;
        else if (part != SW_NONE)
            parts[part] = true;
        else
            wrong_name(check, &at, "role and no present part", &check->roles, &job->present);
    }
}

bool sw_is_avoided(const sw_part *part, const char *name) {
    return strcmp(part->id, name) == 0 || strcmp(part->maker, name) == 0;
}

static void avoid(sw_job *job, const char *name, bool *found) {
    sw_scenario *scenario = job->scenario;
    for (size_t p = 0; p < scenario->part_count; p++)
        if (sw_is_avoided(&scenario->parts[p], name))
            scenario->avoid_part[p] = *found = true;
    const char *kept = sw_keep_text(job->check, name);
    for (size_t i = 0; i < scenario->avoid_count && kept != NULL; i++)
        if (strcmp(scenario->avoid[i], kept) == 0)
            return;
    if (*found && kept != NULL)
        scenario->avoid[scenario->avoid_count++] = kept;
}

static void read_avoid(sw_job *job, const sw_node *wishes) {
    sw_check *check = job->check;
    sw_node list;
    if (!sw_get_list(check, wishes, "avoid", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    job->scenario->avoid = SW_KEEP(check, const char *, list.json->count);
    if (job->scenario->avoid == NULL)
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        bool found = false;
        if (!sw_is_kind(check, &at, SW_JSON_TEXT))
            continue;
        /* A part without a maker has the maker "". */
        if (at.json->text[0] != '\0')
            avoid(job, at.json->text, &found);
        if (!found)
            wrong_name(check, &at, "part and no maker", &check->parts, &check->makers);
    }
}

/* ---- agreement --------------------------------------------------------------------------- */

static void check_part(sw_job *job, const sw_node *wishes, const sw_node *musts, int role,
                       int part) {
    sw_check *check = job->check;
    const sw_scenario *scenario = job->scenario;
    const char *id = scenario->parts[part].id;
    bool kept = scenario->keep_role[role] || scenario->keep_part[part];
    bool replaced = scenario->replace_part[part] ||
                    (scenario->replace_role[role] && !scenario->keep_role[role]);
    sw_node keep = sw_member(wishes, "keep");
    if (!kept)
        return;
    if (replaced)
        sw_wrong(check, &keep, "a part cannot both stay and go",
                 "take it away from \"keep\" or from \"replace\"",
                 "keeps \"%s\", which \"replace\" sends away", id);
    for (size_t m = 0; m < scenario->must_count; m++)
        if (scenario->musts[m].part == part) {
            sw_node must = sw_element(musts, m);
            sw_wrong(check, &must, "a part cannot both stay and go",
                     "take the part (or its role) away from \"keep\", or drop the must",
                     "replaces \"%s\", which the wishes keep", id);
        }
}

static void check_agreement(sw_job *job, const sw_node *wishes) {
    sw_check *check = job->check;
    const sw_scenario *scenario = job->scenario;
    sw_node musts = sw_member(job->root, "musts");
    sw_node keep = sw_member(wishes, "keep");
    for (size_t r = 0; r < check->catalog->role_count; r++) {
        if (scenario->keep_role[r] && scenario->replace_role[r])
            sw_wrong(check, &keep, "a role cannot both stay and go",
                     "take it away from \"keep\" or from \"replace\"",
                     "keeps the role \"%s\", which \"replace\" sends away",
                     check->catalog->roles[r].id);
        for (size_t i = 0; i < scenario->machine_count[r]; i++)
            check_part(job, wishes, &musts, (int)r, scenario->machine[r][i].part);
    }
}

static bool make_room(sw_job *job) {
    sw_check *check = job->check;
    sw_scenario *scenario = job->scenario;
    scenario->keep_role = SW_KEEP(check, bool, check->catalog->role_count);
    scenario->replace_role = SW_KEEP(check, bool, check->catalog->role_count);
    scenario->keep_part = SW_KEEP(check, bool, scenario->part_count);
    scenario->replace_part = SW_KEEP(check, bool, scenario->part_count);
    scenario->avoid_part = SW_KEEP(check, bool, scenario->part_count);
    return !check->no_memory;
}

void sw_no_keeping(sw_job *job) { make_room(job); }

void sw_read_keeping(sw_job *job, const sw_node *wishes) {
    sw_scenario *scenario = job->scenario;
    if (!make_room(job))
        return;
    read_names(job, wishes, "keep", scenario->keep_role, scenario->keep_part);
    read_names(job, wishes, "replace", scenario->replace_role, scenario->replace_part);
    read_avoid(job, wishes);
    check_agreement(job, wishes);
}
