/*
 * Answers a request by branch and bound over the groups: see search.h. Best
 * bundles found are kept with the program, where later requests start from them.
 */
#include "program/search.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct hunt {
    sw_model *m;
    sw_program *program;
    const sw_request *request;
    sw_allowance allowance;
    sw_scratch x;
    bool have;
    int *best; /* picks */
    sw_tally best_tally;
    double known; /* what a bundle must reach to matter; -INFINITY: anything does */
    long long nodes, nodes_most;
    bool out_of_time;
    double open; /* the best bound of what was not looked at */
    bool near;   /* its prices come from a request like it */
    sw_status status;
} hunt;

#define SW_PAIR_ITEMS 24
/* Far above what the sums of quick_aim can lose by rounding. */
#define SW_QUICK_SLACK 1e-3

#define SW_NODES_A_LOOK 256

/* Without a clock the time is counted in nodes. */
#define SW_NODES_PER_SECOND 2000

static bool time_is_up(hunt *h) {
    if (h->request->any && h->have)
        return true;
    if (++h->nodes > h->nodes_most)
        return true;
    if (h->allowance.tell != NULL && h->nodes % SW_NODES_A_LOOK == 0)
        h->allowance.tell(h->allowance.context,
                          &(sw_progress){.doing = "searching", .gap = -1, .share = -1});
    if (sw_time_is_up(&h->allowance))
        return true;
    if (h->allowance.now != NULL)
        return false;
    return (double)h->nodes > h->allowance.seconds * SW_NODES_PER_SECOND;
}

static double aim_of(const hunt *h, const sw_tally *tally) {
    if (h->request->aim == SW_AIM_WORTHWHILE)
        return (double)sw_request_worth(h->program, h->request, tally) /
               (double)h->request->point_worth;
    return h->m->point_worth * (double)tally->points - h->m->cost_worth * (double)tally->cost;
}

static bool asked_for(const hunt *h, const sw_tally *tally, const int *picks) {
    const sw_program *program = h->program;
    if (tally->cost > h->request->limit || tally->points < h->request->points_least)
        return false;
    for (size_t g = 0; g < program->group_count; g++)
        if (h->request->barred != NULL && h->request->barred[picks[g]])
            return false;
    for (size_t i = 0; i < h->request->listed_count; i++) {
        int unlike = 0;
        for (size_t g = 0; g < program->group_count; g++) {
            const sw_pick *a = &program->picks[picks[g]];
            const sw_pick *b = &program->picks[h->request->listed[i][g]];
            unlike += h->request->apart > 0 ? a->parts_rank != b->parts_rank
                                            : a->bundle_rank != b->bundle_rank;
        }
        if (unlike < (h->request->apart > 0 ? h->request->apart : 1))
            return false;
    }
    return true;
}

static bool is_better(const hunt *h, const sw_tally *tally, const int *picks) {
    return !h->have ||
           sw_request_compare(h->program, h->request, tally, picks, &h->best_tally, h->best) < 0;
}

/* Judges a whole bundle; keeps it when it is the best so far. */
static bool consider(hunt *h, const int *picks) {
    sw_tally tally;
    int broken = SW_NONE;
    sw_status status = sw_program_check(&tally, &broken, h->program, picks);
    if (status != SW_OK) {
        h->status = status;
        return false;
    }
    if (broken != SW_NONE || !asked_for(h, &tally, picks) || !is_better(h, &tally, picks))
        return false;
    memcpy(h->best, picks, h->program->group_count * sizeof *picks);
    h->best_tally = tally;
    h->have = true;
    h->known = aim_of(h, &tally);
    /* Points are whole: what is less than one ahead is no better. */
    if (h->request->points_alone)
        h->known += 0.5;
    return true;
}

/* ---- starting bundles ---------------------------------------------------------------- */

/* The aim of a whole choice of items, rules aside; cheap. */
static double quick_aim(const hunt *h, const int *at) {
    const sw_model *m = h->m;
    const sw_program *program = h->program;
    double cost = 0, points = program->scored ? -(double)program->points_base : 0;
    for (int g = 0; g < m->groups; g++) {
        const double *f = &m->feature[(size_t)at[g] * (size_t)m->features];
        cost += f[0];
        points += f[1];
    }
    for (int u = 0; u < m->uses; u++) {
        double least = m->cap[u];
        for (int s = m->use_first[u]; s < m->use_first[u + 1]; s++) {
            double value = m->offset[s];
            for (int g = 0; g < m->groups; g++)
                value +=
                    m->feature[(size_t)at[g] * (size_t)m->features + (size_t)(m->first_stage + s)];
            least = value < least ? value : least;
        }
        points += least - m->use_base[u];
    }
    if (m->first_row > m->noise) {
        const sw_estimates *e = program->estimates;
        double power = 0;
        int class = 0, level = 0;
        for (int g = 0; g < m->groups; g++) {
            power += m->feature[(size_t)at[g] * (size_t)m->features + (size_t)m->noise];
            if (program->groups[g].role == e->loss_role)
                class = e->loss_class[program->picks[m->pick_of[at[g]]].fitout];
        }
        while (level < e->level_count - 1 && (double)e->level_power[level] < power)
            level++;
        points += (double)(e->level_points[class * e->level_count + level] - e->level_base);
    }
    if (cost > (double)m->limit)
        return -INFINITY;
    return m->point_worth * points - m->cost_worth * cost;
}

static bool clashes(const sw_model *m, const int *at, int g, int item) {
    const sw_word *clash = &m->clash[(size_t)item * (size_t)m->words];
    for (int h = 0; h < m->groups; h++)
        if (h != g && sw_is_alive(clash, at[h]))
            return true;
    return false;
}

static bool place_of_best(hunt *h) {
    const sw_model *m = h->m;
    for (int g = 0; g < m->groups; g++) {
        h->x.climb[g] = SW_NONE;
        h->x.climb_picks[g] = h->best[g];
        SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1])
            if (m->pick_of[item] == h->best[g])
                h->x.climb[g] = item;
        if (h->x.climb[g] == SW_NONE)
            return false;
    }
    return true;
}

/* Exchanges one item at a time while that helps. */
static void climb(hunt *h, const sw_node *node) {
    const sw_model *m = h->m;
    int *at = h->x.climb, *picks = h->x.climb_picks;
    for (bool better = h->have; better && h->status == SW_OK;) {
        better = false;
        if (!place_of_best(h))
            return;
        for (int g = 0; g < m->groups && !better; g++) {
            int own = at[g];
            SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
                if (better || item == own || clashes(m, at, g, item))
                    continue;
                at[g] = item;
                if (quick_aim(h, at) > h->known) {
                    picks[g] = m->pick_of[item];
                    better = consider(h, picks);
                    picks[g] = m->pick_of[own];
                }
                at[g] = own;
            }
        }
        if (time_is_up(h))
            return;
    }
}

/* The best items of a group by their worth at the prices. */
static int best_items(const hunt *h, const sw_node *node, int g, int *out) {
    const sw_model *m = h->m;
    int count = 0;
    SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
        int at = count < SW_PAIR_ITEMS ? count : SW_PAIR_ITEMS - 1;
        if (count == SW_PAIR_ITEMS && h->x.value[item] <= h->x.value[out[at]])
            continue;
        for (; at > 0 && h->x.value[out[at - 1]] < h->x.value[item]; at--)
            out[at] = out[at - 1];
        out[at] = item;
        count += count < SW_PAIR_ITEMS ? 1 : 0;
    }
    return count;
}

/* Exchanges in two groups at once, among the best items of each. */
static bool try_pair(hunt *h, int a, const int *a_items, int a_count, int b, const int *b_items,
                     int b_count) {
    const sw_model *m = h->m;
    int *at = h->x.climb, *picks = h->x.climb_picks, own_a = at[a], own_b = at[b];
    bool better = false;
    for (int i = 0; i < a_count && !better; i++)
        for (int k = 0; k < b_count && !better; k++) {
            at[a] = a_items[i];
            at[b] = b_items[k];
            if (quick_aim(h, at) <= h->known || clashes(m, at, a, at[a]) ||
                clashes(m, at, b, at[b]))
                continue;
            picks[a] = m->pick_of[at[a]];
            picks[b] = m->pick_of[at[b]];
            better = consider(h, picks);
        }
    at[a] = own_a;
    at[b] = own_b;
    picks[a] = m->pick_of[own_a];
    picks[b] = m->pick_of[own_b];
    return better;
}

static void climb_pairs(hunt *h, const sw_node *node) {
    const sw_model *m = h->m;
    int items[SW_GROUPS_MOST][SW_PAIR_ITEMS], count[SW_GROUPS_MOST];
    for (int g = 0; g < m->groups; g++)
        count[g] = best_items(h, node, g, items[g]);
    for (bool better = h->have; better && h->status == SW_OK && !time_is_up(h);) {
        better = false;
        if (!place_of_best(h))
            return;
        for (int a = 0; a < m->groups && !better; a++)
            for (int b = a + 1; b < m->groups && !better; b++)
                better = try_pair(h, a, items[a], count[a], b, items[b], count[b]);
        if (better)
            climb(h, node);
    }
}

/* A known bundle with what the request bars put back to what it allows. */
static void try_known(hunt *h, const int *known) {
    const sw_program *program = h->program;
    int *picks = h->x.climb_picks;
    for (size_t g = 0; g < program->group_count; g++) {
        picks[g] = known[g];
        const sw_group *group = &program->groups[g];
        if (h->request->barred == NULL || !h->request->barred[known[g]])
            continue;
        for (int p = group->first; p < group->first + group->count; p++)
            if (!program->picks[p].dropped && !h->request->barred[p] &&
                program->picks[p].fitout == program->fitouts->present[g])
                picks[g] = p;
    }
    consider(h, picks);
}

/* ---- the tree --------------------------------------------------------------------------- */

static sw_node new_node(hunt *h, const sw_node *like) {
    const sw_model *m = h->m;
    sw_node node = {.alive = malloc((size_t)m->words * sizeof *node.alive + 1),
                    .price = malloc((size_t)sw_price_count(m) * sizeof *node.price + 1)};
    if (node.alive == NULL || node.price == NULL) {
        h->status = SW_NO_MEMORY;
        return node;
    }
    if (like == NULL) {
        memcpy(node.alive, m->root, (size_t)m->words * sizeof *node.alive);
        node.high = h->program->estimates->level_count - 1;
        sw_prices_start(m, node.price);
        return node;
    }
    memcpy(node.alive, like->alive, (size_t)m->words * sizeof *node.alive);
    memcpy(node.price, like->price, (size_t)sw_price_count(m) * sizeof *node.price);
    node.low = like->low;
    node.high = like->high;
    return node;
}

static void free_node(sw_node *node) {
    free(node->alive);
    free(node->price);
}

static int count_alive(const sw_model *m, const sw_node *node, int g) {
    int count = 0;
    for (int w = m->first_word[g]; w < m->first_word[g + 1]; w++)
        for (sw_word rest = node->alive[w]; rest != 0; rest &= rest - 1)
            count++;
    return count;
}

typedef struct twig {
    int item;
    double value;
} twig;

static int by_value(const void *left, const void *right) {
    const twig *a = left, *b = right;
    if (a->value != b->value)
        return a->value > b->value ? -1 : 1;
    return (a->item > b->item) - (a->item < b->item);
}

static void explore(hunt *h, sw_node *node, int depth);

static void leave(hunt *h, double bound) {
    h->out_of_time = true;
    h->open = bound > h->open ? bound : h->open;
}

/* Two nodes: no louder than a level, and louder; first where the bests are. */
static void branch_on_level(hunt *h, const sw_node *node, double bound, int depth) {
    const sw_model *m = h->m;
    const sw_estimates *e = h->program->estimates;
    double power = 0;
    int at = node->low, middle;
    for (int g = 0; g < m->groups; g++)
        power += m->feature[(size_t)h->x.at[g] * (size_t)m->features + (size_t)m->noise];
    while (at < e->level_count - 1 && (double)e->level_power[at] < power)
        at++;
    int low = 0, high = 0;
    sw_node_levels(m, node, &low, &high);
    middle = (low + high) / 2;
    for (int side = 0; side < 2 && h->status == SW_OK; side++) {
        bool quiet = (side == 0) == (at <= middle);
        if (h->out_of_time) {
            leave(h, bound);
            return;
        }
        sw_node child = new_node(h, node);
        child.low = quiet ? low : middle + 1;
        child.high = quiet ? middle : high;
        if (h->status == SW_OK)
            explore(h, &child, depth + 1);
        free_node(&child);
    }
}

static void branch_on_group(hunt *h, const sw_node *node, int g, double bound, int depth) {
    const sw_model *m = h->m;
    int count = count_alive(m, node, g), n = 0;
    twig *twigs = malloc((size_t)count * sizeof *twigs);
    if (twigs == NULL) {
        h->status = SW_NO_MEMORY;
        return;
    }
    double best = h->x.best[g];
    SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
        twigs[n++] = (twig){item, h->x.value[item]};
    qsort(twigs, (size_t)n, sizeof *twigs, by_value);
    for (int i = 0; i < n && h->status == SW_OK; i++) {
        double own = bound - (best - twigs[i].value);
        if (own < h->known)
            break;
        if (h->out_of_time) {
            leave(h, own);
            break;
        }
        sw_node child = new_node(h, node);
        if (h->status == SW_OK) {
            for (int w = m->first_word[g]; w < m->first_word[g + 1]; w++)
                child.alive[w] = 0;
            child.alive[twigs[i].item / 64] |= (sw_word)1 << twigs[i].item % 64;
            explore(h, &child, depth + 1);
        }
        free_node(&child);
    }
    free(twigs);
}

static void leaf(hunt *h, const sw_node *node) {
    const sw_model *m = h->m;
    for (int g = 0; g < m->groups; g++)
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
            h->x.picks[g] = m->pick_of[item];
    if (consider(h, h->x.picks))
        climb(h, &(sw_node){.alive = m->root});
}

/* How much the choice in a group moves what is priced, per doubling of the choices:
 * the groups that decide come first, those that change little last. */
static double weight_of_group(const hunt *h, const sw_node *node, int g, int count) {
    const sw_model *m = h->m;
    double sum = 0;
    for (int k = m->used_first[g]; k < m->used_first[g + 1]; k++) {
        double least = INFINITY, most = -INFINITY;
        int f = m->used[k];
        if (h->x.weight[f] == 0)
            continue;
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
            double x = m->feature[(size_t)item * (size_t)m->features + (size_t)f];
            least = x < least ? x : least;
            most = x > most ? x : most;
        }
        sum += fabs(h->x.weight[f]) * (most - least);
    }
    return (sum + 1) / log2((double)count + 1);
}

/* All groups but one are settled: each of its items makes one bundle. */
static void last_group(hunt *h, const sw_node *node, int last) {
    const sw_model *m = h->m;
    int at[SW_GROUPS_MOST];
    bool better = false;
    for (int g = 0; g < m->groups; g++)
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
            at[g] = item;
            h->x.picks[g] = m->pick_of[item];
        }
    SW_EACH_ITEM (item, node->alive, m->first_word[last], m->first_word[last + 1]) {
        at[last] = item;
        h->x.picks[last] = m->pick_of[item];
        if (h->status == SW_OK && quick_aim(h, at) + h->m->blur + SW_QUICK_SLACK >= h->known)
            better = consider(h, h->x.picks) || better;
    }
    if (better)
        climb(h, &(sw_node){.alive = m->root});
}

static int count_open(const hunt *h, const sw_node *node, int *last) {
    int open = 0;
    for (int g = 0; g < h->m->groups; g++)
        if (count_alive(h->m, node, g) > 1) {
            open++;
            *last = g;
        }
    return open;
}

static int group_to_branch(const hunt *h, const sw_node *node) {
    int best = SW_NONE;
    double most = 0;
    for (int g = 0; g < h->m->groups; g++) {
        int count = count_alive(h->m, node, g);
        if (count <= 1)
            continue;
        double weight = weight_of_group(h, node, g, count);
        if (best == SW_NONE || weight > most) {
            best = g;
            most = weight;
        }
    }
    return best;
}

/* Levels are split while they blur the bound by this share of what is open. */
#define SW_LEVEL_SHARE 0.05

#define SW_ROOT_ROUNDS 200
#define SW_NEAR_ROUNDS 100 /* from the prices of a request like it */
#define SW_NODE_ROUNDS 30

static void keep_prices(hunt *h, const sw_node *root) {
    sw_program *program = h->program;
    sw_aim aim = h->request->aim;
    int count = sw_price_count(h->m);
    if (program->price_count[aim] != count) {
        program->prices[aim] = SW_NEW(program->arena, double, (size_t)count);
        program->price_count[aim] = count;
    }
    if (program->prices[aim] == NULL)
        h->status = SW_NO_MEMORY;
    else
        memcpy(program->prices[aim], root->price, (size_t)count * sizeof *root->price);
}

/* Any prices bound; those of a request of the same shape bound well. */
static void take_prices(hunt *h, sw_node *root) {
    const sw_program *program = h->program;
    sw_aim aim = h->request->aim;
    h->near = program->prices[aim] != NULL && program->price_count[aim] == sw_price_count(h->m);
    if (h->near)
        sw_prices_take(h->m, root->price, program->prices[aim]);
}

static void explore(hunt *h, sw_node *node, int depth) {
    const sw_model *m = h->m;
    double bound = INFINITY;
    for (bool fixed = true; fixed;) {
        fixed = false;
        if (!sw_node_prune(m, node, &h->x, &h->status) || h->status != SW_OK)
            return;
        /* Good prices at the root serve the whole tree. */
        if (depth == 0)
            sw_node_descend(m, node, &h->x, true, h->known,
                            h->near ? SW_NEAR_ROUNDS : SW_ROOT_ROUNDS);
        bound = sw_node_bound(m, node, &h->x, h->known, SW_NODE_ROUNDS, &fixed);
        if (bound < h->known || bound == -INFINITY)
            return;
        if (time_is_up(h)) {
            leave(h, bound);
            return;
        }
    }
    if (depth == 0) {
        keep_prices(h, node);
        climb_pairs(h, node);
    }
    int last = SW_NONE, open = count_open(h, node, &last);
    int group = group_to_branch(h, node);
    if (group == SW_NONE)
        leaf(h, node);
    else if (open == 1)
        last_group(h, node, last);
    else if (sw_node_level_span(m, node) > SW_LEVEL_SHARE * (bound - h->known))
        branch_on_level(h, node, bound, depth);
    else
        branch_on_group(h, node, group, bound, depth);
}

/* ---- the request --------------------------------------------------------------------------- */

static void report(const hunt *h, sw_solution *out) {
    *out = (sw_solution){.found = h->have, .picks = h->best, .tally = h->best_tally};
    out->end = h->out_of_time ? SW_END_EARLY : h->have ? SW_END_PROVED : SW_END_NOTHING;
    out->bound = h->best_tally.points;
    if (!h->out_of_time || h->request->aim != SW_AIM_BEST)
        return;
    /* Cost counts less than a whole thousandth: round up over it. */
    double bound = floor(h->open + 1);
    bool open = !isfinite(bound) || bound > 9e15;
    if (open || bound > (double)out->bound)
        out->bound = open ? INT64_MAX : (int64_t)bound;
}

sw_status sw_search(sw_solution *out, bool *given_up, sw_program *program,
                    const sw_request *request, const bool *out_of_it, sw_allowance allowance,
                    long long nodes) {
    hunt h = {.program = program,
              .request = request,
              .allowance = allowance,
              .nodes_most = nodes,
              .known = -INFINITY,
              .open = -INFINITY,
              .best = SW_NEW(program->arena, int, program->group_count)};
    if (h.best == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_model_make(&h.m, program, request, out_of_it, false);
    *given_up = status == SW_OK && h.m == NULL;
    *out = (sw_solution){.end = SW_END_EARLY, .bound = INT64_MAX};
    if (status != SW_OK || *given_up)
        return status;
    /* Cost counts less than a whole thousandth of a point. */
    if (request->aim == SW_AIM_BEST && request->points_least != INT64_MIN)
        h.known = h.m->point_worth * ((double)request->points_least - 1);
    h.status = sw_scratch_make(&h.x, h.m);
    if (h.status == SW_OK && request->start != NULL)
        try_known(&h, request->start);
    for (size_t i = 0; i < program->known_count && h.status == SW_OK; i++)
        try_known(&h, program->known[i]);
    sw_node root = {0};
    if (h.status == SW_OK)
        root = new_node(&h, NULL);
    if (h.status == SW_OK) {
        take_prices(&h, &root);
        climb(&h, &root);
        explore(&h, &root, 0);
    }
    free_node(&root);
    report(&h, out);
    out->nodes = h.nodes;
    *given_up = h.out_of_time && h.nodes > h.nodes_most;
    sw_arena_free(h.m->arena);
    return h.status;
}
