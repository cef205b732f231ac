/* Steps that mend the job's text: open, change, machine, undo. */
#include "desk/steps.h"

#include <stdlib.h>
#include <string.h>

#include "check/scenario.h"
#include "intake/ask_splice.h"
#include "read/json_text.h"

sw_status sw_step_open(sw_step_work *r) {
    const sw_place *place = sw_sheets_place(r->sheets);
    if (r->sheet == NULL) {
        sw_status status = sw_sheets_open(&r->sheet, r->sheets, place->scenario, r->complaints);
        if (status != SW_OK)
            return status;
    }
    const char *catalog = sw_step_catalog(r);
    char *whole = catalog == NULL ? NULL : realpath(catalog, NULL);
    if (catalog == NULL)
        return SW_NO_MEMORY;
    sw_put_text(r, "file", sw_sheet_file(r->sheet));
    sw_put_text(r, "catalog", whole == NULL ? catalog : whole);
    free(whole);
    sw_put_job(r, r->sheet->revision, r->sheet->text, r->sheet->length);
    return SW_OK;
}

sw_status sw_step_change(sw_step_work *r) {
    const char *const *settings = NULL;
    size_t count = 0;
    sw_changed changed = {0};
    sw_complaints *faults = sw_complaints_new();
    sw_status status = faults == NULL ? SW_NO_MEMORY : sw_step_texts(&settings, &count, r, "set");
    if (status == SW_OK)
        status = sw_text_change(
            &changed, r->sheet->text, r->sheet->length, sw_sheet_reads_as(r->sheets, r->sheet),
            sw_sheets_place(r->sheets)->catalog, settings, count, faults, r->complaints);
    if (status == SW_OK)
        status = sw_step_take(r, changed.text, changed.length);
    if (status == SW_OK) {
        sw_put_job(r, r->sheet->revision + 1, changed.text, changed.length);
        sw_put_complaints(r, "complaints", faults);
    }
    free(changed.text);
    sw_complaints_free(faults);
    return status;
}

/* ---- the machine ---------------------------------------------------------------------------- */

/* The job's own members, and the roles of its machine. */
#define MACHINE_LEVELS 2

/* The piece's text is written anew as a whole: what of the job is as it was keeps its bytes. */
static sw_status keep_bytes(char **out, sw_step_work *r, const char *after) {
    const sw_json *root = NULL;
    char *before = NULL;
    sw_status status =
        sw_json_read(&root, r->arena, "", r->sheet->text, r->sheet->length, r->complaints);
    if (status == SW_OK)
        status = sw_sketch_write(&before, sw_sketch_of(r->arena, root));
    if (status == SW_OK)
        status = sw_splice(out, r->sheet->text, before, after, MACHINE_LEVELS);
    free(before);
    return status;
}

static sw_status put(sw_step_work *r, const sw_piece_job *job) {
    sw_piece *piece = NULL;
    char *told = NULL, *text = NULL;
    sw_status status = sw_put_piece(&piece, job, r->complaints);
    if (status == SW_OK)
        status = sw_render_piece_text(&told, piece, (sw_text_style){.width = 80});
    if (status == SW_OK)
        status = keep_bytes(&text, r, sw_piece_scenario(piece));
    if (status == SW_OK)
        status = sw_step_take(r, text, strlen(text));
    if (status == SW_OK) {
        sw_put_job(r, r->sheet->revision + 1, text, strlen(text));
        sw_put_text(r, "told", told);
    }
    free(told);
    free(text);
    sw_piece_free(piece);
    return status;
}

sw_status sw_step_machine(sw_step_work *r) {
    sw_piece_job job = {.scenario = sw_sheet_reads_as(r->sheets, r->sheet),
                        .bytes = r->sheet->text,
                        .length = r->sheet->length,
                        .catalog = sw_sheets_place(r->sheets)->catalog,
                        .role = sw_step_member(r, "role"),
                        .own = sw_step_truth(r, "own")};
    sw_status status = sw_step_texts(&job.parts, &job.part_count, r, "parts");
    if (status == SW_OK)
        status = sw_step_texts(&job.settings, &job.setting_count, r, "settings");
    if (status == SW_OK && job.part_count == 0) {
        sw_complain(r->complaints, "the request", "", "a role holds parts, or is empty",
                    "name a part, or \"none\"", "names no part");
        return SW_BAD_DATA;
    }
    return status == SW_OK ? put(r, &job) : status;
}

/* ---- the way back --------------------------------------------------------------------------- */

static void undo(sw_step_work *r) { sw_sheet_undo(r->sheet); }

sw_status sw_step_undo(sw_step_work *r) {
    const sw_copy *before = sw_sheet_before(r->sheet);
    if (before == NULL) {
        sw_put_error(r, 422, "There is nothing to take back",
                     "This is the job as it was opened, or 100 changes were taken back",
                     "Go on from here");
        return SW_OK;
    }
    sw_put_job(r, r->sheet->revision + 1, before->bytes, before->length);
    r->at_last = undo;
    return SW_OK;
}
