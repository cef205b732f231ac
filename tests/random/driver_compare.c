/* Compares the checker's answer with the program's: everything that is shared. */
#include "driver_compare.h"

#include <stdio.h>
#include <string.h>

const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

const char *text_of(const cJSON *object, const char *name) {
    const cJSON *found = get(object, name);
    return cJSON_IsString(found) ? found->valuestring : "(none)";
}

bool same_text(Talk *t, const char *what, const char *oracle, const char *plan) {
    if (!strcmp(oracle, plan))
        return true;
    snprintf(t->why, t->size, "%s: the checker says %s, the program %s", what, oracle, plan);
    return false;
}

bool same_count(Talk *t, const char *what, const cJSON *oracle, const cJSON *plan) {
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
    cJSON_ArrayForEach(
        task, plan) if (!strcmp(cJSON_IsString(task) ? task->valuestring : text_of(task, "id"),
                                id)) return true;
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

bool same_content(Talk *t, const char *what, const cJSON *oracle, const cJSON *plan) {
    if (same_text(t, "points", text_of(oracle, "points"), text_of(plan, "points")) &&
        same_text(t, "cost", text_of(oracle, "cost"), text_of(plan, "cost")) &&
        same_swaps(t, get(oracle, "swaps"), get(plan, "swaps")) &&
        same_tasks(t, get(oracle, "tasks"), get(plan, "tasks")))
        return true;
    size_t length = strlen(t->why);
    if (length < t->size)
        snprintf(t->why + length, t->size - length, " (%s)", what);
    return false;
}

static bool same_list(Talk *t, const char *what, const cJSON *oracle, const cJSON *plan) {
    char which[128];
    int n = 0;
    const cJSON *a, *b = plan ? plan->child : NULL;
    for (a = oracle ? oracle->child : NULL; a && b; a = a->next, b = b->next) {
        snprintf(which, sizeof which, "%s %d", what, ++n);
        if (!same_content(t, which, a, b))
            return false;
    }
    return same_count(t, what, oracle, plan);
}

static bool same_bundle(Talk *t, const cJSON *oracle, const cJSON *plan) {
    const cJSON *best = cJSON_GetArrayItem(get(plan, "bundles"), 0);
    return same_text(t, "baseline cost", text_of(oracle, "baseline_cost"),
                     text_of(get(plan, "baseline"), "cost")) &&
           same_content(t, "the best bundle", oracle, best) &&
           same_criteria(t, get(oracle, "criteria"), get(best, "criteria"));
}

bool same_answer(const char *oracle, const char *plan, Wanted wanted, char *why, size_t size) {
    Talk t = {why, size};
    cJSON *a = cJSON_Parse(oracle), *b = cJSON_Parse(plan);
    bool same = false;
    if (!a || !b)
        snprintf(why, size, "%s gave no JSON", a ? "the program" : "the checker");
    else if (!same_text(&t, "status", text_of(a, "status"), text_of(b, "status")))
        same = false;
    else if (strcmp(text_of(a, "status"), "optimal") != 0)
        same = same_count(&t, "bundles", NULL, get(b, "bundles"));
    else
        same = same_bundle(&t, a, b) &&
               (!wanted.ranked || same_list(&t, "bundle", get(a, "ranked"), get(b, "bundles"))) &&
               (!wanted.groups || same_worth(&t, a, b));
    cJSON_Delete(a);
    cJSON_Delete(b);
    return same;
}

bool same_curve(const char *oracle, const char *plan, int code, char *why, size_t size) {
    Talk t = {why, size};
    cJSON *a = cJSON_Parse(oracle), *b = cJSON_Parse(plan);
    bool same = false, none = cJSON_GetArraySize(get(a, "steps")) == 0;
    if (!a || !b)
        snprintf(why, size, "%s gave no JSON", a ? "the program" : "the checker");
    else if (!same_list(&t, "step", get(a, "steps"), get(b, "steps")))
        same = false;
    else if (code != (none ? 1 : 0))
        snprintf(why, size, "the program ended with %d", code);
    else
        same = none || same_text(&t, "status", "optimal", text_of(b, "status"));
    cJSON_Delete(a);
    cJSON_Delete(b);
    return same;
}
