/*
 * Whether the work can be done in the order it is told in: nothing is fitted before what it
 * hangs on is at hand, nothing comes off while what covers it is on, and steps stand where
 * they say.
 */
#include "papers.h"

#include <string.h>

static int off_of(const Item *m) { return m->fate == GOES ? m->out : m->off; }

static int on_of(const Item *m) { return m->fate == COMES ? m->fit : m->back; }

static bool is(const cJSON *json, const char *name, const char *value) {
    return !strcmp(text_of(json, name), value);
}

static bool too_early(Judge *g, const Item *m, const char *what, const Item *other) {
    return fail(g->t, "%s of %s: %s while %s of %s is not ready for it", m->part, m->role, what,
                other->part, other->role);
}

/* ---- hanging ---- */

/* What it hangs on then is there: laid ready where it rides, else fitted. */
static bool at_hand(const Judge *g, const Item *m, const Item *under) {
    bool rides = ride_of(g, m) != NULL;
    int on = on_of(m);
    if (under->fate == COMES)
        return rides ? under->lay >= 0 && under->lay < on && on < under->fit : under->fit < on;
    if (under->off < 0)
        return true;
    return rides ? under->off < on && on < under->back : under->back < on;
}

/* What comes off something comes off first, or with it where it rides. */
static bool is_free(const Judge *g, const Item *m, const Item *under) {
    int off = off_of(m), other = off_of(under);
    if (other < 0)
        return true;
    return ride_of(g, m) ? other < off : off < other;
}

static bool hangs_rightly(Judge *g, const Item *m) {
    for (int i = 0; i < g->items; i++) {
        const Item *under = &g->item[i];
        if (!carries(g, m, under->role))
            continue;
        if (on_of(m) >= 0 && under->fate != GOES && !at_hand(g, m, under))
            return too_early(g, m, "it goes on", under);
        if (off_of(m) >= 0 && under->fate != COMES && !is_free(g, m, under))
            return too_early(g, m, "it comes off", under);
    }
    return true;
}

/* ---- covers ---- */

/* What covers it today is off before it; what leaves with something may not cover it. */
static bool bare_below(Judge *g, const Item *top, const Item *m, bool today, bool then) {
    if (today && off_of(m) >= 0 && top->fate != COMES &&
        (off_of(top) < 0 || off_of(top) > off_of(m)))
        return too_early(g, m, "it comes off", top);
    if (then && on_of(m) >= 0 && top->fate != GOES && (on_of(top) < 0 || on_of(top) < on_of(m)))
        return too_early(g, m, "it goes on", top);
    return true;
}

static const cJSON *first_of(const cJSON *list) { return list ? list->child : NULL; }

static bool covered_rightly(Judge *g, const Item *m) {
    const cJSON *truth = first_of(get(g->truths, "covers"));
    for (const cJSON *cover = first_of(get(g->j->bench, "covers")); cover;
         cover = cover->next, truth = truth->next)
        for (int i = 0; i < g->items; i++)
            if (is(cover, "over", m->role) && is(cover, "role", g->item[i].role) &&
                !bare_below(g, &g->item[i], m, cJSON_IsTrue(get(truth, "today")),
                            cJSON_IsTrue(get(truth, "then"))))
                return false;
    return true;
}

/* ---- in a role ---- */

static bool offs_first(Judge *g, const Item *m) {
    for (int i = 0; i < g->items; i++) {
        const Item *other = &g->item[i];
        if (strcmp(other->role, m->role) != 0)
            continue;
        if (on_of(m) >= 0 && (off_of(other) > on_of(m) || other->lay > on_of(m)))
            return too_early(g, m, "it goes on", other);
        if (m->lay >= 0 && off_of(other) > m->lay)
            return too_early(g, m, "it is laid out", other);
    }
    return true;
}

/* ---- steps ---- */

static int place_of_step(const Judge *g, const char *step) {
    const cJSON *deed;
    int at = 0;
    cJSON_ArrayForEach(deed, g->work) {
        if (is(deed, "step", step))
            return at;
        at++;
    }
    return -1;
}

static bool names_action(const char *ref, const cJSON *deed) {
    bool off = !strncmp(ref, "off:", 4);
    const char *role = strchr(ref, ':') + 1;
    bool matches = off ? is(deed, "does", "take-out") || is(deed, "does", "take-off")
                       : is(deed, "does", "fit") || is(deed, "does", "put-back");
    return matches && (!strcmp(role, "*") || is(deed, "role", role));
}

/* Whether the step stands after (or before) all that the reference names in its stage. */
static bool stands_by(Judge *g, const cJSON *step, const char *ref, bool after) {
    int mine = place_of_step(g, text_of(step, "step")), at = 0;
    const cJSON *deed;
    cJSON_ArrayForEach(deed, g->work) {
        bool named = strchr(ref, ':') ? names_action(ref, deed) : is(deed, "step", ref);
        if (named && is(deed, "stage", text_of(step, "stage")) && (after ? at > mine : at < mine))
            return fail(g->t, "step %s stands on the wrong side of %s", text_of(step, "step"), ref);
        at++;
    }
    return true;
}

static bool stands_where_it_says(Judge *g, const cJSON *step) {
    const cJSON *ref;
    cJSON_ArrayForEach(
        ref, get(step, "after")) if (!stands_by(g, step, ref->valuestring, true)) return false;
    cJSON_ArrayForEach(
        ref, get(step, "before")) if (!stands_by(g, step, ref->valuestring, false)) return false;
    return true;
}

/* Between the offs and the ons of the role. */
static bool stands_within(Judge *g, const cJSON *step, const char *role, bool today, bool then) {
    int mine = place_of_step(g, text_of(step, "step"));
    for (int i = 0; i < g->items; i++) {
        const Item *m = &g->item[i];
        if (strcmp(m->role, role) != 0)
            continue;
        if ((today && off_of(m) > mine) || (then && on_of(m) >= 0 && on_of(m) < mine))
            return fail(g->t, "step %s: %s of %s is in its way", text_of(step, "step"), m->part,
                        m->role);
    }
    return true;
}

static bool has_access(Judge *g, const cJSON *step) {
    const cJSON *role, *cover, *truth = first_of(get(g->truths, "covers"));
    cJSON_ArrayForEach(role, get(step, "lifts")) if (!stands_within(g, step, role->valuestring,
                                                                    true, true)) return false;
    for (cover = first_of(get(g->j->bench, "covers")); cover;
         cover = cover->next, truth = truth->next)
        if (lists_text(get(step, "reaches"), text_of(cover, "over")) &&
            !stands_within(g, step, text_of(cover, "role"), cJSON_IsTrue(get(truth, "today")),
                           cJSON_IsTrue(get(truth, "then"))))
            return false;
    return true;
}

bool judge_order(Judge *g) {
    const cJSON *step;
    for (int i = 0; i < g->items; i++)
        if (!offs_first(g, &g->item[i]) || !hangs_rightly(g, &g->item[i]) ||
            !covered_rightly(g, &g->item[i]))
            return false;
    cJSON_ArrayForEach(step, get(g->j->bench, "steps")) if (is_there(g, text_of(step, "step")) &&
                                                            !(stands_where_it_says(g, step) &&
                                                              has_access(g, step))) return false;
    return true;
}
