#include "answer/weightings.h"

#include <string.h>

typedef struct making {
    sw_weightings *out;
    const sw_scenario *scenario;
    size_t room;
} making;

static bool may_weigh(const sw_scenario *scenario, size_t criterion) {
    const sw_weight_doubt *doubt = &scenario->doubt;
    if (doubt->how != SW_DOUBT_SWINGS)
        return scenario->weights[criterion] > 0;
    return doubt->high[criterion] > 0;
}

/* Equal extremes stand once. */
static void add(making *in, const int64_t *parts) {
    sw_weightings *out = in->out;
    size_t size = out->criterion_count * sizeof *parts;
    for (size_t e = 0; e < out->extreme_count; e++)
        if (memcmp(out->extremes[e], parts, size) == 0)
            return;
    memcpy(out->extremes[out->extreme_count++], parts, size);
}

/* Bit k of `which`: the k-th criterion that is in doubt stands at its high. */
static void add_corner(making *in, size_t which, int64_t *parts) {
    const sw_weight_doubt *doubt = &in->scenario->doubt;
    size_t bit = 0;
    for (size_t c = 0; c < in->out->criterion_count; c++) {
        int criterion = in->out->criteria[c];
        bool doubtful = doubt->low[criterion] < doubt->high[criterion];
        bool high = doubtful && (which >> bit & 1) != 0;
        bit += doubtful;
        parts[c] = high ? doubt->high[criterion] : doubt->low[criterion];
    }
    add(in, parts);
}

static size_t place_of(const sw_weightings *out, int criterion) {
    size_t place = 0;
    while (out->criteria[place] != criterion)
        place++;
    return place;
}

static void add_ranked(making *in, int64_t *parts) {
    const sw_weight_doubt *doubt = &in->scenario->doubt;
    memset(parts, 0, in->out->criterion_count * sizeof *parts);
    for (size_t k = 0; k < doubt->ranked_count; k++) {
        parts[place_of(in->out, doubt->ranked[k])] = 1;
        add(in, parts);
    }
}

static void add_single(making *in, int64_t *parts) {
    for (size_t c = 0; c < in->out->criterion_count; c++) {
        memset(parts, 0, in->out->criterion_count * sizeof *parts);
        parts[c] = 1;
        add(in, parts);
    }
}

/* At most 7 criteria are in doubt: the check says so. */
static size_t most_extremes(const making *in) {
    const sw_weight_doubt *doubt = &in->scenario->doubt;
    size_t doubtful = 0;
    if (doubt->how != SW_DOUBT_SWINGS)
        return in->out->criterion_count + 1;
    for (size_t c = 0; c < in->out->criterion_count; c++)
        doubtful += doubt->low[in->out->criteria[c]] < doubt->high[in->out->criteria[c]];
    return (size_t)1 << doubtful;
}

sw_status sw_weightings_of(sw_weightings *out, sw_arena *arena, const sw_scenario *scenario) {
    size_t criteria = scenario->catalog->criterion_count;
    making in = {.out = out, .scenario = scenario};
    *out = (sw_weightings){.criteria = SW_NEW(arena, int, criteria)};
    if (out->criteria == NULL)
        return SW_NO_MEMORY;
    for (size_t c = 0; c < criteria; c++)
        if (may_weigh(scenario, c))
            out->criteria[out->criterion_count++] = (int)c;
    in.room = most_extremes(&in);
    out->extremes = SW_NEW(arena, int64_t *, in.room);
    int64_t *parts = SW_NEW(arena, int64_t, out->criterion_count);
    bool good = out->extremes != NULL && parts != NULL;
    for (size_t e = 0; e < in.room && good; e++)
        good = (out->extremes[e] = SW_NEW(arena, int64_t, out->criterion_count)) != NULL;
    if (!good)
        return SW_NO_MEMORY;
    if (scenario->doubt.how == SW_DOUBT_RANKS)
        add_ranked(&in, parts);
    else if (scenario->doubt.how == SW_DOUBT_ANY)
        add_single(&in, parts);
    else
        for (size_t corner = 0; corner < in.room; corner++)
            add_corner(&in, corner, parts);
    return SW_OK;
}

/* ---- as the engine takes them ---------------------------------------------------------------- */

static int64_t greatest_divisor(int64_t a, int64_t b) {
    while (b != 0) {
        int64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

/* By their greatest divisor; where the sum is still too large, rounded. */
static void reduce(int64_t *parts, size_t count) {
    int64_t divisor = 0, sum = 0;
    for (size_t c = 0; c < count; c++)
        divisor = greatest_divisor(divisor, parts[c]);
    for (size_t c = 0; c < count && divisor > 0; c++) {
        parts[c] /= divisor;
        sum += parts[c];
    }
    for (size_t c = 0; c < count && sum > SW_EXTREME_SUM_MOST; c++)
        parts[c] = sw_divide(parts[c] * 998, sum / 1000, SW_HALF_UP);
}

sw_status sw_spread_extremes(sw_extremes *out, sw_arena *arena, sw_weightings *from,
                             size_t criteria) {
    int64_t *weight = SW_NEW(arena, int64_t, from->extreme_count * criteria);
    if (weight == NULL)
        return SW_NO_MEMORY;
    for (size_t e = 0; e < from->extreme_count; e++) {
        reduce(from->extremes[e], from->criterion_count);
        for (size_t c = 0; c < from->criterion_count; c++)
            weight[e * criteria + (size_t)from->criteria[c]] = from->extremes[e][c];
    }
    *out = (sw_extremes){from->extreme_count, criteria, weight, false};
    return SW_OK;
}
