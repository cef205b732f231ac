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

sw_status sw_unsure_make(sw_unsure *out, const sw_scenario *scenario, const sw_extremes *extremes,
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
    if (status != SW_OK || !out->baseline.found || out->baseline.end == SW_END_EARLY)
        return status;
    status = sw_setup_score(&out->setup, out->baseline.picks);
    if (status == SW_OK)
        status = sw_undominated(&out->set, program, extremes, program->budget, allowance);
    return status;
}

void sw_unsure_free(sw_unsure *unsure) {
    sw_setup_free(&unsure->setup);
    sw_arena_free(unsure->arena);
    unsure->arena = NULL;
}
