/* A supplier's list: the first line is the profile, the rest is the list. Every row has one fate;
 * the listings and the confirmed rows that come of it are read again. */
#include <stdlib.h>
#include <string.h>

#include "check/catalog.h"
#include "fuzz.h"
#include "intake/prices.h"

static void rows_are_told(const sw_prices *prices) {
    size_t told = 0;
    for (size_t i = 0; i < SW_ROW_FATES; i++)
        told += prices->fates[i];
#ifdef FUZZ_FAULT
    told -= prices->fates[SW_ROW_HEADER];
#endif
    fuzz_hold(told == prices->row_count, "%zu rows have %zu fates", prices->row_count, told);
    for (size_t i = 0; i < prices->row_count; i++) {
        const sw_price_row *row = &prices->rows[i];
        if (row->fate == SW_ROW_REFUSED)
            fuzz_hold(row->what != NULL && fuzz_is_readable(row->what) && row->why[0] != '\0' &&
                          row->mend[0] != '\0' && fuzz_is_readable(row->column),
                      "row %zu is refused without a word", row->row);
        if (row->fate == SW_ROW_LISTED)
            fuzz_hold(row->price > 0 && row->part >= 0 &&
                          (size_t)row->part < prices->catalog->part_count,
                      "row %zu is listed for %lld", row->row, (long long)row->price);
    }
}

static size_t listings_of(const sw_catalog *catalog, int seller) {
    size_t count = 0;
    for (size_t i = 0; i < catalog->listing_count; i++)
        count += catalog->listings[i].seller == seller;
    return count;
}

/* The listings as they are written make a catalog with these rows and no others. */
static void read_listings(const sw_prices *prices) {
    char *text = NULL, *folder = fuzz_path("catalog");
    sw_catalog *catalog = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_status status = sw_render_prices_listings(&text, prices);
    fuzz_hold((status == SW_OK) == (sw_prices_refused(prices) == 0), "listings: %d", status);
    if (status == SW_OK) {
        fuzz_write("catalog/listings.csv", text, strlen(text));
        status = sw_catalog_read(&catalog, folder, complaints);
        fuzz_hold(status == SW_OK, "its own listings are refused");
        fuzz_hold(listings_of(catalog, prices->profile->seller) == prices->fates[SW_ROW_LISTED],
                  "%zu listed, %zu read", prices->fates[SW_ROW_LISTED],
                  listings_of(catalog, prices->profile->seller));
        fuzz_restore("catalog/listings.csv");
    }
    sw_catalog_free(catalog);
    sw_complaints_free(complaints);
    free(folder);
    free(text);
}

static void confirm(sw_prices *prices, sw_price_list list) {
    char *text = NULL, *path = fuzz_path("said.json");
    sw_prices *again = NULL;
    sw_complaints *complaints = sw_complaints_new();
    size_t waiting = sw_prices_waiting(prices);
    for (size_t i = 0; i < waiting; i++) {
        size_t choices = sw_prices_choices(prices, i);
        int pieces = sw_prices_is_pack(prices, i) ? 2 : 0;
        int choice = choices > 0 && i % 2 == 0 ? 1 : 0;
        fuzz_hold(sw_prices_say(prices, i, choice, choice > 0 ? pieces : 0) == SW_OK, "say");
    }
    if (waiting > 0 && sw_render_prices_confirmed(&text, prices) == SW_OK) {
        fuzz_write("said.json", text, strlen(text));
        list.confirm = path;
        sw_status status = sw_prices_read(&again, &list, complaints);
        fuzz_complaints(status, complaints);
        fuzz_hold(status == SW_OK, "what was said is refused when it is read");
    }
    sw_prices_free(again);
    sw_complaints_free(complaints);
    free(path);
    free(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *text = fuzz_text(data, size), *rows = fuzz_rest(text);
    char *path = fuzz_path("list.csv"), *catalog = fuzz_path("catalog"), *json = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_prices *prices = NULL;
    sw_price_list list = {.path = path, .catalog = catalog, .called = "list", .profile = "list"};
    if (rows != NULL) {
        fuzz_write("catalog/profiles/list.json", text, strlen(text));
        fuzz_write("list.csv", rows, size - (size_t)(rows - text));
        sw_status status = sw_prices_read(&prices, &list, complaints);
        fuzz_complaints(status, complaints);
    }
    if (prices != NULL) {
        rows_are_told(prices);
        fuzz_hold(sw_render_prices_json(&json, prices) == SW_OK, "no JSON");
        read_listings(prices);
        confirm(prices, list);
    }
    free(json);
    sw_prices_free(prices);
    sw_complaints_free(complaints);
    free(path);
    free(catalog);
    free(text);
    return 0;
}
