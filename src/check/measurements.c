/* What was measured when the work was done, held against the catalog's tasks and uses. */
#include "check/measurements.h"

#include <string.h>

#include "check/stage.h"

/* ---- what is measured ------------------------------------------------------------------- */

/* A number, or that it was done. */
static void read_outcome(sw_check *check, const sw_node *at, sw_measurement *out) {
    bool has_value = sw_member(at, "value").json != NULL;
    out->says_done = sw_member(at, "done").json != NULL;
    if (has_value == out->says_done)
        sw_wrong(check, at, "a check ends in a number, or in that it was done",
                 has_value ? "keep the one that the check asks for"
                           : "add \"value\" with the number, or \"done\" with true or false",
                 has_value ? "has a value and says that it was done"
                           : "says nothing of the outcome");
    else if (has_value)
        sw_get_number(check, at, "value", SW_REQUIRED, SW_MEASURED_LIMIT, &out->value);
    else
        sw_get_flag(check, at, "done", SW_REQUIRED, &out->done);
}

static void read_measurement(sw_check *check, const sw_node *at, sw_names *known,
                             sw_measurement *out) {
    *out = (sw_measurement){.check = "", .use_index = SW_NONE};
    out->place = sw_arena_format(check->arena, "$.%s[%zu]", at->up->name, at->index);
    check->no_memory |= out->place == NULL;
    if (!SW_CHECK_NAMES(check, at, "check", "use", "value", "done"))
        return;
    sw_get_check_and_use(check, at, known, &out->check, &out->use);
    sw_node use = sw_member(at, "use");
    if (out->use != NULL)
        out->use_index = sw_find(check, &use, &check->uses, out->use, "use", "uses.json");
    read_outcome(check, at, out);
}

static void read_list(sw_check *check, const sw_node *root, const char *name, sw_need need,
                      const sw_measurement **out, size_t *count) {
    sw_node list;
    sw_names known = {0};
    if (!sw_get_list(check, root, name, need, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_measurement *made = SW_KEEP(check, sw_measurement, list.json->count);
    for (size_t i = 0; made != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_measurement(check, &at, &known, &made[i]);
    }
    sw_names_free(&known);
    *out = made;
    *count = made == NULL ? 0 : list.json->count;
}

/* ---- tasks that were left out, notes ------------------------------------------------------ */

static void read_left_out(sw_check *check, const sw_node *root, sw_measurements *out) {
    sw_node list;
    sw_names known = {0};
    if (!sw_get_list(check, root, "left_out", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    const char **ids = SW_KEEP(check, const char *, list.json->count);
    int *tasks = SW_KEEP(check, int, list.json->count);
    for (size_t i = 0; ids != NULL && tasks != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        ids[i] = "";
        tasks[i] = SW_NONE;
        if (!sw_check_id(check, &at, &ids[i]))
            continue;
        tasks[i] = sw_find(check, &at, &check->tasks, ids[i], "task", "tasks.json");
        if (sw_names_find(&known, ids[i]) != SW_NONE)
            sw_wrong(check, &at, "once is enough", "take one of the two away",
                     "leaves \"%s\" out a second time", ids[i]);
        else
            check->no_memory |= !sw_names_add(&known, ids[i], 0);
    }
    sw_names_free(&known);
    out->left_out = ids;
    out->left_out_tasks = tasks;
    out->left_out_count = check->no_memory ? 0 : list.json->count;
}

static void read_notes(sw_check *check, const sw_node *root, sw_measurements *out) {
    sw_node list;
    if (!sw_get_list(check, root, "notes", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    const char **notes = SW_KEEP(check, const char *, list.json->count);
    for (size_t i = 0; notes != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        notes[i] = "";
        sw_check_text(check, &at, &notes[i]);
    }
    out->notes = notes;
    out->note_count = notes == NULL ? 0 : list.json->count;
}

static void read_root(sw_check *check, const sw_node *root, sw_measurements *out) {
    SW_CHECK_NAMES(check, root, "schema", "job", "date", "left_out", "before", "after", "notes");
    sw_get_id(check, root, "job", SW_REQUIRED, &out->job);
    sw_get_date(check, root, "date", SW_OPTIONAL, &out->date, &out->day);
    read_left_out(check, root, out);
    read_list(check, root, "before", SW_OPTIONAL, &out->before, &out->before_count);
    read_list(check, root, "after", SW_REQUIRED, &out->after, &out->after_count);
    read_notes(check, root, out);
}

/* ---- the whole --------------------------------------------------------------------------- */

/* The names of the catalog; without one they are not whole, and nothing is missed in them. */
static void know(sw_check *check, const sw_catalog *catalog) {
    if (catalog == NULL)
        return;
    for (size_t i = 0; i < catalog->task_count && !check->no_memory; i++)
        check->no_memory = !sw_names_add(&check->tasks, catalog->tasks[i].id, (int)i);
    for (size_t i = 0; i < catalog->use_count && !check->no_memory; i++)
        check->no_memory = !sw_names_add(&check->uses, catalog->uses[i].id, (int)i);
    check->tasks.whole = check->uses.whole = true;
}

static sw_measurements *measurements_new(void) {
    sw_arena *arena = sw_arena_new();
    sw_measurements *made = arena == NULL ? NULL : SW_NEW(arena, sw_measurements, 1);
    if (made == NULL) {
        sw_arena_free(arena);
        return NULL;
    }
    made->arena = arena;
    made->job = "";
    made->day = -1;
    return made;
}

void sw_measurements_free(sw_measurements *measurements) {
    if (measurements != NULL)
        sw_arena_free(measurements->arena);
}

sw_status sw_measurements_read(sw_measurements **out, const char *path, const sw_catalog *catalog,
                               sw_complaints *complaints) {
    sw_node root;
    sw_check check = sw_check_start(complaints);
    sw_measurements *made = measurements_new();
    if (made == NULL)
        return SW_NO_MEMORY;
    check.arena = made->arena;
    know(&check, catalog);
    if (sw_check_open(&check, path, &root) && !check.no_memory)
        read_root(&check, &root, made);
    made->file = check.file;
    sw_status status = sw_check_status(&check);
    if (status == SW_OK)
        *out = made;
    else
        sw_measurements_free(made);
    sw_check_end(&check);
    return status;
}
