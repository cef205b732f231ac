/* The curve: all steps in one pass, or where that is not for the job, step by step from the
 * dear end: the best points, the least they cost, then the same with one minor unit less. */
#include "answer/stage.h"

#include <stdlib.h>

#include "program/frontier.h"

/* The steps' picks, where they are asked for; in the program's arena. */
typedef struct steps {
    int **picks;
    size_t count, room;
    bool asked;
} steps;

static sw_status keep_picks(steps *s, const sw_program *program, const int *picks) {
    if (!s->asked)
        return SW_OK;
    if (s->count == s->room) {
        size_t more = s->room == 0 ? 32 : s->room * 2;
        int **bigger = SW_NEW(program->arena, int *, more);
        if (bigger == NULL)
            return SW_NO_MEMORY;
        for (size_t i = 0; i < s->count; i++)
            bigger[i] = s->picks[i];
        s->picks = bigger;
        s->room = more;
    }
    int *own = SW_NEW(program->arena, int, program->group_count);
    if (own == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        own[g] = picks[g];
    s->picks[s->count++] = own;
    return SW_OK;
}

static void turn_round(sw_answer *answer, steps *s) {
    size_t count = answer->bundle_count;
    for (size_t i = 0; i < count / 2; i++) {
        sw_answer_bundle swap = answer->bundles[i];
        answer->bundles[i] = answer->bundles[count - 1 - i];
        answer->bundles[count - 1 - i] = swap;
    }
    for (size_t i = 0; i < s->count / 2; i++) {
        int *swap = s->picks[i];
        s->picks[i] = s->picks[s->count - 1 - i];
        s->picks[s->count - 1 - i] = swap;
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

static sw_status step_down(sw_answer *answer, steps *s, const sw_inquiry *inquiry, int64_t from,
                           int64_t limit) {
    sw_program *program = inquiry->program;
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    size_t room = 0;
    request.limit = limit;
    request.start = inquiry->baseline;
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
        if (status == SW_OK)
            status = keep_picks(s, program, found.picks);
        if (status != SW_OK)
            return status;
        if (step->cost <= from)
            break;
        request.limit = found.tally.cost - 1;
    }
    turn_round(answer, s);
    return SW_OK;
}

static sw_status tell_treads(sw_answer *answer, steps *s, const sw_inquiry *inquiry,
                             const sw_frontier *f, bool proved) {
    answer->status = proved ? SW_OPTIMAL : SW_STOPPED_EARLY;
    answer->bundles = SW_NEW(answer->arena, sw_answer_bundle, f->count);
    if (answer->bundles == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < f->count; i++) {
        sw_answer_bundle *step = &answer->bundles[i];
        sw_status status = sw_bundle_describe(step, answer, inquiry->program, f->treads[i].picks,
                                              inquiry->baseline);
        if (status == SW_OK)
            status = keep_picks(s, inquiry->program, f->treads[i].picks);
        if (status != SW_OK)
            return status;
        step->open = proved ? 0 : f->treads[i].open;
        step->rank = (int)i + 1;
        answer->bundle_count++;
        if (!proved)
            answer->bound = step->open == INT64_MAX ? INT64_MAX : step->points + step->open;
    }
    return SW_OK;
}

/* Each step is the best at what it costs up to just below the next. */
static sw_status verify(sw_answer *answer, const sw_inquiry *inquiry, const sw_frontier *f) {
    sw_status status = SW_OK;
    for (size_t i = 0; i < f->count && status == SW_OK; i++) {
        sw_request request = sw_request_for(inquiry->program, SW_AIM_BEST);
        request.limit = i + 1 < f->count ? f->treads[i + 1].tally.cost - 1 : f->to;
        status = sw_verify_bundle(answer, inquiry, &request, f->treads[i].picks);
    }
    return status;
}

/* `*given_up`: nothing is told yet, ask step by step. */
static sw_status tell_at_once(sw_answer *answer, steps *s, const sw_inquiry *inquiry, int64_t from,
                              int64_t limit, bool *given_up) {
    sw_frontier frontier = {.from = from, .to = limit, .points_least = INT64_MIN};
    bool proved = false;
    sw_status status = sw_solve_curve(&frontier, given_up, &proved, inquiry->program,
                                      inquiry->baseline, inquiry->allowance);
    if (status == SW_OK && !*given_up)
        status = tell_treads(answer, s, inquiry, &frontier, proved);
    if (status == SW_OK && !*given_up && inquiry->verify)
        status = verify(answer, inquiry, &frontier);
    sw_frontier_free(&frontier);
    return status;
}

sw_status sw_find_steps(sw_answer *answer, int ***picks, const sw_inquiry *inquiry, int64_t from,
                        int64_t to) {
    const sw_scenario *scenario = inquiry->program->fitouts->scenario;
    int64_t limit = to < 0 ? SW_NO_LIMIT : sw_bill_limit(scenario, to);
    bool given_up = false;
    steps s = {.asked = picks != NULL};
    answer->curve_from = from;
    answer->curve_to = to;
    answer->status = SW_OPTIMAL;
    sw_status status =
        tell_at_once(answer, &s, inquiry, sw_bill_limit(scenario, from), limit, &given_up);
    if (status == SW_OK && given_up)
        status = step_down(answer, &s, inquiry, from, limit);
    if (status == SW_OK && answer->bundle_count == 0 && answer->status == SW_OPTIMAL)
        answer->status = SW_NOTHING_FITS;
    if (picks != NULL)
        *picks = s.picks;
    return status == SW_OK ? sw_find_envelope(answer) : status;
}
