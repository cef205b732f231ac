/* Actions and steps, what has to come before what, and the order that follows. */
#include "work.h"

#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

bool is_off(const Deed *d) { return d->does == TAKE_OUT || d->does == TAKE_OFF; }

bool is_on(const Deed *d) { return d->does == PUT_BACK || d->does == FIT; }

/* ---- which there are ---- */

static void add_action(Work *k, Does does, int item) {
    k->deed[k->deeds++] = (Deed){.does = does, .item = item, .step = -1, .stage = k->machine_stage};
}

/* By something that goes on; what only goes from it needs nothing laid out. */
static bool is_ridden(const Work *k, int role) {
    for (int i = 0; i < k->items; i++)
        if (k->item[i].acts && k->item[i].fate != GOES && k->item[i].carrier == role)
            return true;
    return false;
}

static void list_deeds(Work *k) {
    k->deed = hold(k->w, (size_t)(2 * k->items + k->steps) * sizeof *k->deed);
    for (int i = 0; i < k->items; i++) {
        const Item *item = &k->item[i];
        if (item->fate == GOES && item->acts)
            add_action(k, TAKE_OUT, i);
        if (item->lifted)
            add_action(k, TAKE_OFF, i);
        if (item->fate == COMES && is_ridden(k, item->role))
            add_action(k, LAY_OUT, i);
        if (item->lifted)
            add_action(k, PUT_BACK, i);
        if (item->fate == COMES)
            add_action(k, FIT, i);
    }
    for (int i = 0; i < k->steps; i++)
        if (k->step[i].there)
            k->deed[k->deeds++] = (Deed){.does = STEP,
                                         .item = -1,
                                         .step = i,
                                         .stage = k->step[i].stage,
                                         .minutes = k->step[i].minutes,
                                         .billed = k->step[i].task >= 0 || k->step[i].charge >= 0};
}

/* ---- what comes before what ---- */

static int role_of(const Work *k, const Deed *d) { return k->item[d->item].role; }

static int rank_of(const Deed *d) { return is_off(d) ? 0 : d->does == LAY_OUT ? 1 : 2; }

/* i hangs on the role of j: whether what is done with j comes first. */
static bool carrier_first(const Work *k, const Deed *j, const Deed *i) {
    const Item *item = &k->item[i->item];
    int role = role_of(k, j);
    bool rides = item->carrier >= 0;
    if (!item->on[role])
        return false;
    if (is_off(i) && is_off(j))
        return rides && k->o.at[role]->pieces;
    if (!is_on(i) || !k->m.at[role]->pieces)
        return false;
    if (is_on(j))
        return !rides;
    return rides && (j->does == LAY_OUT || j->does == TAKE_OFF);
}

/* The other way round. */
static bool carrier_last(const Work *k, const Deed *i, const Deed *j) {
    const Item *item = &k->item[i->item];
    int role = role_of(k, j);
    bool rides = item->carrier >= 0;
    if (!item->on[role])
        return false;
    if (is_off(i) && is_off(j))
        return !rides && k->o.at[role]->pieces;
    return is_on(i) && is_on(j) && rides && k->m.at[role]->pieces;
}

static bool cover_first(const Work *k, const Deed *a, const Deed *b) {
    for (int i = 0; i < k->covers; i++) {
        const Cover *c = &k->cover[i];
        if (c->o && is_off(a) && is_off(b) && role_of(k, a) == c->role && role_of(k, b) == c->over)
            return true;
        if (c->m && is_on(a) && is_on(b) && role_of(k, a) == c->over && role_of(k, b) == c->role)
            return true;
    }
    return false;
}

static bool action_first(const Work *k, const Deed *a, const Deed *b) {
    if (role_of(k, a) == role_of(k, b) && rank_of(a) < rank_of(b))
        return true;
    return carrier_first(k, a, b) || carrier_last(k, a, b) || cover_first(k, a, b);
}

static bool lists_role(const Work *k, const Deed *step, const char *how, int role) {
    const cJSON *name;
    cJSON_ArrayForEach(name,
                       get(k->step[step->step].json,
                           how)) if (!strcmp(name->valuestring, k->w->role[role].id)) return true;
    return false;
}

/* The step reaches under what the action is about, as it was (off) or will be (on). */
static bool reaches_under(const Work *k, const Deed *step, const Deed *action) {
    for (int i = 0; i < k->covers; i++) {
        const Cover *c = &k->cover[i];
        if ((is_off(action) ? c->o : c->m) && c->role == role_of(k, action) &&
            lists_role(k, step, "reaches", c->over))
            return true;
    }
    return false;
}

static bool needs_access(const Work *k, const Deed *step, const Deed *action) {
    return lists_role(k, step, "lifts", role_of(k, action)) || reaches_under(k, step, action);
}

/* Whether the list of the one step, `after` or `before`, names the other deed. */
static bool refers(const Work *k, const Deed *step, const char *list, const Deed *other) {
    const cJSON *ref;
    cJSON_ArrayForEach(ref, get(k->step[step->step].json, list)) {
        const char *name = ref->valuestring, *colon = strchr(name, ':');
        if (!colon) {
            const char *id = other->does == STEP ? k->step[other->step].id : NULL;
            if (id && !strcmp(id, name))
                return true;
            continue;
        }
        if (other->does == STEP || (name[1] == 'f' ? !is_off(other) : !is_on(other)))
            continue;
        if (!strcmp(colon + 1, "*") || !strcmp(colon + 1, k->w->role[role_of(k, other)].id))
            return true;
    }
    return false;
}

static bool comes_first(const Work *k, const Deed *a, const Deed *b) {
    if (a->stage != b->stage)
        return false;
    if (a->does != STEP && b->does != STEP)
        return action_first(k, a, b);
    if (a->does == STEP && refers(k, a, "before", b))
        return true;
    if (b->does == STEP && refers(k, b, "after", a))
        return true;
    if (b->does == STEP && a->does != STEP)
        return is_off(a) && needs_access(k, b, a);
    return b->does != STEP && is_on(b) && needs_access(k, a, b);
}

/* ---- which is next ---- */

static int class_of(const Deed *d) {
    return is_off(d) ? 0 : d->does == STEP ? 1 : d->does == LAY_OUT ? 2 : 3;
}

/* Below 0: role a comes before role b. */
static int by_mount(const Work *k, int a, int b, bool backwards) {
    const Mount *x = &k->mount[a], *y = &k->mount[b];
    if (!x->json || !y->json)
        return !x->json && !y->json ? strcmp(k->w->role[a].id, k->w->role[b].id)
                                    : (x->json ? -1 : 1);
    return backwards ? y->place - x->place : x->place - y->place;
}

static bool is_wanted_first(const Work *k, const Deed *a, const Deed *b) {
    int d = class_of(a) - class_of(b);
    if (d)
        return d < 0;
    if (a->does == STEP)
        return a->step < b->step;
    d = by_mount(k, role_of(k, a), role_of(k, b), is_off(a));
    if (!d)
        d = strcmp(k->item[a->item].part, k->item[b->item].part);
    return d ? d < 0 : k->item[a->item].fate < k->item[b->item].fate;
}

static bool waits(const Work *k, int deed) {
    for (int i = 0; i < k->deeds; i++)
        if (!k->deed[i].done && comes_first(k, &k->deed[i], &k->deed[deed]))
            return true;
    return false;
}

/* The next of a stage; -1: none is left, or all wait. */
static int next_of(const Work *k, int stage) {
    int next = -1;
    for (int i = 0; i < k->deeds; i++)
        if (k->deed[i].stage == stage && !k->deed[i].done && !waits(k, i) &&
            (next < 0 || is_wanted_first(k, &k->deed[i], &k->deed[next])))
            next = i;
    return next;
}

/* ---- the minutes of a change ---- */

static int last_of(const Work *k, int role, Does does) {
    for (int i = k->ordered - 1; i >= 0; i--) {
        const Deed *d = &k->deed[k->order[i]];
        if (d->does == does && role_of(k, d) == role)
            return k->order[i];
    }
    return -1;
}

int leaves_by(const Work *k, const Item *item) {
    int role = item->carrier;
    for (int depth = 0; depth < k->w->roles; depth++) {
        for (int i = 0; i < k->ordered; i++) {
            const Deed *d = &k->deed[k->order[i]];
            if (d->does == TAKE_OUT && role_of(k, d) == role)
                return k->order[i];
        }
        int next = -1;
        for (int i = 0; i < k->items; i++)
            if (k->item[i].role == role && k->item[i].leaves)
                next = k->item[i].carrier;
        role = next;
    }
    return -1;
}

/* The action that tells the minutes of the role's change; where all of it leaves with
 * something, that of the role it leaves with. */
static int bears_minutes(const Work *k, int role) {
    int at = last_of(k, role, FIT);
    if (at < 0)
        at = last_of(k, role, TAKE_OUT);
    for (int i = 0; at < 0 && i < k->items; i++)
        if (k->item[i].role == role && k->item[i].leaves)
            at = bears_minutes(k, k->item[i].carrier);
    return at;
}

static void bill_changes(Work *k) {
    for (int r = 0; r < k->w->roles; r++) {
        int at = k->m.at[r]->changed ? bears_minutes(k, r) : -1;
        if (at < 0)
            continue;
        k->deed[at].minutes += k->w->role[r].minutes;
        k->deed[at].billed = true;
    }
}

void order_work(Work *k) {
    list_deeds(k);
    k->order = hold(k->w, (size_t)k->deeds * sizeof *k->order);
    for (int stage = 0; stage < k->stages; stage++)
        for (int next; (next = next_of(k, stage)) >= 0;) {
            k->deed[next].done = true;
            k->order[k->ordered++] = next;
        }
    k->circular = k->circular || k->ordered < k->deeds;
    if (!k->circular)
        bill_changes(k);
}
