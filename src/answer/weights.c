/*
 * At which weights of one criterion, the others sharing the rest as they do now, the best
 * bundle holds the part. The points of one bundle are a straight line over the weight, so
 * the best points of all that hold the part are a convex curve, and so are those of all
 * that do not. At a probe both are known. Between two probes a convex curve lies below
 * its chord and above the lines of the bundles that are best at the probes: where the
 * lines of one side lie above the chord of the other, nothing changes in between.
 */
#include "answer/why.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SW_WHOLE 100 /* percent */
#define SW_SHARES 12 /* of the time that is left, for one bundle */

/* The best bundle of one side at one weight. */
typedef struct side {
    bool found;
    int *machine; /* fit-outs; they do not depend on weights */
    int64_t points;
} side;

typedef struct probe {
    int percent;
    sw_setup setup;
    side with, without;
    bool holds; /* the best of all holds the part */
    bool open;  /* the time ran out */
} probe;

typedef enum state { IS_OUT, IS_IN, IS_OPEN } state;

typedef struct scale {
    const sw_why_job *job;
    sw_scenario scenario; /* with other weights */
    double *weights;
    size_t criterion;
    state at[SW_WHOLE + 1];
    int *known; /* bundles found at other weights: [bundle * roles + role] choices */
    size_t known_count, known_room;
    sw_allowance slice; /* for one bundle: a hard weight must not take the time of all */
} scale;

static void set_weights(scale *s, int percent) {
    const sw_scenario *scenario = s->job->scenario;
    double own = scenario->weights[s->criterion], share = (double)percent / SW_WHOLE;
    for (size_t c = 0; c < scenario->catalog->criterion_count; c++)
        s->weights[c] = c == s->criterion ? share : scenario->weights[c] * (1 - share) / (1 - own);
}

static size_t roles_of(const scale *s) { return s->job->scenario->catalog->role_count; }

/* Choices are the same at all weights, picks need not be. */
static sw_status remember(scale *s, const probe *p, const sw_solution *found) {
    const sw_program *program = p->setup.program;
    for (size_t g = 0; g < program->group_count; g++) {
        if (!SW_GROW(s->known, s->known_room, s->known_count * roles_of(s) + g))
            return SW_NO_MEMORY;
        s->known[s->known_count * roles_of(s) + g] = program->picks[found->picks[g]].choice;
    }
    s->known_count++;
    return SW_OK;
}

/* What was best at other weights is a good start at these. */
static sw_status recall(const scale *s, sw_program *program) {
    sw_status status = SW_OK;
    for (size_t k = 0; k < s->known_count && status == SW_OK; k++) {
        int *picks = SW_NEW(program->arena, int, program->group_count);
        int *machine = SW_NEW(program->arena, int, program->group_count);
        const int *choices = &s->known[k * roles_of(s)];
        bool all = true;
        if (picks == NULL || machine == NULL)
            return SW_NO_MEMORY;
        for (size_t g = 0; g < program->group_count; g++)
            machine[g] = program->fitouts->choices[choices[g]].fitout;
        for (size_t g = 0; g < program->group_count; g++) {
            picks[g] = sw_pick_in(program, choices[g], machine);
            all = all && picks[g] != SW_NONE;
        }
        if (all)
            status = sw_program_know(program, picks);
    }
    return status;
}

static sw_status solve_side(side *out, probe *p, scale *s, bool holding) {
    const sw_why_job *job = s->job;
    sw_program *program = p->setup.program;
    sw_solution best;
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    request.barred = sw_bar_holders(program, job->role, job->part, !holding);
    request.points_alone = true;
    out->machine = SW_NEW(program->arena, int, program->group_count);
    if (request.barred == NULL || out->machine == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_solve(&best, program, &request, s->slice, job->complaints);
    if (status != SW_OK)
        return status;
    p->open = p->open || best.end == SW_END_EARLY;
    out->found = best.found;
    out->points = best.tally.points;
    for (size_t g = 0; g < program->group_count && best.found; g++)
        out->machine[g] = program->picks[best.picks[g]].fitout;
    return best.found ? remember(s, p, &best) : SW_OK;
}

static sw_status solve_probe(probe *p, scale *s) {
    const sw_why_job *job = s->job;
    sw_program *program = p->setup.program;
    sw_solution baseline;
    sw_request request = sw_request_for(program, SW_AIM_CHEAPEST);
    sw_status status = sw_solve(&baseline, program, &request, s->slice, job->complaints);
    p->open = status == SW_OK && baseline.end == SW_END_EARLY;
    if (status != SW_OK || p->open || !baseline.found)
        return status;
    status = sw_setup_score(&p->setup, baseline.picks);
    if (status == SW_OK)
        status = sw_program_presolve(program);
    if (status == SW_OK)
        status = recall(s, program);
    if (status == SW_OK)
        status = solve_side(&p->with, p, s, true);
    if (status == SW_OK && !p->open)
        status = solve_side(&p->without, p, s, false);
    p->holds = p->with.found && (!p->without.found || p->with.points > p->without.points);
    return status;
}

/* Of the time that is left, a share for one more bundle. */
static void take_slice(scale *s) {
    const sw_allowance *all = &s->job->allowance;
    s->slice = *all;
    if (all->now == NULL)
        return;
    double now = all->now();
    if (all->ends > now)
        s->slice.ends = now + (all->ends - now) / SW_SHARES;
}

/* Both sides at one weight; `out` is to be freed whatever the status. */
static sw_status take_probe(probe *out, scale *s, int percent) {
    *out = (probe){.percent = percent};
    set_weights(s, percent);
    take_slice(s);
    sw_status status =
        sw_setup_make(&out->setup, &s->scenario, s->job->allow_unknown, NULL, s->job->complaints);
    if (status == SW_OK)
        status = solve_probe(out, s);
    s->at[percent] = out->open ? IS_OPEN : out->holds ? IS_IN : IS_OUT;
    return status;
}

static double points_at(const probe *p, const side *of) {
    return (double)sw_points(p->setup.estimates, of->machine, NULL);
}

static double along(const probe *a, const probe *b, double at_a, double at_b, double percent) {
    return at_a + (at_b - at_a) * (percent - a->percent) / (b->percent - a->percent);
}

/* The weight at which two lines cross, known by how far the first is ahead at `a` and behind at
 * `b`. */
static double crossing(const probe *a, const probe *b, double ahead, double behind) {
    double sum = ahead + behind;
    return a->percent + (sum > 0 ? ahead / sum : 0.5) * (b->percent - a->percent);
}

/* Both ends hold the part, or neither does: is it so all along? `*doubt` is the weight at
 * which that is least certain. */
static bool same_all_along(const probe *a, const probe *b, double *doubt) {
    const side *ahead_a = a->holds ? &a->with : &a->without;
    const side *ahead_b = b->holds ? &b->with : &b->without;
    const side *behind_a = a->holds ? &a->without : &a->with;
    const side *behind_b = b->holds ? &b->without : &b->with;
    if (!behind_a->found && !behind_b->found)
        return true;
    if (!ahead_a->found || !ahead_b->found || !behind_a->found || !behind_b->found) {
        *doubt = (a->percent + b->percent) / 2.0;
        return false;
    }
    double gain = points_at(a, ahead_a) - points_at(a, ahead_b);
    double loss = points_at(b, ahead_b) - points_at(b, ahead_a);
    *doubt = crossing(a, b, gain, loss);
    double floor_there = along(a, b, points_at(a, ahead_a), points_at(b, ahead_a), *doubt);
    double chord = along(a, b, points_at(a, behind_a), points_at(b, behind_b), *doubt);
    return floor_there >= chord;
}

/* Where to ask next: near the doubt, and far enough from the ends to gain by it. */
static int next_percent(const probe *a, const probe *b, double doubt) {
    int margin = (b->percent - a->percent) / 8 + 1;
    int middle = (int)lround(doubt);
    middle = middle < a->percent + margin ? a->percent + margin : middle;
    return middle > b->percent - margin ? b->percent - margin : middle;
}

static void mark(scale *s, int from, int to, state what) {
    for (int t = from; t <= to; t++)
        s->at[t] = what;
}

/* Settles what lies between two probes. The depth is below 100: each stretch is shorter. */
static sw_status between(scale *s, const probe *a, const probe *b) {
    if (b->percent - a->percent <= 1)
        return SW_OK;
    double doubt;
    if (a->holds == b->holds && same_all_along(a, b, &doubt)) {
        mark(s, a->percent + 1, b->percent - 1, a->holds ? IS_IN : IS_OUT);
        return SW_OK;
    }
    if (a->holds != b->holds && a->with.found && a->without.found && b->with.found &&
        b->without.found) {
        double ahead = fabs(points_at(a, &a->with) - points_at(a, &a->without));
        double behind = fabs(points_at(b, &b->with) - points_at(b, &b->without));
        doubt = crossing(a, b, ahead, behind);
    } else if (a->holds != b->holds) {
        doubt = (a->percent + b->percent) / 2.0;
    }
    probe middle;
    sw_status status = take_probe(&middle, s, next_percent(a, b, doubt));
    if (status == SW_OK && middle.open)
        mark(s, a->percent + 1, b->percent - 1, IS_OPEN);
    else if (status == SW_OK)
        status = between(s, a, &middle);
    if (status == SW_OK && !middle.open)
        status = between(s, &middle, b);
    sw_setup_free(&middle.setup);
    return status;
}

/* The first of some weights from one end that can be settled; those passed over stay open. */
static sw_status take_end(probe *out, scale *s, bool upper) {
    static const int steps[] = {0, 2, 5, 10, 20, 35};
    sw_status status = SW_OK;
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        int percent = upper ? SW_WHOLE - steps[i] : steps[i];
        if (i > 0)
            sw_setup_free(&out->setup);
        status = take_probe(out, s, percent);
        if (status != SW_OK || !out->open)
            break;
        mark(s, upper ? percent : 0, upper ? SW_WHOLE : percent, IS_OPEN);
    }
    return status;
}

static sw_status find_ranges(scale *s) {
    probe a, b = {.open = true};
    mark(s, 0, SW_WHOLE, IS_OPEN);
    sw_status status = take_end(&a, s, false);
    if (status == SW_OK && !a.open)
        status = take_end(&b, s, true);
    if (status == SW_OK && !a.open && !b.open)
        status = between(s, &a, &b);
    sw_setup_free(&a.setup);
    sw_setup_free(&b.setup);
    return status;
}

static size_t list_ranges(sw_range *out, const scale *s, state what) {
    size_t count = 0;
    for (int t = 0; t <= SW_WHOLE; t++) {
        if (s->at[t] != what)
            continue;
        if (t == 0 || s->at[t - 1] != what)
            out[count++].from = t;
        out[count - 1].to = t;
    }
    return count;
}

static sw_status tell(sw_why_weight *out, sw_arena *arena, const scale *s) {
    const sw_criterion *criterion = &s->job->scenario->catalog->criteria[s->criterion];
    out->criterion = sw_arena_copy(arena, criterion->id);
    out->name = sw_arena_copy(arena, criterion->name);
    out->ranges = SW_NEW(arena, sw_range, SW_WHOLE / 2 + 1);
    out->open = SW_NEW(arena, sw_range, SW_WHOLE / 2 + 1);
    if (out->criterion == NULL || out->name == NULL || out->ranges == NULL || out->open == NULL)
        return SW_NO_MEMORY;
    sw_round(&out->now_milli, s->job->scenario->weights[s->criterion] * SW_WHOLE * 1000);
    out->range_count = list_ranges(out->ranges, s, IS_IN);
    out->open_count = list_ranges(out->open, s, IS_OPEN);
    return SW_OK;
}

static sw_status find_one(sw_why *why, const sw_why_job *job, size_t criterion) {
    size_t count = job->scenario->catalog->criterion_count;
    scale s = {.job = job, .scenario = *job->scenario, .criterion = criterion};
    s.weights = SW_NEW(why->arena, double, count);
    if (s.weights == NULL)
        return SW_NO_MEMORY;
    s.scenario.weights = s.weights;
    if (why->kept_out)
        mark(&s, 0, SW_WHOLE, IS_OUT);
    sw_status status = why->kept_out ? SW_OK : find_ranges(&s);
    free(s.known);
    return status == SW_OK ? tell(&why->weights[why->weight_count++], why->arena, &s) : status;
}

sw_status sw_find_weights(sw_why *why, const sw_why_job *job) {
    const double *weights = job->scenario->weights;
    size_t count = job->scenario->catalog->criterion_count, weighed = 0;
    why->weights = SW_NEW(why->arena, sw_why_weight, count);
    if (why->weights == NULL)
        return SW_NO_MEMORY;
    for (size_t c = 0; c < count; c++)
        weighed += weights[c] > 0;
    sw_status status = SW_OK;
    for (size_t c = 0; c < count && weighed > 1 && status == SW_OK; c++)
        if (weights[c] > 0)
            status = find_one(why, job, c);
    return status;
}
