/* Compares what the money is worth: groups, the steps around the budget, the verdict. */
#include "driver_compare.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* "-12.345" without the locale. */
static double number_in(const char *text) {
    double x = 0.0, unit = 1.0;
    bool minus = *text == '-', after = false;
    for (text += minus; *text; text++) {
        if (*text == '.') {
            after = true;
            continue;
        }
        x = x * 10.0 + (*text - '0');
        unit *= after ? 10.0 : 1.0;
    }
    return (minus ? -x : x) / unit;
}

static bool has_role(const cJSON *roles, const char *id) {
    const cJSON *role;
    cJSON_ArrayForEach(role, roles) if (cJSON_IsString(role) &&
                                        !strcmp(role->valuestring, id)) return true;
    return false;
}

static bool same_roles(const cJSON *a, const cJSON *b) {
    const cJSON *role;
    cJSON_ArrayForEach(role, a) if (!has_role(b, role->valuestring)) return false;
    return cJSON_GetArraySize(a) == cJSON_GetArraySize(b);
}

static const char *text_or_null(const cJSON *object, const char *name) {
    return cJSON_IsNull(get(object, name)) ? "null" : text_of(object, name);
}

/* Worth over cost; told to three decimals or more. */
static bool same_rate(Talk *t, const char *what, double rate, const char *told) {
    const char *point = strchr(told, '.');
    size_t digits = point ? strlen(point + 1) : 0;
    double room = 0.5 * pow(10.0, -(double)digits) + 1e-6 * fabs(rate) + 1e-9;
    if (digits >= 3 && fabs(rate - number_in(told)) <= room)
        return true;
    snprintf(t->why, t->size, "points per 100 of %s: the checker has %.6f, the program %s", what,
             rate, told);
    return false;
}

static bool same_group(Talk *t, const cJSON *a, const cJSON *b) {
    const char *worth = text_or_null(a, "worth");
    char what[192];
    double cost = number_in(text_of(a, "cost"));
    snprintf(what, sizeof what, "the group with %s",
             cJSON_GetArrayItem(get(a, "roles"), 0)->valuestring);
    char cost_of[224], worth_of[224];
    snprintf(cost_of, sizeof cost_of, "cost of %s", what);
    snprintf(worth_of, sizeof worth_of, "worth of %s", what);
    if (!same_text(t, cost_of, text_of(a, "cost"), text_of(b, "cost")) ||
        !same_text(t, worth_of, worth, text_or_null(b, "worth")))
        return false;
    if (cost > 0.0 && strcmp(worth, "null") != 0)
        return same_rate(t, what, number_in(worth) * 100.0 / cost,
                         text_or_null(b, "points_per_100"));
    return same_text(t, what, "null", text_or_null(b, "points_per_100"));
}

/* In any order. */
static bool same_groups(Talk *t, const cJSON *oracle, const cJSON *plan) {
    const cJSON *a, *b;
    if (!same_count(t, "groups", oracle, plan))
        return false;
    cJSON_ArrayForEach(a, oracle) {
        const cJSON *match = NULL;
        cJSON_ArrayForEach(b, plan) if (same_roles(get(a, "roles"), get(b, "roles"))) match = b;
        if (!match) {
            char *roles = cJSON_PrintUnformatted(get(a, "roles"));
            snprintf(t->why, t->size, "only the checker has the group %s", roles ? roles : "?");
            cJSON_free(roles);
            return false;
        }
        if (!same_group(t, a, match))
            return false;
    }
    return true;
}

static bool both_null(Talk *t, const char *what, const cJSON *a, const cJSON *b, bool *null) {
    *null = !a || cJSON_IsNull(a);
    if (b && *null == cJSON_IsNull(b))
        return true;
    snprintf(t->why, t->size, "%s: the checker has %s, the program %s", what,
             *null ? "none" : "one",
             !b                ? "no such name"
             : cJSON_IsNull(b) ? "none"
                               : "one");
    return false;
}

static bool same_step(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    char of[64];
    bool null;
    if (!both_null(t, what, a, b, &null) || null)
        return null && b;
    snprintf(of, sizeof of, "points of %s", what);
    if (!same_text(t, of, text_of(a, "points"), text_of(b, "points")))
        return false;
    snprintf(of, sizeof of, "cost of %s", what);
    return same_text(t, of, text_of(a, "cost"), text_of(b, "cost"));
}

static double rate_of(const cJSON *step, const cJSON *first) {
    return (number_in(text_of(step, "points")) - number_in(text_of(first, "points"))) * 100.0 /
           (number_in(text_of(step, "cost")) - number_in(text_of(first, "cost")));
}

/* Any of the steps that have the best rate will do. */
static bool same_best_rate(Talk *t, const cJSON *a, const cJSON *b, const cJSON *first) {
    bool null;
    if (!both_null(t, "best rate", a, b, &null) || null)
        return null && b;
    double want = rate_of(a, first), got = rate_of(b, first);
    if (!(fabs(want - got) <= 1e-6 * fabs(want))) {
        snprintf(t->why, t->size, "best rate: the checker has %.6f (%s for %s), the program %.6f",
                 want, text_of(a, "points"), text_of(a, "cost"), got);
        return false;
    }
    return same_rate(t, "the best rate", want, text_of(b, "points_per_100"));
}

static const char *truth(const cJSON *value) {
    return cJSON_IsTrue(value) ? "true" : cJSON_IsFalse(value) ? "false" : "null";
}

/* To spend it all, to spend less, or to keep it; null without a threshold. */
static const char *advice_of(const cJSON *oracle) {
    const cJSON *bundle = get(oracle, "worthwhile");
    if (!bundle)
        return "null";
    if (cJSON_IsTrue(get(oracle, "keep")))
        return "keep";
    return !strcmp(text_of(bundle, "points"), text_of(oracle, "points")) &&
                   !strcmp(text_of(bundle, "cost"), text_of(oracle, "cost"))
               ? "spend"
               : "spend-less";
}

static bool same_worthwhile(Talk *t, const cJSON *oracle, const cJSON *verdict) {
    const cJSON *a = get(oracle, "worthwhile"), *b = get(verdict, "worthwhile");
    bool null;
    if (!both_null(t, "worthwhile bundle", a, b, &null))
        return false;
    return (null || same_content(t, "worthwhile bundle", a, b)) &&
           same_text(t, "advice", advice_of(oracle), text_or_null(verdict, "advice"));
}

bool same_worth(Talk *t, const cJSON *oracle, const cJSON *plan) {
    const cJSON *verdict = get(plan, "verdict"), *first = get(oracle, "first");
    return same_groups(t, get(oracle, "groups"), get(plan, "groups")) &&
           same_step(t, "the last money", get(oracle, "last"), get(plan, "last")) &&
           same_step(t, "the next money", get(oracle, "next"), get(plan, "next")) &&
           same_step(t, "the first step", first, get(verdict, "first")) &&
           same_best_rate(t, get(oracle, "best_rate"), get(verdict, "best_rate"), first) &&
           same_worthwhile(t, oracle, verdict) &&
           same_text(t, "at its end", truth(get(oracle, "at_its_end")),
                     truth(get(verdict, "at_its_end")));
}
