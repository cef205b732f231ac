/* Cells of a row to its values, as the profile says, or to why not. */
#include <string.h>

#include "intake/price_amount.h"
#include "intake/price_stage.h"
#include "read/plain.h"

#define TEXT_BYTES 2000

void sw_price_refuse(sw_price_row *row, const char *column, const char *cell, const char *what,
                     const char *why, const char *mend) {
    row->fate = SW_ROW_REFUSED;
    row->column = column;
    row->cell = cell;
    row->what = what;
    row->why = why;
    row->mend = mend;
}

/* The cell without blanks at its ends: the same bytes, or a copy that is shorter. */
static const char *trimmed(sw_pricing *in, const char *cell) {
    size_t blank = 0, length = 0, last = 0;
    while ((blank = sw_blank_length(cell)) > 0)
        cell += blank;
    for (length = 0; cell[length] != '\0';) {
        blank = sw_blank_length(cell + length);
        length += blank > 0 ? blank : 1;
        last = blank > 0 ? last : length;
    }
    if (cell[last] == '\0')
        return cell;
    const char *kept = sw_arena_text(in->arena, cell, last);
    in->no_memory |= kept == NULL;
    return kept == NULL ? "" : kept;
}

static const char *cell_of(sw_pricing *in, const sw_csv_record *record, int column) {
    int place = in->places[column];
    return place < 0 ? "" : trimmed(in, record->cells[place]);
}

/* What goes into other files and is compared: nothing in it that nobody sees. */
static const char *plain_cell_of(sw_pricing *in, const sw_csv_record *record, int column) {
    const char *cell = cell_of(in, record, column);
    if (sw_is_plain(cell, strlen(cell)))
        return cell;
    in->key.length = 0;
    sw_text_add(&in->key, "");
    sw_plain_keep(&in->key, cell);
    const char *kept = in->key.failed ? NULL : sw_arena_copy(in->arena, in->key.bytes);
    in->no_memory |= kept == NULL;
    return kept == NULL ? "" : trimmed(in, kept);
}

/* ---- the header --------------------------------------------------------------------------- */

static bool wrong_header(sw_pricing *in, const sw_csv_record *header, const char *what,
                         const char *text) {
    const char *place = sw_arena_format(in->arena, "line %zu", header->line);
    in->bad = true;
    sw_complain(in->complaints, in->prices->file, place,
                "the profile names the columns by the texts of the header",
                "choose the profile of this list, or mend its \"columns\" or \"lead\"", what, text);
    return false;
}

/* What is wrong with the line itself, not with each column that is not found in it. */
static bool broken_header(sw_pricing *in, const sw_csv_record *header) {
    const char *place = sw_arena_format(in->arena, "line %zu", header->line);
    in->bad = true;
    sw_complain(in->complaints, in->prices->file, place, header->flaw->why, header->flaw->mend,
                "%s", header->flaw->what);
    return false;
}

bool sw_price_columns(sw_pricing *in, const sw_csv_record *header) {
    bool good = true;
    if (header->flaw != NULL)
        return broken_header(in, header);
    in->width = header->width;
    for (int c = 0; c < SW_COL_COUNT; c++) {
        const char *head = in->profile->heads[c];
        in->places[c] = -1;
        if (head == NULL)
            continue;
        for (size_t i = 0; i < header->width; i++) {
            if (strcmp(trimmed(in, header->cells[i]), head) != 0)
                continue;
            if (in->places[c] >= 0)
                good = wrong_header(in, header, "has the column \"%s\" twice", head);
            in->places[c] = (int)i;
        }
        if (in->places[c] < 0)
            good = wrong_header(in, header, "has no column \"%s\"", head);
    }
    return good;
}

/* ---- rows that are none ---------------------------------------------------------------------- */

static bool is_blank(const char *text) {
    size_t length = 0;
    while ((length = sw_blank_length(text)) > 0)
        text += length;
    return *text == '\0';
}

bool sw_price_is_blank(const sw_csv_record *record) {
    for (size_t i = 0; i < record->width; i++)
        if (!is_blank(record->cells[i]))
            return false;
    return record->flaw == NULL;
}

bool sw_price_is_skipped(const sw_pricing *in, const sw_csv_record *record) {
    int64_t milli[SW_LIKE_SLOTS];
    for (size_t i = 0; i < in->profile->skip_count; i++) {
        const sw_list_skip *skip = &in->profile->skips[i];
        if (record->flaw != NULL || skip->cell >= record->width)
            continue;
        const char *cell = record->cells[skip->cell];
        for (size_t blank = 0; (blank = sw_blank_length(cell)) > 0;)
            cell += blank;
        if (sw_like_is(&skip->like, cell, milli))
            return true;
    }
    return false;
}

/* ---- who it is --------------------------------------------------------------------------------
 */

bool sw_price_identity(sw_pricing *in, const sw_csv_record *record, sw_price_row *row) {
    if (record->flaw != NULL) {
        sw_price_refuse(row, "", "", record->flaw->what, record->flaw->why, record->flaw->mend);
        return false;
    }
    if (record->width != in->width) {
        const char *what = sw_arena_format(in->arena, "has %zu cells where this list has %zu",
                                           record->width, in->width);
        in->no_memory |= what == NULL;
        sw_price_refuse(row, "", record->cells[0], what,
                        "its cells could stand in the wrong columns",
                        "add or remove delimiters, or let the profile skip such rows");
        return false;
    }
    for (int c = 0; c < SW_COL_COUNT; c++)
        if (in->places[c] >= 0 && strlen(record->cells[in->places[c]]) > TEXT_BYTES) {
            sw_price_refuse(row, sw_list_column_names[c], "", "holds a text over 2,000 bytes",
                            "no name or number is that long", "shorten it; is a quote missing?");
            return false;
        }
    row->number = plain_cell_of(in, record, SW_COL_NUMBER);
    row->maker = plain_cell_of(in, record, SW_COL_MAKER);
    row->name = plain_cell_of(in, record, SW_COL_NAME);
    row->text = plain_cell_of(in, record, SW_COL_TEXT);
    for (size_t i = 0; i < in->profile->maker_count; i++)
        if (strcmp(row->maker, in->profile->makers[i].list) == 0) {
            row->maker = in->profile->makers[i].maker;
            break;
        }
    if (row->name[0] == '\0')
        sw_price_refuse(row, "name", "", "is empty", "nobody could tell what the row is",
                        "write the name, or let the profile skip such rows");
    else if (row->number[0] != '\0' && strchr("=@", row->number[0]) != NULL)
        sw_price_refuse(row, "number", row->number, "is a formula, not a number",
                        "only what a formula gives could be read, and that is not in the file",
                        "save the list with values in place of formulas");
    return row->fate != SW_ROW_REFUSED;
}

/* ---- its numbers --------------------------------------------------------------------------------
 */

static bool same_but_case(const char *a, const char *b) { return sw_same_maker(a, b); }

static bool read_price(sw_pricing *in, const char *cell, sw_price_row *row) {
    const sw_price_style *style = &in->profile->price;
    const char *what = NULL;
    for (size_t i = 0; i < in->profile->no_price_count; i++)
        if (same_but_case(in->profile->no_price[i], cell)) {
            row->fate = SW_ROW_NO_PRICE;
            row->column = "price";
            row->cell = cell;
            return false;
        }
    bool good = sw_amount_read(&row->price, style, cell, &what);
    if (good && !sw_amount_tax(&row->price, style)) {
        what = "is larger than any price";
        good = false;
    }
    if (good)
        return true;
    const char *why = sw_arena_format(
        in->arena, "this list writes prices like %s, and none is guessed", in->example);
    const char *mend = sw_arena_format(
        in->arena,
        "write it like %s; choose the profile of this list; or put the text into its "
        "\"no_price\"",
        in->example);
    in->no_memory |= why == NULL || mend == NULL;
    sw_price_refuse(row, "price", cell, what, why, mend);
    return false;
}

/* 0: does not fit, 1: fits, 2: gone. */
static int take_form(const sw_list_form *form, const char *cell, int *value, int *days) {
    int64_t milli[SW_LIKE_SLOTS];
    if (!sw_like_is(&form->like, cell, milli))
        return 0;
    if (form->gone)
        return 2;
    int64_t number = form->is >= 0 ? form->is : milli[form->n] / 1000 * form->times;
    if (number > 1000000)
        return 0;
    *value = (int)number;
    if (form->days >= 0)
        *days = form->days;
    if (form->days_slot >= 0)
        *days = (int)(milli[form->days_slot] / 1000);
    return 1;
}

static int take_plain(const char *cell, int *value) {
    size_t length = strlen(cell);
    int number = 0;
    if (length == 0 || length > 7 || strspn(cell, "0123456789") < length)
        return 0;
    for (; *cell != '\0'; cell++)
        number = number * 10 + (*cell - '0');
    *value = number;
    return number <= 1000000;
}

static bool read_whole(sw_pricing *in, const sw_csv_record *record, int column, int *days,
                       sw_price_row *row) {
    int w = column - SW_COL_FIRST_WHOLE, fits = 0;
    const sw_list_forms *forms = &in->profile->forms[w];
    if (in->places[column] < 0) {
        row->whole[w] = in->profile->otherwise[w];
        return true;
    }
    const char *cell = cell_of(in, record, column);
    if (forms->count == 0)
        fits = take_plain(cell, &row->whole[w]);
    for (size_t i = 0; i < forms->count && fits == 0; i++)
        fits = take_form(&forms->forms[i], cell, &row->whole[w], days);
    if (fits == 1)
        return true;
    if (fits == 2) {
        row->fate = SW_ROW_GONE;
        row->column = sw_list_column_names[column];
        row->cell = cell;
        return false;
    }
    sw_price_refuse(row, sw_list_column_names[column], cell,
                    cell[0] == '\0' ? "is empty" : "is in no form that the profile knows",
                    forms->count == 0 ? "it is a whole number up to 1,000,000"
                                      : "the profile's \"forms\" say how it may be written",
                    "write it in one of these forms, or add the form to the profile");
    return false;
}

bool sw_price_values(sw_pricing *in, const sw_csv_record *record, sw_price_row *row) {
    int days = -1;
    if (!read_price(in, cell_of(in, record, SW_COL_PRICE), row))
        return false;
    for (int c = SW_COL_FIRST_WHOLE; c < SW_COL_COUNT; c++)
        if (!read_whole(in, record, c, &days, row))
            return false;
    if (days >= 0)
        row->whole[SW_COL_DAYS - SW_COL_FIRST_WHOLE] = days;
    return true;
}
