/*
 * Why a part is in the best bundle, or is not. Meanings: catalog/FORMATS.md section 13.
 * Owned by its arena.
 */
#ifndef SW_ANSWER_WHY_H
#define SW_ANSWER_WHY_H

#include "answer/answer.h"
#include "answer/fits.h"

typedef enum sw_standing {
    SW_STANDS_IN,     /* the best bundle holds it */
    SW_STANDS_BEATEN, /* some bundle within the budget does */
    SW_STANDS_DEAR,   /* some bundle does, for more */
    SW_STANDS_NEVER
} sw_standing;

typedef struct sw_range {
    int64_t from, to;
} sw_range;

/* Why the part is not on offer; the first four are sw_left_out_why. */
typedef struct sw_why_left_out {
    const char *why;            /* "too-late", "no-stock", "avoided", "unknown", "not-sold" */
    const char *fact, *meaning; /* of "unknown", else NULL */
} sw_why_left_out;

typedef struct sw_why_entry {
    const char *seller, *seller_name; /* NULL: the part has no entry price */
    int64_t price;                    /* as listed */
    sw_range *intervals;              /* minor units */
    size_t interval_count;
    bool settled;
} sw_why_entry;

typedef struct sw_why_weight {
    const char *criterion, *name;
    int64_t now_milli; /* percent */
    sw_range *ranges;  /* whole percents at which the part is in */
    size_t range_count;
    sw_range *open; /* at which the time ran out before that was settled */
    size_t open_count;
} sw_why_weight;

/* What one of the two parts does better than the other. */
typedef struct sw_why_over {
    const char *part, *name; /* NULL: not asked */
    sw_answer_other this, other;
} sw_why_over;

struct sw_why {
    sw_arena *arena;   /* the answer's */
    sw_answer *answer; /* money, criteria, best bundle in bundles[0] */
    const char *part, *name, *role, *role_name;
    bool present;  /* in the machine today */
    bool kept_out; /* no bundle within the budget holds it, whatever the weights */
    sw_standing standing;
    sw_why_left_out *left_out;
    size_t left_out_count;
    sw_fits *trial; /* NULL for a part that is in the machine today */
    sw_answer_other with, without, cheapest;
    const char **along, **along_names; /* roles that change with it in `cheapest` */
    size_t along_count;
    sw_why_entry entry;
    sw_why_weight *weights;
    size_t weight_count;
    sw_why_over over;
    sw_answer_conflict refusal; /* where no bundle may hold it: what refuses it */
};

/* `over` SW_NONE: not asked. Of the options the time and `allow_unknown` count. */
sw_status sw_find_why(sw_why **out, const sw_scenario *scenario, int part, int over,
                      bool allow_unknown, sw_allowance allowance, sw_complaints *complaints);

/* ---- between its files ------------------------------------------------------------ */

/* The job as it is, solved: what the questions vary. */
typedef struct sw_why_job {
    const sw_scenario *scenario;
    const char *part; /* id */
    int role;
    bool allow_unknown;
    sw_allowance allowance;
    sw_complaints *complaints;
} sw_why_job;

/* Does the fit-out have a piece of the part? */
bool sw_holds(const sw_fitouts *fitouts, int fitout, const char *part);
/* Picks of the part's role that hold it (or, `holding` false, that do not) are barred. Of the
 * program's arena; NULL when memory is out. */
bool *sw_bar_holders(const sw_program *program, int role, const char *part, bool holding);

/* `without`, `baseline`: picks of the best bundle without the part (NULL: there is none), and
 * of the bundle that points are measured against. `never`: no bundle holds it at any price. */
sw_status sw_find_entry(sw_why_entry *out, sw_arena *arena, const sw_why_job *job,
                        const sw_setup *setup, const int *without, const int *baseline, bool never);
sw_status sw_find_weights(sw_why *why, const sw_why_job *job);

#endif
