/* Items, what carries them, and the smallest set of what has to be touched. */
#include "work.h"

#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static bool holds_any(const Machine *m, int role) { return m->at[role]->pieces > 0; }

/* ---- what carries an item ---- */

static bool has_thing(const World *w, const Item *item, const char *kind) {
    const cJSON *entry;
    for (int f = 0; f < w->facts; f++) {
        const Cell *cell = &item->cell[f];
        if (w->fact[f].type != SPOTS || !w->fact[f].on[item->role] || cell->state != KNOWN)
            continue;
        cJSON_ArrayForEach(entry,
                           cell->spots) if (!get(entry, "site") &&
                                            !strcmp(text_of(entry, "kind", ""), kind)) return true;
    }
    return false;
}

static bool counts(const Work *k, const Item *item, int role) {
    bool o = holds_any(&k->o, role), m = holds_any(&k->m, role);
    return role != item->role && (item->fate == GOES ? o : item->fate == COMES ? m : o || m);
}

static void find_carriers(const Work *k, Item *item) {
    const cJSON *mount = k->mount[item->role].json, *json;
    item->on = hold(k->w, (size_t)k->w->roles * sizeof *item->on);
    cJSON_ArrayForEach(json, get(mount, "on")) item->on[find_role(k->w, json->valuestring)] = true;
    cJSON_ArrayForEach(json,
                       get(mount, "sites")) if (has_thing(k->w, item, text_of(json, "kind", "")))
        item->on[find_role(k->w, text_of(json, "of", ""))] = true;
    for (int r = 0; r < k->w->roles; r++)
        item->on[r] = item->on[r] && counts(k, item, r);
}

static bool names_any(const cJSON *mount) {
    return cJSON_GetArraySize(get(mount, "on")) + cJSON_GetArraySize(get(mount, "sites")) > 0;
}

static void find_ride(const Work *k, Item *item) {
    int n = 0;
    item->carrier = -1;
    for (int r = 0; r < k->w->roles; r++)
        if (item->on[r]) {
            item->carrier = r;
            n++;
        }
    if (n != 1 || !cJSON_IsTrue(get(k->mount[item->role].json, "rides")) ||
        !names_any(k->mount[item->carrier].json))
        item->carrier = -1;
}

/* ---- items ---- */

static void add_item(Work *k, Item item) {
    if (!item.count)
        return;
    find_carriers(k, &item);
    find_ride(k, &item);
    k->item[k->items++] = item;
}

static void list_items_of(Work *k, int role) {
    const Role *r = &k->w->role[role];
    const Choice *m = k->m.at[role];
    for (int i = 0; i < r->presents; i++) {
        const Present *p = &r->present[i];
        Item item = {.role = role, .part = p->id, .cell = p->cell};
        item.fate = GOES;
        item.count = p->count - m->kept[i];
        add_item(k, item);
        item.fate = STAYS;
        item.count = m->kept[i];
        add_item(k, item);
    }
    for (int i = 0; i < m->lines; i++) {
        const Part *p = &k->w->part[m->line[i].listing->part];
        add_item(k, (Item){.role = role,
                           .part = p->id,
                           .cell = p->cell,
                           .fate = COMES,
                           .count = m->line[i].count});
    }
}

void list_items(Work *k) {
    int room = 0;
    for (int r = 0; r < k->w->roles; r++)
        room += 2 * k->w->role[r].presents + 2;
    k->item = hold(k->w, (size_t)room * sizeof *k->item);
    for (int r = 0; r < k->w->roles; r++)
        list_items_of(k, r);
}

/* ---- what is touched ---- */

static bool has_item_that_goes(const Work *k, int role) {
    for (int i = 0; i < k->items; i++)
        if (k->item[i].role == role && k->item[i].fate == GOES)
            return true;
    return false;
}

static bool has_lifted_item(const Work *k, int role) {
    for (int i = 0; i < k->items; i++)
        if (k->item[i].role == role && k->item[i].lifted)
            return true;
    return false;
}

static bool lists(const cJSON *names, const char *name) {
    const cJSON *item;
    cJSON_ArrayForEach(item, names) if (!strcmp(item->valuestring, name)) return true;
    return false;
}

bool step_names(const Work *k, int step, const char *how, int role) {
    const Chore *s = &k->step[step];
    return s->there && lists(get(s->json, how), k->w->role[role].id);
}

static bool some_step_names(const Work *k, const char *how, int role) {
    for (int i = 0; i < k->steps; i++)
        if (step_names(k, i, how, role))
            return true;
    return false;
}

bool carrier_lifts(const Work *k, const Item *item, int role) {
    return item->on[role] &&
           (has_item_that_goes(k, role) || (has_lifted_item(k, role) && item->carrier < 0));
}

bool cover_lifts(const Work *k, const Item *item, int over) {
    for (int i = 0; i < k->covers; i++) {
        const Cover *c = &k->cover[i];
        if (c->role == item->role && c->over == over && (c->o || c->m) && k->worked[over])
            return true;
    }
    return false;
}

static bool must_lift(const Work *k, const Item *item) {
    if (item->fate != STAYS)
        return false;
    for (int r = 0; r < k->w->roles; r++)
        if (carrier_lifts(k, item, r) || cover_lifts(k, item, r))
            return true;
    return some_step_names(k, "lifts", item->role);
}

static bool is_worked_on(const Work *k, int role) {
    for (int i = 0; i < k->items; i++)
        if (k->item[i].role == role && k->item[i].acts)
            return true;
    return some_step_names(k, "reaches", role) || some_step_names(k, "lifts", role);
}

static bool comes_off(const Work *k, int role) {
    for (int i = 0; i < k->items; i++)
        if (k->item[i].role == role && k->item[i].acts && k->item[i].fate != COMES)
            return true;
    return false;
}

/* It covers today what comes off, or what a step reaches. */
static bool is_in_the_way(const Work *k, const Item *item) {
    for (int i = 0; i < k->covers; i++) {
        const Cover *c = &k->cover[i];
        if (c->o && c->role == item->role &&
            (comes_off(k, c->over) || some_step_names(k, "reaches", c->over)))
            return true;
    }
    return false;
}

static bool leaves_with_carrier(const Work *k, const Item *item) {
    return item->fate == GOES && item->carrier >= 0 && has_item_that_goes(k, item->carrier) &&
           !is_in_the_way(k, item);
}

/* Whether one item more acts. */
static bool touch_one(Work *k, Item *item) {
    item->leaves = leaves_with_carrier(k, item);
    if (item->acts || item->leaves || (item->fate == STAYS && !must_lift(k, item)))
        return false;
    item->lifted = item->fate == STAYS;
    return item->acts = true;
}

void touch(Work *k) {
    bool more = true;
    k->worked = hold(k->w, (size_t)k->w->roles * sizeof *k->worked);
    while (more) {
        more = false;
        for (int r = 0; r < k->w->roles; r++)
            if (!k->worked[r] && is_worked_on(k, r))
                more = k->worked[r] = true;
        for (int i = 0; i < k->items; i++)
            more = touch_one(k, &k->item[i]) || more;
    }
}
