/* Steps about files on the tray: parts of them, dumps, price lists. */
#include "desk/steps.h"

#include <stdlib.h>
#include <string.h>

#include "desk/tray.h"
#include "read/folders.h"

static sw_status refuse(sw_step_work *r, const char *file, const char *why, const char *mend,
                        const char *what) {
    sw_complain(r->complaints, file, "", why, mend, "%s", what);
    return SW_BAD_DATA;
}

static void tell_files(sw_step_work *r, const sw_tray_file *but) {
    const sw_tray_file *file;
    sw_put_open(r, "files", '[');
    for (size_t i = 0; (file = sw_tray_get(r->sheet->tray, i)) != NULL; i++) {
        if (file == but)
            continue;
        sw_put_open(r, NULL, '{');
        sw_put_text(r, "name", file->name);
        sw_put_whole(r, "bytes", file->bytes);
        sw_put_truth(r, "whole", sw_tray_is_whole(file));
        sw_put_close(r, '}');
    }
    sw_put_close(r, ']');
}

/* 0 where it is no whole number that parts can have. */
static unsigned whole_of(const sw_step_work *r, const char *name) {
    const sw_json *found = sw_json_get(r->body, name);
    if (found == NULL || found->number < 1 || found->number > 1000000 ||
        found->number != (double)(unsigned)found->number)
        return 0;
    return (unsigned)found->number;
}

static sw_status put_part(sw_step_work *r) {
    sw_tray_part part = {sw_step_member(r, "name"), sw_step_member(r, "data"), whole_of(r, "part"),
                         whole_of(r, "of")};
    return sw_tray_put(&r->sheet->tray, sw_sheets_place(r->sheets)->temporary, &part,
                       r->complaints);
}

static void drop_it(sw_step_work *r) { sw_tray_drop(r->sheet->tray, sw_step_member(r, "drop")); }

sw_status sw_step_tray(sw_step_work *r) {
    const char *drop = sw_step_member(r, "drop");
    const sw_tray_file *goes = NULL;
    size_t stated = r->body->count - 1;
    sw_status status = SW_OK;
    if (drop != NULL && stated == 1) {
        goes = sw_tray_find(r->sheet->tray, drop);
        r->at_last = drop_it;
        if (goes == NULL)
            status = refuse(r, drop, "it may have been taken out before", "look at what is there",
                            "does not lie on the tray");
    } else if (drop == NULL && stated == 4) {
        status = put_part(r);
    } else if (stated > 0) {
        sw_put_error(r, 400, "The request is none of the tray's",
                     "It puts one part of a file down, or takes one file out",
                     "Load the page anew");
        return SW_OK;
    }
    if (status == SW_OK)
        tell_files(r, goes);
    return status;
}

static sw_status find_whole(const sw_tray_file **out, sw_step_work *r, const char *name) {
    *out = sw_tray_find(r->sheet->tray, name);
    if (*out == NULL)
        return refuse(r, name, "it may have been taken out before", "drop it on the page again",
                      "does not lie on the tray");
    return sw_tray_is_whole(*out) ? SW_OK
                                  : refuse(r, name, "parts of it are still to come",
                                           "wait, or drop it on the page again", "is not whole");
}

/* ---- dumps ---------------------------------------------------------------------------------- */

static sw_status survey_of(sw_step_work *r, const sw_survey_job *job) {
    sw_survey *survey = NULL;
    char *told = NULL;
    sw_status status = sw_read_survey(&survey, job, r->complaints);
    if (status == SW_OK)
        status = sw_render_survey_json(&told, survey);
    if (status == SW_OK) {
        const char *draft = sw_survey_draft(survey);
        bool takes = sw_step_truth(r, "take");
        sw_put_text(r, "sheet", r->sheet->id);
        sw_put_whole(r, "revision", r->sheet->revision + takes);
        sw_put_json(r, "survey", told, strlen(told));
        sw_put_json(r, "draft", draft, strlen(draft));
        if (takes)
            status = sw_step_take(r, draft, strlen(draft));
    }
    free(told);
    sw_survey_free(survey);
    return status;
}

sw_status sw_step_dumps(sw_step_work *r) {
    const char *const *names = NULL;
    size_t count = 0;
    sw_status status = sw_step_texts(&names, &count, r, "files");
    const char **paths = status == SW_OK ? SW_NEW(r->arena, const char *, count) : NULL;
    if (status == SW_OK && paths == NULL)
        status = SW_NO_MEMORY;
    if (status == SW_OK && count == 0)
        status = refuse(r, "the request", "a draft is made of what dumps say",
                        "drop dumps on the page", "names no file");
    for (size_t i = 0; i < count && status == SW_OK; i++) {
        const sw_tray_file *file = NULL;
        status = find_whole(&file, r, names[i]);
        if (status == SW_OK)
            paths[i] = file->path;
    }
    const char *catalog = status == SW_OK ? sw_step_catalog(r) : NULL;
    char *named = catalog == NULL
                      ? NULL
                      : sw_folder_seen_from(catalog, sw_sheet_reads_as(r->sheets, r->sheet));
    if (status == SW_OK && named == NULL)
        status = SW_NO_MEMORY;
    sw_survey_job job = {.paths = paths,
                         .path_count = count,
                         .catalog = catalog,
                         .named = named,
                         .date = sw_sheets_place(r->sheets)->date};
    if (status == SW_OK)
        status = survey_of(r, &job);
    free(named);
    return status;
}

/* ---- price lists ---------------------------------------------------------------------------- */

/* As `intake prices --json` tells it without -o: nothing is written. */
sw_status sw_step_prices(sw_step_work *r) {
    const sw_tray_file *file = NULL;
    sw_prices *prices = NULL;
    char *told = NULL;
    sw_status status = find_whole(&file, r, sw_step_member(r, "file"));
    const char *catalog = status == SW_OK ? sw_step_catalog(r) : NULL;
    if (status == SW_OK && catalog == NULL)
        status = SW_NO_MEMORY;
    if (status == SW_OK) {
        sw_price_list list = {.path = file->path,
                              .called = file->name,
                              .catalog = catalog,
                              .profile = sw_step_member(r, "profile")};
        status = sw_prices_read(&prices, &list, r->complaints);
    }
    if (status == SW_OK)
        status = sw_render_prices_json(&told, prices);
    if (status == SW_OK)
        sw_put_json(r, "prices", told, strlen(told));
    free(told);
    sw_prices_free(prices);
    return status;
}
