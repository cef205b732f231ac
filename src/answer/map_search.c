/* From corner to corner: see map_search.h. */
#include "answer/map_search.h"

#include <stdlib.h>
#include <string.h>

/* A corner that is not proved within this share of the time is left for the end. */
#define SW_CORNER_SHARE 0.25
#define SW_TRIES_MOST 2

struct sw_map_cell {
    int low[SW_MAP_AXES]; /* of its triangle: shares in SW_MAP_GRID, rounded down */
    int tried;
    bool proved;
};
typedef struct sw_map_cell cell;

typedef struct candidate {
    sw_undominated_bundle bundle;
    bool is_first; /* no bundle of equal values comes before it */
    bool tried;    /* to find that out */
} candidate;

typedef struct searching {
    sw_unsure *unsure;
    const sw_map_ways *ways;
    sw_allowance allowance;
    sw_arena *arena;
    candidate *found;
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
static sw_status take(searching *s, const sw_undominated_bundle *bundle, bool is_first) {
    const sw_program *program = s->unsure->setup.program;
    candidate new = {*bundle, is_first, false};
    size_t at = 0, axes = s->ways->axis_count;
    new.bundle.value = values_of(s, bundle->by_criterion);
    if (new.bundle.value == NULL || !SW_GROW(s->found, s->room, s->count))
        return SW_NO_MEMORY;
    while (at < s->count && by_value(&s->found[at].bundle, &new.bundle, axes) < 0)
        at++;
    if (at < s->count && by_value(&s->found[at].bundle, &new.bundle, axes) == 0) {
        candidate *old = &s->found[at];
        new.is_first = is_first || old->is_first;
        bool comes_first = sw_tally_compare(program, &new.bundle.tally, new.bundle.picks,
                                            &old->bundle.tally, old->bundle.picks, false) < 0;
        *old = comes_first ? new : (candidate){old->bundle, new.is_first, old->tried};
        return SW_OK;
    }
    memmove(&s->found[at + 1], &s->found[at], (s->count - at) * sizeof *s->found);
    s->found[at] = new;
    s->count++;
    return sw_program_know(s->unsure->setup.program, new.bundle.picks);
}

/* ---- corners -------------------------------------------------------------------------------- */

/* The triangle (of a line: the piece of it) that has this weighting in it, or the point alone. */
static void cell_of(int low[SW_MAP_AXES], const sw_map_corner *corner, size_t axes) {
    for (size_t a = 0; a < SW_MAP_AXES; a++)
        low[a] = a < axes && axes > 1 ? corner->whole[a] : 0;
    if (axes < SW_MAP_AXES)
        low[0] = SW_MAP_GRID - low[1] - (axes == 1 || corner->is_whole[1] ? 0 : 1);
}

static const cell *cell_at(const cell *cells, size_t count, const int low[SW_MAP_AXES]) {
    for (size_t k = 0; k < count; k++)
        if (memcmp(cells[k].low, low, sizeof cells[k].low) == 0)
            return &cells[k];
    return NULL;
}

static sw_status note_cell(searching *s, const int low[SW_MAP_AXES]) {
    if (cell_at(s->cells, s->cell_count, low) != NULL)
        return SW_OK;
    if (!SW_GROW(s->cells, s->cell_room, s->cell_count))
        return SW_NO_MEMORY;
    cell *new = &s->cells[s->cell_count++];
    *new = (cell){0};
    for (int a = 0; a < SW_MAP_AXES; a++)
        new->low[a] = low[a];
    return SW_OK;
}

static sw_status find_regions(sw_map_region **out, size_t *count, const searching *s,
                              sw_arena *arena) {
    sw_map_value *values = SW_NEW(arena, sw_map_value, s->count);
    size_t axes = s->ways->axis_count;
    if (values == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < s->count; i++)
        for (size_t a = 0; a < SW_MAP_AXES; a++) {
            values[i].of[a] = s->found[i].bundle.value[a < axes ? a : 0];
            if (values[i].of[a] > SW_MAP_VALUE_LIMIT || values[i].of[a] < -SW_MAP_VALUE_LIMIT)
                return SW_BAD_DATA;
        }
    return sw_map_make(out, count, arena, values, s->count);
}

/* The corners of the regions, each as its cell. */
static sw_status note_corners(searching *s, const sw_map_region *regions, size_t count) {
    sw_status status = SW_OK;
    for (size_t r = 0; r < count && status == SW_OK; r++)
        for (size_t k = 0; k < regions[r].corner_count && status == SW_OK; k++) {
            int low[SW_MAP_AXES];
            cell_of(low, &regions[r].corners[k], s->ways->axis_count);
            status = note_cell(s, low);
        }
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
static sw_status extremes_of(sw_extremes *out, const searching *s, const int low[SW_MAP_AXES]) {
    const sw_map_ways *ways = s->ways;
    size_t axes = ways->axis_count;
    int64_t *weight = SW_NEW(s->arena, int64_t, axes * ways->criteria);
    int left = SW_MAP_GRID;
    if (weight == NULL)
        return SW_NO_MEMORY;
    for (size_t a = 0; a < axes; a++)
        left -= low[a];
    size_t count = left == 0 ? 1 : axes;
    for (size_t e = 0; e < count; e++) {
        int64_t *to = weight + e * ways->criteria;
        for (size_t c = 0; c < ways->criteria; c++)
            to[c] = ways->fixed[c] * SW_MAP_GRID;
        for (size_t a = 0; a < axes; a++)
            to[ways->axes[a]] = ways->own * (low[a] + (left == 1   ? a == e
                                                       : left == 2 ? a != e
                                                                   : 0));
    }
    *out = (sw_extremes){count, ways->criteria, weight, left == 0};
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

static sw_status run(searching *s, sw_undominated_set *set, const sw_extremes *extremes,
                     double share) {
    sw_program *program = s->unsure->setup.program;
    sw_status status =
        sw_undominated(set, program, extremes, program->budget, part_of_time(s, share));
    for (size_t i = 0; status == SW_OK && i < set->count; i++)
        status = take(s, &set->bundles[i], set->complete && !extremes->any_equal);
    return status;
}

static sw_status prove(searching *s, sw_map_found *out, size_t which) {
    sw_undominated_set set;
    sw_extremes extremes;
    double share = s->cells[which].tried++ == 0 ? SW_CORNER_SHARE : 1;
    sw_status status = extremes_of(&extremes, s, s->cells[which].low);
    if (status == SW_OK)
        status = run(s, &set, &extremes, share);
    s->cells[which].proved = status == SW_OK && set.complete;
    if (status == SW_OK && which == 0)
        out->most_here = most_of(&set, extremes.count);
    return status;
}

/* A region whose bundle may have an equal that comes before it, not tried yet. */
static const sw_map_region *find_untied(const searching *s, const sw_map_region *regions,
                                        size_t count) {
    for (size_t r = 0; r < count; r++)
        if (!s->found[regions[r].which].is_first && !s->found[regions[r].which].tried)
            return &regions[r];
    return NULL;
}

/* In its middle nothing but its bundle's equals is as good. */
static sw_status untie(searching *s, const sw_map_region *region) {
    sw_undominated_set set;
    sw_extremes extremes;
    sw_map_corner middle = {.share = {0}};
    int low[SW_MAP_AXES];
    s->found[region->which].tried = true;
    for (size_t a = 0; a < SW_MAP_AXES; a++) {
        for (size_t k = 0; k < region->corner_count; k++)
            middle.share[a] += region->corners[k].share[a] / (double)region->corner_count;
        middle.whole[a] = (int)(middle.share[a] * SW_MAP_GRID);
    }
    cell_of(low, &middle, s->ways->axis_count);
    sw_status status = extremes_of(&extremes, s, low);
    extremes.any_equal = false;
    return status == SW_OK ? run(s, &set, &extremes, SW_CORNER_SHARE) : status;
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
    cell_of(low, &at, ways->axis_count);
    return note_cell(s, low);
}

/* One proof more; `*more`: there was one to make. */
static sw_status step(searching *s, sw_map_found *out, bool *more) {
    sw_arena *scratch = sw_arena_new();
    sw_map_region *regions = NULL;
    size_t count = 0;
    sw_status status = scratch == NULL ? SW_NO_MEMORY : SW_OK;
    if (status == SW_OK && s->count > 0)
        status = find_regions(&regions, &count, s, scratch);
    if (status == SW_OK)
        status = note_corners(s, regions, count);
    int open = next_cell(s);
    const sw_map_region *untied = find_untied(s, regions, count);
    out->complete = status == SW_OK && open == SW_NONE;
    for (size_t r = 0; r < count; r++)
        out->complete = out->complete && s->found[regions[r].which].is_first;
    *more = status == SW_OK && !out->complete && !(s->count > 0 && sw_time_is_up(&s->allowance));
    if (*more && open != SW_NONE && s->cells[open].tried < SW_TRIES_MOST)
        status = prove(s, out, (size_t)open);
    else if (*more && untied != NULL)
        status = untie(s, untied);
    else
        *more = false;
    sw_arena_free(scratch);
    return status;
}

static sw_status tell(sw_map_found *out, const searching *s) {
    out->bundles = SW_NEW(s->arena, sw_undominated_bundle, s->count);
    out->is_first = SW_NEW(s->arena, bool, s->count);
    cell *cells = SW_NEW(s->arena, cell, s->cell_count);
    if (out->bundles == NULL || out->is_first == NULL || cells == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < s->count; i++) {
        out->bundles[i] = s->found[i].bundle;
        out->is_first[i] = s->found[i].is_first;
    }
    if (s->cell_count > 0)
        memcpy(cells, s->cells, s->cell_count * sizeof *cells);
    out->count = s->count;
    out->cells = cells;
    out->cell_count = s->cell_count;
    out->axis_count = s->ways->axis_count;
    return SW_OK;
}

sw_status sw_map_search(sw_map_found *out, sw_unsure *unsure, const sw_map_ways *ways,
                        sw_allowance allowance) {
    searching s = {.unsure = unsure, .ways = ways, .allowance = allowance, .arena = unsure->arena};
    *out = (sw_map_found){.most_here = INT64_MAX};
    sw_status status = begin(&s);
    for (bool more = true; more && status == SW_OK;)
        status = step(&s, out, &more);
    if (status == SW_OK)
        status = tell(out, &s);
    free(s.found);
    free(s.cells);
    return status;
}

bool sw_map_proves(const sw_map_found *found, const sw_map_region *region) {
    bool proved = found->is_first[region->which];
    for (size_t k = 0; k < region->corner_count && proved; k++) {
        int low[SW_MAP_AXES];
        cell_of(low, &region->corners[k], found->axis_count);
        const cell *is = cell_at(found->cells, found->cell_count, low);
        proved = is != NULL && is->proved;
    }
    return proved;
}
