/*
 * Every bundle of the job without its wishes, musts and limits, and the terms that
 * it breaks. A bundle may be let through in several ways: what is unknown by
 * dropping that or the rules themselves, places by dropping one rule or another.
 */
#include "mends.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef uint64_t Set;
enum { MOST_TERMS = 64, MOST_WAYS = 1 << 20 };

typedef struct Term {
    char *text;
    const char *name; /* what stands behind the colon */
    enum { RULE, MUST, KEEP, REPLACE, AVOID, LIMIT, USE, UNKNOWNS, BUDGET } what;
    int rule;
    bool bends;
} Term;

typedef struct Ways { /* sets of terms, each enough for some bundle */
    Set *at;
    int n, room;
} Ways;

typedef struct Mending {
    World *w;
    const cJSON *job; /* as it was written */
    Term term[MOST_TERMS];
    int terms;
    Set **broken; /* by role and choice */
    double loud_today;
    Ways ways;
} Mending;

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static Set one(int term) { return (Set)1 << term; }

static void add_term(Mending *x, Term term, const char *prefix) {
    if (x->terms == MOST_TERMS)
        stop(3, "more terms than the checker holds");
    term.text = hold(x->w, strlen(prefix) + strlen(term.name) + 2);
    strcat(strcat(strcpy(term.text, prefix), *term.name ? ":" : ""), term.name);
    for (int i = 0; i < x->terms; i++)
        if (!strcmp(x->term[i].text, term.text))
            return;
    x->term[x->terms++] = term;
}

static void list_wishes(Mending *x) {
    static const char *const lists[] = {"keep", "replace", "avoid"};
    static const char *const limits[] = {"loudness_sone", "days", "bench_minutes"};
    const cJSON *wishes = get(x->job, "wishes"), *item, *string;
    cJSON_ArrayForEach(item, get(x->job, "musts"))
        add_term(x, (Term){.name = text_of(item, "id", ""), .what = MUST, .bends = true}, "must");
    for (int i = 0; i < 3; i++)
        cJSON_ArrayForEach(item, get(wishes, lists[i])) add_term(
            x, (Term){.name = item->valuestring, .what = KEEP + i, .bends = true}, lists[i]);
    for (int i = 0; i < 3; i++)
        if (get(get(wishes, "limits"), limits[i]))
            add_term(x, (Term){.name = limits[i], .what = LIMIT, .bends = true}, "limit");
    cJSON_ArrayForEach(item, get(x->job, "given")) cJSON_ArrayForEach(
        string, get(item, "strings")) if (!strcmp(string->valuestring, "must-use"))
        add_term(x, (Term){.name = text_of(item, "part", ""), .what = USE, .bends = true}, "use");
    if (!cJSON_IsTrue(get(x->job, "allow_unknown")))
        add_term(x, (Term){.name = "", .what = UNKNOWNS, .bends = true}, "unknown");
    add_term(x, (Term){.name = "", .what = BUDGET, .bends = true}, "budget");
}

/* The world forgets all of them; only their list remembers. */
static void load_without(Mending *x, const char *scenario) {
    World *w = x->w;
    w->dropped = hold(w, MOST_TERMS * sizeof *w->dropped);
    for (int i = 0; i < x->terms; i++)
        if (x->term[i].what != UNKNOWNS)
            w->dropped[w->droppings++] = x->term[i].text;
    load_world(w, scenario);
    make_choices(w);
    learn_today(w);
    for (int i = 0; i < w->rules; i++)
        if (w->rule[i].hard)
            add_term(
                x,
                (Term){.name = w->rule[i].id, .what = RULE, .rule = i, .bends = w->rule[i].bends},
                "rule");
}

/* ---- what a choice breaks ---- */

static bool any_kept(const World *w, const Choice *c, const char *part) {
    for (int i = 0; i < w->role[c->role].presents; i++)
        if (!strcmp(w->role[c->role].present[i].id, part) && c->kept[i] > 0)
            return true;
    return false;
}

static bool any_out(const World *w, const Choice *c, const char *part) {
    for (int i = 0; i < w->role[c->role].presents; i++)
        if (!strcmp(w->role[c->role].present[i].id, part) &&
            c->kept[i] < w->role[c->role].present[i].count)
            return true;
    return false;
}

static bool any_stays(const World *w, const Choice *c) {
    for (int i = 0; i < w->role[c->role].presents; i++)
        if (c->kept[i] > 0)
            return true;
    return false;
}

static bool breaks_must(const Mending *x, const Choice *c, const char *id) {
    const World *w = x->w;
    const cJSON *item;
    cJSON_ArrayForEach(item, get(x->job, "musts")) {
        const char *task = text_of(item, "do", NULL), *part = text_of(item, "replace", NULL);
        bool done = false;
        if (strcmp(text_of(item, "id", ""), id) != 0)
            continue;
        if (part && any_kept(w, c, part))
            return true;
        for (int i = 0; task && i < c->tasks; i++)
            done = done || c->task[i] == find_task(w, task);
        if (task && w->task[find_task(w, task)].role == c->role && !done)
            return true;
    }
    return false;
}

static bool buys(const World *w, const Choice *c, const char *name, bool makers) {
    for (int i = 0; i < c->lines; i++) {
        const Part *p = &w->part[c->line[i].listing->part];
        if (!strcmp(p->id, name) || (makers && !strcmp(p->maker, name)))
            return true;
    }
    return false;
}

static bool buys_late(const Mending *x, const Choice *c) {
    long long days = number_of(get(get(x->job, "wishes"), "limits"), "days", 0);
    for (int i = 0; i < c->lines; i++)
        if (c->line[i].listing->days > days)
            return true;
    return false;
}

static bool leaves_gift(const World *w, const Choice *c, const char *part) {
    if (w->part[find_part(w, part)].role != c->role)
        return false;
    for (int i = 0; i < c->lines; i++)
        if (c->line[i].listing->seller == w->sellers - 1 &&
            !strcmp(w->part[c->line[i].listing->part].id, part))
            return false;
    return true;
}

static bool breaks(const Mending *x, const Choice *c, const Term *t) {
    const World *w = x->w;
    bool role = !strcmp(w->role[c->role].id, t->name);
    switch (t->what) {
    case MUST:
        return breaks_must(x, c, t->name);
    case KEEP:
        return (role && c->changed) || any_out(w, c, t->name);
    case REPLACE:
        return (role && any_stays(w, c)) || any_kept(w, c, t->name);
    case AVOID:
        return buys(w, c, t->name, true);
    case LIMIT:
        return !strcmp(t->name, "days") && buys_late(x, c);
    case USE:
        return leaves_gift(w, c, t->name);
    default:
        return false;
    }
}

static void judge_choices(Mending *x) {
    World *w = x->w;
    x->broken = hold(w, (size_t)w->roles * sizeof *x->broken);
    for (int r = 0; r < w->roles; r++) {
        x->broken[r] = hold(w, (size_t)w->role[r].choices * sizeof **x->broken);
        for (int c = 0; c < w->role[r].choices; c++)
            for (int t = 0; t < x->terms; t++)
                if (breaks(x, &w->role[r].choice[c], &x->term[t]))
                    x->broken[r][c] |= one(t);
    }
}

/* ---- what a bundle breaks ---- */

static Set breaks_limits(const Mending *x, const Machine *m) {
    const World *w = x->w;
    const cJSON *limits = get(get(x->job, "wishes"), "limits");
    long long minutes, cost = cost_of(w, m, &minutes);
    double loud = sones(w, m);
    Set set = 0;
    for (int t = 0; t < x->terms; t++) {
        const Term *term = &x->term[t];
        bool broken = term->what == BUDGET && cost > w->budget;
        if (term->what == LIMIT && !strcmp(term->name, "bench_minutes"))
            broken = minutes > number_of(limits, "bench_minutes", 0);
        if (term->what == LIMIT && !strcmp(term->name, "loudness_sone"))
            broken = w->quiet.scored && loud > x->loud_today &&
                     loud > get(limits, "loudness_sone")->valuedouble;
        set |= broken ? one(t) : 0;
    }
    return set;
}

typedef struct Broken { /* rules that only their own dropping lets pass; those unsure */
    Set surely, unsure;
} Broken;

static Broken breaks_rules(const Mending *x, const Machine *m) {
    World *w = x->w;
    Broken b = {0, 0};
    for (int t = 0; t < x->terms; t++) {
        const Rule *r = &w->rule[x->term[t].rule];
        for (int p = 0; x->term[t].what == RULE && p < parts_of(r); p++) {
            if (!applies(w, r, m) || part_allows(w, r, p, m))
                continue;
            if (examine(w, r, p, m).how == UNSURE)
                b.unsure |= one(t);
            else
                b.surely |= one(t);
        }
    }
    b.unsure &= ~b.surely;
    return b;
}

static Set unknown_term(const Mending *x) {
    for (int t = 0; t < x->terms; t++)
        if (x->term[t].what == UNKNOWNS)
            return one(t);
    return 0;
}

static void add_way(Mending *x, Set way) {
    Ways *s = &x->ways;
    for (int i = 0; i < s->n; i++)
        if ((s->at[i] & ~way) == 0)
            return;
    for (int i = 0; i < s->n; i++)
        if ((way & ~s->at[i]) == 0)
            s->at[i--] = s->at[--s->n];
    s->at = grow(x->w, s->at, s->n, &s->room, sizeof *s->at);
    s->at[s->n++] = way;
}

/* The rest of the bundle breaks `way`; which place rules must go besides? */
static void add_places(Mending *x, const Machine *m, Set way) {
    World *w = x->w;
    int at[MOST_TERMS], n = 0;
    bool asks[256];
    if (w->rules > 256)
        stop(2, "more rules than the checker holds");
    who_asks(w, m, asks);
    for (int t = 0; t < x->terms; t++)
        if (x->term[t].what == RULE && asks[x->term[t].rule])
            at[n++] = t;
    if (n > 12)
        stop(3, "more place rules than the checker holds");
    for (int out = 0; out < 1 << n; out++) {
        Set set = way;
        for (int i = 0; i < n; i++) {
            asks[x->term[at[i]].rule] = !(out >> i & 1);
            set |= out >> i & 1 ? one(at[i]) : 0;
        }
        if (left_over(w, m, asks, w->spare) == 0)
            add_way(x, set);
    }
}

static void add_bundle(Mending *x, const Machine *m, Set wishes) {
    World *w = x->w;
    Set way = wishes | breaks_limits(x, m);
    /* Whatever more it breaks, something known is enough already. */
    for (int i = 0; i < x->ways.n; i++)
        if ((x->ways.at[i] & ~way) == 0)
            return;
    Broken b = breaks_rules(x, m);
    way |= b.surely;
    add_places(x, m, way | b.unsure);
    if (b.unsure && unknown_term(x) && !w->allow_unknown)
        add_places(x, m, way | unknown_term(x));
}

static void try_all(Mending *x, unsigned long long limit) {
    World *w = x->w;
    const Choice **at = hold(w, (size_t)w->roles * sizeof *at);
    unsigned long long all = 1;
    for (int r = 0; r < w->roles; r++) {
        unsigned long long n = (unsigned long long)w->role[r].choices;
        if (n && all > limit / n)
            stop(3, "more than %llu combinations", limit);
        all *= n;
        at[r] = w->role[r].today;
    }
    x->loud_today = sones(w, &(Machine){at});
    for (unsigned long long i = 0; i < all; i++) {
        unsigned long long number = i;
        Set wishes = 0;
        for (int r = 0; r < w->roles; r++) {
            unsigned long long n = (unsigned long long)w->role[r].choices;
            at[r] = &w->role[r].choice[number % n];
            wishes |= x->broken[r][number % n];
            number /= n;
        }
        add_bundle(x, &(Machine){at}, wishes);
    }
}

/* ---- the answer ---- */

static bool all_bend(const Mending *x, Set set) {
    for (int t = 0; t < x->terms; t++)
        if ((set & one(t)) && !x->term[t].bends)
            return false;
    return true;
}

static void print_set(const Mending *x, Set set) {
    bool first = true;
    putchar('[');
    for (int t = 0; t < x->terms; t++)
        if (set & one(t)) {
            printf("%s\"%s\"", first ? "" : ",", x->term[t].text);
            first = false;
        }
    putchar(']');
}

static int by_term(const void *a, const void *b) {
    return strcmp(((const Term *)a)->text, ((const Term *)b)->text);
}

int answer_mends(World *w, const char *scenario, unsigned long long limit) {
    Mending x = {.w = w};
    bool fits = false;
    x.job = open_json(w, scenario);
    list_wishes(&x);
    load_without(&x, scenario);
    qsort(x.term, (size_t)x.terms, sizeof *x.term, by_term);
    judge_choices(&x);
    try_all(&x, limit);
    printf("{\"terms\":[");
    for (int t = 0; t < x.terms; t++)
        printf("%s{\"term\":\"%s\",\"bends\":%s}", t ? "," : "", x.term[t].text,
               x.term[t].bends ? "true" : "false");
    printf("],\"sets\":[");
    for (int i = 0; i < x.ways.n; i++) {
        fits = fits || !x.ways.at[i];
        printf("%s{\"bends\":%s,\"terms\":", i ? "," : "",
               all_bend(&x, x.ways.at[i]) ? "true" : "false");
        print_set(&x, x.ways.at[i]);
        putchar('}');
    }
    printf("]}\n");
    return fits ? 0 : 1;
}

static bool is_cheapest(Hunt *h, const Found *f, const void *about) {
    (void)h;
    return f->cost == *(const long long *)about;
}

static bool is_within(Hunt *h, const Found *f, const void *about) {
    (void)about;
    return within(h, f);
}

static void score_by_today(Hunt *h) {
    World *w = h->w;
    h->baseline.at = hold(w, (size_t)w->roles * sizeof *h->baseline.at);
    for (int r = 0; r < w->roles; r++)
        h->baseline.at[r] = w->role[r].today;
    score_choices(w, &h->baseline);
    for (size_t i = 0; i < h->n; i++) {
        set_machine(w, h->found[i].number, h->at);
        h->found[i].points = score_of(w, &(Machine){h->at}, &h->baseline, NULL);
    }
}

int answer_drop(Hunt *h, unsigned long long limit) {
    bool budget = drops(h->w, "budget");
    long long least = 0;
    const Found *best = NULL;
    h->wide = budget;
    find_all(h, limit);
    score_by_today(h);
    for (size_t i = 0; i < h->n; i++)
        if (i == 0 || h->found[i].cost < least)
            least = h->found[i].cost;
    if (h->n)
        best = budget ? pick(h, is_cheapest, &least) : pick(h, is_within, NULL);
    printf("{\"obeys\":%s", best ? "true" : "false");
    if (best && budget) {
        printf(",\"least\":");
        money_print(h->w, least);
        printf(",\"total\":");
        money_print(h->w, least + h->w->set_aside);
    }
    if (best) {
        printf(",\"bundle\":{");
        print_bundle(h, best);
        putchar('}');
    }
    printf("}\n");
    return best ? 0 : 1;
}
