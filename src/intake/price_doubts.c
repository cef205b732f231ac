/* Rows whose part is known, and which wait for a person all the same: the name of another part, a
 * pack, a price far from what the part costs until now. */
#include <string.h>

#include "intake/price_stage.h"

/* ---- what rows are held against ------------------------------------------------------------- */

/* Maker, where there is one, and name as one key in the scratch text. */
static const char *name_key(sw_pricing *in, const char *maker, const char *name) {
    in->key.length = 0;
    sw_text_add(&in->key, "");
    sw_number_key(&in->key, maker);
    sw_number_key(&in->key, name);
    in->no_memory |= in->key.failed;
    return in->key.failed ? "" : in->key.bytes;
}

/* By the name, and by maker and name. */
static void index_names(sw_pricing *in) {
    const sw_catalog *catalog = in->catalog;
    in->named = SW_NEW(in->scratch, sw_numbered, catalog->part_count * 2);
    in->no_memory |= in->named == NULL;
    for (size_t i = 0; i < catalog->part_count * 2 && !in->no_memory; i++) {
        const sw_part *part = &catalog->parts[i / 2];
        const char *kept =
            sw_arena_copy(in->scratch, name_key(in, i % 2 == 0 ? "" : part->maker, part->name));
        in->no_memory |= kept == NULL;
        in->named[in->named_count++] = (sw_numbered){kept == NULL ? "" : kept, (int)(i / 2)};
    }
    if (!in->no_memory)
        sw_numbered_sort(in->named, in->named_count);
}

static void take_usual(sw_usual_price *usual, const sw_listing *listing, bool other) {
    if (usual->high > 0 && usual->others != other) {
        if (other)
            return;
        *usual = (sw_usual_price){0};
    }
    usual->others = other;
    usual->low = usual->low == 0 || listing->price < usual->low ? listing->price : usual->low;
    usual->high = listing->price > usual->high ? listing->price : usual->high;
}

void sw_price_doubts_index(sw_pricing *in) {
    const sw_catalog *catalog = in->catalog;
    in->usual = SW_NEW(in->scratch, sw_usual_price, catalog->part_count);
    in->no_memory |= in->usual == NULL;
    for (size_t i = 0; i < catalog->listing_count && !in->no_memory; i++) {
        const sw_listing *listing = &catalog->listings[i];
        take_usual(&in->usual[listing->part], listing, listing->seller != in->profile->seller);
    }
    if (!in->no_memory)
        index_names(in);
}

/* ---- the doubts ------------------------------------------------------------------------------ */

/* Amounts are up to 10^9 and steps up to 10^6 thousandths. */
static bool is_far(const sw_pricing *in, const sw_usual_price *usual, int64_t price) {
    int64_t step = in->profile->step_milli;
    return usual->high > 0 &&
           (price * 1000 > usual->high * step || price * step < usual->low * 1000);
}

void sw_price_weigh(const sw_pricing *in, sw_price_row *row, sw_proposal_of *proposal) {
    proposal->usual = in->usual[proposal->part];
    proposal->far = (row->pack == 1 || row->pieces > 0) && is_far(in, &proposal->usual, row->price);
}

/* Does the row's name, with that in front, name its part? Else *other is one that it names. */
static bool names_own(sw_pricing *in, const sw_price_row *row, const char *maker, int *other) {
    const char *key = name_key(in, maker, row->name);
    for (size_t i = sw_numbered_find(in->named, in->named_count, key);
         i < in->named_count && strcmp(in->named[i].key, key) == 0; i++) {
        if (in->named[i].part == row->part)
            return true;
        *other = *other == SW_NONE ? in->named[i].part : *other;
    }
    return false;
}

/* The part whose name the row's is, when that is not the row's own; SW_NONE. */
static int other_by_name(sw_pricing *in, const sw_price_row *row) {
    int other = SW_NONE;
    bool own = names_own(in, row, "", &other) || names_own(in, row, row->maker, &other);
    return own ? SW_NONE : other;
}

/* Does the part's own name say that it is such a pack? */
static bool is_sold_so(sw_pricing *in, const sw_part *part, int pack) {
    sw_price_row own = {.name = part->name, .text = ""};
    sw_price_reading read;
    sw_price_facts(in, &own, part->role, &read);
    return read.pack == pack;
}

static void tell_doubts(sw_pricing *in, const sw_price_reading *read, sw_price_row *row) {
    sw_told_fact bad[SW_FACTS_MOST];
    size_t count = 0;
    for (size_t i = 0; i < read->count; i++)
        if (sw_price_contradicts(&in->catalog->parts[row->part], &read->facts[i]))
            bad[count++] = read->facts[i];
    row->doubts = sw_price_keep_facts(in, bad, count);
    row->doubt_count = row->doubts == NULL ? 0 : count;
    row->clashes = sw_price_keep_facts(in, read->facts + read->count, read->clash_count);
    row->clash_count = row->clashes == NULL ? 0 : read->clash_count;
}

/* The price of one piece of a pack, never less than its share. */
static void divide(sw_price_row *row, int pieces) {
    int64_t stock = (int64_t)row->whole[0] * pieces;
    row->pieces = pieces;
    row->price = (row->stated + pieces - 1) / pieces;
    row->whole[0] = stock > 1000000 ? 1000000 : (int)stock;
}

static void let_wait(sw_pricing *in, sw_price_row *row, int other) {
    row->fate = SW_ROW_WAITING;
    row->held = row->part;
    row->part = SW_NONE;
    row->proposals[row->proposal_count++] = (sw_proposal_of){.part = row->held, .score = 100};
    if (other != SW_NONE)
        row->proposals[row->proposal_count++] = (sw_proposal_of){.part = other, .score = 100};
    for (size_t i = 0; i < row->proposal_count; i++)
        sw_price_weigh(in, row, &row->proposals[i]);
}

void sw_price_settle(sw_pricing *in, sw_price_row *row, const sw_confirmed *said) {
    sw_price_reading read;
    const sw_part *part = &in->catalog->parts[row->part];
    int other = said == NULL ? other_by_name(in, row) : SW_NONE;
    sw_price_facts(in, row, part->role, &read);
    row->pack = read.pack;
    tell_doubts(in, &read, row);
    if (said != NULL && said->pieces > 0)
        divide(row, said->pieces);
    else if (row->pack != 1 && !is_sold_so(in, part, row->pack))
        row->waits |= SW_WAITS_PACK;
    if (other != SW_NONE)
        row->waits |= SW_WAITS_NAME;
    if ((row->waits & SW_WAITS_PACK) == 0 && is_far(in, &in->usual[row->part], row->price) &&
        (said == NULL || said->price != row->stated))
        row->waits |= SW_WAITS_PRICE;
    row->other_price = said != NULL && (row->waits & SW_WAITS_PRICE) != 0 ? said->price : 0;
    if (row->waits != 0)
        let_wait(in, row, other);
    else
        row->fate = SW_ROW_LISTED;
}
