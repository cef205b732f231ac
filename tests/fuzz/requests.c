/* The page's requests, one a line: "NAME BODY", where @@ stands for the sheet. "ask NAME WORDS" and
 * "paper NAME WORDS" are questions made into a command line. */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "desk/questions.h"
#include "desk/step.h"
#include "fuzz.h"
#include "read/bytes.h"

#define LINES 6

/* What the interview tells beside its limits takes the whole solver: here it tells nothing. */
sw_status sw_interview_estimate(sw_interview *interview);
sw_status sw_interview_estimate(sw_interview *interview) {
    return interview == NULL ? SW_INTERNAL : SW_OK;
}

static void is_answer(const sw_step *step) {
    sw_arena *arena = sw_arena_new();
    const sw_json *json = NULL;
    fuzz_hold(step->status == 200 || step->status == 400 || step->status == 404 ||
                  step->status == 409 || step->status == 422,
              "status %d", step->status);
    fuzz_hold(step->answer != NULL &&
                  sw_json_read(&json, arena, "", step->answer, step->length, NULL) == SW_OK &&
                  json->kind == SW_JSON_OBJECT,
              "no JSON: %s", step->answer == NULL ? "" : step->answer);
    const sw_json *schema = sw_json_get(json, "schema"), *error = sw_json_get(json, "error");
    const sw_json *what = sw_json_get(error, "what");
    fuzz_hold(schema != NULL && strcmp(schema->text, "swapworth-desk-1") == 0, "no schema");
    bool told = error != NULL || sw_json_get(json, "sheet") != NULL;
    fuzz_hold(step->status == 200 ? error == NULL : told, "%s", step->answer);
    fuzz_hold(what == NULL || (what->text[0] != '\0' && fuzz_is_readable(what->text)),
              "unreadable");
    sw_arena_free(arena);
}

/* As it comes from a worker: through bytes, and the same again. */
static void through_bytes(sw_step *step) {
    char *bytes = NULL;
    size_t length = 0;
    sw_step again = {0};
    fuzz_hold(sw_step_pack(&bytes, &length, step) && sw_step_unpack(&again, bytes, length),
              "not packed");
    fuzz_hold(again.status == step->status && again.length == step->length &&
                  memcmp(again.answer, step->answer, step->length) == 0 &&
                  again.text_length == step->text_length && again.revision == step->revision &&
                  strcmp(again.sheet, step->sheet) == 0 &&
                  (step->text == NULL || memcmp(again.text, step->text, step->text_length) == 0),
              "packed and unpacked it is another");
    free(bytes);
    sw_step_free(step);
    *step = again;
}

static void ask(sw_arena *arena, const char *name, const char *body, bool paper) {
    const sw_question *question = paper ? sw_paper_find(name) : sw_question_find(name);
    const sw_json *words = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_command_line line = {0};
    sw_asking asking = {"job.json", NULL, 20};
    if (question != NULL && sw_json_read(&words, arena, "", body, strlen(body), NULL) == SW_OK &&
        words->kind == SW_JSON_OBJECT) {
        sw_status status = sw_question_words(&line, arena, question, words, &asking, complaints);
        fuzz_one_complaint(status, complaints);
        fuzz_hold(status != SW_OK || (line.count > 1 && line.words[line.count] == NULL), "words");
    }
    sw_complaints_free(complaints);
}

/* The body with the sheet's id in the place of each "@@". */
static char *with_sheet(const char *body, const char *id) {
    sw_text out = {0};
    const char *at = NULL;
    while ((at = strstr(body, "@@")) != NULL) {
        sw_text_add_bytes(&out, body, (size_t)(at - body));
        sw_text_add(&out, id);
        body = at + 2;
    }
    sw_text_add(&out, body);
    return out.bytes;
}

static void run(sw_sheets *sheets, sw_desk_sheet *sheet, const sw_step_kind *kind,
                const char *body) {
    sw_arena *arena = sw_arena_new();
    const sw_json *json = NULL;
    char *whole = with_sheet(body, sheet->id);
    sw_step step = {0};
    if (sw_json_read(&json, arena, "", whole, strlen(whole), NULL) == SW_OK) {
        sw_step_run(&step, kind, sheets, json);
#ifdef FUZZ_FAULT
        if (step.status == 409)
            step.answer[step.length - 2] = ' ';
#endif
        is_answer(&step);
        through_bytes(&step);
        sw_step_settle(&step, sheets);
        is_answer(&step);
        if (strcmp(sw_step_name(kind), "save") == 0 && step.status == 200) {
            const char *bytes = NULL;
            size_t length = 0;
            fuzz_hold(sw_bytes_read(&bytes, &length, arena, sheet->path, NULL) == SW_OK &&
                          length == sheet->length && memcmp(bytes, sheet->text, length) == 0,
                      "the file is not the sheet");
        }
    }
    sw_step_free(&step);
    free(whole);
    sw_arena_free(arena);
}

/* Nothing but jobs stands in their folder afterwards; those that were added go. */
static void tidy(void) {
    char *path = fuzz_path("jobs");
    DIR *open = opendir(path);
    for (struct dirent *entry = readdir(open); entry != NULL; entry = readdir(open)) {
        size_t length = strlen(entry->d_name);
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        fuzz_hold(length > 5 && strcmp(entry->d_name + length - 5, ".json") == 0, "%s is there",
                  entry->d_name);
        sw_text file = {0};
        sw_text_addf(&file, "%s/%s", path, entry->d_name);
        remove(file.bytes);
        sw_text_free(&file);
    }
    closedir(open);
    free(path);
    fuzz_restore("jobs/job.json");
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *text = fuzz_text(data, size), *line = text;
    char *job = fuzz_path("jobs/job.json"), *catalog = fuzz_path("catalog");
    sw_place place = {job, NULL, catalog, "2026-03-02", fuzz_folder()};
    sw_sheets *sheets = sw_sheets_new(&place);
    sw_desk_sheet *sheet = NULL;
    fuzz_hold(sw_sheets_open(&sheet, sheets, job, NULL) == SW_OK, "the shelf's job");
    char id[sizeof sheet->id];
    memcpy(id, sheet->id, sizeof id);
    for (int i = 0; i < LINES && line != NULL; i++) {
        sw_arena *arena = sw_arena_new();
        char *next = fuzz_rest(line), *body = strchr(line, ' ');
        sheet = sw_sheets_find(sheets, id);
        if (body != NULL && sheet != NULL) {
            *body++ = '\0';
            const sw_step_kind *kind = sw_step_named(line);
            bool paper = strcmp(line, "paper") == 0;
            char *words = strchr(body, ' ');
            if (kind != NULL) {
                run(sheets, sheet, kind, body);
            } else if ((paper || strcmp(line, "ask") == 0) && words != NULL) {
                *words++ = '\0';
                ask(arena, body, words, paper);
            }
        }
        sw_arena_free(arena);
        line = next;
    }
    sw_sheets_free(sheets);
    tidy();
    free(text);
    free(job);
    free(catalog);
    return 0;
}
