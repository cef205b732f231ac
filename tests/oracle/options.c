/*
 * Three options: which bundles they are, by looking at every bundle there is.
 */
#include "options.h"

#include "stays.h"

#include <stdlib.h>
#include <string.h>

static Machine machine_of(World *w, const Found *f) {
    Machine m = {hold(w, (size_t)w->roles * sizeof *m.at)};
    set_machine(w, f->number, m.at);
    return m;
}

static bool same_parts(const Choice *a, const Choice *b) {
    size_t length = strcspn(a->key, "\t");
    return length == strcspn(b->key, "\t") && !memcmp(a->key, b->key, length);
}

/* The same roles' parts differ from today's. */
static bool same_kind(const World *w, const Machine *a, const Machine *b) {
    for (int r = 0; r < w->roles; r++)
        if (a->at[r]->changed != b->at[r]->changed)
            return false;
    return true;
}

/* ---- the ground: complaints, the curve, Full ---- */

static void end_complaints(Offer *o) {
    Hunt *h = o->h;
    o->ended = hold(o->w, (size_t)h->combinations);
    for (size_t i = 0; i < h->n; i++) {
        set_machine(o->w, h->found[i].number, h->at);
        for (int c = 0; c < o->complaints.n; c++)
            if (ends_in(&o->complaints, &o->complaints.at[c], &(Machine){h->at}))
                o->ended[h->found[i].number] |= (unsigned char)(1u << c);
    }
}

static void take_curve(Offer *o) {
    long long hundred = 100, budget = o->w->budget;
    for (int i = 0; i < o->w->currency_digits; i++)
        hundred *= 10;
    o->to = budget + (budget / 4 > hundred ? budget / 4 : hundred);
    if (!o->h->n)
        return;
    Steps all = steps_of(o->h);
    o->steps.at = all.at;
    while (o->steps.n < all.n && all.at[o->steps.n].cost <= o->to)
        o->steps.n++;
}

static bool is_within(Hunt *h, const Found *f, const void *about) {
    (void)about;
    return within(h, f);
}

static const Found *x_of(const Offer *o) { return &o->steps.at[o->best]; }

static void find_full(Offer *o) {
    Found x = *pick(o->h, is_within, NULL);
    while (o->best + 1 < o->steps.n && within(o->h, &o->steps.at[o->best + 1]))
        o->best++;
    if (x_of(o)->number != x.number)
        stop(2, "the best bundle is not on the curve");
}

static void add_option(Offer *o, const char *option, const char *rule, const Found *f) {
    o->option[o->options++] =
        (Option){.option = option, .rule = rule, .found = *f, .m = machine_of(o->w, f)};
}

/* ---- First ---- */

typedef struct Ending { /* bundles that end a complaint and cost at most so much */
    const Offer *o;
    int complaint;
    long long most;
} Ending;

static bool ends_it(Hunt *h, const Found *f, const void *about) {
    const Ending *e = about;
    return within(h, f) && f->cost <= e->most && (e->o->ended[f->number] >> e->complaint & 1);
}

/* The least cost within the budget of bundles that end it and do not make things worse. */
static bool least_cost(const Offer *o, int complaint, long long *least) {
    bool any = false;
    for (size_t i = 0; i < o->h->n; i++) {
        const Found *f = &o->h->found[i];
        if (!within(o->h, f) || f->points < 0 || !(o->ended[f->number] >> complaint & 1))
            continue;
        *least = !any || f->cost < *least ? f->cost : *least;
        any = true;
    }
    return any;
}

static const Found *best_rate(const Offer *o) {
    const Found *first = &o->steps.at[0], *best = NULL;
    for (size_t i = 1; i <= o->best; i++) {
        const Found *f = &o->steps.at[i];
        if (!best || (f->points - first->points) * (best->cost - first->cost) >
                         (best->points - first->points) * (f->cost - first->cost))
            best = f;
    }
    return best;
}

/* In thousandths of a point times the minor units of 100. */
static long long net_of(const World *w, const Found *f) {
    long long hundred = 100;
    for (int i = 0; i < w->currency_digits; i++)
        hundred *= 10;
    return f->points * hundred - w->worth_at_least * f->cost;
}

/* Nothing within the budget is worth more, less its money, than what costs least. */
static bool money_is_kept(const Offer *o) {
    const World *w = o->w;
    if (!w->has_worth)
        return false;
    for (size_t i = 0; i < o->h->n; i++)
        if (within(o->h, &o->h->found[i]) &&
            net_of(w, &o->h->found[i]) > net_of(w, &o->steps.at[0]))
            return false;
    return true;
}

static void find_first(Offer *o) {
    for (int c = 0; c < o->complaints.n; c++) {
        Ending e = {o, c, 0};
        if (!o->complaints.at[c].shows || !least_cost(o, c, &e.most))
            continue;
        add_option(o, "first", "ends-complaint", pick(o->h, ends_it, &e));
        o->option[0].complaint = o->complaints.at[c].id;
        o->ends_first = c;
        return;
    }
    const Found *e0 = &o->steps.at[0], *step = best_rate(o);
    if (money_is_kept(o)) {
        if (e0->points > 0)
            add_option(o, "first", "keeps-money", e0);
    } else if (step) {
        add_option(o, "first", "best-rate", step);
    }
}

/* ---- Middle ---- */

long long bend_of(const Offer *o, const Found *step) {
    const Found *e0 = &o->steps.at[0], *x = x_of(o);
    return (step->points - e0->points) * (x->cost - e0->cost) -
           (step->cost - e0->cost) * (x->points - e0->points);
}

typedef struct Lower { /* what stands for First: itself, or E0 where there is none beside Full */
    Found found;
    Machine m;
    bool is_first; /* its kind counts, and its parts are to be kept */
} Lower;

static bool kind_is_new(const Offer *o, const Lower *low, const Machine *full, const Machine *m) {
    return !same_kind(o->w, m, full) && !(low->is_first && same_kind(o->w, m, &low->m));
}

/* Whoever takes First for a complaint must find it ended by what is dearer too. */
static bool ends_as_first(const Offer *o, const Lower *low, const Found *f) {
    return !low->is_first || o->ends_first < 0 || (o->ended[f->number] >> o->ends_first & 1);
}

static const Found *find_middle(Offer *o, const Lower *low, const Machine *full) {
    const Found *best = NULL;
    for (size_t i = 0; i < o->best; i++) {
        const Found *f = &o->steps.at[i];
        Machine m = machine_of(o->w, f);
        if (f->cost <= low->found.cost || f->cost >= x_of(o)->cost ||
            f->points <= low->found.points || bend_of(o, f) <= 0 ||
            !kind_is_new(o, low, full, &m) || !ends_as_first(o, low, f))
            continue;
        if (!best || bend_of(o, f) > bend_of(o, best))
            best = f;
    }
    return best;
}

typedef struct Nest {
    const Lower *low;
    const Machine *full;
    long long most;
} Nest;

static bool nests(Hunt *h, const Found *f, const void *about) {
    const Nest *n = about;
    if (f->cost > n->most)
        return false;
    set_machine(h->w, f->number, h->at);
    for (int r = 0; r < h->w->roles; r++) {
        const Choice *c = h->at[r], *low = n->low->m.at[r];
        if (n->low->is_first && low->changed ? !same_parts(c, low)
                                             : c->changed && !same_parts(c, n->full->at[r]))
            return false;
    }
    return true;
}

static void find_nested(Offer *o, const Lower *low, const Machine *full, const Found *middle) {
    Nest n = {low, full, middle->cost};
    const Found *f = pick(o->h, nests, &n);
    if (!f)
        return;
    o->nests = true;
    o->nested = *f;
    o->lost = middle->points - f->points;
    long long share = 20;
    if (o->paper && cJSON_GetObjectItemCaseSensitive(o->paper, "nest_share"))
        share = milli_of(cJSON_GetObjectItemCaseSensitive(o->paper, "nest_share"));
    Machine m = machine_of(o->w, f);
    o->takes_place = 1000 * o->lost <= share * x_of(o)->points && f->points > low->found.points &&
                     kind_is_new(o, low, full, &m) && ends_as_first(o, low, f);
}

static void choose(Offer *o) {
    World *w = o->w;
    find_first(o);
    Machine full = machine_of(w, x_of(o));
    bool any = o->options > 0, same = any && same_fit_outs(w, o->option[0].m.at, full.at);
    if (same)
        o->options = 0;
    Lower low = {o->steps.at[0], machine_of(w, &o->steps.at[0]), false};
    if (any && !same)
        low = (Lower){o->option[0].found, o->option[0].m, true};
    const Found *middle = find_middle(o, &low, &full);
    if (middle) {
        find_nested(o, &low, &full, middle);
        if (o->takes_place)
            add_option(o, "middle", "nested-bend", &o->nested);
        else
            add_option(o, "middle", "bend", middle);
    }
    add_option(o, "full", "best", x_of(o));
}

Offer make_offer(Hunt *h) {
    Offer o = {.h = h, .w = h->w, .complaints = read_complaints(h->w), .ends_first = -1};
    o.paper = open_maybe(h->w, "proposal.json");
    o.hazards = open_maybe(h->w, "hazards.json");
    end_complaints(&o);
    if (h->n && !h->baseline.at)
        score_all(h);
    take_curve(&o);
    if (h->within) {
        find_full(&o);
        choose(&o);
    }
    return o;
}

int answer_options(Hunt *h) {
    Offer o = make_offer(h);
    print_offer(&o);
    return h->within ? 0 : 1;
}
