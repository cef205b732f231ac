/* Which question about the weights is worth most (FORMATS section 36). */
#include "sure.h"

#include <stdio.h>
#include <string.h>

typedef __int128 Wide;

typedef struct Question {
    const char *is;
    int one, other;
    long long worth, beside; /* -1: not of that kind */
} Question;

typedef struct Asking {
    const Doubt *d;
    const Weights *of;
    const size_t *n;
    size_t count, b0;
    const long long *drawn;
    long long *even; /* each weighting brought to 2^20 */
    Wide most;
    int asked, questions;
} Asking;

static Wide worth_at(const Asking *a, size_t which, const long long *m) {
    Wide sum = 0;
    for (int c = 0; c < a->d->criteria; c++)
        sum += (Wide)m[c] * a->d->points[a->n[which] * (size_t)a->d->criteria + (size_t)c];
    return sum;
}

static bool yes(const Question *q, const long long *w) {
    if (!strcmp(q->is, "worth"))
        return w[q->one] >= q->worth;
    return w[q->one] >= (strcmp(q->is, "twice") ? 1 : 2) * w[q->other];
}

static void put(Asking *a, const Question *q) {
    World *w = a->d->h->w;
    size_t n = (size_t)a->d->criteria, best[2] = {0};
    long long *m = hold(w, 2 * n * sizeof *m);
    int given[2] = {0};
    Wide value = 0, whole = (Wide)1 << 32;
    for (size_t k = 0; k < DRAWN; k++) {
        int side = yes(q, a->drawn + k * n) ? 0 : 1;
        given[side]++;
        for (size_t c = 0; c < n; c++)
            m[(size_t)side * n + c] += a->even[k * n + c];
    }
    for (int side = 0; side < 2; side++) {
        const long long *at = m + (size_t)side * n;
        best[side] = best_of(a->d, a->n, a->count, at);
        value += worth_at(a, best[side], at) - worth_at(a, a->b0, at);
    }
    printf("%s{\"is\":\"%s\",\"criterion\":\"%s\",\"other\":\"%s\",", a->questions ? "," : "",
           q->is, w->criterion[q->one].id, w->criterion[q->other].id);
    if (q->worth >= 0)
        printf("\"worth\":%lld,\"beside\":%lld,", q->worth, q->beside);
    printf("\"value\":%lld,\"answers\":[", (long long)((2 * value + whole) / (2 * whole)));
    for (int side = 0; side < 2; side++)
        printf("%s{\"given\":%d,\"bundle\":%zu}", side ? "," : "", given[side], best[side]);
    printf("]}");
    if (value > a->most) {
        a->most = value;
        a->asked = a->questions;
    }
    a->questions++;
}

static void put_all(Asking *a) {
    const Weights *of = a->of;
    for (int c = 0; c < of->criteria && of->how == BY_SWINGS; c++)
        if (of->low[c] < of->high[c])
            put(a, &(Question){"worth", c, of->measure, (of->low[c] + of->high[c]) / 2,
                               of->own[of->measure]});
    for (int i = 0; i + 1 < of->count && of->how == BY_RANKS; i++)
        put(a, &(Question){"twice", of->listed[i], of->listed[i + 1], -1, -1});
    for (int i = 0; i < of->count && of->how == BY_NOTHING; i++)
        for (int j = i + 1; j < of->count; j++)
            put(a, &(Question){"more", of->listed[i], of->listed[j], -1, -1});
}

void print_questions(const Doubt *d, const Weights *of, const size_t *n, size_t count,
                     const long long *drawn) {
    size_t criteria = (size_t)d->criteria;
    Asking a = {.d = d, .of = of, .n = n, .count = count, .drawn = drawn, .asked = -1};
    long long *m = hold(d->h->w, criteria * sizeof *m);
    a.even = hold(d->h->w, DRAWN * criteria * sizeof *a.even);
    for (size_t k = 0; k < DRAWN; k++) {
        long long sum = 0;
        for (size_t c = 0; c < criteria; c++)
            sum += drawn[k * criteria + c];
        for (size_t c = 0; c < criteria; c++)
            m[c] += a.even[k * criteria + c] = (drawn[k * criteria + c] << 20) / sum;
    }
    a.b0 = best_of(d, n, count, m);
    printf(",\"b0\":%zu,\"questions\":[", a.b0);
    put_all(&a);
    bool matters = a.most >= (Wide)50 << 32;
    printf("],\"ask\":%d", matters ? a.asked : -1);
}
