/* The best bundle and those that come after it. */
#include "answer/stage.h"

static sw_status list_one(sw_answer *answer, const sw_inquiry *inquiry, const int *picks) {
    sw_answer_bundle *bundle = &answer->bundles[answer->bundle_count];
    sw_status status =
        sw_bundle_describe(bundle, answer, inquiry->program, picks, inquiry->baseline);
    bundle->rank = (int)++answer->bundle_count;
    return status;
}

sw_status sw_verify_bundle(sw_answer *answer, const sw_inquiry *inquiry, const sw_request *request,
                           const int *picks) {
    bool same = false;
    sw_status status = sw_prove_again(&same, inquiry->program, request, picks, inquiry->allowance,
                                      inquiry->complaints);
    if (status != SW_OK)
        return status;
    answer->verify_count++;
    answer->verified_count += same;
    answer->unsettled = answer->unsettled || !same;
    answer->verified = answer->verified_count == answer->verify_count ? SW_VERIFIED_ALL
                       : answer->verified_count > 0                   ? SW_VERIFIED_SOME
                                                                      : SW_VERIFIED_NONE;
    return SW_OK;
}

sw_status sw_find_ranked(sw_answer *answer, const sw_inquiry *inquiry, int count, int apart,
                         const int **best) {
    sw_program *program = inquiry->program;
    const int **listed = SW_NEW(program->arena, const int *, (size_t)count);
    answer->bundles = SW_NEW(answer->arena, sw_answer_bundle, (size_t)count);
    if (listed == NULL || answer->bundles == NULL)
        return SW_NO_MEMORY;
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    request.start = inquiry->baseline;
    request.listed = listed;
    request.apart = apart;
    answer->asked_count = count;
    answer->apart = apart;
    for (int i = 0; i < count; i++) {
        sw_solution found;
        request.listed_count = (size_t)i;
        sw_status status =
            sw_solve(&found, program, &request, inquiry->allowance, inquiry->complaints);
        if (status != SW_OK)
            return status;
        bool early = found.end == SW_END_EARLY;
        if (i == 0) {
            answer->bound = found.bound;
            answer->status = early ? SW_STOPPED_EARLY : SW_OPTIMAL;
        }
        answer->unsettled = answer->unsettled || early;
        /* Another than the best counts only when it is proved to come next. */
        if (!found.found || (early && i > 0))
            break;
        listed[i] = found.picks;
        status = list_one(answer, inquiry, found.picks);
        if (status == SW_OK && inquiry->verify)
            status = sw_verify_bundle(answer, inquiry, &request, found.picks);
        if (status != SW_OK)
            return status;
        if (early)
            break;
        request.start = NULL;
    }
    *best = listed[0];
    return SW_OK;
}

sw_status sw_ask_other(sw_answer_other *out, const int **picks, sw_answer *answer,
                       const sw_inquiry *inquiry, const sw_request *request) {
    sw_solution found;
    *out = (sw_answer_other){0};
    *picks = NULL;
    sw_status status =
        sw_solve(&found, inquiry->program, request, inquiry->allowance, inquiry->complaints);
    if (status != SW_OK)
        return status;
    out->open = found.end == SW_END_EARLY;
    answer->unsettled = answer->unsettled || out->open;
    if (!found.found || out->open)
        return SW_OK;
    out->bundle = SW_NEW(answer->arena, sw_answer_bundle, 1);
    if (out->bundle == NULL)
        return SW_NO_MEMORY;
    *picks = found.picks;
    return sw_bundle_describe(out->bundle, answer, inquiry->program, found.picks,
                              inquiry->baseline);
}
