/* tasks.json: work on a role without a new part, and what it changes. */
#include "check/stage.h"

static const struct {
    const char *name;
    sw_effect_op op;
} changes[] = {
    {"set", SW_EFFECT_SET},
    {"set_from", SW_EFFECT_SET_FROM},
    {"add", SW_EFFECT_ADD},
    {"times", SW_EFFECT_TIMES},
};
#define CHANGE_COUNT (sizeof changes / sizeof *changes)

/* The one change that the effect makes; CHANGE_COUNT after a complaint. */
static size_t find_change(sw_check *check, const sw_node *at) {
    size_t found = CHANGE_COUNT, count = 0;
    for (size_t i = 0; i < CHANGE_COUNT; i++)
        if (sw_json_get(at->json, changes[i].name) != NULL) {
            found = i;
            count++;
        }
    size_t others = sw_json_get(at->json, "fact") != NULL;
    others += sw_json_get(at->json, "note") != NULL;
    if (count == 1)
        return found;
    /* A name that is not known was complained of, and is the reason. */
    if (count + others != at->json->count)
        return CHANGE_COUNT;
    sw_wrong(check, at, "an effect is one of: set, set_from, add, times",
             "give one; write two effects for two changes", "makes %zu changes", count);
    return CHANGE_COUNT;
}

/* A fact that pieces of the task's role state. */
static bool get_stated_fact(sw_check *check, const sw_node *at, const char *name, int role,
                            unsigned types, int *out) {
    if (!sw_get_fact(check, at, name, types, out))
        return false;
    sw_node found = sw_member(at, name);
    if (role != SW_NONE && !sw_check_stands(check, &found, role, *out))
        return false;
    const sw_fact *fact = &check->catalog->facts[*out];
    if (fact->derived_role == SW_NONE && !fact->built_in)
        return role != SW_NONE;
    sw_wrong(check, &found, "tasks change pieces; derived facts follow from them",
             "name a fact that the parts state", "names a derived fact");
    return false;
}

static void read_effect(sw_check *check, const sw_node *at, int role, sw_effect *out) {
    if (!SW_CHECK_NAMES(check, at, "fact", "set", "set_from", "add", "times"))
        return;
    size_t change = find_change(check, at);
    bool counts = change < CHANGE_COUNT &&
                  (changes[change].op == SW_EFFECT_ADD || changes[change].op == SW_EFFECT_TIMES);
    bool named = get_stated_fact(check, at, "fact", role,
                                 counts ? SW_TYPE_BIT(SW_NUMBER) : SW_ANY_TYPE, &out->fact);
    if (change == CHANGE_COUNT || !named)
        return;
    const sw_fact *fact = &check->catalog->facts[out->fact];
    sw_node value = sw_member(at, changes[change].name);
    out->op = changes[change].op;
    switch (out->op) {
    case SW_EFFECT_SET:
        sw_check_value(check, &value, fact, &out->set);
        break;
    case SW_EFFECT_SET_FROM:
        get_stated_fact(check, at, "set_from", role, SW_TYPE_BIT(fact->type), &out->from);
        break;
    default:
        sw_check_milli(check, &value, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &out->milli);
    }
}

static void read_effects(sw_check *check, const sw_node *at, sw_task *task) {
    sw_node list;
    if (!sw_get_list(check, at, "effects", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_effect *effects = SW_KEEP(check, sw_effect, list.json->count);
    for (size_t i = 0; effects != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        effects[i] = (sw_effect){.fact = SW_NONE, .from = SW_NONE};
        read_effect(check, &entry, task->role, &effects[i]);
    }
    task->effects = effects;
    task->effect_count = effects == NULL ? 0 : list.json->count;
}

static void read_task(sw_check *check, const sw_node *at, int index, sw_task *task) {
    int applies = 0;
    *task = (sw_task){.id = "", .name = "", .role = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "id", "name", "role", "applies_to", "family", "minutes", "price",
                        "needs", "effects", "caution", "source", "chance")) {
        check->tasks.whole = false;
        return;
    }
    task->id = sw_get_new_id(check, at, &check->tasks, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &task->name);
    bool has_role = sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role",
                                 "roles.json", &task->role);
    if (SW_GET_CHOICE(check, at, "applies_to", SW_REQUIRED, &applies, "kept", "any"))
        task->any_piece = applies == 1;
    sw_get_token(check, at, "family", SW_OPTIONAL, &task->family);
    sw_get_whole(check, at, "minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT, &task->minutes);
    sw_get_money(check, at, "price", SW_OPTIONAL, &task->price);
    sw_get_flag(check, at, "chance", SW_OPTIONAL, &task->chance);
    sw_get_text(check, at, "caution", SW_OPTIONAL, &task->caution);
    sw_get_text(check, at, "source", SW_OPTIONAL, &task->source);
    /* Without its role nothing can be said about what it needs. */
    if (has_role)
        sw_get_conditions(check, at, "needs", SW_OPTIONAL, 0, task->role, &task->needs,
                          &task->need_count);
    read_effects(check, at, task);
}

void sw_read_tasks(sw_check *check) {
    sw_node root, list;
    sw_catalog *catalog = check->catalog;
    if (!sw_open_list(check, "tasks.json", "tasks", 0, SW_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "tasks");
    sw_task *tasks = SW_KEEP(check, sw_task, list.json->count);
    if (tasks == NULL)
        return;
    check->tasks.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_task(check, &at, (int)i, &tasks[i]);
    }
    catalog->tasks = tasks;
    catalog->task_count = list.json->count;
    sw_order_by_id(check, &check->tasks, tasks, catalog->task_count, sizeof *tasks);
}
