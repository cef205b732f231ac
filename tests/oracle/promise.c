/*
 * What an option promises: the rates of its machine with the work left out that is a matter
 * of luck, and how far the ends of the exponents let them lie from that.
 */
#include "options.h"

#include <math.h>
#include <string.h>

static bool has_chance(const World *w, const Choice *c) {
    for (int i = 0; i < c->tasks; i++)
        if (w->task[c->task[i]].chance)
            return true;
    return false;
}

static const Choice *sure_of(World *w, const Choice *c) {
    Choice *sure = hold(w, sizeof *sure);
    if (!has_chance(w, c))
        return c;
    *sure = fit_out(w, c->role, c->kept, c->line, c->lines);
    sure->task = hold(w, (size_t)c->tasks * sizeof *sure->task);
    for (int i = 0; i < c->tasks; i++)
        if (!w->task[c->task[i]].chance)
            sure->task[sure->tasks++] = c->task[i];
    settle(w, sure);
    return sure;
}

Machine without_chance(World *w, const Machine *m) {
    Machine sure = {hold(w, (size_t)w->roles * sizeof *sure.at)};
    for (int r = 0; r < w->roles; r++)
        sure.at[r] = sure_of(w, m->at[r]);
    return sure;
}

/* Doublings that a factor stands for; void counts as none. */
static bool factor_of(const World *w, const Factor *f, const Machine *m, double *out) {
    double x = 1.0;
    State state = reckon(w, f->is, m->at[f->role], &x);
    *out = state == KNOWN && x > 0.0 ? log2(x) : 0.0;
    return state == BLANK || (state == KNOWN && x > 0.0);
}

static double lesser(double a, double b) { return a < b ? a : b; }

static double greater(double a, double b) { return a > b ? a : b; }

typedef struct Lane { /* doublings of one alternative: now, then, and then's ends */
    double now, then, low, high;
} Lane;

static bool lane_of(const World *w, const Track *t, const Machine *now, const Machine *m,
                    Lane *out) {
    *out = (Lane){t->plain, t->plain, t->plain, t->plain};
    for (int i = 0; i < t->factors; i++) {
        const Factor *f = &t->factor[i];
        double was, is;
        if (!factor_of(w, f, now, &was) || !factor_of(w, f, m, &is))
            return false;
        double change = is - was;
        out->now += f->exponent * was;
        out->then += f->exponent * is;
        out->low += f->exponent * was + lesser(f->low * change, f->high * change);
        out->high += f->exponent * was + greater(f->low * change, f->high * change);
    }
    return true;
}

Rate rate_of(const World *w, int use, const Machine *now, const Machine *m) {
    Lane least = {0, 0, 0, 0};
    bool any = false;
    for (int t = 0; t < w->tracks; t++) {
        Lane one;
        if (w->track[t].use != use)
            continue;
        if (!lane_of(w, &w->track[t], now, m, &one))
            return (Rate){.known = false};
        least.now = any ? lesser(least.now, one.now) : one.now;
        least.then = any ? lesser(least.then, one.then) : one.then;
        least.low = any ? lesser(least.low, one.low) : one.low;
        least.high = any ? lesser(least.high, one.high) : one.high;
        any = true;
    }
    return (Rate){true, exp2(least.then - least.now), exp2(least.low - least.now),
                  exp2(least.high - least.now)};
}
