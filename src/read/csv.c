/* Tables per RFC 4180. The text is cut into records here, so that a stray quote
 * spoils one record and not the rest of the file; libcsv, in strict mode, takes
 * each record apart. */
#include "read/csv.h"

#include <csv.h>
#include <stdlib.h>
#include <string.h>

#include "read/utf8.h"

#define ROW_LIMIT ((size_t)200000)
#define WIDTH_LIMIT ((size_t)1000)   /* cells of a row */
#define CELL_LIMIT ((size_t)4000000) /* cells of a table */

typedef struct reader {
    sw_arena *arena;
    const char *file;
    sw_csv_dialect dialect;
    sw_complaints *complaints;
    const char **cells; /* of the record at hand */
    size_t cell_room, cell_count;
    sw_csv_row *rows;
    size_t row_room, row_count;
    const char *const *header;
    size_t width;      /* 0 until the header is read */
    size_t cells_seen; /* of all rows */
    bool bad, no_memory;
} reader;

/* ---- complaints ----------------------------------------------------------------- */

static void complain(reader *in, size_t line, const char *why, const char *mend, const char *what) {
    const char *place = sw_arena_format(in->arena, "line %zu", line);
    in->bad = true;
    sw_complain(in->complaints, in->file, place, why, mend, "%s", what);
}

static void complain_width(reader *in, size_t line) {
    const char *what = sw_arena_format(in->arena, "has %zu cells where the header has %zu",
                                       in->cell_count, in->width);
    complain(in, line, "every row is as wide as the header",
             "add or remove commas; put quotes around a cell that holds a comma",
             what == NULL ? "is not as wide as the header" : what);
}

/* ---- one record ------------------------------------------------------------------ */

static int never(unsigned char byte) {
    (void)byte;
    return 0;
}

static void take_cell(void *text, size_t length, void *data) {
    reader *in = data;
    const char *cell = sw_arena_text(in->arena, text == NULL ? "" : text, length);
    if (cell == NULL || !SW_GROW(in->cells, in->cell_room, in->cell_count))
        in->no_memory = true;
    else
        in->cells[in->cell_count++] = cell;
}

static void take_end(int byte, void *data) {
    (void)byte;
    (void)data;
}

/* False when libcsv does not take the record. */
static bool split(reader *in, const char *bytes, size_t length) {
    struct csv_parser parser;
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
        in->no_memory = true;
        return true;
    }
    csv_set_space_func(&parser, never); /* blanks are data */
    csv_set_delim(&parser, (unsigned char)in->dialect.delimiter);
    if (!in->dialect.quotes)
        csv_set_quote(&parser, '\0'); /* which no text holds */
    in->cell_count = 0;
    bool taken = csv_parse(&parser, bytes, length, take_cell, take_end, in) == length &&
                 csv_fini(&parser, take_cell, take_end, in) == 0;
    if (!taken && csv_error(&parser) == CSV_ENOMEM)
        in->no_memory = true;
    csv_free(&parser);
    return taken;
}

static bool keep_cells(reader *in, const char *const **out) {
    const char **kept = SW_NEW(in->arena, const char *, in->cell_count);
    if (kept == NULL) {
        in->no_memory = true;
        return false;
    }
    memcpy(kept, in->cells, in->cell_count * sizeof *kept);
    *out = kept;
    return true;
}

static void keep_row(reader *in, size_t line) {
    if (in->width == 0) {
        if (keep_cells(in, &in->header))
            in->width = in->cell_count;
        return;
    }
    if (in->cell_count != in->width) {
        complain_width(in, line);
        return;
    }
    sw_csv_row row = {.line = line};
    if (!keep_cells(in, &row.cells))
        return;
    if (SW_GROW(in->rows, in->row_room, in->row_count))
        in->rows[in->row_count++] = row;
    else
        in->no_memory = true;
}

/* True when the bytes are text; complains of the first that are not. */
static bool check_text(reader *in, const char *bytes, size_t length, size_t line) {
    const unsigned char *at = (const unsigned char *)bytes;
    for (size_t i = 0; i < length;) {
        size_t step = sw_utf8_length(at + i, length - i);
        if (step == 0) {
            complain(in, line, "tables are UTF-8 (RFC 3629)",
                     "save the file as UTF-8, without changing its contents",
                     "holds bytes that are not UTF-8");
            return false;
        }
        if (at[i] == '\0') {
            complain(in, line, "a NUL is no text", "remove it; was the file saved as UTF-16?",
                     "holds a NUL byte");
            return false;
        }
        line += at[i] == '\n';
        i += step;
    }
    return true;
}

/* ---- records ---------------------------------------------------------------------- */

typedef enum place {
    AT_START, /* of a cell */
    IN_PLAIN,
    IN_QUOTED,
    AFTER_QUOTE /* in a quoted cell: its end, or the first of two */
} place;

typedef enum flaw { SOUND, STRAY_QUOTE, BARE_RETURN, OPEN_QUOTE, TOO_WIDE } flaw;

typedef struct record {
    size_t length, whole; /* without and with its line end */
    size_t lines;         /* line ends within and behind it */
    size_t cells;
    flaw flaw;
} record;

static place step(const sw_csv_dialect *dialect, place at, char byte, flaw *found) {
    if (at == IN_QUOTED)
        return byte == '"' ? AFTER_QUOTE : IN_QUOTED;
    if (byte == dialect->delimiter)
        return AT_START;
    if (!dialect->quotes)
        return IN_PLAIN;
    if (byte == '"' && at == AT_START)
        return IN_QUOTED;
    if (byte == '"' && at == AFTER_QUOTE)
        return IN_QUOTED;
    if (byte == '"' || at == AFTER_QUOTE)
        *found = STRAY_QUOTE;
    return IN_PLAIN;
}

static record next_record(const sw_csv_dialect *dialect, const char *bytes, size_t length) {
    record cut = {.cells = 1};
    place at = AT_START;
    size_t i = 0;
    for (; i < length; i++) {
        bool ends =
            bytes[i] == '\n' || (bytes[i] == '\r' && i + 1 < length && bytes[i + 1] == '\n');
        cut.lines += bytes[i] == '\n';
        if (ends && at != IN_QUOTED)
            break;
        if (bytes[i] == '\r' && at != IN_QUOTED)
            cut.flaw = BARE_RETURN;
        at = step(dialect, at, bytes[i], &cut.flaw);
        cut.cells += at == AT_START;
    }
    if (i == length && at == IN_QUOTED)
        cut.flaw = OPEN_QUOTE;
    if (cut.cells > WIDTH_LIMIT && cut.flaw == SOUND)
        cut.flaw = TOO_WIDE;
    cut.length = i;
    cut.whole = i;
    if (i < length && bytes[i] == '\r') {
        cut.whole = i + 2;
        cut.lines++;
    } else if (i < length) {
        cut.whole = i + 1;
    }
    return cut;
}

static const sw_csv_flaw flaws[] = {
    [STRAY_QUOTE] = {"holds a stray quote",
                     "a quote stands only around a whole cell, and twice inside one",
                     "put quotes around the whole cell and double each one inside it"},
    [BARE_RETURN] = {"holds a carriage return by itself",
                     "lines end with a line feed, alone or behind a carriage return",
                     "save the file with the usual line ends"},
    [OPEN_QUOTE] = {"opens a quote that is never closed",
                    "a cell that starts with a quote ends with one",
                    "close the quote; everything behind it was taken for one cell"},
    [TOO_WIDE] = {"has too many cells", "a row has at most 1,000 cells",
                  "check the marks between cells, or take away columns"},
};

static void complain_flaw(reader *in, size_t line, flaw found) {
    complain(in, line, flaws[found].why, flaws[found].mend, flaws[found].what);
}

static void take_record(reader *in, const char *bytes, const record *cut, size_t line) {
    if (!check_text(in, bytes, cut->length, line))
        return;
    if (cut->flaw != SOUND)
        complain_flaw(in, line, cut->flaw);
    else if (cut->length == 0)
        complain(in, line, "every row is as wide as the header", "remove the line", "is empty");
    else if (!split(in, bytes, cut->length))
        complain_flaw(in, line, STRAY_QUOTE);
    else if (!in->no_memory)
        keep_row(in, line);
}

/* False, and complained of, where the table is larger than any price list. */
static bool is_bounded(reader *in, const record *cut, size_t rows, size_t line) {
    in->cells_seen += cut->cells;
    if (rows > ROW_LIMIT)
        complain(in, line, "at most 200,000 rows are read", "split the table", "has too many rows");
    else if (in->cells_seen > CELL_LIMIT)
        complain(in, line, "at most 4,000,000 cells are read", "split the table",
                 "has too many cells up to here");
    return rows <= ROW_LIMIT && in->cells_seen <= CELL_LIMIT;
}

static void take_records(reader *in, const char *bytes, size_t length) {
    size_t line = 1, records = 0;
    for (size_t at = 0; at < length && !in->no_memory;) {
        record cut = next_record(&in->dialect, bytes + at, length - at);
        if (!is_bounded(in, &cut, records++, line))
            return;
        take_record(in, bytes + at, &cut, line);
        /* Without a header no row can be judged. */
        if (in->width == 0)
            return;
        at += cut.whole;
        line += cut.lines;
    }
}

sw_status sw_csv_read(sw_csv *out, sw_arena *arena, const char *file, const char *bytes,
                      size_t length, sw_complaints *complaints) {
    reader in = {.arena = arena, .file = file, .dialect = {',', true}, .complaints = complaints};
    if (length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        bytes += 3;
        length -= 3;
    }
    take_records(&in, bytes, length);
    if (in.width == 0 && !in.bad && !in.no_memory)
        complain(&in, 1, "the first line names the columns", "write the header line",
                 "has no header");
    sw_csv_row *rows = SW_NEW(arena, sw_csv_row, in.row_count);
    if (rows == NULL)
        in.no_memory = true;
    else if (in.row_count > 0)
        memcpy(rows, in.rows, in.row_count * sizeof *rows);
    free(in.rows);
    free(in.cells);
    if (in.no_memory)
        return SW_NO_MEMORY;
    if (in.bad)
        return SW_BAD_DATA;
    *out = (sw_csv){.header = in.header, .width = in.width, .rows = rows, .count = in.row_count};
    return SW_OK;
}

/* ---- tables of other people ------------------------------------------------------------- */

static void take_loosely(reader *in, sw_csv_record *out, const char *bytes, const record *cut) {
    if (cut->flaw != SOUND) {
        out->flaw = &flaws[cut->flaw];
        return;
    }
    in->cell_count = 0;
    if (cut->length == 0)
        take_cell(NULL, 0, in);
    else if (!split(in, bytes, cut->length)) {
        out->flaw = &flaws[STRAY_QUOTE];
        return;
    }
    if (!in->no_memory && keep_cells(in, &out->cells))
        out->width = in->cell_count;
}

sw_status sw_csv_records(const sw_csv_record **out, size_t *count, sw_arena *arena,
                         const char *file, const char *bytes, size_t length,
                         const sw_csv_dialect *dialect, sw_complaints *complaints) {
    reader in = {.arena = arena, .file = file, .dialect = *dialect, .complaints = complaints};
    sw_csv_record *records = NULL;
    size_t room = 0, used = 0, line = 1;
    for (size_t at = 0; at < length && !in.no_memory && !in.bad;) {
        record cut = next_record(dialect, bytes + at, length - at);
        if (!is_bounded(&in, &cut, used + 1, line))
            break;
        if (!SW_GROW(records, room, used))
            in.no_memory = true;
        else {
            records[used] = (sw_csv_record){.line = line};
            take_loosely(&in, &records[used++], bytes + at, &cut);
        }
        at += cut.whole;
        line += cut.lines;
    }
    sw_csv_record *kept = SW_NEW(arena, sw_csv_record, used);
    in.no_memory = in.no_memory || kept == NULL;
    if (!in.no_memory && used > 0)
        memcpy(kept, records, used * sizeof *kept);
    free(records);
    free(in.cells);
    if (in.no_memory)
        return SW_NO_MEMORY;
    if (in.bad)
        return SW_BAD_DATA;
    *out = kept;
    *count = used;
    return SW_OK;
}
