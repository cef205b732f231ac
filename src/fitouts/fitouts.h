/*
 * What each role may hold: every fit-out with every set of tasks, its facts
 * combined over its pieces, and every way to buy it with its price.
 * Pure: the same scenario gives the same fit-outs in the same order.
 */
#ifndef SW_FITOUTS_H
#define SW_FITOUTS_H

#include "check/scenario.h"

#define SW_CLIENT (-2)        /* the seller of given parts */
#define SW_CHOICE_LIMIT 20000 /* choices in one role */
#define SW_KINDS_MOST 2       /* different new parts in one fit-out */

/* Where a part can be had in this job, after days, stock and avoid. */
typedef struct sw_source {
    int part;
    int seller;  /* or SW_CLIENT */
    int listing; /* or SW_NONE */
    int given;   /* or SW_NONE */
    int64_t price;
    int64_t counted; /* towards free delivery */
    int stock;
    int days; /* until it is here */
} sw_source;

/* A part that no bundle may hold, and why. */
typedef enum sw_left_out_why {
    SW_OUT_TOO_LATE,
    SW_OUT_NO_STOCK,
    SW_OUT_AVOIDED,
    SW_OUT_UNKNOWN /* `fact` is to be looked up */
} sw_left_out_why;

typedef struct sw_left_out {
    int part;
    sw_left_out_why why;
    int fact; /* SW_OUT_UNKNOWN, else SW_NONE */
} sw_left_out;

typedef struct sw_added {
    int part, count;
} sw_added;

/* Parts and tasks of one role. Who sells them does not matter here. */
typedef struct sw_fitout {
    int role;
    const int *kept; /* [present entry of the role] pieces that stay */
    sw_added added[SW_KINDS_MOST];
    int added_count;
    const int *tasks; /* indexes, rising */
    int task_count;
    int pieces;
    bool changes;           /* the parts differ from the present ones */
    bool adds;              /* holds a new part */
    bool allowed;           /* by musts, wishes and strings */
    const sw_value *values; /* by slot: see sw_fitout_value */
    const char *key;        /* for the order of ties */
    int64_t offers;         /* firm offers for the pieces taken out */
    int first_choice, choice_count;
} sw_fitout;

typedef struct sw_line {
    int source;
    int count;
    int64_t goods;   /* price x count, as the seller asks it */
    int64_t counted; /* of it, towards free delivery */
    int64_t landed;  /* with its tax when tax is rounded per line */
} sw_line;

/* A fit-out and who sells its added parts. */
typedef struct sw_choice {
    int fitout;
    sw_line lines[SW_KINDS_MOST];
    int line_count;
    const char *seller_key;
    int64_t cost;    /* change, tasks and their labour; net of invoice tax */
    int64_t minutes; /* the change's and the tasks' */
} sw_choice;

typedef struct sw_fitouts {
    sw_arena *arena;
    const sw_scenario *scenario;
    const sw_catalog *catalog;
    sw_source *sources; /* by part, then price, then seller id */
    size_t source_count;
    sw_left_out *left_out;
    size_t left_out_count, left_out_room;
    int **slot; /* [role][fact] place in a fit-out's values, or SW_NONE */
    int *slot_count;
    sw_fitout *fitouts; /* role by role, in byte order of the keys */
    size_t fitout_count, fitout_room;
    int *first_fitout;  /* [role], role_count + 1 entries */
    int *present;       /* [role] the present fit-out without tasks */
    sw_choice *choices; /* fit-out by fit-out */
    size_t choice_count, choice_room;
} sw_fitouts;

sw_status sw_fitouts_make(sw_fitouts **out, const sw_scenario *scenario, sw_complaints *complaints);
void sw_fitouts_free(sw_fitouts *fitouts);

/* Another price of one listing, and what counts towards free delivery: in all choices that buy by
 * it. The order of sources stays as it was. */
void sw_choices_reprice(sw_fitouts *fitouts, int listing, int64_t price, int64_t counted);

/* The fact's value; a constant void value when it does not stand on the role. */
const sw_value *sw_fitout_value(const sw_fitouts *fitouts, const sw_fitout *fitout, int fact);

/* Remembers once that `part` (or every new part of `fitout`) is left out. */
bool sw_left_out_add(sw_fitouts *fitouts, int part, sw_left_out_why why, int fact);

/* ---- expressions and conditions over one role's fit-out --------------------- */

typedef struct sw_number {
    sw_state state;
    double value;
} sw_number;

/* On the straight lines between points of rising x; the end values beyond. */
double sw_line_at(const double *xs, const double *ys, size_t count, double x);

sw_number sw_expr_value(const sw_fitouts *fitouts, const sw_expr *expr, const sw_fitout *fitout);

typedef enum sw_truth { SW_FALSE, SW_MAYBE, SW_TRUE } sw_truth;

/* `fitout` is the one of the condition's role; NULL for an observation. */
sw_truth sw_cond_truth(const sw_fitouts *fitouts, const sw_cond *cond, const sw_fitout *fitout);
sw_truth sw_truth_and(sw_truth a, sw_truth b);
sw_truth sw_truth_not(sw_truth a);

/* ---- money -------------------------------------------------------------------- */

/* An amount with its tax, when tax is rounded line by line; else the amount. */
int64_t sw_landed(const sw_scenario *scenario, int64_t amount);
/* The tax on a whole bill, when it is rounded per invoice; else 0. */
int64_t sw_invoice_tax(const sw_scenario *scenario, int64_t bill);
/* The largest bill whose total with invoice tax is within `budget`. */
int64_t sw_bill_limit(const sw_scenario *scenario, int64_t budget);
/* Labour for `minutes`: without any tax, and with it when that is rounded per
 * line. */
int64_t sw_labour_net(const sw_scenario *scenario, int64_t minutes);
int64_t sw_labour(const sw_scenario *scenario, int64_t minutes);

#endif
