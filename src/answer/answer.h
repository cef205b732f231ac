/*
 * What the person asked for, in facts and numbers: no text layout, no symbols.
 * Everything is owned by the answer's arena and holds no pointer into the
 * scenario, so it outlives it.
 */
#ifndef SW_ANSWER_H
#define SW_ANSWER_H

#include "check/calibration.h"
#include "estimate/measures.h"
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
    bool chance; /* what it brings is luck */
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
    SW_CAUTION_GIVEN,   /* a string on a donated part */
    SW_CAUTION_NEAR     /* a measure comes nearer to its limit than it is today */
} sw_caution_kind;

typedef struct sw_answer_caution {
    sw_caution_kind kind;
    const char *id;     /* rule, task, part or measure */
    const char *client; /* sentence for the client */
    const char *bench;  /* sentence for the bench; NULL when the same */
} sw_answer_caution;

typedef struct sw_answer_rate {
    const char *use, *use_name, *unit;
    double rate_now, rate_then;         /* 0 when the client measured none */
    double rate_low, rate_high;         /* the spread of rate_then */
    double low, ratio, high;            /* over the present rate, with its spread */
    const char *limit_now, *limit_then; /* names of the stages that govern */
} sw_answer_rate;

/* A measure before and after. */
typedef struct sw_answer_measure {
    const char *id, *name, *unit;
    int digits;
    sw_interval now, then;
} sw_answer_measure;

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
    sw_answer_measure *measures; /* those that the catalog wants told, where known */
    size_t measure_count;
    int longest_days; /* until the last part is here */
    /* A step of the curve that ended early: for what it costs, up to the next step, there may be
     * bundles with so many points more; 0: proved; INT64_MAX: not known. */
    int64_t open;
} sw_answer_bundle;

/* A straight piece of the envelope of the curve: FORMATS.md section 11. */
typedef struct sw_answer_slope {
    size_t from, to;          /* the steps it joins, by index */
    int64_t price_millionths; /* of a point, in millionths of the currency; -1: beyond telling */
    int64_t per_hundred;      /* points for each 100 of the currency, in thousandths; or -1 */
} sw_answer_slope;

/* Were the bundles proved a second time, by the linear solver? */
typedef enum sw_verified {
    SW_VERIFIED_NOT_ASKED,
    SW_VERIFIED_ALL,
    SW_VERIFIED_SOME,
    SW_VERIFIED_NONE
} sw_verified;

/* Swaps and work of the best bundle that hang together. FORMATS.md section 11. */
typedef struct sw_answer_group {
    const char **roles, **role_names;
    size_t role_count;
    bool must;                 /* the baseline changes one of these roles */
    int64_t cost;              /* what the bundle would cost less without them */
    bool settled;              /* false: the time ran out before its worth was known */
    bool needed;               /* no bundle obeys without them: no worth */
    int64_t worth;             /* points lost without them; valid when settled and not needed */
    sw_answer_bundle *without; /* the best bundle without them, or NULL */
} sw_answer_group;

/* Another bundle that was asked for: found, none, or not settled in time. */
typedef struct sw_answer_other {
    sw_answer_bundle *bundle; /* NULL: none, or not settled */
    bool open;                /* not settled */
} sw_answer_other;

typedef enum sw_advice {
    SW_ADVICE_NONE,  /* the client named no threshold, or it was not settled */
    SW_ADVICE_SPEND, /* every step up to the best bundle is worth its money */
    SW_ADVICE_LESS,  /* spend as in `worthwhile`: the rest brings too little */
    SW_ADVICE_KEEP   /* no money is worth spending beyond the baseline's */
} sw_advice;

typedef struct sw_answer_look_up {
    const char *part, *name, *fact, *meaning;
} sw_answer_look_up;

typedef struct sw_answer_must {
    const char *id, *why; /* why may be "" */
    const char *replace;  /* name of the part that must go, or NULL */
    const char *task;     /* name of the task that must be done, or NULL */
} sw_answer_must;

typedef enum sw_clause_kind {
    SW_CLAUSE_RULE,
    SW_CLAUSE_MUST_REPLACE,
    SW_CLAUSE_MUST_DO,
    SW_CLAUSE_KEEP_ROLE,
    SW_CLAUSE_KEEP_PART,
    SW_CLAUSE_REPLACE_ROLE,
    SW_CLAUSE_REPLACE_PART,
    SW_CLAUSE_AVOID,
    SW_CLAUSE_LOUDNESS,
    SW_CLAUSE_DAYS,
    SW_CLAUSE_MINUTES,
    SW_CLAUSE_USE, /* a given part that must be used */
    SW_CLAUSE_UNKNOWN,
    SW_CLAUSE_BUDGET
} sw_clause_kind;

/* A term of the job: catalog/FORMATS.md section 14. */
typedef struct sw_answer_clause {
    sw_clause_kind kind;
    const char *id;      /* "rule:socket" */
    const char *subject; /* name of the rule, part, task, role or maker; "" for the others */
    const char *why;     /* of a must; "" for the others */
    int64_t number;      /* sone in thousandths, days, minutes, minor units; else 0 */
} sw_answer_clause;

/* Terms that cannot hold together, none to spare. */
typedef struct sw_answer_conflict {
    sw_answer_clause *clauses;
    size_t clause_count;
    bool settled; /* false: the time ran out, and there are no clauses */
} sw_answer_conflict;

/* Terms that let something fit when they are dropped together. */
typedef struct sw_answer_mend {
    sw_answer_clause *clauses;
    size_t clause_count;
    int64_t needed;          /* with the budget among them: what it takes at least; else 0 */
    sw_answer_bundle bundle; /* points against the present machine */
} sw_answer_mend;

typedef struct sw_answer_open {
    const char *role, *role_name, *ask;
} sw_answer_open;

struct sw_answer {
    sw_arena *arena;
    const sw_calibration
        *learnt;        /* put on all that is described; lives while the run does; NULL: none */
    size_t learnt_jobs; /* of it; 0: none was asked for */
    sw_answer_status status;
    const char *title, *currency;
    const char *const *assumed; /* sentences: what nobody said */
    size_t assumed_count;
    const char *const *beware; /* sentences: what can hurt in this very machine */
    size_t beware_count;
    int digits;
    int64_t budget_total, reserve, sundries, budget;
    size_t criterion_count;
    const char **criterion_ids, **criterion_names;
    const char **criterion_kinds; /* "speed", "quiet", "looks", "rated" */
    double *weights;
    bool has_sound;
    double level_now_dba, loudness_now_sone;
    sw_answer_must *musts;
    size_t must_count;
    sw_answer_open *to_ask; /* what nobody has looked at yet */
    size_t to_ask_count;
    sw_answer_bundle baseline;
    bool has_baseline;
    sw_answer_conflict conflict; /* nothing fits */
    sw_answer_mend *mends;       /* best first */
    size_t mend_count;
    bool mends_settled;
    int64_t needed;            /* nothing fits the budget: what the musts cost at least; else 0 */
    sw_answer_bundle *bundles; /* ranked; or the steps of the curve, cheapest first */
    size_t bundle_count;
    sw_answer_slope *envelope; /* of the curve, from the steepest piece on */
    size_t envelope_count;
    sw_verified verified;
    size_t verify_count, verified_count; /* bundles to be proved again, and of these proved */
    int asked_count, apart;              /* bundles asked for, roles they were to differ in */
    sw_answer_group *groups;
    size_t group_count;
    /* On the curve: its first step; those before and after the best bundle. */
    sw_answer_other first, last, next;
    sw_answer_other best_rate, worthwhile;
    sw_advice advice;
    int64_t worth_at_least_milli; /* points per 100 of the currency, -1: not said */
    bool at_its_end;              /* the best bundle renews nearly the whole machine */
    size_t renewed, renewable;    /* roles */
    bool unsettled;               /* the time ran out on something asked beside the bundles */
    bool brief;                   /* the bundles alone were asked for */
    bool asked_to_stop;           /* stopped early or unsettled by `halt`, not by the time */
    int64_t curve_from, curve_to; /* curve: costs asked for; curve_to -1: without end */
    int64_t bound; /* stopped early: no bundle has more points; INT64_MAX: not known */
    sw_answer_look_up *look_ups;
    size_t look_up_count;
    size_t left_out_late, left_out_no_stock, left_out_avoided; /* parts */
};

/* ---- made by this stage ------------------------------------------------------- */

/* What answers are found with. */
typedef struct sw_inquiry {
    sw_program *program;
    const int *baseline; /* picks */
    sw_allowance allowance;
    sw_complaints *complaints;
    bool verify;
} sw_inquiry;

sw_status sw_answer_start(sw_answer **out, const sw_scenario *scenario);
/* What was left out beside `machine` (the best found, or the present one), and
 * the present machine's own sound. */
sw_status sw_answer_finish(sw_answer *answer, sw_fitouts *fitouts, const sw_rulebook *book,
                           const sw_estimates *estimates, int *machine);
/* Describes a solution; `base` picks mark which swaps are musts (NULL: none). */
sw_status sw_bundle_describe(sw_answer_bundle *out, sw_answer *answer, const sw_program *program,
                             const int *picks, const int *base);

/* Lets the linear solver prove the bundle again; counts it in the answer. */
sw_status sw_verify_bundle(sw_answer *answer, const sw_inquiry *inquiry, const sw_request *request,
                           const int *picks);
/* The `count` best bundles, each `apart` from those before; `*best` are the picks
 * of the first. */
sw_status sw_find_ranked(sw_answer *answer, const sw_inquiry *inquiry, int count, int apart,
                         const int **best);
/* A hundred of the currency, in minor units. */
int64_t sw_hundred(const sw_answer *answer);
/* Points for each 100 of the currency, in thousandths; -1 where the cost is 0. */
int64_t sw_per_hundred(const sw_answer *answer, int64_t points, int64_t cost);
/* The groups of `best`, what each costs and is worth. */
sw_status sw_find_groups(sw_answer *answer, const sw_inquiry *inquiry, const int *best);
/* The verdict, and the steps it stands on: the first and the one before the best. */
sw_status sw_find_verdict(sw_answer *answer, const sw_inquiry *inquiry, const int *best);
/* The same from proved steps of the curve, from the first to the best bundle. */
sw_status sw_read_verdict(sw_answer *answer, const sw_inquiry *inquiry, sw_answer_bundle *steps,
                          size_t count, const int *best);
/* The step after the best: the slowest question, asked last. */
sw_status sw_find_next(sw_answer *answer, const sw_inquiry *inquiry, const int *best);
/* The steps of the curve from cost `from` to `to` (-1: without end); their picks into `*picks`
 * (NULL: not asked for). */
sw_status sw_find_steps(sw_answer *answer, int ***picks, const sw_inquiry *inquiry, int64_t from,
                        int64_t to);
/* What the client's uses come to in the machine. */
sw_status sw_rates_describe(sw_answer_rate **out, size_t *count, sw_arena *arena,
                            const sw_estimates *estimates, const int *machine);
/* The envelope of the steps that are there. */
sw_status sw_find_envelope(sw_answer *answer);

#endif
