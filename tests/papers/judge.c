/*
 * What must hold of the work of any bundle, by plain counting: each item that changes has its
 * action once, each step that is there is there once, stages follow each other, the minutes in
 * the bill are all of the bill's.
 */
#include "papers.h"

#include <stdio.h>
#include <string.h>

static int count_in(const cJSON *json) {
    const cJSON *count = get(json, "count");
    return cJSON_IsNumber(count) ? (int)count->valuedouble : 1;
}

bool lists_text(const cJSON *list, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) if (cJSON_IsString(item) &&
                                       !strcmp(item->valuestring, text)) return true;
    return false;
}

static const cJSON *with(const cJSON *list, const char *name, const char *value) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) if (!strcmp(text_of(item, name), value)) return item;
    return NULL;
}

static bool is(const cJSON *json, const char *name, const char *value) {
    return !strcmp(text_of(json, name), value);
}

/* ---- items and what they hang on ---- */

const cJSON *mount_of(const Judge *g, const char *role) {
    return with(get(g->j->bench, "mounts"), "role", role);
}

bool holds_today(const Judge *g, const char *role) {
    return cJSON_GetArraySize(get(get(g->j->job, "machine"), role)) > 0;
}

bool holds_then(const Judge *g, const char *role) {
    return cJSON_GetArraySize(get(role_in(g->machine, role), "parts")) > 0;
}

bool carries(const Judge *g, const Item *item, const char *role) {
    const cJSON *mount = mount_of(g, item->role), *site;
    bool named = lists_text(get(mount, "on"), role);
    bool today = holds_today(g, role), then = holds_then(g, role);
    cJSON_ArrayForEach(site, get(mount, "sites")) named =
        named || (is(site, "of", role) && lists_text(item->kinds, text_of(site, "kind")));
    if (!named || !strcmp(role, item->role))
        return false;
    return item->fate == GOES ? today : item->fate == COMES ? then : today || then;
}

const char *ride_of(const Judge *g, const Item *item) {
    const cJSON *mount = mount_of(g, item->role), *role, *under;
    const char *one = NULL;
    int n = 0;
    cJSON_ArrayForEach(role,
                       get(g->j->roles, "roles")) if (carries(g, item, text_of(role, "role"))) {
        one = text_of(role, "role");
        n++;
    }
    under = one ? mount_of(g, one) : NULL;
    bool hangs = cJSON_GetArraySize(get(under, "on")) + cJSON_GetArraySize(get(under, "sites")) > 0;
    return n == 1 && hangs && cJSON_IsTrue(get(mount, "rides")) ? one : NULL;
}

/* What the part says of itself: the piece's own facts, else those of the catalog. */
static const cJSON *stated(const Judge *g, const char *part, const cJSON *own, const char *fact) {
    const cJSON *catalog = with(get(g->j->parts, "parts"), "id", part);
    const cJSON *gift = with(get(g->j->job, "given"), "part", part);
    const cJSON *found = get(get(own, "facts"), fact);
    if (!found)
        found = get(get(catalog, "facts"), fact);
    return found || catalog ? found : get(get(gift, "facts"), fact);
}

static const cJSON *kinds_of(Judge *g, const char *role, const char *part, const cJSON *own) {
    cJSON *kinds = must_have(cJSON_CreateArray());
    const cJSON *fact, *thing;
    cJSON_AddItemToArray(g->held, kinds);
    cJSON_ArrayForEach(fact, get(g->j->facts, "facts")) {
        if (!is(fact, "type", "things") || !lists_text(get(fact, "roles"), role))
            continue;
        const cJSON *list = stated(g, part, own, text_of(fact, "fact"));
        list = list ? list : get(fact, "absent");
        cJSON_ArrayForEach(thing, list)
            cJSON_AddItemToArray(kinds, must_have(cJSON_CreateString(text_of(thing, "kind"))));
    }
    return kinds;
}

static void add_item(Judge *g, const char *role, const char *part, const cJSON *own, int fate,
                     int count) {
    if (count <= 0)
        return;
    if (g->items == MOST_ITEMS)
        give_up("more items than the judge holds");
    Item item = {.role = role, .part = part, .count = count};
    item.fate = fate == 0 ? GOES : fate == 1 ? STAYS : COMES;
    item.kinds = kinds_of(g, role, part, own);
    item.out = item.off = item.lay = item.back = item.fit = item.with = -1;
    g->item[g->items++] = item;
}

static void list_items(Judge *g) {
    const cJSON *json, *item, *part;
    cJSON_ArrayForEach(json, get(g->j->roles, "roles")) {
        const char *role = text_of(json, "role");
        const cJSON *parts = get(role_in(g->machine, role), "parts");
        cJSON_ArrayForEach(item, get(get(g->j->job, "machine"), role)) {
            int kept = 0;
            cJSON_ArrayForEach(part, parts) if (is(part, "part", text_of(item, "part")) &&
                                                !cJSON_IsTrue(get(part, "added"))) kept =
                count_in(part);
            add_item(g, role, text_of(item, "part"), item, 0, count_in(item) - kept);
            add_item(g, role, text_of(item, "part"), item, 1, kept);
        }
        cJSON_ArrayForEach(part, parts) if (cJSON_IsTrue(get(part, "added")))
            add_item(g, role, text_of(part, "part"), NULL, 2, count_in(part));
    }
}

/* ---- each action once ---- */

static Item *find_item(Judge *g, const cJSON *json, int fate) {
    for (int i = 0; i < g->items; i++) {
        Item *item = &g->item[i];
        if ((int)item->fate == fate && is(json, "role", item->role) &&
            is(json, "part", item->part) && count_in(json) == item->count)
            return item;
    }
    return NULL;
}

static bool take_place(Judge *g, const cJSON *json, const char *what, int fate, int place) {
    Item *item = find_item(g, json, fate);
    if (!item)
        return fail(g->t, "%s of %s in %s: no such item", what, text_of(json, "part"),
                    text_of(json, "role"));
    int *into = !strcmp(what, "take-out")   ? &item->out
                : !strcmp(what, "take-off") ? &item->off
                : !strcmp(what, "lay-out")  ? &item->lay
                : !strcmp(what, "put-back") ? &item->back
                : !strcmp(what, "fit")      ? &item->fit
                                            : &item->with;
    if (*into >= 0)
        return fail(g->t, "%s of %s in %s: twice", what, item->part, item->role);
    *into = place;
    return true;
}

static bool take_action(Judge *g, const cJSON *deed, int place) {
    static const struct {
        const char *does;
        int fate;
    } known[] = {{"take-out", GOES},
                 {"take-off", STAYS},
                 {"lay-out", COMES},
                 {"put-back", STAYS},
                 {"fit", COMES}};
    const cJSON *one;
    const char *does = text_of(deed, "does");
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (!strcmp(does, known[i].does) && !take_place(g, deed, does, known[i].fate, place))
            return false;
    if (cJSON_GetArraySize(get(deed, "with")) && strcmp(does, "take-out") != 0)
        return fail(g->t, "something leaves with a %s", does);
    cJSON_ArrayForEach(
        one, get(deed, "with")) if (!take_place(g, one, "with", GOES, place)) return false;
    return true;
}

static bool each_once(Judge *g) {
    const cJSON *deed;
    int place = 0;
    cJSON_ArrayForEach(deed, g->work) {
        if (!take_action(g, deed, place))
            return false;
        place++;
    }
    for (int i = 0; i < g->items; i++) {
        const Item *m = &g->item[i];
        if (m->fate == GOES && (m->out >= 0) == (m->with >= 0))
            return fail(g->t, "%s of %s goes %s", m->part, m->role,
                        m->out >= 0 ? "twice" : "never");
        if (m->fate == COMES && m->fit < 0)
            return fail(g->t, "%s of %s is not fitted", m->part, m->role);
        if (m->fate == STAYS && (m->off >= 0) != (m->back >= 0))
            return fail(g->t, "%s of %s comes off and is not put back, or the other way round",
                        m->part, m->role);
    }
    return true;
}

/* ---- steps ---- */

bool is_there(const Judge *g, const char *step) {
    return lists_text(get(g->truths, "there"), step);
}

static int times_told(const Judge *g, const char *step) {
    const cJSON *deed;
    int n = 0;
    cJSON_ArrayForEach(deed, g->work) n += is(deed, "step", step);
    return n;
}

static bool in_its_stage(Judge *g, const cJSON *deed) {
    const cJSON *stage, *step = with(get(g->j->bench, "steps"), "step", text_of(deed, "step"));
    const char *machine = "work";
    if (step)
        return is(deed, "stage", text_of(step, "stage")) ||
               fail(g->t, "step %s is in stage %s", text_of(step, "step"), text_of(deed, "stage"));
    cJSON_ArrayForEach(stage, get(g->j->bench, "stages")) if (cJSON_IsTrue(get(stage, "machine")))
        machine = text_of(stage, "stage");
    return is(deed, "does", "step") || is(deed, "stage", machine) ||
           fail(g->t, "an action is in stage %s", text_of(deed, "stage"));
}

static bool right_steps(Judge *g) {
    const cJSON *step, *deed;
    cJSON_ArrayForEach(step, get(g->j->bench, "steps")) {
        const char *id = text_of(step, "step");
        int times = times_told(g, id), wanted = is_there(g, id);
        if (times != wanted)
            return fail(g->t, "step %s is told %d times, not %d", id, times, wanted);
    }
    cJSON_ArrayForEach(deed, g->work) if (!in_its_stage(g, deed)) return false;
    return true;
}

/* ---- stages and numbers ---- */

static int stage_number(const Judge *g, const char *stage) {
    const cJSON *json;
    int at = 0;
    cJSON_ArrayForEach(json, get(g->j->bench, "stages")) {
        if (is(json, "stage", stage))
            return at;
        at++;
    }
    return at == 0 && !strcmp(stage, "work") ? 0 : -1;
}

static bool right_stages(Judge *g) {
    const cJSON *deed;
    int last = 0, number = 0;
    cJSON_ArrayForEach(deed, g->work) {
        int stage = stage_number(g, text_of(deed, "stage"));
        const cJSON *told = get(deed, "number");
        if (stage < last)
            return fail(g->t, "stage %s comes too late", text_of(deed, "stage"));
        last = stage;
        if (!cJSON_IsNumber(told) || (int)told->valuedouble != ++number)
            return fail(g->t, "the numbers of the work are not those from 1 on");
    }
    return true;
}

/* ---- minutes ---- */

static int minutes_in(const cJSON *json) {
    const cJSON *minutes = get(json, "minutes");
    return cJSON_IsNumber(minutes) ? (int)minutes->valuedouble : 0;
}

static int minutes_of_bill(const Judge *g) {
    const cJSON *json, *task;
    int sum = 0;
    cJSON_ArrayForEach(json, get(g->j->roles, "roles")) {
        const char *role = text_of(json, "role");
        if (role_changes(g->j, g->machine, role))
            sum += minutes_in(json);
        cJSON_ArrayForEach(task, get(role_in(g->machine, role), "tasks")) sum +=
            minutes_in(with(get(g->j->tasks, "tasks"), "id", task->valuestring));
    }
    cJSON_ArrayForEach(json, get(g->j->charges, "charges")) if (lists_text(get(g->truths, "due"),
                                                                           text_of(json, "id")))
        sum += minutes_in(json);
    return sum;
}

static bool right_minutes(Judge *g, const cJSON *told) {
    const cJSON *deed;
    int sum = 0, wanted = minutes_of_bill(g);
    cJSON_ArrayForEach(deed, g->work) if (cJSON_IsTrue(get(deed, "billed"))) sum +=
        minutes_in(deed);
    if (sum != wanted)
        return fail(g->t, "%d minutes are in the bill, not %d", sum, wanted);
    const cJSON *billed = get(told, "billed");
    return (cJSON_IsNumber(billed) && (int)billed->valuedouble == wanted) ||
           fail(g->t, "the minutes in the bill are told otherwise");
}

/* ---- words ---- */

static bool has_slot(const cJSON *json) {
    const cJSON *item;
    if (cJSON_IsString(json))
        return strchr(json->valuestring, '{') != NULL;
    cJSON_ArrayForEach(item, json) if (has_slot(item)) return true;
    return false;
}

static bool right_words(Judge *g) {
    const cJSON *deed;
    cJSON_ArrayForEach(deed, g->work) if (has_slot(get(deed, "words")) ||
                                          has_slot(get(deed, "caution"))) return fail(g->t,
                                                                                      "a slot is "
                                                                                      "not filled");
    return true;
}

bool judge_work(Talk *t, const Job *j, const cJSON *machine, const cJSON *truths,
                const cJSON *answer) {
    static Judge g;
    g = (Judge){.t = t, .j = j, .machine = machine, .truths = truths, .work = get(answer, "work")};
    g.held = must_have(cJSON_CreateArray());
    list_items(&g);
    bool good = each_once(&g) && right_steps(&g) && right_stages(&g) &&
                right_minutes(&g, get(answer, "minutes")) && right_words(&g) && judge_touch(&g) &&
                judge_order(&g);
    cJSON_Delete(g.held);
    return good;
}
