/*
 * At which weights of one criterion, the others sharing the rest as they do now, the best
 * bundle holds the part. The points of a bundle are a straight line over the weight, so
 * the best points are a convex curve of pieces of such lines: a bundle that is best at
 * both ends of a stretch is best all along it, and of two different ones the crossing of
 * their lines tells where to ask next.
 */
#include "answer/why.h"

#include <stdlib.h>
#include <string.h>

#define SW_WHOLE 100          /* percent */
#define SW_ROUNDING_POINTS 15 /* thousandths: what rounding every term may add up to */

/* The best bundle at one weight, and the means to score others there. */
typedef struct probe {
    int percent;
    sw_setup setup;
    int *machine; /* fit-outs; they do not depend on weights */
    bool holds, open;
} probe;

typedef struct scale {
    const sw_why_job *job;
    sw_scenario scenario; /* with other weights */
    double *weights;
    size_t criterion;
    bool in[SW_WHOLE + 1];
    bool open;
} scale;

static void set_weights(scale *s, int percent) {
    const sw_scenario *scenario = s->job->scenario;
    double own = scenario->weights[s->criterion], share = (double)percent / SW_WHOLE;
    for (size_t c = 0; c < scenario->catalog->criterion_count; c++)
        s->weights[c] = c == s->criterion ? share : scenario->weights[c] * (1 - share) / (1 - own);
}

static sw_status solve_probe(probe *out, const scale *s) {
    const sw_why_job *job = s->job;
    sw_program *program = out->setup.program;
    sw_solution baseline, best;
    sw_request request = sw_request_for(program, SW_AIM_CHEAPEST);
    sw_status status = sw_solve(&baseline, program, &request, job->allowance, job->complaints);
    out->open = status == SW_OK && baseline.end != SW_END_PROVED;
    if (status != SW_OK || out->open)
        return status;
    status = sw_setup_score(&out->setup, baseline.picks);
    if (status == SW_OK)
        status = sw_program_presolve(program);
    request = sw_request_for(program, SW_AIM_BEST);
    request.start = baseline.picks;
    if (status == SW_OK)
        status = sw_solve(&best, program, &request, job->allowance, job->complaints);
    if (status != SW_OK)
        return status;
    out->open = best.end != SW_END_PROVED;
    for (size_t g = 0; g < program->group_count && !out->open; g++) {
        out->machine[g] = program->picks[best.picks[g]].fitout;
        out->holds = out->holds || (program->groups[g].role == job->role &&
                                    sw_holds(out->setup.fitouts, out->machine[g], job->part));
    }
    return SW_OK;
}

/* Takes the best bundle at one weight; `out` is to be freed whatever the status. */
static sw_status take_probe(probe *out, scale *s, int percent) {
    *out = (probe){.percent = percent};
    out->machine = calloc(s->job->scenario->catalog->role_count + 1, sizeof *out->machine);
    if (out->machine == NULL)
        return SW_NO_MEMORY;
    set_weights(s, percent);
    sw_status status =
        sw_setup_make(&out->setup, &s->scenario, s->job->allow_unknown, NULL, s->job->complaints);
    if (status == SW_OK)
        status = solve_probe(out, s);
    s->open = s->open || out->open;
    return status;
}

static void free_probe(probe *p) {
    sw_setup_free(&p->setup);
    free(p->machine);
}

static bool same_machine(const scale *s, const probe *a, const probe *b) {
    return memcmp(a->machine, b->machine,
                  s->job->scenario->catalog->role_count * sizeof *a->machine) == 0;
}

/* Points of a bundle at a probe's weights. */
static double points_at(const probe *p, const probe *of) {
    return (double)sw_points(p->setup.estimates, of->machine, NULL);
}

/* A bundle's line over the weight, from its points at both ends of the stretch. */
static double on_line(const probe *a, const probe *b, const probe *of, double percent) {
    double at_a = points_at(a, of), at_b = points_at(b, of);
    return at_a + (at_b - at_a) * (percent - a->percent) / (b->percent - a->percent);
}

static void mark(scale *s, int from, int to, bool holds) {
    for (int t = from; t <= to; t++)
        s->in[t] = holds;
}

/* Where the lines of the bundles that are best at either end cross. */
static double crossing(const probe *a, const probe *b) {
    double gain_a = points_at(a, a) - points_at(a, b), gain_b = points_at(b, b) - points_at(b, a);
    double sum = gain_a + gain_b;
    double share = sum > 0 ? gain_a / sum : 0.5;
    return a->percent + share * (b->percent - a->percent);
}

/* Settles what lies between two probes. The depth is below 100: each stretch is shorter. */
static sw_status between(scale *s, const probe *a, const probe *b) {
    if (b->percent - a->percent <= 1)
        return SW_OK;
    if (same_machine(s, a, b)) {
        mark(s, a->percent + 1, b->percent - 1, a->holds);
        return SW_OK;
    }
    double cross = crossing(a, b);
    int middle = (int)cross;
    middle = middle <= a->percent ? a->percent + 1 : middle >= b->percent ? b->percent - 1 : middle;
    probe m;
    sw_status status = take_probe(&m, s, middle);
    if (status == SW_OK && !s->open) {
        double line_a = on_line(a, b, a, middle), line_b = on_line(a, b, b, middle);
        double top = line_a > line_b ? line_a : line_b;
        s->in[middle] = m.holds;
        if (points_at(&m, &m) <= top + SW_ROUNDING_POINTS) {
            for (int t = a->percent + 1; t < b->percent; t++)
                if (t != middle)
                    s->in[t] = t <= cross ? a->holds : b->holds;
        } else {
            status = between(s, a, &m);
            if (status == SW_OK && !s->open)
                status = between(s, &m, b);
        }
    }
    free_probe(&m);
    return status;
}

static sw_status find_ranges(scale *s) {
    probe a, b = {0};
    sw_status status = take_probe(&a, s, 0);
    if (status == SW_OK && !s->open)
        status = take_probe(&b, s, SW_WHOLE);
    if (status == SW_OK && !s->open) {
        s->in[0] = a.holds;
        s->in[SW_WHOLE] = b.holds;
        status = between(s, &a, &b);
    }
    free_probe(&a);
    free_probe(&b);
    return status;
}

static sw_status tell(sw_why_weight *out, sw_arena *arena, const scale *s) {
    const sw_criterion *criterion = &s->job->scenario->catalog->criteria[s->criterion];
    out->criterion = sw_arena_copy(arena, criterion->id);
    out->name = sw_arena_copy(arena, criterion->name);
    out->ranges = SW_NEW(arena, sw_range, SW_WHOLE / 2 + 1);
    out->settled = !s->open;
    if (out->criterion == NULL || out->name == NULL || out->ranges == NULL)
        return SW_NO_MEMORY;
    sw_round(&out->now_milli, s->job->scenario->weights[s->criterion] * SW_WHOLE * 1000);
    for (int t = 0; t <= SW_WHOLE && !s->open; t++) {
        if (!s->in[t])
            continue;
        if (t == 0 || !s->in[t - 1])
            out->ranges[out->range_count++].from = t;
        out->ranges[out->range_count - 1].to = t;
    }
    return SW_OK;
}

static sw_status find_one(sw_why *why, const sw_why_job *job, size_t criterion) {
    size_t count = job->scenario->catalog->criterion_count;
    scale s = {.job = job, .scenario = *job->scenario, .criterion = criterion};
    s.weights = SW_NEW(why->arena, double, count);
    if (s.weights == NULL)
        return SW_NO_MEMORY;
    s.scenario.weights = s.weights;
    sw_status status = why->kept_out ? SW_OK : find_ranges(&s);
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
