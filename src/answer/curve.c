/* The curve, step by step from the dear end: the best points, the least they
 * cost, then the same again with one minor unit less. */
#include "answer/stage.h"

#include <stdlib.h>
#include "program/frontier.h"

static void turn_round(sw_answer *answer) {
    size_t count = answer->bundle_count;
    for (size_t i = 0; i < count / 2; i++) {
        sw_answer_bundle swap = answer->bundles[i];
        answer->bundles[i] = answer->bundles[count - 1 - i];
        answer->bundles[count - 1 - i] = swap;
    }
    for (size_t i = 0; i < count; i++)
        answer->bundles[i].rank = (int)i + 1;
}

/* Room for one more bundle in the arena: the array doubles. */
static bool room_for_step(sw_answer *answer, size_t *room) {
    if (answer->bundle_count < *room)
        return true;
    size_t more = *room == 0 ? 32 : *room * 2;
    sw_answer_bundle *bigger = SW_NEW(answer->arena, sw_answer_bundle, more);
    if (bigger == NULL)
        return false;
    for (size_t i = 0; i < answer->bundle_count; i++)
        bigger[i] = answer->bundles[i];
    answer->bundles = bigger;
    *room = more;
    return true;
}

sw_status sw_find_steps(sw_answer *answer, const sw_inquiry *inquiry, int64_t from, int64_t to) {
    sw_program *program = inquiry->program;
    const sw_scenario *scenario = program->fitouts->scenario;
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    request.limit = to < 0 ? SW_NO_LIMIT : sw_bill_limit(scenario, to);
    request.start = inquiry->baseline;
    answer->curve_from = from;
    answer->curve_to = to;
    size_t room = 0;
    answer->status = SW_OPTIMAL;
    if (getenv("SWEEP")) {
        sw_frontier f = {.from = sw_bill_limit(scenario, from), .to = request.limit, .points_least = INT64_MIN};
        bool proved = false;
        sw_status status = sw_solve_curve(&f, &proved, program, &request, inquiry->allowance);
        for (size_t i = f.count; i-- > 0 && status == SW_OK;) {
            if (!room_for_step(answer, &room))
                return SW_NO_MEMORY;
            status = sw_bundle_describe(&answer->bundles[answer->bundle_count++], answer, program,
                                        f.treads[i].picks, inquiry->baseline);
        }
        turn_round(answer);
        sw_frontier_free(&f);
        return status;
    }
    while (request.limit >= 0) {
        sw_solution found;
        sw_status status =
            sw_solve(&found, program, &request, inquiry->allowance, inquiry->complaints);
        if (status != SW_OK)
            return status;
        if (found.end == SW_END_EARLY) {
            answer->status = SW_STOPPED_EARLY;
            answer->bound = found.bound;
            break;
        }
        if (!found.found)
            break;
        if (!room_for_step(answer, &room))
            return SW_NO_MEMORY;
        sw_answer_bundle *step = &answer->bundles[answer->bundle_count++];
        status = sw_bundle_describe(step, answer, program, found.picks, inquiry->baseline);
        if (status != SW_OK)
            return status;
        if (step->cost <= from)
            break;
        request.limit = found.tally.cost - 1;
    }
    if (answer->bundle_count == 0 && answer->status == SW_OPTIMAL)
        answer->status = SW_NOTHING_FITS;
    turn_round(answer);
    return sw_find_envelope(answer);
}
