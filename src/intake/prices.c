/* A price list, from its bytes to what became of each row. */
#include "intake/prices.h"

#include <stdlib.h>
#include <string.h>

#include "intake/price_amount.h"
#include "intake/price_stage.h"
#include "read/bytes.h"

/* ---- one row --------------------------------------------------------------------------------- */

/* The number of one part beside a maker that the catalog does not know, else by words. */
static void propose(sw_pricing *in, sw_price_row *row) {
    sw_price_row other = *row;
    other.maker = "";
    int part =
        row->number[0] != '\0' && row->maker[0] != '\0' && sw_price_maker(in, row->maker) == SW_NONE
            ? sw_price_by_number(in, &other)
            : SW_NONE;
    if (part == SW_NONE) {
        sw_price_propose(in, row);
        return;
    }
    row->proposals[0] = (sw_proposal_of){.part = part, .score = 100};
    row->proposal_count = 1;
}

static void match(sw_pricing *in, sw_price_row *row, const sw_confirmed *said) {
    int by_number = row->number[0] == '\0' ? SW_NONE : sw_price_by_number(in, row);
    if (said != NULL && said->part != SW_NONE) {
        row->part = said->part;
        row->confirmed = true;
    } else if (by_number != SW_NONE) {
        row->part = by_number;
    } else if (said != NULL) {
        row->fate = SW_ROW_NEW;
        return;
    }
    if (row->part != SW_NONE) {
        sw_price_settle(in, row, row->confirmed ? said : NULL);
        return;
    }
    propose(in, row);
    row->fate = row->proposal_count > 0 ? SW_ROW_WAITING : SW_ROW_UNMATCHED;
    row->waits = row->proposal_count > 0 ? SW_WAITS_LIKE : 0;
    for (size_t i = 0; i < row->proposal_count; i++)
        sw_price_weigh(in, row, &row->proposals[i]);
}

/* What stands first in a row that is passed over. */
static const char *first_text(const sw_csv_record *record) {
    for (size_t i = 0; i < record->width; i++)
        if (record->cells[i][0] != '\0')
            return record->cells[i];
    return "";
}

static void take_row(sw_pricing *in, const sw_csv_record *record, sw_price_row *row) {
    if (sw_price_is_blank(record)) {
        row->fate = SW_ROW_BLANK;
        return;
    }
    if (sw_price_is_skipped(in, record)) {
        row->fate = SW_ROW_SKIPPED;
        row->cell = first_text(record);
        return;
    }
    row->fate = SW_ROW_UNMATCHED;
    if (!sw_price_identity(in, record, row))
        return;
    sw_confirmed *said = sw_confirmed_find(in, row);
    if (said != NULL)
        said->used = true;
    if (said != NULL && said->part == SW_NONE && !said->is_new) {
        row->fate = SW_ROW_NOT_OURS;
        row->confirmed = true;
        return;
    }
    if (!sw_price_values(in, record, row))
        return;
    row->stated = row->price;
    match(in, row, said);
}

/* ---- the list ----------------------------------------------------------------------------------
 */

/* 29 may be the beginning of 299. */
static void refuse_cut(sw_price_row *row) {
    sw_price_refuse(row, "", "", "is the last, and has no line end",
                    "the file may have been cut off within it",
                    "get the list again; end the last line; or, where this list is always so, say "
                    "\"ends_open\": true in the profile");
}

static void take_records(sw_pricing *in, const sw_csv_record *records, size_t count) {
    sw_prices *prices = in->prices;
    size_t header = in->profile->lead;
    prices->rows = SW_NEW(in->arena, sw_price_row, count);
    in->no_memory |= prices->rows == NULL;
    for (size_t i = 0; i < count && !in->no_memory && !in->bad; i++) {
        sw_price_row *row = &prices->rows[i];
        *row = (sw_price_row){.row = i + 1,
                              .line = records[i].line,
                              .number = "",
                              .maker = "",
                              .name = "",
                              .text = "",
                              .part = SW_NONE,
                              .held = SW_NONE,
                              .pack = 1};
        if (i < header)
            row->fate = SW_ROW_LEAD;
        else if (i == header && in->profile->header) {
            row->fate = SW_ROW_HEADER;
            sw_price_columns(in, &records[i]);
        } else
            take_row(in, &records[i], row);
    }
    if (in->cut && count > 0 && !in->no_memory && !in->bad)
        refuse_cut(&prices->rows[count - 1]);
    prices->row_count = in->no_memory ? 0 : count;
}

static void complain_short(sw_pricing *in) {
    sw_complain(in->complaints, in->prices->file, "",
                "the profile says that the first rows are headings",
                "choose the profile of this list; was the file cut off?", "has no header");
    in->bad = true;
}

static sw_status read_list(sw_pricing *in, const char *path) {
    const sw_profile *profile = in->profile;
    const sw_csv_dialect dialect = {profile->delimiter, profile->quotes};
    const sw_csv_record *records = NULL;
    const char *bytes = NULL, *text = NULL;
    size_t length = 0, decoded = 0, count = 0;
    sw_status status = sw_bytes_read(&bytes, &length, in->scratch, path, in->complaints);
    if (status == SW_OK)
        status = sw_encoding_read(&text, &decoded, in->scratch, in->prices->file, bytes, length,
                                  profile->encoding, profile->mark, in->complaints);
    if (status == SW_OK)
        status = sw_csv_records(&records, &count, in->arena, in->prices->file, text, decoded,
                                &dialect, in->complaints);
    if (status != SW_OK)
        return status;
    in->cut = !profile->ends_open && decoded > 0 && text[decoded - 1] != '\n';
    if (profile->header && count <= profile->lead)
        complain_short(in);
    else
        take_records(in, records, count);
    return in->no_memory ? SW_NO_MEMORY : in->bad ? SW_BAD_DATA : SW_OK;
}

static void count_fates(sw_prices *prices) {
    memset(prices->fates, 0, sizeof prices->fates);
    for (size_t i = 0; i < prices->row_count; i++)
        prices->fates[prices->rows[i].fate]++;
    prices->unused = 0;
    for (size_t i = 0; i < prices->confirmed_count; i++)
        prices->unused += !prices->confirmed[i].used;
}

/* ---- all of it
 * ----------------------------------------------------------------------------------- */

static const sw_profile *find_profile(sw_pricing *in, const char *id) {
    const sw_catalog *catalog = in->catalog;
    sw_text names = {0};
    for (size_t i = 0; i < catalog->profile_count; i++) {
        if (strcmp(catalog->profiles[i].id, id) == 0) {
            sw_text_free(&names);
            return &catalog->profiles[i];
        }
        sw_text_addf(&names, "%s%s", i == 0 ? "choose one of: " : ", ", catalog->profiles[i].id);
    }
    sw_complain(in->complaints, "--profile", "", "a profile says how a list writes its numbers",
                names.bytes == NULL ? "write one into the catalog's folder profiles" : names.bytes,
                "there is no profile \"%s\" in %s/profiles", id, catalog->folder);
    sw_text_free(&names);
    return NULL;
}

static sw_status read_all(sw_pricing *in, const sw_price_list *list) {
    in->profile = find_profile(in, list->profile);
    if (in->profile == NULL)
        return SW_BAD_DATA;
    in->prices->profile = in->profile;
    in->width = in->profile->width;
    memcpy(in->places, in->profile->places, sizeof in->places);
    in->example = sw_amount_example(in->arena, &in->profile->price);
    sw_price_index(in);
    if (in->no_memory || in->example == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_confirmed_read(in, list->confirm, list->confirm_may_miss);
    if (status == SW_OK)
        status = read_list(in, list->path);
    if (status != SW_OK)
        return status;
    sw_price_twice(in);
    sw_price_changes(in);
    count_fates(in->prices);
    sw_price_news(in);
    status = sw_price_others(in, in->complaints);
    return in->no_memory ? SW_NO_MEMORY : status;
}

sw_status sw_prices_read(sw_prices **out, const sw_price_list *list, sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_prices *prices = arena == NULL ? NULL : SW_NEW(arena, sw_prices, 1);
    const char *file = prices == NULL
                           ? NULL
                           : sw_arena_copy(arena, list->called != NULL ? list->called : list->path);
    if (file == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    *prices = (sw_prices){.arena = arena, .file = file};
    sw_status status = sw_catalog_read(&prices->catalog, list->catalog, complaints);
    if (status == SW_OK) {
        sw_pricing in = {.prices = prices,
                         .arena = arena,
                         .catalog = prices->catalog,
                         .scratch = sw_arena_new(),
                         .complaints = complaints};
        status = in.scratch == NULL ? SW_NO_MEMORY : read_all(&in, list);
        sw_price_index_free(&in);
        sw_arena_free(in.scratch);
    }
    if (status == SW_OK)
        *out = prices;
    else
        sw_prices_free(prices);
    return status;
}

void sw_prices_free(sw_prices *prices) {
    if (prices == NULL)
        return;
    free(prices->confirmed);
    sw_catalog_free(prices->catalog);
    sw_arena_free(prices->arena);
}

size_t sw_prices_refused(const sw_prices *prices) { return prices->fates[SW_ROW_REFUSED]; }

bool sw_prices_shrinks(const sw_prices *prices) {
    return prices->empty || prices->taken_away * 3 > prices->listed_before;
}

/* ---- asking
 * ----------------------------------------------------------------------------------------- */

size_t sw_prices_waiting(const sw_prices *prices) { return prices->fates[SW_ROW_WAITING]; }

const sw_price_row *sw_prices_waiting_row(const sw_prices *prices, size_t index) {
    for (size_t i = 0; i < prices->row_count; i++)
        if (prices->rows[i].fate == SW_ROW_WAITING && index-- == 0)
            return &prices->rows[i];
    return NULL;
}

static sw_confirmed *find_said(const sw_prices *prices, const sw_price_row *row) {
    for (size_t i = 0; i < prices->confirmed_count; i++) {
        sw_confirmed *said = &prices->confirmed[i];
        if (strcmp(said->number, row->number) == 0 && strcmp(said->maker, row->maker) == 0 &&
            strcmp(said->name, row->name) == 0)
            return said;
    }
    return NULL;
}

bool sw_prices_is_said(const sw_prices *prices, size_t index) {
    const sw_price_row *row = sw_prices_waiting_row(prices, index);
    const sw_confirmed *said = row == NULL ? NULL : find_said(prices, row);
    return row == NULL || (said != NULL && said->just_said);
}

size_t sw_prices_choices(const sw_prices *prices, size_t index) {
    const sw_price_row *row = sw_prices_waiting_row(prices, index);
    return row == NULL ? 0 : row->proposal_count;
}

bool sw_prices_is_pack(const sw_prices *prices, size_t index) {
    const sw_price_row *row = sw_prices_waiting_row(prices, index);
    return row != NULL && row->pack != 1 && row->pieces == 0;
}

sw_status sw_prices_say(sw_prices *prices, size_t index, int choice, int pieces) {
    const sw_price_row *row = sw_prices_waiting_row(prices, index);
    if (row == NULL || choice > (int)row->proposal_count)
        return SW_OK;
    sw_confirmed *said = find_said(prices, row);
    if (said == NULL) {
        if (!SW_GROW(prices->confirmed, prices->confirmed_room, prices->confirmed_count))
            return SW_NO_MEMORY;
        said = &prices->confirmed[prices->confirmed_count++];
        *said = (sw_confirmed){.number = row->number, .maker = row->maker, .name = row->name};
    }
    said->is_new = false;
    said->role = SW_NONE;
    said->id = NULL;
    said->part = choice > 0 ? row->proposals[choice - 1].part : SW_NONE;
    /* The price of a piece nobody has seen before it is known of how many the price is. */
    said->price = choice > 0 && (row->pack == 1 || row->pieces > 0) ? row->stated : 0;
    said->pieces = choice > 0 ? pieces > 0 ? pieces : row->pieces : 0;
    said->just_said = true;
    return SW_OK;
}
