/*
 * Every set of groups is a stage: does it work, and what does it bring? Every set is a purchase:
 * what does it cost? Then the best order over all stages by dynamic programming: since the area of
 * an order is (points of everything) x horizon + the sum over its purchases of (points of the stage
 * before - points of everything) x cost, the best way to a stage does not depend on what follows.
 */
#include "answer/first.h"

#include <stdlib.h>
#include <string.h>

#include "answer/best.h"
#include "answer/buying.h"
#include "answer/stage.h"

typedef struct stage {
    bool works, reached;
    int64_t points;
    int64_t cost;    /* of the set bought at once */
    int64_t area;    /* of the best way to it: the sum of the head comment */
    unsigned before; /* the stage before it on that way */
    int purchases;   /* on that way */
} stage;

typedef struct ordering {
    sw_first *out;
    const sw_best *job;
    sw_program *program;
    int *group_of; /* [role] or SW_NONE */
    size_t count;  /* groups */
    stage *stages; /* [set] */
    int **choices; /* [set] as bought at once */
    sw_allowance allowance;
} ordering;

/* ---- the groups --------------------------------------------------------------------------------
 */

static sw_status name_groups(ordering *o) {
    sw_arena *arena = o->out->answer->arena;
    size_t roles = o->program->group_count;
    o->out->groups = SW_NEW(arena, sw_first_group, o->count);
    if (o->out->groups == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < roles; r++) {
        if (o->group_of[r] == SW_NONE)
            continue;
        sw_first_group *group = &o->out->groups[o->group_of[r]];
        const sw_role *role = &o->program->fitouts->catalog->roles[r];
        if (group->roles == NULL)
            group->roles = SW_NEW(arena, const char *, roles);
        if (group->role_names == NULL)
            group->role_names = SW_NEW(arena, const char *, roles);
        const char *id = sw_arena_copy(arena, role->id), *name = sw_arena_copy(arena, role->name);
        if (group->roles == NULL || group->role_names == NULL || id == NULL || name == NULL)
            return SW_NO_MEMORY;
        group->roles[group->role_count] = id;
        group->role_names[group->role_count++] = name;
        int base = o->program->picks[o->job->baseline.picks[r]].fitout;
        group->must = group->must || base != o->program->fitouts->present[r];
    }
    o->out->group_count = o->count;
    return SW_OK;
}

static sw_status find_groups(ordering *o) {
    size_t roles = o->program->group_count;
    o->group_of = SW_NEW(o->program->arena, int, roles);
    int *number = SW_NEW(o->program->arena, int, roles);
    if (o->group_of == NULL || number == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_hang_together(o->group_of, o->program, o->job->best.picks);
    for (size_t r = 0; r < roles && status == SW_OK; r++) {
        if (o->group_of[r] == SW_NONE)
            continue;
        if (o->group_of[r] == (int)r) {
            number[r] = (int)o->count;
            o->count += o->count < SW_FIRST_GROUPS_MOST ? 1 : 0;
            number[r] = number[r] < SW_FIRST_GROUPS_MOST ? number[r] : SW_FIRST_GROUPS_MOST - 1;
        }
        o->group_of[r] = number[o->group_of[r]];
    }
    return status == SW_OK ? name_groups(o) : status;
}

/* ---- stages and purchases ----------------------------------------------------------------------
 */

static bool has(const ordering *o, unsigned set, size_t role) {
    return o->group_of[role] != SW_NONE && (set >> o->group_of[role] & 1) != 0;
}

/* The machine in which the groups of the set are as in the bundle. */
static void fill_machine(const ordering *o, unsigned set, int *machine) {
    for (size_t r = 0; r < o->program->group_count; r++)
        machine[r] = has(o, set, r) ? o->program->picks[o->job->best.picks[r]].fitout
                                    : o->program->fitouts->present[r];
}

/* Minutes are those of one visit to the bench, and there may be several: not judged here. */
static sw_status judge(ordering *o, unsigned set, int *choices, int *picks) {
    sw_program *program = o->program;
    stage *of = &o->stages[set];
    sw_tally tally;
    int broken = SW_NONE;
    for (size_t r = 0; r < program->group_count; r++) {
        int present = program->fitouts->present[r];
        choices[r] = has(o, set, r) ? program->picks[o->job->best.picks[r]].choice
                                    : program->fitouts->fitouts[present].first_choice;
        if (!has(o, set, r) && !program->fitouts->fitouts[present].allowed)
            return SW_OK;
    }
    if (!sw_picks_of(picks, program, choices))
        return SW_OK;
    int64_t limit = program->minutes_limit;
    program->minutes_limit = -1;
    sw_status status = sw_program_check(&tally, &broken, program, picks);
    program->minutes_limit = limit;
    of->works = status == SW_OK && broken == SW_NONE;
    of->points = tally.points;
    return status;
}

static sw_status price(ordering *o, unsigned set, int *machine, int64_t untouched) {
    sw_purchase bought;
    fill_machine(o, set, machine);
    sw_status status = sw_buy(&bought, o->program, machine, -1, &o->allowance);
    if (status != SW_OK)
        return status;
    if (bought.early || !bought.found)
        o->out->settled = false;
    o->stages[set].cost = bought.total > untouched ? bought.total - untouched : 0;
    o->choices[set] = bought.choices;
    return SW_OK;
}

static sw_status look_at_all(ordering *o) {
    sw_program *program = o->program;
    size_t sets = (size_t)1 << o->count;
    sw_arena *arena = program->arena;
    int *machine = SW_NEW(arena, int, program->group_count);
    int *choices = SW_NEW(arena, int, program->group_count);
    int *picks = SW_NEW(arena, int, program->group_count);
    sw_purchase none;
    o->stages = SW_NEW(arena, stage, sets);
    o->choices = SW_NEW(arena, int *, sets);
    if (machine == NULL || choices == NULL || picks == NULL || o->stages == NULL ||
        o->choices == NULL)
        return SW_NO_MEMORY;
    fill_machine(o, 0, machine);
    sw_status status = sw_buy(&none, program, machine, -1, &o->allowance);
    for (unsigned set = 1; set < sets && status == SW_OK && o->out->settled; set++) {
        status = judge(o, set, choices, picks);
        if (status == SW_OK)
            status = price(o, set, machine, none.total);
        if (set % 64 == 0 && sw_time_is_up(&o->allowance))
            o->out->settled = false;
    }
    return status;
}

/* ---- the order ------------------------------------------------------------------------------- */

/* Rising numbers as lists: where they part, the smaller number comes first, and nothing before
 * something. */
static int compare_sets(unsigned a, unsigned b) {
    for (; a != 0 && b != 0; a &= a - 1, b &= b - 1) {
        unsigned low_a = a & -a, low_b = b & -b;
        if (low_a != low_b)
            return low_a < low_b ? -1 : 1;
    }
    return (a != 0) - (b != 0);
}

/* The purchases on the best way to `set`; returns how many. */
static int way_to(const ordering *o, unsigned set, unsigned *way) {
    int count = o->stages[set].purchases;
    for (int i = count; i-- > 0; set = o->stages[set].before)
        way[i] = set & ~o->stages[set].before;
    return count;
}

/* Does the way to `to` over `over` come before the one there is, both of the same area and length?
 */
static bool comes_first(const ordering *o, unsigned to, unsigned over) {
    unsigned old[SW_FIRST_GROUPS_MOST], new[SW_FIRST_GROUPS_MOST];
    int count = way_to(o, to, old), own = way_to(o, over, new);
    new[own] = to & ~over;
    for (int i = 0; i < count; i++) {
        int by = compare_sets(new[i], old[i]);
        if (by != 0)
            return by < 0;
    }
    return false;
}

static void reach(ordering *o, unsigned to, unsigned over, int64_t all) {
    stage *t = &o->stages[to];
    const stage *from = &o->stages[over];
    if (over != 0 && !from->reached)
        return;
    int64_t area = from->area + (from->points - all) * o->stages[to & ~over].cost;
    int purchases = from->purchases + 1;
    if (t->reached &&
        (area < t->area ||
         (area == t->area &&
          (purchases > t->purchases || (purchases == t->purchases && !comes_first(o, to, over))))))
        return;
    t->reached = true;
    t->area = area;
    t->before = over;
    t->purchases = purchases;
}

/* Stage 0 is today: no points before the first purchase. */
static void find_order(ordering *o) {
    unsigned sets = 1u << o->count;
    int64_t all = o->stages[sets - 1].points;
    for (unsigned to = 1; to < sets; to++) {
        if (!o->stages[to].works)
            continue;
        for (unsigned over = (to - 1) & to;; over = (over - 1) & to) {
            reach(o, to, over, all);
            if (over == 0)
                break;
        }
    }
}

/* ---- telling it ------------------------------------------------------------------------------ */

static sw_together why_together(const ordering *o, unsigned before, unsigned set, int64_t apart) {
    bool works = false;
    if ((set & (set - 1)) == 0)
        return SW_TOGETHER_ALONE;
    if (o->stages[set].cost == 0)
        return SW_TOGETHER_FREE;
    for (unsigned part = (set - 1) & set; part != 0; part = (part - 1) & set)
        works = works || o->stages[before | part].works;
    if (!works)
        return SW_TOGETHER_NEEDS;
    return apart > o->stages[set].cost ? SW_TOGETHER_SAVES : SW_TOGETHER_WORSE;
}

/* `choices`: as bought so far. */
static sw_status tell_purchase(ordering *o, unsigned before, unsigned set, int *choices,
                               int64_t *spent) {
    sw_first *out = o->out;
    sw_program *program = o->program;
    sw_first_purchase *p = &out->purchases[out->purchase_count++];
    int *groups = SW_NEW(out->answer->arena, int, o->count);
    int *picks = SW_NEW(program->arena, int, program->group_count);
    if (groups == NULL || picks == NULL)
        return SW_NO_MEMORY;
    p->groups = groups;
    for (size_t g = 0; g < o->count; g++)
        if ((set >> g & 1) != 0) {
            groups[p->group_count++] = (int)g;
            p->apart += out->groups[g].alone;
        }
    p->cost = o->stages[set].cost;
    p->spent = *spent += p->cost;
    p->together = why_together(o, before, set, p->apart);
    for (size_t r = 0; r < program->group_count; r++)
        if (has(o, set, r)) {
            choices[r] = o->choices[set][r];
            p->days = sw_days_of(program->fitouts, &program->fitouts->choices[choices[r]], p->days);
        }
    if (!sw_picks_of(picks, program, choices))
        return SW_INTERNAL;
    return sw_bundle_describe(&p->stage, out->answer, program, picks, o->job->baseline.picks);
}

static sw_status tell_order(ordering *o) {
    sw_first *out = o->out;
    unsigned all = (1u << o->count) - 1, way[SW_FIRST_GROUPS_MOST], before = 0;
    int64_t spent = 0;
    int count = way_to(o, all, way);
    int *choices = SW_NEW(o->program->arena, int, o->program->group_count);
    out->purchases = SW_NEW(out->answer->arena, sw_first_purchase, (size_t)count);
    if (choices == NULL || out->purchases == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < o->program->group_count; r++) {
        int present = o->program->fitouts->present[r];
        choices[r] = o->program->fitouts->fitouts[present].first_choice;
    }
    for (size_t g = 0; g < o->count; g++) {
        out->groups[g].alone = o->stages[1u << g].cost;
        out->horizon += out->groups[g].alone;
    }
    out->area = o->stages[all].points * out->horizon + o->stages[all].area;
    sw_status status = SW_OK;
    for (int i = 0; i < count && status == SW_OK; i++) {
        status = tell_purchase(o, before, way[i], choices, &spent);
        before |= way[i];
    }
    return status;
}

static sw_status order_all(sw_first *out, const sw_best *job, sw_allowance allowance) {
    ordering o = {.out = out, .job = job, .program = job->setup.program, .allowance = allowance};
    out->settled = true;
    sw_status status = find_groups(&o);
    if (status == SW_OK && o.count > 0)
        status = look_at_all(&o);
    if (status != SW_OK || o.count == 0 || !out->settled)
        return status;
    find_order(&o);
    return tell_order(&o);
}

sw_status sw_find_first(sw_first **out, const sw_scenario *scenario, bool allow_unknown,
                        sw_allowance allowance, sw_complaints *complaints) {
    sw_best job;
    sw_answer *answer = NULL;
    sw_status status = sw_best_find(&job, scenario, allow_unknown, NULL, allowance, complaints);
    if (status != SW_OK)
        return status;
    status = sw_best_tell(&answer, &job, scenario, &job.best);
    sw_first *first = status == SW_OK ? SW_NEW(answer->arena, sw_first, 1) : NULL;
    if (status == SW_OK && first == NULL)
        status = SW_NO_MEMORY;
    if (status == SW_OK) {
        first->answer = answer;
        first->has_threshold = scenario->worth_at_least_milli >= 0;
        first->settled = answer->status != SW_STOPPED_EARLY;
        if (answer->status == SW_OPTIMAL)
            status = order_all(first, &job, allowance);
    }
    sw_best_free(&job);
    if (status == SW_OK)
        *out = first;
    else
        sw_answer_free(answer);
    return status;
}

void sw_first_free(sw_first *first) {
    if (first != NULL)
        sw_answer_free(first->answer);
}

sw_answer_status sw_first_get_status(const sw_first *first) {
    return first->settled ? first->answer->status : SW_STOPPED_EARLY;
}
