/* What a machine's change touches: the pieces that go, stay and come, and which of those that stay
 * have to come off for them. */
#include "answer/work.h"

#include <string.h>

/* ---- conditions: what is unknown counts as true ---------------------------------------------- */

static bool may_be(const sw_fitouts *fitouts, const int *machine, const sw_cond *cond) {
    const sw_fitout *fitout = cond->role == SW_NONE ? NULL : &fitouts->fitouts[machine[cond->role]];
    return sw_cond_truth(fitouts, cond, fitout) != SW_FALSE;
}

bool sw_work_any(const sw_fitouts *fitouts, const int *machine, const sw_cond *any, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (may_be(fitouts, machine, &any[i]))
            return true;
    return count == 0;
}

bool sw_work_all(const sw_fitouts *fitouts, const int *machine, const sw_cond *all, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (!may_be(fitouts, machine, &all[i]))
            return false;
    return true;
}

/* ---- items -------------------------------------------------------------------------------------
 */

static void add(sw_work *work, int role, int part, int count, int present, sw_item_way way) {
    if (count > 0)
        work->items[work->item_count++] = (sw_item){.role = role,
                                                    .part = part,
                                                    .count = count,
                                                    .present = present,
                                                    .way = way,
                                                    .leaves_with = SW_NONE};
}

static sw_status find_items(sw_work *work, sw_arena *arena) {
    const sw_scenario *scenario = work->fitouts->scenario;
    size_t roles = work->fitouts->catalog->role_count, room = 0;
    for (size_t r = 0; r < roles; r++)
        room += 2 * scenario->machine_count[r] + SW_KINDS_MOST;
    work->items = SW_NEW(arena, sw_item, room);
    if (work->items == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < roles; r++) {
        const sw_fitout *fitout = &work->fitouts->fitouts[work->machine[r]];
        for (size_t i = 0; i < scenario->machine_count[r]; i++) {
            const sw_present *there = &scenario->machine[r][i];
            add(work, (int)r, there->part, there->count - fitout->kept[i], (int)i, SW_GOES);
            add(work, (int)r, there->part, fitout->kept[i], (int)i, SW_STAYS);
        }
        for (int i = 0; i < fitout->added_count; i++)
            add(work, (int)r, fitout->added[i].part, fitout->added[i].count, SW_NONE, SW_COMES);
    }
    return SW_OK;
}

/* ---- what they hang on
 * --------------------------------------------------------------------------- */

static const sw_mount *mount_of(const sw_work *work, int role) {
    int mount = work->form->mount_of[role];
    return mount == SW_NONE ? NULL : &work->form->mounts[mount];
}

static bool has_thing(const sw_work *work, int part, const char *kind) {
    const sw_catalog *catalog = work->fitouts->catalog;
    const sw_value *values = work->fitouts->scenario->parts[part].values;
    for (size_t f = 0; f < catalog->fact_count; f++) {
        if (catalog->facts[f].type != SW_THINGS)
            continue;
        for (size_t i = 0; i < values[f].thing_count; i++)
            if (strcmp(values[f].things[i].kind, kind) == 0)
                return true;
    }
    return false;
}

static const bool *carriers(const sw_work *work, sw_arena *arena, const sw_item *item,
                            const int *machine) {
    bool *out = SW_NEW(arena, bool, work->fitouts->catalog->role_count);
    const sw_mount *mount = mount_of(work, item->role);
    if (out == NULL || mount == NULL)
        return out;
    for (size_t i = 0; i < mount->on_count; i++)
        out[mount->on[i]] = true;
    for (size_t i = 0; i < mount->site_count; i++)
        if (has_thing(work, item->part, mount->sites[i].kind))
            out[mount->sites[i].of] = true;
    for (size_t r = 0; r < work->fitouts->catalog->role_count; r++)
        out[r] = out[r] && (int)r != item->role && work->fitouts->fitouts[machine[r]].pieces > 0;
    return out;
}

static bool hangs_on(const sw_item *item, size_t role) {
    return (item->way != SW_COMES && item->before[role]) ||
           (item->way != SW_GOES && item->after[role]);
}

static bool rides(const sw_work *work, const sw_item *item) {
    const sw_mount *own = mount_of(work, item->role), *under = NULL;
    size_t count = 0;
    for (size_t r = 0; r < work->fitouts->catalog->role_count; r++)
        if (hangs_on(item, r)) {
            under = mount_of(work, (int)r);
            count++;
        }
    return own != NULL && own->rides && count == 1 && under != NULL &&
           under->on_count + under->site_count > 0;
}

static sw_status find_carriers(sw_work *work, sw_arena *arena) {
    for (size_t i = 0; i < work->item_count; i++) {
        sw_item *item = &work->items[i];
        item->before = carriers(work, arena, item, work->fitouts->present);
        item->after = carriers(work, arena, item, work->machine);
        if (item->before == NULL || item->after == NULL)
            return SW_NO_MEMORY;
        item->rides = rides(work, item);
    }
    return SW_OK;
}

/* ---- what is touched
 * ----------------------------------------------------------------------------- */

bool sw_covers(const sw_work *work, const bool *which, int role, int under) {
    return which[(size_t)role * work->fitouts->catalog->role_count + (size_t)under];
}

static void act_outright(sw_work *work) {
    for (size_t i = work->item_count; i-- > 0;)
        if (work->items[i].way == SW_GOES)
            work->going[work->items[i].role] = (int)i;
    for (size_t i = 0; i < work->item_count; i++) {
        sw_item *item = &work->items[i];
        for (size_t r = 0; item->way == SW_GOES && r < work->fitouts->catalog->role_count; r++)
            if (item->rides && item->before[r])
                item->leaves_with = work->going[r];
        item->acts = item->way != SW_STAYS && item->leaves_with == SW_NONE;
    }
}

static bool is_lifted(const sw_work *work, const sw_item *item) {
    for (size_t r = 0; r < work->fitouts->catalog->role_count; r++)
        if ((hangs_on(item, r) &&
             (work->going[r] != SW_NONE || (!item->rides && work->lifted[r]))) ||
            (work->worked_on[r] && (sw_covers(work, work->old_over, item->role, (int)r) ||
                                    sw_covers(work, work->new_over, item->role, (int)r))))
            return true;
    return work->asked_off[item->role];
}

/* It would leave with what it rides on, but has to come off by itself: it lies over something that
 * comes off, or that a step reaches. */
static bool is_in_the_way(const sw_work *work, const sw_item *item) {
    for (size_t r = 0; r < work->fitouts->catalog->role_count; r++)
        if (sw_covers(work, work->old_over, item->role, (int)r) &&
            (work->comes_off[r] || work->reached[r]))
            return true;
    return false;
}

static bool act_too(sw_work *work, sw_item *item) {
    if (item->acts || item->way == SW_COMES)
        return false;
    if (item->way == SW_STAYS ? !is_lifted(work, item) : !is_in_the_way(work, item))
        return false;
    item->acts = true;
    item->leaves_with = SW_NONE;
    if (item->way == SW_STAYS)
        work->lifted[item->role] = true;
    return true;
}

/* The smallest set: what acts only ever grows. */
static void touch(sw_work *work) {
    bool grown = true;
    for (size_t s = 0; s < work->form->step_count; s++) {
        const sw_step *step = &work->form->steps[s];
        for (size_t i = 0; work->steps[s] && i < step->lift_count; i++)
            work->worked_on[step->lifts[i]] = work->asked_off[step->lifts[i]] = true;
        for (size_t i = 0; work->steps[s] && i < step->reach_count; i++)
            work->worked_on[step->reaches[i]] = work->reached[step->reaches[i]] = true;
    }
    while (grown) {
        grown = false;
        for (size_t i = 0; i < work->item_count; i++)
            if (work->items[i].acts) {
                work->worked_on[work->items[i].role] = true;
                if (work->items[i].way != SW_COMES)
                    work->comes_off[work->items[i].role] = true;
            }
        for (size_t i = 0; i < work->item_count; i++)
            grown = act_too(work, &work->items[i]) || grown;
    }
}

/* ---- steps and covers
 * ------------------------------------------------------------------------------ */

static bool is_done(const sw_work *work, int task) {
    const sw_fitout *fitout =
        &work->fitouts->fitouts[work->machine[work->fitouts->catalog->tasks[task].role]];
    for (int i = 0; i < fitout->task_count; i++)
        if (fitout->tasks[i] == task)
            return true;
    return false;
}

static bool is_due(const sw_work *work, int charge) {
    const sw_charge *of = &work->fitouts->catalog->charges[charge];
    return sw_work_any(work->fitouts, work->machine, of->any, of->any_count);
}

static bool is_there(const sw_work *work, const sw_step *step) {
    return (step->task == SW_NONE || is_done(work, step->task)) &&
           (step->charge == SW_NONE || is_due(work, step->charge)) &&
           sw_work_any(work->fitouts, work->machine, step->any, step->any_count) &&
           sw_work_all(work->fitouts, work->machine, step->all, step->all_count) &&
           sw_work_all(work->fitouts, work->fitouts->present, step->was, step->was_count);
}

static bool anything_changes(const sw_work *work) {
    for (size_t r = 0; r < work->fitouts->catalog->role_count; r++) {
        const sw_fitout *fitout = &work->fitouts->fitouts[work->machine[r]];
        if (fitout->changes || fitout->task_count > 0)
            return true;
    }
    return false;
}

static bool make_room(sw_work *work, sw_arena *arena) {
    size_t roles = work->fitouts->catalog->role_count;
    work->worked_on = SW_NEW(arena, bool, roles);
    work->lifted = SW_NEW(arena, bool, roles);
    work->asked_off = SW_NEW(arena, bool, roles);
    work->reached = SW_NEW(arena, bool, roles);
    work->comes_off = SW_NEW(arena, bool, roles);
    work->going = SW_NEW(arena, int, roles);
    work->steps = SW_NEW(arena, bool, work->form->step_count);
    work->old_over = SW_NEW(arena, bool, roles *roles);
    work->new_over = SW_NEW(arena, bool, roles *roles);
    for (size_t r = 0; work->going != NULL && r < roles; r++)
        work->going[r] = SW_NONE;
    return work->worked_on != NULL && work->lifted != NULL && work->asked_off != NULL &&
           work->reached != NULL && work->comes_off != NULL && work->going != NULL &&
           work->steps != NULL && work->old_over != NULL && work->new_over != NULL;
}

static void find_covers(sw_work *work) {
    size_t roles = work->fitouts->catalog->role_count;
    for (size_t c = 0; c < work->form->cover_count; c++) {
        const sw_cover *cover = &work->form->covers[c];
        size_t at = (size_t)cover->role * roles + (size_t)cover->over;
        if (sw_work_all(work->fitouts, work->fitouts->present, cover->when, cover->when_count))
            work->old_over[at] = true;
        if (sw_work_all(work->fitouts, work->machine, cover->when, cover->when_count))
            work->new_over[at] = true;
    }
}

sw_status sw_work_items(sw_work *work, sw_arena *arena) {
    if (!make_room(work, arena))
        return SW_NO_MEMORY;
    work->changes = anything_changes(work);
    for (size_t s = 0; s < work->form->step_count && work->changes; s++)
        work->steps[s] = is_there(work, &work->form->steps[s]);
    find_covers(work);
    sw_status status = find_items(work, arena);
    if (status == SW_OK)
        status = find_carriers(work, arena);
    if (status == SW_OK) {
        act_outright(work);
        touch(work);
    }
    return status;
}
