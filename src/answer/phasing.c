/* Branch and bound over the machines of the phases. */
#include "answer/phasing.h"

#include <stdlib.h>
#include <string.h>

#include "answer/buying.h"

/* What is barred in each phase, and the best of each phase by itself. */
typedef struct node {
    size_t roles, fitouts; /* a phase takes so many places in `machine` and in `barred` */
    bool *barred;          /* [phase][fit-out of `there`] */
    int *machine;          /* [phase][role] */
    int64_t *points;       /* [phase] no machine of it has more */
    bool *stale;           /* [phase] to be asked anew */
    int64_t bound;         /* of the node it was parted from: no plan in it has more value */
} node;

/* The phases before `level` are settled. */
typedef struct settled {
    size_t level;
    sw_phased plan; /* of the phases before */
    int64_t spent;
} settled;

static size_t roles_of(const sw_phasing *p) {
    return p->markets->there[0]->setup.program->group_count;
}

static const sw_fitouts *fitouts_of(const sw_phasing *p, size_t phase) {
    return p->markets->there[phase]->setup.fitouts;
}

static int64_t days_of(const sw_phasing *p, size_t phase) {
    return p->markets->scenario->phases[phase].days;
}

/* ---- nodes --------------------------------------------------------------------------------------
 */

static bool *barred_in(const node *n, size_t phase) { return n->barred + phase * n->fitouts; }

static int *machine_in(const node *n, size_t phase) { return n->machine + phase * n->roles; }

static void free_node(node *n) {
    free(n->barred);
    free(n->machine);
    free(n->points);
    free(n->stale);
    *n = (node){0};
}

static bool make_node(const sw_phasing *p, node *n, const node *like) {
    size_t count = p->markets->count, roles = roles_of(p), fitouts = 0;
    for (size_t k = 0; k < count; k++)
        if (fitouts < fitouts_of(p, k)->fitout_count)
            fitouts = fitouts_of(p, k)->fitout_count;
    /* A place to spare: of nothing, calloc may give NULL. */
    *n = (node){.roles = roles,
                .fitouts = fitouts,
                .barred = calloc(count * fitouts + 1, sizeof *n->barred),
                .machine = calloc(count * roles + 1, sizeof *n->machine),
                .points = calloc(count + 1, sizeof *n->points),
                .stale = calloc(count + 1, sizeof *n->stale),
                .bound = like == NULL ? INT64_MAX : like->bound};
    if (n->barred == NULL || n->machine == NULL || n->points == NULL || n->stale == NULL) {
        free_node(n);
        return false;
    }
    if (like == NULL) {
        for (size_t k = 0; k < count; k++)
            n->stale[k] = true;
        return true;
    }
    memcpy(n->barred, like->barred, count * fitouts * sizeof *n->barred);
    memcpy(n->machine, like->machine, count * roles * sizeof *n->machine);
    memcpy(n->points, like->points, count * sizeof *n->points);
    memcpy(n->stale, like->stale, count * sizeof *n->stale);
    return true;
}

static void bar(const sw_phasing *p, node *n, size_t phase, int fitout) {
    if (fitout == SW_NONE || barred_in(n, phase)[fitout])
        return;
    barred_in(n, phase)[fitout] = true;
    if (machine_in(n, phase)[fitouts_of(p, phase)->fitouts[fitout].role] == fitout)
        n->stale[phase] = true;
}

/* What a state may come from, and go to. */
typedef enum kind { BARE, WORKED_ON, CHANGED } kind;

static kind kind_of(const sw_fitout *fitout) {
    return fitout->changes ? CHANGED : fitout->task_count > 0 ? WORKED_ON : BARE;
}

/* May the role go from the first state to the other (of one phase's fit-outs) and not stay? */
static bool may_go(const sw_fitout *from, const sw_fitout *to) {
    kind a = kind_of(from), b = kind_of(to);
    return a == BARE || (a == WORKED_ON && b == CHANGED);
}

/* Bars what cannot be there in `phase` when the role is in state `fitout` (of that phase's;
 * SW_NONE: one that phase does not have) in a phase before it or after it. */
static void bar_others(const sw_phasing *p, node *n, size_t phase, int role, int fitout,
                       const sw_fitout *is, bool before) {
    const sw_fitouts *fitouts = fitouts_of(p, phase);
    for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++) {
        const sw_fitout *other = &fitouts->fitouts[f];
        if (f != fitout && !(before ? may_go(is, other) : may_go(other, is)))
            bar(p, n, phase, f);
    }
}

/* The role is in state `fitout` in `phase`. */
static void demand(const sw_phasing *p, node *n, size_t phase, int role, int fitout) {
    const sw_fitouts *fitouts = fitouts_of(p, phase);
    const sw_fitout *is = &fitouts->fitouts[fitout];
    for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++)
        if (f != fitout)
            bar(p, n, phase, f);
    for (size_t k = 0; k < p->markets->count; k++)
        if (k != phase)
            bar_others(p, n, k, role, sw_market_fitout(p->markets, phase, k, fitout), is,
                       k > phase);
}

/* The role is not in that state in `phase`. */
static void forbid(const sw_phasing *p, node *n, size_t phase, int fitout) {
    kind is = kind_of(&fitouts_of(p, phase)->fitouts[fitout]);
    bar(p, n, phase, fitout);
    for (size_t k = 0; k < p->markets->count; k++)
        if ((k < phase && is == CHANGED) || (k > phase && is == BARE))
            bar(p, n, k, sw_market_fitout(p->markets, phase, k, fitout));
}

/* ---- purchases ------------------------------------------------------------------------------- */

/* What goes from `before` (NULL: today) to `after`, bought in `phase`: false where it is not to be
 * had then or takes too long. */
static sw_status buy(bool *out, sw_phasing *p, size_t phase, const int *before, const int *after,
                     int64_t *cost, int **choices) {
    const sw_fitouts *there = fitouts_of(p, phase), *shop = p->markets->shop[phase]->setup.fitouts;
    sw_program *program = p->markets->shop[phase]->setup.program;
    *out = false;
    for (size_t r = 0; r < roles_of(p); r++) {
        bool stays = before != NULL ? before[r] == after[r] : after[r] == there->present[r];
        p->machine[r] = stays ? shop->present[r]
                        : there == shop
                            ? after[r]
                            : sw_fitout_with_key(shop, (int)r, there->fitouts[after[r]].key);
        if (p->machine[r] == SW_NONE)
            return SW_OK;
    }
    /* What the last question held is no matter here: all that changes is paid. */
    sw_purchase bought;
    const int *held = program->held;
    program->held = NULL;
    sw_status status = sw_buy(&bought, program, p->machine, p->minutes_limit, &p->allowance);
    program->held = held;
    *out = status == SW_OK && bought.found && !bought.early;
    p->early = p->early || (status == SW_OK && bought.early);
    if (!*out)
        return status;
    *cost = bought.total > p->untouched ? bought.total - p->untouched : 0;
    *choices = bought.choices;
    return SW_OK;
}

/* ---- asking one phase ------------------------------------------------------------------------ */

/* The states that the settled phases left, as fit-outs of `phase`; NULL: nothing was changed yet.
 */
static const int *held_in(sw_phasing *p, const settled *s, size_t phase) {
    if (s->level == 0)
        return NULL;
    const sw_fitouts *fitouts = fitouts_of(p, phase);
    const int *last = s->plan.machine[s->level - 1];
    for (size_t r = 0; r < roles_of(p); r++) {
        int state = sw_market_fitout(p->markets, s->level - 1, phase, last[r]);
        p->held[phase][r] = state == fitouts->present[r] ? SW_NONE : state;
    }
    return p->held[phase];
}

/* What one order may cost: the money left, what the untouched machine costs anyway, and what
 * parting it into several purchases may save: they count the untouched machine's charges off
 * each, and round their invoice taxes one by one. */
static int64_t limit_of(const sw_phasing *p, const settled *s, size_t phase) {
    int64_t left = p->markets->money[phase] - s->spent, more = (int64_t)(phase - s->level);
    bool rounded = p->markets->scenario->tax.per_invoice;
    return left + p->untouched * (more > 0 ? more + 2 : 1) + (rounded && more > 0 ? more + 1 : 0);
}

static sw_status ask_phase(bool *found, sw_phasing *p, const settled *s, node *n, size_t phase) {
    sw_program *program = p->markets->there[phase]->setup.program;
    bool *barred = calloc(program->pick_count + 1, sizeof *barred);
    sw_solution best;
    if (barred == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_program_hold(program, held_in(p, s, phase));
    for (size_t i = 0; i < program->pick_count; i++)
        barred[i] = barred_in(n, phase)[program->picks[i].fitout];
    program->minutes_limit = phase == s->level ? p->minutes_limit : -1;
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    request.barred = barred;
    request.limit = sw_bill_limit(p->markets->scenario, limit_of(p, s, phase));
    request.points_alone = phase != s->level;
    if (status == SW_OK)
        status = sw_solve(&best, program, &request, p->allowance, p->complaints);
    free(barred);
    if (status != SW_OK)
        return status;
    n->stale[phase] = false;
    *found = best.found || best.end == SW_END_EARLY;
    p->early = p->early || best.end == SW_END_EARLY;
    n->points[phase] = best.end == SW_END_EARLY ? best.bound : best.tally.points;
    for (size_t g = 0; g < roles_of(p); g++)
        machine_in(n, phase)[g] =
            best.found ? program->picks[best.picks[g]].fitout : fitouts_of(p, phase)->present[g];
    return SW_OK;
}

/* ---- a whole plan ---------------------------------------------------------------------------- */

static sw_status make_plan(sw_phased *plan, sw_phasing *p) {
    size_t count = p->markets->count;
    *plan = (sw_phased){.machine = SW_NEW(p->arena, int *, count),
                        .points = SW_NEW(p->arena, int64_t, count),
                        .cost = SW_NEW(p->arena, int64_t, count),
                        .choices = SW_NEW(p->arena, int *, count)};
    if (plan->machine == NULL || plan->points == NULL || plan->cost == NULL ||
        plan->choices == NULL)
        return SW_NO_MEMORY;
    for (size_t k = 0; k < count; k++) {
        plan->machine[k] = SW_NEW(p->arena, int, roles_of(p));
        if (plan->machine[k] == NULL)
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

static void copy_phase(const sw_phasing *p, sw_phased *to, const sw_phased *from, size_t phase) {
    memcpy(to->machine[phase], from->machine[phase], roles_of(p) * sizeof(int));
    to->points[phase] = from->points[phase];
    to->cost[phase] = from->cost[phase];
    to->choices[phase] = from->choices[phase];
}

static int64_t value_of(const sw_phasing *p, const int64_t *points, size_t from, size_t to) {
    int64_t sum = 0;
    for (size_t k = from; k < to; k++)
        sum += days_of(p, k) * points[k];
    return sum;
}

static void keep(sw_phasing *p, const sw_phased *plan) {
    int64_t value = value_of(p, plan->points, 0, p->markets->count);
    if (p->have && value <= p->best.value)
        return;
    for (size_t k = 0; k < p->markets->count; k++)
        copy_phase(p, &p->best, plan, k);
    p->best.value = value;
    p->have = true;
}

/* May each role go from the machine of `before` (NULL: today's) to this one? As fit-outs of
 * `phase`. */
static bool follows(const sw_phasing *p, size_t phase, const int *before, const int *after) {
    const sw_fitouts *fitouts = fitouts_of(p, phase);
    for (size_t r = 0; r < roles_of(p); r++) {
        int from = before != NULL ? before[r] : fitouts->present[r];
        if (from != after[r] &&
            (from == SW_NONE || !may_go(&fitouts->fitouts[from], &fitouts->fitouts[after[r]])))
            return false;
    }
    return true;
}

/* The machine of the phase before as fit-outs of `phase`, in `room`; NULL for the first phase. */
static const int *before_in(const sw_phasing *p, int *const *machine, size_t phase, int *room) {
    if (phase == 0)
        return NULL;
    for (size_t r = 0; r < roles_of(p); r++)
        room[r] = sw_market_fitout(p->markets, phase - 1, phase, machine[phase - 1][r]);
    return room;
}

/* Puts `machine` into the plan as its phase `phase`: false where it cannot follow or be paid. */
static sw_status settle(bool *out, sw_phasing *p, sw_phased *plan, size_t phase, const int *machine,
                        int64_t *spent) {
    int *room = calloc(roles_of(p) + 1, sizeof *room);
    *out = false;
    if (room == NULL)
        return SW_NO_MEMORY;
    const int *before = before_in(p, plan->machine, phase, room);
    sw_status status = SW_OK;
    if (follows(p, phase, before, machine))
        status = buy(out, p, phase, before, machine, &plan->cost[phase], &plan->choices[phase]);
    free(room);
    *out = *out && *spent + plan->cost[phase] <= p->markets->money[phase];
    if (!*out || status != SW_OK)
        return status;
    *spent += plan->cost[phase];
    memcpy(plan->machine[phase], machine, roles_of(p) * sizeof *machine);
    plan->points[phase] = sw_points(p->markets->there[phase]->setup.estimates, machine, NULL);
    return SW_OK;
}

/* ---- the tree -------------------------------------------------------------------------------- */

static sw_status explore(sw_phasing *p, const settled *s, node *n);

/* The best of each phase by itself: are they a plan together? */
static sw_status try_all(bool *whole, sw_phasing *p, const settled *s, const node *n) {
    sw_phased plan;
    int64_t spent = s->spent;
    sw_status status = make_plan(&plan, p);
    for (size_t k = 0; k < s->level && status == SW_OK; k++)
        copy_phase(p, &plan, &s->plan, k);
    *whole = true;
    for (size_t k = s->level; k < p->markets->count && status == SW_OK && *whole; k++)
        status = settle(whole, p, &plan, k, machine_in(n, k), &spent);
    if (status == SW_OK && *whole)
        keep(p, &plan);
    return status;
}

/* What the settled phases leave open in those that follow. */
static sw_status after(node *out, const sw_phasing *p, const settled *s) {
    if (!make_node(p, out, NULL))
        return SW_NO_MEMORY;
    for (size_t r = 0; r < roles_of(p) && s->level > 0; r++)
        demand(p, out, s->level - 1, (int)r, s->plan.machine[s->level - 1][r]);
    return SW_OK;
}

/* The machine of this phase is settled: on to those that follow. `greedily`: each takes its best at
 * once. `*value`: of the best plan found behind it, or -1. */
static sw_status go_on(sw_phasing *p, const settled *s, const int *machine, int64_t bound,
                       bool greedily, int64_t *value) {
    settled next = {.level = s->level + 1, .spent = s->spent};
    bool good = false;
    node n;
    sw_status status = make_plan(&next.plan, p);
    for (size_t k = 0; k < s->level && status == SW_OK; k++)
        copy_phase(p, &next.plan, &s->plan, k);
    if (status == SW_OK)
        status = settle(&good, p, &next.plan, s->level, machine, &next.spent);
    if (status != SW_OK || !good)
        return status;
    if (next.level == p->markets->count) {
        keep(p, &next.plan);
        if (value != NULL)
            *value = value_of(p, next.plan.points, 0, next.level);
        return SW_OK;
    }
    status = after(&n, p, &next);
    if (status != SW_OK)
        return status;
    n.bound = bound;
    if (greedily) {
        bool found = false;
        status = ask_phase(&found, p, &next, &n, next.level);
        if (status == SW_OK && found && !p->early)
            status = go_on(p, &next, machine_in(&n, next.level), bound, true, value);
    } else {
        status = explore(p, &next, &n);
    }
    free_node(&n);
    return status;
}

static int open_states(const sw_phasing *p, const node *n, size_t phase, size_t role) {
    const sw_program *program = p->markets->there[phase]->setup.program;
    const sw_group *group = &program->groups[role];
    int count = 0, last = SW_NONE;
    for (int i = group->first; i < group->first + group->count; i++) {
        int fitout = program->picks[i].fitout;
        if (fitout == last || barred_in(n, phase)[fitout])
            continue;
        last = fitout;
        count++;
    }
    return count;
}

/* The role of the phase to part the node by: one that the next phase would have otherwise, then
 * one that changes, then any; of these the dearest. SW_NONE: all are settled. */
static int role_to_part(const sw_phasing *p, const node *n, size_t phase) {
    const sw_fitouts *fitouts = fitouts_of(p, phase);
    int best = SW_NONE, best_rank = -1;
    int64_t best_cost = -1;
    for (size_t r = 0; r < roles_of(p); r++) {
        if (open_states(p, n, phase, r) < 2)
            continue;
        int state = machine_in(n, phase)[r];
        const sw_fitout *is = &fitouts->fitouts[state];
        int rank = kind_of(is) == BARE ? 0 : 1;
        if (phase + 1 < p->markets->count) {
            int there = sw_market_fitout(p->markets, phase, phase + 1, state);
            int then = machine_in(n, phase + 1)[r];
            const sw_fitouts *later = fitouts_of(p, phase + 1);
            if (there != then &&
                (there == SW_NONE || !may_go(&later->fitouts[there], &later->fitouts[then])))
                rank = 2;
        }
        int64_t cost = fitouts->choices[is->first_choice].cost;
        if (rank > best_rank || (rank == best_rank && cost > best_cost)) {
            best = (int)r;
            best_rank = rank;
            best_cost = cost;
        }
    }
    return best;
}

static void leave_open(sw_phasing *p, int64_t bound) {
    p->early = true;
    p->open = bound > p->open ? bound : p->open;
}

/* Asks the phases that changed. False: the node holds nothing that is wanted. */
static sw_status bound_node(bool *on, int64_t *bound, sw_phasing *p, const settled *s, node *n) {
    bool known = true;
    *on = true;
    for (size_t k = s->level; k < p->markets->count && *on; k++) {
        if (n->stale[k]) {
            sw_status status = ask_phase(on, p, s, n, k);
            if (status != SW_OK)
                return status;
        }
        known = known && n->points[k] < INT64_MAX;
    }
    *bound = !known || !*on ? INT64_MAX
                            : value_of(p, s->plan.points, 0, s->level) +
                                  value_of(p, n->points, s->level, p->markets->count);
    *on = *on && !(p->have && known && *bound <= p->best.value);
    return SW_OK;
}

static sw_status part(sw_phasing *p, const settled *s, const node *n, int role) {
    int state = machine_in(n, s->level)[role];
    sw_status status = SW_OK;
    for (int side = 0; side < 2 && status == SW_OK; side++) {
        node child;
        if (!make_node(p, &child, n))
            return SW_NO_MEMORY;
        if (side == 0)
            demand(p, &child, s->level, role, state);
        else
            forbid(p, &child, s->level, state);
        status = explore(p, s, &child);
        free_node(&child);
    }
    return status;
}

/* The depth is bounded by the states of all roles in all phases; each node bars some. */
static sw_status explore(sw_phasing *p, const settled *s, node *n) {
    bool on = true, whole = false;
    int64_t bound = n->bound;
    sw_status status = SW_OK;
    if (!p->early && !sw_time_is_up(&p->allowance))
        status = bound_node(&on, &bound, p, s, n);
    else
        p->early = true;
    if (status != SW_OK || !on)
        return status;
    n->bound = bound < n->bound ? bound : n->bound;
    if (p->early) {
        leave_open(p, n->bound);
        return SW_OK;
    }
    status = try_all(&whole, p, s, n);
    if (status != SW_OK || (whole && !p->early))
        return status;
    if (s->level + 1 < p->markets->count)
        status = go_on(p, s, machine_in(n, s->level), n->bound, true, NULL);
    if (status != SW_OK || (p->have && bound <= p->best.value))
        return status;
    int role = role_to_part(p, n, s->level);
    if (role != SW_NONE)
        return part(p, s, n, role);
    return go_on(p, s, machine_in(n, s->level), n->bound, false, NULL);
}

/* ---- the whole ------------------------------------------------------------------------------- */

/* A good plan to begin with: in all phases only what the last one, with all money, would hold. */
static sw_status begin(sw_phasing *p, const settled *s, const node *root) {
    size_t last = p->markets->count - 1;
    node n;
    if (!make_node(p, &n, root))
        return SW_NO_MEMORY;
    for (size_t k = 0; k < last; k++) {
        const sw_fitouts *fitouts = fitouts_of(p, k);
        for (size_t f = 0; f < fitouts->fitout_count; f++) {
            const sw_fitout *is = &fitouts->fitouts[f];
            if (is->changes &&
                sw_market_fitout(p->markets, k, last, (int)f) != machine_in(root, last)[is->role])
                bar(p, &n, k, (int)f);
        }
    }
    bool on = true;
    int64_t bound;
    sw_status status = bound_node(&on, &bound, p, s, &n);
    if (status == SW_OK && on && !p->early)
        status = go_on(p, s, machine_in(&n, 0), INT64_MAX, true, NULL);
    free_node(&n);
    return status;
}

sw_status sw_phasing_run(sw_phasing *p) {
    settled none = {0};
    node root;
    bool on = true;
    int64_t bound = INT64_MAX;
    p->open = INT64_MIN;
    p->greedy_value = -1;
    p->machine = SW_NEW(p->arena, int, roles_of(p));
    p->greedy = SW_NEW(p->arena, int, roles_of(p));
    p->held = SW_NEW(p->arena, int *, p->markets->count);
    sw_status status = p->machine == NULL || p->greedy == NULL || p->held == NULL
                           ? SW_NO_MEMORY
                           : make_plan(&p->best, p);
    for (size_t k = 0; k < p->markets->count && status == SW_OK; k++) {
        p->held[k] = SW_NEW(p->arena, int, roles_of(p));
        status = p->held[k] == NULL ? SW_NO_MEMORY : SW_OK;
    }
    if (status == SW_OK)
        status = make_plan(&none.plan, p);
    if (status != SW_OK)
        return status;
    if (!make_node(p, &root, NULL))
        return SW_NO_MEMORY;
    status = bound_node(&on, &bound, p, &none, &root);
    root.bound = bound;
    if (status == SW_OK && on && !p->early) {
        p->have_greedy = true;
        memcpy(p->greedy, machine_in(&root, 0), roles_of(p) * sizeof *p->greedy);
        status = go_on(p, &none, machine_in(&root, 0), INT64_MAX, true, &p->greedy_value);
    }
    if (status == SW_OK && on && !p->early && p->markets->count > 1)
        status = begin(p, &none, &root);
    if (status == SW_OK && on)
        status = explore(p, &none, &root);
    free_node(&root);
    return status;
}
