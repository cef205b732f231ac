/*
 * The desk's steps without a server: a line "NAME BODY" on standard input for each request, and for
 * each a line "STATUS LENGTH" with so many bytes behind it on standard output. Heavy steps go
 * through their packed form, as they come from a worker.
 *
 *     desk-steps [--scenario FILE] [--catalog DIR] [--temporary DIR]
 *
 * Three requests are the test's own: "against" {"sheet","set"} tells what the command line's own
 * change comes to, "sweep" {} takes stale files away, "base64" {"text"} tells what is read of it.
 */
#include "desk/step.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check/scenario.h"
#include "base/leftovers.h"
#include "desk/tray.h"

static void give(int status, const char *bytes, size_t length) {
    printf("%d %zu\n", status, length);
    fwrite(bytes, 1, length, stdout);
    fflush(stdout);
}

/* ---- the steps ---------------------------------------------------------------------------------
 */

/* Memory that is refused once is there when it is asked for again. */
static bool through_bytes(sw_step *step) {
    char *bytes = NULL;
    size_t length = 0;
    bool good = sw_step_pack(&bytes, &length, step) || sw_step_pack(&bytes, &length, step);
    sw_step_free(step);
    good = good && (sw_step_unpack(step, bytes, length) || sw_step_unpack(step, bytes, length));
    /* What is cut off is no step. */
    for (size_t i = 0; good && i < length && i < 60; i++) {
        sw_step cut;
        good = !sw_step_unpack(&cut, bytes, i);
    }
    free(bytes);
    return good;
}

static void run(const sw_step_kind *kind, sw_sheets *sheets, const sw_json *body) {
    sw_step step;
    sw_step_run(&step, kind, sheets, body);
    if (sw_step_is_heavy(kind) && !through_bytes(&step)) {
        fputs("a step did not come through its bytes\n", stderr);
        exit(70);
    }
    sw_step_settle(&step, sheets);
    give(step.status, step.answer == NULL ? "" : step.answer, step.length);
    sw_step_free(&step);
}

/* ---- the test's own
 * ------------------------------------------------------------------------------ */

static sw_change cut(sw_arena *arena, const char *setting) {
    const char *equals = strchr(setting, '=');
    return (sw_change){sw_arena_text(arena, setting, (size_t)(equals - setting)), equals + 1};
}

/* Does the changed job hold good for the command line's --set, and does the changed text? Both are
 * status codes; the text's is -1 where none could be made. */
static void against(sw_sheets *sheets, const sw_json *body, sw_arena *arena) {
    sw_desk_sheet *sheet = sw_sheets_find(sheets, sw_json_get(body, "sheet")->text);
    const sw_json *list = sw_json_get(body, "set");
    const char *path = sw_sheet_reads_as(sheets, sheet);
    const char *catalog = sw_sheets_place(sheets)->catalog;
    const char **settings = SW_NEW(arena, const char *, list->count);
    sw_change *changes = SW_NEW(arena, sw_change, list->count);
    sw_complaints *unsaid = sw_complaints_new(), *said = sw_complaints_new();
    sw_complaints *faults = sw_complaints_new(), *again = sw_complaints_new();
    sw_scenario *base = NULL, *by_tree = NULL, *by_text = NULL;
    sw_changed text = {0};
    int tree_status = -1, text_status = -1;
    for (size_t i = 0; i < list->count; i++) {
        settings[i] = list->children[i].text;
        changes[i] = cut(arena, settings[i]);
    }
    sw_status status =
        sw_scenario_read_bytes(&base, path, sheet->text, sheet->length, catalog, false, unsaid);
    if (status == SW_OK)
        tree_status = (int)sw_scenario_change(&by_tree, base, changes, list->count, said);
    if (sw_text_change(&text, sheet->text, sheet->length, path, catalog, settings, list->count,
                       faults, unsaid) == SW_OK)
        text_status = (int)sw_scenario_read_bytes(&by_text, path, text.text, text.length, catalog,
                                                  false, again);
    char line[200];
    int length = snprintf(line, sizeof line,
                          "{\"tree\":%d,\"text\":%d,\"said\":%zu,\"faults\":%zu,\"again\":%zu}",
                          tree_status, text_status, sw_complaints_count(said),
                          sw_complaints_count(faults), sw_complaints_count(again));
    give(200, line, (size_t)length);
    free(text.text);
    sw_scenario_free(by_tree);
    sw_scenario_free(by_text);
    sw_scenario_free(base);
    sw_complaints_free(unsaid);
    sw_complaints_free(said);
    sw_complaints_free(faults);
    sw_complaints_free(again);
}

static void base64(const sw_json *body) {
    const char *text = sw_json_get(body, "text")->text;
    unsigned char *bytes = malloc(strlen(text) + 3);
    size_t length = 0;
    if (bytes == NULL)
        exit(70);
    if (sw_base64_read(bytes, &length, text, strlen(text)))
        give(200, (const char *)bytes, length);
    else
        give(422, "", 0);
    free(bytes);
}

static bool is_own(const char *name, sw_sheets *sheets, const sw_json *body, sw_arena *arena) {
    const sw_place *place = sw_sheets_place(sheets);
    if (strcmp(name, "against") == 0) {
        against(sheets, body, arena);
    } else if (strcmp(name, "base64") == 0) {
        base64(body);
    } else if (strcmp(name, "sweep") == 0) {
        sw_sweep_leftovers(sw_sheets_folder(sheets), SW_LEFTOVER_SAVE);
        sw_sweep_leftovers(place->temporary, SW_LEFTOVER_FOLDER);
        give(200, "{}", 2);
    } else {
        return false;
    }
    return true;
}

/* ---- lines
 * --------------------------------------------------------------------------------------- */

static void answer(sw_sheets *sheets, char *line) {
    char *body = strchr(line, ' ');
    const sw_json *json = NULL;
    sw_arena *arena = sw_arena_new();
    sw_complaints *complaints = sw_complaints_new();
    sw_status status = body == NULL ? SW_BAD_DATA : SW_NO_MEMORY;
    if (body != NULL)
        *body++ = '\0';
    const sw_step_kind *kind = sw_step_named(line);
    if (body != NULL && arena != NULL && complaints != NULL)
        status = sw_json_read(&json, arena, "request", body, strlen(body), complaints);
    if (status != SW_OK)
        give(status == SW_NO_MEMORY ? 500 : 400, "", 0);
    else if (!is_own(line, sheets, json, arena) && kind == NULL)
        give(404, "", 0);
    else if (kind != NULL)
        run(kind, sheets, json);
    sw_complaints_free(complaints);
    sw_arena_free(arena);
}

int main(int argc, char **argv) {
    sw_place place = {.otherwise = "catalog", .date = "2026-03-02", .temporary = "/tmp"};
    for (int i = 1; i + 1 < argc; i += 2) {
        if (strcmp(argv[i], "--scenario") == 0)
            place.scenario = argv[i + 1];
        else if (strcmp(argv[i], "--catalog") == 0)
            place.catalog = argv[i + 1];
        else if (strcmp(argv[i], "--otherwise") == 0)
            place.otherwise = argv[i + 1];
        else if (strcmp(argv[i], "--temporary") == 0)
            place.temporary = argv[i + 1];
    }
    signal(SIGXFSZ, SIG_IGN);
    sw_sheets *sheets = sw_sheets_new(&place);
    char *line = NULL;
    size_t room = 0;
    ssize_t length;
    if (sheets == NULL)
        return 70;
    while ((length = getline(&line, &room, stdin)) > 0) {
        if (line[length - 1] == '\n')
            line[length - 1] = '\0';
        answer(sheets, line);
    }
    free(line);
    sw_sheets_free(sheets);
    return feof(stdin) ? 0 : 70;
}
