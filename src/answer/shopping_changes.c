/* What is not as agreed, role by role and for the whole, and what of it is free. */
#include "answer/shopping.h"

#include <string.h>

typedef struct comparison {
    sw_shopping_job *job;
    const sw_answer_bundle *agreed, *taken;
    const sw_told_way *way;
    bool dearer, later, poorer; /* of the whole; poorer: in some criterion, or not known */
} comparison;

const sw_answer_swap *sw_bundle_swap(const sw_answer_bundle *bundle, const char *role) {
    for (size_t i = 0; i < bundle->swap_count; i++)
        if (strcmp(bundle->swaps[i].role, role) == 0)
            return &bundle->swaps[i];
    return NULL;
}

/* ---- what the role holds ----------------------------------------------------------------------
 */

/* Today's pieces, where the bundle leaves the role as it is. */
static sw_status hold_present(sw_answer_part **out, size_t *count, sw_arena *arena,
                              const sw_scenario *scenario, size_t role) {
    size_t all = scenario->machine_count[role];
    *out = SW_NEW(arena, sw_answer_part, all);
    for (size_t i = 0; *out != NULL && i < all; i++) {
        const sw_present *present = &scenario->machine[role][i];
        const sw_part *part = &scenario->parts[present->part];
        (*out)[i] = (sw_answer_part){.id = sw_arena_copy(arena, part->id),
                                     .name = sw_arena_copy(arena, part->name),
                                     .count = present->count};
        if ((*out)[i].id == NULL || (*out)[i].name == NULL)
            return SW_NO_MEMORY;
    }
    *count = all;
    return *out == NULL ? SW_NO_MEMORY : SW_OK;
}

static sw_status hold(sw_answer_part **out, size_t *count, sw_arena *arena,
                      const sw_scenario *scenario, size_t role, const sw_answer_swap *swap) {
    if (swap == NULL)
        return hold_present(out, count, arena, scenario, role);
    *out = SW_NEW(arena, sw_answer_part, swap->stay_count + swap->in_count);
    if (*out == NULL)
        return SW_NO_MEMORY;
    *count = 0;
    for (size_t i = 0; i < swap->stay_count; i++)
        (*out)[(*count)++] = swap->stays[i];
    for (size_t i = 0; i < swap->in_count; i++)
        (*out)[(*count)++] = swap->in[i];
    return SW_OK;
}

static sw_status list_work(const sw_answer_task ***out, size_t *count, sw_arena *arena,
                           const sw_answer_bundle *bundle, const char *role) {
    *out = SW_NEW(arena, const sw_answer_task *, bundle->task_count);
    *count = 0;
    for (size_t i = 0; *out != NULL && i < bundle->task_count; i++)
        if (strcmp(bundle->tasks[i].role, role) == 0)
            (*out)[(*count)++] = &bundle->tasks[i];
    return *out == NULL ? SW_NO_MEMORY : SW_OK;
}

/* ---- a role -----------------------------------------------------------------------------------
 */

static bool same_sellers(const sw_answer_swap *a, const sw_answer_swap *b) {
    if (a == NULL || b == NULL)
        return a == b;
    for (size_t i = 0; i < a->in_count && i < b->in_count; i++)
        if (strcmp(a->in[i].seller, b->in[i].seller) != 0)
            return false;
    return true;
}

/* What the client brings has neither warranty nor return. */
static int at_least_none(int number) { return number > 0 ? number : 0; }

/* Both buy the same parts, in the same order. */
static void compare_sellers(sw_agreed_change *out, const comparison *c, const sw_answer_swap *a,
                            const sw_answer_swap *b) {
    int64_t before = 0, now = 0;
    for (size_t i = 0; i < a->in_count && i < b->in_count; i++) {
        const sw_answer_part *from = &a->in[i], *to = &b->in[i];
        before += from->price;
        now += to->price;
        out->later = out->later || to->days + c->job->out->later_by > c->agreed->longest_days;
        out->less_warranty = out->less_warranty || at_least_none(to->warranty_months) <
                                                       at_least_none(from->warranty_months);
        out->less_return =
            out->less_return || at_least_none(to->return_days) < at_least_none(from->return_days);
    }
    out->dearer = now > before;
}

/* "seller" and "as-good" are each about one kind of change; "part" lets both be. */
static sw_freedom freedom_of(const sw_agreed_change *change, const comparison *c) {
    const sw_shopping *out = c->job->out;
    bool within = !c->dearer && !c->later;
    bool like = !change->dearer && !change->later && !change->less_warranty && !change->less_return;
    if (change->kind == SW_CHANGED_SELLER && out->allows_seller && like)
        return SW_FREE_SELLER;
    if (change->kind == SW_CHANGED_PARTS && out->allows_as_good && within && !c->poorer)
        return SW_FREE_AS_GOOD;
    return out->allows_part && within ? SW_FREE_PART : SW_FREE_NOT;
}

static sw_status compare_role(comparison *c, size_t role, const char *agreed_key) {
    sw_shopping *out = c->job->out;
    const sw_role *of = &c->job->scenario->catalog->roles[role];
    const sw_answer_swap *a = sw_bundle_swap(c->agreed, of->id);
    const sw_answer_swap *b = sw_bundle_swap(c->taken, of->id);
    bool same = strcmp(agreed_key, c->way->keys[role]) == 0;
    if (same && same_sellers(a, b))
        return SW_OK;
    sw_agreed_change *change = &out->changes[out->change_count++];
    *change = (sw_agreed_change){.kind = same ? SW_CHANGED_SELLER : SW_CHANGED_PARTS,
                                 .role = sw_arena_copy(out->arena, of->id),
                                 .role_name = sw_arena_copy(out->arena, of->name)};
    if (change->role == NULL || change->role_name == NULL)
        return SW_NO_MEMORY;
    if (same && a != NULL && b != NULL)
        compare_sellers(change, c, a, b);
    change->free_by = freedom_of(change, c);
    sw_status status =
        hold(&change->from, &change->from_count, out->arena, c->job->agreed, role, a);
    if (status == SW_OK)
        status = hold(&change->to, &change->to_count, out->arena, c->job->scenario, role, b);
    if (status == SW_OK)
        status =
            list_work(&change->work_from, &change->work_from_count, out->arena, c->agreed, of->id);
    return status == SW_OK
               ? list_work(&change->work_to, &change->work_to_count, out->arena, c->taken, of->id)
               : status;
}

/* ---- the whole --------------------------------------------------------------------------------
 */

static void compare_whole(comparison *c) {
    sw_shopping *out = c->job->out;
    size_t criteria = c->job->agreed->catalog->criterion_count;
    c->dearer = c->taken->cost > c->agreed->cost;
    c->later = c->taken->longest_days + out->later_by > c->agreed->longest_days;
    for (size_t i = 0; i < criteria && c->way->has_points; i++)
        out->worse[i] = c->taken->by_criterion[i] < c->agreed->by_criterion[i];
    c->poorer = !c->way->has_points;
    for (size_t i = 0; i < criteria; i++)
        c->poorer = c->poorer || out->worse[i];
}

static const sw_told_way *way_taken(const sw_shopping *out) {
    for (size_t i = 0; i < out->way_count; i++)
        if (&out->ways[i].bundle == out->taken)
            return &out->ways[i];
    return NULL;
}

sw_status sw_shopping_changes(sw_shopping_job *job) {
    sw_shopping *out = job->out;
    const sw_catalog *catalog = job->agreed->catalog;
    comparison c = {
        .job = job, .agreed = &out->option->bundle, .taken = out->taken, .way = way_taken(out)};
    out->changes = SW_NEW(out->arena, sw_agreed_change, catalog->role_count + 2);
    out->worse = SW_NEW(out->arena, bool, catalog->criterion_count);
    if (out->changes == NULL || out->worse == NULL)
        return SW_NO_MEMORY;
    if (c.way == NULL)
        return SW_OK;
    compare_whole(&c);
    const sw_fitouts *agreed = job->agreed_setup->fitouts;
    for (size_t r = 0; r < catalog->role_count; r++) {
        sw_status status = compare_role(&c, r, agreed->fitouts[out->option->machine[r]].key);
        if (status != SW_OK)
            return status;
    }
    if (c.dearer)
        out->changes[out->change_count++] = (sw_agreed_change){.kind = SW_CHANGED_TOTAL};
    if (c.later)
        out->changes[out->change_count++] = (sw_agreed_change){.kind = SW_CHANGED_DAY};
    return SW_OK;
}
