/* The sheets of a desk: opening, finding, what a text was before. */
#include "desk/sheets.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "desk/papers_made.h"
#include "desk/tray.h"
#include "read/bytes.h"

struct sw_sheets {
    sw_arena *arena;
    sw_place place;
    const char *folder, *unnamed; /* of new files; what a job without a file is read as */
    sw_desk_sheet *all[SW_SHEETS_MOST];
    size_t count;
    unsigned long clock; /* counts uses */
};

/* ---- copies --------------------------------------------------------------------------------- */

void sw_copy_free(sw_copy *copy) {
    free(copy->bytes);
    *copy = (sw_copy){0};
}

bool sw_copy_set(sw_copy *copy, const char *bytes, size_t length) {
    char *fresh = malloc(length + 1);
    if (fresh == NULL)
        return false;
    if (length > 0)
        memcpy(fresh, bytes, length);
    fresh[length] = '\0';
    sw_copy_free(copy);
    copy->bytes = fresh;
    copy->length = length;
    return true;
}

bool sw_copy_same(const sw_copy *a, const sw_copy *b) {
    if (a->bytes == NULL || b->bytes == NULL)
        return a->bytes == b->bytes;
    return a->length == b->length && memcmp(a->bytes, b->bytes, a->length) == 0;
}

/* ---- the desk ------------------------------------------------------------------------------- */

/* Gives a copy of `text`, which may be NULL. */
static bool keep(const char **out, sw_arena *arena, const char *text) {
    *out = text == NULL ? NULL : sw_arena_copy(arena, text);
    return text == NULL || *out != NULL;
}

/* Workers work elsewhere: from there, too, a folder is found by its whole name. One that is not
 * there keeps the name that it was given. */
static bool keep_folder(const char **out, sw_arena *arena, const char *path) {
    char *whole = path == NULL ? NULL : realpath(path, NULL);
    bool kept = keep(out, arena, whole == NULL ? path : whole);
    free(whole);
    return kept;
}

/* The folder that the path ends in, and the path from there. */
static bool keep_scenario(sw_sheets *sheets, const char *path) {
    sw_arena *arena = sheets->arena;
    const char *slash = path == NULL ? NULL : strrchr(path, '/');
    const char *folder = slash == NULL   ? "."
                         : slash == path ? "/"
                                         : sw_arena_text(arena, path, (size_t)(slash - path));
    if (folder == NULL || !keep_folder(&sheets->folder, arena, folder))
        return false;
    const char *lead = strcmp(sheets->folder, "/") == 0 ? "" : sheets->folder;
    sheets->unnamed = sw_arena_format(arena, "%s/unnamed.json", lead);
    if (path != NULL)
        sheets->place.scenario =
            sw_arena_format(arena, "%s/%s", lead, slash == NULL ? path : slash + 1);
    return sheets->unnamed != NULL && (path == NULL || sheets->place.scenario != NULL);
}

sw_sheets *sw_sheets_new(const sw_place *place) {
    sw_arena *arena = sw_arena_new();
    sw_sheets *sheets = arena == NULL ? NULL : SW_NEW(arena, sw_sheets, 1);
    if (sheets == NULL) {
        sw_arena_free(arena);
        return NULL;
    }
    sheets->arena = arena;
    sw_place *kept = &sheets->place;
    if (!keep_scenario(sheets, place->scenario) ||
        !keep_folder(&kept->catalog, arena, place->catalog) ||
        !keep_folder(&kept->otherwise, arena, place->otherwise) ||
        !keep(&kept->date, arena, place->date) ||
        !keep_folder(&kept->temporary, arena, place->temporary)) {
        sw_arena_free(arena);
        return NULL;
    }
    return sheets;
}

static void sheet_free(sw_desk_sheet *sheet) {
    free(sheet->text);
    free(sheet->path);
    sw_copy_free(&sheet->base);
    sw_copy_free(&sheet->shown);
    for (size_t i = 0; i < sheet->before_count; i++)
        sw_copy_free(&sheet->before[i]);
    free(sheet->before);
    sw_tray_free(sheet->tray);
    free(sheet);
}

void sw_sheets_free(sw_sheets *sheets) {
    if (sheets == NULL)
        return;
    for (size_t i = 0; i < sheets->count; i++)
        sheet_free(sheets->all[i]);
    sw_arena_free(sheets->arena);
}

const sw_place *sw_sheets_place(const sw_sheets *sheets) { return &sheets->place; }

const char *sw_sheets_folder(const sw_sheets *sheets) { return sheets->folder; }

const char *sw_sheet_reads_as(const sw_sheets *sheets, const sw_desk_sheet *sheet) {
    return sheet->path != NULL ? sheet->path : sheets->unnamed;
}

const char *sw_sheet_file(const sw_desk_sheet *sheet) {
    const char *slash = sheet->path == NULL ? NULL : strrchr(sheet->path, '/');
    return slash == NULL ? sheet->path : slash + 1;
}

sw_status sw_sheet_catalog(const char **out, sw_arena *arena, const sw_sheets *sheets,
                           const sw_desk_sheet *sheet) {
    const sw_json *root = NULL;
    const char *path = sw_sheet_reads_as(sheets, sheet);
    sw_complaints *unheard = sw_complaints_new();
    *out = NULL;
    sw_status status = unheard == NULL || path == NULL ? SW_NO_MEMORY : SW_OK;
    if (status == SW_OK && sheet->text != NULL)
        status = sw_json_read(&root, arena, "", sheet->text, sheet->length, unheard);
    sw_complaints_free(unheard);
    const sw_json *named = status != SW_OK || root == NULL ? NULL : sw_json_get(root, "catalog");
    /* What cannot be read names none. */
    if (status == SW_NO_MEMORY || named == NULL || named->kind != SW_JSON_TEXT ||
        named->text[0] == '\0')
        return status == SW_NO_MEMORY ? SW_NO_MEMORY : SW_OK;
    const char *slash = strrchr(path, '/');
    *out = named->text[0] == '/' || slash == NULL
               ? named->text
               : sw_arena_format(arena, "%.*s/%s", (int)(slash - path), path, named->text);
    return *out == NULL ? SW_NO_MEMORY : SW_OK;
}

/* ---- opening -------------------------------------------------------------------------------- */

/* One that no sheet has. */
static bool make_id(const sw_sheets *sheets, char id[17]) {
    if (!sw_random_digits(id, 16))
        return false;
    for (size_t i = 0; i < sheets->count; i++)
        if (strcmp(sheets->all[i]->id, id) == 0)
            return make_id(sheets, id);
    return true;
}

static sw_status read_file(sw_desk_sheet *sheet, const char *path, sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    const char *bytes = NULL;
    const sw_json *root = NULL;
    size_t length = 0;
    if (arena == NULL)
        return SW_NO_MEMORY;
    struct stat about;
    sw_status status = SW_OK;
    if (stat(path, &about) == 0 && !S_ISREG(about.st_mode)) {
        sw_complain(complaints, path, "", "the desk saves a job where it came from",
                    "put it into a file first", "is no file");
        status = SW_CANNOT_READ;
    }
    if (status == SW_OK)
        status = sw_bytes_read(&bytes, &length, arena, path, complaints);
    if (status == SW_OK && length > SW_SHEET_BYTES) {
        sw_complain(complaints, path, "", "the desk works on jobs of at most 4 MiB",
                    "check that it is the file that was meant", "is too large");
        status = SW_BAD_DATA;
    }
    if (status == SW_OK)
        status = sw_json_read(&root, arena, path, bytes, length, complaints);
    if (status == SW_OK && root->kind != SW_JSON_OBJECT) {
        sw_complain(complaints, path, "$", "a job is an object", "put it into { }", "is no object");
        status = SW_BAD_DATA;
    }
    sw_copy text = {0};
    if (status == SW_OK &&
        (!sw_copy_set(&sheet->base, bytes, length) || !sw_copy_set(&text, bytes, length)))
        status = SW_NO_MEMORY;
    sheet->text = text.bytes;
    sheet->length = text.length;
    sw_arena_free(arena);
    return status;
}

static void let_go_of_oldest(sw_sheets *sheets) {
    size_t oldest = 0;
    for (size_t i = 1; i < sheets->count; i++)
        if (sheets->all[i]->used < sheets->all[oldest]->used)
            oldest = i;
    sheet_free(sheets->all[oldest]);
    sheets->all[oldest] = sheets->all[--sheets->count];
}

sw_status sw_sheets_open(sw_desk_sheet **out, sw_sheets *sheets, const char *path,
                         sw_complaints *complaints) {
    sw_desk_sheet *sheet = calloc(1, sizeof *sheet);
    sw_copy name = {0};
    sw_status status = SW_OK;
    if (sheet == NULL || (path != NULL && !sw_copy_set(&name, path, strlen(path)))) {
        free(sheet);
        return SW_NO_MEMORY;
    }
    sheet->path = name.bytes;
    sheet->revision = 1;
    if (path != NULL)
        status = read_file(sheet, path, complaints);
    if (status == SW_OK && !make_id(sheets, sheet->id))
        status = SW_INTERNAL;
    if (status != SW_OK) {
        sheet_free(sheet);
        return status;
    }
    if (sheets->count == SW_SHEETS_MOST)
        let_go_of_oldest(sheets);
    sheet->used = ++sheets->clock;
    sheets->all[sheets->count++] = sheet;
    *out = sheet;
    return SW_OK;
}

sw_desk_sheet *sw_sheets_find(sw_sheets *sheets, const char *id) {
    for (size_t i = 0; i < sheets->count; i++)
        if (strcmp(sheets->all[i]->id, id) == 0) {
            sheets->all[i]->used = ++sheets->clock;
            return sheets->all[i];
        }
    return NULL;
}

/* ---- texts ---------------------------------------------------------------------------------- */

static void forget_first(sw_desk_sheet *sheet) {
    sw_copy_free(&sheet->before[0]);
    sheet->before_count--;
    memmove(sheet->before, sheet->before + 1, sheet->before_count * sizeof *sheet->before);
}

static size_t bytes_before(const sw_desk_sheet *sheet) {
    size_t bytes = 0;
    for (size_t i = 0; i < sheet->before_count; i++)
        bytes += sheet->before[i].length;
    return bytes;
}

sw_status sw_sheet_take(sw_desk_sheet *sheet, const char *text, size_t length) {
    sw_copy fresh = {0};
    if (!SW_GROW(sheet->before, sheet->before_room, sheet->before_count) ||
        !sw_copy_set(&fresh, text, length))
        return SW_NO_MEMORY;
    sheet->before[sheet->before_count++] = (sw_copy){sheet->text, sheet->length};
    while (sheet->before_count > SW_UNDO_MOST ||
           (sheet->before_count > 1 && bytes_before(sheet) > SW_UNDO_BYTES))
        forget_first(sheet);
    sheet->text = fresh.bytes;
    sheet->length = fresh.length;
    sheet->revision++;
    return SW_OK;
}

const sw_copy *sw_sheet_before(const sw_desk_sheet *sheet) {
    return sheet->before_count == 0 ? NULL : &sheet->before[sheet->before_count - 1];
}

void sw_sheet_undo(sw_desk_sheet *sheet) {
    if (sheet->before_count == 0)
        return;
    free(sheet->text);
    sw_copy *last = &sheet->before[--sheet->before_count];
    sheet->text = last->bytes;
    sheet->length = last->length;
    sheet->revision++;
}
