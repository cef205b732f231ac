/*
 * Counts for each pick the others of its group that are no dearer (whatever
 * charges come or go with them), no worse in every row and every term of the
 * points, and ahead of it in the order of ties. A pick with one ahead is not in
 * the best bundle; one with K different ahead is not in the K best: each of
 * them in its place gives another bundle that comes first. Likewise for bundles
 * that must differ in parts: of K with other parts, one is held by none of the
 * K - 1 bundles listed before. Exact, ties included.
 */
#include "program/stage.h"

#include <limits.h>

typedef struct presolve {
    const sw_program *program;
    uint64_t *member; /* [pick][word]: which sets of logical rows it is in */
    size_t words;
} presolve;

static size_t set_count(const sw_program *program) {
    size_t count = 0;
    for (size_t i = 0; i < program->not_all_count; i++)
        count += program->not_alls[i].count;
    return count;
}

static sw_status make_members(presolve *p, sw_arena *arena) {
    const sw_program *program = p->program;
    p->words = set_count(program) / 64 + 1;
    p->member = SW_NEW(arena, uint64_t, p->words * program->pick_count);
    if (p->member == NULL)
        return SW_NO_MEMORY;
    size_t bit = 0;
    for (size_t i = 0; i < program->not_all_count; i++)
        for (size_t s = 0; s < program->not_alls[i].count; s++, bit++) {
            const sw_set *set = &program->not_alls[i].sets[s];
            for (size_t k = 0; k < set->count; k++)
                p->member[(size_t)set->picks[k] * p->words + bit / 64] |= UINT64_C(1) << bit % 64;
        }
    return SW_OK;
}

/* Every logical row that `a` helps to break, `b` helps to break too. */
static bool fewer_sets(const presolve *p, int a, int b) {
    const uint64_t *x = &p->member[(size_t)a * p->words], *y = &p->member[(size_t)b * p->words];
    for (size_t w = 0; w < p->words; w++)
        if (x[w] & ~y[w])
            return false;
    return true;
}

static bool hits(const sw_set *set, int pick) {
    for (size_t i = 0; i < set->count; i++)
        if (set->picks[i] == pick)
            return true;
    return false;
}

static bool lower_sums(const sw_program *program, int a, int b) {
    int group = program->picks[a].group;
    for (size_t i = 0; i < program->sum_count; i++) {
        const sw_sum *sum = &program->sums[i];
        bool a_on = true, b_on = true;
        for (size_t w = 0; w < sum->when_count; w++)
            if (sum->when[w].group == group) {
                a_on = hits(&sum->when[w], a);
                b_on = hits(&sum->when[w], b);
            }
        if (a_on && (!b_on || sum->amount[a] > sum->amount[b]))
            return false;
    }
    return true;
}

static bool easier_to_place(const sw_program *program, int a, int b) {
    const sw_placing *placing = &program->placing;
    for (size_t t = 0; t < placing->thing_count; t++)
        if (placing->things[t].count[a] > placing->things[t].count[b])
            return false;
    /* Sites that take others away are no plain gain: they must be equal. */
    for (size_t s = 0; s < placing->site_count; s++) {
        int more = placing->sites[s].count[a] - placing->sites[s].count[b];
        if (more < 0 || (more > 0 && placing->sites[s].own))
            return false;
    }
    for (size_t r = 0; r < program->book->count && placing->silent != NULL; r++)
        if (placing->silent[r] != NULL && placing->silent[r][a] != placing->silent[r][b])
            return false;
    return true;
}

/* What `a` may cost above `b` through charges: those it brings that `b` does
 * not, and waivers that the goods of `b` might win. False when minutes differ
 * in a way that a limit could feel. */
static bool extra_charges(const sw_program *program, int a, int b, int64_t *extra) {
    *extra = 0;
    for (size_t d = 0; d < program->due_count; d++) {
        const sw_due *due = &program->dues[d];
        bool brings = due->due[a] && !due->due[b];
        if (brings && due->minutes > 0 && program->minutes_limit >= 0)
            return false;
        bool helps_less = due->goods != NULL && due->goods[a] < due->goods[b];
        if (brings || helps_less)
            *extra += due->amount;
    }
    return true;
}

/* What the picks add by themselves, at every weighting that may be. */
static bool more_added(const sw_program *program, int a, int b) {
    for (size_t e = 0; e < program->doubtful_count; e++)
        if (program->doubtful[e][a] < program->doubtful[e][b])
            return false;
    return program->doubtful != NULL || program->picks[a].points >= program->picks[b].points;
}

static bool more_points(const sw_program *program, int a, int b) {
    const sw_estimates *estimates = program->estimates;
    int fa = program->picks[a].fitout, fb = program->picks[b].fitout;
    if (!more_added(program, a, b))
        return false;
    for (size_t u = 0; u < program->least_count; u++)
        for (size_t s = 0; s < program->leasts[u].count; s++)
            if (program->leasts[u].stages[s].terms[fa] < program->leasts[u].stages[s].terms[fb])
                return false;
    if (!program->levelled)
        return true;
    return program->picks[a].noise <= program->picks[b].noise &&
           estimates->loss_milli[estimates->loss_class[fa]] >=
               estimates->loss_milli[estimates->loss_class[fb]];
}

/* Of two that do the same for the same money, is `a` first in the order? */
static bool ahead(const sw_program *program, int a, int b) {
    const sw_pick *x = &program->picks[a], *y = &program->picks[b];
    if (x->swaps != y->swaps)
        return x->swaps < y->swaps;
    if (x->tasks != y->tasks)
        return x->tasks < y->tasks;
    if (x->bundle_rank != y->bundle_rank)
        return x->bundle_rank < y->bundle_rank;
    return x->seller_rank < y->seller_rank;
}

static bool dominates(const presolve *p, int a, int b) {
    const sw_program *program = p->program;
    int64_t extra = 0;
    if (program->picks[a].cost > program->picks[b].cost || !more_points(program, a, b) ||
        (program->minutes_limit >= 0 && program->picks[a].minutes > program->picks[b].minutes) ||
        !extra_charges(program, a, b, &extra))
        return false;
    int64_t saved = program->picks[b].cost - program->picks[a].cost - extra;
    if (saved < 0 || (saved == 0 && !ahead(program, a, b)))
        return false;
    return fewer_sets(p, a, b) && lower_sums(program, a, b) && easier_to_place(program, a, b);
}

/* More than this is not counted: nobody asks for so many bundles. */
#define SW_AHEAD_MOST 64

/* Among unchanged parts only an unchanged one may stand for another: a question
 * may ask for what happens when the parts of a role stay. */
static bool stands_for(const presolve *p, int a, int b) {
    const sw_pick *x = &p->program->picks[a], *y = &p->program->picks[b];
    return a != b && !x->dropped && (y->swaps > 0 || x->swaps == 0) && dominates(p, a, b);
}

/* The same holding from a better seller: neighbours in the group. */
static void compare_sellers(const presolve *p, sw_program *program, const sw_group *group) {
    int end = group->first + group->count;
    for (int b = group->first; b < end; b++) {
        sw_pick *pick = &program->picks[b];
        int first = b, last = b;
        while (first > group->first && program->picks[first - 1].bundle_rank == pick->bundle_rank)
            first--;
        while (last + 1 < end && program->picks[last + 1].bundle_rank == pick->bundle_rank)
            last++;
        for (int a = first; a <= last && pick->ahead == 0; a++)
            if (stands_for(p, a, b))
                pick->ahead = pick->ahead_apart = INT_MAX;
    }
}

static void compare_holdings(const presolve *p, sw_program *program, const sw_group *group, int b) {
    sw_pick *pick = &program->picks[b];
    int bundle = SW_NONE, parts = SW_NONE, ahead = 0, apart = 0;
    bool same = false;
    for (int a = group->first; a < group->first + group->count; a++) {
        const sw_pick *other = &program->picks[a];
        if (other->ahead == INT_MAX || other->bundle_rank == bundle ||
            other->bundle_rank == pick->bundle_rank || !stands_for(p, a, b))
            continue;
        bundle = other->bundle_rank;
        ahead++;
        same = same || other->parts_rank == pick->parts_rank;
        apart += other->parts_rank != parts ? 1 : 0;
        parts = other->parts_rank;
        if (ahead >= SW_AHEAD_MOST && (same || apart >= SW_AHEAD_MOST))
            break;
    }
    pick->ahead = ahead;
    pick->ahead_apart = same ? INT_MAX : apart;
}

sw_status sw_program_presolve(sw_program *program) {
    presolve p = {.program = program};
    sw_status status = make_members(&p, program->arena);
    for (size_t g = 0; g < program->group_count && status == SW_OK; g++) {
        const sw_group *group = &program->groups[g];
        int end = group->first + group->count;
        for (int b = group->first; b < end; b++)
            program->picks[b].ahead = program->picks[b].ahead_apart = 0;
        compare_sellers(&p, program, group);
        for (int b = group->first; b < end; b++)
            if (!program->picks[b].dropped && program->picks[b].ahead == 0 &&
                program->picks[b].fitout != program->fitouts->present[g])
                compare_holdings(&p, program, group, b);
    }
    return status;
}

sw_status sw_program_reprice(sw_program *program, int group) {
    const sw_group *of = &program->groups[group];
    for (int b = of->first; b < of->first + of->count; b++)
        program->picks[b].ahead = program->picks[b].ahead_apart = 0;
    return sw_program_hold(program, program->held);
}
