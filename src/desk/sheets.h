/*
 * Working copies of jobs: a sheet is what one tab of the page has in hand of a job, with all that
 * it was before and the bytes of the file that it came from. catalog/FORMATS.md section 38.
 */
#ifndef SW_DESK_SHEETS_H
#define SW_DESK_SHEETS_H

#include "base/base.h"
#include "read/json.h"

#define SW_SHEETS_MOST 16
#define SW_SHEET_BYTES ((size_t)4 * 1024 * 1024)
#define SW_UNDO_MOST 100
#define SW_UNDO_BYTES ((size_t)16 * 1024 * 1024)

typedef struct sw_tray sw_tray;
typedef struct sw_sheets sw_sheets;

/* Where the desk stands; every text is copied. */
typedef struct sw_place {
    const char *scenario;  /* NULL: it was begun without one */
    const char *catalog;   /* as --catalog names it; NULL: the one that the job names */
    const char *otherwise; /* the catalog where no job names one */
    const char *date;      /* of today, for drafts: "2026-03-02" */
    const char *temporary; /* the folder for trays */
} sw_place;

/* Bytes of a file as they were; `bytes` NULL: there was none. */
typedef struct sw_copy {
    char *bytes;
    size_t length;
} sw_copy;

typedef struct sw_desk_sheet {
    char id[17];
    char *text; /* NULL: there is no job yet */
    size_t length;
    unsigned revision; /* from 1; every change and every way back counts */
    char *path;        /* its file; NULL: it has none yet */
    sw_copy base;      /* the file as it was read or saved */
    sw_copy shown;     /* the file as a difference showed it */
    bool was_shown;
    sw_copy *before; /* what the text was, the last behind the others */
    size_t before_count, before_room;
    sw_tray *tray; /* NULL until something lies in it */
    unsigned long used;
} sw_desk_sheet;

sw_sheets *sw_sheets_new(const sw_place *place); /* NULL when memory is out */
/* Takes the trays' folders away too. */
void sw_sheets_free(sw_sheets *sheets);
const sw_place *sw_sheets_place(const sw_sheets *sheets);

/* A new sheet of the file at `path`, or of nothing. Where there are SW_SHEETS_MOST, the one that
 * was not used for longest goes. SW_BAD_DATA where the file holds no JSON object. */
sw_status sw_sheets_open(sw_desk_sheet **out, sw_sheets *sheets, const char *path,
                         sw_complaints *complaints);
/* NULL: there is none of that id. */
sw_desk_sheet *sw_sheets_find(sw_sheets *sheets, const char *id);

/* The path that the job is read as: its own, or where it would stand. Lives until the sheet's
 * path changes; NULL when memory is out. */
const char *sw_sheet_reads_as(const sw_sheets *sheets, const sw_desk_sheet *sheet);
/* The folder that new files go to, without a slash behind it. */
const char *sw_sheets_folder(const sw_sheets *sheets);

/* The name of its file, without folders; NULL: it has none. */
const char *sw_sheet_file(const sw_desk_sheet *sheet);
/* The catalog that the sheet's job names, which counts from the job's folder; `*out` NULL where it
 * names none. Lives in the arena. SW_NO_MEMORY. */
sw_status sw_sheet_catalog(const char **out, sw_arena *arena, const sw_sheets *sheets,
                           const sw_desk_sheet *sheet);

/* Puts a new text in the place of the old one, which can be had back; the text is copied. */
sw_status sw_sheet_take(sw_desk_sheet *sheet, const char *text, size_t length);
/* The text before the last one; NULL: there is none. */
const sw_copy *sw_sheet_before(const sw_desk_sheet *sheet);
/* Back to it. */
void sw_sheet_undo(sw_desk_sheet *sheet);

void sw_copy_free(sw_copy *copy);
bool sw_copy_set(sw_copy *copy, const char *bytes, size_t length);

/* ---- one change of the text: sheet_change.c ------------------------------------------------- */

/* A text with changes of section 18 made in it: members that are not touched keep their bytes. */
typedef struct sw_changed {
    char *text; /* free() it */
    size_t length;
} sw_changed;

/* `faults`: what the check has against the new text, which is made all the same.
 * `complaints`: why no text could be made (SW_BAD_DATA). */
sw_status sw_text_change(sw_changed *out, const char *text, size_t length, const char *path,
                         const char *catalog, const char *const *settings, size_t count,
                         sw_complaints *faults, sw_complaints *complaints);

/* ---- what saving would change: sheet_difference.c ------------------------------------------- */

typedef struct sw_leaf_change {
    const char *path, *before, *after; /* NULL: not there */
} sw_leaf_change;

#define SW_LEAF_CHANGES_MOST 5000

/* From `before` (NULL: nothing) to `after`; `out` lives in the arena. `all`: there are no more. */
sw_status sw_leaf_changes(const sw_leaf_change **out, size_t *count, bool *all, sw_arena *arena,
                          const sw_json *before, const sw_json *after);

/* ---- the file: sheet_save.c ----------------------------------------------------------------- */

typedef enum sw_saving {
    SW_SAVED,
    SW_SAVE_CHANGED,  /* the file is no longer what the sheet came from */
    SW_SAVE_GONE,     /* the file that the sheet came from is no longer there */
    SW_SAVE_IS_THERE, /* a file of that name is there already */
    SW_SAVE_REFUSED,  /* complained of */
    SW_SAVE_NO_MEMORY
} sw_saving;

/* The file of the sheet as it is now: `out->bytes` NULL where there is none. */
sw_status sw_sheet_on_disk(sw_copy *out, const sw_desk_sheet *sheet, sw_complaints *complaints);
bool sw_copy_same(const sw_copy *a, const sw_copy *b);
/* `name` NULL: to its own file. `over`: also where that was changed meanwhile, as long as the last
 * difference showed it as it is now. */
sw_saving sw_sheet_save(sw_sheets *sheets, sw_desk_sheet *sheet, const char *name, bool over,
                        sw_complaints *complaints);

#endif
