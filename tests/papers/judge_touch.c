/*
 * Whether what is touched is what has to be: nothing is lifted for nothing, nothing stays on
 * that has to come off, and what is told as the reason of something is one.
 */
#include "papers.h"

#include <string.h>

static bool goes_from(const Judge *g, const char *role) {
    for (int i = 0; i < g->items; i++)
        if (g->item[i].fate == GOES && !strcmp(g->item[i].role, role))
            return true;
    return false;
}

static bool lifted_in(const Judge *g, const char *role) {
    for (int i = 0; i < g->items; i++)
        if (g->lifted[i] && !strcmp(g->item[i].role, role))
            return true;
    return false;
}

static bool step_lists(const Judge *g, const char *how, const char *role) {
    const cJSON *step;
    cJSON_ArrayForEach(step,
                       get(g->j->bench, "steps")) if (is_there(g, text_of(step, "step")) &&
                                                      lists_text(get(step, how), role)) return true;
    return false;
}

static bool is_worked_on(const Judge *g, const char *role) {
    for (int i = 0; i < g->items; i++)
        if (g->acts[i] && !strcmp(g->item[i].role, role))
            return true;
    return step_lists(g, "reaches", role) || step_lists(g, "lifts", role);
}

static bool carrier_forces(const Judge *g, const Item *item, const char *role) {
    return carries(g, item, role) &&
           (goes_from(g, role) || (lifted_in(g, role) && !ride_of(g, item)));
}

/* By one of the covers; over NULL: whatever is under it. */
static bool cover_forces(const Judge *g, const Item *item, const char *over) {
    const cJSON *cover, *truth = get(g->truths, "covers")->child;
    for (cover = get(g->j->bench, "covers") ? get(g->j->bench, "covers")->child : NULL; cover;
         cover = cover->next, truth = truth->next) {
        bool holds = cJSON_IsTrue(get(truth, "today")) || cJSON_IsTrue(get(truth, "then"));
        if (holds && !strcmp(text_of(cover, "role"), item->role) &&
            (!over || !strcmp(text_of(cover, "over"), over)) &&
            is_worked_on(g, text_of(cover, "over")))
            return true;
    }
    return false;
}

static bool must_lift(const Judge *g, const Item *item) {
    const cJSON *role;
    if (item->fate != STAYS)
        return false;
    cJSON_ArrayForEach(
        role,
        get(g->j->roles, "roles")) if (carrier_forces(g, item, text_of(role, "role"))) return true;
    return cover_forces(g, item, NULL) || step_lists(g, "lifts", item->role);
}

static bool comes_off(const Judge *g, const char *role) {
    for (int i = 0; i < g->items; i++)
        if (g->acts[i] && g->item[i].fate != COMES && !strcmp(g->item[i].role, role))
            return true;
    return false;
}

/* It goes, and what it covers today has to be free while it is not. */
static bool is_in_the_way(const Judge *g, const Item *item) {
    const cJSON *truth = get(g->truths, "covers")->child, *covers = get(g->j->bench, "covers");
    for (const cJSON *cover = covers ? covers->child : NULL; cover;
         cover = cover->next, truth = truth->next) {
        const char *over = text_of(cover, "over");
        if (cJSON_IsTrue(get(truth, "today")) && !strcmp(text_of(cover, "role"), item->role) &&
            (comes_off(g, over) || step_lists(g, "reaches", over)))
            return true;
    }
    return false;
}

static bool must_act(const Judge *g, const Item *item) {
    const char *ride = ride_of(g, item);
    if (item->fate == GOES)
        return !ride || !goes_from(g, ride) || is_in_the_way(g, item);
    return item->fate == COMES || must_lift(g, item);
}

/* From nothing upwards, so that two things cannot be each other's only reason.
 */
static void find_lifted(Judge *g) {
    memset(g->lifted, 0, sizeof g->lifted);
    memset(g->acts, 0, sizeof g->acts);
    for (bool more = true; more;) {
        more = false;
        for (int i = 0; i < g->items; i++)
            if (!g->acts[i] && must_act(g, &g->item[i])) {
                more = g->acts[i] = true;
                g->lifted[i] = g->item[i].fate == STAYS;
            }
    }
}

static bool is_ridden(const Judge *g, const char *role) {
    for (int i = 0; i < g->items; i++) {
        bool goes_on = g->acts[i] && g->item[i].fate != GOES;
        const char *ride = goes_on ? ride_of(g, &g->item[i]) : NULL;
        if (ride && !strcmp(ride, role))
            return true;
    }
    return false;
}

/* The take-out with which it leaves takes its carrier, or what leaves with that. */
static bool leaves_rightly(const Judge *g, const Item *item) {
    const char *ride = ride_of(g, item);
    for (int i = 0; ride && i < g->items; i++) {
        const Item *other = &g->item[i];
        if (!strcmp(other->role, ride) && (other->out == item->with || other->with == item->with))
            return true;
    }
    return false;
}

static bool right_item(Judge *g, int at) {
    const Item *m = &g->item[at];
    if (m->fate == GOES && (m->out >= 0) != g->acts[at])
        return fail(g->t, "%s of %s %s", m->part, m->role,
                    g->acts[at] ? "must be taken out by itself" : "leaves with what it rides on");
    if (m->with >= 0 && !leaves_rightly(g, m))
        return fail(g->t, "%s of %s leaves with what does not carry it", m->part, m->role);
    if (m->fate == STAYS && (m->off >= 0) != g->lifted[at])
        return fail(g->t, "%s of %s %s", m->part, m->role,
                    g->lifted[at] ? "has to come off" : "comes off for nothing");
    if (m->fate == COMES && (m->lay >= 0) != is_ridden(g, m->role))
        return fail(g->t, "%s of %s is %s", m->part, m->role,
                    m->lay >= 0 ? "laid out for nothing" : "not laid out");
    return true;
}

/* ---- reasons told ---- */

static const Item *item_of(const Judge *g, const cJSON *deed) {
    for (int i = 0; i < g->items; i++)
        if (!strcmp(g->item[i].role, text_of(deed, "role")) &&
            !strcmp(g->item[i].part, text_of(deed, "part")) && g->item[i].fate == STAYS)
            return &g->item[i];
    return NULL;
}

static bool is_done(const Judge *g, const char *task) {
    const cJSON *role;
    cJSON_ArrayForEach(
        role, get(g->machine, "machine")) if (lists_text(get(role, "tasks"), task)) return true;
    return false;
}

static const char *role_of(const cJSON *list, const char *id) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) if (!strcmp(text_of(item, "id"), id)) return text_of(item,
                                                                                        "role");
    return "";
}

/* What a condition is about: a fact, a role, or what was observed. */
static bool is_about(const Judge *g, const cJSON *cond, const char *value) {
    static const char *const plain[] = {"fact", "changes", "empty", "observed"};
    if (get(cond, "not"))
        return is_about(g, get(cond, "not"), value);
    for (int i = 0; i < 4; i++)
        if (get(cond, plain[i]))
            return !strcmp(text_of(cond, plain[i]), value);
    if (get(cond, "holds"))
        return !strcmp(role_of(get(g->j->parts, "parts"), text_of(cond, "holds")), value);
    return !strcmp(role_of(get(g->j->tasks, "tasks"), text_of(cond, "task")), value);
}

/* Whether one of the step's own conditions is about that. */
static bool names_so(const Judge *g, const cJSON *deed, const char *value) {
    static const char *const lists[] = {"any", "all", "was"};
    const cJSON *cond, *steps = get(g->j->bench, "steps"), *step = steps ? steps->child : NULL;
    while (step && strcmp(text_of(step, "step"), text_of(deed, "step")) != 0)
        step = step->next;
    for (int i = 0; step && i < 3; i++)
        cJSON_ArrayForEach(cond, get(step, lists[i])) if (is_about(g, cond, value)) return true;
    return false;
}

static bool is_live(const Judge *g, const cJSON *deed, const cJSON *reason) {
    const Item *item = item_of(g, deed);
    const cJSON *one = reason->child;
    const char *name = one && one->string ? one->string : "";
    const char *value = cJSON_IsString(one) ? one->valuestring : "";
    if (!strcmp(name, "changes"))
        return role_changes(g->j, g->machine, value);
    if (!strcmp(name, "task"))
        return is_done(g, value);
    if (!strcmp(name, "charge"))
        return lists_text(get(g->truths, "due"), value);
    if (!strcmp(name, "step"))
        return is_there(g, value) && item && step_lists(g, "lifts", item->role);
    if (!strcmp(name, "covers"))
        return item && cover_forces(g, item, value);
    if (!strcmp(name, "carried-by"))
        return item && carrier_forces(g, item, value);
    if (!strcmp(name, "so"))
        return names_so(g, deed, value);
    return !strcmp(name, "always") && !strcmp(text_of(deed, "does"), "step");
}

static bool has_live_reasons(Judge *g, const cJSON *deed) {
    const cJSON *reason;
    if (!cJSON_GetArraySize(get(deed, "because")))
        return fail(g->t, "number %.0f is there for no reason", get(deed, "number")->valuedouble);
    cJSON_ArrayForEach(reason, get(deed, "because")) if (!is_live(g, deed, reason)) return fail(
        g->t, "number %.0f is there because of %s \"%s\", which is not so",
        get(deed, "number")->valuedouble, reason->child ? reason->child->string : "nothing",
        cJSON_IsString(reason->child) ? reason->child->valuestring : "");
    return true;
}

bool judge_touch(Judge *g) {
    const cJSON *deed;
    find_lifted(g);
    for (int i = 0; i < g->items; i++)
        if (!right_item(g, i))
            return false;
    cJSON_ArrayForEach(deed, g->work) if (!has_live_reasons(g, deed)) return false;
    return true;
}
