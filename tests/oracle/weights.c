/*
 * Weights: every bundle within the budget is scored again at each whole percent
 * of each criterion's weight.
 */
#include "why.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { CLOSE = 20 }; /* thousandths of a point within which it may be told either way */

typedef enum { OUT, IN, EITHER } Told;

/* All that is scored from weights is made again. */
void weigh(Hunt *h, const double *weight) {
    World *w = h->w;
    double speed = 0.0;
    for (int i = 0; i < w->criteria; i++) {
        w->criterion[i].weight = weight[i];
        if (!strcmp(w->criterion[i].kind, "speed"))
            speed = weight[i];
    }
    for (int t = 0; t < w->tracks; t++) {
        Track *track = &w->track[t];
        double share = w->use[track->use].share;
        track->base = llround(1000.0 * (100.0 * speed * share * track->plain));
    }
    for (int r = 0; r < w->roles; r++)
        for (int c = 0; c < w->role[r].choices; c++)
            can_serve(w, &w->role[r].choice[c]);
    score_choices(w, &h->baseline);
}

/* One criterion at this many percent; the others share the rest as they do now. */
void share_out(const double *now, int n, int which, int percent, double *out) {
    double others = 0.0;
    for (int i = 0; i < n; i++)
        others += i == which ? 0.0 : now[i];
    for (int i = 0; i < n; i++)
        out[i] = i == which ? percent / 100.0 : (100 - percent) / 100.0 * (now[i] / others);
}

/* The first of its kind in the order so far; points as they are at the weights of
 * the moment. */
typedef struct Leader {
    bool any;
    Found f;
} Leader;

static void challenge(Hunt *h, Leader *l, const Found *f, long long points) {
    Found fresh = {f->number, f->cost, points};
    if (l->any && points < l->f.points)
        return;
    if (!l->any || comes_first(h, &fresh, &l->f))
        l->f = fresh;
    l->any = true;
}

static Told tell(Hunt *h, const bool *held) {
    Leader with = {0}, without = {0};
    for (size_t i = 0; i < h->n; i++) {
        const Found *f = &h->found[i];
        if (!within(h, f))
            continue;
        set_machine(h->w, f->number, h->at);
        long long points = score_of(h->w, &(Machine){h->at}, &h->baseline, NULL);
        challenge(h, held[i] ? &with : &without, f, points);
    }
    if (!with.any || !without.any)
        return with.any ? IN : OUT;
    long long ahead = with.f.points - without.f.points;
    if (ahead >= -CLOSE && ahead <= CLOSE)
        return EITHER;
    return ahead > 0 ? IN : OUT;
}

static void print_told(const Told *told) {
    bool first = true;
    printf(",\"ranges\":[");
    for (int from = 0, to; from <= 100; from = to + 1) {
        for (to = from; to < 100 && (told[to + 1] == IN) == (told[from] == IN);)
            to++;
        if (told[from] != IN)
            continue;
        printf("%s{\"from\":%d,\"to\":%d}", first ? "" : ",", from, to);
        first = false;
    }
    first = true;
    printf("],\"either\":[");
    for (int p = 0; p <= 100; p++)
        if (told[p] == EITHER) {
            printf("%s%d", first ? "" : ",", p);
            first = false;
        }
    printf("],\"settled\":true}");
}

static bool *who_holds(Hunt *h, const char *part) {
    bool *held = hold(h->w, h->n * sizeof *held);
    for (size_t i = 0; i < h->n; i++) {
        set_machine(h->w, h->found[i].number, h->at);
        held[i] = holds(h->w, h->at, part);
    }
    return held;
}

void print_weights(Hunt *h, const char *part) {
    World *w = h->w;
    int weighing = 0;
    double *now = hold(w, (size_t)w->criteria * sizeof *now);
    double *then = hold(w, (size_t)w->criteria * sizeof *then);
    const bool *held = who_holds(h, part);
    const char *between = "";
    for (int i = 0; i < w->criteria; i++) {
        now[i] = w->criterion[i].weight;
        weighing += now[i] > 0.0;
    }
    printf(",\"weights\":[");
    for (int i = 0; i < w->criteria && weighing > 1; i++) {
        Told told[101] = {OUT};
        if (now[i] <= 0.0)
            continue;
        for (int p = 0; h->within && p <= 100; p++) {
            share_out(now, w->criteria, i, p, then);
            weigh(h, then);
            told[p] = tell(h, held);
        }
        printf("%s{\"criterion\":\"%s\",\"now\":", between, w->criterion[i].id);
        points_print(llround(100000.0 * now[i]));
        print_told(told);
        between = ",";
    }
    if (h->within)
        weigh(h, now);
    putchar(']');
}
