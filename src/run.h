/* The stages of one job, made in order and freed together. */
#ifndef SW_RUN_H
#define SW_RUN_H

#include "answer/answer.h"
#include "answer/options.h"
#include "answer/setup.h"

typedef struct sw_run {
    sw_setup setup;
    sw_solution baseline;
    sw_allowance allowance; /* for all solving together */
    sw_complaints *complaints;
    sw_calibration *learnt; /* NULL: none was asked for */
} sw_run;

/* Everything up to the scored program; within the budget, or whatever it costs. When nothing fits,
 * the baseline is not found and the program is not scored. */
sw_status sw_run_make(sw_run *job, const sw_scenario *scenario, const sw_plan_options *options,
                      bool whatever_it_costs, sw_complaints *complaints);
/* The three options; the job stays for what more is asked of them. Free it in any case. */
sw_status sw_run_options(sw_options **out, sw_run *job, const sw_scenario *scenario,
                         const sw_plan_options *options, sw_complaints *complaints);
void sw_run_free(sw_run *job);

#endif
