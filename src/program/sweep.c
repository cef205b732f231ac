/* The sweep: modes of the dues outermost, then passes. See sweep.h. */
#include "program/sweep.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "program/sweep_pass.h"

sw_status sw_pass_run(sw_sweep *s, sw_node *node, const double *price, const double *bound,
                      size_t width, bool *complete) {
    sw_pass *p = NULL;
    double t0 = s->allowance.now ? s->allowance.now() : 0;
    sw_status status = sw_pass_make(&p, s, node, price, bound);
    double t1 = s->allowance.now ? s->allowance.now() : 0;
    long long before = s->labels;
    if (status == SW_OK && p != NULL)
        status = sw_pass_labels(p, width, complete);
    double t2 = s->allowance.now ? s->allowance.now() : 0;
    if (getenv("SWEEP") && p != NULL) {
        fprintf(stderr,
                "  pass width %zu lanes %d made %.3f ran %.3f labels %lld treads %zu:", width,
                p->lanes, t1 - t0, t2 - t1, s->labels - before, s->frontier->count);
        for (int at = 0; at < p->groups; at++) {
            int n = 0;
            for (int k = p->first_word[at]; k < p->first_word[at + 1]; k++)
                for (sw_word r = p->all[k]; r; r &= r - 1)
                    n++;
            fprintf(
                stderr, " %s %d/%d",
                s->program->fitouts->catalog->roles[s->program->groups[p->group_at[at]].role].id, n,
                p->table[at].entries);
        }
        fprintf(stderr, "\n");
    }
    sw_pass_free(p);
    return status;
}

typedef struct visit {
    sw_sweep *s;
    size_t width;
    bool complete;
    long long leaves;
} visit;

static bool bound_lanes(visit *v, sw_node *node, double *price, double *bound, int rounds) {
    sw_sweep *s = v->s;
    size_t prices = (size_t)sw_price_count(s->m);
    for (int j = 0; j < s->lanes.count; j++)
        bound[j] = sw_lane_bound(s, node, j, price + (size_t)j * prices, rounds);
    return sw_sweep_room(s, bound) >= 0;
}

/* Mixtures of quiet and loud machines blur the bounds: the levels are split while that may
 * matter. */
static void visit_levels(visit *v, const sw_node *node, const double *price, double *bound) {
    sw_sweep *s = v->s;
    int low, high;
    sw_node_levels(s->m, node, &low, &high);
    sw_node any = *node;
    double none[2] = {0, 0};
    any.price = none;
    double span = sw_node_level_span(s->m, &any);
    if (low >= high || span < s->level_share * sw_sweep_room(s, bound)) {
        v->leaves++;
        any.price = NULL;
        s->status = sw_pass_run(s, &any, price, bound, v->width, &v->complete);
        return;
    }
    size_t count = (size_t)s->lanes.count * (size_t)sw_price_count(s->m);
    sw_word *alive = malloc((size_t)s->m->words * sizeof *alive + 1);
    double below[SW_LANES], *own = malloc((count + 1) * sizeof *own);
    if (own == NULL || alive == NULL)
        s->status = SW_NO_MEMORY;
    int middle = (low + high) / 2;
    for (int side = 0; side < 2 && s->status == SW_OK; side++) {
        sw_node child = *node;
        child.alive = alive;
        memcpy(alive, node->alive, (size_t)s->m->words * sizeof *alive);
        memcpy(own, price, count * sizeof *own);
        child.low = side == 0 ? low : middle + 1;
        child.high = side == 0 ? middle : high;
        if (sw_node_prune(s->m, &child, &s->x, &s->status) && s->status == SW_OK &&
            bound_lanes(v, &child, own, below, s->level_rounds))
            visit_levels(v, &child, own, below);
    }
    free(alive);
    free(own);
}

static sw_status take_known(sw_sweep *s, const int *picks) {
    sw_tally tally;
    int broken = SW_NONE;
    for (int g = 0; g < s->m->groups; g++)
        if (s->m->request->barred != NULL && s->m->request->barred[picks[g]])
            return SW_OK;
    sw_status status = sw_program_check(&tally, &broken, s->program, picks);
    return status == SW_OK && broken == SW_NONE ? sw_frontier_add(s->frontier, &tally, picks)
                                                : status;
}

sw_status sw_sweep_run(sw_frontier *frontier, bool *given_up, bool *proved, sw_program *program,
                       const sw_request *request, const bool *out_of_it, sw_allowance allowance) {
    static const size_t widths[] = {256, 2048, 0};
    sw_sweep s = {
        .program = program, .allowance = allowance, .frontier = frontier, .room = (size_t)64 << 20};
    s.level_share = getenv("LS") ? atof(getenv("LS")) : 0.3;
    s.level_rounds = getenv("LR") ? atoi(getenv("LR")) : 15;
    double t0 = allowance.now ? allowance.now() : 0;
    *proved = false;
    frontier->program = program;
    sw_status status = sw_model_make(&s.m, program, request, out_of_it, true);
    *given_up = status == SW_OK && (s.m == NULL || s.m->due_count > 64);
    if (status != SW_OK || *given_up)
        return status;
    sw_model *m = s.m;
    m->limit = INT64_MAX / 4;
    int64_t dearest = 0;
    for (size_t d = 0; d < m->due_count; d++)
        dearest += m->dues[d].amount;
    for (int g = 0; g < m->groups; g++) {
        int64_t most = 0;
        SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1])
            most = program->picks[m->pick_of[item]].cost > most
                       ? program->picks[m->pick_of[item]].cost
                       : most;
        dearest += most;
    }
    frontier->to = frontier->to < dearest ? frontier->to : dearest;
    if (frontier->to < frontier->from)
        frontier->to = frontier->from;
    m->limit = frontier->to;
    m->point_worth = 1;
    status = sw_scratch_make(&s.x, m);
    if (status == SW_OK && request->start != NULL)
        status = take_known(&s, request->start);
    for (size_t i = 0; i < program->known_count && status == SW_OK; i++)
        status = take_known(&s, program->known[i]);
    double *price = SW_NEW(m->arena, double, (size_t)SW_LANES *(size_t)(sw_price_count(m) + 1));
    sw_word *alive = SW_NEW(m->arena, sw_word, (size_t)m->words + 1);
    if (status == SW_OK && (price == NULL || alive == NULL))
        status = SW_NO_MEMORY;
    if (status == SW_OK) {
        memcpy(alive, m->root, (size_t)m->words * sizeof *alive);
        sw_node root = {.alive = alive, .high = program->estimates->level_count - 1};
        double t1 = allowance.now ? allowance.now() : 0;
        if (sw_node_prune(m, &root, &s.x, &s.status) && s.status == SW_OK) {
            sw_lanes_make(&s, &root, price);
            double t2 = allowance.now ? allowance.now() : 0;
            if (getenv("SWEEP"))
                fprintf(stderr, "model %.3f lanes %d in %.3f, dues %zu items %d features %d\n",
                        t1 - t0, s.lanes.count, t2 - t1, m->due_count, m->items, m->features);
            for (int r = 0; r < 3 && s.status == SW_OK && !*proved && !s.out_of_time; r++) {
                visit v = {.s = &s, .width = widths[r], .complete = true};
                memset(s.left, 0, sizeof s.left);
                if (r > 0)
                    sw_lanes_make(&s, &root, price);
                double bound[SW_LANES];
                if (bound_lanes(&v, &root, price, bound, 0))
                    visit_levels(&v, &root, price, bound);
                *proved = v.complete && !s.disagreed;
                if (getenv("SWEEP"))
                    fprintf(stderr,
                            "round %zu: lanes %d modes %lld treads %zu complete %d disagreed %d "
                            "labels %lld, %.3f s\n",
                            v.width, s.lanes.count, v.leaves, frontier->count, v.complete,
                            s.disagreed, s.labels, allowance.now ? allowance.now() - t0 : 0);
            }
        } else
            *proved = true;
        status = s.status;
    }
    sw_arena_free(m->arena);
    return status;
}
