/*
 * The sweep's way: lanes first, then rounds. The first rounds keep the most promising labels
 * only and find good bundles, so that the last one, which leaves nothing out, has little to
 * look at. In each round the levels of noise are split while mixtures of quiet and loud
 * machines blur the bounds.
 */
#include "program/sweep.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Labels kept of each batch; 0: all. */
static const size_t widths[] = {256, 2048, 0};
#define SW_ROUNDS (sizeof widths / sizeof *widths)
/* Levels are split while their points differ by more than this share of the widest room. */
#define SW_LEVEL_SHARE 0.3
#define SW_LEVEL_ROUNDS 15

/* What a round left open, stretch by stretch. */
typedef struct round_end {
    int stretches;
    int64_t low[SW_STRETCHES], high[SW_STRETCHES];
    double left[SW_STRETCHES];
} round_end;

/* ---- one round ---------------------------------------------------------------------------- */

typedef struct visit {
    sw_sweep *s;
    size_t width;
    bool complete;
} visit;

static bool bound_lanes(sw_sweep *s, sw_node *node, double *price, double *bound, int rounds) {
    size_t prices = (size_t)sw_price_count(s->m);
    for (int j = 0; j < s->lanes.count; j++)
        bound[j] = sw_lane_bound(s, node, j, price + (size_t)j * prices, rounds);
    return sw_sweep_room(s, bound) >= 0;
}

/* The node was not looked at: all its room stays open. */
static void leave_node(visit *v, const double *bound) {
    sw_sweep *s = v->s;
    double gap[SW_STRETCHES * SW_LANES];
    sw_sweep_gaps(s, bound, gap);
    for (int i = 0; i < s->lanes.stretches; i++) {
        double least = INFINITY;
        for (int j = 0; j < s->lanes.count; j++)
            least = fmin(least, gap[i * s->lanes.count + j]);
        s->left[i] = fmax(s->left[i], least);
    }
    v->complete = false;
}

static double level_span(const sw_sweep *s, const sw_node *node) {
    double none[2] = {0, 0}, most = 0;
    sw_node any = *node;
    any.price = none;
    for (int j = 0; j < s->lanes.count; j++)
        most = fmax(most, s->lanes.unit[j] * s->lanes.quiet[j]);
    return most * sw_node_level_span(s->m, &any);
}

static void visit_levels(visit *v, sw_node *node, const double *price, const double *bound,
                         double share);

static void visit_half(visit *v, const sw_node *node, const double *price, int low, int high,
                       double share) {
    sw_sweep *s = v->s;
    size_t words = (size_t)s->m->words, count = (size_t)s->lanes.count;
    count *= (size_t)sw_price_count(s->m);
    sw_node half = *node;
    double bound[SW_LANES], *own = malloc((count + 1) * sizeof *own);
    half.alive = malloc((words + 1) * sizeof *half.alive);
    half.low = low;
    half.high = high;
    if (own == NULL || half.alive == NULL)
        s->status = SW_NO_MEMORY;
    else {
        memcpy(half.alive, node->alive, words * sizeof *half.alive);
        memcpy(own, price, count * sizeof *own);
        if (sw_node_prune(s->m, &half, &s->x, &s->status) && s->status == SW_OK &&
            bound_lanes(s, &half, own, bound, SW_LEVEL_ROUNDS))
            visit_levels(v, &half, own, bound, share);
        else
            s->share += share;
    }
    free(half.alive);
    free(own);
}

static void visit_levels(visit *v, sw_node *node, const double *price, const double *bound,
                         double share) {
    sw_sweep *s = v->s;
    int low, high;
    if (s->out_of_time) {
        leave_node(v, bound);
        return;
    }
    sw_node_levels(s->m, node, &low, &high);
    if (low >= high || level_span(s, node) < SW_LEVEL_SHARE * sw_sweep_room(s, bound)) {
        s->status = sw_pass_run(s, node, price, bound, v->width, &v->complete);
        s->share += share;
        return;
    }
    int middle = (low + high) / 2;
    visit_half(v, node, price, low, middle, share / 2);
    if (s->status == SW_OK)
        visit_half(v, node, price, middle + 1, high, share / 2);
}

sw_status sw_sweep_visit(sw_sweep *s, sw_node *root, const double *price, const double *bound,
                         size_t width, bool *complete) {
    visit v = {.s = s, .width = width, .complete = true};
    s->share = 0;
    s->proving = width == 0;
    visit_levels(&v, root, price, bound, 1);
    *complete = v.complete && !s->disagreed;
    return s->status;
}

/* ---- the whole ------------------------------------------------------------------------------- */

static sw_status take_known(sw_sweep *s, const int *picks) {
    const sw_request *request = s->m->request;
    sw_tally tally;
    int broken = SW_NONE;
    for (int g = 0; g < s->m->groups; g++)
        if (request->barred != NULL && request->barred[picks[g]])
            return SW_OK;
    sw_status status = sw_program_check(&tally, &broken, s->program, picks);
    return status == SW_OK && broken == SW_NONE ? sw_frontier_add(s->frontier, &tally, picks)
                                                : status;
}

static sw_status take_all_known(sw_sweep *s) {
    const sw_request *request = s->m->request;
    sw_status status = request->start != NULL ? take_known(s, request->start) : SW_OK;
    for (size_t i = 0; i < s->program->known_count && status == SW_OK; i++)
        status = take_known(s, s->program->known[i]);
    return status;
}

/* Money ends where the dearest bundle does. */
static void set_end(sw_sweep *s) {
    int64_t dearest = sw_model_dearest(s->m);
    if (s->frontier->to > dearest)
        s->frontier->to = dearest;
    if (s->frontier->to < s->frontier->from)
        s->frontier->to = s->frontier->from;
    s->m->limit = s->frontier->to;
}

/* What is open at a tread, by every round: the least of what they say. */
static void note_open(sw_sweep *s, const round_end *ends, size_t count) {
    sw_frontier *f = s->frontier;
    for (size_t t = 0; t < f->count; t++) {
        int64_t first = f->treads[t].tally.cost, last = f->to;
        if (t + 1 < f->count)
            last = f->treads[t + 1].tally.cost - 1;
        double open = INFINITY;
        for (size_t r = 0; r < count; r++) {
            double most = 0;
            for (int i = 0; i < ends[r].stretches; i++)
                if (ends[r].low[i] <= last && ends[r].high[i] >= first)
                    most = fmax(most, ends[r].left[i]);
            open = fmin(open, most);
        }
        f->treads[t].open = !isfinite(open) || open > 9e15 ? INT64_MAX : (int64_t)ceil(open);
    }
    /* No more than what a dearer bundle can have. */
    for (size_t t = f->count; t-- > 1;) {
        const sw_tread *dearer = &f->treads[t];
        sw_tread *tread = &f->treads[t - 1];
        if (dearer->open == INT64_MAX)
            continue;
        int64_t most = dearer->tally.points + dearer->open - tread->tally.points;
        tread->open = most < tread->open ? most : tread->open;
    }
}

static void note_round(const sw_sweep *s, round_end *end) {
    end->stretches = s->lanes.stretches;
    memcpy(end->low, s->lanes.low, sizeof end->low);
    memcpy(end->high, s->lanes.high, sizeof end->high);
    memcpy(end->left, s->left, sizeof end->left);
}

static void run_rounds(sw_sweep *s, sw_node *root, double *price) {
    round_end ends[SW_ROUNDS];
    double bound[SW_LANES];
    for (size_t r = 0; r < SW_ROUNDS && !s->proved && !s->out_of_time && s->status == SW_OK; r++) {
        visit v = {.s = s, .width = widths[r], .complete = true};
        memset(s->left, 0, sizeof s->left);
        s->share = 0;
        s->proving = widths[r] == 0;
        if (r < 2)
            sw_lanes_make(s, root, price);
        else
            sw_lanes_cut(s);
        if (s->status == SW_OK && bound_lanes(s, root, price, bound, 0))
            visit_levels(&v, root, price, bound, 1);
        if (s->status != SW_OK)
            return;
        s->proved = v.complete && !s->disagreed;
        note_round(s, &ends[r]);
        note_open(s, ends, r + 1);
    }
}

void sw_sweep_plain(sw_sweep *s) {
    s->aims = 1;
    s->speed[0] = s->quiet[0] = 1;
    s->base[0] = s->program->scored ? s->program->points_base : 0;
    for (int j = 0; j < SW_LANES; j++) {
        s->lanes.model[j] = s->m;
        s->lanes.scratch[j] = &s->x;
        s->lanes.unit[j] = s->lanes.speed[j] = s->lanes.quiet[j] = 1;
    }
}

static sw_status sweep_model(sw_sweep *s) {
    sw_model *m = s->m;
    double *price = SW_NEW(m->arena, double, (size_t)SW_LANES *(size_t)(sw_price_count(m) + 1));
    sw_node root = {.alive = SW_NEW(m->arena, sw_word, (size_t)m->words + 1),
                    .high = s->program->estimates->level_count - 1};
    if (price == NULL || root.alive == NULL || sw_scratch_make(&s->x, m) != SW_OK)
        return SW_NO_MEMORY;
    set_end(s);
    m->point_worth = 1;
    sw_sweep_plain(s);
    memcpy(root.alive, m->root, (size_t)m->words * sizeof *root.alive);
    sw_status status = take_all_known(s);
    if (status != SW_OK)
        return status;
    if (sw_node_prune(m, &root, &s->x, &s->status))
        run_rounds(s, &root, price);
    else
        s->proved = true;
    return s->status;
}

sw_status sw_sweep_run(sw_frontier *frontier, bool *given_up, bool *proved, sw_program *program,
                       const sw_request *request, const bool *out_of_it, sw_allowance allowance) {
    sw_sweep s = {.program = program, .allowance = allowance, .frontier = frontier};
    frontier->program = program;
    *proved = *given_up = false;
    sw_status status = sw_model_make(&s.m, program, request, out_of_it, true);
    if (status != SW_OK)
        return status;
    *given_up = s.m == NULL || s.m->due_count > SW_DUES_MOST;
    if (!*given_up) {
        status = sweep_model(&s);
        *proved = s.proved;
        *given_up = s.disagreed;
    }
    free(s.pool);
    if (s.m != NULL)
        sw_arena_free(s.m->arena);
    return status;
}
