/*
 * Money in phases: every sequence of states there is, role by role and phase by phase,
 * tried one by one, and the one of the greatest value.
 */
#include "later.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_CHOICES = 2000 }; /* of one role, of which the states are looked up */

size_t number_of_states(const Later *l, const int *states, const int *from) {
    size_t number = 0;
    for (int r = l->u->roles - 1; r >= 0; r--)
        number =
            number * (size_t)l->states[r] + (size_t)(from && from[r] == states[r] ? 0 : states[r]);
    return number;
}

/* From today's without tasks anywhere; from today's with tasks to other parts. */
bool may_become(const Later *l, int role, int from, int to) {
    if (from == to || from == 0)
        return true;
    return !l->state[role][from]->changed && l->state[role][to]->changed;
}

static bool holds_new(const Choice *c, const char *part) {
    for (int i = 0; i < c->pieces; i++)
        if (!c->piece[i].kept && !strcmp(c->piece[i].id, part))
            return true;
    return false;
}

static bool uses_what_must(const Later *l, const int *states, int phase) {
    for (int i = 0; i < l->musts; i++) {
        const MustUse *m = &l->must[i];
        if (m->day < l->market[phase].day + l->market[phase].days &&
            !holds_new(l->state[m->role][states[m->role]], m->part))
            return false;
    }
    return true;
}

static bool obeys_all(const Later *l, const int *states) {
    World *u = l->u;
    for (int r = 0; r < u->roles; r++)
        if (states[r] == 0 && l->barred[r])
            return false;
    if (u->has_loudness && u->quiet.scored) {
        double loud = sones(u, &l->at);
        if (loud > u->loudness && loud > l->loud_today)
            return false;
    }
    return rules_allow(u, &l->at);
}

/* But for the strings, the same in every phase. */
bool machine_works(Later *l, const int *states, int phase) {
    size_t number = number_of_states(l, states, NULL);
    if (l->works[number] < 0) {
        for (int r = 0; r < l->u->roles; r++)
            l->at.at[r] = l->state[r][states[r]];
        l->works[number] = obeys_all(l, states);
        l->points[number] = score_of(l->u, &l->at, &l->base, NULL);
    }
    return l->works[number] && uses_what_must(l, states, phase);
}

long long points_of(Later *l, const int *states) {
    return l->points[number_of_states(l, states, NULL)];
}

Price price_of_change(Later *l, const int *from, const int *to, int phase) {
    Market *m = &l->market[phase];
    size_t number = number_of_states(l, to, from);
    if (number == 0)
        return (Price){.some = true};
    if (!m->priced[number]) {
        const Ways **bought = calloc((size_t)l->u->roles, sizeof *bought);
        if (!bought)
            stop(2, "no memory");
        for (int r = 0; r < l->u->roles; r++)
            if (to[r] != from[r])
                bought[r] = &m->ways[r][to[r]];
        m->price[number] = price_of(m->w, bought, true);
        m->priced[number] = true;
        free(bought);
    }
    l->slow_is_less = l->slow_is_less || m->price[number].slow_is_less;
    return m->price[number];
}

/* ---- every sequence ---- */

static void go_on(Later *l, int phase, int role, long long spent, long long value);

static void keep_best(Later *l, long long value) {
    if (l->any && value <= l->best_value)
        return;
    l->any = true;
    l->best_value = value;
    for (int k = 0; k < l->phases; k++)
        memcpy(l->best[k], l->path[k + 1], (size_t)l->u->roles * sizeof **l->best);
}

static void end_phase(Later *l, int phase, long long spent, long long value) {
    const Market *m = &l->market[phase];
    const int *states = l->path[phase + 1];
    if (++l->tried > l->limit)
        stop(3, "more than %llu sequences", l->limit);
    if (!machine_works(l, states, phase))
        return;
    Price p = price_of_change(l, l->path[phase], states, phase);
    if (!p.some || spent + p.cost > m->money)
        return;
    value += m->days * points_of(l, states);
    if (phase + 1 == l->phases)
        keep_best(l, value);
    else
        go_on(l, phase + 1, 0, spent + p.cost, value);
}

/* path[k + 1] is phase k; path[0] the machine as it is today. */
static void go_on(Later *l, int phase, int role, long long spent, long long value) {
    if (role == l->u->roles) {
        end_phase(l, phase, spent, value);
        return;
    }
    int from = l->path[phase][role];
    for (int to = 0; to < l->states[role]; to++) {
        if (!may_become(l, role, from, to) ||
            (to != from && l->market[phase].ways[role][to].n == 0))
            continue;
        l->path[phase + 1][role] = to;
        go_on(l, phase, role + 1, spent, value);
    }
}

/* ---- the tables ---- */

static bool is_met(const Later *l, int role, const char *key) {
    for (int s = 0; s < l->states[role]; s++)
        if (!strcmp(l->state[role][s]->key, key))
            return true;
    return false;
}

static bool is_to_be_had(const Later *l, int role, const char *key) {
    for (int k = 0; k < l->phases; k++) {
        const Role *r = &l->market[k].w->role[role];
        for (int i = 0; i < r->choices; i++)
            if (!strcmp(r->choice[i].key, key))
                return true;
    }
    return false;
}

static void list_states(Later *l, int role) {
    Role *r = &l->u->role[role];
    l->state[role] = hold(l->u, (size_t)(r->choices + 1) * sizeof **l->state);
    r->today->key = key_of(l->u, r->today);
    l->state[role][l->states[role]++] = r->today;
    l->barred[role] = true;
    if (r->choices > MOST_CHOICES)
        stop(3, "more than %d choices of a role", MOST_CHOICES);
    for (int i = 0; i < r->choices; i++) {
        Choice *c = &r->choice[i];
        if (!strcmp(c->key, r->today->key))
            l->barred[role] = false;
        else if (!is_met(l, role, c->key) && is_to_be_had(l, role, c->key))
            l->state[role][l->states[role]++] = c;
    }
}

static void list_ways(Later *l, Market *m) {
    m->ways = hold(l->u, (size_t)l->u->roles * sizeof *m->ways);
    for (int r = 0; r < l->u->roles; r++) {
        m->ways[r] = hold(l->u, (size_t)l->states[r] * sizeof **m->ways);
        for (int s = 1; s < l->states[r]; s++)
            m->ways[r][s] = ways_of(m->w, r, l->state[r][s]->key);
    }
    m->price = hold(l->u, l->machines * sizeof *m->price);
    m->priced = hold(l->u, l->machines * sizeof *m->priced);
}

static void make_tables(Later *l) {
    World *u = l->u;
    size_t roles = (size_t)u->roles;
    l->states = hold(u, roles * sizeof *l->states);
    l->state = hold(u, roles * sizeof *l->state);
    l->barred = hold(u, roles * sizeof *l->barred);
    l->machines = 1;
    for (int r = 0; r < u->roles; r++) {
        list_states(l, r);
        /* Rules are dear to ask; to go on from a machine that is known is not. */
        if (l->machines > l->limit / 20 / (size_t)l->states[r])
            stop(3, "more than %llu machines", l->limit / 20);
        l->machines *= (size_t)l->states[r];
    }
    l->works = hold(u, l->machines * sizeof *l->works);
    memset(l->works, -1, l->machines * sizeof *l->works);
    l->points = hold(u, l->machines * sizeof *l->points);
    for (int k = 0; k < l->phases; k++)
        list_ways(l, &l->market[k]);
    for (int i = 0; i < l->musts; i++)
        l->must[i].role = u->part[find_part(u, l->must[i].part)].role;
}

static void set_paths(Later *l) {
    l->path = hold(l->u, (size_t)(l->phases + 1) * sizeof *l->path);
    l->best = hold(l->u, (size_t)l->phases * sizeof *l->best);
    for (int k = 0; k <= l->phases; k++)
        l->path[k] = hold(l->u, (size_t)l->u->roles * sizeof **l->path);
    for (int k = 0; k < l->phases; k++)
        l->best[k] = hold(l->u, (size_t)l->u->roles * sizeof **l->best);
}

/* The baseline of the first phase, as a machine of all states. */
static void measure_against(Later *l, const Machine *baseline) {
    World *u = l->u;
    l->base.at = hold(u, (size_t)u->roles * sizeof *l->base.at);
    l->at.at = hold(u, (size_t)u->roles * sizeof *l->at.at);
    for (int r = 0; r < u->roles; r++) {
        l->at.at[r] = u->role[r].today;
        for (int s = 0; s < l->states[r]; s++)
            if (!strcmp(l->state[r][s]->key, baseline->at[r]->key))
                l->base.at[r] = l->state[r][s];
        if (!l->base.at[r])
            stop(2, "the baseline is no machine of the phases");
    }
    l->loud_today = sones(u, &l->at);
    score_choices(u, &l->base);
}

/* ---- in the program's shape ---- */

static long long print_purchase(Later *l, int phase) {
    const int *from = phase ? l->best[phase - 1] : l->path[0], *to = l->best[phase];
    const char *between = "";
    Price p = price_of_change(l, from, to, phase);
    if (number_of_states(l, to, from) == 0) {
        printf(",\"purchase\":null");
        return 0;
    }
    printf(",\"purchase\":{\"cost\":");
    money_print(l->u, p.cost);
    printf(",\"roles\":[");
    for (int r = 0; r < l->u->roles; r++)
        if (to[r] != from[r]) {
            printf("%s\"%s\"", between, l->u->role[r].id);
            between = ",";
        }
    printf("]}");
    return p.cost;
}

static void print_phases(Later *l) {
    long long spent = 0;
    printf(",\"value\":%lld,\"phases\":[", l->best_value);
    for (int k = 0; k < l->phases; k++) {
        const Market *m = &l->market[k];
        printf("%s{\"on\":\"%s\",\"until\":\"%s\",\"days\":%lld,\"money\":", k ? "," : "", m->on,
               m->until, m->days);
        money_print(l->u, m->money);
        spent += print_purchase(l, k);
        printf(",\"spent\":");
        money_print(l->u, spent);
        printf(",\"points\":");
        points_print(points_of(l, l->best[k]));
        printf(",\"stage\":{\"points\":");
        points_print(points_of(l, l->best[k]));
        putchar(',');
        for (int r = 0; r < l->u->roles; r++)
            l->at.at[r] = l->state[r][l->best[k][r]];
        print_changes(l->u, l->at.at);
        printf("}}");
    }
    putchar(']');
}

static int print_later(Later *l, Hunt *h, const char *judged) {
    if (h->n)
        go_on(l, 0, 0, 0, 0);
    printf("{\"status\":\"%s\",\"tried\":%llu,\"slow_is_less\":%s",
           l->any ? "optimal" : "nothing-fits", l->tried, l->slow_is_less ? "true" : "false");
    if (l->any)
        print_phases(l);
    printf(",\"greedy\":");
    if (h->n) {
        h->best = *pick(h, NULL, NULL);
        putchar('{');
        print_bundle(h, &h->best);
        putchar('}');
    } else {
        printf("null");
    }
    if (judged && h->n)
        judge_answer(l, judged);
    printf("}\n");
    return l->any ? 0 : 1;
}

/* A bundle's cost holds what the untouched machine is billed anyway; purchases do not,
 * and money is for them. */
static void count_untouched(Later *l) {
    World *w = l->market[0].w;
    const Choice **at = hold(w, (size_t)w->roles * sizeof *at);
    long long minutes;
    for (int r = 0; r < w->roles; r++)
        at[r] = w->role[r].today;
    w->budget += cost_of(w, &(Machine){at}, &minutes);
}

int answer_phases(World *u, const char *scenario, const char *judged, unsigned long long limit) {
    Later l = {.u = u, .limit = limit};
    load_all(u, scenario);
    l.job = u->job;
    l.phases = cJSON_GetArraySize(need(need(l.job, "phases"), "sums"));
    l.market = hold(u, (size_t)l.phases * sizeof *l.market);
    /* u's own strings are dropped; those of the file as it was written count. */
    l.musts = must_uses(u, open_json(u, scenario), &l.must);
    for (int k = 0; k < l.phases; k++)
        l.market[k] = open_market(u, scenario, k);
    make_tables(&l);
    set_paths(&l);
    Hunt h = {.w = l.market[0].w};
    count_untouched(&l);
    find_all(&h, limit);
    if (h.n) {
        score_all(&h);
        measure_against(&l, &h.baseline);
    }
    int code = print_later(&l, &h, judged);
    free(h.found);
    for (int k = 0; k < l.phases; k++)
        drop_all(l.market[k].w);
    return code;
}
