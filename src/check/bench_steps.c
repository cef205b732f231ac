/* The steps of bench.json, and what they wait for. */
#include "check/bench.h"

#include <string.h>

#include "check/stage.h"

/* ---- whose minutes it takes ------------------------------------------------------------------ */

static int charge_named(sw_check *check, const sw_node *at, const char *id) {
    const sw_catalog *catalog = check->catalog;
    const char **known = SW_KEEP(check, const char *, catalog->charge_count);
    for (size_t c = 0; known != NULL && c < catalog->charge_count; c++) {
        if (strcmp(catalog->charges[c].id, id) == 0)
            return (int)c;
        known[c] = catalog->charges[c].id;
    }
    if (known != NULL)
        sw_wrong(check, at, "charges are listed in charges.json",
                 sw_mend_name(check, id, known, catalog->charge_count, "name one of them"),
                 "names the charge \"%s\", which is not known", sw_shown(check, id));
    return SW_NONE;
}

/* The work of one task, or of one charge, is one step. */
static void once(sw_check *check, const sw_node *at, int index, int *taken) {
    if (index == SW_NONE)
        return;
    if (taken[index] != SW_NONE)
        sw_wrong(check, at, "it is one step, whose minutes are told once",
                 "take it out of one of the two steps", "has a step already");
    taken[index] = 0;
}

static void read_whose(sw_check *check, const sw_node *at, int *tasks, int *charges, sw_step *out) {
    sw_node task = sw_member(at, "task"), charge = sw_member(at, "charge");
    const char *id = NULL;
    if (task.json != NULL && charge.json != NULL)
        sw_wrong(check, at, "the minutes of a step are those of one thing",
                 "make two steps of it, or take one of them away", "has both a task and a charge");
    if (sw_get_index(check, at, "task", SW_OPTIONAL, &check->tasks, "task", "tasks.json",
                     &out->task))
        once(check, &task, out->task, tasks);
    if (charge.json != NULL && sw_get_id(check, at, "charge", SW_OPTIONAL, &id)) {
        out->charge = charge_named(check, &charge, id);
        once(check, &charge, out->charge, charges);
    }
    sw_node minutes = sw_member(at, "minutes");
    if ((task.json != NULL || charge.json != NULL) && minutes.json != NULL)
        sw_wrong(check, &minutes, "the minutes stand with the task or charge that the step is of",
                 "take them away here", "are stated twice");
    sw_get_whole(check, at, "minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT, &out->minutes);
    sw_get_whole(check, at, "alone_minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT, &out->alone_minutes);
}

/* ---- what it waits for -------------------------------------------------------------------------
 */

static bool read_ref(sw_check *check, const sw_node *at, const sw_names *steps, sw_step_ref *out) {
    const char *text = NULL;
    if (!sw_check_token(check, at, &text))
        return false;
    bool off = strncmp(text, "off:", 4) == 0, on = strncmp(text, "on:", 3) == 0;
    if (!off && !on) {
        *out = (sw_step_ref){SW_REF_STEP, sw_find(check, at, steps, text, "step", "bench.json")};
        return out->index != SW_NONE;
    }
    const char *role = text + (off ? 4 : 3);
    *out = (sw_step_ref){off ? SW_REF_OFF : SW_REF_ON, SW_EVERY_ROLE};
    if (strcmp(role, "*") != 0)
        out->index = sw_find(check, at, &check->roles, role, "role", "roles.json");
    return out->index != SW_NONE;
}

static void read_refs(sw_check *check, const sw_node *at, const char *name, const sw_names *steps,
                      const sw_step_ref **out, size_t *count) {
    sw_node list;
    if (!sw_get_list(check, at, name, SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_step_ref *refs = SW_KEEP(check, sw_step_ref, list.json->count);
    for (size_t i = 0; refs != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        if (read_ref(check, &entry, steps, &refs[*count]))
            (*count)++;
    }
    *out = refs;
}

/* ---- one step
 * ------------------------------------------------------------------------------------ */

static void read_step(sw_check *check, const sw_node *at, const sw_names *stages,
                      const sw_names *steps, sw_step *out) {
    sw_get_index(check, at, "stage", SW_REQUIRED, stages, "stage", "bench.json", &out->stage);
    sw_get_conditions(check, at, "any", SW_OPTIONAL, 1, SW_NONE, &out->any, &out->any_count);
    sw_get_conditions(check, at, "all", SW_OPTIONAL, 0, SW_NONE, &out->all, &out->all_count);
    sw_get_conditions(check, at, "was", SW_OPTIONAL, 0, SW_NONE, &out->was, &out->was_count);
    sw_get_work_words(check, at, "words", SW_REQUIRED, &out->words);
    sw_get_work_words(check, at, "caution", SW_OPTIONAL, &out->caution);
    sw_get_text(check, at, "source", SW_REQUIRED, &out->source);
    sw_get_work_roles(check, at, "lifts", &out->lifts, &out->lift_count);
    sw_get_work_roles(check, at, "reaches", &out->reaches, &out->reach_count);
    read_refs(check, at, "after", steps, &out->after, &out->after_count);
    read_refs(check, at, "before", steps, &out->before, &out->before_count);
}

/* Parts move in one stage alone. */
static void check_place(sw_check *check, const sw_node *at, const sw_bench_form *bench,
                        const sw_step *step) {
    if (step->stage != SW_NONE && step->stage != bench->machine_stage &&
        step->lift_count + step->reach_count > 0)
        sw_wrong(check, at, "parts come off in the stage that says \"machine\"",
                 "put the step there, or take \"lifts\" and \"reaches\" away",
                 "reaches into the machine in another stage");
}

static int *new_indexes(sw_check *check, size_t count) {
    int *out = SW_KEEP(check, int, count);
    for (size_t i = 0; out != NULL && i < count; i++)
        out[i] = SW_NONE;
    return out;
}

void sw_read_steps(sw_check *check, const sw_node *root, const sw_names *stages,
                   sw_bench_form *bench) {
    sw_node list;
    sw_names ids = {.whole = true};
    if (!sw_get_list(check, root, "steps", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_step *steps = SW_KEEP(check, sw_step, list.json->count);
    int *tasks = new_indexes(check, check->catalog->task_count);
    int *charges = new_indexes(check, check->catalog->charge_count);
    if (steps == NULL || tasks == NULL || charges == NULL)
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        steps[i] = (sw_step){.id = "",
                             .stage = SW_NONE,
                             .task = SW_NONE,
                             .charge = SW_NONE,
                             .words = "",
                             .caution = "",
                             .source = ""};
        if (SW_CHECK_NAMES(check, &at, "step", "stage", "task", "charge", "any", "all", "was",
                           "words", "minutes", "alone_minutes", "lifts", "reaches", "after",
                           "before", "caution", "source"))
            steps[i].id = sw_get_new_name(check, &at, "step", &ids, (int)i);
        else
            ids.whole = false;
    }
    /* A step may wait for one that stands behind it. */
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        if (at.json->kind != SW_JSON_OBJECT)
            continue;
        read_whose(check, &at, tasks, charges, &steps[i]);
        read_step(check, &at, stages, &ids, &steps[i]);
        check_place(check, &at, bench, &steps[i]);
    }
    sw_names_free(&ids);
    bench->steps = steps;
    bench->step_count = list.json->count;
}
