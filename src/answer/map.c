/* The map from its corners to its regions. */
#include "answer/map.h"

#include "answer/map_search.h"

#include <stdlib.h>
#include <string.h>

#define WHOLE 1000

typedef struct making {
    sw_map *map;
    const sw_scenario *scenario;
    int64_t *share; /* [criterion] thousandths of all weight; 0 of the drawn ones */
    int64_t at[3];  /* the client's answer, in any ratio */
    int64_t own;    /* of the weight, what the drawn criteria share */
    sw_unsure unsure;
    sw_map_found found;
    sw_map_value *values; /* [bundle of N] */
} making;

/* ---- which criteria ------------------------------------------------------------------------- */

static bool is_drawn(const sw_map *map, size_t criterion) {
    for (size_t a = 0; a < map->axis_count; a++)
        if (map->axes[a].criterion == criterion)
            return true;
    return false;
}

/* Those that everybody asks about before others; then by weight, then as they stand. */
static bool comes_before(const sw_scenario *scenario, size_t a, size_t b) {
    const sw_criterion *criteria = scenario->catalog->criteria;
    bool a_rated = criteria[a].kind == SW_RATED, b_rated = criteria[b].kind == SW_RATED;
    if (a_rated != b_rated)
        return b_rated;
    return scenario->weights[a] > scenario->weights[b];
}

static bool choose_one(sw_map *map, const sw_scenario *scenario) {
    size_t count = scenario->catalog->criterion_count, best = count;
    for (size_t c = 0; c < count; c++)
        if (scenario->weights[c] > 0 && !is_drawn(map, c) &&
            (best == count || comes_before(scenario, c, best)))
            best = c;
    if (best < count)
        map->axes[map->axis_count++].criterion = best;
    return best < count;
}

static int by_criterion(const void *left, const void *right) {
    const sw_map_axis *a = left, *b = right;
    return a->criterion < b->criterion ? -1 : a->criterion > b->criterion;
}

static sw_status choose(making *in) {
    sw_map *map = in->map;
    const sw_scenario *scenario = in->scenario;
    size_t count = scenario->catalog->criterion_count;
    double sum = 0;
    in->share = SW_NEW(map->answer->arena, int64_t, count);
    if (in->share == NULL)
        return SW_NO_MEMORY;
    while (map->axis_count < SW_MAP_AXES && choose_one(map, scenario))
        continue;
    qsort(map->axes, map->axis_count, sizeof *map->axes, by_criterion);
    for (size_t c = 0; c < count; c++) {
        if (is_drawn(map, c) || !sw_round(&in->share[c], scenario->weights[c] * WHOLE))
            continue;
        map->others_milli += in->share[c];
    }
    in->own = map->others_milli < WHOLE ? WHOLE - map->others_milli : 1;
    for (size_t a = 0; a < map->axis_count; a++) {
        if (!sw_round(&in->at[a], scenario->weights[map->axes[a].criterion] * 1e6))
            in->at[a] = 0;
        in->at[a] = in->at[a] > 0 ? in->at[a] : 1;
        sum += (double)in->at[a];
    }
    for (size_t a = 0; a < map->axis_count; a++)
        map->axes[a].at = (double)in->at[a] / sum;
    return SW_OK;
}

/* ---- its bundles ------------------------------------------------------------------------------
 */

static sw_status search(making *in, sw_allowance allowance) {
    const sw_map *map = in->map;
    size_t axes[SW_MAP_AXES] = {0};
    sw_map_ways ways = {.axis_count = map->axis_count,
                        .criteria = in->scenario->catalog->criterion_count,
                        .axes = axes,
                        .fixed = in->share,
                        .own = in->own};
    for (size_t a = 0; a < map->axis_count; a++) {
        axes[a] = map->axes[a].criterion;
        ways.at[a] = in->at[a];
    }
    return sw_map_search(&in->found, &in->unsure, &ways, allowance);
}

static sw_status find_bundles(making *in, bool allow_unknown, sw_allowance allowance,
                              sw_complaints *complaints) {
    const sw_map *map = in->map;
    size_t criteria = in->scenario->catalog->criterion_count;
    int64_t *weight = SW_NEW(map->answer->arena, int64_t, map->axis_count * criteria);
    if (weight == NULL)
        return SW_NO_MEMORY;
    for (size_t a = 0; a < map->axis_count; a++) {
        int64_t *corner = weight + a * criteria;
        for (size_t c = 0; c < criteria; c++)
            corner[c] = in->share[c];
        corner[map->axes[a].criterion] = in->own;
    }
    sw_extremes extremes = {map->axis_count, criteria, weight, false};
    size_t before = sw_complaints_count(complaints);
    sw_status status =
        sw_unsure_start(&in->unsure, in->scenario, &extremes, allow_unknown, allowance, complaints);
    if (status == SW_OK && sw_unsure_is_scored(&in->unsure))
        status = search(in, allowance);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before &&
        !in->unsure.baseline.found)
        sw_complain_of_sites(in->scenario, complaints);
    return status;
}

/* A line is the side of a triangle whose third corner is the first once more. */
static sw_status read_values(making *in) {
    const sw_map_found *set = &in->found;
    in->values = SW_NEW(in->unsure.arena, sw_map_value, set->count);
    if (in->values == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < set->count; i++)
        for (size_t a = 0; a < 3; a++) {
            int64_t value = set->bundles[i].value[a < in->map->axis_count ? a : 0];
            if (value > SW_MAP_VALUE_LIMIT || value < -SW_MAP_VALUE_LIMIT)
                return SW_BAD_DATA;
            in->values[i].of[a] = value;
        }
    return SW_OK;
}

/* ---- its regions ------------------------------------------------------------------------------
 */

/* Of a line: from where to where. */
static sw_status straighten(sw_map_region *region, sw_arena *arena) {
    sw_map_corner *ends = SW_NEW(arena, sw_map_corner, 2);
    double low = 1, high = 0;
    if (ends == NULL)
        return SW_NO_MEMORY;
    for (size_t k = 0; k < region->corner_count; k++) {
        double at = region->corners[k].share[1];
        low = at < low ? at : low;
        high = at > high ? at : high;
    }
    ends[0] = (sw_map_corner){.share = {1 - low, low, 0}};
    ends[1] = (sw_map_corner){.share = {1 - high, high, 0}};
    *region = (sw_map_region){region->which, ends, 2, high - low};
    return SW_OK;
}

static int by_area(const void *left, const void *right) {
    const sw_map_region *a = left, *b = right;
    if (a->area != b->area)
        return a->area > b->area ? -1 : 1;
    return a->which < b->which ? -1 : a->which > b->which;
}

static int64_t points_at(const making *in, const sw_map_value *value) {
    double sum = 0;
    int64_t points = 0;
    for (size_t a = 0; a < in->map->axis_count; a++)
        sum += in->map->axes[a].at * (double)value->of[a];
    return sw_round(&points, sum / (double)(in->map->others_milli + in->own)) ? points : 0;
}

static sw_status describe(making *in, sw_map_place *place, const sw_map_region *region) {
    const sw_undominated_bundle *bundle = &in->found.bundles[region->which];
    sw_status status = sw_bundle_describe(&place->bundle, in->map->answer, in->unsure.setup.program,
                                          bundle->picks, in->unsure.baseline.picks);
    if (status != SW_OK)
        return status;
    memcpy(place->bundle.by_criterion, bundle->by_criterion,
           in->map->answer->criterion_count * sizeof *bundle->by_criterion);
    place->bundle.points = points_at(in, &in->values[region->which]);
    place->area = region->area;
    place->corners = region->corners;
    place->corner_count = region->corner_count;
    return SW_OK;
}

static sw_status find_places(making *in, sw_map_value **own) {
    sw_map *map = in->map;
    sw_arena *arena = map->answer->arena;
    sw_map_region *regions = NULL;
    size_t count = 0;
    sw_status status = sw_map_make(&regions, &count, arena, in->values, in->found.count);
    bool *proved = SW_NEW(in->unsure.arena, bool, in->found.count);
    if (status == SW_OK && proved == NULL)
        status = SW_NO_MEMORY;
    for (size_t r = 0; r < count && status == SW_OK; r++)
        proved[regions[r].which] = sw_map_proves(&in->found, &regions[r]);
    for (size_t r = 0; r < count && status == SW_OK && map->axis_count < 3; r++)
        status = straighten(&regions[r], arena);
    if (status != SW_OK)
        return status;
    qsort(regions, count, sizeof *regions, by_area);
    map->places = SW_NEW(arena, sw_map_place, count);
    *own = SW_NEW(in->unsure.arena, sw_map_value, count);
    if (map->places == NULL || *own == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < count && status == SW_OK; r++) {
        (*own)[r] = in->values[regions[r].which];
        map->places[r].is_proved = proved[regions[r].which];
        status = describe(in, &map->places[map->place_count++], &regions[r]);
    }
    return status;
}

/* What is best in the corners and at the client's answer, and what lies next to that. */
static void look_around(making *in, const sw_map_value *values) {
    sw_map *map = in->map;
    for (size_t a = 0; a < map->axis_count; a++) {
        int64_t corner[3] = {0};
        corner[a] = 1;
        map->axes[a].best = sw_map_best(values, map->place_count, corner);
    }
    map->here = sw_map_best(values, map->place_count, in->at);
    map->change = sw_map_nearest(values, map->place_count, in->at);
    map->has_change = map->change.share <= 1;
}

/* By how much the best that is known at the client's answer may fall short of what there is. */
static void find_gap(making *in) {
    sw_map *map = in->map;
    int64_t points, most = in->found.most_here;
    map->short_of = map->places[map->here].is_proved ? 0 : INT64_MAX;
    if (map->short_of == 0 || most == INT64_MAX ||
        !sw_round(&points, (double)most / (double)(map->others_milli + in->own)))
        return;
    map->short_of = points - map->places[map->here].bundle.points;
    map->short_of = map->short_of > 0 ? map->short_of : 0;
}

static sw_status fill_in(making *in) {
    sw_map *map = in->map;
    sw_map_value *own = NULL;
    if (!in->unsure.baseline.found || in->found.count == 0) {
        map->answer->status = in->unsure.baseline.end == SW_END_EARLY || in->unsure.baseline.found
                                  ? SW_STOPPED_EARLY
                                  : SW_NOTHING_FITS;
        return SW_OK;
    }
    map->answer->status = in->found.complete ? SW_OPTIMAL : SW_STOPPED_EARLY;
    const sw_setup *setup = &in->unsure.setup;
    sw_sound sound = sw_sound_of(setup->estimates, setup->fitouts->present);
    map->answer->has_sound = setup->estimates->quiet != SW_NONE;
    map->answer->level_now_dba = sound.level_dba;
    map->answer->loudness_now_sone = sound.loudness_sone;
    sw_status status = read_values(in);
    if (status == SW_OK)
        status = find_places(in, &own);
    if (status != SW_OK)
        return status;
    look_around(in, own);
    find_gap(in);
    status = sw_map_find_likely(map, in->scenario);
    return status == SW_OK ? sw_map_share_likely(map, in->scenario, own) : status;
}

sw_status sw_find_map(sw_map **out, const sw_scenario *scenario, bool allow_unknown,
                      sw_allowance allowance, sw_complaints *complaints) {
    making in = {.scenario = scenario};
    sw_answer *answer = NULL;
    sw_status status = sw_answer_start(&answer, scenario);
    if (status != SW_OK)
        return status;
    in.map = SW_NEW(answer->arena, sw_map, 1);
    if (in.map == NULL) {
        sw_answer_free(answer);
        return SW_NO_MEMORY;
    }
    in.map->answer = answer;
    size_t before = sw_complaints_count(complaints);
    status = choose(&in);
    if (status == SW_OK) {
        status = find_bundles(&in, allow_unknown, allowance, complaints);
        if (status == SW_OK)
            status = fill_in(&in);
        sw_unsure_free(&in.unsure);
    }
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain(complaints, scenario->file, "$.wishes",
                    "points that large cannot be weighed against each other without rounding",
                    "look at the rates of the uses and of their parts",
                    "lead to points that are too large to be weighed");
    if (status == SW_OK)
        *out = in.map;
    else
        sw_answer_free(answer);
    return status;
}

void sw_map_free(sw_map *map) {
    if (map != NULL)
        sw_answer_free(map->answer);
}

sw_answer_status sw_map_get_status(const sw_map *map) { return map->answer->status; }
