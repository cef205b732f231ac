/* The sheets of a desk. */
#include "desk/sheets.h"

#include "desk/papers_made.h"
#include "read/bytes.h"
#include "read/json.h"

#include <stdlib.h>
#include <string.h>

struct sw_sheets {
    sw_place place;
    sw_sheet *all[SW_SHEETS_MOST];
    size_t count;
    unsigned long clock;
};

sw_sheets *sw_sheets_new(const sw_place *place) {
    sw_sheets *sheets = calloc(1, sizeof *sheets);
    if (sheets != NULL)
        sheets->place = *place;
    return sheets;
}

static void sheet_free(sw_sheet *sheet) {
    free(sheet->text);
    free(sheet->path);
    free(sheet);
}

void sw_sheets_free(sw_sheets *sheets) {
    for (size_t i = 0; sheets != NULL && i < sheets->count; i++)
        sheet_free(sheets->all[i]);
    free(sheets);
}

const sw_place *sw_sheets_place(const sw_sheets *sheets) { return &sheets->place; }

static char *copied(const char *bytes, size_t length) {
    char *copy = malloc(length + 1);
    if (copy != NULL) {
        memcpy(copy, bytes, length);
        copy[length] = '\0';
    }
    return copy;
}

static sw_status fill(sw_sheet *sheet, sw_arena *arena, const char *path,
                      sw_complaints *complaints) {
    const char *bytes = NULL;
    size_t length = 0;
    const sw_json *json = NULL;
    sw_status status = sw_bytes_read(&bytes, &length, arena, path, complaints);
    if (status == SW_OK)
        status = sw_json_read(&json, arena, path, bytes, length, complaints);
    if (status != SW_OK)
        return status;
    if (json->kind != SW_JSON_OBJECT) {
        sw_complain(complaints, path, "", "a job is a JSON object", "begin it with {",
                    "is no job");
        return SW_BAD_DATA;
    }
    sheet->text = copied(bytes, length);
    sheet->length = length;
    sheet->path = copied(path, strlen(path));
    return sheet->text == NULL || sheet->path == NULL ? SW_NO_MEMORY : SW_OK;
}

static void make_room(sw_sheets *sheets) {
    size_t oldest = 0;
    if (sheets->count < SW_SHEETS_MOST)
        return;
    for (size_t i = 1; i < sheets->count; i++)
        if (sheets->all[i]->used < sheets->all[oldest]->used)
            oldest = i;
    sheet_free(sheets->all[oldest]);
    sheets->all[oldest] = sheets->all[--sheets->count];
}

sw_status sw_sheets_open(sw_sheet **out, sw_sheets *sheets, const char *path,
                         sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_sheet *sheet = calloc(1, sizeof *sheet);
    sw_status status = arena == NULL || sheet == NULL ? SW_NO_MEMORY : SW_OK;
    if (status == SW_OK && path != NULL)
        status = fill(sheet, arena, path, complaints);
    if (status == SW_OK && !sw_random_digits(sheet->id, 16))
        status = SW_INTERNAL;
    sw_arena_free(arena);
    if (status != SW_OK) {
        if (sheet != NULL)
            sheet_free(sheet);
        return status;
    }
    make_room(sheets);
    sheet->revision = 1;
    sheet->used = ++sheets->clock;
    sheets->all[sheets->count++] = sheet;
    *out = sheet;
    return SW_OK;
}

sw_sheet *sw_sheets_find(sw_sheets *sheets, const char *id) {
    for (size_t i = 0; i < sheets->count; i++)
        if (strcmp(sheets->all[i]->id, id) == 0) {
            sheets->all[i]->used = ++sheets->clock;
            return sheets->all[i];
        }
    return NULL;
}

const char *sw_sheet_reads_as(const sw_sheets *sheets, const sw_sheet *sheet) {
    (void)sheets;
    return sheet->path != NULL ? sheet->path : "./unnamed.json";
}
