/*
 * Answers a request: by the search, and by the linear solver what the search gives
 * up. What is found is kept: later requests start from it.
 */
#include "program/search.h"
#include "program/sweep.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

sw_request sw_request_for(const sw_program *program, sw_aim aim) {
    return (sw_request){.aim = aim, .limit = program->budget, .points_least = INT64_MIN};
}

int64_t sw_total(const sw_program *program, const sw_tally *tally) {
    return tally->cost + sw_invoice_tax(program->fitouts->scenario, tally->cost);
}

/* Saturated: only compared. */
int64_t sw_request_worth(const sw_program *program, const sw_request *request,
                         const sw_tally *tally) {
    int64_t points, cost, worth;
    if (!sw_multiply(&points, tally->points, request->point_worth) ||
        !sw_multiply(&cost, sw_total(program, tally), request->cost_worth) ||
        !sw_add(&worth, points, -cost))
        return tally->points < 0 ? INT64_MIN : INT64_MAX;
    return worth;
}

int sw_request_compare(const sw_program *program, const sw_request *request, const sw_tally *a,
                       const int *a_picks, const sw_tally *b, const int *b_picks) {
    if (request->aim == SW_AIM_WORTHWHILE) {
        int64_t x = sw_request_worth(program, request, a),
                y = sw_request_worth(program, request, b);
        if (x != y)
            return x > y ? -1 : 1;
    }
    return sw_tally_compare(program, a, a_picks, b, b_picks, request->aim == SW_AIM_BEST);
}

/* Is something barred in the group? Then what is ahead there may be barred itself. */
static bool bars_some(const sw_request *request, const sw_group *group) {
    for (int p = group->first; request->barred != NULL && p < group->first + group->count; p++)
        if (request->barred[p])
            return true;
    return false;
}

/* What the request bars, and what has too many ahead of it to be the answer. */
static bool *out_of_request(const sw_program *program, const sw_request *request) {
    bool *out = calloc(program->pick_count + 1, sizeof *out);
    for (size_t g = 0; out != NULL && g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        bool some = bars_some(request, group);
        for (int p = group->first; p < group->first + group->count; p++) {
            const sw_pick *pick = &program->picks[p];
            int ahead = request->apart > 0 ? pick->ahead_apart : pick->ahead;
            bool behind = ahead > 0 && (size_t)ahead > request->listed_count;
            out[p] = some ? request->barred[p] : behind;
        }
    }
    for (size_t g = 0; out != NULL && request->start != NULL && g < program->group_count; g++)
        out[request->start[g]] = request->barred != NULL && request->barred[request->start[g]];
    return out;
}

sw_status sw_program_know(sw_program *program, int *picks) {
    if (!SW_GROW(program->known, program->known_room, program->known_count))
        return SW_NO_MEMORY;
    program->known[program->known_count++] = picks;
    return SW_OK;
}

/* Nothing is cheaper, nor less to do, than the machine as it is where it obeys and costs nothing.
 */
static sw_status stays(sw_solution *out, bool *untouched, const sw_program *program,
                       const sw_request *request) {
    const sw_fitouts *fitouts = program->fitouts;
    int broken = SW_NONE;
    if (request->aim != SW_AIM_CHEAPEST || request->barred != NULL || request->listed_count > 0 ||
        request->points_least != INT64_MIN)
        return SW_OK;
    int *picks = SW_NEW(program->arena, int, program->group_count);
    if (picks == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++) {
        int fitout = fitouts->present[program->groups[g].role];
        picks[g] = sw_pick_in(program, fitouts->fitouts[fitout].first_choice, fitouts->present);
        if (picks[g] == SW_NONE)
            return SW_OK;
    }
    sw_tally tally;
    sw_status status = sw_program_check(&tally, &broken, program, picks);
    if (status != SW_OK || broken != SW_NONE || tally.cost != 0)
        return status;
    *untouched = true;
    *out = (sw_solution){.end = SW_END_PROVED, .found = true, .picks = picks, .tally = tally};
    return SW_OK;
}

/* The search is quick where its bounds are close; what it has not proved after so many
 * nodes is better left to the linear solver, whose rows see more at once. */
#define SW_NODES_MOST 3000

sw_status sw_solve(sw_solution *out, sw_program *program, const sw_request *request,
                   sw_allowance allowance, sw_complaints *complaints) {
    bool given_up = false, alone = request->aim == SW_AIM_WORTHWHILE;
    bool untouched = false;
    if (stays(out, &untouched, program, request) != SW_OK)
        return SW_NO_MEMORY;
    if (untouched)
        return SW_OK;
    bool *out_of_it = out_of_request(program, request);
    if (out_of_it == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_search(out, &given_up, program, request, out_of_it, allowance,
                                 alone ? LLONG_MAX : SW_NODES_MOST);
    bool enough = request->any && out->found;
    if (status == SW_OK && !alone && given_up && !enough) {
        sw_request again = *request;
        again.points_alone = false;
        if (out->found) {
            again.start = out->picks;
            for (size_t g = 0; g < program->group_count; g++)
                out_of_it[out->picks[g]] = false;
        }
        status = sw_solve_linear(out, program, &again, out_of_it, allowance, complaints);
    }
    free(out_of_it);
    return status == SW_OK && out->found ? sw_program_know(program, out->picks) : status;
}

sw_status sw_prove_again(bool *same, sw_program *program, const sw_request *request,
                         const int *picks, sw_allowance allowance, sw_complaints *complaints) {
    sw_tally tally;
    sw_solution found;
    sw_request again = *request;
    int broken = SW_NONE;
    bool *out_of_it = out_of_request(program, request);
    if (out_of_it == NULL)
        return SW_NO_MEMORY;
    /* Nothing is taken for granted: the solver starts without the bundle. */
    again.start = NULL;
    sw_status status = sw_program_check(&tally, &broken, program, picks);
    if (status == SW_OK)
        status = sw_solve_linear(&found, program, &again, out_of_it, allowance, complaints);
    if (status == SW_OK)
        *same = found.end == SW_END_PROVED && broken == SW_NONE &&
                sw_request_compare(program, &again, &found.tally, found.picks, &tally, picks) == 0;
    free(out_of_it);
    return status;
}

sw_status sw_solve_curve(sw_frontier *out, bool *given_up, bool *proved, sw_program *program,
                         const int *cheapest, sw_allowance allowance) {
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    request.limit = out->to;
    request.start = cheapest;
    bool *out_of_it = out_of_request(program, &request);
    sw_tally tally;
    int broken;
    if (out_of_it == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_program_check(&tally, &broken, program, cheapest);
    if (status == SW_OK && tally.cost > out->from)
        out->from = tally.cost;
    *proved = status == SW_OK && out->from > out->to;
    if (status == SW_OK && !*proved)
        status = sw_sweep_run(out, given_up, proved, program, &request, out_of_it, allowance);
    free(out_of_it);
    return status;
}
