/*
 * agree SCENARIO FIRST COUNT [--spoil]: draws random bundles of the scenario, whether the rules
 * allow them or not, and holds three ways to count against each other, to the last thousandth
 * and the last minor unit:
 *
 *   estimates  sw_points of the machine; the bill
 *   program    the integer program's own picks, leasts, levels and charges, added up here
 *   search     the features of its items, as its bounds read them
 *
 * and the rules: the rulebook's verdict on the machine against the rows of the program. With
 * --spoil one number of the program is altered first: every count must then differ somewhere.
 * Looks into the library: not one of the tests that know nothing of it.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "answer/setup.h"
#include "program/search.h"

typedef struct counted {
    int64_t points, cost;
    bool broken; /* by a row other than of places, which are judged elsewhere */
} counted;

static uint64_t state;

static uint64_t draw(uint64_t below) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return state % below;
}

/* ---- bundles ---------------------------------------------------------------------- */

/* A random choice a group; half of the groups keep what they have today. */
static bool draw_bundle(const sw_program *p, int *picks) {
    int machine[64], choices[64];
    for (size_t g = 0; g < p->group_count; g++) {
        const sw_group *group = &p->groups[g];
        if (group->count == 0)
            return false;
        int pick = group->first + (int)draw((uint64_t)group->count);
        if (draw(2) == 0)
            for (int k = group->first; k < group->first + group->count; k++)
                if (p->picks[k].fitout == p->fitouts->present[g]) {
                    pick = k;
                    break;
                }
        choices[g] = p->picks[pick].choice;
        machine[g] = p->picks[pick].fitout;
    }
    for (size_t g = 0; g < p->group_count; g++) {
        picks[g] = sw_pick_in(p, choices[g], machine);
        if (picks[g] == SW_NONE)
            return false;
    }
    return true;
}

/* ---- the program ---------------------------------------------------------------------- */

static bool hit(const sw_set *set, const int *picks) {
    for (size_t i = 0; i < set->count; i++)
        if (set->picks[i] == picks[set->group])
            return true;
    return false;
}

static int64_t dues(const sw_program *p, const int *picks) {
    int64_t sum = 0;
    for (size_t d = 0; d < p->due_count; d++) {
        const sw_due *due = &p->dues[d];
        bool any = due->always;
        int64_t goods = 0;
        for (size_t g = 0; g < p->group_count; g++) {
            any = any || due->due[picks[g]];
            goods += due->goods != NULL ? due->goods[picks[g]] : 0;
        }
        if (any && !(due->goods != NULL && goods >= due->free_from))
            sum += due->amount;
    }
    return sum;
}

static int64_t least_points(const sw_program *p, const int *picks, const sw_least *least) {
    int64_t worst = INT64_MAX;
    for (size_t s = 0; s < least->count; s++) {
        int64_t sum = least->stages[s].offset;
        for (size_t g = 0; g < p->group_count; g++)
            sum += least->stages[s].terms[p->picks[picks[g]].fitout];
        worst = sum < worst ? sum : worst;
    }
    return (worst < least->cap ? worst : least->cap) - least->base;
}

static int level_of(const sw_estimates *e, int64_t power) {
    int level = 0;
    while (level < e->level_count - 1 && e->level_power[level] < power)
        level++;
    return level;
}

static int class_of(const sw_program *p, const int *picks) {
    const sw_estimates *e = p->estimates;
    return e->loss_class[p->picks[picks[e->loss_role]].fitout];
}

static bool rows_broken(const sw_program *p, const int *picks) {
    for (size_t g = 0; g < p->group_count; g++)
        if (p->picks[picks[g]].dropped)
            return true;
    for (size_t i = 0; i < p->not_all_count; i++) {
        bool all = true;
        for (size_t s = 0; s < p->not_alls[i].count; s++)
            all = all && hit(&p->not_alls[i].sets[s], picks);
        if (all)
            return true;
    }
    for (size_t i = 0; i < p->sum_count; i++) {
        const sw_sum *sum = &p->sums[i];
        bool on = true;
        int64_t amount = 0;
        for (size_t w = 0; w < sum->when_count; w++)
            on = on && hit(&sum->when[w], picks);
        for (size_t g = 0; g < p->group_count; g++)
            amount += sum->in[g] ? sum->amount[picks[g]] : 0;
        if (on && amount > sum->limit)
            return true;
    }
    return false;
}

static counted by_program(const sw_program *p, const int *picks) {
    counted c = {
        .points = -p->points_base, .cost = dues(p, picks), .broken = rows_broken(p, picks)};
    int64_t power = 0;
    for (size_t g = 0; g < p->group_count; g++) {
        c.points += p->picks[picks[g]].points;
        c.cost += p->picks[picks[g]].cost;
        power += p->picks[picks[g]].noise;
    }
    for (size_t l = 0; l < p->least_count; l++)
        c.points += least_points(p, picks, &p->leasts[l]);
    if (p->levelled) {
        const sw_estimates *e = p->estimates;
        c.points += e->level_points[class_of(p, picks) * e->level_count + level_of(e, power)] -
                    e->level_base;
    }
    return c;
}

/* ---- the search ------------------------------------------------------------------------ */

static double feature(const sw_model *m, const int *items, int which) {
    double sum = 0;
    for (int g = 0; g < m->groups; g++)
        sum += m->feature[(size_t)items[g] * (size_t)m->features + (size_t)which];
    return sum;
}

static counted by_search(const sw_model *m, const int *items, const int *picks) {
    const sw_program *p = m->program;
    double points = feature(m, items, 1) - (double)p->points_base;
    counted c = {.cost = (int64_t)feature(m, items, 0) + dues(p, picks)};
    for (int u = 0; u < m->uses; u++) {
        double worst = m->cap[u];
        for (int s = m->use_first[u]; s < m->use_first[u + 1]; s++) {
            double value = m->offset[s] + feature(m, items, m->first_stage + s);
            worst = value < worst ? value : worst;
        }
        points += worst - m->use_base[u];
    }
    if (m->first_row > m->noise) {
        const sw_estimates *e = p->estimates;
        int level = level_of(e, (int64_t)feature(m, items, m->noise));
        points +=
            (double)(e->level_points[class_of(p, picks) * e->level_count + level] - e->level_base);
    }
    c.points = (int64_t)points;
    for (int g = 0; g < m->groups; g++)
        for (int h = 0; h < m->groups; h++) {
            const sw_word *row = &m->clash[(size_t)items[g] * (size_t)m->words];
            c.broken = c.broken || (row[items[h] / 64] >> (items[h] % 64) & 1) != 0;
        }
    return c;
}

/* Item of each pick; SW_NONE where the search leaves the pick out. */
static int *items_of(const sw_model *m, const sw_program *p) {
    int *out = calloc(p->pick_count, sizeof *out);
    for (size_t i = 0; out != NULL && i < p->pick_count; i++)
        out[i] = SW_NONE;
    for (int i = 0; out != NULL && i < m->items; i++)
        if (m->pick_of[i] != SW_NONE && sw_is_alive(m->root, i))
            out[m->pick_of[i]] = i;
    return out;
}

/* ---- one scenario ------------------------------------------------------------------------ */

typedef struct tally {
    long agreed, differed, searched, broken;
} tally;

static void say(const char *file, const char *what, long long a, long long b) {
    printf("FAILED %s: %s %lld, not %lld\n", file, what, b, a);
}

static sw_status one_bundle(tally *t, const char *file, const sw_program *p, const sw_model *m,
                            const int *item_of, const int *picks) {
    int machine[64], choices[64], items[64];
    bool searched = m != NULL;
    for (size_t g = 0; g < p->group_count; g++) {
        machine[g] = p->picks[picks[g]].fitout;
        choices[g] = p->picks[picks[g]].choice;
        items[g] = m != NULL ? item_of[picks[g]] : SW_NONE;
        searched = searched && items[g] != SW_NONE;
    }
    sw_tally bill;
    sw_bill(&bill, p, choices);
    counted told = {.points = sw_points(p->estimates, machine, NULL), .cost = bill.cost};
    counted rows = by_program(p, picks);
    bool good = told.points == rows.points && told.cost == rows.cost;
    if (told.points != rows.points)
        say(file, "the program's points", told.points, rows.points);
    if (told.cost != rows.cost)
        say(file, "the program's cost", told.cost, rows.cost);
    if (searched) {
        counted found = by_search(m, items, picks);
        t->searched++;
        if (found.points != told.points)
            say(file, "the search's points", told.points, found.points);
        if (found.cost != told.cost)
            say(file, "the search's cost", told.cost, found.cost);
        if (found.broken && !rows.broken)
            say(file, "pairs that clash in the search alone", 0, 1);
        good = good && found.points == told.points && found.cost == told.cost &&
               (!found.broken || rows.broken);
    }
    /* Rows are broken where a rule other than of places is, and nowhere else. */
    int broken = SW_NONE;
    sw_status status = sw_machine_judge(&broken, p->book, machine);
    bool forbidden = broken != SW_NONE && p->book->rules[broken].shape != SW_PLACE;
    bool placed = broken == SW_NONE || p->book->rules[broken].shape != SW_PLACE;
    t->broken += rows.broken;
    if (placed && forbidden != rows.broken) {
        say(file, "a rule broken by the rows", forbidden, rows.broken);
        good = false;
    }
    *(good ? &t->agreed : &t->differed) += 1;
    return status;
}

static sw_status draw_all(tally *t, const char *file, sw_program *p, long count) {
    sw_request request = sw_request_for(p, SW_AIM_BEST);
    bool *out_of_it = calloc(p->pick_count + 1, sizeof *out_of_it);
    sw_model *m = NULL;
    sw_status status =
        out_of_it == NULL ? SW_NO_MEMORY : sw_model_make(&m, p, &request, out_of_it, false);
    int *item_of = status == SW_OK && m != NULL ? items_of(m, p) : NULL;
    int picks[64];
    for (long i = 0, tries = 0; i < count && tries < 20 * count && status == SW_OK; tries++)
        if (draw_bundle(p, picks)) {
            status = one_bundle(t, file, p, m, item_of, picks);
            i++;
        }
    free(item_of);
    free(out_of_it);
    if (m != NULL)
        sw_arena_free(m->arena);
    return status;
}

static sw_status run(tally *t, const char *file, long count, bool spoil) {
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_setup setup = {0};
    sw_status status = sw_scenario_read(&scenario, file, NULL, complaints);
    if (status == SW_OK)
        status = sw_setup_make(&setup, scenario, scenario->allow_unknown, NULL, complaints);
    if (status == SW_OK)
        status = sw_setup_score(&setup, NULL);
    if (status == SW_OK && setup.program->group_count > 64)
        status = SW_INTERNAL;
    if (status == SW_OK && spoil)
        for (size_t i = 0; i < setup.program->pick_count; i++)
            setup.program->picks[i].points += 1;
    if (status == SW_OK)
        status = draw_all(t, file, setup.program, count);
    if (status != SW_OK)
        printf("FAILED %s: status %d\n", file, (int)status);
    sw_setup_free(&setup);
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
    return status;
}

int main(int argc, char **argv) {
    bool spoil = argc == 5 && strcmp(argv[4], "--spoil") == 0;
    if (argc < 4 || (argc > 4 && !spoil)) {
        fprintf(stderr, "agree SCENARIO SEED COUNT [--spoil]\n");
        return 64;
    }
    tally t = {0};
    state = strtoull(argv[2], NULL, 10) * 0x9E3779B97F4A7C15u + 88172645463325252u;
    sw_status status = run(&t, argv[1], strtol(argv[3], NULL, 10), spoil);
    printf("%ld agreed, %ld differed, %ld of them by the search too, %ld broke a row\n", t.agreed,
           t.differed, t.searched, t.broken);
    return status == SW_OK && t.differed == 0 ? 0 : 1;
}
