/* From corner to corner: see map_search.h. */
#include "answer/map_search.h"

#include <stdlib.h>
#include <stdio.h>
#include <string.h>

/* A corner that is not proved within this share of the time is left for the end. */
#define SW_CORNER_SHARE 0.25

typedef struct cell {
    int low[SW_MAP_AXES]; /* of its triangle: shares in SW_MAP_GRID, rounded down */
    int tried;
    bool proved;
} cell;

typedef struct searching {
    sw_unsure *unsure;
    const sw_map_ways *ways;
    sw_allowance allowance;
    sw_arena *arena;
    sw_undominated_bundle *bundles;
    size_t count, room;
    cell *cells;
    size_t cell_count, cell_room;
} searching;

/* ---- bundles -------------------------------------------------------------------------------- */

static int64_t *values_of(const searching *s, const int64_t *by_criterion) {
    const sw_map_ways *ways = s->ways;
    int64_t *value = SW_NEW(s->arena, int64_t, ways->axis_count), fixed = 0;
    for (size_t c = 0; c < ways->criteria; c++)
        fixed += ways->fixed[c] * by_criterion[c];
    for (size_t a = 0; value != NULL && a < ways->axis_count; a++)
        value[a] = fixed + ways->own * by_criterion[ways->axes[a]];
    return value;
}

static int by_value(const sw_undominated_bundle *a, const sw_undominated_bundle *b, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (a->value[i] != b->value[i])
            return a->value[i] > b->value[i] ? -1 : 1;
    return 0;
}

/* In its place among the others; of equal ones the first by the order of ties stays. */
static sw_status take(searching *s, const sw_undominated_bundle *bundle) {
    const sw_program *program = s->unsure->setup.program;
    sw_undominated_bundle new = *bundle;
    size_t at = 0, axes = s->ways->axis_count;
    new.value = values_of(s, bundle->by_criterion);
    if (new.value == NULL || !SW_GROW(s->bundles, s->room, s->count))
        return SW_NO_MEMORY;
    while (at < s->count && by_value(&s->bundles[at], &new, axes) < 0)
        at++;
    if (at < s->count && by_value(&s->bundles[at], &new, axes) == 0) {
        sw_undominated_bundle *old = &s->bundles[at];
        if (sw_tally_compare(program, &new.tally, new.picks, &old->tally, old->picks, false) < 0)
            *old = new;
        return SW_OK;
    }
    memmove(&s->bundles[at + 1], &s->bundles[at], (s->count - at) * sizeof *s->bundles);
    s->bundles[at] = new;
    s->count++;
    return sw_program_know(s->unsure->setup.program, new.picks);
}

/* ---- corners -------------------------------------------------------------------------------- */

static bool same_cell(const searching *s, const cell *a, const int *low) {
    return memcmp(a->low, low, s->ways->axis_count * sizeof *low) == 0;
}

/* The triangle (of a line: the piece of it) that has this weighting in it, or the point alone. */
static void cell_of(const searching *s, int low[SW_MAP_AXES], const sw_map_corner *corner) {
    int axes = (int)s->ways->axis_count;
    for (int a = 0; a < SW_MAP_AXES; a++)
        low[a] = a < axes ? corner->whole[a] : 0;
    if (axes == 2)
        low[0] = SW_MAP_GRID - low[1] - (corner->is_whole[1] ? 0 : 1);
}

static sw_status note_cell(searching *s, const int *low) {
    for (size_t k = 0; k < s->cell_count; k++)
        if (same_cell(s, &s->cells[k], low))
            return SW_OK;
    if (!SW_GROW(s->cells, s->cell_room, s->cell_count))
        return SW_NO_MEMORY;
    cell *new = &s->cells[s->cell_count++];
    *new = (cell){0};
    memcpy(new->low, low, sizeof new->low);
    return SW_OK;
}

/* The corners of the regions of what was found, each as its cell. */
static sw_status find_corners(searching *s) {
    sw_arena *scratch = sw_arena_new();
    sw_map_value *values = scratch == NULL ? NULL : SW_NEW(scratch, sw_map_value, s->count);
    sw_map_region *regions = NULL;
    size_t count = 0, axes = s->ways->axis_count;
    sw_status status = values == NULL ? SW_NO_MEMORY : SW_OK;
    for (size_t i = 0; i < s->count && status == SW_OK; i++)
        for (size_t a = 0; a < SW_MAP_AXES; a++) {
            values[i].of[a] = s->bundles[i].value[a < axes ? a : 0];
            if (values[i].of[a] > SW_MAP_VALUE_LIMIT || values[i].of[a] < -SW_MAP_VALUE_LIMIT)
                status = SW_BAD_DATA;
        }
    if (status == SW_OK)
        status = sw_map_make(&regions, &count, scratch, values, s->count);
    for (size_t r = 0; r < count && status == SW_OK; r++)
        for (size_t k = 0; k < regions[r].corner_count && status == SW_OK; k++) {
            int low[SW_MAP_AXES];
            cell_of(s, low, &regions[r].corners[k]);
            status = note_cell(s, low);
        }
    sw_arena_free(scratch);
    return status;
}

/* The open one that is nearest to the first, which is the client's answer; those tried least come
 * first. SW_NONE: all are proved. */
static int next_cell(const searching *s) {
    int best = SW_NONE, nearest = 0;
    for (int k = 0; k < (int)s->cell_count; k++) {
        const cell *is = &s->cells[k];
        int apart = 0;
        for (int a = 0; a < SW_MAP_AXES; a++)
            apart += abs(is->low[a] - s->cells[0].low[a]);
        if (is->proved ||
            (best != SW_NONE && (is->tried > s->cells[best].tried ||
                                 (is->tried == s->cells[best].tried && apart >= nearest))))
            continue;
        best = k;
        nearest = apart;
    }
    return best;
}

/* ---- proofs --------------------------------------------------------------------------------- */

/* The corners of a cell as weightings. What is left of the grid goes to each axis in turn, or to
 * all but each. */
static sw_status extremes_of(sw_extremes *out, const searching *s, const cell *is) {
    const sw_map_ways *ways = s->ways;
    size_t axes = ways->axis_count;
    int64_t *weight = SW_NEW(s->arena, int64_t, axes * ways->criteria);
    int left = SW_MAP_GRID;
    if (weight == NULL)
        return SW_NO_MEMORY;
    for (size_t a = 0; a < axes; a++)
        left -= is->low[a];
    size_t count = left == 0 ? 1 : axes;
    for (size_t e = 0; e < count; e++) {
        int64_t *to = weight + e * ways->criteria;
        for (size_t c = 0; c < ways->criteria; c++)
            to[c] = ways->fixed[c] * SW_MAP_GRID;
        for (size_t a = 0; a < axes; a++)
            to[ways->axes[a]] = ways->own * (is->low[a] + (left == 1   ? a == e
                                                           : left == 2 ? a != e
                                                                       : 0));
    }
    *out = (sw_extremes){count, ways->criteria, weight, true};
    return SW_OK;
}

/* The rest of the time, or a part of it. */
static sw_allowance part_of_time(const searching *s, double share) {
    sw_allowance allowance = s->allowance;
    if (allowance.now != NULL) {
        double now = allowance.now();
        allowance.ends = now + (s->allowance.ends - now) * share;
    }
    return allowance;
}

static sw_status prove(searching *s, cell *is, sw_undominated_set *set, size_t *count) {
    sw_program *program = s->unsure->setup.program;
    sw_extremes extremes;
    double t0 = s->allowance.now();
    double share = is->tried++ == 0 ? SW_CORNER_SHARE : 1;
    sw_status status = extremes_of(&extremes, s, is);
    if (status == SW_OK)
        *count = extremes.count;
    if (status == SW_OK)
        status = sw_undominated(set, program, &extremes, program->budget, part_of_time(s, share));
    is->proved = status == SW_OK && set->complete;
    fprintf(stderr, "cell %d %d %d: %.2f s n=%zu nodes %lld labels %lld %d\n", is->low[0],
            is->low[1], is->low[2], s->allowance.now() - t0, set->count, set->nodes, set->labels,
            set->complete);
    for (size_t i = 0; i < set->count && status == SW_OK; i++)
        status = take(s, &set->bundles[i]);
    return status;
}

/* The client's answer, as the first cell. */
static sw_status begin(searching *s) {
    const sw_map_ways *ways = s->ways;
    sw_map_corner at = {.share = {0}};
    int64_t sum = 0;
    for (size_t a = 0; a < ways->axis_count; a++)
        sum += ways->at[a];
    for (size_t a = 0; a < ways->axis_count; a++) {
        at.whole[a] = (int)(ways->at[a] * SW_MAP_GRID / sum);
        at.is_whole[a] = ways->at[a] * SW_MAP_GRID % sum == 0;
    }
    int low[SW_MAP_AXES];
    cell_of(s, low, &at);
    return note_cell(s, low);
}

/* At the client's answer, from the corners of its cell. */
static int64_t most_of(const sw_undominated_set *set, size_t extremes) {
    int64_t most = INT64_MIN;
    if (set->most == NULL)
        return INT64_MAX;
    for (size_t e = 0; e < extremes; e++) {
        if (set->most[e] == INT64_MAX)
            return INT64_MAX;
        int64_t value = set->most[e] / SW_MAP_GRID + 1;
        most = value > most ? value : most;
    }
    return most;
}

sw_status sw_map_search(sw_map_found *out, sw_unsure *unsure, const sw_map_ways *ways,
                        sw_allowance allowance) {
    searching s = {.unsure = unsure, .ways = ways, .allowance = allowance, .arena = unsure->arena};
    *out = (sw_map_found){.most_here = INT64_MAX};
    sw_status status = begin(&s);
    for (int k = 0; status == SW_OK && (k = next_cell(&s)) != SW_NONE;) {
        sw_undominated_set set;
        size_t extremes = 0;
        if (s.cells[k].tried > 1 || (s.count > 0 && sw_time_is_up(&s.allowance)))
            break;
        status = prove(&s, &s.cells[k], &set, &extremes);
        if (status == SW_OK && k == 0)
            out->most_here = most_of(&set, extremes);
        if (status == SW_OK && s.count > 0)
            status = find_corners(&s);
    }
    out->complete = status == SW_OK && next_cell(&s) == SW_NONE;
    out->bundles = SW_NEW(s.arena, sw_undominated_bundle, s.count);
    if (status == SW_OK && out->bundles == NULL)
        status = SW_NO_MEMORY;
    if (status == SW_OK && s.count > 0)
        memcpy(out->bundles, s.bundles, s.count * sizeof *s.bundles);
    out->count = s.count;
    free(s.bundles);
    free(s.cells);
    return status;
}
