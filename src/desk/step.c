/* From a request to its answer: what may be asked, of which sheet, at which revision. */
#include "desk/steps.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MEMBERS_MOST 8

typedef struct member {
    const char *name; /* NULL: no more */
    sw_json_kind kind;
    bool must;
} member;

struct sw_step_kind {
    const char *name;
    sw_status (*run)(sw_step_work *r);
    bool heavy, needs_job;
    member members[MEMBERS_MOST];
};

#define SHEET                                                                                      \
    { "sheet", SW_JSON_TEXT, true }
#define REVISION                                                                                   \
    { "revision", SW_JSON_NUMBER, true }

static const sw_step_kind kinds[] = {
    {"open", sw_step_open, false, false, {{"sheet", SW_JSON_TEXT, false}}},
    {"change", sw_step_change, true, true, {SHEET, REVISION, {"set", SW_JSON_ARRAY, true}}},
    {"machine",
     sw_step_machine,
     true,
     true,
     {SHEET,
      REVISION,
      {"role", SW_JSON_TEXT, true},
      {"parts", SW_JSON_ARRAY, true},
      {"own", SW_JSON_BOOL, false},
      {"settings", SW_JSON_ARRAY, false}}},
    {"undo", sw_step_undo, false, false, {SHEET, REVISION}},
    {"difference", sw_step_difference, false, false, {SHEET}},
    {"save",
     sw_step_save,
     false,
     true,
     {SHEET, REVISION, {"file", SW_JSON_TEXT, false}, {"over", SW_JSON_BOOL, false}}},
    {"tray",
     sw_step_tray,
     false,
     false,
     {SHEET,
      {"name", SW_JSON_TEXT, false},
      {"part", SW_JSON_NUMBER, false},
      {"of", SW_JSON_NUMBER, false},
      {"data", SW_JSON_TEXT, false},
      {"drop", SW_JSON_TEXT, false}}},
    {"dumps",
     sw_step_dumps,
     true,
     false,
     {SHEET, REVISION, {"files", SW_JSON_ARRAY, true}, {"take", SW_JSON_BOOL, false}}},
    {"prices",
     sw_step_prices,
     true,
     false,
     {SHEET, {"file", SW_JSON_TEXT, true}, {"profile", SW_JSON_TEXT, true}}},
    {"interview",
     sw_step_interview,
     true,
     true,
     {SHEET,
      {"revision", SW_JSON_NUMBER, false},
      {"answers", SW_JSON_ARRAY, true},
      {"title", SW_JSON_TEXT, false},
      {"take", SW_JSON_BOOL, false}}},
};

const sw_step_kind *sw_step_named(const char *name) {
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strcmp(kinds[i].name, name) == 0)
            return &kinds[i];
    return NULL;
}

const char *sw_step_name(const sw_step_kind *kind) { return kind->name; }

bool sw_step_is_heavy(const sw_step_kind *kind) { return kind->heavy; }

/* ---- is it asked as it is to be? ------------------------------------------------------------ */

static bool ask_anew(sw_step_work *r, const char *what, const char *name, const char *why) {
    const char *told = sw_arena_format(r->arena, "The request %s \"%s\"", what, name);
    sw_put_error(r, 400, told == NULL ? what : told, why,
                 "Load the page anew; what is not saved yet is still at the desk");
    r->answer.failed = r->answer.failed || told == NULL;
    return false;
}

static const member *member_named(const sw_step_kind *kind, const char *name) {
    for (size_t i = 0; i < MEMBERS_MOST && kind->members[i].name != NULL; i++)
        if (strcmp(kind->members[i].name, name) == 0)
            return &kind->members[i];
    return NULL;
}

static bool members_are_good(sw_step_work *r, const sw_step_kind *kind) {
    if (r->body == NULL || r->body->kind != SW_JSON_OBJECT)
        return ask_anew(r, "is no object for", kind->name, "Every request is one JSON object");
    for (size_t i = 0; i < r->body->count; i++) {
        const sw_json *found = &r->body->children[i];
        const member *due = member_named(kind, found->name);
        if (due == NULL)
            return ask_anew(r, "has a member that is not known:", found->name,
                            "Page and desk are of one version");
        if (found->kind != due->kind)
            return ask_anew(r, "has another kind of value than is due in", found->name,
                            "Page and desk are of one version");
    }
    for (size_t i = 0; i < MEMBERS_MOST && kind->members[i].name != NULL; i++)
        if (kind->members[i].must && sw_json_get(r->body, kind->members[i].name) == NULL)
            return ask_anew(r, "lacks", kind->members[i].name, "Page and desk are of one version");
    return true;
}

static bool sheet_is_there(sw_step_work *r) {
    const char *id = sw_step_member(r, "sheet");
    if (id == NULL)
        return true;
    r->sheet = sw_sheets_find(r->sheets, id);
    if (r->sheet != NULL)
        return true;
    sw_put_error(r, 404, "The desk has no such sheet any more",
                 "It keeps the 16 that were used last, and none when it is begun anew",
                 "Open the job again; what was saved is in its file");
    return false;
}

static void conflict(sw_step_work *r) {
    sw_put_error(r, 409, "The job in hand is another by now",
                 "It was changed elsewhere since this page had it",
                 "Look at it as it is now, and make the change again");
    sw_put_job(r, r->sheet->revision, r->sheet->text, r->sheet->length);
}

static bool revision_is_good(sw_step_work *r) {
    const sw_json *stated = sw_json_get(r->body, "revision");
    if (stated == NULL)
        return !sw_step_truth(r, "take") ||
               ask_anew(r, "lacks", "revision", "What is taken has a place to go to");
    if (r->sheet == NULL || stated->number == (double)r->sheet->revision)
        return true;
    conflict(r);
    return false;
}

static bool job_is_there(sw_step_work *r, const sw_step_kind *kind) {
    if (!kind->needs_job || r->sheet == NULL || r->sheet->text != NULL)
        return true;
    sw_put_error(r, 422, "There is no job in hand yet", "A job begins with a machine",
                 "Begin with the machine's dumps");
    return false;
}

/* ---- the end -------------------------------------------------------------------------------- */

static const char *join(sw_step_work *r, const char *a, const char *b) {
    return a[0] == '\0' || b == NULL ? b : sw_arena_format(r->arena, "%s %s", a, b);
}

/* The first complaint as a sentence: what it is about stands before what is wrong with it. */
static void tell_refusal(sw_step_work *r) {
    const sw_complaint *first = sw_complaints_get(r->complaints, 0);
    const char *what = NULL;
    if (first != NULL)
        what = join(r, sw_step_subject(r, first->file), join(r, first->place, first->what));
    sw_put_error(r, 422, what == NULL ? "It cannot be done" : what, first == NULL ? "" : first->why,
                 first == NULL ? "" : first->mend);
    sw_put_complaints(r, "complaints", r->complaints);
    r->answer.failed = r->answer.failed || (first != NULL && what == NULL);
}

static void forget_text(sw_step *step) {
    free(step->text);
    step->text = NULL;
    step->text_length = 0;
}

static void finish(sw_step_work *r, sw_status status) {
    if (status == SW_NO_MEMORY || sw_complaints_lack_memory(r->complaints)) {
        sw_put_error(r, 500, "The desk ran out of memory", "",
                     "Close other programs and try again; the job in hand is as it was");
    } else if (status == SW_INTERNAL) {
        sw_put_error(r, 500, "It could not be done", "A fault of the program",
                     "Try again; the job in hand is as it was");
    } else if (status != SW_OK) {
        tell_refusal(r);
    }
    sw_text_add(&r->answer, "}\n");
    if (r->answer.failed) {
        sw_text_free(&r->answer);
        r->answer = (sw_text){0};
        r->step->status = 500;
    }
    if (r->step->status != 200)
        forget_text(r->step);
    r->step->answer = r->answer.bytes;
    r->step->length = r->answer.length;
}

static bool may_run(sw_step_work *r, const sw_step_kind *kind) {
    return members_are_good(r, kind) && sheet_is_there(r) && revision_is_good(r) &&
           job_is_there(r, kind);
}

void sw_step_run(sw_step *out, const sw_step_kind *kind, sw_sheets *sheets, const sw_json *body) {
    *out = (sw_step){.status = 200};
    sw_step_work r = {.sheets = sheets,
                      .body = body,
                      .arena = sw_arena_new(),
                      .complaints = sw_complaints_new(),
                      .step = out};
    sw_status status = SW_NO_MEMORY;
    if (r.arena != NULL && r.complaints != NULL) {
        sw_text_add(&r.answer, "{");
        sw_put_text(&r, "schema", "swapworth-desk-1");
        status = may_run(&r, kind) ? kind->run(&r) : SW_OK;
    }
    if (r.sheet != NULL) {
        memcpy(out->sheet, r.sheet->id, sizeof out->sheet);
        out->revision = r.sheet->revision;
    }
    finish(&r, status);
    if (out->status == 200 && r.at_last != NULL)
        r.at_last(&r);
    sw_arena_free(r.arena);
    sw_complaints_free(r.complaints);
}

/* ---- the sheet gets its text ---------------------------------------------------------------- */

static void refuse_to_settle(sw_step *step, sw_sheets *sheets, sw_desk_sheet *sheet,
                             sw_status why) {
    sw_step_work r = {.sheets = sheets, .sheet = sheet, .arena = sw_arena_new(), .step = step};
    free(step->answer);
    step->answer = NULL;
    if (why == SW_NO_MEMORY) {
        finish(&r, why);
    } else {
        if (sheet != NULL)
            conflict(&r);
        else
            sw_put_error(&r, 404, "The desk has no such sheet any more",
                         "It keeps the 16 that were used last",
                         "Open the job again; what was saved is in its file");
        finish(&r, SW_OK);
    }
    sw_arena_free(r.arena);
}

void sw_step_settle(sw_step *step, sw_sheets *sheets) {
    if (step->text == NULL)
        return;
    sw_desk_sheet *sheet = sw_sheets_find(sheets, step->sheet);
    sw_status status = sheet == NULL || sheet->revision != step->revision
                           ? SW_BAD_DATA
                           : sw_sheet_take(sheet, step->text, step->text_length);
    if (status != SW_OK)
        refuse_to_settle(step, sheets, sheet, status);
    forget_text(step);
}

void sw_step_free(sw_step *step) {
    free(step->answer);
    forget_text(step);
    *step = (sw_step){0};
}

/* ---- on its way between processes ----------------------------------------------------------- */

#define HEAD "desk-step"

bool sw_step_pack(char **out, size_t *length, const sw_step *step) {
    sw_text text = {0};
    sw_text_addf(&text, HEAD " %d %u %zu %d %zu %s\n", step->status, step->revision, step->length,
                 step->text != NULL, step->text_length, step->sheet[0] != '\0' ? step->sheet : "-");
    sw_text_add_bytes(&text, step->answer != NULL ? step->answer : "", step->length);
    sw_text_add_bytes(&text, step->text != NULL ? step->text : "", step->text_length);
    if (text.failed) {
        sw_text_free(&text);
        return false;
    }
    *out = text.bytes;
    *length = text.length;
    return true;
}

/* The next number of the head; false: there is none. */
static bool next_number(size_t *out, const char **at, const char *end) {
    size_t number = 0, digits = 0;
    if (*at < end && **at == ' ')
        (*at)++;
    for (; *at < end && **at >= '0' && **at <= '9' && digits < 10; (*at)++, digits++)
        number = number * 10 + (size_t)(**at - '0');
    *out = number;
    return digits > 0;
}

bool sw_step_unpack(sw_step *out, const char *bytes, size_t length) {
    const char *at = bytes + sizeof HEAD - 1, *end = bytes + length;
    size_t status = 0, revision = 0, answer = 0, has_text = 0, text = 0;
    sw_copy first = {0}, second = {0};
    *out = (sw_step){0};
    if (length < sizeof HEAD || memcmp(bytes, HEAD, sizeof HEAD - 1) != 0 ||
        !next_number(&status, &at, end) || !next_number(&revision, &at, end) ||
        !next_number(&answer, &at, end) || !next_number(&has_text, &at, end) ||
        !next_number(&text, &at, end))
        return false;
    const char *line = memchr(at, '\n', (size_t)(end - at));
    if (line == NULL || line - at < 2 || line - at > 17)
        return false;
    size_t id = (size_t)(line - at) - 1, left = (size_t)(end - line) - 1;
    if (answer > left || text != left - answer)
        return false;
    if (id == 16)
        memcpy(out->sheet, at + 1, id);
    if (!sw_copy_set(&first, line + 1, answer) ||
        (has_text == 1 && !sw_copy_set(&second, line + 1 + answer, text))) {
        sw_copy_free(&first);
        return false;
    }
    out->status = (int)status;
    out->revision = (unsigned)revision;
    out->answer = first.bytes;
    out->length = answer;
    out->text = second.bytes;
    out->text_length = text;
    return true;
}

char *sw_desk_error(const char *what, const char *why, const char *mend) {
    sw_step step = {0};
    sw_step_work r = {.step = &step};
    sw_put_error(&r, 0, what, why, mend);
    finish(&r, SW_OK);
    return step.answer;
}
