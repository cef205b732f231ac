/* Facts that stand in the text of a row. */
#include <string.h>

#include "intake/price_stage.h"

static bool same_value(const sw_value *a, const sw_value *b) {
    if (a->token_count != b->token_count || a->milli != b->milli)
        return false;
    for (size_t i = 0; i < a->token_count; i++)
        if (strcmp(a->tokens[i], b->tokens[i]) != 0)
            return false;
    return true;
}

bool sw_price_contradicts(const sw_part *part, const sw_told_fact *fact) {
    const sw_value *known = &part->values[fact->fact];
    return known->state == SW_KNOWN && !same_value(known, &fact->value);
}

/* The fact's value where the pattern was found; false when it is none that the fact may have. */
static bool value_of(const sw_catalog *catalog, const sw_pattern_fact *fact, const int64_t *milli,
                     sw_value *out) {
    const sw_fact *is = &catalog->facts[fact->fact];
    if (fact->slot < 0) {
        *out = fact->value;
        return true;
    }
    int64_t product = 0;
    if (!sw_multiply(&product, milli[fact->slot], fact->times_milli) || product % 1000 != 0)
        return false;
    *out = (sw_value){.state = SW_KNOWN, .milli = product / 1000};
    return out->milli >= is->least_milli && out->milli <= is->most_milli;
}

static sw_told_fact *find_fact(sw_told_fact *facts, size_t count, int fact) {
    for (size_t i = 0; i < count; i++)
        if (facts[i].fact == fact)
            return &facts[i];
    return NULL;
}

/* One count of pieces, none (1), or two that differ (0). */
static void take_pack(int *pack, int64_t count) {
    if (count == 1 || (*pack != 1 && *pack == count))
        return;
    *pack = *pack == 1 && count <= 1000000 ? (int)count : 0;
}

/* All places of one pattern in one text. Facts before `settled` were found by patterns before. */
static void take_pattern(sw_pricing *in, const sw_pattern *pattern, const char *text, bool remarks,
                         size_t settled, sw_price_reading *out) {
    int64_t milli[SW_LIKE_SLOTS];
    for (size_t from = 0; sw_like_find(&pattern->like, text, &from, milli);) {
        if (pattern->pack >= 0)
            take_pack(&out->pack, milli[pattern->pack] / 1000);
        for (size_t i = 0; i < pattern->fact_count; i++) {
            sw_value value;
            if (!value_of(in->catalog, &pattern->facts[i], milli, &value))
                continue;
            sw_told_fact *same = find_fact(out->facts, out->count, pattern->facts[i].fact);
            if (same == NULL && out->count < SW_FACTS_MOST) {
                out->facts[out->count++] = (sw_told_fact){
                    .fact = pattern->facts[i].fact, .value = value, .in_remarks = remarks};
            } else if (same != NULL && (size_t)(same - out->facts) >= settled && !same->clash &&
                       !same_value(&same->value, &value)) {
                same->clash = true; /* two values: none */
                same->other = value;
                same->other_remarks = remarks;
            }
        }
    }
}

/* Words of a pack, which hold for every role. */
static void take_packs(const sw_catalog *catalog, const char *text, int *pack) {
    int64_t milli[SW_LIKE_SLOTS];
    for (size_t i = 0; text[0] != '\0' && i < catalog->pack_count; i++) {
        const sw_pack_word *word = &catalog->packs[i];
        for (size_t from = 0; sw_like_find(&word->like, text, &from, milli);)
            take_pack(pack, word->slot >= 0 ? milli[word->slot] / 1000 : word->is);
    }
}

const sw_told_fact *sw_price_keep_facts(sw_pricing *in, const sw_told_fact *facts, size_t count) {
    sw_told_fact *kept = count == 0 ? NULL : SW_NEW(in->arena, sw_told_fact, count);
    in->no_memory |= count > 0 && kept == NULL;
    if (kept != NULL)
        memcpy(kept, facts, count * sizeof *kept);
    return kept;
}

/* Facts that clash go behind the others. */
static void part_clashes(sw_price_reading *out) {
    sw_told_fact clashes[SW_FACTS_MOST];
    size_t good = 0, bad = 0;
    for (size_t i = 0; i < out->count; i++)
        if (out->facts[i].clash)
            clashes[bad++] = out->facts[i];
        else
            out->facts[good++] = out->facts[i];
    if (bad > 0)
        memcpy(out->facts + good, clashes, bad * sizeof *clashes);
    out->count = good;
    out->clash_count = bad;
}

void sw_price_facts(sw_pricing *in, const sw_price_row *row, int role, sw_price_reading *out) {
    out->count = 0;
    out->pack = 1;
    for (size_t i = 0; i < in->catalog->pattern_count; i++) {
        const sw_pattern *pattern = &in->catalog->patterns[i];
        if (pattern->role != role)
            continue;
        size_t settled = out->count;
        take_pattern(in, pattern, row->name, false, settled, out);
        take_pattern(in, pattern, row->text, true, settled, out);
    }
    take_packs(in->catalog, row->name, &out->pack);
    take_packs(in->catalog, row->text, &out->pack);
    part_clashes(out);
}
