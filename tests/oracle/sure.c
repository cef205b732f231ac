/*
 * What is right whatever the weights turn out to be (FORMATS section 34): of every bundle that
 * obeys the points on each criterion, from these N and all that is told of it.
 */
#include "sure.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef __int128 Wide;

typedef struct Set {
    size_t *at, count; /* bundles of the hunt, in N's order */
} Set;

enum { BASE, DEAR, CHEAP, WIDE, SETS };
static const char *const set_names[SETS] = {"base", "dear", "cheap", "wide"};

typedef struct Sure {
    Hunt *h;
    Doubt d;
    Weights may;
    Set set[SETS];
    long long *drawn;
    size_t *times; /* [bundle of N] weightings drawn at which it is best */
} Sure;

static Set set_of(const Doubt *d, long long most) {
    Set out;
    out.at = undominated(d, most, &out.count);
    return out;
}

size_t best_of(const Doubt *d, const size_t *n, size_t count, const long long *weight) {
    size_t best = 0;
    Wide most = 0;
    for (size_t i = 0; i < count; i++) {
        Wide sum = 0;
        for (int c = 0; c < d->criteria; c++)
            sum += (Wide)weight[c] * d->points[n[i] * (size_t)d->criteria + (size_t)c];
        if (i == 0 || sum > most) {
            most = sum;
            best = i;
        }
    }
    return best;
}

/* ---- shares -------------------------------------------------------------------------------- */

/* Does the bundle have it: a part bought, a role as it is, a task done? */
typedef struct Thing {
    enum { PART, AS_IT_IS, DONE } kind;
    int role;
    const char *id;
} Thing;

static bool has(const Sure *s, size_t bundle, const Thing *thing) {
    const World *w = s->h->w;
    set_machine(w, s->h->found[bundle].number, s->h->at);
    for (int r = 0; r < w->roles; r++) {
        const Choice *c = s->h->at[r];
        if (thing->kind == AS_IT_IS && r == thing->role && !c->changed)
            return true;
        for (int i = 0; i < c->lines && thing->kind == PART && r == thing->role; i++)
            if (!strcmp(w->part[c->line[i].listing->part].id, thing->id))
                return true;
        for (int i = 0; i < c->tasks && thing->kind == DONE; i++)
            if (!strcmp(w->task[c->task[i]].id, thing->id))
                return true;
    }
    return false;
}

/* Prints it where any of the sets has it; of roles as they are all. */
static void print_thing(const Sure *s, const Thing *thing, bool *first) {
    size_t in[SETS] = {0}, drawn = 0, any = 0;
    for (int k = 0; k < SETS; k++)
        for (size_t i = 0; i < s->set[k].count; i++)
            if (has(s, s->set[k].at[i], thing)) {
                in[k]++;
                drawn += k == BASE ? s->times[i] : 0;
            }
    for (int k = 0; k < SETS; k++)
        any += in[k];
    if (!any && thing->kind != AS_IT_IS)
        return;
    printf("%s\"%s\":{\"drawn\":%zu", *first ? "" : ",", thing->id, drawn);
    if (thing->kind == AS_IT_IS)
        printf(",\"holds\":%s", s->h->w->role[thing->role].presents ? "true" : "false");
    for (int k = 0; k < SETS; k++)
        printf(",\"%s\":%zu", set_names[k], in[k]);
    putchar('}');
    *first = false;
}

static void print_things(const Sure *s) {
    const World *w = s->h->w;
    bool first = true;
    printf(",\"as_it_is\":{");
    for (int r = 0; r < w->roles; r++)
        print_thing(s, &(Thing){AS_IT_IS, r, w->role[r].id}, &first);
    printf("},\"parts\":{");
    first = true;
    for (int p = 0; p < w->parts; p++) {
        bool again = false;
        for (int q = 0; q < p; q++)
            again = again || !strcmp(w->part[q].id, w->part[p].id);
        if (!again)
            print_thing(s, &(Thing){PART, w->part[p].role, w->part[p].id}, &first);
    }
    printf("},\"tasks\":{");
    first = true;
    for (int t = 0; t < w->tasks; t++)
        print_thing(s, &(Thing){DONE, -1, w->task[t].id}, &first);
    putchar('}');
}

/* ---- regret -------------------------------------------------------------------------------- */

typedef struct Regret { /* thousandths of a point: top / under */
    long long top, under;
} Regret;

static bool more(Regret a, Regret b) { return (Wide)a.top * b.under > (Wide)b.top * a.under; }

static Regret regret_of(const Sure *s, size_t which) {
    const Doubt *d = &s->d;
    const Set *n = &s->set[BASE];
    Regret worst = {0, 1};
    size_t extremes = (size_t)d->extremes;
    for (size_t e = 0; e < extremes; e++) {
        long long most = d->value[n->at[0] * extremes + e], sum = 0;
        for (size_t i = 0; i < n->count; i++)
            if (d->value[n->at[i] * extremes + e] > most)
                most = d->value[n->at[i] * extremes + e];
        for (int c = 0; c < d->criteria; c++)
            sum += d->weight[(int)e * d->criteria + c];
        Regret here = {most - d->value[n->at[which] * extremes + e], sum};
        if (more(here, worst))
            worst = here;
    }
    return worst;
}

/* ---- the whole ----------------------------------------------------------------------------- */

static void print_bundles(const Sure *s) {
    const World *w = s->h->w;
    const Set *n = &s->set[BASE];
    size_t least = 0;
    printf(",\"bundles\":[");
    for (size_t i = 0; i < n->count; i++) {
        Regret regret = regret_of(s, i);
        bool first = true;
        if (more(regret_of(s, least), regret))
            least = i;
        printf("%s{\"points\":{", i ? "," : "");
        for (int c = 0; c < w->criteria; c++)
            if (s->may.weighs[c]) {
                printf("%s\"%s\":%lld", first ? "" : ",", w->criterion[c].id,
                       s->d.points[n->at[i] * (size_t)w->criteria + (size_t)c]);
                first = false;
            }
        printf("},\"regret\":%.9f,\"cost\":", (double)regret.top / (double)regret.under / 1000);
        money_print(w, s->h->found[n->at[i]].cost);
        putchar(',');
        set_machine(w, s->h->found[n->at[i]].number, s->h->at);
        print_changes(s->h->w, s->h->at);
        putchar('}');
    }
    printf("],\"least_regret\":%zu", least);
}

static void print_frame(const Sure *s) {
    const World *w = s->h->w;
    bool first = true;
    printf(",\"criteria\":[");
    for (int c = 0; c < w->criteria; c++)
        if (s->may.weighs[c]) {
            printf("%s\"%s\"", first ? "" : ",", w->criterion[c].id);
            first = false;
        }
    printf("],\"extremes\":[");
    for (int e = 0; e < s->d.extremes; e++) {
        first = true;
        for (int c = 0; c < w->criteria; c++)
            if (s->may.weighs[c]) {
                printf("%s%lld", first ? e ? ",[" : "[" : ",",
                       s->may.corner[e * s->d.criteria + c]);
                first = false;
            }
        putchar(']');
    }
    printf("],\"sizes\":{");
    for (int k = 0; k < SETS; k++)
        printf("%s\"%s\":%zu", k ? "," : "", set_names[k], s->set[k].count);
    putchar('}');
}

/* Criteria that no weighting weighs count for nothing. */
static void forget_unweighed(Sure *s) {
    for (size_t i = 0; i < s->h->n; i++)
        for (int c = 0; c < s->d.criteria; c++)
            if (!s->may.weighs[c])
                s->d.points[i * (size_t)s->d.criteria + (size_t)c] = 0;
}

static void make_sets(Sure *s, int prices, int estimates) {
    World *w = s->h->w;
    Doubt other = s->d;
    Weights wide = widened(w, &s->may, estimates);
    other.value = NULL;
    extremes_of(&other, &wide);
    value_each(&other);
    s->set[WIDE] = set_of(&other, w->budget);
    free(other.value);
    extremes_of(&s->d, &s->may);
    value_each(&s->d);
    s->set[BASE] = set_of(&s->d, w->budget);
    s->set[DEAR] = set_of(&s->d, w->budget * 100 / (100 + prices));
    s->set[CHEAP] = set_of(&s->d, w->budget * 100 / (100 - prices));
}

int print_sure(Hunt *h, const char *percents) {
    char *end;
    int prices = (int)strtol(percents, &end, 10);
    int estimates = *end == ',' ? (int)strtol(end + 1, NULL, 10) : 10;
    if (!h->within) {
        puts("{\"status\":\"nothing-fits\"}");
        return 1;
    }
    Offer offer = make_offer(h);
    Sure s = {.h = h, .d = {.h = h, .criteria = h->w->criteria}, .may = read_weights(h->w)};
    score_each(&s.d);
    forget_unweighed(&s);
    make_sets(&s, prices, estimates);
    s.drawn = draw_weightings(h->w, &s.may);
    s.times = hold(h->w, s.set[BASE].count * sizeof *s.times);
    for (size_t k = 0; k < DRAWN; k++)
        s.times[best_of(&s.d, s.set[BASE].at, s.set[BASE].count,
                        s.drawn + k * (size_t)s.d.criteria)]++;
    printf("{\"status\":\"complete\"");
    print_frame(&s);
    print_bundles(&s);
    printf(",\"best\":%zu", best_of(&s.d, s.set[BASE].at, s.set[BASE].count, s.may.own));
    print_things(&s);
    print_offered(&offer, &s.d, &s.may, s.set[BASE].at, s.set[BASE].count, s.drawn);
    print_questions(&s.d, &s.may, s.set[BASE].at, s.set[BASE].count, s.drawn);
    puts("}");
    for (int k = 0; k < SETS; k++)
        free(s.set[k].at);
    free_doubt(&s.d);
    return 0;
}
