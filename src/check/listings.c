/* listings.csv: what each seller asks for a part, and when it is there. */
#include "check/stage.h"

#include <stdlib.h>
#include <string.h>

#include "read/bytes.h"
#include "read/csv.h"

#define COLUMN_COUNT 7
static const char *const columns[COLUMN_COUNT] = {"part", "seller",          "price",      "stock",
                                                  "days", "warranty_months", "return_days"};

/* A listing and where it stands in the file. */
typedef struct entry {
    sw_listing listing;
    size_t line;
} entry;

static bool check_header(sw_check *check, const sw_csv *table) {
    bool good = table->width == COLUMN_COUNT;
    for (size_t i = 0; i < COLUMN_COUNT && good; i++)
        good = strcmp(table->header[i], columns[i]) == 0;
    if (!good)
        sw_wrong_line(check, 1, "the columns stand in one known order",
                      "write part,seller,price,stock,days,warranty_months,return_days",
                      "is not the header of the listings");
    return good;
}

static int find_name(sw_check *check, const sw_csv_row *row, size_t column, const sw_names *names,
                     const char *otherwise) {
    const char *cell = row->cells[column];
    int found = sw_names_find(names, cell);
    if (found == SW_NONE && names->whole)
        sw_wrong_line(check, row->line, "only names that are listed can be used",
                      sw_mend_name(check, cell, names->names, names->count, otherwise),
                      "names the %s \"%s\", which is not known", columns[column],
                      sw_shown(check, cell));
    return found;
}

/* Digits alone, up to a million. */
static void read_whole(sw_check *check, const sw_csv_row *row, size_t column, int *out) {
    const char *cell = row->cells[column];
    int number = 0;
    size_t length = strlen(cell);
    bool good = length > 0 && strspn(cell, "0123456789") == length;
    for (size_t i = 0; i < length && good; i++) {
        number = number * 10 + (cell[i] - '0');
        good = number <= SW_DAYS_LIMIT;
    }
    if (good)
        *out = number;
    else
        sw_wrong_line(check, row->line, "it is a whole number from 0 to 1000000",
                      "write digits alone, without blanks, signs or words", "has the %s \"%s\"",
                      columns[column], sw_shown(check, cell));
}

static void read_price(sw_check *check, const sw_csv_row *row, int64_t *out) {
    int digits = check->catalog->currency_digits;
    if (check->currency_doubt || sw_money_parse(out, row->cells[2], digits))
        return;
    const char *why = sw_arena_format(check->scratch,
                                      "a price is digits, with at most %d behind a point", digits);
    sw_wrong_line(check, row->line, why, "write it like 210 or 210.00, without a currency sign",
                  "has the price \"%s\"", sw_shown(check, row->cells[2]));
}

static void read_row(sw_check *check, const sw_csv_row *row, entry *out) {
    sw_listing *listing = &out->listing;
    out->line = row->line;
    listing->part = find_name(check, row, 0, &check->parts, "name a part of catalog/parts");
    listing->seller =
        find_name(check, row, 1, &check->sellers, "name a seller that sellers.json lists");
    read_price(check, row, &listing->price);
    listing->counted = listing->price;
    read_whole(check, row, 3, &listing->stock);
    read_whole(check, row, 4, &listing->days);
    read_whole(check, row, 5, &listing->warranty_months);
    read_whole(check, row, 6, &listing->return_days);
}

static int by_part_seller_line(const void *left, const void *right) {
    const entry *a = left, *b = right;
    if (a->listing.part != b->listing.part)
        return a->listing.part < b->listing.part ? -1 : 1;
    if (a->listing.seller != b->listing.seller)
        return a->listing.seller < b->listing.seller ? -1 : 1;
    return (a->line > b->line) - (a->line < b->line);
}

static void check_once(sw_check *check, const entry *entries, size_t count) {
    for (size_t i = 1; i < count; i++) {
        const sw_listing *is = &entries[i].listing, *before = &entries[i - 1].listing;
        if (is->part != SW_NONE && is->seller != SW_NONE && is->part == before->part &&
            is->seller == before->seller)
            sw_wrong_line(check, entries[i].line, "a seller lists a part once",
                          "keep one of the two lines",
                          "lists \"%s\" from \"%s\" again, as on line %zu",
                          check->catalog->parts[is->part].id,
                          check->catalog->sellers[is->seller].id, entries[i - 1].line);
    }
}

static void read_table(sw_check *check, const sw_csv *table) {
    sw_listing *listings = SW_KEEP(check, sw_listing, table->count);
    entry *entries = sw_arena_alloc(check->scratch, table->count, sizeof *entries);
    if (listings == NULL || entries == NULL) {
        check->no_memory = true;
        return;
    }
    for (size_t i = 0; i < table->count && !check->no_memory; i++)
        read_row(check, &table->rows[i], &entries[i]);
    qsort(entries, table->count, sizeof *entries, by_part_seller_line);
    check_once(check, entries, table->count);
    for (size_t i = 0; i < table->count; i++)
        listings[i] = entries[i].listing;
    check->catalog->listings = listings;
    check->catalog->listing_count = table->count;
}

void sw_read_listings(sw_check *check) {
    const char *bytes = NULL;
    size_t length = 0;
    sw_csv table;
    sw_arena_free(check->scratch);
    check->scratch = sw_arena_new();
    check->file = sw_catalog_path(check, "listings.csv");
    if (check->scratch == NULL) {
        check->no_memory = true;
        return;
    }
    sw_status status =
        sw_bytes_read(&bytes, &length, check->scratch, check->file, check->complaints);
    if (status == SW_OK)
        status = sw_csv_read(&table, check->scratch, check->file, bytes, length, check->complaints);
    check->no_memory |= status == SW_NO_MEMORY;
    check->unreadable |= status == SW_CANNOT_READ;
    check->bad |= status != SW_OK;
    if (status == SW_OK && check_header(check, &table))
        read_table(check, &table);
}
