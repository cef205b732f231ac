/*
 * What a machine must come to for a complaint of the client's to end: catalog/FORMATS.md section
 * 22. Pure.
 */
#ifndef SW_DEMANDS_H
#define SW_DEMANDS_H

#include "estimate/estimates.h"

/* Sum of the fit-outs' terms >= least. */
typedef struct sw_demand_sum {
    int64_t *terms; /* [fitout] */
    int64_t least;
} sw_demand_sum;

/* One role at the least holds a fit-out that is marked. */
typedef struct sw_demand_any {
    bool *holds; /* [fitout] */
    bool *reads; /* [role] roles that could */
} sw_demand_any;

/* All must be met. In the arena of the estimates. */
typedef struct sw_demands {
    sw_demand_sum *sums;
    size_t sum_count, sum_room;
    sw_demand_any *anys;
    size_t any_count, any_room;
    bool has_sones;
    double sones_most;
} sw_demands;

sw_status sw_demands_make(sw_demands *out, const sw_estimates *estimates,
                          const sw_stated_trouble *trouble);
bool sw_demands_met(const sw_demands *demands, const sw_estimates *estimates, const int *machine);
void sw_demands_free(sw_demands *demands);

#endif
