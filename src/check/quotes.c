/* What sellers told for this job, and the listings that come of it. */
#include "check/stage.h"

#include <stdlib.h>
#include <string.h>

static bool is_about(const sw_quote *quote, const sw_listing *listing) {
    return listing->part == quote->part &&
           (quote->seller == SW_NONE || listing->seller == quote->seller);
}

static void put_over(sw_listing *listing, const sw_quote *quote) {
    if (quote->has_price)
        listing->price = listing->counted = quote->price;
    if (quote->has_stock)
        listing->stock = quote->stock;
    if (quote->has_days)
        listing->days = quote->days;
}

static int by_part_and_seller(const void *left, const void *right) {
    const sw_listing *a = left, *b = right;
    if (a->part != b->part)
        return a->part < b->part ? -1 : 1;
    return (a->seller > b->seller) - (a->seller < b->seller);
}

sw_listing *sw_quoted_listings(size_t *count, sw_arena *arena, const sw_catalog *catalog,
                               sw_quotes quotes) {
    size_t had = catalog->listing_count;
    sw_listing *all = SW_NEW(arena, sw_listing, had + quotes.count);
    if (all == NULL)
        return NULL;
    if (had > 0)
        memcpy(all, catalog->listings, had * sizeof *all);
    *count = had;
    for (size_t q = 0; q < quotes.count; q++) {
        const sw_quote *quote = &quotes.list[q];
        bool any = false;
        for (size_t i = 0; i < *count; i++)
            if (is_about(quote, &all[i])) {
                put_over(&all[i], quote);
                any = true;
            }
        if (any || quote->seller == SW_NONE)
            continue;
        all[*count] = (sw_listing){.part = quote->part, .seller = quote->seller};
        put_over(&all[(*count)++], quote);
    }
    if (*count > 0)
        qsort(all, *count, sizeof *all, by_part_and_seller);
    return all;
}

/* Does somebody list what the quote is about, in the catalog or by a quote before? */
static bool is_listed(const sw_catalog *catalog, sw_quotes before, const sw_quote *quote) {
    for (size_t i = 0; i < catalog->listing_count; i++)
        if (is_about(quote, &catalog->listings[i]))
            return true;
    for (size_t i = 0; i < before.count; i++)
        if (before.list[i].part == quote->part && before.list[i].seller != SW_NONE &&
            (quote->seller == SW_NONE || before.list[i].seller == quote->seller))
            return true;
    return false;
}

static void check_listed(sw_job *job, const sw_node *at, sw_quotes before, const sw_quote *quote) {
    sw_check *check = job->check;
    if (!check->parts.whole || !check->sellers.whole || is_listed(check->catalog, before, quote))
        return;
    if (quote->seller == SW_NONE)
        sw_wrong(check, at, "without a seller it changes the listings that there are",
                 "name the seller, with price and stock", "is about a part that nobody lists");
    else if (!quote->has_price || !quote->has_stock)
        sw_wrong(check, at, "of a part that the seller does not list both are needed",
                 "give \"price\" and \"stock\"", "has no price or no stock");
}

static bool read_quote(sw_job *job, const sw_node *at, sw_quotes before, sw_quote *out) {
    sw_check *check = job->check;
    *out = (sw_quote){.part = SW_NONE, .seller = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "part", "seller", "price", "stock", "days"))
        return false;
    bool good = sw_get_index(check, at, "part", SW_REQUIRED, &check->parts, "part",
                             "the catalog's parts", &out->part);
    if (sw_member(at, "seller").json != NULL)
        good = sw_get_index(check, at, "seller", SW_OPTIONAL, &check->sellers, "seller",
                            "sellers.json", &out->seller) &&
               good;
    out->has_price = sw_get_money(check, at, "price", SW_OPTIONAL, &out->price);
    out->has_stock = sw_get_count(check, at, "stock", SW_OPTIONAL, 0, SW_DAYS_LIMIT, &out->stock);
    out->has_days = sw_get_count(check, at, "days", SW_OPTIONAL, 0, SW_DAYS_LIMIT, &out->days);
    if (good && !check->bad && !out->has_price && !out->has_stock && !out->has_days)
        sw_wrong(check, at, "it says what is not as the catalog has it",
                 "give \"price\", \"stock\" or \"days\"", "says nothing");
    else if (good && !check->bad)
        check_listed(job, at, before, out);
    return good;
}

void sw_read_quotes(sw_job *job, const sw_node *object, sw_quotes before, sw_quotes *out) {
    sw_check *check = job->check;
    sw_node list;
    *out = before;
    if (!sw_get_list(check, object, "quotes", SW_OPTIONAL, 0, SW_LIST_LIMIT, &list))
        return;
    sw_quote *quotes = SW_KEEP(check, sw_quote, before.count + list.json->count);
    if (quotes == NULL)
        return;
    if (before.count > 0)
        memcpy(quotes, before.list, before.count * sizeof *quotes);
    out->list = quotes;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        if (read_quote(job, &at, *out, &quotes[out->count]))
            out->count++;
    }
}
