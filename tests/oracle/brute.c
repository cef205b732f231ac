/*
 * brute SCENARIO.json: tries every bundle there is, one by one, and prints the
 * best. Written from catalog/FORMATS.md alone, to check the program against.
 */
#include "world.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Found {
    unsigned long long number; /* which combination */
    long long cost, points;
} Found;

typedef struct Hunt {
    World *w;
    Found *found;
    size_t n, room;
    unsigned long long combinations;
    const Choice **at;
    Found base, best;
} Hunt;

typedef struct Options {
    const char *scenario;
    unsigned long long limit;
    bool all, curve;
} Options;

static void set_machine(const World *w, unsigned long long number, const Choice **at) {
    for (int r = 0; r < w->roles; r++) {
        unsigned long long n = (unsigned long long)w->role[r].choices;
        at[r] = &w->role[r].choice[number % n];
        number /= n;
    }
}

static const Choice **machine_of(World *w, unsigned long long number) {
    const Choice **at = hold(w, (size_t)w->roles * sizeof *at);
    set_machine(w, number, at);
    return at;
}

static void count_combinations(Hunt *h, const Options *o) {
    h->combinations = 1;
    for (int r = 0; r < h->w->roles; r++) {
        unsigned long long n = (unsigned long long)h->w->role[r].choices;
        if (n && h->combinations > o->limit / n)
            stop(3, "more than %llu combinations", o->limit);
        h->combinations *= n;
    }
}

static void keep_found(Hunt *h, Found found) {
    if (h->n == h->room) {
        h->room = h->room ? h->room * 2 : 1024;
        Found *fresh = realloc(h->found, h->room * sizeof *fresh);
        if (!fresh)
            stop(2, "no memory");
        h->found = fresh;
    }
    h->found[h->n++] = found;
}

static bool obeys(const World *w, const Machine *m, double today, long long *cost) {
    long long minutes;
    *cost = cost_of(w, m, &minutes);
    if (*cost > w->budget || (w->has_bench && minutes > w->bench_minutes))
        return false;
    if (w->has_loudness && w->noise_fact >= 0) {
        double loud = sones(w, m);
        if (loud > w->loudness && loud > today)
            return false;
    }
    return rules_allow(w, m);
}

static void find_all(Hunt *h) {
    World *w = h->w;
    const Choice **today = hold(w, (size_t)w->roles * sizeof *today);
    for (int r = 0; r < w->roles; r++)
        today[r] = w->role[r].today;
    double loud_today = sones(w, &(Machine){today});
    Machine m = {h->at};
    for (unsigned long long i = 0; i < h->combinations; i++) {
        Found found = {.number = i};
        set_machine(w, i, h->at);
        if (obeys(w, &m, loud_today, &found.cost))
            keep_found(h, found);
    }
}

static int swaps_of(const World *w, const Choice **at) {
    int n = 0;
    for (int r = 0; r < w->roles; r++)
        n += at[r]->changed;
    return n;
}

static int tasks_of(const World *w, const Choice **at) {
    int n = 0;
    for (int r = 0; r < w->roles; r++)
        n += at[r]->tasks;
    return n;
}

/* Fewest swaps, fewest tasks, ids, sellers; roles stand in byte order already. */
static int by_ties(const World *w, const Choice **a, const Choice **b) {
    int d = swaps_of(w, a) - swaps_of(w, b);
    d = d ? d : tasks_of(w, a) - tasks_of(w, b);
    for (int r = 0; !d && r < w->roles; r++)
        d = strcmp(a[r]->key, b[r]->key);
    for (int r = 0; !d && r < w->roles; r++)
        d = strcmp(a[r]->from, b[r]->from);
    return d;
}

static bool better(Hunt *h, const Found *a, const Found *b, const Choice **x, const Choice **y) {
    if (a->points != b->points)
        return a->points > b->points;
    if (a->cost != b->cost)
        return a->cost < b->cost;
    set_machine(h->w, a->number, x);
    set_machine(h->w, b->number, y);
    return by_ties(h->w, x, y) < 0;
}

static Found pick(Hunt *h) {
    const Choice **x = hold(h->w, (size_t)h->w->roles * sizeof *x);
    const Choice **y = hold(h->w, (size_t)h->w->roles * sizeof *y);
    size_t best = 0;
    for (size_t i = 1; i < h->n; i++)
        if (better(h, &h->found[i], &h->found[best], x, y))
            best = i;
    return h->found[best];
}

static void print_out(const Role *r, const Choice *c) {
    bool first = true;
    printf("\"out\":[");
    for (int round = 0, last = -1; round < r->presents; round++) {
        int next = -1;
        for (int i = 0; i < r->presents; i++)
            if ((last < 0 || strcmp(r->present[i].id, r->present[last].id) > 0) &&
                (next < 0 || strcmp(r->present[i].id, r->present[next].id) < 0))
                next = i;
        last = next;
        if (c->kept[next] == r->present[next].count)
            continue;
        printf("%s{\"part\":\"%s\",\"count\":%d}", first ? "" : ",", r->present[next].id,
               r->present[next].count - c->kept[next]);
        first = false;
    }
    printf("],");
}

static void print_swaps(const World *w, const Choice **at) {
    bool first = true;
    printf("\"swaps\":[");
    for (int r = 0; r < w->roles; r++) {
        const Choice *c = at[r];
        if (!c->changed)
            continue;
        printf("%s{\"role\":\"%s\",", first ? "" : ",", w->role[r].id);
        print_out(&w->role[r], c);
        printf("\"in\":[");
        for (int i = 0; i < c->lines; i++) {
            const Line *line = &c->line[i];
            printf("%s{\"part\":\"%s\",\"seller\":\"%s\",\"count\":%d,\"price\":", i ? "," : "",
                   w->part[line->listing->part].id, w->seller[line->listing->seller].id,
                   line->count);
            money_print(w, line->listing->price * line->count);
            putchar('}');
        }
        printf("]}");
        first = false;
    }
    printf("],");
}

static int by_text(const void *a, const void *b) {
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static void print_tasks(World *w, const Choice **at) {
    int n = tasks_of(w, at), k = 0;
    const char **id = hold(w, (size_t)n * sizeof *id);
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < at[r]->tasks; i++)
            id[k++] = w->task[at[r]->task[i]].id;
    qsort(id, (size_t)n, sizeof *id, by_text);
    printf("\"tasks\":[");
    for (int i = 0; i < n; i++)
        printf("%s\"%s\"", i ? "," : "", id[i]);
    printf("]");
}

static void print_bundle(Hunt *h, const Machine *base) {
    World *w = h->w;
    const Choice **at = machine_of(w, h->best.number);
    long long *by = hold(w, (size_t)w->criteria * sizeof *by);
    bool first = true;
    score_of(w, &(Machine){at}, base, by);
    printf("\"points\":");
    points_print(h->best.points);
    printf(",\"cost\":");
    money_print(w, h->best.cost);
    printf(",\"criteria\":{");
    for (int i = 0; i < w->criteria; i++) {
        if (!w->criterion[i].weight)
            continue;
        printf("%s\"%s\":", first ? "" : ",", w->criterion[i].id);
        points_print(by[i]);
        first = false;
    }
    printf("},\"baseline_cost\":");
    money_print(w, h->base.cost);
    putchar(',');
    print_swaps(w, at);
    print_tasks(w, at);
}

static int by_cost(const void *a, const void *b) {
    const Found *x = a, *y = b;
    if (x->cost != y->cost)
        return x->cost < y->cost ? -1 : 1;
    return x->points > y->points ? -1 : x->points < y->points;
}

static int by_points(const void *a, const void *b) {
    const Found *x = a, *y = b;
    if (x->points != y->points)
        return x->points > y->points ? -1 : 1;
    return x->cost < y->cost ? -1 : x->cost > y->cost;
}

static void print_list(Hunt *h, const char *name, bool curve) {
    bool first = true;
    long long top = 0;
    qsort(h->found, h->n, sizeof *h->found, curve ? by_cost : by_points);
    printf(",\"%s\":[", name);
    for (size_t i = 0; i < h->n; i++) {
        const Found *f = &h->found[i];
        if (curve && !first && f->points <= top)
            continue;
        top = f->points;
        printf("%s{\"cost\":", first ? "" : ",");
        money_print(h->w, f->cost);
        printf(",\"points\":");
        points_print(f->points);
        putchar('}');
        first = false;
    }
    putchar(']');
}

static void print_answer(Hunt *h, const Options *o) {
    World *w = h->w;
    if (!h->n) {
        printf("{\"status\":\"nothing-fits\",\"combinations\":%llu,\"feasible\":0}\n",
               h->combinations);
        return;
    }
    h->base = pick(h); /* all points still 0: least cost first, then the ties */
    Machine base = {machine_of(w, h->base.number)};
    score_choices(w, &base);
    for (size_t i = 0; i < h->n; i++) {
        set_machine(w, h->found[i].number, h->at);
        h->found[i].points = score_of(w, &(Machine){h->at}, &base, NULL);
    }
    h->best = pick(h);
    printf("{\"status\":\"optimal\",");
    print_bundle(h, &base);
    printf(",\"combinations\":%llu,\"feasible\":%zu", h->combinations, h->n);
    if (o->curve)
        print_list(h, "steps", true);
    if (o->all)
        print_list(h, "bundles", false);
    printf("}\n");
}

static Options read_options(World *w, int argc, char **argv) {
    Options o = {.limit = 3000000};
    for (int i = 1; i < argc; i++) {
        bool more = i + 1 < argc;
        if (!strcmp(argv[i], "--all"))
            o.all = true;
        else if (!strcmp(argv[i], "--curve"))
            o.curve = true;
        else if (!strcmp(argv[i], "--allow-unknown"))
            w->allow_unknown = true;
        else if (more && !strcmp(argv[i], "--budget"))
            w->budget_text = argv[++i];
        else if (more && !strcmp(argv[i], "--limit"))
            o.limit = strtoull(argv[++i], NULL, 10);
        else if (more && !strcmp(argv[i], "--without"))
            w->without = argv[++i];
        else if (argv[i][0] != '-' && !o.scenario)
            o.scenario = argv[i];
        else
            stop(2, "\"%s\" is no option", argv[i]);
    }
    if (!o.scenario)
        stop(2, "brute SCENARIO.json [--budget M] [--limit N] [--all] [--curve] [--without RULE]"
                " [--allow-unknown]");
    return o;
}

int main(int argc, char **argv) {
    World w = {0};
    Options o = read_options(&w, argc, argv);
    Hunt h = {.w = &w};
    load_world(&w, o.scenario);
    make_choices(&w);
    count_combinations(&h, &o);
    learn_today(&w);
    h.at = hold(&w, (size_t)w.roles * sizeof *h.at);
    find_all(&h);
    print_answer(&h, &o);
    int code = h.n ? 0 : 1;
    free(h.found);
    drop_all(&w);
    return code;
}
