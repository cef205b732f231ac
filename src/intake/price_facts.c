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

/* All places of one pattern in one text. Facts before `settled` were found by patterns before. */
static void take_pattern(sw_pricing *in, const sw_pattern *pattern, const char *text,
                         sw_told_fact *facts, size_t settled, size_t *count, size_t most,
                         int *pack) {
    int64_t milli[SW_LIKE_SLOTS];
    for (size_t from = 0; sw_like_find(&pattern->like, text, &from, milli);) {
        if (pattern->pack >= 0 && *pack == 0)
            *pack = (int)(milli[pattern->pack] / 1000);
        for (size_t i = 0; i < pattern->fact_count; i++) {
            sw_value value;
            if (!value_of(in->catalog, &pattern->facts[i], milli, &value))
                continue;
            sw_told_fact *same = find_fact(facts, *count, pattern->facts[i].fact);
            if (same == NULL && *count < most)
                facts[(*count)++] = (sw_told_fact){pattern->facts[i].fact, value};
            else if (same != NULL && (size_t)(same - facts) >= settled &&
                     !same_value(&same->value, &value))
                same->value.state = SW_UNKNOWN; /* two values: none */
        }
    }
}

const sw_told_fact *sw_price_keep_facts(sw_pricing *in, const sw_told_fact *facts, size_t count) {
    sw_told_fact *kept = count == 0 ? NULL : SW_NEW(in->arena, sw_told_fact, count);
    in->no_memory |= count > 0 && kept == NULL;
    if (kept != NULL)
        memcpy(kept, facts, count * sizeof *kept);
    return kept;
}

size_t sw_price_facts(sw_pricing *in, const sw_price_row *row, int role, sw_told_fact *out,
                      size_t most, int *pack) {
    size_t count = 0, good = 0;
    int found = 0;
    for (size_t i = 0; i < in->catalog->pattern_count; i++) {
        const sw_pattern *pattern = &in->catalog->patterns[i];
        if (pattern->role != role)
            continue;
        size_t settled = count;
        take_pattern(in, pattern, row->name, out, settled, &count, most, &found);
        take_pattern(in, pattern, row->text, out, settled, &count, most, &found);
    }
    for (size_t i = 0; i < count; i++)
        if (out[i].value.state == SW_KNOWN)
            out[good++] = out[i];
    *pack = found < 1 ? 1 : found;
    return good;
}
