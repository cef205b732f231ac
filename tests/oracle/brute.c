/*
 * brute SCENARIO.json: tries every bundle there is, one by one, and prints the
 * best. Written from catalog/FORMATS.md alone, to check the program against.
 */
#include "doubt.h"
#include "fits.h"
#include "later.h"
#include "mends.h"
#include "options.h"
#include "shopping.h"
#include "stays.h"
#include "sure.h"
#include "why.h"
#include "work.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Options {
    const char *scenario, *from, *to, *judged, *machine;
    unsigned long long limit;
    bool all, curve, groups, sharp, sound, first, phases, options;
    int best, apart;
    Why why;
    char **fits; /* the parts that were named */
    int fitting;
    bool asks_fits, drop, mends;
    char **stays; /* changes of the job */
    int changes;
    Agreed agreed;        /* scenario NULL: nothing was */
    const char *extremes; /* weights in doubt */
    const char *sure;     /* by how many percent prices and estimates may be off: "5,10" */
    const char *before;   /* the job whose best bundle is looked for in this one */
} Options;

/* All points are still 0: least cost first, then the ties. */
void score_all(Hunt *h) {
    World *w = h->w;
    h->base = *pick(h, NULL, NULL);
    h->baseline.at = hold(w, (size_t)w->roles * sizeof *h->baseline.at);
    set_machine(w, h->base.number, h->baseline.at);
    score_choices(w, &h->baseline);
    for (size_t i = 0; i < h->n; i++) {
        set_machine(w, h->found[i].number, h->at);
        h->found[i].points = score_of(w, &(Machine){h->at}, &h->baseline, NULL);
    }
}

static bool is_within(Hunt *h, const Found *f, const void *about) {
    (void)about;
    return within(h, f);
}

static void print_best(Hunt *h) {
    h->best = *pick(h, is_within, NULL);
    putchar(',');
    print_bundle(h, &h->best);
    print_criteria(h, &h->best);
    printf(",\"baseline_cost\":");
    money_print(h->w, h->base.cost);
    printf(",\"baseline\":{");
    print_bundle(h, &h->base);
    putchar('}');
}

/* What the present machine and the best bundle sound like. */
static void print_sounds(Hunt *h) {
    World *w = h->w;
    for (int r = 0; r < w->roles; r++)
        h->at[r] = w->role[r].today;
    printf(",\"sound\":{\"now\":");
    print_sound(w, &(Machine){h->at});
    if (h->within) {
        set_machine(w, h->best.number, h->at);
        printf(",\"best\":");
        print_sound(w, &(Machine){h->at});
    }
    putchar('}');
}

/* Returns the exit code: 1 where nothing fits. */
static int print_answer(Hunt *h, const Options *o) {
    size_t steps = 0;
    if (h->n)
        score_all(h);
    printf("{\"status\":\"%s\"", h->within ? "optimal" : "nothing-fits");
    if (h->within)
        print_best(h);
    printf(",\"combinations\":%llu,\"feasible\":%zu", h->combinations, h->within);
    if (o->sound && h->w->quiet.scored)
        print_sounds(h);
    if (o->best)
        print_ranked(h, o->best, o->apart);
    if (o->groups && h->within)
        print_groups(h);
    if (o->groups)
        print_verdict(h);
    if (o->curve)
        steps = print_curve(h, o->from, o->to);
    if (o->changes && h->within)
        print_stays(h, o->stays, o->changes);
    if (o->before)
        print_stands(h, o->scenario, &(Before){o->before, o->limit});
    if (o->all)
        print_all(h);
    printf("}\n");
    return h->within || steps ? 0 : 1;
}

static int answer_why(Hunt *h, const Options *o) {
    if (h->n)
        score_all(h);
    if (!o->sharp)
        return print_why(h, &o->why);
    print_sharp(h);
    return 0;
}

static int count_in(const char *text) {
    char *end;
    long n = strtol(text, &end, 10);
    if (*end || n < 0 || n > 1000000)
        stop(2, "\"%s\" is no count", text);
    return (int)n;
}

/* An option with a value; false when it is none of these. */
static bool read_valued(World *w, Options *o, const char *name, const char *value) {
    if (!strcmp(name, "--budget"))
        w->budget_text = value;
    else if (!strcmp(name, "--limit"))
        o->limit = strtoull(value, NULL, 10);
    else if (!strcmp(name, "--without"))
        w->without = value;
    else if (!strcmp(name, "--best"))
        o->best = count_in(value);
    else if (!strcmp(name, "--apart"))
        o->apart = count_in(value);
    else if (!strcmp(name, "--from"))
        o->from = value;
    else if (!strcmp(name, "--to"))
        o->to = value;
    else if (!strcmp(name, "--why"))
        o->why.part = value;
    else if (!strcmp(name, "--judge"))
        o->judged = value;
    else if (!strcmp(name, "--work"))
        o->machine = value;
    else if (!strcmp(name, "--over"))
        o->why.over = value;
    else if (!strcmp(name, "--extremes"))
        o->extremes = value;
    else if (!strcmp(name, "--sure"))
        o->sure = value;
    else if (!strcmp(name, "--before"))
        o->before = value;
    else if (!strcmp(name, "--agreed"))
        o->agreed.scenario = value;
    else if (!strcmp(name, "--option"))
        o->agreed.option = count_in(value);
    else
        return false;
    return true;
}

/* What stands up to "--"; returns where it ended. */
static int read_listed(int argc, char **argv, int at, char ***out, int *n) {
    *out = argv + at + 1;
    while (++at < argc && strcmp(argv[at], "--") != 0)
        ++*n;
    return at;
}

static int read_lists(World *w, Options *o, int argc, char **argv, int at) {
    if (!strcmp(argv[at], "--fits")) {
        o->asks_fits = true;
        return read_listed(argc, argv, at, &o->fits, &o->fitting);
    }
    if (!strcmp(argv[at], "--stays"))
        return read_listed(argc, argv, at, &o->stays, &o->changes);
    if (strcmp(argv[at], "--drop") != 0)
        return at;
    o->drop = true;
    return read_listed(argc, argv, at, &w->dropped, &w->droppings);
}

static Options read_options(World *w, int argc, char **argv) {
    Options o = {.limit = 3000000};
    for (int i = 1; i < argc; i++) {
        int list = i;
        if ((i = read_lists(w, &o, argc, argv, i)) > list)
            continue;
        if (!strcmp(argv[i], "--mends"))
            o.mends = true;
        else if (!strcmp(argv[i], "--all"))
            o.all = true;
        else if (!strcmp(argv[i], "--first"))
            o.first = true;
        else if (!strcmp(argv[i], "--phases"))
            o.phases = true;
        else if (!strcmp(argv[i], "--options"))
            o.options = true;
        else if (!strcmp(argv[i], "--curve"))
            o.curve = true;
        else if (!strcmp(argv[i], "--groups"))
            o.groups = true;
        else if (!strcmp(argv[i], "--allow-unknown"))
            w->allow_unknown = true;
        else if (!strcmp(argv[i], "--each-price"))
            o.why.each_price = true;
        else if (!strcmp(argv[i], "--sound"))
            o.sound = true;
        else if (!strcmp(argv[i], "--sharp"))
            o.sharp = true;
        else if (i + 1 < argc && read_valued(w, &o, argv[i], argv[i + 1]))
            i++;
        else if (argv[i][0] != '-' && !o.scenario)
            o.scenario = argv[i];
        else
            stop(2, "\"%s\" is no option", argv[i]);
    }
    if (!o.scenario)
        stop(2, "brute SCENARIO.json [--budget M] [--limit N] [--first] [--options]"
                " [--phases [--judge ANSWER.json]] [--work MACHINE.json]"
                " [--all] [--best K] [--apart D]"
                " [--curve] [--from M] [--to M] [--groups] [--sound] [--without RULE]"
                " [--allow-unknown]"
                " [--why PART] [--over OTHER] [--each-price] [--sharp] [--mends] [--fits PART.. --]"
                " [--drop TERM.. --] [--stays CHANGE.. --] [--before SCENARIO.json]"
                " [--agreed SCENARIO.json --option N] [--extremes SPEED:3,QUIET:1;..]"
                " [--sure PRICES,ESTIMATES]");
    o.why.scenario = o.scenario;
    o.why.limit = o.agreed.limit = o.limit;
    return o;
}

static int answer(World *w, Hunt *h, const Options *o) {
    if (o->mends)
        return answer_mends(w, o->scenario, o->limit);
    if (o->phases)
        return answer_phases(w, o->scenario, o->judged, o->limit);
    if (o->agreed.scenario)
        return answer_shopping(w, o->scenario, &o->agreed);
    load_world(w, o->scenario);
    if (o->machine)
        return answer_work(w, o->machine);
    if (o->asks_fits) {
        make_todays(w);
        learn_today(w);
        return answer_fits(w, o->fits, o->fitting);
    }
    make_choices(w);
    learn_today(w);
    drop_rules(w);
    if (o->drop && !o->why.part)
        return answer_drop(h, o->limit);
    find_all(h, o->limit);
    if (o->first)
        return print_first(h);
    if (o->options)
        return answer_options(h);
    if (o->extremes) {
        if (h->n)
            score_all(h);
        return print_doubt(h, o->extremes);
    }
    if (o->sure) {
        if (h->n)
            score_all(h);
        return print_sure(h, o->sure);
    }
    return o->why.part || o->sharp ? answer_why(h, o) : print_answer(h, o);
}

int main(int argc, char **argv) {
    World w = {0};
    Options o = read_options(&w, argc, argv);
    Hunt h = {.w = &w,
              .wide = o.curve || o.groups || o.sharp || o.why.part || o.changes || o.before ||
                      o.options || o.sure};
    int code = answer(&w, &h, &o);
    free(h.found);
    drop_all(&w);
    return code;
}
