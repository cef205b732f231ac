/*
 * One pass of the sweep over a node: what is left of the job, renumbered in the order in which
 * the groups are settled, with everything that a label's losses are counted by.
 */
#ifndef SW_PROGRAM_SWEEP_PASS_H
#define SW_PROGRAM_SWEEP_PASS_H

#include "program/sweep.h"

/* The least that the groups from one position on lose, by what they must know of earlier
 * ones: by the class of the item at each position of the scope. */
typedef struct sw_completion {
    int scope_count;
    int scope[SW_GROUPS_MOST];     /* positions, rising */
    int *class_of[SW_GROUPS_MOST]; /* [item] of that position */
    int classes[SW_GROUPS_MOST], stride[SW_GROUPS_MOST];
    int entries;
    int32_t *loss; /* [entry * lanes] */
} sw_completion;

/* What the groups from a position on can still add. */
typedef struct sw_rest {
    int64_t cost_least, noise_least, noise_most;
    int64_t *stage_least, *stage_most;   /* [stage] */
    int64_t *amount_least, *amount_most; /* [sum] */
    bool noise_open, placing_open;
    bool *due_open; /* [due] may still come due, or its waiver may be won */
    bool *use_open; /* [use] */
    bool *sum_open; /* [sum] its loads or its conditions are not settled yet */
    bool *row_open; /* [not-all] */
} sw_rest;

#define SW_FEW 8
#define SW_MANY 64

typedef struct sw_pass {
    sw_sweep *s;
    const sw_node *node;
    sw_arena *arena;
    int groups;
    int group_at[SW_GROUPS_MOST];
    int lanes; /* a multiple of SW_BLOCK; those behind the live ones lose nothing */
    int live;
    int stretches;
    double scale;
    double bound[SW_LANES];               /* what a label without loss comes to */
    int32_t gap[SW_STRETCHES * SW_LANES]; /* [stretch * lanes + lane] how much may be lost */

    int words, items; /* an item is a bit of the words, position by position */
    int first_word[SW_GROUPS_MOST + 1];
    double *rank;    /* [item of the model] likely ones first */
    int *model_item; /* [item] or SW_NONE */
    sw_word *all;    /* [word] */
    sw_word *clash;  /* [item * words] */
    int64_t *cost, *tie, *noise;
    int aims;
    int64_t *points; /* [item * aims] */
    int *loss_class;
    int uses, stages, sums, rows;
    int *use_first;                  /* [use + 1]; the cap is the last stage of its use */
    bool *capped;                    /* [use] */
    int64_t *term;                   /* [item * stages] */
    int64_t *amount;                 /* [item * sums] */
    bool *sum_hit;                   /* [item * sums] the item does not switch the sum off */
    bool *row_hit;                   /* [item * rows] */
    int counts;                      /* things, sites and silences to be placed */
    uint16_t *count;                 /* [item * counts] */
    bool *has_count;                 /* [position] */
    int32_t *loss;                   /* [item * lanes] */
    int32_t *least_loss[2];          /* [item / size * lanes] the least of so many neighbours */
    int64_t *least_cost[2];          /* [item / size]; sizes: SW_FEW, SW_MANY */
    double *stage_price, *sum_price; /* [stage or sum][lane], scaled */
    double *noise_price;             /* [lane], scaled */
    double *level_worth;             /* [(class * levels + low) * lanes], scaled */
    int levels, loss_position;       /* position of the loss role, or SW_NONE */
    int dues;
    sw_due_terms *terms; /* [due] */
    bool *is_due;        /* [item * dues] */
    int64_t *goods;      /* [item * dues] of waivers */
    int *due_before;     /* [position * dues] positions before that could make it due */
    bool *due_at;        /* [position * dues] this one could */
    double *money_price; /* [lane], scaled: of a minor unit */
    sw_completion table[SW_GROUPS_MOST]; /* [position] made in that bucket */
    int bucket_count[SW_GROUPS_MOST];    /* tables that the position is the last of */
    int bucket[SW_GROUPS_MOST][SW_GROUPS_MOST];
    sw_rest rest[SW_GROUPS_MOST + 1]; /* [position] */
    int64_t start_cost;
    int64_t *start_stage;
} sw_pass;

/* Runs over the items at a position. */
#define SW_EACH_OF(p, item, at)                                                                    \
    SW_EACH_ITEM (item, (p)->all, (p)->first_word[at], (p)->first_word[(at) + 1])

/* `*out` is NULL when nothing in the node has room. */
sw_status sw_pass_make(sw_pass **out, sw_sweep *sweep, const sw_node *node, const double *price,
                       const double *bound);
void sw_pass_free(sw_pass *pass);
/* Fills in what the items are and what may still come. */
sw_status sw_pass_items(sw_pass *pass);
/* Takes over what the frontier has become. */
void sw_pass_gaps(sw_pass *pass);
/* Bucket elimination: fills the tables. */
sw_status sw_pass_tables(sw_pass *pass);
/* Chooses the order of the groups among what is alive ([word of the model]). */
void sw_pass_order(sw_pass *pass, const sw_word *alive);
/* All labels, depth first; see sw_pass_run. */
sw_status sw_pass_labels(sw_pass *pass, size_t width, bool *complete);

#endif
