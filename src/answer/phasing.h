/*
 * The search for the best plan in phases. A plan is a machine per phase. The search settles the
 * phases one after another: with those before settled, what was bought counts as there and paid, so
 * the best machine of the next phase alone is one request. Each node bars fit-outs in phases; its
 * bound is the sum of the best that each phase could be by itself, all its money spent in one
 * order.
 */
#ifndef SW_ANSWER_PHASING_H
#define SW_ANSWER_PHASING_H

#include "answer/best.h"
#include "answer/markets.h"

typedef struct sw_phased {
    int **machine;   /* [phase][role] fit-outs of `there` */
    int64_t *points; /* [phase] */
    int64_t *cost;   /* [phase] of its purchase */
    int **choices;   /* [phase][role] as bought in it (choices of `shop`); others: today's */
    int64_t value;
} sw_phased;

typedef struct sw_phasing {
    const sw_markets *markets;
    sw_arena *arena;
    sw_allowance allowance;
    sw_complaints *complaints;
    int64_t minutes_limit; /* of one visit; -1: none */
    int64_t untouched;     /* total of the machine that nobody touches */
    bool have;
    sw_phased best;
    bool early;       /* the time ran out: no plan has more than `open` */
    int64_t open;     /* INT64_MIN: nothing is open; INT64_MAX: not known */
    bool have_greedy; /* the best machine of phase 1 by itself */
    int *greedy;
    int64_t greedy_value; /* of the best that may follow it; -1: none, or not settled */
    int *machine;         /* scratch, a fit-out per role */
    int **held;           /* [phase] scratch of sw_program_hold */
} sw_phasing;

sw_status sw_phasing_run(sw_phasing *phasing);

#endif
