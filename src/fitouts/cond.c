/* Three-valued truth of one condition on one role's fit-out. */
#include "fitouts/fitouts.h"

sw_truth sw_truth_and(sw_truth a, sw_truth b) { return a < b ? a : b; }

sw_truth sw_truth_not(sw_truth a) {
    return a == SW_MAYBE ? SW_MAYBE : a == SW_TRUE ? SW_FALSE : SW_TRUE;
}

static sw_truth truth(bool yes) { return yes ? SW_TRUE : SW_FALSE; }

static bool has_token(const sw_value *value, const char *token) {
    for (size_t i = 0; i < value->token_count; i++)
        if (sw_text_compare(value->tokens[i], token) == 0)
            return true;
    return false;
}

static bool shares_token(const sw_value *value, const sw_cond *cond) {
    for (size_t i = 0; i < cond->token_count; i++)
        if (has_token(value, cond->tokens[i]))
            return true;
    return false;
}

static sw_truth fact_truth(const sw_fitouts *fitouts, const sw_cond *cond,
                           const sw_fitout *fitout) {
    const sw_value *value = sw_fitout_value(fitouts, fitout, cond->fact);
    if (value->state == SW_UNKNOWN)
        return SW_MAYBE;
    if (value->state == SW_VOID)
        return SW_FALSE;
    switch (cond->op) {
    case SW_COND_LEAST:
        return truth(value->milli >= cond->milli);
    case SW_COND_MOST:
        return truth(value->milli <= cond->milli);
    case SW_COND_HAS:
        return truth(has_token(value, cond->tokens[0]));
    case SW_COND_ONE_OF:
        return truth(shares_token(value, cond));
    default: /* SW_COND_IS */
        if (fitouts->catalog->facts[cond->fact].type == SW_TOKEN)
            return truth(value->token_count == 1 && has_token(value, cond->tokens[0]));
        return truth(value->milli == cond->milli);
    }
}

static bool holds_part(const sw_fitouts *fitouts, const sw_fitout *fitout, int part) {
    const sw_scenario *scenario = fitouts->scenario;
    const char *id = scenario->parts[part].id;
    for (int i = 0; i < fitout->added_count; i++)
        if (sw_text_compare(scenario->parts[fitout->added[i].part].id, id) == 0)
            return true;
    for (size_t i = 0; i < scenario->machine_count[fitout->role]; i++)
        if (fitout->kept[i] > 0 &&
            sw_text_compare(scenario->parts[scenario->machine[fitout->role][i].part].id, id) == 0)
            return true;
    return false;
}

static bool does_task(const sw_fitout *fitout, int task) {
    for (int i = 0; i < fitout->task_count; i++)
        if (fitout->tasks[i] == task)
            return true;
    return false;
}

static sw_truth plain_truth(const sw_fitouts *fitouts, const sw_cond *cond,
                            const sw_fitout *fitout) {
    switch (cond->op) {
    case SW_COND_TASK:
        return truth(does_task(fitout, cond->index));
    case SW_COND_CHANGES:
        return truth(fitout->changes);
    case SW_COND_HOLDS:
        return truth(holds_part(fitouts, fitout, cond->index));
    case SW_COND_EMPTY:
        return truth(fitout->pieces == 0);
    case SW_COND_OBSERVED:
        return truth(fitouts->scenario->observed[cond->index]);
    default:
        return fact_truth(fitouts, cond, fitout);
    }
}

sw_truth sw_cond_truth(const sw_fitouts *fitouts, const sw_cond *cond, const sw_fitout *fitout) {
    sw_truth plain = plain_truth(fitouts, cond, fitout);
    return cond->negated ? sw_truth_not(plain) : plain;
}
