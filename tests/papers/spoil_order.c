/*
 * Faults in the order of the work: two neighbours swapped, and one thing moved to where it can
 * or may not be done, which the judge has to see without the checker.
 */
#include "faults.h"

#include <string.h>

static int place_of(const cJSON *a, const cJSON *which) {
    const cJSON *item;
    int place = 0;
    cJSON_ArrayForEach(item, in(a, "work")) {
        if (item == which)
            return place;
        place++;
    }
    return -1;
}

static bool move_to(cJSON *a, int from, int to) {
    cJSON *list = in(a, "work");
    if (from < 0 || to < 0 || from == to)
        return false;
    insert_at(list, to, cJSON_DetachItemFromArray(list, from));
    number_anew(a);
    return true;
}

/* Moves the first just before the second, where it stands behind it. */
static bool move_before(cJSON *a, const cJSON *which, const cJSON *other) {
    int from = which ? place_of(a, which) : -1, to = other ? place_of(a, other) : -1;
    return from > to && move_to(a, from, to);
}

/* Moves the first just behind the second, where it stands before it. */
static bool move_behind(cJSON *a, const cJSON *which, const cJSON *other) {
    int from = which ? place_of(a, which) : -1, to = other ? place_of(a, other) : -1;
    return from >= 0 && from < to && move_to(a, from, to);
}

static bool is_off(const cJSON *deed) {
    return is_said(deed, "does", "take-out") || is_said(deed, "does", "take-off");
}

static bool is_on(const cJSON *deed) {
    return is_said(deed, "does", "fit") || is_said(deed, "does", "put-back");
}

static bool is_lay(const cJSON *deed) { return is_said(deed, "does", "lay-out"); }

/* The first action of the kind in the role; NULL: there is none. */
static cJSON *first_of(const cJSON *a, const char *role, bool (*kind)(const cJSON *)) {
    cJSON *deed;
    cJSON_ArrayForEach(deed,
                       in(a, "work")) if (is_said(deed, "role", role) && kind(deed)) return deed;
    return NULL;
}

static cJSON *last_of(const cJSON *a, const char *role, bool (*kind)(const cJSON *)) {
    cJSON *deed, *last = NULL;
    cJSON_ArrayForEach(deed, in(a, "work")) if (is_said(deed, "role", role) && kind(deed)) last =
        deed;
    return last;
}

/* ---- neighbours ---- */

static bool swap_at(cJSON *a, int place) {
    return place >= 0 && place + 1 < cJSON_GetArraySize(in(a, "work")) &&
           move_to(a, place + 1, place);
}

static bool first_two(const Ground *g, cJSON *a) {
    (void)g;
    return swap_at(a, 0);
}

static bool last_two(const Ground *g, cJSON *a) {
    (void)g;
    return swap_at(a, cJSON_GetArraySize(in(a, "work")) - 2);
}

static bool middle_two(const Ground *g, cJSON *a) {
    (void)g;
    return swap_at(a, cJSON_GetArraySize(in(a, "work")) / 2 - 1);
}

static bool backwards(const Ground *g, cJSON *a) {
    int n = cJSON_GetArraySize(in(a, "work"));
    (void)g;
    for (int i = 0; i < n; i++)
        move_to(a, n - 1, i);
    return n > 1;
}

/* ---- what cannot be done then ---- */

/* In some role something goes on while something else is still to come off. */
static bool on_before_off(const Ground *g, cJSON *a) {
    const cJSON *role;
    cJSON_ArrayForEach(role, get(g->j->roles, "roles")) {
        const char *id = text_of(role, "role");
        if (move_before(a, first_of(a, id, is_on), last_of(a, id, is_off)))
            return true;
    }
    return false;
}

static bool lay_before_off(const Ground *g, cJSON *a) {
    const cJSON *role;
    cJSON_ArrayForEach(role, get(g->j->roles, "roles")) {
        const char *id = text_of(role, "role");
        if (move_before(a, first_of(a, id, is_lay), last_of(a, id, is_off)))
            return true;
    }
    return false;
}

static const cJSON *mount_of_role(const Ground *g, const char *role) {
    const cJSON *mount;
    cJSON_ArrayForEach(mount,
                       get(g->j->bench, "mounts")) if (is_said(mount, "role", role)) return mount;
    return NULL;
}

static bool hangs(const cJSON *mount) {
    return cJSON_GetArraySize(get(mount, "on")) + cJSON_GetArraySize(get(mount, "sites")) > 0;
}

/* The carrier that a mount names outright and alone; NULL where it is not as simple as that. */
static const char *plain_carrier(const Ground *g, const cJSON *mount, bool rides) {
    const cJSON *on = get(mount, "on");
    if (cJSON_GetArraySize(on) != 1 || cJSON_GetArraySize(get(mount, "sites")))
        return NULL;
    const char *role = on->child->valuestring;
    bool does = cJSON_IsTrue(get(mount, "rides")) && hangs(mount_of_role(g, role));
    return does == rides && !is_said(mount, "role", role) ? role : NULL;
}

typedef bool (*Kind)(const cJSON *);

/* In some role that hangs so the first of a kind moves before the last of its carrier's. */
static bool before_carrier(const Ground *g, cJSON *a, bool rides, Kind kind, Kind of_carrier) {
    const cJSON *mount;
    cJSON_ArrayForEach(mount, get(g->j->bench, "mounts")) {
        const char *under = plain_carrier(g, mount, rides);
        if (under && move_before(a, first_of(a, text_of(mount, "role"), kind),
                                 last_of(a, under, of_carrier)))
            return true;
    }
    return false;
}

static bool behind_carrier(const Ground *g, cJSON *a, bool rides, Kind kind, Kind of_carrier) {
    const cJSON *mount;
    cJSON_ArrayForEach(mount, get(g->j->bench, "mounts")) {
        const char *under = plain_carrier(g, mount, rides);
        if (under && move_behind(a, last_of(a, text_of(mount, "role"), kind),
                                 first_of(a, under, of_carrier)))
            return true;
    }
    return false;
}

static bool on_before_carrier(const Ground *g, cJSON *a) {
    return before_carrier(g, a, false, is_on, is_on);
}

static bool off_behind_carrier(const Ground *g, cJSON *a) {
    return behind_carrier(g, a, false, is_off, is_off);
}

static bool on_before_laid(const Ground *g, cJSON *a) {
    return before_carrier(g, a, true, is_on, is_lay);
}

static bool on_behind_ridden(const Ground *g, cJSON *a) {
    return behind_carrier(g, a, true, is_on, is_on);
}

static bool off_before_ridden(const Ground *g, cJSON *a) {
    return before_carrier(g, a, true, is_off, is_off);
}

/* What is covered comes off, or is fitted, on the wrong side of its cover. */
static bool by_cover(const Ground *g, cJSON *a, bool off) {
    const cJSON *cover, *truth = get(g->checker, "covers")->child;
    for (cover = get(g->j->bench, "covers") ? get(g->j->bench, "covers")->child : NULL; cover;
         cover = cover->next, truth = truth->next) {
        const char *top = text_of(cover, "role"), *under = text_of(cover, "over");
        if (!cJSON_IsTrue(get(truth, off ? "today" : "then")))
            continue;
        if (off ? move_before(a, first_of(a, under, is_off), last_of(a, top, is_off))
                : move_behind(a, last_of(a, under, is_on), first_of(a, top, is_on)))
            return true;
    }
    return false;
}

static bool off_under_cover(const Ground *g, cJSON *a) { return by_cover(g, a, true); }

static bool on_under_cover(const Ground *g, cJSON *a) { return by_cover(g, a, false); }

/* ---- steps ---- */

static cJSON *deed_of_step(const cJSON *a, const char *step) {
    cJSON *deed;
    cJSON_ArrayForEach(deed, in(a, "work")) if (is_said(deed, "step", step)) return deed;
    return NULL;
}

/* What a reference names: another step, or the first or last of its actions. */
static cJSON *deed_of_ref(const cJSON *a, const char *ref, bool last) {
    cJSON *deed, *found = NULL;
    bool off = !strncmp(ref, "off:", 4);
    if (!strchr(ref, ':'))
        return deed_of_step(a, ref);
    cJSON_ArrayForEach(deed, in(a, "work")) {
        const char *role = strchr(ref, ':') + 1;
        bool named = (off ? is_off(deed) : is_on(deed)) &&
                     (!strcmp(role, "*") || is_said(deed, "role", role));
        if (named && (last || !found))
            found = deed;
    }
    return found;
}

static bool wrong_side(const Ground *g, cJSON *a, const char *list) {
    const cJSON *step, *ref;
    bool after = !strcmp(list, "after");
    cJSON_ArrayForEach(step, get(g->j->bench, "steps")) cJSON_ArrayForEach(ref, get(step, list)) {
        cJSON *mine = deed_of_step(a, text_of(step, "step"));
        cJSON *other = deed_of_ref(a, ref->valuestring, after);
        if (!mine || !other || !is_said(other, "stage", text_of(mine, "stage")))
            continue;
        if (after ? move_before(a, mine, other) : move_behind(a, mine, other))
            return true;
    }
    return false;
}

static bool step_too_early(const Ground *g, cJSON *a) { return wrong_side(g, a, "after"); }

static bool step_too_late(const Ground *g, cJSON *a) { return wrong_side(g, a, "before"); }

static bool lifts_too_early(const Ground *g, cJSON *a) {
    const cJSON *step, *role;
    cJSON_ArrayForEach(step, get(g->j->bench, "steps"))
        cJSON_ArrayForEach(role, get(step, "lifts")) {
        cJSON *mine = deed_of_step(a, text_of(step, "step"));
        if (move_before(a, mine, last_of(a, role->valuestring, is_off)))
            return true;
    }
    return false;
}

static bool lifts_too_late(const Ground *g, cJSON *a) {
    const cJSON *step, *role;
    cJSON_ArrayForEach(step, get(g->j->bench, "steps"))
        cJSON_ArrayForEach(role, get(step, "lifts")) {
        cJSON *mine = deed_of_step(a, text_of(step, "step"));
        if (move_behind(a, mine, first_of(a, role->valuestring, is_on)))
            return true;
    }
    return false;
}

/* Under a cover that is still on, or on again. */
static bool reaches(const Ground *g, cJSON *a, bool early) {
    const cJSON *step, *role, *cover, *truth;
    cJSON_ArrayForEach(step, get(g->j->bench, "steps"))
        cJSON_ArrayForEach(role, get(step, "reaches")) {
        cJSON *mine = deed_of_step(a, text_of(step, "step"));
        truth = get(g->checker, "covers")->child;
        cJSON_ArrayForEach(cover, get(g->j->bench, "covers")) {
            const char *top = text_of(cover, "role");
            bool holds = cJSON_IsTrue(get(truth, early ? "today" : "then"));
            if (holds && is_said(cover, "over", role->valuestring) &&
                (early ? move_before(a, mine, last_of(a, top, is_off))
                       : move_behind(a, mine, first_of(a, top, is_on))))
                return true;
            truth = truth->next;
        }
    }
    return false;
}

static bool reaches_too_early(const Ground *g, cJSON *a) { return reaches(g, a, true); }

static bool reaches_too_late(const Ground *g, cJSON *a) { return reaches(g, a, false); }

static bool stage_too_late(const Ground *g, cJSON *a) {
    cJSON *list = in(a, "work"), *one = list->child;
    int n = cJSON_GetArraySize(list);
    (void)g;
    return n > 1 && !is_said(at(list, n - 1), "stage", text_of(one, "stage")) &&
           move_to(a, 0, n - 1);
}

#define FAULT(name, plain)                                                                         \
    { #name, name, plain, 0, 0 }

Fault *order_faults(size_t *n) {
    static Fault fault[] = {FAULT(first_two, false),        FAULT(last_two, false),
                            FAULT(middle_two, false),       FAULT(backwards, false),
                            FAULT(on_before_off, true),     FAULT(lay_before_off, true),
                            FAULT(on_before_carrier, true), FAULT(off_behind_carrier, true),
                            FAULT(on_before_laid, true),    FAULT(on_behind_ridden, true),
                            FAULT(off_before_ridden, true), FAULT(off_under_cover, true),
                            FAULT(on_under_cover, true),    FAULT(step_too_early, true),
                            FAULT(step_too_late, true),     FAULT(lifts_too_early, true),
                            FAULT(lifts_too_late, true),    FAULT(reaches_too_early, true),
                            FAULT(reaches_too_late, true),  FAULT(stage_too_late, true)};
    *n = sizeof fault / sizeof *fault;
    return fault;
}
