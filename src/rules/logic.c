/* The shape `clash` (and `unlock`, which the rulebook spells as clashes), and
 * the conditions around every rule. */
#include "rules/stage.h"

sw_truth sw_on_machine(const sw_fitouts *fitouts, const sw_cond *cond, const int *machine) {
    return sw_cond_truth(fitouts, cond,
                         cond->role == SW_NONE ? NULL : &fitouts->fitouts[machine[cond->role]]);
}

static void note_unknown(const sw_cond *cond, sw_judgement *out) {
    if (out->unknown_fact != SW_NONE)
        return;
    out->unknown_role = cond->role;
    out->unknown_fact = cond->fact;
}

void sw_judge_clash(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine,
                    sw_judgement *out) {
    sw_truth all = SW_TRUE;
    for (size_t i = 0; i < rule->cond_count; i++) {
        sw_truth one = sw_on_machine(fitouts, &rule->conds[i], machine);
        if (one == SW_MAYBE)
            note_unknown(&rule->conds[i], out);
        all = sw_truth_and(all, one);
    }
    out->verdict = all == SW_TRUE ? SW_BROKEN : all == SW_MAYBE ? SW_UNJUDGED : SW_HOLDS;
}
