/* What a bundle brings on each criterion, counted pick by pick from the program at weight 1. */
#include "program/doubt_search.h"

#include <string.h>

static size_t stage_count(const sw_program *program) {
    size_t count = 0;
    for (size_t u = 0; u < program->least_count; u++)
        count += program->leasts[u].count;
    return count;
}

sw_status sw_sums_make(sw_sums *sums, const sw_views *views) {
    *sums = (sw_sums){.views = views,
                      .stage = SW_NEW(views->arena, int64_t, stage_count(views->of)),
                      .added = SW_NEW(views->arena, int64_t, views->criteria)};
    return sums->stage != NULL && sums->added != NULL ? SW_OK : SW_NO_MEMORY;
}

void sw_sums_clear(sw_sums *sums) {
    const sw_program *of = sums->views->of;
    size_t at = 0;
    sums->cost = sums->noise = 0;
    for (size_t u = 0; u < of->least_count; u++)
        for (size_t s = 0; s < of->leasts[u].count; s++)
            sums->stage[at++] = of->leasts[u].stages[s].offset;
    for (size_t c = 0; c < sums->views->criteria; c++)
        sums->added[c] = -of->estimates->added_base[c];
}

void sw_sums_add(sw_sums *sums, int pick, int times) {
    const sw_program *of = sums->views->of;
    const sw_estimates *estimates = of->estimates;
    const sw_pick *p = &of->picks[pick];
    size_t at = 0;
    sums->cost += times * p->cost;
    sums->noise += times * p->noise;
    for (size_t u = 0; u < of->least_count; u++)
        for (size_t s = 0; s < of->leasts[u].count; s++)
            sums->stage[at++] += times * of->leasts[u].stages[s].terms[p->fitout];
    for (size_t c = 0; c < sums->views->criteria; c++)
        if (estimates->added[c] != NULL)
            sums->added[c] += times * estimates->added[c][p->fitout];
    if (times > 0 && estimates->quiet != SW_NONE &&
        of->groups[p->group].role == estimates->loss_role)
        sums->loss_class = estimates->loss_class[p->fitout];
}

static int64_t speed_points(const sw_sums *sums) {
    const sw_program *of = sums->views->of;
    int64_t points = 0;
    size_t at = 0;
    for (size_t u = 0; u < of->least_count; u++) {
        int64_t least = of->leasts[u].cap;
        for (size_t s = 0; s < of->leasts[u].count; s++, at++)
            least = sums->stage[at] < least ? sums->stage[at] : least;
        points += least - of->leasts[u].base;
    }
    return points;
}

static int64_t quiet_points(const sw_sums *sums) {
    const sw_estimates *e = sums->views->of->estimates;
    int low = 0, high = e->level_count - 1;
    while (low < high) {
        int middle = (low + high) / 2;
        if (e->level_power[middle] < sums->noise)
            low = middle + 1;
        else
            high = middle;
    }
    return e->level_points[sums->loss_class * e->level_count + low] - e->level_base;
}

void sw_sums_points(const sw_sums *sums, int64_t *by_criterion) {
    const sw_program *of = sums->views->of;
    const sw_estimates *e = of->estimates;
    for (size_t c = 0; c < sums->views->criteria; c++)
        by_criterion[c] = e->added[c] != NULL ? sums->added[c] : 0;
    if (e->speed != SW_NONE)
        by_criterion[e->speed] = speed_points(sums);
    if (e->quiet != SW_NONE)
        by_criterion[e->quiet] = of->levelled ? quiet_points(sums) : 0;
}

void sw_values(const sw_views *views, const int64_t *by_criterion, int64_t *value) {
    for (int e = 0; e < views->extremes; e++) {
        value[e] = 0;
        for (size_t c = 0; c < views->criteria; c++)
            value[e] += views->weight[(size_t)e * views->criteria + c] * by_criterion[c];
    }
}
