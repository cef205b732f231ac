/*
 * Weights in doubt (FORMATS section 32): the points of every bundle on every criterion by
 * itself, and the bundles that no other dominates at the extreme weightings.
 */
#include "doubt.h"
#include "why.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* "speed:3,quiet:1;looks:4": the extremes stand between semicolons. */
static void read_extremes(Doubt *d, const char *text) {
    World *w = d->h->w;
    d->weight = hold(w, (size_t)(EXTREMES_MOST * d->criteria) * sizeof *d->weight);
    for (d->extremes = 1; *text;) {
        size_t length = strcspn(text, ":");
        char *end;
        int which = -1;
        for (int c = 0; c < d->criteria; c++)
            if (strlen(w->criterion[c].id) == length && !strncmp(w->criterion[c].id, text, length))
                which = c;
        if (which < 0 || !text[length])
            stop(2, "no criterion at \"%s\"", text);
        d->weight[(d->extremes - 1) * d->criteria + which] = strtoll(text + length + 1, &end, 10);
        if (*end == ';' && ++d->extremes > EXTREMES_MOST)
            stop(2, "too many extremes");
        text = end + (*end == ',' || *end == ';');
    }
}

/* The job with all weight on one criterion after the other. */
void score_each(Doubt *d) {
    Hunt *h = d->h;
    World *w = h->w;
    double *weight = hold(w, (size_t)d->criteria * sizeof *weight);
    long long *by = hold(w, (size_t)d->criteria * sizeof *by);
    d->points = calloc(h->n * (size_t)d->criteria + 1, sizeof *d->points);
    if (!d->points)
        stop(2, "no memory");
    for (int c = 0; c < d->criteria; c++) {
        for (int k = 0; k < d->criteria; k++)
            weight[k] = k == c;
        weigh(h, weight);
        for (size_t i = 0; i < h->n; i++) {
            set_machine(w, h->found[i].number, h->at);
            d->points[i * (size_t)d->criteria + (size_t)c] =
                score_of(w, &(Machine){h->at}, &h->baseline, by);
        }
    }
}

void value_each(Doubt *d) {
    size_t extremes = (size_t)d->extremes, criteria = (size_t)d->criteria;
    free(d->value);
    d->value = calloc(d->h->n * extremes + 1, sizeof *d->value);
    if (!d->value)
        stop(2, "no memory");
    for (size_t i = 0; i < d->h->n; i++)
        for (size_t e = 0; e < extremes; e++)
            for (size_t c = 0; c < criteria; c++)
                d->value[i * extremes + e] +=
                    d->weight[e * criteria + c] * d->points[i * criteria + c];
}

void free_doubt(Doubt *d) {
    free(d->points);
    free(d->value);
}

/* 1: `a` dominates `b`; -1: the other way; 0: equal; 2: neither. */
static int relation(const Doubt *d, size_t a, size_t b) {
    bool more = false, less = false;
    for (int e = 0; e < d->extremes; e++) {
        long long x = d->value[a * (size_t)d->extremes + (size_t)e];
        long long y = d->value[b * (size_t)d->extremes + (size_t)e];
        more = more || x > y;
        less = less || x < y;
    }
    return more && less ? 2 : more ? 1 : less ? -1 : 0;
}

static bool replaces(const Doubt *d, size_t a, size_t b) {
    int is = relation(d, a, b);
    Found x = d->h->found[a], y = d->h->found[b];
    x.points = y.points = 0;
    return is == 1 || (is == 0 && comes_first(d->h, &x, &y));
}

static int by_value(const Doubt *d, size_t a, size_t b) {
    for (int e = 0; e < d->extremes; e++) {
        long long x = d->value[a * (size_t)d->extremes + (size_t)e];
        long long y = d->value[b * (size_t)d->extremes + (size_t)e];
        if (x != y)
            return x > y ? -1 : 1;
    }
    return 0;
}

static void print_text(const char *text) {
    for (; *text; text++)
        putchar(*text == '\n' ? ',' : *text == '\t' ? '~' : *text);
}

static void print_one(const Doubt *d, size_t i) {
    Hunt *h = d->h;
    World *w = h->w;
    set_machine(w, h->found[i].number, h->at);
    printf("values");
    for (int e = 0; e < d->extremes; e++)
        printf(" %lld", d->value[i * (size_t)d->extremes + (size_t)e]);
    printf(" cost %lld swaps %d tasks %d", h->found[i].cost, swaps_of(w, h->at),
           tasks_of(w, h->at));
    for (int r = 0; r < w->roles; r++) {
        printf(" %s=", w->role[r].id);
        print_text(h->at[r]->key);
        putchar('@');
        print_text(h->at[r]->from);
    }
    putchar('\n');
}

size_t *undominated(const Doubt *d, long long most, size_t *out) {
    Hunt *h = d->h;
    size_t *best = calloc(h->n + 1, sizeof *best), count = 0;
    if (!best)
        stop(2, "no memory");
    for (size_t i = 0; i < h->n; i++) {
        size_t kept = 0;
        bool in = h->found[i].cost <= most;
        for (size_t k = 0; k < count && in; k++)
            in = !replaces(d, best[k], i);
        if (!in)
            continue;
        for (size_t k = 0; k < count; k++)
            if (!replaces(d, i, best[k]))
                best[kept++] = best[k];
        best[kept++] = i;
        count = kept;
    }
    for (size_t i = 1; i < count; i++)
        for (size_t k = i; k > 0 && by_value(d, best[k], best[k - 1]) < 0; k--) {
            size_t other = best[k];
            best[k] = best[k - 1];
            best[k - 1] = other;
        }
    *out = count;
    return best;
}

int print_doubt(Hunt *h, const char *extremes) {
    Doubt d = {.h = h, .criteria = h->w->criteria};
    read_extremes(&d, extremes);
    if (h->n == 0) {
        puts("nothing fits");
        return 1;
    }
    score_each(&d);
    value_each(&d);
    size_t count, *best = undominated(&d, h->w->budget, &count);
    printf("bundles %zu\n", count);
    for (size_t i = 0; i < count; i++)
        print_one(&d, best[i]);
    free(best);
    free_doubt(&d);
    return 0;
}
