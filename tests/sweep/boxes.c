/* Small parts of a job, a few picks of each role: the sweep against trying every bundle. */
#include "sweep.h"

#include <stdlib.h>
#include <string.h>

#define BUNDLES_MOST 6000

typedef struct box {
    const job *job;
    bool *out_of_it; /* [pick] */
    int *in;         /* [pick] those in it, group by group */
    int first[SW_GROUPS_MOST + 1];
    bundles all; /* those that obey */
} box;

/* Some picks of each group; at first most groups have one, so that the product stays small. */
static void draw_box(box *b) {
    const sw_program *p = b->job->program;
    int size[SW_GROUPS_MOST];
    double product = 1;
    for (size_t g = 0; g < p->group_count; g++)
        size[g] = 1;
    for (int tries = 0; tries < 200; tries++) {
        size_t g = draw(p->group_count);
        int most = p->groups[g].count < 12 ? p->groups[g].count : 12;
        double more = product / size[g] * (size[g] + 1);
        if (size[g] < most && more <= BUNDLES_MOST) {
            product = more;
            size[g]++;
        }
    }
    memset(b->out_of_it, 1, p->pick_count);
    int at = 0;
    for (size_t g = 0; g < p->group_count; g++) {
        const sw_group *group = &p->groups[g];
        b->first[g] = at;
        /* What the cheapest bundle takes is mostly in it, so that something obeys. */
        if (b->job->cheapest != NULL && draw(8) != 0)
            b->out_of_it[b->job->cheapest[g]] = false;
        else
            b->out_of_it[group->first + (int)draw((uint64_t)group->count)] = false;
        for (int k = 1; k < size[g]; k++)
            b->out_of_it[group->first + (int)draw((uint64_t)group->count)] = false;
        for (int i = group->first; i < group->first + group->count; i++)
            if (!b->out_of_it[i])
                b->in[at++] = i;
    }
    b->first[p->group_count] = at;
}

static bool try_all(box *b) {
    size_t groups = b->job->groups;
    int at[SW_GROUPS_MOST] = {0}, picks[SW_GROUPS_MOST];
    b->all = (bundles){.groups = groups};
    for (;;) {
        sw_tally tally;
        for (size_t g = 0; g < groups; g++)
            picks[g] = b->in[b->first[g] + at[g]];
        if (obeys(b->job, &tally, picks) && !bundles_add(&b->all, &tally, picks))
            return false;
        size_t g = 0;
        while (g < groups && ++at[g] == b->first[g + 1] - b->first[g])
            at[g++] = 0;
        if (g == groups)
            return true;
    }
}

/* Sweeps the box; `known`: what is in the frontier already, each with a thousandth too little. */
static void sweep_box(const box *b, const char *name, const bundles *known, int64_t from,
                      int64_t to) {
    const job *j = b->job;
    bundles steps;
    bool given_up = false, proved = false;
    sw_request request = sw_request_for(j->program, SW_AIM_BEST);
    sw_frontier f = {.program = j->program, .from = from, .to = to, .points_least = INT64_MIN};
    request.limit = to;
    if (!staircase(&steps, j, &b->all, from, to))
        abort();
    for (size_t i = 0; known != NULL && i < known->count; i++) {
        sw_tally less = known->tally[i];
        less.points--;
        if (sw_frontier_add(&f, &less, bundle_at(known, i)) != SW_OK)
            abort();
    }
    sw_status status =
        sw_sweep_run(&f, &given_up, &proved, j->program, &request, b->out_of_it, long_enough());
    held("sweep-agrees-with-itself", status == SW_OK && !given_up && proved,
         "%s: status %d, given up %d, proved %d", j->file, (int)status, given_up, proved);
    size_t differ = 0;
    while (differ < f.count && differ < steps.count &&
           f.treads[differ].tally.points == steps.tally[differ].points &&
           f.treads[differ].tally.cost == steps.tally[differ].cost)
        differ++;
    held(name, given_up || same_steps(&f, &steps, j->groups),
         "%s: %zu steps of %zu from %lld to %lld, differ from step %zu on", j->file, f.count,
         steps.count, (long long)from, (long long)to, differ);
    sw_frontier_free(&f);
    bundles_free(&steps);
}

static void one_box(box *b) {
    draw_box(b);
    if (!try_all(b))
        abort();
    bundles steps;
    if (!staircase(&steps, b->job, &b->all, 0, SW_NO_LIMIT))
        abort();
    sweep_box(b, "box-curve", NULL, 0, SW_NO_LIMIT);
    sweep_box(b, "box-nearly-known", &steps, 0, SW_NO_LIMIT);
    if (steps.count > 1) {
        int64_t most = steps.tally[steps.count - 1].cost + 100;
        int64_t a = (int64_t)draw((uint64_t)most), c = (int64_t)draw((uint64_t)most);
        sweep_box(b, "box-piece", NULL, a < c ? a : c, a < c ? c : a);
        /* Right at a step, and right below one. */
        int64_t at = steps.tally[draw(steps.count)].cost - (int64_t)draw(2);
        sweep_box(b, "box-one-budget", NULL, at, at);
    }
    bundles_free(&steps);
    bundles_free(&b->all);
}

void check_boxes(const job *j, long count) {
    box b = {.job = j,
             .out_of_it = malloc(j->program->pick_count + 1),
             .in = malloc((j->program->pick_count + 1) * sizeof *b.in)};
    if (b.out_of_it == NULL || b.in == NULL)
        abort();
    bool any = true; /* a role with nothing to choose from: no bundle at all */
    for (size_t g = 0; g < j->groups; g++)
        any = any && j->program->groups[g].count > 0;
    for (long i = 0; i < count && any; i++)
        one_box(&b);
    free(b.out_of_it);
    free(b.in);
}

/* ---- the whole job ------------------------------------------------------------------------- */

/* Whatever obeys is no better than the curve at its cost. */
void check_samples(const job *j, const sw_frontier *curve, const bundles *samples) {
    for (size_t i = 0; i < samples->count; i++) {
        const sw_tread *at = NULL;
        for (size_t t = 0;
             t < curve->count && curve->treads[t].tally.cost <= samples->tally[i].cost; t++)
            at = &curve->treads[t];
        held("sample-not-better",
             at != NULL && sw_tally_compare(j->program, &at->tally, at->picks, &samples->tally[i],
                                            bundle_at(samples, i), true) <= 0,
             "%s: %lld points for %lld", j->file, (long long)samples->tally[i].points,
             (long long)samples->tally[i].cost);
    }
    for (size_t t = 0; t < curve->count; t++) {
        sw_tally tally;
        held("curve-is-real",
             obeys(j, &tally, curve->treads[t].picks) &&
                 tally.cost == curve->treads[t].tally.cost &&
                 tally.points == curve->treads[t].tally.points,
             "%s: tread %zu", j->file, t);
    }
}
