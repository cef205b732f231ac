/*
 * bundles SCENARIO FIRST COUNT [--spoil]: draws random bundles of the scenario, whether the rules
 * allow them or not, lets the library order their work, and holds the order against
 * catalog/FORMATS.md section 26 by plain code of its own:
 *
 *   - nothing goes on before what it hangs on is at hand, nothing comes off what still carries it;
 *   - what lies over something is off before it and on after it;
 *   - what goes and comes has its one action, what stays comes off only for a cause;
 *   - steps are those whose conditions hold, after and before what they say;
 *   - the minutes in the bill are those of the roles, tasks and charges;
 *   - with one swap deleted no action of it is left, nor any that it alone had caused.
 *
 * With --spoil the order is altered first, each time in another way: that must be noticed.
 * Looks into the library: not one of the tests that know nothing of it.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "answer/setup.h"
#include "answer/work.h"

static uint64_t state;

static uint64_t draw(uint64_t below) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return state % below;
}

typedef struct judging {
    const sw_fitouts *fitouts;
    const sw_bench_form *form;
    const int *machine;
    const sw_work *work;
    const char *wrong; /* what was found first */
} judging;

static size_t role_count(const judging *j) { return j->fitouts->catalog->role_count; }

static void fault(judging *j, const char *what) {
    if (j->wrong == NULL)
        j->wrong = what;
}

/* ---- what holds in a machine ------------------------------------------------------------- */

static bool maybe(const judging *j, const int *machine, const sw_cond *cond) {
    const sw_fitout *of = cond->role == SW_NONE ? NULL : &j->fitouts->fitouts[machine[cond->role]];
    return sw_cond_truth(j->fitouts, cond, of) != SW_FALSE;
}

static bool every(const judging *j, const int *machine, const sw_cond *conds, size_t count) {
    bool all = true;
    for (size_t i = 0; i < count; i++)
        all = all && maybe(j, machine, &conds[i]);
    return all;
}

static bool some(const judging *j, const int *machine, const sw_cond *conds, size_t count) {
    bool any = count == 0;
    for (size_t i = 0; i < count; i++)
        any = any || maybe(j, machine, &conds[i]);
    return any;
}

static bool lies_over(const judging *j, const int *machine, int role, int under) {
    for (size_t c = 0; c < j->form->cover_count; c++)
        if (j->form->covers[c].role == role && j->form->covers[c].over == under &&
            every(j, machine, j->form->covers[c].when, j->form->covers[c].when_count))
            return true;
    return false;
}

static bool task_done(const judging *j, int task) {
    const sw_fitout *of = &j->fitouts->fitouts[j->machine[j->fitouts->catalog->tasks[task].role]];
    for (int t = 0; t < of->task_count; t++)
        if (of->tasks[t] == task)
            return true;
    return false;
}

static bool charge_due(const judging *j, int charge) {
    const sw_charge *of = &j->fitouts->catalog->charges[charge];
    return some(j, j->machine, of->any, of->any_count);
}

static bool something_changes(const judging *j) {
    for (size_t r = 0; r < role_count(j); r++)
        if (j->machine[r] != j->fitouts->present[r])
            return true;
    return false;
}

static bool step_stands(const judging *j, const sw_step *step) {
    return something_changes(j) && some(j, j->machine, step->any, step->any_count) &&
           every(j, j->machine, step->all, step->all_count) &&
           every(j, j->fitouts->present, step->was, step->was_count) &&
           (step->task == SW_NONE || task_done(j, step->task)) &&
           (step->charge == SW_NONE || charge_due(j, step->charge));
}

/* ---- what hangs on what -------------------------------------------------------------------- */

static bool has_kind(const judging *j, int part, const char *kind) {
    for (size_t f = 0; f < j->fitouts->catalog->fact_count; f++) {
        const sw_value *value = &j->fitouts->scenario->parts[part].values[f];
        for (size_t i = 0;
             j->fitouts->catalog->facts[f].type == SW_THINGS && i < value->thing_count; i++)
            if (strcmp(value->things[i].kind, kind) == 0)
                return true;
    }
    return false;
}

static bool hangs(const judging *j, const int *machine, const sw_item *item, size_t on) {
    int mount = j->form->mount_of[item->role];
    bool named = false;
    if (mount == SW_NONE || j->fitouts->fitouts[machine[on]].pieces == 0 || (int)on == item->role)
        return false;
    const sw_mount *of = &j->form->mounts[mount];
    for (size_t i = 0; i < of->on_count; i++)
        named = named || (size_t)of->on[i] == on;
    for (size_t i = 0; i < of->site_count; i++)
        named =
            named || ((size_t)of->sites[i].of == on && has_kind(j, item->part, of->sites[i].kind));
    return named;
}

static bool hangs_ever(const judging *j, const sw_item *item, size_t on) {
    return (item->way != SW_COMES && hangs(j, j->fitouts->present, item, on)) ||
           (item->way != SW_GOES && hangs(j, j->machine, item, on));
}

static bool rides(const judging *j, const sw_item *item) {
    size_t count = 0, carrier = 0;
    int own = j->form->mount_of[item->role];
    for (size_t r = 0; r < role_count(j); r++)
        if (hangs_ever(j, item, r)) {
            count++;
            carrier = r;
        }
    if (own == SW_NONE || !j->form->mounts[own].rides || count != 1)
        return false;
    int under = j->form->mount_of[carrier];
    return under != SW_NONE &&
           j->form->mounts[under].on_count + j->form->mounts[under].site_count > 0;
}

/* ---- places in the order --------------------------------------------------------------------- */

static long place(const judging *j, size_t item, sw_does does) {
    for (size_t n = 0; n < j->work->action_count; n++)
        if (j->work->actions[n].item == (int)item && j->work->actions[n].does == does)
            return (long)n;
    return -1;
}

static long off_of(const judging *j, size_t item) {
    long out = place(j, item, SW_TAKE_OUT);
    return out >= 0 ? out : place(j, item, SW_TAKE_OFF);
}

static long on_of(const judging *j, size_t item) {
    long out = place(j, item, SW_FIT);
    return out >= 0 ? out : place(j, item, SW_PUT_BACK);
}

static size_t times(const judging *j, size_t item, sw_does does) {
    size_t count = 0;
    for (size_t n = 0; n < j->work->action_count; n++)
        count += j->work->actions[n].item == (int)item && j->work->actions[n].does == does;
    return count;
}

/* `early` before `late`, where both are there. */
static void in_order(judging *j, long early, long late, const char *what) {
    if (early >= 0 && late >= 0 && early > late)
        fault(j, what);
}

/* ---- checks ------------------------------------------------------------------------------------
 */

/* The pieces of the two machines, against the items: none lost, none invented. */
static void check_pieces(judging *j) {
    const sw_scenario *scenario = j->fitouts->scenario;
    int balance = 0, pieces = 0;
    for (size_t r = 0; r < role_count(j); r++) {
        pieces += j->fitouts->fitouts[j->machine[r]].pieces;
        for (size_t i = 0; i < scenario->machine_count[r]; i++)
            balance += scenario->machine[r][i].count;
    }
    for (size_t i = 0; i < j->work->item_count; i++) {
        const sw_item *item = &j->work->items[i];
        balance -= item->way == SW_COMES ? 0 : item->count;
        pieces -= item->way == SW_GOES ? 0 : item->count;
    }
    if (balance != 0 || pieces != 0)
        fault(j, "the items are not the pieces of the machines");
}

static void check_actions(judging *j) {
    for (size_t i = 0; i < j->work->item_count; i++) {
        const sw_item *item = &j->work->items[i];
        size_t out = times(j, i, SW_TAKE_OUT), off = times(j, i, SW_TAKE_OFF);
        size_t back = times(j, i, SW_PUT_BACK), fit = times(j, i, SW_FIT);
        bool leaves = item->leaves_with != SW_NONE;
        if (item->way == SW_GOES && (out != (leaves ? 0U : 1U) || off + back + fit > 0))
            fault(j, "what goes is not taken out once");
        if (item->way == SW_COMES && (fit != 1 || out + off + back > 0))
            fault(j, "what comes is not fitted once");
        if (item->way == SW_STAYS && (off != back || off > 1 || out + fit > 0))
            fault(j, "what stays does not come off and go back once");
        if (leaves && (!rides(j, item) || j->work->items[item->leaves_with].way != SW_GOES))
            fault(j, "it leaves with what does not carry it");
        for (size_t k = 0; k < j->work->item_count; k++)
            if (j->work->items[k].role == item->role && k != i)
                in_order(j, off_of(j, i), on_of(j, k), "an on before an off of its role");
        in_order(j, off_of(j, i), on_of(j, i), "on before off");
    }
}

static void check_hanging(judging *j) {
    for (size_t i = 0; i < j->work->item_count; i++) {
        const sw_item *item = &j->work->items[i];
        bool riding = rides(j, item);
        for (size_t k = 0; k < j->work->item_count; k++) {
            size_t on = (size_t)j->work->items[k].role;
            if (hangs(j, j->machine, item, on) && item->way != SW_GOES && on_of(j, i) >= 0) {
                long hand = place(j, k, SW_LAY_OUT) >= 0 ? place(j, k, SW_LAY_OUT)
                                                         : place(j, k, SW_TAKE_OFF);
                if (riding && j->work->items[k].way == SW_COMES && place(j, k, SW_LAY_OUT) < 0)
                    fault(j, "what it rides on was never laid ready");
                if (riding)
                    in_order(j, hand, on_of(j, i), "on before what it rides on is at hand");
                in_order(j, riding ? on_of(j, i) : on_of(j, k), riding ? on_of(j, k) : on_of(j, i),
                         "on before what it hangs on");
            }
            if (hangs(j, j->fitouts->present, item, on) && item->way != SW_COMES)
                in_order(j, riding ? off_of(j, k) : off_of(j, i),
                         riding ? off_of(j, i) : off_of(j, k), "what carries it came off first");
        }
    }
}

static void check_covers(judging *j) {
    for (size_t i = 0; i < j->work->item_count; i++)
        for (size_t k = 0; k < j->work->item_count; k++) {
            int over = j->work->items[i].role, under = j->work->items[k].role;
            if (lies_over(j, j->fitouts->present, over, under))
                in_order(j, off_of(j, i), off_of(j, k), "what lies over it was not off");
            if (lies_over(j, j->machine, over, under))
                in_order(j, on_of(j, k), on_of(j, i), "what lies over it was on first");
        }
}

/* ---- steps
 * ---------------------------------------------------------------------------------------- */

static bool is_meant(const judging *j, const sw_action *action, const sw_step_ref *ref) {
    bool off = action->does == SW_TAKE_OUT || action->does == SW_TAKE_OFF;
    bool on = action->does == SW_FIT || action->does == SW_PUT_BACK;
    if (ref->kind == SW_REF_STEP)
        return action->does == SW_STEP && action->step == ref->index;
    return (ref->kind == SW_REF_OFF ? off : on) &&
           (ref->index == SW_EVERY_ROLE || ref->index == j->work->items[action->item].role);
}

static void check_step(judging *j, size_t at) {
    const sw_action *action = &j->work->actions[at];
    const sw_step *step = &j->form->steps[action->step];
    for (size_t n = 0; n < j->work->action_count; n++) {
        const sw_action *other = &j->work->actions[n];
        for (size_t i = 0; i < step->after_count && other->stage == action->stage; i++)
            if (is_meant(j, other, &step->after[i]))
                in_order(j, (long)n, (long)at, "a step before what it comes after");
        for (size_t i = 0; i < step->before_count && other->stage == action->stage; i++)
            if (is_meant(j, other, &step->before[i]))
                in_order(j, (long)at, (long)n, "a step after what it comes before");
    }
    for (size_t i = 0; i < j->work->item_count; i++) {
        int role = j->work->items[i].role;
        for (size_t k = 0; k < step->lift_count; k++)
            if (step->lifts[k] == role) {
                in_order(j, off_of(j, i), (long)at, "a step before what it lifts is off");
                in_order(j, (long)at, on_of(j, i), "a step after what it lifts is on");
                if (j->work->items[i].way == SW_STAYS && off_of(j, i) < 0)
                    fault(j, "a step lifts what never came off");
            }
        for (size_t k = 0; k < step->reach_count; k++) {
            if (lies_over(j, j->fitouts->present, role, step->reaches[k]))
                in_order(j, off_of(j, i), (long)at, "a step before what lies over it is off");
            if (lies_over(j, j->machine, role, step->reaches[k]))
                in_order(j, (long)at, on_of(j, i), "a step after what lies over it is on");
        }
    }
}

static void check_steps(judging *j) {
    int stage = 0;
    for (size_t s = 0; s < j->form->step_count; s++) {
        size_t found = 0;
        for (size_t n = 0; n < j->work->action_count; n++)
            found += j->work->actions[n].step == (int)s;
        if (found != (step_stands(j, &j->form->steps[s]) ? 1U : 0U))
            fault(j, "a step without its conditions, or none with them");
    }
    for (size_t n = 0; n < j->work->action_count; n++) {
        const sw_action *action = &j->work->actions[n];
        if (action->stage < stage ||
            (action->item != SW_NONE && action->stage != j->form->machine_stage))
            fault(j, "the stages do not follow each other");
        stage = action->stage;
        if (action->step != SW_NONE)
            check_step(j, n);
    }
}

static void check_minutes(judging *j) {
    const sw_catalog *catalog = j->fitouts->catalog;
    int64_t bill = 0, told = 0, all = 0;
    for (size_t r = 0; r < catalog->role_count; r++)
        bill += j->fitouts->fitouts[j->machine[r]].changes ? catalog->roles[r].minutes : 0;
    for (size_t t = 0; t < catalog->task_count; t++)
        bill += task_done(j, (int)t) ? catalog->tasks[t].minutes : 0;
    for (size_t c = 0; c < catalog->charge_count; c++)
        bill += charge_due(j, (int)c) ? catalog->charges[c].minutes : 0;
    for (size_t n = 0; n < j->work->action_count; n++) {
        told += j->work->actions[n].billed ? j->work->actions[n].minutes : 0;
        all += j->work->actions[n].minutes;
    }
    if (told != bill || j->work->billed != bill || j->work->beside != all - told)
        fault(j, "the minutes in the bill are not those of the bill");
}

/* ---- causes
 * ----------------------------------------------------------------------------------------- */

static bool comes_off(const judging *j, const bool *off, int role) {
    for (size_t i = 0; i < j->work->item_count; i++)
        if (off[i] && j->work->items[i].role == role)
            return true;
    return false;
}

/* What must come off, spread from the causes outward until nothing more is reached. */
static void check_causes(judging *j) {
    size_t roles = role_count(j), items = j->work->item_count;
    bool *worked = calloc(roles, sizeof *worked), *off = calloc(items, sizeof *off);
    bool *asked = calloc(roles, sizeof *asked), *reached = calloc(roles, sizeof *reached);
    bool more = true;
    if (worked == NULL || off == NULL || asked == NULL || reached == NULL) {
        fault(j, "no memory");
        more = false;
    }
    for (size_t s = 0; more && s < j->form->step_count; s++) {
        const sw_step *step = &j->form->steps[s];
        for (size_t i = 0; step_stands(j, step) && i < step->lift_count; i++)
            asked[step->lifts[i]] = worked[step->lifts[i]] = true;
        for (size_t i = 0; step_stands(j, step) && i < step->reach_count; i++)
            worked[step->reaches[i]] = reached[step->reaches[i]] = true;
    }
    for (size_t i = 0; more && i < items; i++) {
        const sw_item *item = &j->work->items[i];
        bool carried = false;
        for (size_t k = 0; k < items && item->way == SW_GOES && rides(j, item); k++)
            carried =
                carried || (j->work->items[k].way == SW_GOES &&
                            hangs(j, j->fitouts->present, item, (size_t)j->work->items[k].role));
        off[i] = item->way == SW_GOES && !carried;
        if (item->way == SW_COMES || off[i])
            worked[item->role] = true;
    }
    while (more) {
        more = false;
        for (size_t i = 0; i < items; i++) {
            const sw_item *item = &j->work->items[i];
            bool cause = asked[item->role];
            for (size_t k = 0; k < items; k++)
                cause =
                    cause || (hangs_ever(j, item, (size_t)j->work->items[k].role) &&
                              (j->work->items[k].way == SW_GOES ||
                               (off[k] && j->work->items[k].way == SW_STAYS && !rides(j, item))));
            for (size_t r = 0; r < roles; r++)
                cause =
                    cause || (worked[r] && (lies_over(j, j->machine, item->role, (int)r) ||
                                            lies_over(j, j->fitouts->present, item->role, (int)r)));
            bool blocks = false;
            for (size_t r = 0; r < roles && item->way == SW_GOES; r++)
                blocks = blocks || (lies_over(j, j->fitouts->present, item->role, (int)r) &&
                                    (reached[r] || comes_off(j, off, (int)r)));
            if (item->way == SW_COMES || off[i] || !(item->way == SW_GOES ? blocks : cause))
                continue;
            off[i] = worked[item->role] = more = true;
        }
    }
    for (size_t i = 0; off != NULL && i < items; i++)
        if (j->work->items[i].way != SW_COMES && off[i] != (off_of(j, i) >= 0))
            fault(j, off[i] ? "what has to come off stays on" : "it comes off for no cause");
    free(worked);
    free(reached);
    free(asked);
    free(off);
}

static const char *judge(const sw_work *work, const sw_fitouts *fitouts, const int *machine) {
    judging j = {fitouts, fitouts->catalog->bench, machine, work, NULL};
    check_pieces(&j);
    check_actions(&j);
    check_hanging(&j);
    check_covers(&j);
    check_steps(&j);
    check_minutes(&j);
    check_causes(&j);
    return j.wrong;
}

/* ---- a swap deleted
 * ------------------------------------------------------------------------------- */

/* What is left in the order without a swap must stand for what is left of the bundle. */
static const char *delete_swap(const sw_fitouts *fitouts, int *machine, size_t role,
                               sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_work work;
    int before = machine[role];
    const char *wrong = "no memory";
    machine[role] = fitouts->present[role];
    if (arena != NULL && sw_work_make(&work, arena, fitouts, machine, complaints) == SW_OK)
        wrong = judge(&work, fitouts, machine);
    for (size_t n = 0; arena != NULL && wrong == NULL && n < work.action_count; n++) {
        const sw_action *action = &work.actions[n];
        if (action->item != SW_NONE && work.items[action->item].role == (int)role &&
            work.items[action->item].way != SW_STAYS)
            wrong = "an action of the swap that was deleted";
        if (action->task != SW_NONE && fitouts->catalog->tasks[action->task].role == (int)role)
            wrong = "a task of the swap that was deleted";
    }
    machine[role] = before;
    sw_arena_free(arena);
    return wrong;
}

/* ---- planted faults
 * --------------------------------------------------------------------------------- */

static void swap_actions(sw_work *work, size_t a, size_t b) {
    sw_action held = work->actions[a];
    work->actions[a] = work->actions[b];
    work->actions[b] = held;
}

/* False where the fault has no place in this order. */
static bool spoil(sw_work *work, size_t how) {
    size_t count = work->action_count;
    if (count < 2)
        return false;
    switch (how) {
    case 0: /* an action is lost */
        memmove(&work->actions[0], &work->actions[1], (count - 1) * sizeof *work->actions);
        work->action_count--;
        return true;
    case 1: /* a minute too much */
        for (size_t n = 0; n < count; n++)
            if (work->actions[n].billed) {
                work->actions[n].minutes++;
                return true;
            }
        return false;
    case 2: /* what comes is fitted before the old is out */
        for (size_t a = 0; a < count; a++)
            for (size_t b = a + 1; b < count; b++)
                if (work->actions[a].does == SW_TAKE_OUT && work->actions[b].does == SW_FIT &&
                    work->items[work->actions[a].item].role ==
                        work->items[work->actions[b].item].role) {
                    swap_actions(work, a, b);
                    return true;
                }
        return false;
    case 3: /* the first and the last are exchanged */
        if (work->actions[0].stage == work->actions[count - 1].stage)
            return false;
        swap_actions(work, 0, count - 1);
        return true;
    case 4: /* something is done twice */
        for (size_t n = 0; n + 1 < count; n++)
            if (work->actions[n].item != SW_NONE) {
                work->actions[n + 1] = work->actions[n];
                return true;
            }
        return false;
    default: /* what stays is not put back */
        for (size_t n = 0; n < count; n++)
            if (work->actions[n].does == SW_PUT_BACK) {
                memmove(&work->actions[n], &work->actions[n + 1],
                        (count - n - 1) * sizeof *work->actions);
                work->action_count--;
                return true;
            }
        return false;
    }
}
#define SPOILS 6

/* ---- the run
 * ------------------------------------------------------------------------------------------ */

static bool has_pieces(const sw_fitouts *fitouts, size_t role) {
    return fitouts->first_fitout[role + 1] > fitouts->first_fitout[role];
}

static void draw_machine(const sw_fitouts *fitouts, int *machine) {
    for (size_t r = 0; r < fitouts->catalog->role_count; r++) {
        int first = fitouts->first_fitout[r], count = fitouts->first_fitout[r + 1] - first;
        machine[r] = fitouts->present[r];
        if (has_pieces(fitouts, r) && draw(3) == 0)
            machine[r] = first + (int)draw((uint64_t)count);
    }
}

static const char *try_one(const sw_fitouts *fitouts, int *machine, int spoiled, bool *skipped,
                           sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_work work;
    const char *wrong = "the library refused it";
    if (arena != NULL && sw_work_make(&work, arena, fitouts, machine, complaints) == SW_OK) {
        *skipped = spoiled >= 0 && !spoil(&work, (size_t)spoiled);
        wrong = judge(&work, fitouts, machine);
    }
    sw_arena_free(arena);
    return wrong;
}

static void tell(uint64_t seed, const char *wrong, size_t *passed, size_t *failed) {
    if (wrong == NULL) {
        (*passed)++;
        return;
    }
    (*failed)++;
    printf("FAILED bundle %llu: %s\n", (unsigned long long)seed, wrong);
}

int main(int argc, char **argv) {
    bool spoiling = argc == 5 && strcmp(argv[4], "--spoil") == 0;
    if (argc != 4 && !spoiling) {
        fputs("bundles SCENARIO FIRST COUNT [--spoil]\n", stderr);
        return 2;
    }
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_setup setup = {0};
    if (complaints == NULL || sw_scenario_read(&scenario, argv[1], NULL, complaints) != SW_OK ||
        sw_setup_make(&setup, scenario, false, NULL, complaints) != SW_OK) {
        fprintf(stderr, "%s: cannot be read\n", argv[1]);
        return 2;
    }
    const sw_fitouts *fitouts = setup.fitouts;
    size_t roles = fitouts->catalog->role_count, passed = 0, failed = 0;
    int *machine = calloc(roles, sizeof *machine);
    uint64_t first = strtoull(argv[2], NULL, 10), count = strtoull(argv[3], NULL, 10);
    for (uint64_t seed = first; machine != NULL && seed < first + count; seed++) {
        state = seed * 0x9E3779B97F4A7C15u + 1;
        draw(2);
        draw_machine(fitouts, machine);
        for (int how = 0; spoiling && how < SPOILS; how++) {
            bool skipped = false;
            const char *wrong = try_one(fitouts, machine, how, &skipped, complaints);
            if (!skipped)
                tell(seed, wrong == NULL ? "a planted fault was not noticed" : NULL, &passed,
                     &failed);
        }
        if (spoiling)
            continue;
        bool skipped = false;
        const char *wrong = try_one(fitouts, machine, -1, &skipped, complaints);
        for (size_t r = 0; r < roles && wrong == NULL; r++)
            if (machine[r] != fitouts->present[r])
                wrong = delete_swap(fitouts, machine, r, complaints);
        tell(seed, wrong, &passed, &failed);
    }
    printf("%zu passed, %zu failed\n", passed, failed);
    free(machine);
    sw_setup_free(&setup);
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
    return failed == 0 && passed > 0 ? 0 : 1;
}
