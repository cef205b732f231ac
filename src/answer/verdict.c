/*
 * What money is worth spending: the last and the next step of the curve, the
 * best rate any step brings, what is worth its money at the client's own
 * threshold, and whether the machine is at its end.
 */
#include "answer/stage.h"

#define SW_MUCH 100000 /* minor units: beyond, all the money there is */

/* The step at `limit`: the best that so much money buys. */
static sw_status ask_step(sw_answer_other *out, const int **picks, sw_answer *answer,
                          const sw_inquiry *inquiry, int64_t limit) {
    sw_request request = sw_request_for(inquiry->program, SW_AIM_BEST);
    request.limit = limit;
    request.start = inquiry->baseline;
    return sw_ask_other(out, picks, answer, inquiry, &request);
}

static sw_status tally_of(sw_tally *out, const sw_inquiry *inquiry, const int *picks) {
    int broken = SW_NONE;
    return sw_program_check(out, &broken, inquiry->program, picks);
}

/* The step after the best bundle: a bundle with more points is looked for with a little
 * more money, then more and more; from it the curve is walked down. */
static sw_status find_next(sw_answer *answer, const sw_inquiry *inquiry, const sw_tally *top) {
    const int *picks;
    sw_status status = SW_OK;
    for (int64_t more = top->cost / 100 + 1, limit = 0; limit != SW_NO_LIMIT; more *= 4) {
        sw_tally tally = *top;
        limit = more > 2 * top->cost + SW_MUCH ? SW_NO_LIMIT : top->cost + more;
        sw_answer_other step;
        status = ask_step(&step, &picks, answer, inquiry, limit);
        for (; status == SW_OK && picks != NULL;) {
            status = tally_of(&tally, inquiry, picks);
            if (status != SW_OK || tally.points <= top->points)
                break;
            answer->next = step;
            limit = SW_NO_LIMIT;
            if (tally.cost <= top->cost + 1)
                break;
            status = ask_step(&step, &picks, answer, inquiry, tally.cost - 1);
        }
        if (status != SW_OK || picks == NULL) {
            answer->next = (sw_answer_other){NULL, true};
            return status;
        }
    }
    return status;
}

/* The step with the most points per money above the first: each question asks for
 * a bundle that beats the best rate so far, until none does. */
static sw_status find_best_rate(sw_answer *answer, const sw_inquiry *inquiry, sw_tally best,
                                sw_tally first) {
    answer->best_rate = (sw_answer_other){&answer->bundles[0], false};
    for (;;) {
        const int *picks;
        sw_answer_other better;
        sw_tally tally;
        sw_request request = sw_request_for(inquiry->program, SW_AIM_WORTHWHILE);
        request.point_worth =
            sw_total(inquiry->program, &best) - sw_total(inquiry->program, &first);
        request.cost_worth = best.points - first.points;
        sw_status status = sw_ask_other(&better, &picks, answer, inquiry, &request);
        answer->best_rate.open = better.open;
        if (status != SW_OK || picks == NULL)
            return status;
        status = tally_of(&tally, inquiry, picks);
        int64_t left = 0, right = 0;
        bool fits =
            sw_multiply(&left, tally.points - first.points, request.point_worth) &&
            sw_multiply(&right,
                        sw_total(inquiry->program, &tally) - sw_total(inquiry->program, &first),
                        request.cost_worth);
        if (status != SW_OK || !fits || left <= right || tally.cost <= first.cost)
            return status;
        answer->best_rate.bundle = better.bundle;
        best = tally;
    }
}

static sw_status find_worthwhile(sw_answer *answer, const sw_inquiry *inquiry, int64_t first_cost) {
    const int *picks;
    sw_tally tally;
    sw_request request = sw_request_for(inquiry->program, SW_AIM_WORTHWHILE);
    request.point_worth = sw_hundred(answer);
    request.cost_worth = answer->worth_at_least_milli;
    sw_status status = sw_ask_other(&answer->worthwhile, &picks, answer, inquiry, &request);
    if (status != SW_OK || picks == NULL)
        return status;
    status = tally_of(&tally, inquiry, picks);
    if (tally.cost <= first_cost)
        answer->advice = SW_ADVICE_KEEP;
    else
        answer->advice = answer->worthwhile.bundle->points < answer->bundles[0].points
                             ? SW_ADVICE_LESS
                             : SW_ADVICE_SPEND;
    return status;
}

static void judge_end(sw_answer *answer, const sw_program *program, const int *best) {
    const sw_fitouts *fitouts = program->fitouts;
    const sw_catalog *catalog = fitouts->catalog;
    for (size_t r = 0; catalog->renews != NULL && r < program->group_count; r++) {
        if (!catalog->renews[r] || fitouts->fitouts[fitouts->present[r]].pieces == 0)
            continue;
        answer->renewable++;
        answer->renewed += program->picks[best[r]].swaps > 0 ? 1 : 0;
    }
    answer->at_its_end =
        answer->renewed > 0 && (int64_t)answer->renewed * 1000 >=
                                   (int64_t)answer->renewable * catalog->renewal_share_milli;
}

/* The step of most points per money above the first. */
static const sw_answer_bundle *steepest(const sw_answer_bundle *steps, size_t count) {
    const sw_answer_bundle *first = &steps[0], *best = NULL;
    for (size_t i = 1; i < count; i++) {
        int64_t own, its;
        bool better =
            best == NULL ||
            (sw_multiply(&own, steps[i].points - first->points, best->cost - first->cost) &&
             sw_multiply(&its, best->points - first->points, steps[i].cost - first->cost) &&
             own > its);
        best = better ? (sw_answer_bundle *)&steps[i] : best;
    }
    return best;
}

sw_status sw_read_verdict(sw_answer *answer, const sw_inquiry *inquiry, sw_answer_bundle *steps,
                          size_t count, const int *best) {
    sw_answer_bundle *top = &steps[count - 1], *worth = &steps[0];
    judge_end(answer, inquiry->program, best);
    answer->worth_at_least_milli = inquiry->program->fitouts->scenario->worth_at_least_milli;
    answer->first.bundle = &steps[0];
    if (count > 1) {
        answer->last.bundle = &steps[count - 2];
        answer->best_rate.bundle = (sw_answer_bundle *)steepest(steps, count);
    }
    if (answer->worth_at_least_milli < 0)
        return SW_OK;
    int64_t most = INT64_MIN;
    for (size_t i = 0; i < count; i++) {
        int64_t gain, price, net;
        if (!sw_multiply(&gain, steps[i].points, sw_hundred(answer)) ||
            !sw_multiply(&price, steps[i].cost, answer->worth_at_least_milli) ||
            !sw_add(&net, gain, -price))
            return SW_INTERNAL;
        if (net > most) {
            most = net;
            worth = &steps[i];
        }
    }
    answer->worthwhile.bundle = worth;
    answer->advice = worth == &steps[0]            ? SW_ADVICE_KEEP
                     : worth->points < top->points ? SW_ADVICE_LESS
                                                   : SW_ADVICE_SPEND;
    return SW_OK;
}

sw_status sw_find_verdict(sw_answer *answer, const sw_inquiry *inquiry, const int *best) {
    const int *picks = NULL;
    sw_tally top, base, first;
    judge_end(answer, inquiry->program, best);
    answer->worth_at_least_milli = inquiry->program->fitouts->scenario->worth_at_least_milli;
    sw_status status = tally_of(&top, inquiry, best);
    if (status == SW_OK)
        status = tally_of(&base, inquiry, inquiry->baseline);
    if (status == SW_OK)
        status = ask_step(&answer->first, &picks, answer, inquiry, base.cost);
    if (status != SW_OK || picks == NULL)
        return status;
    status = tally_of(&first, inquiry, picks);
    if (status == SW_OK && answer->worth_at_least_milli >= 0)
        status = find_worthwhile(answer, inquiry, first.cost);
    if (status == SW_OK && top.cost > first.cost)
        status = find_best_rate(answer, inquiry, top, first);
    if (status == SW_OK && top.cost > first.cost)
        status = ask_step(&answer->last, &picks, answer, inquiry, top.cost - 1);
    return status;
}

sw_status sw_find_next(sw_answer *answer, const sw_inquiry *inquiry, const int *best) {
    sw_tally top;
    sw_status status = tally_of(&top, inquiry, best);
    return status == SW_OK ? find_next(answer, inquiry, &top) : status;
}
