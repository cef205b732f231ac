/* Estimates of a job in which every criterion has the weight 1, weighed by whole numbers: each
 * term is multiplied, so sums stay exact and nothing is rounded again. */
#include "estimate/estimates.h"

/* False when a product is beyond what 64 bits hold. */
static bool scale(int64_t *out, const int64_t *in, size_t count, int64_t by) {
    for (size_t i = 0; i < count; i++)
        if (!sw_multiply(&out[i], in[i], by))
            return false;
    return true;
}

static bool scale_known(int64_t *number, int64_t by) {
    return *number == INT64_MAX || sw_multiply(number, *number, by);
}

static sw_status weigh_speed(sw_estimates *e, sw_arena *arena, int64_t by) {
    const sw_alternative *of = e->alternatives;
    size_t fitouts = e->fitouts->fitout_count, uses = e->fitouts->scenario->use_count;
    const int64_t *cap = e->cap, *base = e->speed_base;
    e->alternatives = SW_NEW(arena, sw_alternative, e->alternative_count);
    e->cap = SW_NEW(arena, int64_t, uses);
    e->speed_base = SW_NEW(arena, int64_t, uses);
    if (e->alternatives == NULL || e->cap == NULL || e->speed_base == NULL)
        return SW_NO_MEMORY;
    for (size_t a = 0; a < e->alternative_count; a++) {
        e->alternatives[a] = of[a];
        e->alternatives[a].terms = SW_NEW(arena, int64_t, fitouts);
        if (e->alternatives[a].terms == NULL)
            return SW_NO_MEMORY;
        if (!scale(&e->alternatives[a].offset, &of[a].offset, 1, by) ||
            !scale(e->alternatives[a].terms, of[a].terms, fitouts, by))
            return SW_BAD_DATA;
    }
    for (size_t u = 0; u < uses; u++) {
        e->cap[u] = cap[u];
        e->speed_base[u] = base[u];
        if (!scale_known(&e->cap[u], by) || !scale_known(&e->speed_base[u], by))
            return SW_BAD_DATA;
    }
    return SW_OK;
}

static sw_status weigh_quiet(sw_estimates *e, sw_arena *arena, int64_t by) {
    size_t cells = (size_t)e->class_count * (size_t)e->level_count;
    const int64_t *points = e->level_points;
    e->level_points = SW_NEW(arena, int64_t, cells);
    if (e->level_points == NULL)
        return SW_NO_MEMORY;
    bool fits = scale(e->level_points, points, cells, by) && scale_known(&e->level_base, by);
    return fits ? SW_OK : SW_BAD_DATA;
}

static sw_status weigh_added(sw_estimates *e, sw_arena *arena, const int64_t *weight) {
    size_t criteria = e->fitouts->catalog->criterion_count, fitouts = e->fitouts->fitout_count;
    int64_t *const *added = e->added;
    const int64_t *base = e->added_base;
    e->added = SW_NEW(arena, int64_t *, criteria);
    e->added_base = SW_NEW(arena, int64_t, criteria);
    if (e->added == NULL || e->added_base == NULL)
        return SW_NO_MEMORY;
    for (size_t c = 0; c < criteria; c++) {
        if (added[c] == NULL)
            continue;
        e->added[c] = SW_NEW(arena, int64_t, fitouts);
        if (e->added[c] == NULL)
            return SW_NO_MEMORY;
        if (!scale(e->added[c], added[c], fitouts, weight[c]) ||
            !scale(&e->added_base[c], &base[c], 1, weight[c]))
            return SW_BAD_DATA;
    }
    return SW_OK;
}

sw_status sw_estimates_weighed(sw_estimates *out, sw_arena *arena, const sw_estimates *of,
                               const int64_t *weight) {
    *out = *of;
    sw_status status = weigh_speed(out, arena, of->speed == SW_NONE ? 0 : weight[of->speed]);
    if (status == SW_OK && of->quiet != SW_NONE)
        status = weigh_quiet(out, arena, weight[of->quiet]);
    return status == SW_OK ? weigh_added(out, arena, weight) : status;
}
