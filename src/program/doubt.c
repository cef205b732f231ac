/* All bundles that no other one dominates: branch and bound, seen from many weightings at once. See
 * doubt_search.h. */
#include "program/doubt_search.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SW_NODES_A_LOOK 64
/* Without a clock the time is counted in nodes. */
#define SW_NODES_PER_SECOND 500
#define SW_SEED_NODES 800 /* of all views together */
/* Where so many bundles are known there is little left to find: what follows is nearly all proof.
 */
#define SW_KNOWN_MANY 5
#define SW_KNOWN_SEED_NODES 40
#define SW_KNOWN_FIRST_NODES 100
#define SW_NODE_ROUNDS 30
/* So few bundles are tried one by one. */
#define SW_FEW_BUNDLES 2000
/* Levels are split while they blur the bound by this share of what is open. */
#define SW_LEVEL_SHARE 0.05
/* Looked at anew once so many of its items were taken away. */
#define SW_AGAIN_PART 8

typedef struct node {
    sw_word *alive;
    double *price; /* [view * prices + price] */
    double *bound; /* [view] */
    int low, high; /* levels of noise */
} node;

static const sw_model *any_model(const sw_doubt *d) { return d->views.view[0].m; }

bool sw_doubt_time_is_up(sw_doubt *d) {
    if (d->allowance.tell != NULL && d->nodes % SW_NODES_A_LOOK == 0)
        d->allowance.tell(d->allowance.context,
                          &(sw_progress){.doing = "searching", .gap = -1, .share = -1});
    if (sw_time_is_up(&d->allowance))
        return true;
    if (d->allowance.now != NULL)
        return false;
    return (double)d->nodes > d->allowance.seconds * SW_NODES_PER_SECOND;
}

static node new_node(sw_doubt *d, const node *like) {
    const sw_model *m = any_model(d);
    size_t views = (size_t)d->views.count, prices = (size_t)sw_price_count(m);
    node n = {.alive = malloc((size_t)m->words * sizeof *n.alive + 1),
              .price = malloc(views * prices * sizeof *n.price + 1),
              .bound = malloc(views * sizeof *n.bound)};
    if (n.alive == NULL || n.price == NULL || n.bound == NULL) {
        d->status = SW_NO_MEMORY;
        return n;
    }
    memcpy(n.alive, like != NULL ? like->alive : m->root, (size_t)m->words * sizeof *n.alive);
    n.low = like != NULL ? like->low : 0;
    n.high = like != NULL ? like->high : d->program->estimates->level_count - 1;
    for (size_t k = 0; k < views; k++)
        n.bound[k] = like != NULL ? like->bound[k] : INFINITY;
    if (like != NULL)
        memcpy(n.price, like->price, views * prices * sizeof *n.price);
    return n;
}

static void free_node(node *n) {
    free(n->alive);
    free(n->price);
    free(n->bound);
}

static sw_node seen_from(const sw_doubt *d, node *n, int k) {
    return (sw_node){.alive = n->alive,
                     .price = &n->price[(size_t)k * (size_t)sw_price_count(any_model(d))],
                     .low = n->low,
                     .high = n->high};
}

static int count_alive(const sw_doubt *d, const node *n, int g) {
    const sw_model *m = any_model(d);
    return sw_bits_count(n->alive, m->first_word[g], m->first_word[g + 1]);
}

/* ---- what is open --------------------------------------------------------------------- */

static bool reaches(const sw_doubt *d, const double *bound, const double *floor) {
    for (int k = 0; k < d->views.count; k++)
        if (bound[k] < floor[k])
            return false;
    return true;
}

/* The zones and members that bundles within the bounds may still reach. */
static bool find_open(sw_doubt *d, const double *bound) {
    d->zone_count = d->member_count = 0;
    for (size_t z = 0; z < d->archive.zone_count; z++)
        if (reaches(d, bound, d->archive.zones[z].floor)) {
            if (!SW_GROW(d->zone, d->zone_room, d->zone_count)) {
                d->status = SW_NO_MEMORY;
                return false;
            }
            d->zone[d->zone_count++] = z;
        }
    for (size_t i = 0; i < d->archive.count && !d->archive.any_equal; i++)
        if (reaches(d, bound, d->archive.members[i].floor)) {
            if (!SW_GROW(d->member, d->member_room, d->member_count)) {
                d->status = SW_NO_MEMORY;
                return false;
            }
            d->member[d->member_count++] = i;
        }
    return d->zone_count + d->member_count > 0;
}

static const double *open_floor(const sw_doubt *d, size_t i) {
    return i < d->zone_count ? d->archive.zones[d->zone[i]].floor
                             : d->archive.members[d->member[i - d->zone_count]].floor;
}

static size_t open_count(const sw_doubt *d) { return d->zone_count + d->member_count; }

/* Drops what is open no more now that the bound of view `k` fell. */
static bool sift_open(sw_doubt *d, double bound, int k) {
    size_t kept = 0;
    for (size_t i = 0; i < d->zone_count; i++)
        if (d->archive.zones[d->zone[i]].floor[k] <= bound)
            d->zone[kept++] = d->zone[i];
    d->zone_count = kept;
    kept = 0;
    for (size_t i = 0; i < d->member_count; i++)
        if (d->archive.members[d->member[i]].floor[k] <= bound)
            d->member[kept++] = d->member[i];
    d->member_count = kept;
    return open_count(d) > 0;
}

/* The least that matters in a view. */
static double known_in(const sw_doubt *d, int k) {
    double least = INFINITY;
    for (size_t i = 0; i < open_count(d); i++)
        least = fmin(least, open_floor(d, i)[k]);
    return least;
}

/* The view that is nearest to closing most of what is open; SW_NONE: no other can. */
static int next_view(const sw_doubt *d, const node *n) {
    size_t votes[SW_VIEWS_MOST] = {0};
    int best = SW_NONE;
    for (size_t i = 0; i < open_count(d); i++) {
        const double *floor = open_floor(d, i);
        double least = INFINITY;
        int nearest = SW_NONE;
        for (int k = 0; k < d->views.count; k++) {
            double gap = (n->bound[k] - floor[k]) / d->views.view[k].scale;
            if (!d->fresh[k] && (nearest == SW_NONE || gap < least)) {
                nearest = k;
                least = gap;
            }
        }
        if (nearest != SW_NONE)
            votes[nearest]++;
    }
    for (int k = 0; k < d->views.count; k++)
        if (votes[k] > 0 && (best == SW_NONE || votes[k] > votes[best]))
            best = k;
    return best;
}

/* Bounds the node in one view after the other; false: nothing in it matters. */
static bool bound_node(sw_doubt *d, node *n, int rounds) {
    for (int k = 0; k < d->views.count; k++)
        d->fresh[k] = false;
    for (int k; (k = next_view(d, n)) != SW_NONE;) {
        sw_view *view = &d->views.view[k];
        sw_node seen = seen_from(d, n, k);
        bool fixed = false;
        double known = known_in(d, k);
        if (rounds > SW_NODE_ROUNDS)
            sw_node_descend(view->m, &seen, &view->x, true, known, rounds);
        double bound = sw_node_bound(view->m, &seen, &view->x, known, SW_NODE_ROUNDS, &fixed);
        if (bound < known || bound == -INFINITY)
            return false;
        d->fresh[k] = true;
        if (bound < n->bound[k])
            n->bound[k] = bound;
        if (!sift_open(d, n->bound[k], k))
            return false;
    }
    return true;
}

/* What bundles with the item are bounded by. */
static void bound_item(const sw_doubt *d, const node *n, int g, int item, double *bound) {
    for (int k = 0; k < d->views.count; k++) {
        const sw_scratch *x = &d->views.view[k].x;
        bound[k] = n->bound[k] - (d->fresh[k] ? x->best[g] - x->value[item] : 0);
    }
}

/* Takes away items with which nothing open is reached; returns how many. */
static int take_away(sw_doubt *d, node *n) {
    const sw_model *m = any_model(d);
    double bound[SW_VIEWS_MOST];
    size_t witness = 0, count = open_count(d);
    int gone = 0;
    for (int g = 0; g < m->groups; g++)
        SW_EACH_ITEM (item, n->alive, m->first_word[g], m->first_word[g + 1]) {
            bound_item(d, n, g, item, bound);
            bool matters = witness < count && reaches(d, bound, open_floor(d, witness));
            for (size_t i = 0; i < count && !matters; i++)
                if (reaches(d, bound, open_floor(d, i))) {
                    witness = i;
                    matters = true;
                }
            if (!matters) {
                n->alive[item / 64] &= ~((sw_word)1 << item % 64);
                gone++;
            }
        }
    return gone;
}

/* ---- the tree ---------------------------------------------------------------------------- */

static void explore(sw_doubt *d, node *n, int depth);

static void branch_on_level(sw_doubt *d, const node *n, int k, int depth) {
    sw_node seen = seen_from(d, (node *)n, k);
    int low = 0, high = 0;
    sw_node_levels(d->views.view[k].m, &seen, &low, &high);
    for (int side = 0; side < 2 && d->status == SW_OK; side++) {
        node child = new_node(d, n);
        child.low = side == 0 ? low : (low + high) / 2 + 1;
        child.high = side == 0 ? (low + high) / 2 : high;
        if (d->status == SW_OK)
            explore(d, &child, depth + 1);
        free_node(&child);
    }
}

/* A view in which the levels of noise blur the bound; SW_NONE: there is none. */
static int blurred_view(const sw_doubt *d, node *n) {
    for (int k = 0; k < d->views.count; k++) {
        sw_node seen = seen_from(d, n, k);
        if (d->fresh[k] && sw_node_level_span(d->views.view[k].m, &seen) >
                               SW_LEVEL_SHARE * (n->bound[k] - known_in(d, k)))
            return k;
    }
    return SW_NONE;
}

/* How much the choice in a group moves what is priced, per doubling of the choices, over the
 * views that were looked at. */
static double weight_of_group(const sw_doubt *d, const node *n, int g, int count) {
    double sum = 0;
    for (int k = 0; k < d->views.count; k++) {
        const sw_view *view = &d->views.view[k];
        const sw_model *m = view->m;
        for (int i = m->used_first[g]; d->fresh[k] && i < m->used_first[g + 1]; i++) {
            double least = INFINITY, most = -INFINITY, weight = view->x.weight[m->used[i]];
            if (weight == 0)
                continue;
            SW_EACH_ITEM (item, n->alive, m->first_word[g], m->first_word[g + 1]) {
                double x = m->feature[(size_t)item * (size_t)m->features + (size_t)m->used[i]];
                least = fmin(least, x);
                most = fmax(most, x);
            }
            sum += fabs(weight) * (most - least) / view->scale;
        }
    }
    return (sum + 1) / log2((double)count + 1);
}

static int group_to_branch(const sw_doubt *d, const node *n) {
    int best = SW_NONE;
    double most = 0;
    for (int g = 0; g < any_model(d)->groups; g++) {
        int count = count_alive(d, n, g);
        double weight = count > 1 ? weight_of_group(d, n, g, count) : 0;
        if (count > 1 && (best == SW_NONE || weight > most)) {
            best = g;
            most = weight;
        }
    }
    return best;
}

typedef struct twig {
    int item;
    double hope;
    double *bound; /* [view] */
} twig;

static int by_hope(const void *left, const void *right) {
    const twig *a = left, *b = right;
    if (a->hope != b->hope)
        return a->hope > b->hope ? -1 : 1;
    return (a->item > b->item) - (a->item < b->item);
}

static void branch_on_group(sw_doubt *d, const node *n, int g, int depth) {
    const sw_model *m = any_model(d);
    size_t count = (size_t)count_alive(d, n, g), views = (size_t)d->views.count, at = 0;
    twig *twigs = malloc(count * sizeof *twigs);
    double *bounds = malloc(count * views * sizeof *bounds);
    if (twigs == NULL || bounds == NULL)
        d->status = SW_NO_MEMORY;
    else
        SW_EACH_ITEM (item, n->alive, m->first_word[g], m->first_word[g + 1]) {
            twig *t = &twigs[at];
            *t = (twig){.item = item, .bound = &bounds[at++ * views]};
            bound_item(d, n, g, item, t->bound);
            for (size_t k = 0; k < views; k++)
                t->hope += d->fresh[k] ? t->bound[k] / d->views.view[k].scale : 0;
        }
    if (at > 0)
        qsort(twigs, at, sizeof *twigs, by_hope);
    for (size_t i = 0; i < at && d->status == SW_OK; i++) {
        node child = new_node(d, n);
        if (d->status == SW_OK) {
            memcpy(child.bound, twigs[i].bound, views * sizeof *child.bound);
            for (int w = m->first_word[g]; w < m->first_word[g + 1]; w++)
                child.alive[w] = 0;
            child.alive[twigs[i].item / 64] |= (sw_word)1 << twigs[i].item % 64;
            explore(d, &child, depth + 1);
        }
        free_node(&child);
    }
    free(twigs);
    free(bounds);
}

/* ---- few bundles ------------------------------------------------------------------------ */

static bool is_small(const sw_doubt *d, const node *n) {
    double bundles = 1;
    for (int g = 0; g < any_model(d)->groups && bundles <= SW_FEW_BUNDLES; g++)
        bundles *= count_alive(d, n, g);
    return bundles <= SW_FEW_BUNDLES;
}

/* Every bundle of the groups from `g` on, beside the items already set. */
static void try_all(sw_doubt *d, const node *n, int g) {
    const sw_model *m = any_model(d);
    if (g == m->groups) {
        sw_sums_points(&d->sums, d->points);
        sw_values(&d->views, d->points, d->value);
        if (d->sums.cost <= d->limit && !sw_archive_covers(&d->archive, d->value, d->sums.cost))
            sw_doubt_consider(d, d->picks);
        return;
    }
    SW_EACH_ITEM (item, n->alive, m->first_word[g], m->first_word[g + 1]) {
        const sw_word *clash = &m->clash[(size_t)item * (size_t)m->words];
        bool clashes = d->status != SW_OK;
        for (int h = 0; h < g && !clashes; h++)
            clashes = sw_is_alive(clash, d->at[h]);
        if (clashes)
            continue;
        d->at[g] = item;
        d->picks[g] = m->pick_of[item];
        sw_sums_add(&d->sums, d->picks[g], 1);
        try_all(d, n, g + 1);
        sw_sums_add(&d->sums, m->pick_of[item], -1);
    }
}

static void explore(sw_doubt *d, node *n, int depth) {
    sw_view *first = &d->views.view[0];
    int g = SW_NONE;
    d->nodes++;
    for (bool again = true; again;) {
        sw_node seen = seen_from(d, n, 0);
        if (!find_open(d, n->bound) || d->status != SW_OK)
            return;
        d->gave_up = d->gave_up || d->nodes > d->nodes_most;
        d->out_of_time = d->out_of_time || sw_doubt_time_is_up(d);
        if (d->out_of_time || d->gave_up)
            return;
        if (!sw_node_prune(first->m, &seen, &first->x, &d->status) || d->status != SW_OK)
            return;
        if (is_small(d, n)) {
            sw_sums_clear(&d->sums);
            try_all(d, n, 0);
            sw_doubt_climb(d);
            return;
        }
        int before = sw_bits_count(n->alive, 0, first->m->words);
        if (!bound_node(d, n, depth == 0 ? 200 : SW_NODE_ROUNDS))
            return;
        for (int e = 0; depth == 0 && e < d->views.extremes; e++)
            d->most[e] = fmin(d->most[e], n->bound[e]);
        take_away(d, n);
        int after = sw_bits_count(n->alive, 0, first->m->words);
        g = group_to_branch(d, n);
        again = g == SW_NONE || (before - after) * SW_AGAIN_PART > before;
    }
    int k = blurred_view(d, n);
    if (k != SW_NONE)
        branch_on_level(d, n, k, depth);
    else
        branch_on_group(d, n, g, depth);
}

/* ---- beginning and end -------------------------------------------------------------------- */

/* Prices to start from in a view: those of the middle, money and the rest in the measure of the
 * view; shares of stages are shares in any. */
static void take_prices(const sw_doubt *d, node *root, int k) {
    const sw_views *v = &d->views;
    size_t prices = (size_t)sw_price_count(any_model(d));
    int middle = v->extremes > 1 ? v->extremes : 0;
    double *to = &root->price[(size_t)k * prices];
    const double *from = &root->price[(size_t)middle * prices];
    int shares = v->view[k].m->stages + v->view[k].m->uses;
    double scale = v->view[k].scale / v->view[middle].scale;
    for (int i = 0; i < (int)prices && k != middle; i++)
        to[i] = from[i] * (i >= 2 && i < 2 + shares ? 1 : scale);
}

static bool knows_many(const sw_doubt *d) { return d->program->known_count >= SW_KNOWN_MANY; }

/* The best bundle of a view, or a good one, and the prices that bound it. */
static void seed(sw_doubt *d, node *root, int k) {
    size_t prices = (size_t)sw_price_count(any_model(d));
    sw_view *view = &d->views.view[k];
    sw_program *program = &view->program;
    sw_solution found;
    bool given_up = false;
    for (size_t i = 0; i < d->archive.count && d->status == SW_OK; i++) {
        int *picks = SW_NEW(program->arena, int, program->group_count);
        if (picks == NULL) {
            d->status = SW_NO_MEMORY;
            return;
        }
        memcpy(picks, d->archive.members[i].picks, program->group_count * sizeof *picks);
        d->status = sw_program_know(program, picks);
    }
    if (d->status == SW_OK)
        d->status = sw_search(
            &found, &given_up, program, &view->request, d->views.out_of_it, d->allowance,
            (knows_many(d) ? SW_KNOWN_SEED_NODES : SW_SEED_NODES) / (d->views.extremes + 1));
    if (d->status != SW_OK)
        return;
    if (found.found)
        sw_doubt_consider(d, found.picks);
    if (program->price_count[SW_AIM_BEST] == (int)prices)
        sw_prices_take(any_model(d), &root->price[(size_t)k * prices],
                       program->prices[SW_AIM_BEST]);
}

/* Good bundles and prices, from the middle and from the extremes: what they lack, the tree finds
 * late. */
static void seed_all(sw_doubt *d, node *root) {
    const sw_views *v = &d->views;
    int middle = v->extremes > 1 ? v->extremes : 0;
    sw_prices_start(v->view[middle].m,
                    &root->price[(size_t)middle * (size_t)sw_price_count(any_model(d))]);
    seed(d, root, middle);
    for (int k = 0; k < v->count && d->status == SW_OK; k++) {
        take_prices(d, root, k);
        if (k < v->extremes && k != middle)
            seed(d, root, k);
    }
    sw_doubt_climb(d);
}

static int by_value(const void *left, const void *right) {
    const sw_undominated_bundle *a = left, *b = right;
    for (size_t e = 0;; e++)
        if (a->value[e] != b->value[e])
            return a->value[e] > b->value[e] ? -1 : 1;
}

static void tell_bundle(sw_doubt *d, sw_undominated_bundle *out, const sw_member *member,
                        size_t extremes) {
    sw_arena *arena = d->program->arena;
    size_t groups = d->program->group_count;
    *out = (sw_undominated_bundle){.picks = SW_NEW(arena, int, groups),
                                   .tally = member->tally,
                                   .by_criterion = SW_NEW(arena, int64_t, d->views.criteria),
                                   .value = SW_NEW(arena, int64_t, extremes)};
    if (out->picks == NULL || out->by_criterion == NULL || out->value == NULL) {
        d->status = SW_NO_MEMORY;
        return;
    }
    memcpy(out->picks, member->picks, groups * sizeof *out->picks);
    for (size_t g = 0; g < groups; g++)
        d->program->scratch_machine[g] = d->program->picks[member->picks[g]].fitout;
    sw_points(d->program->estimates, d->program->scratch_machine, out->by_criterion);
    for (size_t e = 0; e < extremes; e++)
        out->value[e] = d->views.divisor[e] * member->value[d->views.which[e]];
}

static void tell(sw_doubt *d, sw_undominated_set *out, size_t extremes) {
    sw_arena *arena = d->program->arena;
    out->bundles = SW_NEW(arena, sw_undominated_bundle, d->archive.count);
    out->most = SW_NEW(arena, int64_t, extremes);
    if (out->bundles == NULL || out->most == NULL) {
        d->status = SW_NO_MEMORY;
        return;
    }
    out->complete = !d->out_of_time;
    out->nodes = d->nodes;
    out->labels = d->labels;
    for (size_t e = 0; e < extremes; e++)
        out->most[e] = INT64_MIN;
    for (size_t i = 0; i < d->archive.count && d->status == SW_OK; i++) {
        tell_bundle(d, &out->bundles[out->count++], &d->archive.members[i], extremes);
        for (size_t e = 0; e < extremes && d->status == SW_OK; e++)
            if (out->bundles[i].value[e] > out->most[e])
                out->most[e] = out->bundles[i].value[e];
    }
    if (d->status == SW_OK && out->count > 1)
        qsort(out->bundles, out->count, sizeof *out->bundles, by_value);
    for (size_t e = 0; e < extremes && d->out_of_time; e++) {
        /* Cost counts less than a whole thousandth: round up over it. */
        double bound = floor(d->most[d->views.which[e]] + 1) * (double)d->views.divisor[e];
        if (!isfinite(bound) || bound > 9e15)
            out->most[e] = INT64_MAX;
        else if ((int64_t)bound > out->most[e])
            out->most[e] = (int64_t)bound;
    }
}

/* With so many extremes labels hardly ever replace each other: the tree alone. */
#define SW_SWEPT_EXTREMES_MOST 8
/* What the tree has not settled by then is better left to the sweep. */
#define SW_FIRST_NODES 1000
#define SW_FIRST_WIDTH 256
#define SW_NEXT_WIDTH 2048

static bool search_tree(sw_doubt *d, const node *root, long long nodes) {
    node own = new_node(d, root);
    d->gave_up = false;
    d->nodes_most = nodes < LLONG_MAX - d->nodes ? d->nodes + nodes : LLONG_MAX;
    if (d->status == SW_OK)
        d->status = sw_archive_zone(&d->archive);
    if (d->status == SW_OK)
        explore(d, &own, 0);
    free_node(&own);
    return d->status == SW_OK && !d->gave_up && !d->out_of_time;
}

/* A narrow sweep finds good bundles; then the tree and the sweep each do what they are good at. */
static void find_all(sw_doubt *d, node *root) {
    bool swept = d->views.extremes <= SW_SWEPT_EXTREMES_MOST, complete = false;
    long long first = knows_many(d) ? SW_KNOWN_FIRST_NODES : SW_FIRST_NODES;
    if (swept && d->status == SW_OK)
        d->status = sw_doubt_sweep(d, root->price, SW_FIRST_WIDTH, &complete);
    if (!complete && !d->out_of_time && d->status == SW_OK)
        complete = search_tree(d, root, swept ? first : LLONG_MAX);
    if (swept && !knows_many(d) && !complete && !d->out_of_time && d->status == SW_OK)
        d->status = sw_doubt_sweep(d, root->price, SW_NEXT_WIDTH, &complete);
    if (swept && !complete && !d->out_of_time && d->status == SW_OK)
        d->status = sw_doubt_sweep(d, root->price, 0, &complete);
    if (!complete && !d->out_of_time && d->status == SW_OK)
        complete = search_tree(d, root, LLONG_MAX);
    d->out_of_time = !complete;
}

static void open_doubt(sw_doubt *d, bool any_equal) {
    sw_arena *arena = d->views.arena;
    size_t groups = d->program->group_count, extremes = (size_t)d->views.extremes;
    d->points = SW_NEW(arena, int64_t, d->views.criteria);
    d->value = SW_NEW(arena, int64_t, extremes);
    d->picks = SW_NEW(arena, int, groups);
    d->at = SW_NEW(arena, int, groups);
    d->fresh = SW_NEW(arena, bool, SW_VIEWS_MOST);
    d->most = SW_NEW(arena, double, extremes);
    if (d->points == NULL || d->value == NULL || d->picks == NULL || d->at == NULL ||
        d->fresh == NULL || d->most == NULL) {
        d->status = SW_NO_MEMORY;
        return;
    }
    for (size_t e = 0; e < extremes; e++)
        d->most[e] = INFINITY;
    d->status = sw_sums_make(&d->sums, &d->views);
    sw_archive_open(&d->archive, &d->views, any_equal);
}

sw_status sw_undominated(sw_undominated_set *out, sw_program *program, const sw_extremes *extremes,
                         int64_t limit, sw_allowance allowance) {
    sw_doubt d = {.program = program, .limit = limit, .allowance = allowance};
    bool small = true;
    *out = (sw_undominated_set){0};
    d.status = sw_views_make(&d.views, &small, program, extremes, limit);
    if (d.status == SW_OK && small)
        open_doubt(&d, extremes->any_equal);
    node root = {0};
    if (d.status == SW_OK && small)
        root = new_node(&d, NULL);
    for (size_t i = 0; small && d.status == SW_OK && i < program->known_count; i++)
        sw_doubt_consider(&d, program->known[i]);
    if (d.status == SW_OK && small) {
        seed_all(&d, &root);
        find_all(&d, &root);
    }
    if (d.status == SW_OK && !small) {
        d.out_of_time = true;
        out->most = SW_NEW(program->arena, int64_t, extremes->count);
        for (size_t e = 0; out->most != NULL && e < extremes->count; e++)
            out->most[e] = INT64_MAX;
        d.status = out->most == NULL ? SW_NO_MEMORY : SW_OK;
    } else if (d.status == SW_OK)
        tell(&d, out, extremes->count);
    free_node(&root);
    free(d.zone);
    free(d.member);
    sw_archive_close(&d.archive);
    sw_views_free(&d.views);
    return d.status;
}
