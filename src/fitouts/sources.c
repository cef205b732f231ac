/* Where each part can be had in this job: listings and given parts, less what
 * comes too late, is out of stock or is to be avoided. */
#include "fitouts/stage.h"

#include <stdlib.h>

bool sw_left_out_add(sw_fitouts *fitouts, int part, sw_left_out_why why, int fact) {
    for (size_t i = 0; i < fitouts->left_out_count; i++) {
        const sw_left_out *old = &fitouts->left_out[i];
        if (old->part == part && old->why == why && old->fact == fact)
            return true;
    }
    if (!SW_GROW(fitouts->left_out, fitouts->left_out_room, fitouts->left_out_count))
        return false;
    fitouts->left_out[fitouts->left_out_count++] = (sw_left_out){part, why, fact};
    return true;
}

static int by_part_and_price(const void *left, const void *right) {
    const sw_source *a = left, *b = right;
    if (a->part != b->part)
        return a->part < b->part ? -1 : 1;
    if (a->price != b->price)
        return a->price < b->price ? -1 : 1;
    return (a->seller > b->seller) - (a->seller < b->seller);
}

/* Why this source is of no use here; true when it is of use. */
static bool usable(const sw_scenario *scenario, const sw_source *source, sw_left_out_why *why) {
    *why = scenario->avoid_part[source->part] ? SW_OUT_AVOIDED
           : source->stock < 1                ? SW_OUT_NO_STOCK
                                              : SW_OUT_TOO_LATE;
    return !scenario->avoid_part[source->part] && source->stock >= 1 &&
           (scenario->days_limit < 0 || source->days <= scenario->days_limit);
}

static bool has_source(const sw_fitouts *fitouts, int part) {
    for (size_t i = 0; i < fitouts->source_count; i++)
        if (fitouts->sources[i].part == part)
            return true;
    return false;
}

sw_status sw_sources_make(sw_fitouts *fitouts) {
    const sw_scenario *scenario = fitouts->scenario;
    const sw_catalog *catalog = fitouts->catalog;
    size_t most = catalog->listing_count + scenario->given_count;
    sw_source *all = SW_NEW(fitouts->arena, sw_source, most);
    if (all == NULL)
        return SW_NO_MEMORY;
    size_t count = 0;
    for (size_t i = 0; i < catalog->listing_count; i++) {
        const sw_listing *listing = &catalog->listings[i];
        int days = listing->days + catalog->sellers[listing->seller].delivery_days;
        all[count++] = (sw_source){listing->part,  listing->seller,  (int)i,         SW_NONE,
                                   listing->price, listing->counted, listing->stock, days};
    }
    for (size_t i = 0; i < scenario->given_count; i++) {
        const sw_given *given = &scenario->given[i];
        all[count++] =
            (sw_source){given->part, SW_CLIENT, SW_NONE, (int)i, 0, 0, given->count, given->days};
    }
    fitouts->sources = SW_NEW(fitouts->arena, sw_source, most);
    if (fitouts->sources == NULL)
        return SW_NO_MEMORY;
    sw_left_out_why why;
    for (size_t i = 0; i < count; i++)
        if (usable(scenario, &all[i], &why))
            fitouts->sources[fitouts->source_count++] = all[i];
    qsort(fitouts->sources, fitouts->source_count, sizeof *fitouts->sources, by_part_and_price);
    for (size_t i = 0; i < count; i++)
        if (!usable(scenario, &all[i], &why) && !has_source(fitouts, all[i].part) &&
            !sw_left_out_add(fitouts, all[i].part, why, SW_NONE))
            return SW_NO_MEMORY;
    return SW_OK;
}
