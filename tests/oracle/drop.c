/*
 * Terms of the job that are dropped: cut from the scenario before it is read, or
 * of rules struck out once the present machine is known.
 */
#include "world.h"

#include <string.h>

static cJSON *get(cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

bool drops(const World *w, const char *term) {
    for (int i = 0; i < w->droppings; i++)
        if (!strcmp(w->dropped[i], term))
            return true;
    return false;
}

/* What follows "PREFIX:" in the term, or NULL. */
static const char *after(const char *term, const char *prefix) {
    size_t length = strlen(prefix);
    return !strncmp(term, prefix, length) && term[length] == ':' ? term + length + 1 : NULL;
}

static int cut_text(cJSON *array, const char *text) {
    int cut = 0;
    for (int i = cJSON_GetArraySize(array) - 1; i >= 0; i--)
        if (!strcmp(cJSON_GetArrayItem(array, i)->valuestring, text)) {
            cJSON_DeleteItemFromArray(array, i);
            cut++;
        }
    return cut;
}

static int cut_must(cJSON *musts, const char *id) {
    int cut = 0;
    for (int i = cJSON_GetArraySize(musts) - 1; i >= 0; i--)
        if (!strcmp(text_of(cJSON_GetArrayItem(musts, i), "id", ""), id)) {
            cJSON_DeleteItemFromArray(musts, i);
            cut++;
        }
    return cut;
}

static int cut_use(cJSON *given, const char *part) {
    int cut = 0;
    cJSON *json;
    cJSON_ArrayForEach(json, given) if (!strcmp(text_of(json, "part", ""), part)) cut +=
        cut_text(get(json, "strings"), "must-use");
    return cut;
}

static int cut_limit(cJSON *limits, const char *name) {
    int had = get(limits, name) != NULL;
    cJSON_DeleteItemFromObjectCaseSensitive(limits, name);
    return had;
}

static int cut_term(cJSON *job, const char *term) {
    static const char *const lists[] = {"keep", "replace", "avoid"};
    cJSON *wishes = get(job, "wishes");
    for (int i = 0; i < 3; i++)
        if (after(term, lists[i]))
            return cut_text(get(wishes, lists[i]), after(term, lists[i]));
    if (after(term, "must"))
        return cut_must(get(job, "musts"), after(term, "must"));
    if (after(term, "use"))
        return cut_use(get(job, "given"), after(term, "use"));
    return after(term, "limit") ? cut_limit(get(wishes, "limits"), after(term, "limit")) : 0;
}

static void cut_wishes(cJSON *job) {
    cJSON *wishes = get(job, "wishes"), *given;
    cJSON_DeleteItemFromObjectCaseSensitive(wishes, "keep");
    cJSON_DeleteItemFromObjectCaseSensitive(wishes, "replace");
    cJSON_DeleteItemFromObjectCaseSensitive(job, "musts");
    cJSON_ArrayForEach(given, get(job, "given"))
        cJSON_DeleteItemFromObjectCaseSensitive(given, "strings");
}

void drop_wishes(World *w, cJSON *job) {
    if (w->free_of_limits) {
        cJSON_DeleteItemFromObjectCaseSensitive(get(job, "wishes"), "avoid");
        cut_limit(get(get(job, "wishes"), "limits"), "days");
    }
    if (w->free_of_wishes)
        cut_wishes(job);
    for (int i = 0; i < w->droppings; i++) {
        const char *term = w->dropped[i];
        if (!strcmp(term, "unknown"))
            w->allow_unknown = true;
        else if (strcmp(term, "budget") != 0 && !after(term, "rule") && !cut_term(job, term))
            stop(2, "the job has no term \"%s\"", term);
    }
}

void drop_rules(World *w) {
    for (int i = 0; i < w->droppings; i++) {
        const char *id = after(w->dropped[i], "rule");
        bool found = !id;
        for (int r = 0; id && r < w->rules; r++)
            if (!strcmp(w->rule[r].id, id) && w->rule[r].hard)
                found = w->rule[r].dropped = true;
        if (!found)
            stop(2, "there is no hard rule \"%s\"", id);
    }
}
