/*
 * The smallest sets of bending clauses whose dropping lets a bundle obey. Each such
 * set has a clause of every conflict, so from a conflict of what is left one more of
 * its clauses is dropped, breadth first (Reiter, A theory of diagnosis from first
 * principles, 1987): the first depth at which something obeys has them all.
 */
#include "answer/conflict.h"

#include <stdlib.h>
#include <string.h>

#define SW_MENDS_MOST 64
#define SW_SETS_MOST 4096 /* looked at in one depth: beyond, it is not settled */

/* Sets of dropped clauses, one after another. */
typedef struct set_list {
    bool *sets; /* [set * clauses + clause] */
    size_t count, room, clauses;
} set_list;

static bool *set_at(const set_list *list, size_t index) {
    return &list->sets[index * list->clauses];
}

static sw_status add_set(set_list *list, const bool *set) {
    if (list->count == list->room) {
        size_t room = list->room == 0 ? 16 : 2 * list->room;
        bool *more = realloc(list->sets, room * list->clauses * sizeof *more);
        if (more == NULL)
            return SW_NO_MEMORY;
        list->sets = more;
        list->room = room;
    }
    memcpy(set_at(list, list->count++), set, list->clauses * sizeof *set);
    return SW_OK;
}

static bool has_set(const set_list *list, const bool *set) {
    for (size_t i = 0; i < list->count; i++)
        if (memcmp(set_at(list, i), set, list->clauses * sizeof *set) == 0)
            return true;
    return false;
}

typedef struct tree {
    sw_quarrel *quarrel;
    set_list conflicts; /* known ones */
    set_list mends;
    bool too_many;
} tree;

static bool meet(const bool *a, const bool *b, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (a[i] && b[i])
            return true;
    return false;
}

/* A conflict of what the set leaves: one that is known, or a new one. */
static sw_status conflict_of(const bool **out, tree *t, const bool *set) {
    size_t count = t->quarrel->clauses.count;
    for (size_t i = 0; i < t->conflicts.count; i++) {
        *out = set_at(&t->conflicts, i);
        if (!meet(*out, set, count))
            return SW_OK;
    }
    bool *in = calloc(count + 1, sizeof *in);
    if (in == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_quarrel_conflict(in, t->quarrel, set);
    if (status == SW_OK)
        status = add_set(&t->conflicts, in);
    free(in);
    *out = set_at(&t->conflicts, t->conflicts.count - 1);
    return status;
}

/* The set with one more clause dropped, for each that bends in a conflict of the rest. */
static sw_status grow(tree *t, const bool *set, set_list *deeper) {
    size_t count = t->quarrel->clauses.count;
    const bool *conflict;
    sw_status status = conflict_of(&conflict, t, set);
    bool *more = calloc(count + 1, sizeof *more);
    if (more == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < count && status == SW_OK && !t->quarrel->early; i++) {
        if (!conflict[i] || !t->quarrel->clauses.list[i].bends)
            continue;
        memcpy(more, set, count * sizeof *more);
        more[i] = true;
        t->too_many = t->too_many || deeper->count >= SW_SETS_MOST;
        if (!t->too_many && !has_set(deeper, more))
            status = add_set(deeper, more);
    }
    free(more);
    return status;
}

/* One depth: which of its sets mend, and else what lies below them. */
static sw_status look(tree *t, const set_list *depth, set_list *deeper) {
    sw_status status = SW_OK;
    for (size_t i = 0; i < depth->count && status == SW_OK && !t->quarrel->early; i++) {
        bool obeys = false;
        status = sw_quarrel_ask(&obeys, t->quarrel, set_at(depth, i));
        if (status == SW_OK && obeys)
            status = add_set(&t->mends, set_at(depth, i));
        else if (status == SW_OK && t->mends.count == 0 && !t->quarrel->early)
            status = grow(t, set_at(depth, i), deeper);
    }
    return status;
}

static sw_status find_sets(tree *t, const bool *conflict) {
    size_t count = t->quarrel->clauses.count;
    set_list depth = {.clauses = count}, deeper = {.clauses = count};
    bool *none = calloc(count + 1, sizeof *none);
    sw_status status = none == NULL ? SW_NO_MEMORY : add_set(&t->conflicts, conflict);
    if (status == SW_OK)
        status = grow(t, none, &depth);
    while (status == SW_OK && t->mends.count == 0 && depth.count > 0 && !t->too_many &&
           !t->quarrel->early) {
        deeper.count = 0;
        status = look(t, &depth, &deeper);
        set_list swap = depth;
        depth = deeper;
        deeper = swap;
    }
    free(none);
    free(depth.sets);
    free(deeper.sets);
    return status;
}

/* ---- the best bundle of each ------------------------------------------------------------ */

/* With the budget dropped: the least that a bundle takes, and the limit at that. */
static sw_status find_needed(sw_answer_mend *out, int64_t *limit, sw_quarrel *q,
                             const sw_setup *setup) {
    sw_solution cheapest;
    sw_request request = sw_request_for(setup->program, SW_AIM_CHEAPEST);
    request.limit = SW_NO_LIMIT;
    sw_status status = sw_solve(&cheapest, setup->program, &request, q->allowance, q->complaints);
    if (status != SW_OK)
        return status;
    q->early = q->early || cheapest.end != SW_END_PROVED;
    if (!cheapest.found)
        return SW_OK;
    *limit = cheapest.tally.cost;
    out->needed = sw_total(setup->program, &cheapest.tally);
    return SW_OK;
}

static sw_status find_best(sw_answer_mend *out, sw_answer *answer, sw_quarrel *q, sw_setup *setup,
                           int64_t limit) {
    sw_solution best;
    sw_status status = sw_setup_score(setup, NULL);
    if (status == SW_OK && limit == SW_NO_LIMIT)
        status = find_needed(out, &limit, q, setup);
    if (status == SW_OK)
        status = sw_program_presolve(setup->program);
    if (status != SW_OK || q->early)
        return status;
    sw_request request = sw_request_for(setup->program, SW_AIM_BEST);
    request.limit = limit;
    status = sw_solve(&best, setup->program, &request, q->allowance, q->complaints);
    if (status != SW_OK)
        return status;
    q->early = q->early || best.end != SW_END_PROVED;
    return q->early ? SW_OK
                    : sw_bundle_describe(&out->bundle, answer, setup->program, best.picks, NULL);
}

static sw_status tell_mend(sw_answer_mend *out, sw_answer *answer, sw_quarrel *q,
                           const bool *dropped) {
    sw_setup setup = {0};
    int64_t limit = 0;
    sw_status status =
        sw_clauses_setup(&setup, &limit, &q->clauses, dropped, answer->arena, q->complaints);
    if (status == SW_OK)
        status = find_best(out, answer, q, &setup, limit);
    sw_setup_free(&setup);
    out->clauses = SW_NEW(answer->arena, sw_answer_clause, q->clauses.count);
    if (out->clauses == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < q->clauses.count && status == SW_OK; i++)
        if (dropped[i])
            status =
                sw_clause_tell(&out->clauses[out->clause_count++], answer->arena, &q->clauses, i);
    return status;
}

static int by_id(const void *left, const void *right) {
    const sw_answer_clause *a = left, *b = right;
    return strcmp(a->id, b->id);
}

static int by_points(const void *left, const void *right) {
    const sw_answer_mend *a = left, *b = right;
    if (a->bundle.points != b->bundle.points)
        return a->bundle.points > b->bundle.points ? -1 : 1;
    for (size_t i = 0; i < a->clause_count; i++)
        if (strcmp(a->clauses[i].id, b->clauses[i].id) != 0)
            return strcmp(a->clauses[i].id, b->clauses[i].id);
    return 0;
}

sw_status sw_find_mends(sw_answer *answer, sw_quarrel *quarrel, const bool *conflict) {
    size_t count = quarrel->clauses.count;
    tree t = {.quarrel = quarrel, .conflicts = {.clauses = count}, .mends = {.clauses = count}};
    sw_status status = find_sets(&t, conflict);
    size_t most = t.mends.count < SW_MENDS_MOST ? t.mends.count : SW_MENDS_MOST;
    answer->mends = SW_NEW(answer->arena, sw_answer_mend, most);
    if (status == SW_OK && answer->mends == NULL)
        status = SW_NO_MEMORY;
    for (size_t i = 0; i < most && status == SW_OK && !quarrel->early; i++) {
        sw_answer_mend *mend = &answer->mends[i];
        status = tell_mend(mend, answer, quarrel, set_at(&t.mends, i));
        qsort(mend->clauses, mend->clause_count, sizeof *mend->clauses, by_id);
        answer->mend_count += status == SW_OK && !quarrel->early;
    }
    answer->mends_settled = !quarrel->early && !t.too_many && t.mends.count <= SW_MENDS_MOST;
    qsort(answer->mends, answer->mend_count, sizeof *answer->mends, by_points);
    free(t.conflicts.sets);
    free(t.mends.sets);
    return status;
}
