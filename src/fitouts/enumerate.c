/* Every fit-out of one role: which present pieces stay, which new ones come,
 * and which tasks are done on the result. */
#include "fitouts/stage.h"

#include <stdlib.h>
#include <string.h>

#define SW_TASKS_ON_ONE 64 /* tasks offered on one fit-out */

typedef struct builder {
    sw_fitouts *fitouts;
    int role;
    sw_complaints *complaints;
    int *kept;       /* the vector being counted through */
    sw_added *kinds; /* new parts with an allowed count */
    sw_piece *pieces;
    size_t kind_count;
} builder;

sw_status sw_too_many(const sw_fitouts *fitouts, int role, sw_complaints *complaints) {
    sw_complain(complaints, fitouts->scenario->file, "",
                "every choice of a role is weighed against every other",
                "in roles.json give the role fewer counts, new_kinds 1 or kept all-or-none; in "
                "tasks.json offer fewer tasks on it; or avoid more parts in the scenario",
                "the role %s has more than %d ways to be filled", fitouts->catalog->roles[role].id,
                SW_CHOICE_LIMIT);
    return SW_BAD_DATA;
}

static int by_text(const void *left, const void *right) {
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

static const char *make_key(const builder *b, const sw_fitout *fitout) {
    const sw_scenario *scenario = b->fitouts->scenario;
    sw_arena *arena = b->fitouts->arena;
    const char **entries = SW_NEW(arena, const char *, (size_t)fitout->pieces);
    if (entries == NULL)
        return NULL;
    size_t used = 0;
    for (size_t i = 0; i < scenario->machine_count[b->role]; i++)
        for (int n = 0; n < fitout->kept[i]; n++)
            entries[used++] = scenario->parts[scenario->machine[b->role][i].part].id;
    for (int i = 0; i < fitout->added_count; i++) {
        const char *id = scenario->parts[fitout->added[i].part].id;
        const char *entry = sw_arena_format(arena, "+%s", id);
        if (entry == NULL)
            return NULL;
        for (int n = 0; n < fitout->added[i].count; n++)
            entries[used++] = entry;
    }
    qsort(entries, used, sizeof *entries, by_text);
    sw_text text = {0};
    for (size_t i = 0; i < used; i++) {
        sw_text_add(&text, entries[i]);
        sw_text_add(&text, "\n");
    }
    for (int i = 0; i < fitout->task_count; i++) {
        sw_text_add(&text, "\t");
        sw_text_add(&text, b->fitouts->catalog->tasks[fitout->tasks[i]].id);
        sw_text_add(&text, "\n");
    }
    const char *key =
        text.failed ? NULL : sw_arena_text(arena, text.bytes ? text.bytes : "", text.length);
    sw_text_free(&text);
    return key;
}

static bool does(const sw_fitout *fitout, int task) {
    for (int i = 0; i < fitout->task_count; i++)
        if (fitout->tasks[i] == task)
            return true;
    return false;
}

static bool adds_part(const sw_fitout *fitout, int part) {
    for (int i = 0; i < fitout->added_count; i++)
        if (fitout->added[i].part == part)
            return true;
    return false;
}

/* Do the wishes about present parts let this fit-out stand? */
static bool wished(const sw_scenario *scenario, const sw_fitout *fitout) {
    int role = fitout->role;
    if (scenario->keep_role[role] && fitout->changes)
        return false;
    for (size_t i = 0; i < scenario->machine_count[role]; i++) {
        const sw_present *present = &scenario->machine[role][i];
        if (fitout->kept[i] > 0 &&
            (scenario->replace_role[role] || scenario->replace_part[present->part]))
            return false;
        if (scenario->keep_part[present->part] && fitout->kept[i] < present->count)
            return false;
    }
    return true;
}

static bool obeys_musts(const builder *b, const sw_fitout *fitout) {
    const sw_scenario *scenario = b->fitouts->scenario;
    for (size_t m = 0; m < scenario->must_count; m++) {
        const sw_must *must = &scenario->musts[m];
        if (must->task != SW_NONE && b->fitouts->catalog->tasks[must->task].role == b->role &&
            !does(fitout, must->task))
            return false;
        for (size_t i = 0; i < scenario->machine_count[b->role]; i++)
            if (must->part == scenario->machine[b->role][i].part && fitout->kept[i] > 0)
                return false;
    }
    for (size_t g = 0; g < scenario->given_count; g++) {
        const sw_given *given = &scenario->given[g];
        if (given->must_use && scenario->parts[given->part].role == b->role &&
            !adds_part(fitout, given->part))
            return false;
    }
    return true;
}

static sw_status append(builder *b, const sw_fitout *like, const int *tasks, int task_count) {
    sw_fitouts *fitouts = b->fitouts;
    int first = fitouts->first_fitout[b->role];
    if (fitouts->fitout_count - (size_t)first >= SW_CHOICE_LIMIT)
        return sw_too_many(fitouts, b->role, b->complaints);
    sw_fitout fitout = *like;
    int *own = SW_NEW(fitouts->arena, int, (size_t)task_count);
    if (own == NULL)
        return SW_NO_MEMORY;
    for (int i = 0; i < task_count; i++)
        own[i] = tasks[i];
    fitout.tasks = own;
    fitout.task_count = task_count;
    fitout.allowed = wished(fitouts->scenario, &fitout) && obeys_musts(b, &fitout);
    fitout.key = make_key(b, &fitout);
    sw_status status = fitout.key == NULL ? SW_NO_MEMORY : SW_OK;
    /* Without tasks it says what it said before any were thought of. */
    if (status == SW_OK && task_count > 0)
        status = sw_values_make(fitouts, &fitout, b->pieces);
    if (status != SW_OK)
        return status;
    if (!SW_GROW(fitouts->fitouts, fitouts->fitout_room, fitouts->fitout_count))
        return SW_NO_MEMORY;
    fitouts->fitouts[fitouts->fitout_count++] = fitout;
    return SW_OK;
}

static bool keeps_any(const builder *b, const sw_fitout *fitout) {
    for (size_t i = 0; i < b->fitouts->scenario->machine_count[b->role]; i++)
        if (fitout->kept[i] > 0)
            return true;
    return false;
}

/* `bare` is the fit-out before any task. */
static bool offered(const builder *b, const sw_task *task, const sw_fitout *bare) {
    if (task->role != b->role || (task->any_piece ? bare->pieces == 0 : !keeps_any(b, bare)))
        return false;
    for (size_t i = 0; i < task->need_count; i++)
        if (sw_cond_truth(b->fitouts, &task->needs[i], bare) != SW_TRUE)
            return false;
    return true;
}

static bool same_family(const sw_task *a, const sw_task *b) {
    return a->family != NULL && b->family != NULL && strcmp(a->family, b->family) == 0;
}

/* The tasks offered on one fit-out, and the set of them under way. */
typedef struct task_set {
    int offer[SW_TASKS_ON_ONE], chosen[SW_TASKS_ON_ONE];
    int offered, used;
} task_set;

static bool goes_with_chosen(const sw_catalog *catalog, const task_set *set, int task) {
    for (int k = 0; k < set->used; k++)
        if (same_family(&catalog->tasks[set->chosen[k]], &catalog->tasks[task]))
            return false;
    return true;
}

/* Every set that extends the chosen one by tasks from `at` on. The depth is the
 * number of tasks, and the limit on choices ends a search that grows too large. */
static sw_status add_sets(builder *b, const sw_fitout *parts, task_set *set, int at) {
    sw_status status = append(b, parts, set->chosen, set->used);
    for (int i = at; i < set->offered && status == SW_OK; i++) {
        if (!goes_with_chosen(b->fitouts->catalog, set, set->offer[i]))
            continue;
        set->chosen[set->used++] = set->offer[i];
        status = add_sets(b, parts, set, i + 1);
        set->used--;
    }
    return status;
}

/* What the tasks' needs look at: the fit-out before any task. */
static sw_status make_bare(builder *b, const sw_fitout *parts, sw_fitout *bare) {
    *bare = *parts;
    bare->tasks = NULL;
    bare->task_count = 0;
    return sw_values_make(b->fitouts, bare, b->pieces);
}

static sw_status add_with_tasks(builder *b, const sw_fitout *parts) {
    const sw_catalog *catalog = b->fitouts->catalog;
    task_set set = {.offered = 0};
    sw_fitout bare;
    sw_status status = make_bare(b, parts, &bare);
    for (size_t t = 0; t < catalog->task_count && status == SW_OK; t++) {
        if (!offered(b, &catalog->tasks[t], &bare))
            continue;
        if (set.offered == SW_TASKS_ON_ONE)
            return sw_too_many(b->fitouts, b->role, b->complaints);
        set.offer[set.offered++] = (int)t;
    }
    return status == SW_OK ? add_sets(b, &bare, &set, 0) : status;
}

static sw_status add_parts(builder *b, const sw_added *added, int added_count) {
    const sw_scenario *scenario = b->fitouts->scenario;
    const sw_role *role = &b->fitouts->catalog->roles[b->role];
    size_t present = scenario->machine_count[b->role];
    sw_fitout fitout = {.role = b->role, .added_count = added_count, .adds = added_count > 0};
    bool all_stay = true;
    for (size_t i = 0; i < present; i++) {
        const sw_present *entry = &scenario->machine[b->role][i];
        fitout.pieces += b->kept[i];
        fitout.offers += (entry->count - b->kept[i]) * entry->offer;
        all_stay = all_stay && b->kept[i] == entry->count;
    }
    for (int i = 0; i < added_count; i++) {
        fitout.added[i] = added[i];
        fitout.pieces += added[i].count;
    }
    fitout.changes = !all_stay || fitout.adds;
    if (fitout.changes && (fitout.pieces < role->least || fitout.pieces > role->most))
        return SW_OK;
    int *kept = SW_NEW(b->fitouts->arena, int, present);
    if (kept == NULL)
        return SW_NO_MEMORY;
    memcpy(kept, b->kept, present * sizeof *kept);
    fitout.kept = kept;
    return add_with_tasks(b, &fitout);
}

/* All sets of new parts beside the present kept vector. */
static sw_status add_all_new(builder *b) {
    sw_status status = add_parts(b, NULL, 0);
    for (size_t i = 0; i < b->kind_count && status == SW_OK; i++) {
        status = add_parts(b, &b->kinds[i], 1);
        if (b->fitouts->catalog->roles[b->role].new_kinds < 2)
            continue;
        for (size_t k = i + 1; k < b->kind_count && status == SW_OK; k++) {
            sw_added pair[2] = {b->kinds[i], b->kinds[k]};
            if (pair[0].part != pair[1].part)
                status = add_parts(b, pair, 2);
        }
    }
    return status;
}

/* Steps `kept` to the next vector; false after the last. */
static bool next_kept(const builder *b) {
    const sw_scenario *scenario = b->fitouts->scenario;
    size_t present = scenario->machine_count[b->role];
    if (b->fitouts->catalog->roles[b->role].all_or_none) {
        bool none = present == 0 || b->kept[0] == 0;
        for (size_t i = 0; i < present; i++)
            b->kept[i] = 0;
        return !none;
    }
    for (size_t i = 0; i < present; i++) {
        if (b->kept[i] > 0) {
            b->kept[i]--;
            return true;
        }
        b->kept[i] = scenario->machine[b->role][i].count;
    }
    return false;
}

static int most_from_one_seller(const sw_fitouts *fitouts, int part) {
    int most = 0;
    for (size_t i = 0; i < fitouts->source_count; i++)
        if (fitouts->sources[i].part == part && fitouts->sources[i].stock > most)
            most = fitouts->sources[i].stock;
    return most;
}

static int by_id(const void *left, const void *right) {
    const sw_part *const *a = left, *const *b = right;
    return strcmp((*a)->id, (*b)->id);
}

/* New parts in id order, so that of a pair the first comes first. */
static sw_status list_kinds(builder *b) {
    const sw_scenario *scenario = b->fitouts->scenario;
    const sw_role *role = &b->fitouts->catalog->roles[b->role];
    const sw_part **parts = SW_NEW(b->fitouts->arena, const sw_part *, scenario->part_count);
    if (parts == NULL)
        return SW_NO_MEMORY;
    size_t count = 0;
    for (size_t p = 0; p < scenario->part_count; p++)
        if (scenario->parts[p].role == b->role)
            parts[count++] = &scenario->parts[p];
    qsort(parts, count, sizeof *parts, by_id);
    b->kinds = SW_NEW(b->fitouts->arena, sw_added, count * role->count_count);
    if (b->kinds == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < count; p++) {
        int part = (int)(parts[p] - scenario->parts);
        int stock = most_from_one_seller(b->fitouts, part);
        for (size_t c = 0; c < role->count_count; c++)
            if (role->counts[c] <= stock)
                b->kinds[b->kind_count++] = (sw_added){part, role->counts[c]};
    }
    return SW_OK;
}

static int by_key(const void *left, const void *right) {
    const sw_fitout *a = left, *b = right;
    return strcmp(a->key, b->key);
}

sw_status sw_role_fitouts_make(sw_fitouts *fitouts, int role, sw_complaints *complaints) {
    const sw_scenario *scenario = fitouts->scenario;
    size_t present = scenario->machine_count[role];
    builder b = {.fitouts = fitouts, .role = role, .complaints = complaints};
    b.kept = SW_NEW(fitouts->arena, int, present);
    b.pieces = sw_pieces_make(fitouts, role);
    if (b.kept == NULL || b.pieces == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < present; i++)
        b.kept[i] = scenario->machine[role][i].count;
    sw_status status = list_kinds(&b);
    if (status == SW_OK)
        do
            status = add_all_new(&b);
        while (status == SW_OK && next_kept(&b));
    if (status != SW_OK)
        return status;
    size_t first = (size_t)fitouts->first_fitout[role];
    qsort(fitouts->fitouts + first, fitouts->fitout_count - first, sizeof *fitouts->fitouts,
          by_key);
    for (size_t f = first; f < fitouts->fitout_count; f++)
        if (!fitouts->fitouts[f].changes && fitouts->fitouts[f].task_count == 0)
            fitouts->present[role] = (int)f;
    return SW_OK;
}
