/*
 * The best bundles known at every budget: a staircase of treads, each the first by the
 * order of ties among the known bundles of its cost and points.
 */
#ifndef SW_PROGRAM_FRONTIER_H
#define SW_PROGRAM_FRONTIER_H

#include "program/program.h"

typedef struct sw_tread {
    sw_tally tally;
    int *picks;   /* [group]; malloc'd */
    int64_t open; /* from its cost to the next tread's there may be as many points more */
} sw_tread;

struct sw_frontier {
    const sw_program *program;
    int64_t from, to;     /* costs that count; what costs less than `from` counts as if it
                             cost that much */
    int64_t points_least; /* bundles with fewer do not count */
    sw_tread *treads;     /* cost and points rise */
    size_t count, room;
    unsigned long long age; /* grows with every change */
};

/* May a bundle of this cost and these points be a new tread, or come before the one that
 * is there? */
bool sw_frontier_wants(const sw_frontier *frontier, int64_t cost, int64_t points);
/* Adds the bundle when it belongs there. The picks are copied. */
sw_status sw_frontier_add(sw_frontier *frontier, const sw_tally *tally, const int *picks);
/* The least of points - money x cost of a bundle that would be wanted at a cost of `low` to
 * `high`; -INFINITY: any would be. */
double sw_frontier_least(const sw_frontier *frontier, double money, int64_t low, int64_t high);
void sw_frontier_free(sw_frontier *frontier);

#endif
