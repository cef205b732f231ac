/*
 * Of the three options (FORMATS section 34): what each may lose, and over which weights it stays
 * the best for its money. Where that ends is found by halving, with no formula for it.
 */
#include "sure.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef __int128 Wide;

enum { HALVINGS = 60 };

typedef struct Case {
    const Doubt *d;
    const Weights *may;
    size_t own;     /* the option, of the hunt's bundles */
    size_t *rivals; /* N for its money */
    size_t count;
} Case;

static long long points_of(const Case *in, size_t bundle, int criterion) {
    return in->d->points[bundle * (size_t)in->d->criteria + (size_t)criterion];
}

/* ---- regret -------------------------------------------------------------------------------- */

static double regret_of(const Case *in, const size_t *n, size_t count) {
    const Doubt *d = in->d;
    size_t extremes = (size_t)d->extremes;
    double worst = 0;
    for (size_t e = 0; e < extremes; e++) {
        long long most = d->value[n[0] * extremes + e], sum = 0;
        for (size_t i = 0; i < count; i++)
            if (d->value[n[i] * extremes + e] > most)
                most = d->value[n[i] * extremes + e];
        for (int c = 0; c < d->criteria; c++)
            sum += d->weight[(int)e * d->criteria + c];
        worst = fmax(worst, (double)(most - d->value[in->own * extremes + e]) / (double)sum);
    }
    return worst / 1000;
}

/* ---- where it stays ------------------------------------------------------------------------ */

static bool stays_at_drawn(const Case *in, const long long *weight) {
    for (size_t i = 0; i < in->count; i++) {
        Wide lead = 0;
        for (int c = 0; c < in->d->criteria; c++)
            lead += (Wide)weight[c] * (points_of(in, in->own, c) - points_of(in, in->rivals[i], c));
        if (lead < 0)
            return false;
    }
    return true;
}

/* The client's weights, but for one criterion, which has this share of all. */
static void weights_at(const Case *in, int which, double share, double *out) {
    double others = 0;
    for (int c = 0; c < in->d->criteria; c++)
        others += c == which ? 0 : (double)in->may->own[c];
    for (int c = 0; c < in->d->criteria; c++)
        out[c] = c == which ? share : (double)in->may->own[c] * (1 - share) / others;
}

static bool may_be(const Case *in, const double *weight) {
    const Weights *may = in->may;
    if (may->how != BY_SWINGS)
        return true;
    double times = (double)may->own[may->measure] / weight[may->measure];
    for (int c = 0; c < in->d->criteria; c++)
        if (may->own[c] > 0 && (weight[c] * times < (double)may->low[c] - 1e-6 ||
                                weight[c] * times > (double)may->high[c] + 1e-6))
            return false;
    return true;
}

static bool stays(const Case *in, int which, double share) {
    double weight[64];
    weights_at(in, which, share, weight);
    if (!may_be(in, weight))
        return false;
    for (size_t i = 0; i < in->count; i++) {
        double lead = 0;
        for (int c = 0; c < in->d->criteria; c++)
            lead +=
                weight[c] * (double)(points_of(in, in->own, c) - points_of(in, in->rivals[i], c));
        if (lead < -1e-7)
            return false;
    }
    return true;
}

/* The last share from `good` towards `bad` at which it stays so. */
static double last(const Case *in, int which, double good, double bad) {
    if (stays(in, which, bad))
        return bad;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = (good + bad) / 2;
        *(stays(in, which, middle) ? &good : &bad) = middle;
    }
    return good;
}

static void print_ranges(const Case *in, const World *w) {
    double sum = 0;
    bool first = true;
    printf(",\"weights\":{");
    for (int c = 0; c < w->criteria; c++)
        sum += (double)in->may->own[c];
    for (int c = 0; c < w->criteria && in->may->how != BY_RANKS; c++) {
        double own = (double)in->may->own[c] / sum;
        if (!in->may->weighs[c] || own <= 0)
            continue;
        if (own < 1 && !stays(in, c, own))
            continue;
        printf("%s\"%s\":[%.9f,%.9f]", first ? "" : ",", w->criterion[c].id,
               own < 1 ? last(in, c, own, 0) : 1, own < 1 ? last(in, c, own, 1) : 1);
        first = false;
    }
    putchar('}');
}

/* ---- the whole ----------------------------------------------------------------------------- */

static size_t place_of(const Hunt *h, const Found *f) {
    for (size_t i = 0; i < h->n; i++)
        if (h->found[i].number == f->number)
            return i;
    stop(2, "an option that was not found");
}

void print_offered(const Offer *offer, const Doubt *d, const Weights *may, const size_t *n,
                   size_t count, const long long *drawn) {
    const Hunt *h = offer->h;
    printf(",\"options\":[");
    for (int o = 0; o < offer->options; o++) {
        Case in = {.d = d, .may = may, .own = place_of(h, &offer->option[o].found)};
        size_t still = 0;
        in.rivals = undominated(d, offer->option[o].found.cost, &in.count);
        for (size_t k = 0; k < DRAWN; k++)
            still += stays_at_drawn(&in, drawn + k * (size_t)d->criteria);
        printf("%s{\"option\":\"%s\",\"cost\":", o ? "," : "", offer->option[o].option);
        money_print(h->w, offer->option[o].found.cost);
        printf(",\"regret\":%.9f,\"stays\":%zu", regret_of(&in, n, count), still);
        print_ranges(&in, h->w);
        putchar('}');
        free(in.rivals);
    }
    putchar(']');
}
