/*
 * What the money is worth: the groups of swaps that lean on each other, what
 * each costs and brings, and the verdict over the whole curve.
 */
#include "hunt.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>

typedef struct Without { /* the roles of one group, and how the best bundle has them */
    const Choice **best;
    const int *group;
    int which;
} Without;

static bool touched(const Choice *c) { return c->changed || c->tasks > 0; }

static bool is_place(const Rule *r) { return !strcmp(r->shape, "place"); }

/* What forbids by itself: a rule, of an unlock each clash it stands for, and all
 * place rules as one, which has no rule of its own here. */
typedef struct Law {
    const Rule *rule;
    int part;
} Law;

static bool law_allows(const World *w, Law law, const Machine *m) {
    if (law.rule)
        return clause_allows(w, law.rule, law.part, m);
    for (int i = 0; i < w->rules; i++)
        if (is_place(&w->rule[i]) && !rule_allows(w, &w->rule[i], m))
            return false;
    return places_allow(w, m);
}

static const Choice *put_back(const World *w, Machine *m, int role) {
    const Choice *was = m->at[role];
    m->at[role] = w->role[role].today;
    return was;
}

/* Whether the law passes with s put back too; if so and it measures, how far it is
 * then short. */
static bool mends(const World *w, Law law, Machine *m, int s, long long *by) {
    const Choice *was = put_back(w, m, s);
    bool allows = law_allows(w, law, m);
    bool measures =
        law.rule && (!strcmp(law.rule->shape, "within") || !strcmp(law.rule->shape, "supply"));
    *by = allows && measures ? short_of(w, law.rule, m) : 0;
    m->at[s] = was;
    return allows;
}

/* The machine has r put back. If the law forbids it, r leans on those that mend it,
 * of a rule that measures on those that mend it most. */
static void lean(const World *w, Law law, Machine *m, int r, bool *on) {
    long long least = LLONG_MAX, by;
    if (law_allows(w, law, m))
        return;
    for (int s = 0; s < w->roles; s++)
        if (s != r && touched(m->at[s]) && mends(w, law, m, s, &by) && by < least)
            least = by;
    for (int s = 0; s < w->roles; s++)
        if (s != r && touched(m->at[s]) && mends(w, law, m, s, &by) && by == least)
            on[s] = true;
}

static void join(const World *w, int *group, int a, int b) {
    int low = group[a] < group[b] ? group[a] : group[b];
    int high = group[a] < group[b] ? group[b] : group[a];
    for (int r = 0; r < w->roles; r++)
        if (group[r] == high)
            group[r] = low;
}

int *groups_of(World *w, Machine *m) {
    int *group = hold(w, (size_t)w->roles * sizeof *group);
    for (int r = 0; r < w->roles; r++)
        group[r] = touched(m->at[r]) ? r : -1;
    for (int r = 0; r < w->roles; r++) {
        if (group[r] < 0)
            continue;
        bool *on = hold(w, (size_t)w->roles * sizeof *on);
        const Choice *was = put_back(w, m, r);
        for (int i = 0; i < w->rules; i++)
            for (int p = 0; !is_place(&w->rule[i]) && p < parts_of(&w->rule[i]); p++)
                lean(w, (Law){&w->rule[i], p}, m, r, on);
        lean(w, (Law){NULL, 0}, m, r, on);
        m->at[r] = was;
        for (int s = 0; s < w->roles; s++)
            if (on[s])
                join(w, group, r, s);
    }
    return group;
}

static bool goes_without(Hunt *h, const Found *f, const void *about) {
    const Without *q = about;
    if (!within(h, f))
        return false;
    set_machine(h->w, f->number, h->at);
    for (int r = 0; r < h->w->roles; r++) {
        if (q->group[r] != q->which)
            continue;
        if (q->best[r]->changed ? h->at[r]->changed : h->at[r]->changed || h->at[r]->tasks > 0)
            return false;
    }
    return true;
}

static long long cost_without(const World *w, const int *group, int which, Machine *m,
                              const Choice **best) {
    long long minutes;
    for (int r = 0; r < w->roles; r++)
        m->at[r] = group[r] == which ? w->role[r].today : best[r];
    long long cost = cost_of(w, m, &minutes);
    memcpy(m->at, best, (size_t)w->roles * sizeof *best);
    return cost;
}

static void print_group(Hunt *h, const int *group, int which, Machine *m, const Choice **best) {
    const World *w = h->w;
    bool first = true;
    printf("{\"roles\":[");
    for (int r = 0; r < w->roles; r++)
        if (group[r] == which) {
            printf("%s\"%s\"", first ? "" : ",", w->role[r].id);
            first = false;
        }
    long long cost = h->best.cost - cost_without(w, group, which, m, best);
    printf("],\"cost\":");
    money_print(w, cost < 0 ? 0 : cost);
    printf(",\"worth\":");
    const Found *f = pick(h, goes_without, &(Without){best, group, which});
    if (f)
        points_print(h->best.points - f->points);
    else
        printf("null");
    putchar('}');
}

void print_groups(Hunt *h) {
    World *w = h->w;
    bool first = true;
    const Choice **best = hold(w, (size_t)w->roles * sizeof *best);
    Machine m = {hold(w, (size_t)w->roles * sizeof *m.at)};
    set_machine(w, h->best.number, best);
    set_machine(w, h->best.number, m.at);
    const int *group = groups_of(w, &m);
    printf(",\"groups\":[");
    for (int r = 0; r < w->roles; r++)
        if (group[r] == r) {
            printf("%s", first ? "" : ",");
            print_group(h, group, r, &m, best);
            first = false;
        }
    putchar(']');
}

/* Most points for the money beyond the first step; NULL when nothing costs more. */
static const Found *best_rate(const Hunt *h, const Steps *s) {
    const Found *first = &s->at[0], *best = NULL;
    for (size_t i = 1; i < s->n && within(h, &s->at[i]); i++) {
        const Found *f = &s->at[i];
        if (!best || (f->points - first->points) * (best->cost - first->cost) >
                         (best->points - first->points) * (f->cost - first->cost))
            best = f;
    }
    return best;
}

/* P - t x C, in thousandths of a point times the minor units of 100. */
static long long net_of(const World *w, const Found *f) {
    long long hundred = 100;
    for (int i = 0; i < w->currency_digits; i++)
        hundred *= 10;
    return f->points * hundred - w->worth_at_least * f->cost;
}

static const Found *worthwhile(Hunt *h) {
    const Found *best = NULL;
    for (size_t i = 0; i < h->n; i++) {
        const Found *f = &h->found[i];
        if (!within(h, f))
            continue;
        long long a = net_of(h->w, f), b = best ? net_of(h->w, best) : 0;
        if (!best || a > b || (a == b && f->cost < best->cost) ||
            (a == b && f->cost == best->cost && comes_first(h, f, best)))
            best = f;
    }
    return best;
}

static bool at_its_end(Hunt *h) {
    const World *w = h->w;
    long long held = 0, changed = 0;
    set_machine(w, h->best.number, h->at);
    for (int r = 0; r < w->roles; r++)
        if (w->role[r].renewal && w->role[r].presents > 0) {
            held++;
            changed += h->at[r]->changed;
        }
    return held > 0 && 1000 * changed >= w->renewal_share * held;
}

static void print_standing(Hunt *h, const Steps *s) {
    size_t after = 0;
    while (after < s->n && within(h, &s->at[after]))
        after++;
    print_step(h, "last", after > 1 ? &s->at[after - 2] : NULL);
    print_step(h, "next", after < s->n ? &s->at[after] : NULL);
    print_step(h, "first", s->n ? &s->at[0] : NULL);
}

void print_verdict(Hunt *h) {
    Steps s = steps_of(h);
    print_standing(h, &s);
    if (!h->within)
        return;
    print_step(h, "best_rate", best_rate(h, &s));
    if (h->w->has_worth) {
        const Found *f = worthwhile(h);
        printf(",\"worthwhile\":{");
        print_bundle(h, f);
        printf("},\"keep\":%s", f->cost <= s.at[0].cost ? "true" : "false");
    }
    printf(",\"at_its_end\":%s", at_its_end(h) ? "true" : "false");
}
