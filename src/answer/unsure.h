/* A job whose weights are in doubt: each criterion counts by itself, at weight 1, and the
 * non-dominated bundles are found over all weights that may be (catalog/FORMATS.md section 32). */
#ifndef SW_ANSWER_UNSURE_H
#define SW_ANSWER_UNSURE_H

#include "answer/setup.h"
#include "program/doubt.h"

/* Must stay where it was made: the setup points into it. */
typedef struct sw_unsure {
    sw_arena *arena;
    sw_scenario scenario; /* of the job, with other weights */
    sw_setup setup;
    sw_solution baseline; /* not found: nothing fits, or the time ran out (its end says) */
    sw_undominated_set set;
} sw_unsure;

/* SW_BAD_DATA without a complaint: the points are too large. Free it in any case. */
sw_status sw_unsure_make(sw_unsure *out, const sw_scenario *scenario, const sw_extremes *extremes,
                         bool allow_unknown, sw_allowance allowance, sw_complaints *complaints);
/* The same without its set: of the weightings that only these criteria weigh. */
sw_status sw_unsure_start(sw_unsure *out, const sw_scenario *scenario, const sw_extremes *extremes,
                          bool allow_unknown, sw_allowance allowance, sw_complaints *complaints);
/* There is a baseline to measure points against. */
bool sw_unsure_is_scored(const sw_unsure *unsure);
void sw_unsure_free(sw_unsure *unsure);

#endif
