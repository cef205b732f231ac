/*
 * Three priced options to lay before the client, and what their paper says. Meanings:
 * catalog/FORMATS.md sections 22 to 24. Owned by the arena of its plan.
 */
#ifndef SW_OPTIONS_H
#define SW_OPTIONS_H

#include "answer/answer.h"
#include "answer/look.h"

/* What the client complains of. */
typedef struct sw_told_trouble {
    const char *id, *name, *goal, *words; /* words "" when not said */
    const char *use, *use_name;           /* NULL where it is about no use */
    bool shows;
    bool lacks_must; /* it is ended by a must, and none is stated */
    bool settled;    /* false: the time ran out before `ended` was known */
    bool ended;      /* some bundle within the budget ends it */
    int64_t least;   /* where none does: what it costs at least; -1: nothing ends it */
} sw_told_trouble;

/* Pieces that a role holds. */
typedef struct sw_holding {
    const char *role, *role_name;
    sw_answer_part *parts;
    size_t count;
} sw_holding;

/* Parts bought for one option that a dearer one does not hold. */
typedef struct sw_given_up {
    size_t to; /* option */
    sw_answer_part *parts;
    size_t count;
    int64_t price; /* before tax */
} sw_given_up;

typedef enum sw_option_rule {
    SW_OPTION_ENDS_COMPLAINT,
    SW_OPTION_KEEPS_MONEY,
    SW_OPTION_BEST_RATE,
    SW_OPTION_BEND,
    SW_OPTION_NESTED_BEND,
    SW_OPTION_BEST
} sw_option_rule;

typedef enum sw_option_place { SW_FIRST, SW_MIDDLE, SW_FULL } sw_option_place;

#define SW_OPTIONS_MOST 3

typedef struct sw_option {
    sw_option_place place;
    sw_option_rule rule;
    size_t trouble; /* SW_OPTION_ENDS_COMPLAINT: of the troubles */
    bool proved;
    sw_answer_bundle bundle;
    const int *machine, *sure; /* [role] fit-outs of the job: all of it; without what is luck */
    bool *ends;                /* [trouble] */
    sw_answer_rate *promised;  /* without what is luck */
    size_t promised_count;
    bool has_chance; /* some of its work is luck */
    int days_without;
    bool has_looks;
    double looks_nearer; /* share of what is missing to the client's taste that is there then */
    const sw_answer_bundle *instead; /* more points for no more money, without ending its complaint;
                                        or NULL */
    bool next_ends;               /* the next step ends the complaint that this option is about */
    const sw_answer_bundle *next; /* step of the curve, or NULL */
    const sw_answer_bundle *hundred; /* the step for a hundred more; NULL: not known */
    bool *hazards, *asks;            /* [of the paper's] */
    sw_given_up given_up[SW_OPTIONS_MOST - 1];
    size_t given_up_count;
    sw_holding *stays; /* what stays of the present machine */
    size_t stay_count;
} sw_option;

typedef struct sw_told_hazard {
    const char *id, *danger, *habit, *limit;
} sw_told_hazard;

/* Where a role stands in the picture of the machine, 1000 by 800. */
typedef struct sw_told_place {
    const char *role, *label;
    int64_t x, y, width, height;
} sw_told_place;

/* The shop's terms in this job. */
typedef struct sw_terms {
    const char *shop, *date, *valid_until; /* "" when not stated */
    int valid_days;
    const char *surprise_name;    /* NULL: it says nothing of surprises */
    const char **free_to, **word; /* sentences */
    size_t free_count, word_count;
    const char **ask_ids, **asks; /* sentences: what needs the client's word */
    size_t ask_count;
    const char **promises;
    size_t promise_count;
    sw_told_hazard *hazards;
    size_t hazard_count;
    sw_told_place *drawing;
    size_t drawn_count;
} sw_terms;

typedef struct sw_options {
    sw_answer *plan;  /* frame, baseline, the best bundle and the verdict */
    sw_answer *curve; /* its steps, to what is asked beyond the budget */
    sw_look *look;
    sw_holding *present; /* the machine as it is */
    size_t present_count;
    sw_told_trouble *troubles;
    size_t trouble_count;
    sw_option options[SW_OPTIONS_MOST]; /* in their order */
    size_t count;
    const sw_answer_bundle *knee; /* NULL: the curve has no bend */
    bool has_nested;
    bool nested_taken;
    int64_t nested_loss; /* thousandths of a point */
    sw_answer_bundle nested;
    sw_terms terms;
} sw_options;

/* ---- between its files ------------------------------------------------------------------ */

typedef struct sw_option_job {
    sw_options *out;
    const sw_scenario *scenario;
    const sw_setup *setup;
    const sw_inquiry *inquiry;
    const int *best;              /* picks; NULL: none is known */
    int **steps;                  /* [step] picks */
    size_t first_step, best_step; /* of the curve: the cheapest; the last up to the best bundle */
    sw_demands *demands;          /* [trouble] */
    const int *picks[SW_OPTIONS_MOST]; /* of the options */
} sw_option_job;

/* Which complaints show, and the cheapest bundle that ends the first of them that can be ended:
 * `*picks` (NULL: none). */
sw_status sw_option_first(sw_option *out, const int **picks, sw_option_job *job);
/* Does the bundle end the complaint? */
bool sw_option_ends(const sw_option_job *job, size_t trouble, const int *picks);
/* Which of the others can be ended, and at what cost. */
sw_status sw_option_troubles(sw_option_job *job);
/* The bend of the curve between the options that are there; `*picks` NULL: none. */
sw_status sw_option_middle(sw_option *out, const int **picks, sw_option_job *job, const int *first,
                           const int *full);
/* All that is told of the option beside its bundle. */
sw_status sw_option_tell(sw_option_job *job, size_t option);
sw_status sw_terms_tell(sw_options *out, const sw_scenario *scenario);

/* The option that was signed, counted from 1; 0: the only one. NULL after a complaint about
 * "--option"; also where there is none, without one. */
const sw_option *sw_option_signed(const sw_options *options, int number, sw_complaints *complaints);

/* None of them is proved: what points count from is open itself. */
void sw_options_left_open(sw_options *options);

/* The options of a job of which `plan` tells the baseline; `plan` goes over to `*out`. */
sw_status sw_find_options(sw_options **out, sw_answer *plan, const sw_setup *setup,
                          const sw_inquiry *inquiry);
/* Where nothing fits: what is wrong today, which complaints show, and no options. */
sw_status sw_find_no_options(sw_options **out, sw_answer *plan, const sw_setup *setup,
                             sw_complaints *complaints);

#endif
