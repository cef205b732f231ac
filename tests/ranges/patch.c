/*
 * A change of a scenario: "wishes.limits.days" and "6", as the page says what a path
 * and a value mean. Written for the tests alone.
 */
#include "ranges.h"

#include <stdlib.h>
#include <string.h>

typedef struct Place { /* where a path has come to */
    cJSON *at;
    const char *name; /* of the member that it is; an element has its list's */
    const char *above;
} Place;

static bool is_one_of(const char *text, const char *const *list) {
    for (; *list; list++)
        if (!strcmp(text, *list))
            return true;
    return false;
}

static bool is_text_list(const char *name, const char *above) {
    static const char *const wishes[] = {"keep", "replace", "avoid", "ranks", NULL};
    return !strcmp(above, "taste") || !strcmp(name, "observed") || !strcmp(name, "strings") ||
           (!strcmp(above, "wishes") && is_one_of(name, wishes));
}

static bool is_object_list(const char *name, const char *above) {
    static const char *const lists[] = {"quotes", "given", "musts", "uses", "sums", NULL};
    return !strcmp(above, "machine") || is_one_of(name, lists);
}

static cJSON *made_for(const char *name, const char *above) {
    bool list = is_text_list(name, above) || is_object_list(name, above);
    return must_have(list ? cJSON_CreateArray() : cJSON_CreateObject());
}

/* Whether the element's key is this: its id; its part, with @ and the seller where it
 * has one; its use; its day. */
static bool has_key(const cJSON *element, const char *key) {
    static const char *const names[] = {"id", "part", "use", "on", NULL};
    const cJSON *seller = get(element, "seller");
    for (int i = 0; names[i]; i++) {
        const cJSON *found = get(element, names[i]);
        if (!cJSON_IsString(found))
            continue;
        size_t length = strlen(found->valuestring);
        if (i == 1 && cJSON_IsString(seller))
            return !strncmp(key, found->valuestring, length) && key[length] == '@' &&
                   !strcmp(key + length + 1, seller->valuestring);
        return !strcmp(key, found->valuestring);
    }
    return false;
}

static cJSON *find_element(const cJSON *list, const char *key) {
    cJSON *element;
    char *end;
    cJSON_ArrayForEach(element, list) if (has_key(element, key)) return element;
    long number = strtol(key, &end, 10);
    return *key >= '0' && *key <= '9' && !*end ? cJSON_GetArrayItem(list, (int)number) : NULL;
}

static cJSON *add_element(const Place *list, const char *key) {
    cJSON *element = must_have(cJSON_CreateObject());
    const char *name = !strcmp(list->name, "uses")    ? "use"
                       : !strcmp(list->name, "sums")  ? "on"
                       : !strcmp(list->name, "musts") ? "id"
                                                      : "part";
    const char *at = !strcmp(name, "part") ? strchr(key, '@') : NULL;
    cJSON *first = must_have(cJSON_CreateString(key));
    if (at) {
        first->valuestring[at - key] = '\0';
        cJSON_AddStringToObject(element, "seller", at + 1);
    }
    cJSON_AddItemToObject(element, name, first);
    cJSON_AddItemToArray(list->at, element);
    return element;
}

static bool step_into(Place *p, const char *step) {
    cJSON *next;
    if (cJSON_IsArray(p->at)) {
        if (is_text_list(p->name, p->above))
            return false;
        next = find_element(p->at, step);
        if (!next)
            next = add_element(p, step);
        *p = (Place){next, p->name, p->name};
        return true;
    }
    if (!cJSON_IsObject(p->at))
        return false;
    next = cJSON_GetObjectItemCaseSensitive(p->at, step);
    if (!next) {
        next = made_for(step, p->name);
        cJSON_AddItemToObject(p->at, step, next);
    }
    *p = (Place){next, next->string, p->name};
    return true;
}

static bool is_number_name(const char *name, const char *above) {
    static const char *const names[] = {"schema",
                                        "count",
                                        "share",
                                        "rate_now",
                                        "rate_wanted",
                                        "days",
                                        "bench_minutes",
                                        "loudness_sone",
                                        "worth_at_least",
                                        "level_dba",
                                        "distance_m",
                                        "machine_dba",
                                        "temperature_c",
                                        "mains_v",
                                        "work_hours_a_day",
                                        "idle_hours_a_day",
                                        "percent",
                                        "stock",
                                        NULL};
    return !strcmp(above, "swings") || is_one_of(name, names);
}

static bool is_yes(const char *value) { return !strcmp(value, "yes") || !strcmp(value, "true"); }

static bool is_no(const char *value) {
    return !strcmp(value, "no") || !strcmp(value, "false") || !strcmp(value, "null");
}

/* JSON where it begins as such; bare words and numbers by what is asked for. */
static cJSON *read_value(const char *value, const char *name, const char *above) {
    cJSON *json = NULL;
    if (*value == '{' || *value == '[' || *value == '"')
        json = cJSON_Parse(value);
    else if (!strcmp(name, "allow_unknown"))
        json = is_yes(value) ? cJSON_CreateTrue() : is_no(value) ? cJSON_CreateFalse() : NULL;
    else if (is_number_name(name, above))
        json = cJSON_Parse(value);
    return json ? json : must_have(cJSON_CreateString(value));
}

static bool set_text(cJSON *list, const char *text, const char *value) {
    int at = -1;
    for (int i = 0; i < cJSON_GetArraySize(list); i++)
        if (!strcmp(cJSON_GetArrayItem(list, i)->valuestring, text))
            at = i;
    if (is_yes(value) && at < 0)
        cJSON_AddItemToArray(list, must_have(cJSON_CreateString(text)));
    if (is_no(value) && at >= 0)
        cJSON_DeleteItemFromArray(list, at);
    return is_yes(value) || is_no(value);
}

static bool set_element(const Place *list, const char *key, const char *value) {
    cJSON *element = find_element(list->at, key);
    if (!strcmp(value, "null")) {
        if (element)
            cJSON_Delete(cJSON_DetachItemViaPointer(list->at, element));
        return true;
    }
    cJSON *fresh = cJSON_Parse(value);
    if (!cJSON_IsObject(fresh)) {
        cJSON_Delete(fresh);
        return false;
    }
    if (element)
        cJSON_ReplaceItemViaPointer(list->at, element, fresh);
    else
        cJSON_AddItemToArray(list->at, fresh);
    return true;
}

static bool set_last(const Place *p, const char *step, const char *value) {
    if (cJSON_IsArray(p->at) && is_text_list(p->name, p->above))
        return set_text(p->at, step, value);
    if (cJSON_IsArray(p->at))
        return set_element(p, step, value);
    if (!cJSON_IsObject(p->at))
        return false;
    cJSON_DeleteItemFromObjectCaseSensitive(p->at, step);
    if (strcmp(value, "null") != 0)
        cJSON_AddItemToObject(p->at, step, read_value(value, step, p->name));
    return true;
}

bool patch(cJSON *job, const char *path, const char *value) {
    Place p = {job, "", ""};
    char *steps = strdup(path), *step = steps;
    bool good = true;
    if (!steps)
        give_up("memory");
    for (char *dot; good && (dot = strchr(step, '.')) != NULL; step = dot + 1) {
        *dot = '\0';
        good = step_into(&p, step);
    }
    good = good && set_last(&p, step, value);
    free(steps);
    return good;
}
