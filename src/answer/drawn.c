/* Halton's sequence in whole numbers: no share of it hangs on rounding. */
#include "answer/drawn.h"

#include <stdlib.h>
#include <string.h>

#define UNIT (INT64_C(1) << 20)

static const int primes[] = {2,  3,  5,  7,  11, 13, 17, 19, 23, 29,  31,  37,  41,  43,  47,  53,
                             59, 61, 67, 71, 73, 79, 83, 89, 97, 101, 103, 107, 109, 113, 127, 131};
#define DIMENSIONS (sizeof primes / sizeof *primes)

/* floor(size x h), h the digits of `index` to the base turned round behind the point. Both parts of
 * the fraction stay below 4096 x 131, and sizes below 2^40. */
static int64_t part_of(int64_t size, int index, int base) {
    int64_t turned = 0, whole = 1;
    for (; index > 0; index /= base) {
        turned = turned * base + index % base;
        whole *= base;
    }
    return size * turned / whole;
}

static void draw_swings(int64_t *out, const sw_scenario *scenario, const sw_weightings *of,
                        int index) {
    const sw_weight_doubt *doubt = &scenario->doubt;
    size_t dimension = 0;
    for (size_t c = 0; c < of->criterion_count; c++) {
        int64_t low = doubt->low[of->criteria[c]], high = doubt->high[of->criteria[c]];
        out[c] = low;
        if (low < high)
            out[c] += part_of(high - low, index, primes[dimension++]);
    }
}

static int by_size(const void *left, const void *right) {
    int64_t a = *(const int64_t *)left, b = *(const int64_t *)right;
    return a < b ? -1 : a > b;
}

/* The unit cut into as many parts as there are criteria. */
static void draw_parts(int64_t *out, size_t count, int index) {
    for (size_t c = 0; c + 1 < count; c++)
        out[c] = part_of(UNIT, index, primes[c % DIMENSIONS]);
    qsort(out, count - 1, sizeof *out, by_size);
    int64_t before = 0;
    for (size_t c = 0; c + 1 < count; c++) {
        int64_t cut = out[c];
        out[c] = cut - before;
        before = cut;
    }
    out[count - 1] = UNIT - before;
}

/* The largest part to the first rank. */
static void give_by_rank(int64_t *out, int64_t *parts, const sw_scenario *scenario,
                         const sw_weightings *of) {
    const sw_weight_doubt *doubt = &scenario->doubt;
    size_t count = of->criterion_count;
    memcpy(parts, out, count * sizeof *parts);
    qsort(parts, count, sizeof *parts, by_size);
    for (size_t k = 0; k < doubt->ranked_count && k < count; k++)
        for (size_t c = 0; c < count; c++)
            if (of->criteria[c] == doubt->ranked[k])
                out[c] = parts[count - 1 - k];
}

int64_t *sw_draw_weightings(sw_arena *arena, const sw_scenario *scenario,
                            const sw_weightings *weightings) {
    size_t count = weightings->criterion_count;
    int64_t *all = SW_NEW(arena, int64_t, SW_DRAWN_COUNT * count);
    int64_t *parts = SW_NEW(arena, int64_t, count);
    if (all == NULL || parts == NULL)
        return NULL;
    for (int k = 0; k < SW_DRAWN_COUNT && count > 0; k++) {
        int64_t *out = all + (size_t)k * count;
        if (scenario->doubt.how == SW_DOUBT_SWINGS) {
            draw_swings(out, scenario, weightings, k + 1);
            continue;
        }
        draw_parts(out, count, k + 1);
        if (scenario->doubt.how == SW_DOUBT_RANKS)
            give_by_rank(out, parts, scenario, weightings);
    }
    return all;
}
