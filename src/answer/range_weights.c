/*
 * The weights around the present one over which a bundle stays best. The points of one bundle are a
 * straight line over the weight, so those of the best of all others are convex, and where ours is
 * ahead is one range. What wins at an end is cut off where its line crosses ours; and so on.
 */
#include "answer/ranges.h"

#include <math.h>
#include <string.h>

#define SW_WHOLE 100 /* percent */
#define PROBES_MOST 40

typedef struct weighing {
    const sw_staying *job;
    sw_scenario scenario; /* with other weights */
    double *weights;
    size_t criterion;
    const int *own; /* [role] fit-outs, the same at all weights */
    int probes;
    bool open;
} weighing;

static void set_weights(weighing *w, int percent) {
    const sw_scenario *scenario = w->job->scenario;
    double own = scenario->weights[w->criterion], share = (double)percent / SW_WHOLE;
    for (size_t c = 0; c < scenario->catalog->criterion_count; c++)
        w->weights[c] = c == w->criterion ? share : scenario->weights[c] * (1 - share) / (1 - own);
}

/* Is ours the best at the percent? Else `*crossing`: the weight at which what is best there begins
 * to win, in percent. */
static sw_status look(bool *stays, double *crossing, weighing *w, int percent) {
    const sw_staying *job = w->job;
    sw_best there;
    if (++w->probes > PROBES_MOST || sw_time_is_up(&job->allowance)) {
        w->open = true;
        return SW_OK;
    }
    set_weights(w, percent);
    sw_status status = sw_best_find(&there, &w->scenario, job->allow_unknown, job->job,
                                    sw_slice(&job->allowance, 2), job->complaints);
    if (status != SW_OK)
        return status;
    const sw_program *program = there.setup.program;
    w->open = w->open || there.end == SW_END_EARLY;
    *stays = there.best.found;
    for (size_t g = 0; g < program->group_count && there.best.found && *stays; g++)
        *stays = program->picks[there.best.picks[g]].fitout == w->own[g];
    if (!*stays && there.best.found) {
        int *machine = program->scratch_machine;
        for (size_t g = 0; g < program->group_count; g++)
            machine[g] = program->picks[there.best.picks[g]].fitout;
        double behind =
            (double)(there.best.tally.points - sw_points(there.setup.estimates, w->own, NULL));
        double ahead = (double)(job->job->best.tally.points -
                                sw_points(job->job->setup.estimates, machine, NULL));
        double now = job->scenario->weights[w->criterion] * SW_WHOLE, sum = ahead + behind;
        *crossing = now + (percent - now) * (sum > 0 ? ahead / sum : 0);
    }
    sw_best_free(&there);
    return status;
}

/* The last whole percent from `first` towards `far` at which it stays; `first` less a step when
 * even that is none. Probes go where the lines cross, then beside what is known to stay, then
 * halfway. */
static sw_status settle_side(int *out, weighing *w, int first, int far) {
    int step = far >= first ? 1 : -1, in = first - step, end = far + step, at = far;
    bool beside = false;
    while ((end - in) * step > 1 && !w->open) {
        bool stays = false;
        double crossing = 0;
        sw_status status = look(&stays, &crossing, w, at);
        if (status != SW_OK || w->open)
            return status;
        if (stays) {
            in = at;
            at = beside ? in + (end - in) / 2 : in + step;
            beside = !beside;
        } else {
            end = at;
            at = step > 0 ? (int)floor(crossing) : (int)ceil(crossing);
            beside = false;
        }
        if ((at - in) * step <= 0)
            at = in + (end - in) / 2;
        /* Where points are as many, lines cross anywhere. */
        if ((end - at) * step <= 0)
            at = in + (end - in) / 2;
    }
    *out = in;
    return SW_OK;
}

sw_status sw_find_weight_range(sw_range_weight *out, const sw_staying *job, size_t criterion) {
    const sw_program *program = job->job->setup.program;
    weighing w = {.job = job, .scenario = *job->scenario, .criterion = criterion};
    size_t count = job->scenario->catalog->criterion_count;
    w.weights = SW_NEW(program->arena, double, count);
    int *own = SW_NEW(program->arena, int, program->group_count);
    if (w.weights == NULL || own == NULL)
        return SW_NO_MEMORY;
    w.scenario.weights = w.weights;
    w.own = own;
    for (size_t g = 0; g < program->group_count; g++)
        own[g] = program->picks[job->job->best.picks[g]].fitout;
    double now = job->scenario->weights[criterion] * SW_WHOLE;
    int below = (int)floor(now), above = (int)ceil(now);
    sw_status status = settle_side(&out->to, &w, above, SW_WHOLE);
    bool open = w.open;
    w.open = false;
    w.probes = 0;
    if (status == SW_OK)
        status = settle_side(&out->from, &w, below, 0);
    out->settled = !open && !w.open;
    return status;
}
