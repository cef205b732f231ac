/*
 * What the person asked for, in facts and numbers: no text layout, no symbols.
 * Everything is owned by the answer's arena and holds no pointer into the
 * scenario, so it outlives it.
 */
#ifndef SW_ANSWER_H
#define SW_ANSWER_H

#include "program/program.h"

typedef struct sw_answer_part {
    const char *id, *name;
    int count;
    const char *condition;            /* of a present part: "good", "worn" ..., else "" */
    const char *seller, *seller_name; /* of an added part: ids; "client" when given */
    int64_t price;                    /* of an added part: listing price x count, before tax */
    int days;                         /* of an added part: until it is here */
    int warranty_months, return_days; /* -1 when not a listing */
    int64_t offer, hoped;             /* of a part taken out, for all pieces */
} sw_answer_part;

typedef struct sw_answer_swap {
    const char *role, *role_name;
    bool must; /* the baseline already makes this very change */
    sw_answer_part *out, *in, *stays;
    size_t out_count, in_count, stay_count;
    int64_t cost; /* lines less offers, with tax per line; without labour */
    int64_t minutes;
} sw_answer_swap;

typedef struct sw_answer_task {
    const char *id, *name, *role, *role_name;
    const char *caution; /* NULL when none */
    int64_t price, minutes;
    bool must;
} sw_answer_task;

typedef struct sw_answer_charge {
    const char *id, *name; /* id: a charge, or "delivery-" and the seller */
    int64_t amount, minutes;
    bool waived;
    bool errand; /* time spent on a seller; never charged */
} sw_answer_charge;

typedef enum sw_caution_kind {
    SW_CAUTION_RULE,    /* a caution rule is broken by the bundle */
    SW_CAUTION_TODAY,   /* a hard rule falls short, no worse than today */
    SW_CAUTION_UNKNOWN, /* let in although a fact is unknown */
    SW_CAUTION_TASK,    /* what a task warns of */
    SW_CAUTION_GIVEN    /* a string on a donated part */
} sw_caution_kind;

typedef struct sw_answer_caution {
    sw_caution_kind kind;
    const char *id;     /* rule, task or part */
    const char *client; /* sentence for the client */
    const char *bench;  /* sentence for the bench; NULL when the same */
} sw_answer_caution;

typedef struct sw_answer_rate {
    const char *use, *use_name, *unit;
    double rate_now, rate_then; /* 0 when the client measured none */
    double ratio;
    const char *limit_now, *limit_then; /* names of the stages that govern */
} sw_answer_rate;

typedef struct sw_answer_bundle {
    int rank;
    int64_t points;
    int64_t *by_criterion; /* [criterion] */
    int64_t cost;          /* what it takes from the budget, tax included */
    int64_t goods;         /* parts, as the sellers ask */
    int64_t offers;        /* for parts taken out, as far as they count */
    int64_t task_prices, charges, labour, tax;
    int64_t minutes;
    sw_answer_swap *swaps;
    size_t swap_count;
    sw_answer_task *tasks;
    size_t task_count;
    sw_answer_charge *dues;
    size_t due_count;
    sw_answer_caution *cautions;
    size_t caution_count;
    double level_dba, loudness_sone;
    sw_answer_rate *rates;
    size_t rate_count;
    int longest_days; /* until the last part is here */
} sw_answer_bundle;

typedef struct sw_answer_look_up {
    const char *part, *name, *fact, *meaning;
} sw_answer_look_up;

typedef struct sw_answer_must {
    const char *id, *why; /* why may be "" */
    const char *replace;  /* name of the part that must go, or NULL */
    const char *task;     /* name of the task that must be done, or NULL */
} sw_answer_must;

struct sw_answer {
    sw_arena *arena;
    sw_answer_status status;
    const char *title, *currency;
    int digits;
    int64_t budget_total, reserve, sundries, budget;
    size_t criterion_count;
    const char **criterion_ids, **criterion_names;
    double *weights;
    bool has_sound;
    double level_now_dba, loudness_now_sone;
    sw_answer_must *musts;
    size_t must_count;
    sw_answer_bundle baseline;
    bool has_baseline;
    int64_t needed;            /* nothing fits the budget: what the musts cost at least; else 0 */
    bool needed_open;          /* the time ran out before that was settled */
    sw_answer_bundle *bundles; /* one, or none */
    size_t bundle_count;
    int64_t bound; /* stopped early: no bundle has more points; INT64_MAX: not known */
    sw_answer_look_up *look_ups;
    size_t look_up_count;
    size_t left_out_late, left_out_no_stock, left_out_avoided; /* parts */
};

/* ---- made by this stage ------------------------------------------------------- */

sw_status sw_answer_start(sw_answer **out, const sw_scenario *scenario);
/* What was left out beside `machine` (the best found, or the present one), and
 * the present machine's own sound. */
sw_status sw_answer_finish(sw_answer *answer, sw_fitouts *fitouts, const sw_rulebook *book,
                           const sw_estimates *estimates, int *machine);
/* Describes a solution; `base` picks mark which swaps are musts (NULL: none). */
sw_status sw_bundle_describe(sw_answer_bundle *out, sw_answer *answer, const sw_program *program,
                             const int *picks, const int *base);

#endif
