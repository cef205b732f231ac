/* What the files of this folder share among themselves. */
#ifndef SW_ESTIMATE_STAGE_H
#define SW_ESTIMATE_STAGE_H

#include "estimate/estimates.h"

/* T(x): thousandths of a point. Saturates far beyond any score. */
int64_t sw_thousandths(double points);

sw_status sw_speed_make(sw_estimates *estimates, sw_complaints *complaints);
sw_status sw_speed_finish(sw_estimates *estimates, const int *baseline);
int64_t sw_speed_points(const sw_estimates *estimates, const int *machine);

sw_status sw_quiet_make(sw_estimates *estimates, sw_complaints *complaints);
sw_status sw_busy_make(sw_estimates *estimates);
/* noise, running; complains of present parts whose levels are unknown. */
sw_status sw_running_make(sw_estimates *estimates, sw_complaints *complaints);
void sw_quiet_finish(sw_estimates *estimates, const int *baseline);
int64_t sw_quiet_points(const sw_estimates *estimates, const int *machine);

sw_status sw_looks_make(sw_estimates *estimates, int criterion, const int *baseline);
sw_status sw_rated_make(sw_estimates *estimates, int criterion);

/* A present part lacks a fact that an estimate reads. */
void sw_complain_of_fact(const sw_fitouts *fitouts, int role, int fact, const char *why,
                         sw_complaints *complaints);
/* Remembers that the new parts of a fit-out are left out for want of `fact`. */
sw_status sw_leave_out(sw_fitouts *fitouts, const sw_fitout *fitout, int fact);

#endif
