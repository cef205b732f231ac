/* Putting answers together, and reading what a request says. */
#include "desk/steps.h"

#include <stdlib.h>
#include <string.h>

#include "desk/tray.h"
#include "read/json_text.h"
#include "read/plain.h"
#include "read/utf8.h"

/* ---- the answer ----------------------------------------------------------------------------- */

static void begin(sw_step_work *r, const char *name) {
    const sw_text *text = &r->answer;
    const char *last = text->length > 0 ? text->bytes + text->length - 1 : "{";
    if (*last != '{' && *last != '[')
        sw_text_add(&r->answer, ",");
    if (name != NULL) {
        sw_json_text_add(&r->answer, name);
        sw_text_add(&r->answer, ":");
    }
}

/* Names of files may be any bytes. */
static void add_any(sw_text *to, const char *text) {
    sw_text clean = {0};
    for (size_t left = strlen(text); left > 0;) {
        size_t step = sw_utf8_length((const unsigned char *)text, left);
        if (step > 0)
            sw_text_add_bytes(&clean, text, step);
        else
            sw_text_add(&clean, "\xEF\xBF\xBD");
        step = step == 0 ? 1 : step;
        text += step;
        left -= step;
    }
    sw_json_text_add(to, clean.bytes != NULL ? clean.bytes : "");
    to->failed |= clean.failed;
    sw_text_free(&clean);
}

void sw_put_text(sw_step_work *r, const char *name, const char *text) {
    begin(r, name);
    if (text == NULL)
        sw_text_add(&r->answer, "null");
    else
        add_any(&r->answer, text);
}

void sw_put_whole(sw_step_work *r, const char *name, unsigned long number) {
    begin(r, name);
    sw_text_addf(&r->answer, "%lu", number);
}

void sw_put_truth(sw_step_work *r, const char *name, bool truth) {
    begin(r, name);
    sw_text_add(&r->answer, truth ? "true" : "false");
}

void sw_put_json(sw_step_work *r, const char *name, const char *bytes, size_t length) {
    begin(r, name);
    if (bytes == NULL)
        sw_text_add(&r->answer, "null");
    else
        sw_text_add_bytes(&r->answer, bytes, length);
}

void sw_put_open(sw_step_work *r, const char *name, char bracket) {
    begin(r, name);
    sw_text_add_bytes(&r->answer, &bracket, 1);
}

void sw_put_close(sw_step_work *r, char bracket) { sw_text_add_bytes(&r->answer, &bracket, 1); }

static const char *behind_slash(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash == NULL ? path : slash + 1;
}

/* NULL: the file is none of the tray's. */
static const char *label_of(const sw_step_work *r, const char *path) {
    const sw_tray_file *file;
    for (size_t i = 0; (file = sw_tray_get(r->sheet->tray, i)) != NULL; i++)
        if (strcmp(file->path, path) == 0)
            return file->name;
    return NULL;
}

/* Where the desk and its temporary files stand is nobody's business. */
static const char *without_folders(const sw_step_work *r, const char *path) {
    const char *folder = sw_sheets_folder(r->sheets);
    size_t length = strlen(folder);
    const char *label = r->sheet == NULL ? NULL : label_of(r, path);
    if (label != NULL)
        return label;
    if (strncmp(path, folder, length) == 0 && path[length] == '/')
        return path + length + 1;
    return path[0] == '/' ? behind_slash(path) : path;
}

const char *sw_step_subject(const sw_step_work *r, const char *file) {
    if (r->sheet != NULL && strcmp(file, sw_sheet_reads_as(r->sheets, r->sheet)) == 0)
        return r->sheet->path == NULL ? "the job" : sw_sheet_file(r->sheet);
    if (strcmp(file, "--profile") == 0)
        return ""; /* it is told that there is none */
    if (strcmp(file, "--title") == 0)
        return "the title";
    return strcmp(file, "--set") == 0 ? "the change" : without_folders(r, file);
}

void sw_put_complaints(sw_step_work *r, const char *name, const sw_complaints *complaints) {
    const sw_complaint *c;
    sw_put_open(r, name, '[');
    for (size_t i = 0; (c = sw_complaints_get(complaints, i)) != NULL; i++) {
        sw_put_open(r, NULL, '{');
        sw_put_text(r, "file", sw_step_subject(r, c->file));
        sw_put_text(r, "place", c->place);
        sw_put_text(r, "what", c->what);
        sw_put_text(r, "why", c->why);
        sw_put_text(r, "mend", c->mend);
        sw_put_close(r, '}');
    }
    sw_put_close(r, ']');
    r->answer.failed = r->answer.failed || sw_complaints_lack_memory(complaints);
}

void sw_put_error(sw_step_work *r, int status, const char *what, const char *why,
                  const char *mend) {
    sw_text_free(&r->answer);
    r->answer = (sw_text){0};
    r->step->status = status;
    sw_text_add(&r->answer, "{");
    sw_put_text(r, "schema", "swapworth-desk-1");
    sw_put_open(r, "error", '{');
    sw_text plain = {0}; /* names of what was asked stand in it */
    sw_plain_keep(&plain, what);
    sw_put_text(r, "what", plain.bytes != NULL ? plain.bytes : "");
    r->answer.failed = r->answer.failed || plain.failed;
    sw_text_free(&plain);
    sw_put_text(r, "why", why);
    sw_put_text(r, "mend", mend);
    sw_put_close(r, '}');
}

void sw_put_job(sw_step_work *r, unsigned revision, const char *text, size_t length) {
    sw_put_text(r, "sheet", r->sheet->id);
    sw_put_whole(r, "revision", revision);
    sw_put_json(r, "job", text, length);
}

/* ---- the request ---------------------------------------------------------------------------- */

const char *sw_step_member(const sw_step_work *r, const char *name) {
    const sw_json *found = sw_json_get(r->body, name);
    return found == NULL ? NULL : found->text;
}

bool sw_step_truth(const sw_step_work *r, const char *name) {
    const sw_json *found = sw_json_get(r->body, name);
    return found != NULL && found->truth;
}

sw_status sw_step_texts(const char *const **out, size_t *count, sw_step_work *r, const char *name) {
    const sw_json *list = sw_json_get(r->body, name);
    *count = list == NULL ? 0 : list->count;
    const char **texts = SW_NEW(r->arena, const char *, *count);
    if (texts == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < *count; i++) {
        if (list->children[i].kind != SW_JSON_TEXT) {
            sw_complain(r->complaints, name, "", "it is a list of texts",
                        "put each entry into quotes", "holds what is no text");
            return SW_BAD_DATA;
        }
        texts[i] = list->children[i].text;
    }
    *out = texts;
    return SW_OK;
}

const char *sw_step_catalog(sw_step_work *r) {
    const sw_place *place = sw_sheets_place(r->sheets);
    const char *named = NULL;
    if (place->catalog != NULL)
        return place->catalog;
    if (r->sheet != NULL && sw_sheet_catalog(&named, r->arena, r->sheets, r->sheet) != SW_OK)
        return NULL;
    return named != NULL ? named : place->otherwise;
}

sw_status sw_step_take(sw_step_work *r, const char *text, size_t length) {
    sw_copy copy = {0};
    if (length > SW_SHEET_BYTES) {
        sw_complain(r->complaints, "the job", "", "the desk works on jobs of at most 4 MiB",
                    "leave out what is not of this machine", "becomes too large");
        return SW_BAD_DATA;
    }
    if (!sw_copy_set(&copy, text, length))
        return SW_NO_MEMORY;
    r->step->text = copy.bytes;
    r->step->text_length = copy.length;
    return SW_OK;
}
