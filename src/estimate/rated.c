/* Rated criteria: a plain fact, such as how a keyboard feels from 0 to 10. */
#include "estimate/stage.h"

sw_status sw_rated_make(sw_estimates *estimates, int criterion) {
    const sw_fitouts *fitouts = estimates->fitouts;
    const sw_criterion *rated = &fitouts->catalog->criteria[criterion];
    int64_t *added = SW_NEW(estimates->arena, int64_t, fitouts->fitout_count);
    if (added == NULL)
        return SW_NO_MEMORY;
    estimates->added[criterion] = added;
    for (size_t t = 0; t < rated->fact_count; t++)
        for (size_t f = 0; f < fitouts->fitout_count; f++) {
            const sw_fitout *fitout = &fitouts->fitouts[f];
            const sw_term *term = &rated->facts[t];
            if (term->role != SW_EVERY_ROLE && term->role != fitout->role)
                continue;
            const sw_value *value = sw_fitout_value(fitouts, fitout, term->fact);
            if (value->state == SW_KNOWN)
                added[f] += sw_thousandths(100 * fitouts->scenario->weights[criterion] *
                                           (double)value->milli / (double)rated->scale_milli);
        }
    return SW_OK;
}
