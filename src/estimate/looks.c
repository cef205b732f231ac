/* Looks: how far what shows agrees with the client's taste, measured against
 * what is still missing today. */
#include "estimate/stage.h"

static const sw_taste *taste_for(const sw_scenario *scenario, int fact) {
    for (size_t i = 0; i < scenario->taste_count; i++)
        if (scenario->tastes[i].fact == fact)
            return &scenario->tastes[i];
    return NULL;
}

static bool liked(const sw_taste *taste, const char *token) {
    for (size_t i = 0; i < taste->token_count; i++)
        if (sw_text_compare(taste->tokens[i], token) == 0)
            return true;
    return false;
}

/* Share of the tokens that the client likes; -1 when the aspect does not count. */
static double token_hit(const sw_scenario *scenario, const sw_aspect *aspect,
                        const sw_value *value) {
    const sw_taste *taste = taste_for(scenario, aspect->fact);
    if (taste == NULL || value->token_count == 0)
        return -1;
    size_t hits = 0;
    for (size_t i = 0; i < value->token_count; i++)
        hits += liked(taste, value->tokens[i]) ? 1 : 0;
    return (double)hits / (double)value->token_count;
}

static double scale_hit(const sw_aspect *aspect, const sw_value *value) {
    double hit = (double)value->milli / (double)aspect->scale_milli;
    return hit < 0 ? 0 : hit > 1 ? 1 : hit;
}

static double match_of(const sw_fitouts *fitouts, const sw_criterion *looks,
                       const sw_fitout *fitout) {
    double weights = 0, sum = 0;
    for (size_t a = 0; a < looks->aspect_count; a++) {
        const sw_aspect *aspect = &looks->aspects[a];
        const sw_value *value = sw_fitout_value(fitouts, fitout, aspect->fact);
        if (value->state != SW_KNOWN)
            continue;
        double hit = aspect->scale_milli > 0 ? scale_hit(aspect, value)
                                             : token_hit(fitouts->scenario, aspect, value);
        if (hit < 0)
            continue;
        weights += (double)aspect->weight_milli / 1000;
        sum += (double)aspect->weight_milli / 1000 * hit;
    }
    return weights > 0 ? sum / weights : 0;
}

double sw_looks_match(const sw_estimates *estimates, int criterion, int fitout) {
    const sw_fitouts *fitouts = estimates->fitouts;
    return match_of(fitouts, &fitouts->catalog->criteria[criterion], &fitouts->fitouts[fitout]);
}

sw_status sw_looks_make(sw_estimates *estimates, int criterion, const int *baseline) {
    const sw_fitouts *fitouts = estimates->fitouts;
    const sw_criterion *looks = &fitouts->catalog->criteria[criterion];
    int64_t *added = SW_NEW(estimates->arena, int64_t, fitouts->fitout_count);
    if (added == NULL)
        return SW_NO_MEMORY;
    estimates->added[criterion] = added;
    double all = 0, now = 0;
    for (size_t s = 0; s < looks->shows_count; s++)
        all += (double)looks->shows[s].weight_milli / 1000;
    for (size_t s = 0; s < looks->shows_count; s++)
        now += (double)looks->shows[s].weight_milli / 1000 / all *
               match_of(fitouts, looks, &fitouts->fitouts[baseline[looks->shows[s].role]]);
    if (1 - now < 1e-9)
        return SW_OK;
    for (size_t s = 0; s < looks->shows_count; s++) {
        int role = looks->shows[s].role;
        double share = (double)looks->shows[s].weight_milli / 1000 / all;
        for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++)
            added[f] = sw_thousandths(100 * fitouts->scenario->weights[criterion] * share *
                                      match_of(fitouts, looks, &fitouts->fitouts[f]) / (1 - now));
    }
    return SW_OK;
}
