/* Compares the checker's answers with the program's. Of a stage nobody says which
 * sellers and what total are shown, so that these are not compared. */
#include "later.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool is_null(const cJSON *json) { return !json || cJSON_IsNull(json); }

/* A copy of the checker's stage that says nothing of sellers, and of money what the
 * program says. */
static cJSON *without_sellers(const cJSON *stage, const cJSON *program) {
    cJSON *copy = cJSON_Duplicate(stage, true), *swap, *in;
    if (!copy)
        give_up("memory");
    cJSON_ArrayForEach(swap, get(copy, "swaps")) cJSON_ArrayForEach(in, get(swap, "in")) {
        cJSON_DeleteItemFromObject(in, "seller");
        cJSON_DeleteItemFromObject(in, "price");
    }
    cJSON_DeleteItemFromObject(copy, "cost");
    if (cJSON_IsString(get(program, "cost")))
        cJSON_AddStringToObject(copy, "cost", text_of(program, "cost"));
    return copy;
}

static bool same_stage(Talk *t, const char *what, const cJSON *oracle, const cJSON *program) {
    cJSON *copy = without_sellers(oracle, program);
    bool same = same_content(t, what, copy, program);
    cJSON_Delete(copy);
    return same;
}

static bool same_number(Talk *t, const char *what, const cJSON *oracle, const cJSON *program) {
    if (cJSON_IsNumber(oracle) && cJSON_IsNumber(program) &&
        oracle->valuedouble == program->valuedouble)
        return true;
    snprintf(t->why, t->size, "%s: the checker says %.0f, the program %.0f", what,
             oracle ? oracle->valuedouble : -1.0, program ? program->valuedouble : -1.0);
    return false;
}

/* Of texts or of numbers. */
static bool same_array(Talk *t, const char *what, const cJSON *oracle, const cJSON *program) {
    if (cJSON_IsArray(program) && cJSON_Compare(oracle, program, true))
        return true;
    snprintf(t->why, t->size, "%s: not the same", what);
    return false;
}

static bool same_groups(Talk *t, const cJSON *oracle, const cJSON *program) {
    if (!same_count(t, "groups", oracle, program))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(oracle); i++) {
        const cJSON *a = cJSON_GetArrayItem(oracle, i), *b = cJSON_GetArrayItem(program, i);
        if (!same_number(t, "number of a group", get(a, "number"), get(b, "number")) ||
            !same_array(t, "roles of a group", get(a, "roles"), get(b, "roles")) ||
            !same_text(t, "cost of a group alone", text_of(a, "alone"), text_of(b, "alone")))
            return false;
    }
    return true;
}

static bool same_purchases(Talk *t, const cJSON *oracle, const cJSON *program) {
    char what[64];
    if (!same_count(t, "purchases", oracle, program))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(oracle); i++) {
        const cJSON *a = cJSON_GetArrayItem(oracle, i), *b = cJSON_GetArrayItem(program, i);
        snprintf(what, sizeof what, "stage %d", i + 1);
        if (!same_array(t, "groups of a purchase", get(a, "groups"), get(b, "groups")) ||
            !same_text(t, "cost of a purchase", text_of(a, "cost"), text_of(b, "cost")) ||
            !same_text(t, "spent", text_of(a, "spent"), text_of(b, "spent")) ||
            !same_stage(t, what, get(a, "stage"), get(b, "stage")))
            return false;
    }
    return true;
}

static bool same_end(Talk *t, const cJSON *oracle, int a, const cJSON *program, int b) {
    if (!same_text(t, "status", text_of(oracle, "status"), text_of(program, "status")))
        return false;
    if (a != b)
        snprintf(t->why, t->size, "exit code: the checker ended with %d, the program with %d", a,
                 b);
    else if (cJSON_IsTrue(get(program, "unsettled")))
        snprintf(t->why, t->size, "the program says that it is not settled");
    else
        return true;
    return false;
}

bool same_first(Talk *t, const cJSON *oracle, int oracle_code, const cJSON *program, int code) {
    if (!same_end(t, oracle, oracle_code, program, code))
        return false;
    if (code == 1 && cJSON_GetArraySize(get(program, "purchases")) == 0)
        return true;
    return same_content(t, "the best bundle", get(oracle, "bundle"), get(program, "bundle")) &&
           same_groups(t, get(oracle, "groups"), get(program, "groups")) &&
           same_text(t, "horizon", text_of(oracle, "horizon"), text_of(program, "horizon")) &&
           same_number(t, "area", get(oracle, "area"), get(program, "area")) &&
           same_purchases(t, get(oracle, "purchases"), get(program, "purchases"));
}

bool same_phases(Talk *t, const cJSON *oracle, int oracle_code, const cJSON *program, int code) {
    const char *judged = text_of(oracle, "judged");
    const cJSON *a = get(oracle, "greedy"), *b = get(program, "greedy");
    if (!same_end(t, oracle, oracle_code, program, code))
        return false;
    if (code == 1)
        return !get(oracle, "judged") || same_text(t, "judged", "", judged);
    if (is_null(a) != is_null(b)) {
        snprintf(t->why, t->size, "greedy: only one of them has any");
        return false;
    }
    if (!is_null(a) && !same_content(t, "greedy", a, b))
        return false;
    if (is_null(a) || !*judged)
        return true;
    snprintf(t->why, t->size, "judged: %s", judged);
    return false;
}
