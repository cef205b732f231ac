/* Which weightings may be right (FORMATS section 33): their extremes, and 4,096 of them drawn. */
#include "sure.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static int criterion_of(const World *w, const char *id) {
    for (int c = 0; c < w->criteria; c++)
        if (!strcmp(w->criterion[c].id, id))
            return c;
    stop(2, "no criterion %s", id);
}

static void read_own(const World *w, Weights *out, const cJSON *wishes) {
    const cJSON *item;
    if (get(wishes, "ranks")) {
        for (int c = 0; c < w->criteria; c++)
            out->own[c] = llround(2520.0 * w->criterion[c].weight);
        return;
    }
    cJSON_ArrayForEach(item, get(wishes, "swings")) if (cJSON_IsNumber(item))
        out->own[criterion_of(w, item->string)] = milli_of(item);
}

static void read_ranges(const World *w, Weights *out, const cJSON *doubt) {
    const cJSON *ranges = get(doubt, "swings"), *item;
    int weighing = 0;
    for (int c = 0; c < w->criteria; c++)
        weighing += out->own[c] > 0;
    long long factor = get(doubt, "factor") ? milli_of(get(doubt, "factor"))
                       : ranges             ? 1000
                       : weighing > 7       ? 1000
                                            : 1500;
    for (int c = 0; c < w->criteria; c++) {
        bool fixed = c == out->measure;
        out->low[c] = fixed ? out->own[c] : out->own[c] * 1000 / factor;
        out->high[c] = fixed ? out->own[c] : (out->own[c] * factor + 999) / 1000;
    }
    cJSON_ArrayForEach(item, ranges) {
        if (!cJSON_IsArray(item))
            continue;
        int c = criterion_of(w, item->string);
        out->low[c] = milli_of(cJSON_GetArrayItem(item, 0));
        out->high[c] = milli_of(cJSON_GetArrayItem(item, 1));
    }
}

Weights read_weights(World *w) {
    const cJSON *wishes = get(w->job, "wishes"), *doubt = get(wishes, "doubt");
    const cJSON *ranks = get(wishes, "ranks"), *item;
    size_t n = (size_t)w->criteria;
    Weights out = {.criteria = w->criteria,
                   .low = hold(w, n * sizeof(long long)),
                   .high = hold(w, n * sizeof(long long)),
                   .own = hold(w, n * sizeof(long long)),
                   .listed = hold(w, n * sizeof(int)),
                   .weighs = hold(w, n * sizeof(bool))};
    read_own(w, &out, wishes);
    out.how = get(doubt, "any") ? BY_NOTHING : ranks ? BY_RANKS : BY_SWINGS;
    for (int c = 0; c < w->criteria; c++)
        if (out.own[c] > out.own[out.measure])
            out.measure = c;
    if (out.how == BY_SWINGS)
        read_ranges(w, &out, doubt);
    if (out.how == BY_RANKS)
        cJSON_ArrayForEach(item, ranks) out.listed[out.count++] =
            criterion_of(w, item->valuestring);
    else
        for (int c = 0; c < w->criteria; c++)
            if (out.how == BY_SWINGS ? out.high[c] > 0 : w->criterion[c].weight > 0)
                out.listed[out.count++] = c;
    for (int i = 0; i < out.count; i++)
        out.weighs[out.listed[i]] = true;
    return out;
}

Weights widened(World *w, const Weights *of, int percent) {
    Weights out = *of;
    size_t bytes = (size_t)w->criteria * sizeof *out.low;
    if (of->how != BY_SWINGS)
        return out;
    out.low = hold(w, bytes);
    out.high = hold(w, bytes);
    memcpy(out.low, of->low, bytes);
    memcpy(out.high, of->high, bytes);
    for (int c = 0; c < w->criteria; c++) {
        if (c == of->measure)
            continue;
        long long up = out.high[c] * (100 + percent), by = 100 - percent;
        out.low[c] = out.low[c] * (100 - percent) / (100 + percent);
        out.high[c] = up / by + (up % by > 0);
    }
    return out;
}

/* ---- extremes ------------------------------------------------------------------------------ */

static void add_extreme(Doubt *d, const long long *weight) {
    size_t size = (size_t)d->criteria * sizeof *weight;
    for (int e = 0; e < d->extremes; e++)
        if (!memcmp(d->weight + e * d->criteria, weight, size))
            return;
    if (d->extremes == EXTREMES_MOST)
        stop(2, "too many extremes");
    memcpy(d->weight + d->extremes++ * d->criteria, weight, size);
}

static void make_smaller(long long *weight, int criteria) {
    long long divisor = 0, sum = 0;
    for (int c = 0; c < criteria; c++)
        for (long long a = weight[c], rest; a; a = rest) {
            rest = divisor % a;
            divisor = a;
        }
    for (int c = 0; c < criteria; c++)
        sum += weight[c] /= divisor;
    for (int c = 0; c < criteria && sum > 1000000; c++)
        weight[c] = (2 * 998 * weight[c] + sum / 1000) / (2 * (sum / 1000));
}

static void add_corners(Doubt *d, const Weights *of, long long *weight) {
    int doubtful = 0;
    for (int c = 0; c < d->criteria; c++)
        doubtful += of->low[c] < of->high[c];
    for (int corner = 0; corner < 1 << doubtful; corner++) {
        for (int c = 0, bit = 0; c < d->criteria; c++) {
            weight[c] = of->low[c];
            if (of->low[c] < of->high[c] && corner >> bit++ & 1)
                weight[c] = of->high[c];
        }
        add_extreme(d, weight);
    }
}

void extremes_of(Doubt *d, Weights *of) {
    World *w = d->h->w;
    size_t size = (size_t)d->criteria * sizeof(long long);
    long long *weight = hold(w, size);
    d->weight = hold(w, EXTREMES_MOST * size);
    d->extremes = 0;
    if (of->how == BY_SWINGS)
        add_corners(d, of, weight);
    for (int i = 0; i < of->count && of->how != BY_SWINGS; i++) {
        if (of->how == BY_NOTHING)
            memset(weight, 0, size);
        weight[of->listed[i]] = 1;
        add_extreme(d, weight);
    }
    of->corner = hold(w, EXTREMES_MOST * size);
    memcpy(of->corner, d->weight, EXTREMES_MOST * size);
    for (int e = 0; e < d->extremes; e++)
        make_smaller(d->weight + e * d->criteria, d->criteria);
}

/* ---- drawn --------------------------------------------------------------------------------- */

static int prime(int which) {
    for (int n = 2;; n++) {
        bool whole = true;
        for (int k = 2; k * k <= n; k++)
            whole = whole && n % k;
        if (whole && which-- == 0)
            return n;
    }
}

/* floor(size x h_p(k)): digit by digit, h = d0/p + d1/p^2 + .. */
static long long halton(long long size, int k, int p) {
    __int128 top = 0, under = 1;
    for (; k; k /= p) {
        top = top * p + k % p;
        under *= p;
    }
    return (long long)(size * top / under);
}

static int rising(const void *a, const void *b) {
    long long x = *(const long long *)a, y = *(const long long *)b;
    return x < y ? -1 : x > y;
}

static void draw_cuts(const Weights *of, int k, long long *parts, long long *out) {
    int n = of->count;
    for (int j = 0; j + 1 < n; j++)
        parts[j] = halton(1 << 20, k, prime(j));
    qsort(parts, (size_t)(n - 1), sizeof *parts, rising);
    parts[n - 1] = 1 << 20;
    for (int j = n - 1; j > 0; j--)
        parts[j] -= parts[j - 1];
    if (of->how == BY_RANKS)
        qsort(parts, (size_t)n, sizeof *parts, rising);
    for (int j = 0; j < n; j++)
        out[of->listed[j]] = of->how == BY_RANKS ? parts[n - 1 - j] : parts[j];
}

long long *draw_weightings(World *w, const Weights *of) {
    size_t n = (size_t)of->criteria;
    long long *all = hold(w, DRAWN * n * sizeof *all);
    long long *parts = hold(w, (n + 1) * sizeof *parts);
    for (int k = 1; k <= DRAWN; k++) {
        long long *out = all + (size_t)(k - 1) * n;
        if (of->how != BY_SWINGS) {
            draw_cuts(of, k, parts, out);
            continue;
        }
        for (int c = 0, j = 0; c < of->criteria; c++) {
            out[c] = of->low[c];
            if (of->low[c] < of->high[c])
                out[c] += halton(of->high[c] - of->low[c], k, prime(j++));
        }
    }
    return all;
}
