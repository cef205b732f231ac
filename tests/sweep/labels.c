/*
 * Bounds by lane, labels grown along known bundles, and which label replaces which. The checks
 * need the inner steps of a pass, so its two files are taken in whole: the linker then uses these
 * in place of the library's.
 */
#include "program/sweep_batch.c"
#include "program/sweep_labels.c"

#include "sweep.h"

/* ---- a sweep made ready, as sweep.c does ------------------------------------------------- */

typedef struct inside {
    const job *job;
    sw_sweep s;
    sw_frontier frontier;
    sw_request request;
    bool *none_out; /* [pick] presolve takes no part here */
    sw_node root;
    double *price;
    double bound[SW_LANES];
    int *item_of; /* [pick] or SW_NONE */
} inside;

static bool inside_make(inside *in, const job *j, int64_t to) {
    *in = (inside){.job = j, .request = sw_request_for(j->program, SW_AIM_BEST)};
    in->frontier = (sw_frontier){.program = j->program, .to = to, .points_least = INT64_MIN};
    in->s = (sw_sweep){.program = j->program,
                       .frontier = &in->frontier,
                       .allowance = long_enough(),
                       .proving = true};
    in->request.limit = to;
    in->none_out = calloc(j->program->pick_count + 1, sizeof *in->none_out);
    in->item_of = malloc((j->program->pick_count + 1) * sizeof *in->item_of);
    if (in->none_out == NULL || in->item_of == NULL ||
        sw_model_make(&in->s.m, j->program, &in->request, in->none_out, true) != SW_OK)
        abort();
    sw_model *m = in->s.m;
    if (m == NULL || m->due_count > SW_DUES_MOST)
        return false;
    m->limit = to;
    m->point_worth = 1;
    in->price = SW_NEW(m->arena, double, (size_t)SW_LANES *(size_t)(sw_price_count(m) + 1));
    in->root = (sw_node){.alive = SW_NEW(m->arena, sw_word, (size_t)m->words + 1),
                         .high = j->program->estimates->level_count - 1};
    if (in->price == NULL || in->root.alive == NULL || sw_scratch_make(&in->s.x, m) != SW_OK)
        abort();
    sw_sweep_plain(&in->s);
    memcpy(in->root.alive, m->root, (size_t)m->words * sizeof *in->root.alive);
    for (size_t i = 0; i < j->program->pick_count; i++)
        in->item_of[i] = SW_NONE;
    for (int i = 0; i < m->items; i++)
        if (m->pick_of[i] != SW_NONE)
            in->item_of[m->pick_of[i]] = i;
    return true;
}

static void inside_free(inside *in) {
    sw_frontier_free(&in->frontier);
    free(in->s.pool);
    free(in->none_out);
    free(in->item_of);
    if (in->s.m != NULL)
        sw_arena_free(in->s.m->arena);
}

static void know(inside *in, const sw_tread *tread, int64_t less) {
    sw_tally tally = tread->tally;
    tally.points -= less;
    if (sw_frontier_add(&in->frontier, &tally, tread->picks) != SW_OK)
        abort();
}

/* ---- what a bundle is to the node ---------------------------------------------------------- */

static bool stands_in(const inside *in, const sw_node *node, const int *picks) {
    const sw_model *m = in->s.m;
    const sw_estimates *e = in->job->program->estimates;
    int64_t noise = 0;
    for (int g = 0; g < m->groups; g++) {
        int item = in->item_of[picks[g]];
        if (item == SW_NONE || !sw_is_alive(node->alive, item))
            return false;
        noise += in->job->program->picks[picks[g]].noise;
    }
    if (m->first_row <= m->noise)
        return true;
    int level = 0;
    while (level < e->level_count - 1 && e->level_power[level] < noise)
        level++;
    return level >= node->low && level <= node->high;
}

/* Is all of the bundle in the job as the search sees it, and does pruning keep it there? */
static void check_root(const inside *in, const bundles *samples) {
    for (size_t i = 0; i < samples->count; i++)
        held("prune-keeps", stands_in(in, &in->root, bundle_at(samples, i)),
             "%s: a bundle that obeys was pruned", in->job->file);
}

static void check_bounds(const inside *in, const sw_node *node, const double *bound,
                         const bundles *samples) {
    for (size_t i = 0; i < samples->count; i++) {
        const sw_tally *t = &samples->tally[i];
        if (!stands_in(in, node, bundle_at(samples, i)))
            continue;
        for (int j = 0; j < in->s.lanes.count; j++) {
            double worth = (double)t->points - in->s.lanes.money[j] * (double)t->cost;
            held("bound", worth <= bound[j] + 1e-6, "%s: lane %d: %.6f above the bound %.6f",
                 in->job->file, j, worth, bound[j]);
        }
    }
}

/* ---- walks -------------------------------------------------------------------------------- */

/* The pass's items of a bundle, position by position; false when some were ruled out. */
static bool items_in(const sw_pass *p, const inside *in, const int *picks, int *items) {
    for (int at = 0; at < p->groups; at++) {
        items[at] = SW_NONE;
        for (int i = p->first_word[at] * 64; i < p->first_word[at + 1] * 64; i++)
            if (p->model_item[i] != SW_NONE &&
                p->model_item[i] == in->item_of[picks[p->group_at[at]]])
                items[at] = i;
        if (items[at] == SW_NONE)
            return false;
    }
    return true;
}

static void start_walk(sw_growth *w) {
    start(w, sw_label_at(&w->batch[0], 0));
    w->batch[0].count = 1;
}

/* One step as `expand` does it, from the label at `from` to that at `to` of the next batch. */
static bool step(sw_growth *w, int at, int item, int from, int to) {
    sw_label *parent = sw_label_at(&w->batch[at], from);
    sw_label *child = sw_label_at(&w->batch[at + 1], to);
    w->at = at;
    if (!sw_label_has_room(w, parent, sw_label_losses(parent, &w->layout[at])))
        return false;
    look_up(w, parent);
    uint64_t open = sw_label_open_to(w, parent, parent->open, 1, item / SW_MANY);
    if (open == 0 || (open = sw_label_open_to(w, parent, open, 0, item / SW_FEW)) == 0)
        return false;
    const sw_word *face = sw_label_face(parent, &w->layout[at]);
    if ((face[item / 64 - w->p->first_word[at]] >> (item % 64) & 1) == 0)
        return false;
    child->open = open;
    return sw_label_grow(w, parent, child, item) &&
           (!w->p->rest[at].placing_open || w->p->rest[at + 1].placing_open ||
            sw_label_finds_places(w, child));
}

/* What a label has lost is never more than the bundle loses in the end. */
static void check_losses(sw_growth *w, int at, const sw_tally *t, const char *file) {
    const sw_pass *p = w->p;
    const int32_t *loss = sw_label_losses(sw_label_at(&w->batch[at], 0), &w->layout[at]);
    for (int j = 0; j < p->live; j++) {
        double worth = (double)t->points - p->s->lanes.money[j] * (double)t->cost;
        double most = p->scale * (p->bound[j] - worth);
        held("losses", (double)loss[j] <= most + 1, "%s: lane %d, settled %d: lost %d of %.3f",
             file, j, at, (int)loss[j], most);
    }
}

static int stretch_of(const sw_lanes *lanes, int64_t cost) {
    for (int i = 0; i < lanes->stretches; i++)
        if (lanes->high[i] >= cost)
            return i;
    return SW_NONE;
}

/* Without any limit of room: counts and losses of the label. */
static void walk_freely(sw_growth *w, const int *items, const sw_tally *t, const char *file) {
    const sw_pass *p = w->p;
    start_walk(w);
    check_losses(w, 0, t, file);
    for (int at = 0; at < p->groups; at++) {
        bool grown = step(w, at, items[at], 0, 0);
        held("grows", grown, "%s: ruled out by position %d of %d", file, at, p->groups);
        if (!grown)
            return;
        check_losses(w, at + 1, t, file);
    }
    sw_label *leaf_label = sw_label_at(&w->batch[p->groups], 0);
    int64_t points = *sw_label_points(leaf_label, &w->layout[p->groups]);
    held("label-counts", leaf_label->cost == t->cost && points == t->points,
         "%s: cost %lld for %lld, points %lld for %lld", file, (long long)leaf_label->cost,
         (long long)t->cost, (long long)points, (long long)t->points);
}

/* With the room there is: what the frontier lacks keeps its stretch to the end. */
static void walk_wanted(sw_growth *w, const int *items, const sw_tally *t, const char *file) {
    const sw_pass *p = w->p;
    int stretch = stretch_of(&p->s->lanes, t->cost), at = 0;
    start_walk(w);
    bool open = stretch != SW_NONE;
    for (; at < p->groups && open; at++)
        open = step(w, at, items[at], 0, 0) &&
               (sw_label_at(&w->batch[at + 1], 0)->open >> stretch & 1) != 0;
    held("wanted-keeps-room", open, "%s: %lld points for %lld ruled out at position %d of %d", file,
         (long long)t->points, (long long)t->cost, at, p->groups);
}

/* ---- which label replaces which -------------------------------------------------------------- */

static bool grow_prefix(sw_growth *w, const int *items, int end, int to) {
    for (int at = 0; at < end; at++)
        if (!step(w, at, items[at], at == 0 ? 0 : to, to))
            return false;
    return true;
}

/* With what comes to the second, the first must do better. */
static void check_replaced(const sw_growth *w, const inside *in, const int *first,
                           const int *second) {
    const sw_pass *p = w->p;
    int a[SW_GROUPS_MOST], b[SW_GROUPS_MOST];
    sw_tally x, y;
    for (int at = 0; at < p->groups; at++) {
        a[p->group_at[at]] = in->s.m->pick_of[p->model_item[first[at]]];
        b[p->group_at[at]] = in->s.m->pick_of[p->model_item[second[at]]];
    }
    if (!obeys(in->job, &y, b))
        return;
    bool good = obeys(in->job, &x, a);
    held("replaced-obeys", good, "%s: the bundle that stands for another does not obey",
         in->job->file);
    held("replaced-not-better",
         !good || (x.cost <= y.cost && sw_tally_compare(in->job->program, &x, a, &y, b, true) < 0),
         "%s: %lld points for %lld replaces %lld for %lld", in->job->file, (long long)x.points,
         (long long)x.cost, (long long)y.points, (long long)y.cost);
}

static int draw_item(const sw_pass *p, int at) {
    for (;;) {
        int item = p->first_word[at] * 64 +
                   (int)draw((uint64_t)(p->first_word[at + 1] - p->first_word[at]) * 64);
        if (p->model_item[item] != SW_NONE)
            return item;
    }
}

#define COMPLETIONS 12

/* Two labels of the same bundle but for a few items; if one replaces the other, then whatever
 * is added to both. */
static void try_pair(sw_growth *w, const inside *in, const int *items, const bundles *samples) {
    const sw_pass *p = w->p;
    int end = 1 + (int)draw((uint64_t)p->groups);
    int one[SW_GROUPS_MOST], other[SW_GROUPS_MOST], rest[SW_GROUPS_MOST];
    memcpy(one, items, sizeof one);
    memcpy(other, items, sizeof other);
    for (int k = 1 + (int)draw(3); k > 0; k--) {
        int at = (int)draw((uint64_t)end);
        other[at] = draw_item(p, at);
    }
    if (!grow_prefix(w, one, end, 0) || !grow_prefix(w, other, end, 1))
        return;
    sw_label *a = sw_label_at(&w->batch[end], 0), *b = sw_label_at(&w->batch[end], 1);
    if (!same_face(w, end, a, b))
        return;
    bool swapped = b->cost < a->cost ||
                   (b->cost == a->cost &&
                    *sw_label_points(b, &w->layout[end]) > *sw_label_points(a, &w->layout[end]));
    bool by_first = !swapped && replaces(w, end, a, b);
    bool by_other = (swapped || a->cost == b->cost) && replaces(w, end, b, a);
    held("replaces-one-way", !(by_first && by_other), "%s: each replaces the other", in->job->file);
    if (!by_first && !by_other)
        return;
    for (int c = 0; c < COMPLETIONS; c++) {
        memcpy(rest, items, sizeof rest);
        if (c > 0 && !items_in(p, in, bundle_at(samples, draw(samples->count)), rest))
            continue;
        if (c % 3 == 2 && end < p->groups)
            for (int k = (int)draw(3); k >= 0; k--) {
                int at = end + (int)draw((uint64_t)(p->groups - end));
                rest[at] = draw_item(p, at);
            }
        memcpy(one + end, rest + end, (size_t)(p->groups - end) * sizeof *rest);
        memcpy(other + end, rest + end, (size_t)(p->groups - end) * sizeof *rest);
        check_replaced(w, in, by_first ? one : other, by_first ? other : one);
    }
}

/* ---- a pass --------------------------------------------------------------------------------- */

static void make_roomy(sw_pass *p) {
    for (int i = 0; i < p->stretches * p->lanes; i++)
        p->gap[i] = 1 << 30;
}

static void walk_all(inside *in, sw_pass *p, const bundles *samples, int pairs) {
    const char *file = in->job->file;
    sw_growth w = {.p = p, .width = 0, .age = in->frontier.age};
    int items[SW_GROUPS_MOST];
    lay_out(&w);
    if (make_batches(&w) != SW_OK)
        abort();
    for (size_t i = 0; i < samples->count; i++) {
        const sw_tally *t = &samples->tally[i];
        if (!stands_in(in, p->node, bundle_at(samples, i)))
            continue;
        bool wanted = sw_frontier_wants(&in->frontier, t->cost, t->points);
        bool all_in = items_in(p, in, bundle_at(samples, i), items);
        if (wanted) {
            held("wanted-keeps-items", all_in, "%s: %lld points for %lld lost an item", file,
                 (long long)t->points, (long long)t->cost);
            sw_pass_gaps(p);
            if (all_in)
                walk_wanted(&w, items, t, file);
        }
        make_roomy(p);
        if (all_in)
            walk_freely(&w, items, t, file);
        for (int k = 0; k < pairs && all_in; k++) {
            start_walk(&w);
            try_pair(&w, in, items, samples);
        }
    }
}

/* The node with the bounds that its prices come to after so many rounds more. */
static void check_node(inside *in, sw_node *node, const bundles *samples, int rounds, int pairs) {
    size_t prices = (size_t)sw_price_count(in->s.m), count = SW_LANES * (prices + 1);
    double *own = malloc(count * sizeof *own), bound[SW_LANES];
    sw_pass *p = NULL;
    if (own == NULL)
        abort();
    memcpy(own, in->price, count * sizeof *own);
    for (int j = 0; j < in->s.lanes.count; j++)
        bound[j] = sw_lane_bound(&in->s, node, j, own + (size_t)j * prices, rounds);
    check_bounds(in, node, bound, samples);
    if (sw_pass_make(&p, &in->s, node, own, bound) != SW_OK)
        abort();
    if (p != NULL) {
        walk_all(in, p, samples, pairs);
    } else
        for (size_t i = 0; i < samples->count; i++)
            held("wanted-keeps-items",
                 !stands_in(in, node, bundle_at(samples, i)) ||
                     !sw_frontier_wants(&in->frontier, samples->tally[i].cost,
                                        samples->tally[i].points),
                 "%s: no pass at all, though one was wanted", in->job->file);
    sw_pass_free(p);
    free(own);
}

static void check_levels(inside *in, const bundles *samples) {
    int low, high;
    sw_node_levels(in->s.m, &in->root, &low, &high);
    if (low >= high)
        return;
    int middle = low + (int)draw((uint64_t)(high - low));
    for (int part = 0; part < 2; part++) {
        sw_node node = in->root;
        node.low = part == 0 ? low : middle + 1;
        node.high = part == 0 ? middle : high;
        node.alive = malloc(((size_t)in->s.m->words + 1) * sizeof *node.alive);
        if (node.alive == NULL)
            abort();
        memcpy(node.alive, in->root.alive, (size_t)in->s.m->words * sizeof *node.alive);
        bool any = sw_node_prune(in->s.m, &node, &in->s.x, &in->s.status);
        sw_node before = in->root;
        before.low = node.low;
        before.high = node.high;
        for (size_t i = 0; i < samples->count; i++)
            held("prune-keeps",
                 !stands_in(in, &before, bundle_at(samples, i)) ||
                     (any && stands_in(in, &node, bundle_at(samples, i))),
                 "%s: levels %d to %d pruned a bundle that obeys", in->job->file, node.low,
                 node.high);
        if (any)
            check_node(in, &node, samples, 15, 0);
        free(node.alive);
    }
}

typedef enum knowledge { CHEAPEST, SOME, NEARLY_ALL, KNOWLEDGES } knowledge;

/* From the cheapest bundle only to all of the curve but a thousandth. */
static void check_knowing(const job *j, const sw_frontier *curve, const bundles *samples,
                          knowledge what) {
    inside in;
    int64_t to = curve->to; /* of what presolve left; samples may be dearer */
    for (size_t i = 0; i < samples->count; i++)
        to = samples->tally[i].cost > to ? samples->tally[i].cost : to;
    if (!inside_make(&in, j, to)) {
        inside_free(&in);
        return;
    }
    in.frontier.from = curve->treads[0].tally.cost;
    know(&in, &curve->treads[0], what == NEARLY_ALL);
    for (size_t t = 1; t < curve->count && what != CHEAPEST; t++)
        if (what == NEARLY_ALL || draw(3) == 0)
            know(&in, &curve->treads[t], what == NEARLY_ALL ? 1 : (int64_t)draw(50));
    bool any = sw_node_prune(in.s.m, &in.root, &in.s.x, &in.s.status);
    held("prune-keeps", any, "%s: nothing is left of the job", j->file);
    if (any) {
        check_root(&in, samples);
        sw_lanes_make(&in.s, &in.root, in.price);
        check_node(&in, &in.root, samples, 0, what == NEARLY_ALL ? 0 : 20);
        check_levels(&in, samples);
    }
    inside_free(&in);
}

void check_labels(const job *j, const sw_frontier *curve, const bundles *samples) {
    for (knowledge what = CHEAPEST; what < KNOWLEDGES; what++)
        if (curve->count > 0)
            check_knowing(j, curve, samples, what);
}
