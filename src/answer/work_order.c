/* Which action comes before which, and the order that follows. */
#include "answer/work.h"

#include <string.h>

#define SW_ACTIONS_MOST 4000

typedef struct ordering {
    sw_work *work;
    sw_action *nodes;
    size_t count;
    bool *edges;   /* [from * count + to] */
    size_t *waits; /* [node] how many of those before it are not done */
    sw_complaints *complaints;
} ordering;

bool sw_is_off(sw_does does) { return does == SW_TAKE_OUT || does == SW_TAKE_OFF; }

bool sw_is_on(sw_does does) { return does == SW_PUT_BACK || does == SW_FIT; }

/* ---- actions -----------------------------------------------------------------------------------
 */

static void add(ordering *o, sw_action action) { o->nodes[o->count++] = action; }

/* Does something that acts ride on this role's pieces when they come? */
static bool carries_riders(const sw_work *work, int role) {
    for (size_t i = 0; i < work->item_count; i++) {
        const sw_item *item = &work->items[i];
        if (item->acts && item->rides && item->way != SW_GOES && item->after[role])
            return true;
    }
    return false;
}

static void add_items(ordering *o) {
    int stage = o->work->form->machine_stage;
    for (size_t i = 0; i < o->work->item_count; i++) {
        const sw_item *item = &o->work->items[i];
        sw_action action = {
            .item = (int)i, .step = SW_NONE, .task = SW_NONE, .charge = SW_NONE, .stage = stage};
        if (!item->acts)
            continue;
        if (item->way != SW_COMES) {
            action.does = item->way == SW_GOES ? SW_TAKE_OUT : SW_TAKE_OFF;
            add(o, action);
        }
        if (item->way == SW_COMES && carries_riders(o->work, item->role)) {
            action.does = SW_LAY_OUT;
            add(o, action);
        }
        if (item->way != SW_GOES) {
            action.does = item->way == SW_COMES ? SW_FIT : SW_PUT_BACK;
            add(o, action);
        }
    }
}

static int64_t task_minutes(const sw_work *work, int task) {
    return work->fitouts->catalog->tasks[task].minutes;
}

static void add_steps(ordering *o) {
    const sw_bench_form *form = o->work->form;
    const sw_catalog *catalog = o->work->fitouts->catalog;
    for (size_t s = 0; s < form->step_count; s++) {
        const sw_step *step = &form->steps[s];
        if (!o->work->steps[s])
            continue;
        add(o, (sw_action){.does = SW_STEP,
                           .item = SW_NONE,
                           .step = (int)s,
                           .task = step->task,
                           .charge = step->charge,
                           .stage = step->stage,
                           .minutes = step->task != SW_NONE ? task_minutes(o->work, step->task)
                                      : step->charge != SW_NONE
                                          ? catalog->charges[step->charge].minutes
                                          : step->minutes,
                           .alone_minutes = step->alone_minutes,
                           .billed = step->task != SW_NONE || step->charge != SW_NONE});
    }
}

/* Tasks and charges of which bench.json says nothing; also those whose step does not stand here:
 * no billed minute is left out. */
static bool is_told(const ordering *o, int task, int charge) {
    for (size_t n = 0; n < o->count; n++)
        if ((task != SW_NONE && o->nodes[n].task == task) ||
            (charge != SW_NONE && o->nodes[n].charge == charge))
            return true;
    return false;
}

static void add_the_rest(ordering *o) {
    const sw_work *work = o->work;
    const sw_catalog *catalog = work->fitouts->catalog;
    sw_action action = {.does = SW_STEP,
                        .item = SW_NONE,
                        .step = SW_NONE,
                        .task = SW_NONE,
                        .charge = SW_NONE,
                        .billed = true};
    for (size_t r = 0; r < catalog->role_count; r++) {
        const sw_fitout *fitout = &work->fitouts->fitouts[work->machine[r]];
        for (int i = 0; i < fitout->task_count; i++) {
            if (is_told(o, fitout->tasks[i], SW_NONE))
                continue;
            action.task = fitout->tasks[i];
            action.minutes = task_minutes(work, action.task);
            action.stage = work->form->machine_stage;
            add(o, action);
        }
    }
    action.task = SW_NONE;
    for (size_t c = 0; c < catalog->charge_count; c++) {
        const sw_charge *charge = &catalog->charges[c];
        if (charge->minutes == 0 || is_told(o, SW_NONE, (int)c) ||
            !sw_work_any(work->fitouts, work->machine, charge->any, charge->any_count))
            continue;
        action.charge = (int)c;
        action.minutes = charge->minutes;
        action.stage = (int)work->form->stage_count - 1;
        add(o, action);
    }
}

/* ---- what comes before what
 * ------------------------------------------------------------------------ */

static void before(ordering *o, size_t from, size_t to) {
    bool *edge = &o->edges[from * o->count + to];
    o->waits[to] += !*edge && from != to;
    *edge = *edge || from != to;
}

static const sw_item *item_of(const ordering *o, size_t node) {
    return o->nodes[node].item == SW_NONE ? NULL : &o->work->items[o->nodes[node].item];
}

/* Offs, lay-outs, ons. */
static int kind_of(sw_does does) { return sw_is_off(does) ? 0 : does == SW_LAY_OUT ? 1 : 2; }

static void within_role(ordering *o, size_t a, size_t b) {
    if (kind_of(o->nodes[a].does) < kind_of(o->nodes[b].does))
        before(o, a, b);
}

/* `a` hangs on the role of `b`. What rides comes off when its carrier lies on the bench, and goes
 * on there. */
static void carried(ordering *o, size_t a, size_t b) {
    const sw_item *item = item_of(o, a);
    int carrier = item_of(o, b)->role;
    sw_does does = o->nodes[a].does, other = o->nodes[b].does;
    if (sw_is_off(does) && sw_is_off(other) && item->before[carrier])
        before(o, item->rides ? b : a, item->rides ? a : b);
    if (!sw_is_on(does) || !item->after[carrier])
        return;
    bool at_hand = other == SW_LAY_OUT || other == SW_TAKE_OFF;
    if (item->rides && at_hand)
        before(o, b, a);
    if (sw_is_on(other))
        before(o, item->rides ? a : b, item->rides ? b : a);
}

static void covered(ordering *o, size_t a, size_t b) {
    int over = item_of(o, a)->role, under = item_of(o, b)->role;
    if (sw_covers(o->work, o->work->old_over, over, under) && sw_is_off(o->nodes[a].does) &&
        sw_is_off(o->nodes[b].does))
        before(o, a, b);
    if (sw_covers(o->work, o->work->new_over, over, under) && sw_is_on(o->nodes[a].does) &&
        sw_is_on(o->nodes[b].does))
        before(o, b, a);
}

static void order_items(ordering *o) {
    for (size_t a = 0; a < o->count; a++)
        for (size_t b = 0; b < o->count; b++) {
            const sw_item *one = item_of(o, a), *other = item_of(o, b);
            if (a == b || one == NULL || other == NULL)
                continue;
            if (one->role == other->role)
                within_role(o, a, b);
            carried(o, a, b);
            covered(o, a, b);
        }
}

/* The step after the offs of a role and before its ons. */
static void around(ordering *o, size_t step, int role, bool offs, bool ons) {
    for (size_t n = 0; n < o->count; n++) {
        const sw_item *item = item_of(o, n);
        if (item == NULL || item->role != role)
            continue;
        if (offs && sw_is_off(o->nodes[n].does))
            before(o, n, step);
        if (ons && sw_is_on(o->nodes[n].does))
            before(o, step, n);
    }
}

static void order_reaching(ordering *o, size_t node, const sw_step *step) {
    const sw_work *work = o->work;
    for (size_t i = 0; i < step->lift_count; i++)
        around(o, node, step->lifts[i], true, true);
    for (size_t i = 0; i < step->reach_count; i++)
        for (size_t r = 0; r < work->fitouts->catalog->role_count; r++)
            around(o, node, (int)r, sw_covers(work, work->old_over, (int)r, step->reaches[i]),
                   sw_covers(work, work->new_over, (int)r, step->reaches[i]));
}

static bool is_meant(const ordering *o, size_t node, const sw_step_ref *ref) {
    const sw_action *action = &o->nodes[node];
    const sw_item *item = item_of(o, node);
    if (ref->kind == SW_REF_STEP)
        return action->step == ref->index;
    bool side = ref->kind == SW_REF_OFF ? sw_is_off(action->does) : sw_is_on(action->does);
    return item != NULL && side && (ref->index == SW_EVERY_ROLE || ref->index == item->role);
}

static void order_steps(ordering *o) {
    for (size_t n = 0; n < o->count; n++) {
        if (o->nodes[n].step == SW_NONE)
            continue;
        const sw_step *step = &o->work->form->steps[o->nodes[n].step];
        order_reaching(o, n, step);
        for (size_t other = 0; other < o->count; other++) {
            if (o->nodes[other].stage != o->nodes[n].stage)
                continue;
            for (size_t i = 0; i < step->after_count; i++)
                if (is_meant(o, other, &step->after[i]))
                    before(o, other, n);
            for (size_t i = 0; i < step->before_count; i++)
                if (is_meant(o, other, &step->before[i]))
                    before(o, n, other);
        }
    }
}

/* ---- the order
 * --------------------------------------------------------------------------------------- */

static int rank_of(const ordering *o, size_t node) {
    static const int ranks[] = {[SW_TAKE_OUT] = 0, [SW_TAKE_OFF] = 0, [SW_STEP] = 1,
                                [SW_LAY_OUT] = 2,  [SW_PUT_BACK] = 3, [SW_FIT] = 3};
    return ranks[o->nodes[node].does];
}

/* Its place among those of its rank. */
static size_t place_of(const ordering *o, size_t node) {
    const sw_action *action = &o->nodes[node];
    const sw_bench_form *form = o->work->form;
    const sw_item *item = item_of(o, node);
    if (item == NULL)
        return action->step != SW_NONE ? (size_t)action->step
               : action->task != SW_NONE
                   ? form->step_count + (size_t)action->task
                   : form->step_count + o->work->fitouts->catalog->task_count +
                         (size_t)action->charge;
    int mount = form->mount_of[item->role];
    if (mount == SW_NONE)
        return form->mount_count + (size_t)item->role;
    return sw_is_off(action->does) ? form->mount_count - 1 - (size_t)mount : (size_t)mount;
}

/* Does `a` come before `b`, where neither waits for anything? */
static bool is_sooner(const ordering *o, size_t a, size_t b) {
    const sw_part *parts = o->work->fitouts->scenario->parts;
    if (o->nodes[a].stage != o->nodes[b].stage)
        return o->nodes[a].stage < o->nodes[b].stage;
    if (rank_of(o, a) != rank_of(o, b))
        return rank_of(o, a) < rank_of(o, b);
    if (place_of(o, a) != place_of(o, b))
        return place_of(o, a) < place_of(o, b);
    const sw_item *one = item_of(o, a), *other = item_of(o, b);
    if (one == NULL || other == NULL)
        return a < b;
    int by = strcmp(parts[one->part].id, parts[other->part].id);
    return by != 0 ? by < 0 : one->way < other->way;
}

static const char *name_of(const ordering *o, size_t node) {
    const sw_action *action = &o->nodes[node];
    const sw_catalog *catalog = o->work->fitouts->catalog;
    const sw_item *item = item_of(o, node);
    return item != NULL              ? catalog->roles[item->role].id
           : action->step != SW_NONE ? o->work->form->steps[action->step].id
           : action->task != SW_NONE ? catalog->tasks[action->task].id
                                     : catalog->charges[action->charge].id;
}

/* Two that wait for each other, straight or through others: from any that waits, back along what it
 * waits for, one is met again. */
static sw_status complain(const ordering *o, const bool *done) {
    size_t at = 0, other = 0;
    while (done[at])
        at++;
    for (size_t steps = 0; steps <= o->count; steps++) {
        other = at;
        for (size_t n = 0; n < o->count; n++)
            if (!done[n] && o->edges[n * o->count + at]) {
                at = n;
                break;
            }
    }
    sw_complain(
        o->complaints, "bench.json", "",
        "each step and each part has something before it that can be done first",
        "take away a condition of \"after\" or \"before\", a cover, or what a role hangs on",
        "lets \"%s\" and \"%s\" wait for each other in this job", name_of(o, at),
        name_of(o, other));
    return SW_BAD_DATA;
}

static sw_status sort(ordering *o, sw_arena *arena) {
    bool *done = SW_NEW(arena, bool, o->count);
    if (done == NULL)
        return SW_NO_MEMORY;
    for (size_t place = 0; place < o->count; place++) {
        size_t next = o->count;
        for (size_t n = 0; n < o->count; n++)
            if (!done[n] && o->waits[n] == 0 && (next == o->count || is_sooner(o, n, next)))
                next = n;
        if (next == o->count)
            return complain(o, done);
        done[next] = true;
        o->work->actions[o->work->action_count++] = o->nodes[next];
        for (size_t n = 0; n < o->count; n++)
            o->waits[n] -= o->edges[next * o->count + n];
    }
    return SW_OK;
}

/* ---- minutes
 * ------------------------------------------------------------------------------------------- */

/* Where the minutes of a role's change stand: its last fit; where nothing comes, its last take-out,
 * or the one that it leaves with. */
static sw_action *timed(const sw_work *work, int role) {
    sw_action *out = NULL;
    for (size_t n = 0; n < work->action_count; n++) {
        sw_action *action = &work->actions[n];
        bool own = action->item != SW_NONE && work->items[action->item].role == role;
        if (own && (action->does == SW_FIT ||
                    (action->does == SW_TAKE_OUT && (out == NULL || out->does != SW_FIT))))
            out = action;
    }
    for (size_t i = 0; i < work->item_count && out == NULL; i++)
        if (work->items[i].role == role && work->items[i].leaves_with != SW_NONE)
            out = timed(work, work->items[work->items[i].leaves_with].role);
    return out;
}

static void count_minutes(sw_work *work) {
    const sw_catalog *catalog = work->fitouts->catalog;
    for (size_t r = 0; r < catalog->role_count; r++) {
        sw_action *action =
            work->fitouts->fitouts[work->machine[r]].changes ? timed(work, (int)r) : NULL;
        if (action == NULL)
            continue;
        action->minutes += catalog->roles[r].minutes;
        action->billed = true;
    }
    for (size_t n = 0; n < work->action_count; n++) {
        const sw_action *action = &work->actions[n];
        *(action->billed ? &work->billed : &work->beside) += action->minutes;
        work->alone += action->alone_minutes;
    }
}

/* ---- the whole
 * ----------------------------------------------------------------------------------------- */

sw_status sw_work_order(sw_work *work, sw_arena *arena, sw_complaints *complaints) {
    const sw_catalog *catalog = work->fitouts->catalog;
    size_t room =
        2 * work->item_count + work->form->step_count + catalog->task_count + catalog->charge_count;
    ordering o = {.work = work, .complaints = complaints};
    o.nodes = SW_NEW(arena, sw_action, room);
    if (o.nodes == NULL)
        return SW_NO_MEMORY;
    if (room > SW_ACTIONS_MOST) {
        sw_complain(complaints, "bench.json", "", "an order of work is made for people",
                    "list fewer pieces in the machine, or fewer steps",
                    "may ask for %zu actions, more than %d", room, SW_ACTIONS_MOST);
        return SW_BAD_DATA;
    }
    add_items(&o);
    add_steps(&o);
    add_the_rest(&o);
    o.edges = SW_NEW(arena, bool, o.count *o.count);
    o.waits = SW_NEW(arena, size_t, o.count);
    work->actions = SW_NEW(arena, sw_action, o.count);
    if (o.edges == NULL || o.waits == NULL || work->actions == NULL)
        return SW_NO_MEMORY;
    order_items(&o);
    order_steps(&o);
    sw_status status = sort(&o, arena);
    if (status == SW_OK)
        count_minutes(work);
    return status;
}

sw_status sw_work_make(sw_work *out, sw_arena *arena, const sw_fitouts *fitouts, const int *machine,
                       sw_complaints *complaints) {
    *out = (sw_work){.fitouts = fitouts, .form = fitouts->catalog->bench, .machine = machine};
    sw_status status = sw_work_items(out, arena);
    return status == SW_OK ? sw_work_order(out, arena, complaints) : status;
}
