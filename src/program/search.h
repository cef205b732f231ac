/*
 * The branch and bound search: what its files share.
 *
 * A node keeps, per group, the picks still alive (as bits). Its bound is
 * Lagrangian: with prices on money, on the stages of the uses, on noise and on
 * the sums over many groups, the best of every group can be chosen by itself, so
 * the sum of these bests bounds every bundle of the node from above; the prices
 * are improved from node to node. Picks that cannot reach the best bundle known
 * leave; rules take others away. What is left is tried one by one.
 *
 * Bounds are binary64 with a slack that covers their rounding: they only say
 * what need not be looked at. What is found is judged in whole numbers.
 */
#ifndef SW_PROGRAM_SEARCH_H
#define SW_PROGRAM_SEARCH_H

#include "program/stage.h"

typedef uint64_t sw_word;

#define SW_SHARES_MOST 512 /* stages of one use, its cap included */
#define SW_AXES_MOST 96    /* prices that a descent moves */
#define SW_GROUPS_MOST 64  /* roles of a catalog */

/* A set of picks of one group, as bits of the model's items. */
typedef struct sw_bits {
    int group;
    sw_word *word; /* of the group's words */
} sw_bits;

/* A row over three groups or more, or one that only counts beside others. */
typedef struct sw_model_sum {
    const int64_t *amount; /* [pick] */
    const bool *in;        /* [group] */
    int64_t limit;
    sw_bits *when;
    size_t when_count;
    int feature; /* where its amounts stand among the features, or SW_NONE */
} sw_model_sum;

typedef struct sw_model_not_all {
    sw_bits *sets;
    size_t count;
} sw_model_not_all;

/* A group and the one it hangs on in the forest of ties: items that clash with the
 * same items of the other group are one class. */
typedef struct sw_tie {
    int parent;           /* SW_NONE: a root */
    int classes, over;    /* of the group, of the parent */
    int *class_of;        /* [item] of the group */
    int *parent_class_of; /* [item] of the parent */
    bool *agree;          /* [class * over + class of the parent] */
} sw_tie;

typedef struct sw_model_due {
    sw_bits *sets; /* per group that can make it due */
    size_t set_count;
    const int64_t *goods; /* [pick] or NULL */
    int64_t amount, minutes, free_from;
    bool always;
} sw_model_due;

/* Items are the picks in the search, group by group from a word's first bit. */
typedef struct sw_model {
    sw_program *program;
    const sw_request *request;
    sw_arena *arena;
    int groups, words, items;
    int *first_word; /* [group + 1] */
    int *group_of_word;
    int *pick_of;                   /* [item] or SW_NONE */
    sw_word *root;                  /* [word] alive at the start */
    double point_worth, cost_worth; /* cost_worth: of the bill, its invoice tax included */
    double blur;                    /* what rounding that tax may add to the aim */
    int64_t limit;                  /* finite */

    int features; /* money, points, stages, noise, sums */
    double *feature;
    int *used, *used_first; /* [group + 1] the features that the group's items have */
    int first_stage, stages, noise, first_row, rows;
    double *row_limit; /* [row] */
    double *spread;    /* [feature] how far the groups together can move it */
    int uses;
    int *use_first; /* [use + 1] stages */
    double *offset; /* [stage] */
    double *cap, *use_base;
    double share_scale, point_spread; /* for the steps of the prices */

    sw_word *clash; /* [item * words] items that may not stand beside it */
    bool *clashing; /* [group * groups + other] */
    sw_tie *ties;   /* [group] */
    int *tie_order; /* parents before their children */
    sw_model_not_all *not_alls;
    size_t not_all_count;
    sw_model_sum *sums;
    size_t sum_count;
    sw_model_due *dues;
    size_t due_count;
    int minutes_sum; /* of the sums, or SW_NONE */
    bool *placed;    /* [group] holds things or sites */
    bool places;
} sw_model;

/* NULL in `*out` when it would take too much memory: ask GLPK then. `with_minutes`: with dues
 * that only take time, where time is limited. */
sw_status sw_model_make(sw_model **out, sw_program *program, const sw_request *request,
                        const bool *out_of_it, bool with_minutes);

/* No bundle costs more. */
int64_t sw_model_dearest(const sw_model *model);

typedef struct sw_node {
    sw_word *alive; /* [word] */
    double *price;  /* see search_bound.c */
    int low, high;  /* levels of noise still looked at */
} sw_node;

typedef struct sw_scratch {
    double *value;       /* [item] the best its tree comes to at the prices, with the item */
    double *own;         /* [item] its own worth, with the trees below */
    double *share;       /* [item] of dues not certain yet, in money */
    double *best;        /* [group] the best its tree comes to */
    int *at;             /* [group] item of the best */
    double **class_best; /* [group][class] of the worths below */
    int **class_item;    /* [group][class] */
    double **message;    /* [group][class of the parent] */
    double *class_above; /* [class of the parent] */
    double *weight;      /* [feature] */
    double *slope;       /* [price] */
    double *trial;
    double *class_value, *class_power; /* [loss class] */
    int *machine, *picks, *climb, *climb_picks;
} sw_scratch;

/* Answers the request over the picks that are not `out_of_it`. `*given_up`: too many
 * nodes (`nodes`) or picks; `out` then holds the best found, proved or not. */
sw_status sw_search(sw_solution *out, bool *given_up, sw_program *program,
                    const sw_request *request, const bool *out_of_it, sw_allowance allowance,
                    long long nodes);

/* In the model's arena. */
sw_status sw_scratch_make(sw_scratch *scratch, const sw_model *model);

/* ---- bounding ------------------------------------------------------------------- */

int sw_price_count(const sw_model *model);
void sw_prices_start(const sw_model *model, double *price);
/* Those of another request of the same shape, as far as they bound this one. */
void sw_prices_take(const sw_model *model, double *price, const double *from);
/* Improves the node's prices in at most `rounds`, takes away what cannot reach
 * `known` (-INFINITY: nothing is known), and returns the bound; below `known`: the
 * node is done. `*fixed` when something was taken away. */
double sw_node_bound(const sw_model *model, sw_node *node, sw_scratch *scratch, double known,
                     int rounds, bool *fixed);
/* Improves the node's prices until the bound falls below `target` or for so many rounds, the
 * price of money among them or not; returns the bound. */
double sw_node_descend(const sw_model *model, sw_node *node, sw_scratch *scratch, bool money,
                       double target, int rounds);
/* The worth of every alive item at the prices, ties aside ([item]); returns what completes the
 * sum of one a group to the bound. Dues take no part. */
double sw_item_worths(const sw_model *model, const sw_node *node, const double *price,
                      sw_scratch *scratch, double *worth);
/* What a loss class is worth at the prices when the level is `low` at the least ([class * levels
 * + low], -INFINITY: never allowed): as the worths of the items have it at the node's lowest. */
void sw_level_worths(const sw_model *model, const sw_node *node, const double *price,
                     double *worth);
/* The prices behind that: of the stages of the uses (cap behind its stages), of the noise, of
 * the rows. */
double sw_stage_price(const sw_model *model, const double *price, int use, int stage);
double sw_cap_price(const sw_model *model, const double *price, int use);
double sw_noise_price(const sw_model *model, const double *price);
double sw_row_price(const sw_model *model, const double *price, int row);
/* The levels still open. */
void sw_node_levels(const sw_model *model, const sw_node *node, int *low, int *high);
/* How many points the levels still open may differ by. */
double sw_node_level_span(const sw_model *model, const sw_node *node);

/* Chooses the forest: the pairs of groups with most clashes. */
sw_status sw_model_tie(sw_model *model);
bool sw_scratch_tie(sw_scratch *scratch, const sw_model *model);
/* From the items' own worths in `value`: the best of every tree, as the fields of
 * the scratch say. Returns the sum over the trees; -INFINITY: nothing fits. */
double sw_tree_weigh(const sw_model *model, const sw_node *node, sw_scratch *scratch);

/* What of the dues is certain in the node, in money; fills `share` of the scratch. */
double sw_share_dues(const sw_model *model, const sw_node *node, sw_scratch *scratch);
/* How a due is counted there: `sure` of them whole, else `part` of it for every group that makes
 * it due; less `back` for every minor unit of goods. `none`: nobody pays it. */
typedef struct sw_due_terms {
    bool none, sure, may_waive;
    double part, back;
} sw_due_terms;
sw_due_terms sw_terms_of_due(const sw_model *model, const sw_node *node, size_t due);
/* Dues that every bundle of the node pays in full. */
int64_t sw_certain_dues(const sw_model *model, const sw_node *node);

/* ---- taking away -------------------------------------------------------------------- */

/* False when no bundle is left. */
bool sw_node_prune(const sw_model *model, sw_node *node, sw_scratch *scratch, sw_status *status);

/* ---- bits ------------------------------------------------------------------------- */

static inline int sw_low_bit(sw_word word) {
    int bit = 0;
    while ((word & 1) == 0) {
        int step = (word & 0xFFFFFFFF) == 0 ? 32 : (word & 0xFF) == 0 ? 8 : 1;
        word >>= step;
        bit += step;
    }
    return bit;
}

static inline bool sw_is_alive(const sw_word *set, int item) {
    return (set[item / 64] >> (item % 64) & 1) != 0;
}

static inline int sw_bits_count(const sw_word *set, int first, int end) {
    int count = 0;
    for (int w = first; w < end; w++)
        for (sw_word rest = set[w]; rest != 0; rest &= rest - 1)
            count++;
    return count;
}

/* Runs over the items of `set` in words `first` to `end`; the body may change the
 * set. `continue` goes on with the next item. */
#define SW_EACH_ITEM(item, set, first, end)                                                        \
    for (int word_of_##item = (first); word_of_##item < (end); word_of_##item++)                   \
        for (sw_word rest_of_##item = (set)[word_of_##item]; rest_of_##item != 0;                  \
             rest_of_##item &= rest_of_##item - 1)                                                 \
            for (int item = word_of_##item * 64 + sw_low_bit(rest_of_##item), once_##item = 1;     \
                 once_##item != 0; once_##item = 0)

#endif
