/* The extremes of the weightings that may be right: FORMATS.md section 33. */
#ifndef SW_ANSWER_WEIGHTINGS_H
#define SW_ANSWER_WEIGHTINGS_H

#include "check/scenario.h"
#include "program/doubt.h"

typedef struct sw_weightings {
    int *criteria; /* those that may weigh, in the order of criteria.json */
    size_t criterion_count;
    int64_t **extremes; /* [extreme][criterion of the list] whole numbers in any ratio */
    size_t extreme_count;
} sw_weightings;

/* Everything lives in `arena`. SW_NO_MEMORY or SW_OK. */
sw_status sw_weightings_of(sw_weightings *out, sw_arena *arena, const sw_scenario *scenario);

/* The extremes over all criteria of the catalog, made smaller in their ratio; rounded where the
 * engine could not take them otherwise. Those of `from` change alike. */
sw_status sw_spread_extremes(sw_extremes *out, sw_arena *arena, sw_weightings *from,
                             size_t criteria);

#endif
