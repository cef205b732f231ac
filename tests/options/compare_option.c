/* One option: which bundle it is and why, and all that is told of it. */
#include "options.h"

#include <stdio.h>
#include <string.h>

static bool lists(const cJSON *array, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, array) if (cJSON_IsString(item) &&
                                        !strcmp(item->valuestring, text)) return true;
    return false;
}

/* The same texts in any order. */
static bool same_set(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    const cJSON *item;
    if (!cJSON_IsArray(b) || !same_count(t, what, a, b))
        return cJSON_IsArray(b) ? false : fail(t, "%s: no list", what);
    cJSON_ArrayForEach(item, a) if (!lists(b, item->valuestring)) return fail(
        t, "%s: only the checker has %s", what, item->valuestring);
    return true;
}

/* Told as a share of today's always, in the use's unit where that was measured. */
static bool same_rate(Talk *t, const cJSON *a, const cJSON *b, const char *luck,
                      const char *const names[6]) {
    static const char *const factors[] = {"ratio", "low", "high"};
    char what[128], factor[32];
    const cJSON *now = get(a, "rate_now");
    if (!same_member(t, "a rate", a, b, "use"))
        return false;
    if (now && !near_told(t, "rate now", now->valuedouble, get(b, "rate_now")))
        return false;
    if (!now && (get(b, "rate_now") || get(b, "rate")))
        return fail(t, "%s: a rate, and nothing was measured", text_of(a, "use"));
    for (int i = 0; i < 3; i++) {
        snprintf(factor, sizeof factor, "%s%s", luck, factors[i]);
        snprintf(what, sizeof what, "%s%s of %s", *luck ? "with luck, " : "", names[i],
                 text_of(a, "use"));
        double ratio = get(a, factor)->valuedouble;
        if (*names[i] && !near_told(t, what, ratio, get(b, names[i])))
            return false;
        if (now && !near_told(t, what, now->valuedouble * ratio, get(b, names[3 + i])))
            return false;
    }
    return true;
}

static bool same_rates(Talk *t, const cJSON *a, const cJSON *b, const char *luck,
                       const char *const names[6]) {
    if (!same_count(t, "rates", a, b))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(a); i++)
        if (!same_rate(t, cJSON_GetArrayItem(a, i), cJSON_GetArrayItem(b, i), luck, names))
            return false;
    return true;
}

/* What is promised leaves out the work of chance; the bundle's own rates are with it. */
static bool same_promises(Talk *t, const cJSON *oracle, const cJSON *program) {
    static const char *const promised[] = {"ratio", "ratio_low", "ratio_high",
                                           "rate",  "low",       "high"};
    static const char *const whole[] = {"ratio", "", "", "rate", "rate_low", "rate_high"};
    const cJSON *a = get(oracle, "promised"), *luck = get(program, "chance");
    if (!cJSON_IsBool(luck) || cJSON_IsTrue(luck) != cJSON_IsTrue(get(oracle, "chance")))
        return fail(t, "chance: the checker says %s",
                    cJSON_IsTrue(get(oracle, "chance")) ? "yes" : "no");
    return same_rates(t, a, get(program, "promised"), "", promised) &&
           same_rates(t, a, get(get(program, "bundle"), "rates"), "chance_", whole);
}

static bool same_members(Talk *t, const char *what, const cJSON *a, const cJSON *b,
                         const char *const *names, int n) {
    if (!b || is_null(a) != is_null(b))
        return fail(t, "%s: the checker has %s, the program %s", what, is_null(a) ? "none" : "one",
                    is_null(b) ? "none" : "one");
    for (int i = 0; i < n && !is_null(a); i++)
        if (!same_member(t, what, a, b, names[i]))
            return false;
    return true;
}

static bool same_given_up(Talk *t, const cJSON *a, const cJSON *b) {
    char what[192];
    const cJSON *mine, *theirs;
    snprintf(what, sizeof what, "what is given up for %s", text_of(a, "to"));
    if (!same_member(t, what, a, b, "to") || !same_member(t, what, a, b, "price") ||
        !same_count(t, what, get(a, "parts"), get(b, "parts")))
        return false;
    cJSON_ArrayForEach(mine, get(a, "parts")) {
        const cJSON *found = NULL;
        cJSON_ArrayForEach(
            theirs, get(b, "parts")) if (!strcmp(text_of(mine, "part"), text_of(theirs, "part")))
            found = theirs;
        if (!found)
            return fail(t, "%s: only the checker has %s", what, text_of(mine, "part"));
        if (!same_member(t, what, mine, found, "price"))
            return false;
        const cJSON *n = get(found, "count");
        if (!cJSON_IsNumber(n) || n->valuedouble != get(mine, "count")->valuedouble)
            return fail(t, "%s: %s in other numbers", what, text_of(mine, "part"));
    }
    return true;
}

static bool same_all_given_up(Talk *t, const cJSON *a, const cJSON *b) {
    if (!same_count(t, "dearer options", a, b))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(a); i++)
        if (!same_given_up(t, cJSON_GetArrayItem(a, i), cJSON_GetArrayItem(b, i)))
            return false;
    return true;
}

static bool same_days(Talk *t, const cJSON *a, const cJSON *b) {
    if (cJSON_IsNumber(b) && a->valuedouble == b->valuedouble)
        return true;
    return fail(t, "days without the machine: the checker has %.0f, the program %.0f",
                a->valuedouble, b ? b->valuedouble : -1.0);
}

static bool same_told(Talk *t, const cJSON *a, const cJSON *b) {
    static const char *const step[] = {"cost", "points", "more_cost", "more_points"};
    static const char *const there[] = {"cost", "points", "more_points"};
    if (!cJSON_IsTrue(get(b, "proved")))
        return fail(t, "it is not proved");
    return same_set(t, "ends", get(a, "ends"), get(b, "ends")) &&
           same_days(t, get(a, "days_without"), get(b, "days_without")) &&
           same_members(t, "the next step", get(a, "next_step"), get(b, "next_step"), step, 4) &&
           same_members(t, "the next hundred", get(a, "next_hundred"), get(b, "next_hundred"),
                        there, 3) &&
           same_set(t, "asks", get(a, "asks"), get(b, "asks")) &&
           same_set(t, "hazards", get(a, "hazards"), get(b, "hazards")) &&
           same_all_given_up(t, get(a, "given_up"), get(b, "given_up")) && same_promises(t, a, b);
}

bool same_option(Talk *t, const cJSON *a, const cJSON *b) {
    char what[64];
    snprintf(what, sizeof what, "%s", text_of(a, "option"));
    if (!same_member(t, what, a, b, "option") || !same_member(t, what, a, b, "rule") ||
        !same_member(t, what, a, b, "complaint") ||
        !same_content(t, what, get(a, "bundle"), get(b, "bundle")))
        return false;
    if (same_told(t, a, b))
        return true;
    size_t length = strlen(t->why);
    snprintf(t->why + length, t->size - length, " (%s)", what);
    return false;
}
