/* Steps about the job's file: what saving would change, and saving. */
#include "desk/steps.h"

#include <string.h>

/* What the bytes say; NULL where they are no JSON, which is told as all being new. */
static sw_status read_copy(const sw_json **out, sw_step_work *r, const sw_copy *copy) {
    sw_complaints *unheard = sw_complaints_new();
    sw_status status = unheard == NULL ? SW_NO_MEMORY : SW_OK;
    *out = NULL;
    if (status == SW_OK && copy->bytes != NULL)
        status = sw_json_read(out, r->arena, "", copy->bytes, copy->length, unheard);
    sw_complaints_free(unheard);
    return status == SW_BAD_DATA ? SW_OK : status;
}

static sw_status tell_changes(sw_step_work *r, const sw_copy *disk) {
    const sw_copy text = {r->sheet->text, r->sheet->length};
    const sw_json *before = NULL, *after = NULL;
    const sw_leaf_change *changes = NULL;
    size_t count = 0;
    bool all = true;
    sw_status status = read_copy(&before, r, disk);
    if (status == SW_OK)
        status = read_copy(&after, r, &text);
    if (status == SW_OK)
        status = sw_leaf_changes(&changes, &count, &all, r->arena, before, after);
    if (status != SW_OK)
        return status;
    sw_put_open(r, "changes", '[');
    for (size_t i = 0; i < count; i++) {
        sw_put_open(r, NULL, '{');
        sw_put_text(r, "path", changes[i].path);
        sw_put_text(r, "before", changes[i].before);
        sw_put_text(r, "after", changes[i].after);
        sw_put_close(r, '}');
    }
    sw_put_close(r, ']');
    sw_put_truth(r, "all", all);
    return SW_OK;
}

sw_status sw_step_difference(sw_step_work *r) {
    sw_copy disk = {0};
    sw_status status = sw_sheet_on_disk(&disk, r->sheet, r->complaints);
    if (status == SW_OK) {
        sw_put_text(r, "file", sw_sheet_file(r->sheet));
        sw_put_truth(r, "is_new", disk.bytes == NULL);
        sw_put_truth(r, "changed_on_disk", !sw_copy_same(&disk, &r->sheet->base));
        sw_put_truth(r, "is_gone", disk.bytes == NULL && r->sheet->base.bytes != NULL);
        status = tell_changes(r, &disk);
    }
    sw_copy_free(&r->sheet->shown);
    r->sheet->was_shown = status == SW_OK;
    if (status == SW_OK)
        r->sheet->shown = disk;
    else
        sw_copy_free(&disk);
    return status;
}

sw_status sw_step_save(sw_step_work *r) {
    switch (sw_sheet_save(r->sheets, r->sheet, sw_step_member(r, "file"), sw_step_truth(r, "over"),
                          r->complaints)) {
    case SW_SAVED:
        sw_put_text(r, "file", sw_sheet_file(r->sheet));
        sw_put_whole(r, "revision", r->sheet->revision);
        return SW_OK;
    case SW_SAVE_CHANGED:
        sw_put_error(r, 409, "The file is no longer as it was when this job was opened",
                     "Another tab or an editor wrote it meanwhile",
                     "Look at the difference: then save over it, or save under another name");
        sw_put_truth(r, "changed_on_disk", true);
        return SW_OK;
    case SW_SAVE_GONE:
        sw_put_error(r, 409, "The file is no longer there",
                     "It was taken away, moved or given another name since this job was opened",
                     "Look at the difference: then save it anew, or save under another name");
        sw_put_truth(r, "changed_on_disk", true);
        sw_put_truth(r, "is_gone", true);
        return SW_OK;
    case SW_SAVE_IS_THERE:
        sw_put_error(r, 409, "A file of that name is there already",
                     "It may be another client's job", "Save under another name");
        sw_put_truth(r, "is_there", true);
        return SW_OK;
    case SW_SAVE_REFUSED:
        return SW_BAD_DATA;
    case SW_SAVE_NO_MEMORY:
        break;
    }
    return SW_NO_MEMORY;
}
