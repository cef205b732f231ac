/* What a seller told for this job alone: over the catalog's listings, in the order
 * written. Before anything is left out of them for the client's wishes. */
#include "world.h"

#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static void put_told(World *w, Listing *l, const cJSON *quote) {
    if (get(quote, "price"))
        l->price = money_of(w, text_of(quote, "price", "0"));
    if (get(quote, "stock"))
        l->stock = number_of(quote, "stock", 0);
    if (get(quote, "days"))
        l->days = number_of(quote, "days", 0) + w->seller[l->seller].days;
}

/* The client sells nothing: what is given is no listing yet. */
static int find_seller(const World *w, const char *id) {
    for (int i = 0; i < w->sellers - 1; i++)
        if (!strcmp(w->seller[i].id, id))
            return i;
    stop(2, "a quote of %s, who is no seller", id);
}

static void take_in(World *w, int part, int seller, const cJSON *quote) {
    Listing fresh = {.part = part, .seller = seller, .days = w->seller[seller].days};
    need(quote, "price");
    need(quote, "stock");
    put_told(w, &fresh, quote);
    w->listing = grow(w, w->listing, w->listings, &w->listing_room, sizeof *w->listing);
    w->listing[w->listings++] = fresh;
}

static void apply_quote(World *w, const cJSON *quote) {
    const char *id = text_of(quote, "part", ""), *from = text_of(quote, "seller", NULL);
    int part = find_part(w, id), seller = from ? find_seller(w, from) : -1, told = 0;
    if (part < 0)
        stop(2, "a quote for %s, which the catalog does not have", id);
    for (int i = 0; i < w->listings; i++) {
        Listing *l = &w->listing[i];
        if (l->part != part || (from && l->seller != seller))
            continue;
        put_told(w, l, quote);
        told++;
    }
    if (!told && from)
        take_in(w, part, seller, quote);
}

void apply_quotes(World *w, const cJSON *quotes) {
    const cJSON *quote;
    cJSON_ArrayForEach(quote, quotes) apply_quote(w, quote);
}
