/* A sheet's text into its file: whole or not at all, and never over what nobody has seen. */
#include "desk/sheets.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/whole_file.h"
#include "desk/sheet_name.h"
#include "read/bytes.h"
#include "read/folders.h"

/* ---- the file as it is ---------------------------------------------------------------------- */

static sw_status read_copy(sw_copy *out, const char *path, sw_complaints *complaints) {
    struct stat about;
    sw_copy_free(out);
    if (stat(path, &about) != 0 && (errno == ENOENT || errno == ENOTDIR))
        return SW_OK;
    /* What is none could keep the desk waiting without end. */
    if (stat(path, &about) == 0 && !S_ISREG(about.st_mode)) {
        sw_complain(complaints, path, "", "a job stands in a file", "save under another name",
                    "is no file by now");
        return SW_BAD_DATA;
    }
    sw_arena *arena = sw_arena_new();
    const char *bytes = NULL;
    size_t length = 0;
    sw_status status =
        arena == NULL ? SW_NO_MEMORY : sw_bytes_read(&bytes, &length, arena, path, complaints);
    if (status == SW_OK && !sw_copy_set(out, bytes, length))
        status = SW_NO_MEMORY;
    sw_arena_free(arena);
    return status;
}

sw_status sw_sheet_on_disk(sw_copy *out, const sw_desk_sheet *sheet, sw_complaints *complaints) {
    if (sheet->path == NULL) {
        sw_copy_free(out);
        return SW_OK;
    }
    return read_copy(out, sheet->path, complaints);
}

/* ---- where to ------------------------------------------------------------------------------- */

static sw_saving refuse(sw_complaints *complaints, const char *path, const char *why,
                        const char *mend, const char *what) {
    sw_complain(complaints, path, "", why, mend, "%s", what);
    return SW_SAVE_REFUSED;
}

static sw_saving cannot(sw_complaints *complaints, const char *path, int error) {
    const char *mend = error == ENOSPC || error == EDQUOT || error == EFBIG
                           ? "make room there and save again: the desk still has all of it"
                           : "let the program write there and save again: the desk still has all "
                             "of it";
    return refuse(complaints, path, strerror(error), mend, "cannot be written");
}

static bool is_of_catalog(sw_arena *arena, const sw_sheets *sheets, const sw_desk_sheet *sheet,
                          const char *path, bool *no_memory) {
    const sw_place *place = sw_sheets_place(sheets);
    const char *named = NULL;
    *no_memory |= sw_sheet_catalog(&named, arena, sheets, sheet) != SW_OK;
    if ((place->catalog != NULL && sw_path_changes_folder(place->catalog, path, no_memory)) ||
        (place->otherwise != NULL && sw_path_changes_folder(place->otherwise, path, no_memory)))
        return true;
    return named != NULL && sw_path_changes_folder(named, path, no_memory);
}

/* ---- writing -------------------------------------------------------------------------------- */

typedef struct saving {
    const sw_desk_sheet *sheet;
    const char *path;       /* without links */
    bool is_new;            /* there may be no such file */
    const sw_copy *instead; /* what must be there still */
    sw_complaints *complaints;
    sw_saving put; /* what came of the last step */
} saving;

/* The last look, right before the old file goes. */
static sw_saving is_due(const saving *s) {
    sw_copy now = {0};
    sw_status status = read_copy(&now, s->path, s->complaints);
    sw_copy text = {s->sheet->text, s->sheet->length};
    bool same = sw_copy_same(&now, s->instead) || sw_copy_same(&now, &text);
    bool gone = now.bytes == NULL;
    sw_copy_free(&now);
    if (status != SW_OK)
        return status == SW_NO_MEMORY ? SW_SAVE_NO_MEMORY : SW_SAVE_REFUSED;
    return same ? SW_SAVED : gone ? SW_SAVE_GONE : SW_SAVE_CHANGED;
}

/* Over a file by that name only where it is the one that was looked at. */
static sw_saving put_in_place(const saving *s, const char *beside) {
    if (!s->is_new) {
        sw_saving due = is_due(s);
        if (due != SW_SAVED)
            return due;
        return rename(beside, s->path) == 0 ? SW_SAVED : cannot(s->complaints, s->path, errno);
    }
    if (link(beside, s->path) == 0) {
        unlink(beside);
        return SW_SAVED;
    }
    if (errno == EEXIST)
        return SW_SAVE_IS_THERE;
    /* Without links on this file system: the name is taken first, and filled then. */
    int taken = open(s->path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    if (taken < 0)
        return errno == EEXIST ? SW_SAVE_IS_THERE : cannot(s->complaints, s->path, errno);
    close(taken);
    if (rename(beside, s->path) == 0)
        return SW_SAVED;
    int error = errno;
    unlink(s->path);
    return cannot(s->complaints, s->path, error);
}

static bool put(void *context, const char *beside) {
    saving *s = context;
    s->put = put_in_place(s, beside);
    return s->put == SW_SAVED;
}

static sw_saving save(saving *s) {
    sw_file_end end = sw_whole_file_write(&(sw_whole_file){.path = s->path,
                                                           .bytes = s->sheet->text,
                                                           .length = s->sheet->length,
                                                           .put = put,
                                                           .context = s});
    int error = errno;
    if (end == SW_FILE_WRITTEN || s->put != SW_SAVED)
        return s->put;
    return error == ENOMEM ? SW_SAVE_NO_MEMORY : cannot(s->complaints, s->path, error);
}

/* ---- the whole ------------------------------------------------------------------------------ */

/* A link is followed, so that it stays a link. */
static const char *real_path(sw_arena *arena, const char *path) {
    char *real = realpath(path, NULL);
    const char *kept = sw_arena_copy(arena, real == NULL ? path : real);
    free(real);
    return kept;
}

static sw_saving check_old(const saving *s) {
    struct stat about;
    if (stat(s->path, &about) != 0)
        return SW_SAVED;
    if (!S_ISREG(about.st_mode))
        return refuse(s->complaints, s->path, "only files are written over",
                      "save under another name", "is no file");
    if (access(s->path, W_OK) != 0)
        return cannot(s->complaints, s->path, errno);
    return SW_SAVED;
}

static sw_saving save_to(sw_sheets *sheets, sw_desk_sheet *sheet, const char *path, bool over,
                         sw_arena *arena, sw_complaints *complaints) {
    bool own = sheet->path != NULL && strcmp(path, sheet->path) == 0, no_memory = false;
    saving s = {.sheet = sheet,
                .path = real_path(arena, path),
                .is_new = !own || (over && sheet->was_shown ? sheet->shown.bytes == NULL
                                                            : sheet->base.bytes == NULL),
                .instead = over && sheet->was_shown ? &sheet->shown : &sheet->base,
                .complaints = complaints};
    if (s.path == NULL)
        return SW_SAVE_NO_MEMORY;
    bool of_catalog = is_of_catalog(arena, sheets, sheet, s.path, &no_memory);
    if (no_memory)
        return SW_SAVE_NO_MEMORY;
    if (of_catalog)
        return refuse(complaints, path, "jobs do not stand in the catalog's folder",
                      "save it in a folder of its own", "would lie in the catalog");
    sw_saving out = s.is_new ? SW_SAVED : check_old(&s);
    if (out == SW_SAVED && !s.is_new)
        out = is_due(&s);
    if (out == SW_SAVED)
        out = save(&s);
    return own && out == SW_SAVE_IS_THERE ? SW_SAVE_CHANGED : out;
}

sw_saving sw_sheet_save(sw_sheets *sheets, sw_desk_sheet *sheet, const char *name, bool over,
                        sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_copy kept = {0}, path = {0};
    const char *to = sheet->path, *fault = name == NULL ? NULL : sw_sheet_name_fault(name);
    if (arena == NULL)
        return SW_SAVE_NO_MEMORY;
    sw_saving out = SW_SAVED;
    if (sheet->text == NULL)
        out = refuse(complaints, "the desk", "nothing is in hand yet",
                     "begin with the machine's dumps", "has nothing to save");
    else if (fault != NULL)
        out = refuse(complaints, "the name", fault,
                     "write a name like anna.json: it ends in .json, and has at most 100 bytes",
                     "is none that a job's file may have");
    else if (name == NULL && to == NULL)
        out = refuse(complaints, "the job", "nothing was saved of it before",
                     "name one, like anna.json", "has no file yet");
    if (out == SW_SAVED && name != NULL) {
        to = sw_arena_format(arena, "%s/%s", sw_sheets_folder(sheets), name);
        if (to == NULL)
            out = SW_SAVE_NO_MEMORY;
        else if (sheet->path != NULL && real_path(arena, to) != NULL &&
                 sw_text_compare(real_path(arena, to), real_path(arena, sheet->path)) == 0)
            to = sheet->path;
    }
    if (out == SW_SAVED &&
        (!sw_copy_set(&kept, sheet->text, sheet->length) || !sw_copy_set(&path, to, strlen(to))))
        out = SW_SAVE_NO_MEMORY;
    if (out == SW_SAVED)
        out = save_to(sheets, sheet, path.bytes, over, arena, complaints);
    if (out == SW_SAVED) {
        sw_copy_free(&sheet->base);
        sw_copy_free(&sheet->shown);
        sheet->base = kept;
        sheet->was_shown = false;
        free(sheet->path);
        sheet->path = path.bytes;
    } else {
        sw_copy_free(&kept);
        sw_copy_free(&path);
    }
    sw_arena_free(arena);
    return out;
}
