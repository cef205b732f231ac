/*
 * Which picks may not stand beside each other, two by two, whatever the reason: a
 * logical row, or a sum (money, minutes, watts, ...) that goes over its limit with the
 * least of all others. Picks that nothing may stand beside leave. Where money and
 * rules meet, this is what a relaxation does not see: a processor that the money
 * allows, and that asks for a board that it does not.
 */
#include "program/stage.h"

#include <stdlib.h>

/* More bits than this are not made: the rows are then looser, and as right. */
#define SW_PAIR_WORDS_MOST (INT64_C(1) << 23)
/* What leaves in one round makes the least of others greater in the next. */
#define SW_PAIR_ROUNDS 2

static uint64_t *bits_of(const sw_pairs *pairs, int pick) {
    return &pairs->apart[(size_t)pairs->bit_of[pick] * (size_t)pairs->words];
}

bool sw_apart(const sw_pairs *pairs, int a, int b) {
    int bit = pairs->bit_of[b];
    return pairs->apart != NULL && (bits_of(pairs, a)[bit / 64] >> bit % 64 & 1) != 0;
}

static void part(sw_pairs *pairs, int a, int b) {
    int x = pairs->bit_of[a], y = pairs->bit_of[b];
    bits_of(pairs, a)[y / 64] |= UINT64_C(1) << y % 64;
    bits_of(pairs, b)[x / 64] |= UINT64_C(1) << x % 64;
}

/* ---- what stands beside a pick ------------------------------------------------------ */

typedef struct weight {
    int64_t amount;
    int pick;
} weight;

static int by_amount(const void *left, const void *right) {
    const weight *a = left, *b = right;
    if (a->amount != b->amount)
        return a->amount < b->amount ? -1 : 1;
    return (a->pick > b->pick) - (a->pick < b->pick);
}

/* The picks left of every group, least amount first. */
typedef struct sorted {
    weight *all;    /* from each group's first pick on */
    int *count;     /* [group] */
    int64_t *least; /* [group] beside the pick looked at */
} sorted;

static sw_status sort_amounts(sorted *out, sw_arena *arena, const sw_pairs *pairs,
                              const int64_t *amount) {
    const sw_program *program = pairs->program;
    out->all = SW_NEW(arena, weight, program->pick_count);
    out->count = SW_NEW(arena, int, program->group_count);
    out->least = SW_NEW(arena, int64_t, program->group_count);
    if (out->all == NULL || out->count == NULL || out->least == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        weight *first = &out->all[group->first];
        for (int p = group->first; p < group->first + group->count; p++)
            if (pairs->in[p])
                first[out->count[g]++] = (weight){amount[p], p};
        qsort(first, (size_t)out->count[g], sizeof *first, by_amount);
    }
    return SW_OK;
}

/* The least amount of the group beside the pick; false when none may stand there. */
static bool least_beside(int64_t *least, const sw_pairs *pairs, const sorted *order, int pick,
                         size_t g) {
    const weight *first = &order->all[pairs->program->groups[g].first];
    for (int i = 0; i < order->count[g]; i++)
        if (!sw_apart(pairs, pick, first[i].pick)) {
            *least = first[i].amount;
            return true;
        }
    return false;
}

/* The pick's amount with the least of every other group beside it. */
static bool total_with(int64_t *total, const sw_pairs *pairs, const sorted *order,
                       const int64_t *amount, int pick) {
    *total = amount[pick];
    for (size_t g = 0; g < pairs->program->group_count; g++) {
        if ((int)g == pairs->program->picks[pick].group)
            continue;
        if (!least_beside(&order->least[g], pairs, order, pick, g))
            return false;
        *total += order->least[g];
    }
    return true;
}

sw_status sw_least_with(int64_t *total, const sw_pairs *pairs, const int64_t *amount) {
    sorted order;
    const sw_program *program = pairs->program;
    sw_arena *arena = sw_arena_new();
    sw_status status = arena == NULL ? SW_NO_MEMORY : sort_amounts(&order, arena, pairs, amount);
    for (size_t p = 0; p < program->pick_count && status == SW_OK; p++)
        if (pairs->in[p] && !total_with(&total[p], pairs, &order, amount, (int)p))
            total[p] = SW_NOTHING_BESIDE;
    sw_arena_free(arena);
    return status;
}

/* ---- what a limit takes away ---------------------------------------------------------- */

/* Does every pick of the group that may stand beside this one make the charge due? */
static bool all_due(const sw_pairs *pairs, const sw_due *due, int pick, const sw_group *group) {
    for (int p = group->first; p < group->first + group->count; p++)
        if (!due->due[p] && pairs->in[p] && !sw_apart(pairs, pick, p))
            return false;
    return true;
}

/* Is the charge due with the pick, whatever else is taken? */
static bool is_certain(const sw_pairs *pairs, const sw_due *due, int pick) {
    const sw_program *program = pairs->program;
    bool certain = due->due[pick];
    for (size_t g = 0; g < program->group_count && !certain; g++)
        certain =
            (int)g != program->picks[pick].group && all_due(pairs, due, pick, &program->groups[g]);
    return certain;
}

/* What certain charges bring to the limit, but for those that a waiver may take away. */
static int64_t dues_with(const sw_pairs *pairs, const sw_load_row *load, int pick) {
    const sw_program *program = pairs->program;
    int64_t sum = 0;
    for (size_t d = 0; d < program->due_count && load->due != NULL; d++)
        if (load->due[d] > 0 && program->dues[d].goods == NULL &&
            is_certain(pairs, &program->dues[d], pick))
            sum += load->due[d];
    return sum;
}

/* Takes the pick away if it does not fit with the least of all others; else parts it
 * from each pick that does not fit beside it. */
static void narrow_pick(sw_pairs *pairs, const sw_load_row *load, const sorted *order, int pick,
                        bool *changed) {
    const sw_program *program = pairs->program;
    int64_t total;
    bool fits = total_with(&total, pairs, order, load->amount, pick);
    if (fits)
        total += dues_with(pairs, load, pick);
    if (!fits || total > load->limit) {
        pairs->in[pick] = false;
        *changed = true;
        return;
    }
    for (size_t g = 0; g < program->group_count && pairs->apart != NULL; g++) {
        const weight *first = &order->all[program->groups[g].first];
        if ((int)g == program->picks[pick].group)
            continue;
        int64_t room = load->limit - (total - order->least[g]);
        for (int i = order->count[g] - 1; i >= 0 && first[i].amount > room; i--)
            if (pairs->in[first[i].pick] && !sw_apart(pairs, pick, first[i].pick)) {
                part(pairs, pick, first[i].pick);
                *changed = true;
            }
    }
}

static sw_status narrow(sw_pairs *pairs, const sw_load_row *load, bool *changed) {
    sorted order;
    sw_arena *arena = sw_arena_new();
    sw_status status =
        arena == NULL ? SW_NO_MEMORY : sort_amounts(&order, arena, pairs, load->amount);
    for (size_t p = 0; p < pairs->program->pick_count && status == SW_OK; p++)
        if (pairs->in[p])
            narrow_pick(pairs, load, &order, (int)p, changed);
    sw_arena_free(arena);
    return status;
}

/* ---- logical rows of two sets ---------------------------------------------------------- */

/* Does the set hold every pick left of its group? */
static bool is_full(const sw_pairs *pairs, const sw_set *set) {
    const sw_group *group = &pairs->program->groups[set->group];
    size_t i = 0;
    for (int p = group->first; p < group->first + group->count; p++) {
        while (i < set->count && set->picks[i] < p)
            i++;
        if (pairs->in[p] && (i == set->count || set->picks[i] != p))
            return false;
    }
    return true;
}

static void part_sets(sw_pairs *pairs, const sw_set *a, const sw_set *b) {
    for (size_t i = 0; i < a->count; i++)
        for (size_t k = 0; k < b->count && pairs->in[a->picks[i]]; k++)
            if (pairs->in[b->picks[k]])
                part(pairs, a->picks[i], b->picks[k]);
}

/* A set that is always hit says nothing; with two others left they are a pair, with
 * one left its picks can never be taken. */
static void read_not_all(sw_pairs *pairs, const sw_not_all *row) {
    const sw_set *open[2] = {NULL, NULL};
    size_t count = 0;
    for (size_t s = 0; s < row->count; s++)
        if (!is_full(pairs, &row->sets[s])) {
            if (count < 2)
                open[count] = &row->sets[s];
            count++;
        }
    if (count == 2 && pairs->apart != NULL)
        part_sets(pairs, open[0], open[1]);
    for (size_t i = 0; count == 1 && i < open[0]->count; i++)
        pairs->in[open[0]->picks[i]] = false;
}

/* ---- all of them ------------------------------------------------------------------------- */

static sw_status allocate(sw_pairs *pairs, sw_arena *arena) {
    const sw_program *program = pairs->program;
    pairs->bit_of = SW_NEW(arena, int, program->pick_count);
    if (pairs->bit_of == NULL)
        return SW_NO_MEMORY;
    int bits = 0;
    for (size_t p = 0; p < program->pick_count; p++)
        if (pairs->in[p])
            pairs->bit_of[p] = bits++;
    pairs->words = bits / 64 + 1;
    if ((int64_t)bits * pairs->words > SW_PAIR_WORDS_MOST)
        return SW_OK;
    pairs->apart = SW_NEW(arena, uint64_t, (size_t)bits * (size_t)pairs->words);
    return pairs->apart == NULL ? SW_NO_MEMORY : SW_OK;
}

sw_status sw_pairs_make(sw_pairs *pairs, sw_arena *arena, const sw_load_row *loads,
                        size_t load_count) {
    const sw_program *program = pairs->program;
    sw_status status = allocate(pairs, arena);
    for (size_t i = 0; i < program->not_all_count && status == SW_OK; i++)
        read_not_all(pairs, &program->not_alls[i]);
    bool changed = true;
    for (int round = 0; round < SW_PAIR_ROUNDS && changed && status == SW_OK; round++) {
        changed = false;
        for (size_t i = 0; i < load_count && status == SW_OK; i++)
            status = narrow(pairs, &loads[i], &changed);
    }
    return status;
}
