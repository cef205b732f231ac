/* RFC 4180 tables with a header row, by libcsv in strict mode behind a thin
 * layer of our own (byte order mark, NUL, UTF-8, width of rows, row cap). */
#ifndef SW_READ_CSV_H
#define SW_READ_CSV_H

#include "base/base.h"

typedef struct sw_csv_row {
    const char *const *cells; /* as many as the header has */
    size_t line;              /* where the row starts, from 1 */
} sw_csv_row;

typedef struct sw_csv {
    const char *const *header;
    size_t width;
    const sw_csv_row *rows;
    size_t count;
} sw_csv;

/* One leading UTF-8 byte order mark is dropped. Complaints name the line:
 * stray or unclosed quote, NUL, bad UTF-8, a short or long row, no header,
 * over 200,000 rows, over 1,000 cells in a row. All of a file are gathered. */
sw_status sw_csv_read(sw_csv *out, sw_arena *arena, const char *file, const char *bytes,
                      size_t length, sw_complaints *complaints);

/* Tables of other people: another delimiter, no quotes, rows of any width, none of them a header.
 */
typedef struct sw_csv_dialect {
    char delimiter;
    bool quotes; /* else a quote is a letter */
} sw_csv_dialect;

typedef struct sw_csv_flaw {
    const char *what, *why, *mend;
} sw_csv_flaw;

typedef struct sw_csv_record {
    const char *const *cells;
    size_t width, line;
    const sw_csv_flaw *flaw; /* NULL: sound; else there are no cells */
} sw_csv_record;

/* Every record of the bytes, which are UTF-8 without NUL, in order: a flaw spoils one and no other
 * (an empty line is a record of one empty cell). Complains only of too many rows or cells. */
sw_status sw_csv_records(const sw_csv_record **out, size_t *count, sw_arena *arena,
                         const char *file, const char *bytes, size_t length,
                         const sw_csv_dialect *dialect, sw_complaints *complaints);

#endif
