/* The staircase of the best bundles known. */
#include "program/frontier.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The last tread that costs no more; SW_NONE: all cost more. */
static int tread_at(const sw_frontier *f, int64_t cost) {
    int low = -1, high = (int)f->count - 1;
    while (low < high) {
        int middle = low + (high - low + 1) / 2;
        if (f->treads[middle].tally.cost <= cost)
            low = middle;
        else
            high = middle - 1;
    }
    return low >= 0 ? low : SW_NONE;
}

bool sw_frontier_wants(const sw_frontier *f, int64_t cost, int64_t points) {
    if (cost > f->to || points < f->points_least)
        return false;
    int at = tread_at(f, cost > f->from ? cost : f->from);
    if (at == SW_NONE)
        return true;
    const sw_tally *tread = &f->treads[at].tally;
    return points > tread->points || (points == tread->points && cost <= tread->cost);
}

static bool beats(const sw_frontier *f, const sw_tally *tally, const int *picks,
                  const sw_tread *tread) {
    return sw_tally_compare(f->program, tally, picks, &tread->tally, tread->picks, true) < 0;
}

sw_status sw_frontier_add(sw_frontier *f, const sw_tally *tally, const int *picks) {
    if (!sw_frontier_wants(f, tally->cost, tally->points))
        return SW_OK;
    int64_t reach = tally->cost > f->from ? tally->cost : f->from;
    int at = tread_at(f, reach);
    if (at != SW_NONE && !beats(f, tally, picks, &f->treads[at]))
        return SW_OK;
    size_t size = f->program->group_count * sizeof *picks;
    int *own = malloc(size + 1);
    if (own == NULL || !SW_GROW(f->treads, f->room, f->count)) {
        free(own);
        return SW_NO_MEMORY;
    }
    memcpy(own, picks, size);
    /* It stands behind the treads that cost less, before what it makes needless. */
    size_t first = at == SW_NONE ? 0 : (size_t)at + 1, end = first;
    if (at != SW_NONE && (f->treads[at].tally.cost == tally->cost || reach == f->from))
        first--;
    while (end < f->count && f->treads[end].tally.points <= tally->points)
        end++;
    for (size_t i = first; i < end; i++)
        free(f->treads[i].picks);
    memmove(&f->treads[first + 1], &f->treads[end], (f->count - end) * sizeof *f->treads);
    f->treads[first] = (sw_tread){*tally, own, INT64_MAX};
    f->count += first + 1 - end;
    f->age++;
    return SW_OK;
}

double sw_frontier_least(const sw_frontier *f, double money, int64_t low, int64_t high) {
    double least = INFINITY;
    low = low > f->from ? low : f->from;
    high = high < f->to ? high : f->to;
    if (low > high)
        return INFINITY;
    int at = tread_at(f, low);
    if (at == SW_NONE)
        return -INFINITY;
    for (size_t i = (size_t)at; i < f->count && f->treads[i].tally.cost <= high; i++) {
        const sw_tally *tread = &f->treads[i].tally;
        int64_t end = i + 1 < f->count ? f->treads[i + 1].tally.cost - 1 : high;
        end = end < high ? end : high;
        /* A tie counts where it costs no more; what costs more must have more points. */
        double tie = (double)tread->points - money * (double)tread->cost;
        double more = (double)tread->points + 1 - money * (double)end;
        if (tread->cost >= low || low == f->from)
            least = tie < least ? tie : least;
        if (end >= low)
            least = more < least ? more : least;
    }
    double floor_of_all = (double)f->points_least - money * (double)high;
    return least > floor_of_all || f->points_least == INT64_MIN ? least : floor_of_all;
}

void sw_frontier_free(sw_frontier *f) {
    for (size_t i = 0; i < f->count; i++)
        free(f->treads[i].picks);
    free(f->treads);
    *f = (sw_frontier){0};
}
