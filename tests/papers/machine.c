/* The machine of a bundle, from what is there today and what the bundle changes. */
#include "papers.h"

#include <stdlib.h>
#include <string.h>

static int count_in(const cJSON *json) {
    const cJSON *count = get(json, "count");
    return count ? (int)count->valuedouble : 1;
}

static const cJSON *with(const cJSON *list, const char *name, const char *value) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) if (!strcmp(text_of(item, name), value)) return item;
    return NULL;
}

static void add_part(cJSON *parts, const char *part, int count, bool added) {
    if (count <= 0)
        return;
    cJSON *json = must_have(cJSON_CreateObject());
    must_have(cJSON_AddStringToObject(json, "part", part));
    must_have(cJSON_AddNumberToObject(json, "count", count));
    must_have(cJSON_AddBoolToObject(json, "added", added));
    cJSON_AddItemToArray(parts, json);
}

static cJSON *start_role(const char *role) {
    cJSON *json = must_have(cJSON_CreateObject());
    must_have(cJSON_AddStringToObject(json, "role", role));
    must_have(cJSON_AddArrayToObject(json, "parts"));
    must_have(cJSON_AddArrayToObject(json, "tasks"));
    return json;
}

/* What is there today, less what goes. */
static void add_kept(const Job *j, cJSON *entry, const char *role, const cJSON *out) {
    const cJSON *item;
    cJSON *parts = cJSON_GetObjectItem(entry, "parts");
    cJSON_ArrayForEach(item, get(get(j->job, "machine"), role)) {
        const char *part = text_of(item, "part");
        const cJSON *gone = with(out, "part", part);
        add_part(parts, part, count_in(item) - (gone ? count_in(gone) : 0), false);
    }
}

static int by_text(const void *a, const void *b) {
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static void add_tasks(cJSON *entry, const char *role, const cJSON *tasks) {
    const char *id[64];
    const cJSON *item;
    int n = 0;
    cJSON_ArrayForEach(item, tasks) if (!strcmp(text_of(item, "role"), role) && n < 64) id[n++] =
        text_of(item, "id");
    if (n)
        qsort(id, (size_t)n, sizeof *id, by_text);
    for (int i = 0; i < n; i++)
        cJSON_AddItemToArray(cJSON_GetObjectItem(entry, "tasks"),
                             must_have(cJSON_CreateString(id[i])));
}

static bool is_empty(const cJSON *entry) {
    return !cJSON_GetArraySize(get(entry, "parts")) && !cJSON_GetArraySize(get(entry, "tasks"));
}

/* Some versions of the library insert at either end alone. */
void insert_at(cJSON *list, int place, cJSON *item) {
    int behind = cJSON_GetArraySize(list) - place;
    cJSON_AddItemToArray(list, item);
    for (; behind > 0; behind--)
        cJSON_AddItemToArray(list, cJSON_DetachItemFromArray(list, place));
}

/* Keeps the roles in byte order. */
static void insert_role(cJSON *list, cJSON *entry) {
    int at = 0;
    const cJSON *item;
    if (is_empty(entry)) {
        cJSON_Delete(entry);
        return;
    }
    cJSON_ArrayForEach(item, list) at += strcmp(text_of(item, "role"), text_of(entry, "role")) < 0;
    insert_at(list, at, entry);
}

cJSON *machine_of(const Job *j, const cJSON *bundle) {
    cJSON *whole = must_have(cJSON_CreateObject());
    cJSON *list = must_have(cJSON_AddArrayToObject(whole, "machine"));
    const cJSON *json, *item;
    cJSON_ArrayForEach(json, get(j->roles, "roles")) {
        const char *role = text_of(json, "role");
        const cJSON *swap = with(get(bundle, "swaps"), "role", role);
        cJSON *entry = start_role(role);
        add_kept(j, entry, role, get(swap, "out"));
        cJSON_ArrayForEach(item, get(swap, "in")) add_part(
            cJSON_GetObjectItem(entry, "parts"), text_of(item, "part"), count_in(item), true);
        add_tasks(entry, role, get(bundle, "tasks"));
        insert_role(list, entry);
    }
    return whole;
}

cJSON *machine_without(const Job *j, const cJSON *machine, const char *role) {
    cJSON *whole = must_have(cJSON_Duplicate(machine, true));
    cJSON *list = cJSON_GetObjectItem(whole, "machine"), *entry = start_role(role);
    for (int i = cJSON_GetArraySize(list) - 1; i >= 0; i--)
        if (!strcmp(text_of(cJSON_GetArrayItem(list, i), "role"), role))
            cJSON_DeleteItemFromArray(list, i);
    add_kept(j, entry, role, NULL);
    insert_role(list, entry);
    return whole;
}

const cJSON *role_in(const cJSON *machine, const char *role) {
    return with(get(machine, "machine"), "role", role);
}

bool role_changes(const Job *j, const cJSON *machine, const char *role) {
    const cJSON *entry = role_in(machine, role), *item;
    cJSON_ArrayForEach(item, get(entry, "parts")) if (cJSON_IsTrue(get(item, "added"))) return true;
    cJSON_ArrayForEach(item, get(get(j->job, "machine"), role)) {
        const cJSON *kept = with(get(entry, "parts"), "part", text_of(item, "part"));
        if (!kept || count_in(kept) != count_in(item))
            return true;
    }
    return false;
}

bool any_change(const Job *j, const cJSON *machine) {
    const cJSON *json;
    cJSON_ArrayForEach(json, get(j->roles, "roles")) {
        const char *role = text_of(json, "role");
        if (role_changes(j, machine, role) ||
            cJSON_GetArraySize(get(role_in(machine, role), "tasks")))
            return true;
    }
    return false;
}
