/* Tables: cells written again in quotes read the same, whatever the dialect; and the same bytes as
 * the listings of a catalog. */
#include <stdlib.h>
#include <string.h>

#include "check/catalog.h"
#include "fuzz.h"
#include "read/csv.h"

static void add_cell(sw_text *to, const char *cell) {
    sw_text_add(to, "\"");
    for (; *cell != '\0'; cell++) {
        sw_text_add_bytes(to, cell, 1);
        if (*cell == '"')
            sw_text_add(to, "\"");
    }
    sw_text_add(to, "\"");
}

static void add_row(sw_text *to, const char *const *cells, size_t width, char delimiter) {
    for (size_t i = 0; i < width; i++) {
        if (i > 0)
            sw_text_add_bytes(to, &delimiter, 1);
        add_cell(to, cells[i]);
    }
    sw_text_add(to, "\r\n");
}

static bool same_cells(const char *const *a, const char *const *b, size_t width) {
    for (size_t i = 0; i < width; i++)
        if (strcmp(a[i], b[i]) != 0)
            return false;
    return true;
}

static void strict(sw_arena *arena, const char *bytes, size_t length) {
    sw_csv table = {0}, again = {0};
    sw_text text = {0};
    sw_complaints *complaints = sw_complaints_new();
    sw_status status = sw_csv_read(&table, arena, "in", bytes, length, complaints);
    fuzz_complaints(status, complaints);
    if (status == SW_OK) {
        add_row(&text, table.header, table.width, ',');
        for (size_t i = 0; i < table.count; i++)
            add_row(&text, table.rows[i].cells, table.width, ',');
#ifdef FUZZ_FAULT
        if (table.count == 2 && table.width == 2)
            text.length -= 3;
#endif
        fuzz_hold(sw_csv_read(&again, arena, "", text.bytes, text.length, complaints) == SW_OK &&
                      again.count == table.count && again.width == table.width,
                  "another table");
        for (size_t i = 0; i < table.count; i++)
            fuzz_hold(same_cells(table.rows[i].cells, again.rows[i].cells, table.width), "row %zu",
                      i);
        fuzz_hold(same_cells(table.header, again.header, table.width), "the header");
    }
    sw_text_free(&text);
    sw_complaints_free(complaints);
}

static void loose(sw_arena *arena, const char *bytes, size_t length, sw_csv_dialect dialect) {
    const sw_csv_record *records = NULL, *again = NULL;
    size_t count = 0, others = 0, sound = 0, line = 0;
    sw_text text = {0};
    sw_complaints *complaints = sw_complaints_new();
    sw_status status =
        sw_csv_records(&records, &count, arena, "in", bytes, length, &dialect, complaints);
    fuzz_complaints(status, complaints);
    for (size_t i = 0; i < count; i++) {
        fuzz_hold(records[i].line > line, "record %zu stands on line %zu", i, records[i].line);
        line = records[i].line;
        fuzz_hold(records[i].flaw == NULL || fuzz_is_readable(records[i].flaw->what), "a flaw");
        fuzz_hold(records[i].flaw != NULL || records[i].width > 0, "a record without cells");
    }
    for (size_t i = 0; i < count && dialect.quotes; i++)
        if (records[i].flaw == NULL)
            add_row(&text, records[i].cells, records[i].width, dialect.delimiter);
    if (dialect.quotes && text.length > 0) {
        fuzz_hold(sw_csv_records(&again, &others, arena, "", text.bytes, text.length, &dialect,
                                 complaints) == SW_OK,
                  "written again it is refused");
        for (size_t i = 0; i < count; i++)
            if (records[i].flaw == NULL) {
                fuzz_hold(sound < others && again[sound].width == records[i].width &&
                              same_cells(records[i].cells, again[sound].cells, records[i].width),
                          "record %zu", i);
                sound++;
            }
        fuzz_hold(sound == others, "%zu records became %zu", sound, others);
    }
    sw_text_free(&text);
    sw_complaints_free(complaints);
}

static void as_listings(const char *bytes, size_t length) {
    sw_catalog *catalog = NULL;
    sw_complaints *complaints = sw_complaints_new();
    fuzz_folder();
    fuzz_write("catalog/listings.csv", bytes, length);
    char *path = fuzz_path("catalog");
    sw_status status = sw_catalog_read(&catalog, path, complaints);
    fuzz_complaints(status, complaints);
    for (size_t i = 0; catalog != NULL && i < catalog->listing_count; i++)
        fuzz_hold(catalog->listings[i].price > 0, "a price of nothing");
    sw_catalog_free(catalog);
    sw_complaints_free(complaints);
    free(path);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const sw_csv_dialect dialects[] = {{',', true}, {';', true}, {'\t', false}, {'|', true}};
    sw_arena *arena = sw_arena_new();
    char *bytes = fuzz_text(data, size);
    strict(arena, bytes, size);
    if (strncmp(bytes, "part,", 5) == 0)
        as_listings(bytes, size);
    free(bytes);
    char *text = fuzz_utf8(data, size);
    for (size_t i = 0; i < size; i++) /* line ends are no control characters of a table */
        if (data[i] == '\n' || data[i] == '\r' || data[i] == '\t')
            text[i] = (char)data[i];
    for (size_t i = 0; i < sizeof dialects / sizeof *dialects; i++)
        loose(arena, text, size, dialects[i]);
    free(text);
    sw_arena_free(arena);
    return 0;
}
