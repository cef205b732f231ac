/* From a job and what its weights may be to its non-dominated bundles. */
#include "answer/unsure.h"

static sw_status weigh_singly(sw_unsure *u, const sw_extremes *extremes) {
    double *weights = SW_NEW(u->arena, double, extremes->criteria);
    if (weights == NULL)
        return SW_NO_MEMORY;
    for (size_t e = 0; e < extremes->count; e++)
        for (size_t c = 0; c < extremes->criteria; c++)
            if (extremes->weight[e * extremes->criteria + c] > 0)
                weights[c] = 1;
    u->scenario.weights = weights;
    return SW_OK;
}

bool sw_unsure_is_scored(const sw_unsure *u) {
    return u->baseline.found && u->baseline.end != SW_END_EARLY;
}

sw_status sw_unsure_start(sw_unsure *out, const sw_scenario *scenario, const sw_extremes *extremes,
                          bool allow_unknown, sw_allowance allowance, sw_complaints *complaints) {
    *out = (sw_unsure){.arena = sw_arena_new(), .scenario = *scenario};
    if (out->arena == NULL)
        return SW_NO_MEMORY;
    sw_status status = weigh_singly(out, extremes);
    if (status == SW_OK)
        status = sw_setup_make(&out->setup, &out->scenario,
                               allow_unknown || scenario->allow_unknown, NULL, complaints);
    if (status != SW_OK)
        return status;
    sw_program *program = out->setup.program;
    sw_request request = sw_request_for(program, SW_AIM_CHEAPEST);
    status = sw_solve(&out->baseline, program, &request, allowance, complaints);
    return status == SW_OK && sw_unsure_is_scored(out)
               ? sw_setup_score(&out->setup, out->baseline.picks)
               : status;
}

sw_status sw_unsure_make(sw_unsure *out, const sw_scenario *scenario, const sw_extremes *extremes,
                         bool allow_unknown, sw_allowance allowance, sw_complaints *complaints) {
    sw_status status =
        sw_unsure_start(out, scenario, extremes, allow_unknown, allowance, complaints);
    sw_program *program = out->setup.program;
    return status == SW_OK && sw_unsure_is_scored(out)
               ? sw_undominated(&out->set, program, extremes, program->budget, allowance)
               : status;
}

void sw_unsure_free(sw_unsure *unsure) {
    sw_setup_free(&unsure->setup);
    sw_arena_free(unsure->arena);
    unsure->arena = NULL;
}
