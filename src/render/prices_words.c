/* Names of what may become of a row and of what may change, and values of facts. */
#include "render/prices.h"

#include <string.h>

const char *const sw_fate_names[SW_ROW_FATES] = {
    "lead",     "header", "blank",   "skipped",   "refused", "no-price", "gone",
    "not-ours", "new",    "waiting", "unmatched", "twice",   "listed"};

const char *const sw_fate_words[SW_ROW_FATES] = {"above the list",
                                                 "header",
                                                 "blank",
                                                 "passed over, as the profile says",
                                                 "refused",
                                                 "without a price",
                                                 "no longer sold",
                                                 "none of ours, as confirmed",
                                                 "new parts, as confirmed",
                                                 "wait for a person",
                                                 "like no part of the catalog",
                                                 "a second row of a part",
                                                 "listed"};

const char *const sw_change_names[SW_CHANGE_KINDS] = {"new",     "gone",  "on-hold", "dearer",
                                                      "cheaper", "stock", "terms"};

bool sw_change_is(const sw_price_change *change, sw_change_kind kind) {
    const sw_listing *before = change->before;
    const sw_price_row *after = change->after;
    if (before == NULL)
        return kind == SW_CHANGE_NEW;
    if (after == NULL && change->held != NULL)
        return kind == SW_CHANGE_HELD && before->stock > 0;
    if (after == NULL)
        return kind == SW_CHANGE_GONE;
    switch (kind) {
    case SW_CHANGE_DEARER:
        return after->price > before->price;
    case SW_CHANGE_CHEAPER:
        return after->price < before->price;
    case SW_CHANGE_STOCK:
        return after->whole[0] != before->stock;
    case SW_CHANGE_TERMS:
        return after->whole[1] != before->days || after->whole[2] != before->warranty_months ||
               after->whole[3] != before->return_days;
    default:
        return false;
    }
}

const char *sw_told_value(sw_arena *arena, const sw_catalog *catalog, int fact,
                          const sw_value *value) {
    if (catalog->facts[fact].type == SW_TOKEN)
        return value->token_count > 0 ? value->tokens[0] : "";
    if (catalog->facts[fact].type == SW_FLAG)
        return value->milli != 0 ? "true" : "false";
    return sw_millionths_text(arena, value->milli * 1000);
}
