/* Compares the checker's answer with the program's: everything that is shared. */
#include "driver_compare.h"

#include <stdio.h>
#include <string.h>

#include <cjson/cJSON.h>

typedef struct Talk {
    char *why;
    size_t size;
} Talk;

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static const char *text_of(const cJSON *object, const char *name) {
    const cJSON *found = get(object, name);
    return cJSON_IsString(found) ? found->valuestring : "(none)";
}

static bool same_text(Talk *t, const char *what, const char *oracle, const char *plan) {
    if (!strcmp(oracle, plan))
        return true;
    snprintf(t->why, t->size, "%s: the checker says %s, the program %s", what, oracle, plan);
    return false;
}

static bool same_count(Talk *t, const char *what, const cJSON *oracle, const cJSON *plan) {
    int a = cJSON_GetArraySize(oracle), b = cJSON_GetArraySize(plan);
    if (a == b)
        return true;
    snprintf(t->why, t->size, "%s: the checker has %d, the program %d", what, a, b);
    return false;
}

static bool same_parts(Talk *t, const char *what, const cJSON *oracle, const cJSON *plan) {
    static const char *const names[] = {"part", "seller", "price"};
    if (!same_count(t, what, oracle, plan))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(oracle); i++) {
        const cJSON *a = cJSON_GetArrayItem(oracle, i), *b = cJSON_GetArrayItem(plan, i);
        for (int k = 0; k < 3; k++)
            if (get(a, names[k]) &&
                !same_text(t, names[k], text_of(a, names[k]), text_of(b, names[k])))
                return false;
        const cJSON *m = get(a, "count"), *n = get(b, "count");
        if (!m || !n || m->valuedouble != n->valuedouble) {
            snprintf(t->why, t->size, "%s: %s in other numbers", what, text_of(a, "part"));
            return false;
        }
    }
    return true;
}

static bool same_swaps(Talk *t, const cJSON *oracle, const cJSON *plan) {
    char what[128];
    if (!same_count(t, "swaps", oracle, plan))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(oracle); i++) {
        const cJSON *a = cJSON_GetArrayItem(oracle, i), *b = cJSON_GetArrayItem(plan, i);
        if (!same_text(t, "role of a swap", text_of(a, "role"), text_of(b, "role")))
            return false;
        snprintf(what, sizeof what, "taken out of %s", text_of(a, "role"));
        if (!same_parts(t, what, get(a, "out"), get(b, "out")))
            return false;
        snprintf(what, sizeof what, "put into %s", text_of(a, "role"));
        if (!same_parts(t, what, get(a, "in"), get(b, "in")))
            return false;
    }
    return true;
}

static bool lists_task(const cJSON *plan, const char *id) {
    const cJSON *task;
    cJSON_ArrayForEach(task, plan) if (!strcmp(text_of(task, "id"), id)) return true;
    return false;
}

/* In any order: the program lists them role by role. */
static bool same_tasks(Talk *t, const cJSON *oracle, const cJSON *plan) {
    const cJSON *id;
    if (!same_count(t, "tasks", oracle, plan))
        return false;
    cJSON_ArrayForEach(id, oracle) if (!lists_task(plan, id->valuestring)) {
        snprintf(t->why, t->size, "the checker does the task %s", id->valuestring);
        return false;
    }
    return true;
}

static bool same_criteria(Talk *t, const cJSON *oracle, const cJSON *plan) {
    const cJSON *points;
    char what[128];
    cJSON_ArrayForEach(points, oracle) {
        snprintf(what, sizeof what, "points of %s", points->string);
        if (!same_text(t, what, points->valuestring, text_of(get(plan, points->string), "points")))
            return false;
    }
    return true;
}

static bool same_bundle(Talk *t, const cJSON *oracle, const cJSON *plan) {
    const cJSON *best = cJSON_GetArrayItem(get(plan, "bundles"), 0);
    return same_text(t, "baseline cost", text_of(oracle, "baseline_cost"),
                     text_of(get(plan, "baseline"), "cost")) &&
           same_text(t, "points", text_of(oracle, "points"), text_of(best, "points")) &&
           same_text(t, "cost", text_of(oracle, "cost"), text_of(best, "cost")) &&
           same_criteria(t, get(oracle, "criteria"), get(best, "criteria")) &&
           same_swaps(t, get(oracle, "swaps"), get(best, "swaps")) &&
           same_tasks(t, get(oracle, "tasks"), get(best, "tasks"));
}

bool same_answer(const char *oracle, const char *plan, char *why, size_t size) {
    Talk t = {why, size};
    cJSON *a = cJSON_Parse(oracle), *b = cJSON_Parse(plan);
    bool same = false;
    if (!a || !b)
        snprintf(why, size, "%s gave no JSON", a ? "the program" : "the checker");
    else if (same_text(&t, "status", text_of(a, "status"), text_of(b, "status")))
        same = strcmp(text_of(a, "status"), "optimal") != 0 || same_bundle(&t, a, b);
    cJSON_Delete(a);
    cJSON_Delete(b);
    return same;
}

/* The parts put in, with commas; "none" when there are none. */
static void list_items(const cJSON *swaps, char *out, size_t size) {
    const cJSON *swap, *in;
    size_t have = 0;
    snprintf(out, size, "none");
    cJSON_ArrayForEach(swap, swaps) cJSON_ArrayForEach(in, get(swap, "in")) if (have < size) have +=
        (size_t)snprintf(out + have, size - have, "%s%s", have ? "," : "", text_of(in, "part"));
}

bool same_row(const char *answer, const char *points, const char *cost, const char *items,
              char *why, size_t size) {
    char taken[1024];
    cJSON *json = cJSON_Parse(answer);
    const cJSON *bundles = get(json, "bundles");
    const cJSON *bundle = bundles ? cJSON_GetArrayItem(bundles, 0) : json;
    list_items(get(bundle, "swaps"), taken, sizeof taken);
    bool same = !strcmp(points, text_of(bundle, "points")) &&
                (!strcmp(cost, "-") || !strcmp(cost, text_of(bundle, "cost"))) &&
                (!strcmp(items, "-") || !strcmp(items, taken));
    if (!same)
        snprintf(why, size, "got %s %s %s", text_of(bundle, "points"), text_of(bundle, "cost"),
                 taken);
    cJSON_Delete(json);
    return same;
}
