/*
 * What to buy where for the option that was signed; and, where a listing is gone or the job has
 * changed, the ways to go on, what changes by them, and what needs the client's word. Meanings:
 * catalog/FORMATS.md section 25. Owned by its arena; the options and the answer of today own their
 * own, and hold no pointer into a scenario.
 */
#ifndef SW_ANSWER_SHOPPING_H
#define SW_ANSWER_SHOPPING_H

#include "answer/options.h"
#include "answer/whatif.h"

typedef enum sw_way { SW_WAY_SAME, SW_WAY_LEAST, SW_WAY_ANEW } sw_way;
#define SW_WAYS 3
#define SW_NO_WAY SW_WAYS

typedef struct sw_told_way {
    sw_way way;
    bool proved;
    sw_answer_bundle bundle; /* its points on the yardstick of the job as agreed, where known */
    bool has_points;         /* the job as agreed has such a machine */
    const char **keys;       /* [role] parts and work */
} sw_told_way;

/* What is not as agreed. */
typedef enum sw_agreed_kind {
    SW_CHANGED_PARTS, /* or work */
    SW_CHANGED_SELLER,
    SW_CHANGED_TOTAL,
    SW_CHANGED_DAY
} sw_agreed_kind;

typedef enum sw_freedom { SW_FREE_NOT, SW_FREE_SELLER, SW_FREE_AS_GOOD, SW_FREE_PART } sw_freedom;

typedef struct sw_agreed_change {
    sw_agreed_kind kind;
    const char *role, *role_name; /* NULL: of the whole */
    sw_answer_part *from, *to;    /* all that the role holds; seller NULL: stays */
    size_t from_count, to_count;
    const sw_answer_task **work_from, **work_to;
    size_t work_from_count, work_to_count;
    sw_freedom free_by;                             /* SW_FREE_NOT: it needs the client's word */
    bool dearer, later, less_warranty, less_return; /* of this role alone */
} sw_agreed_change;

typedef struct sw_ordered {
    const char *role, *role_name;
    const sw_answer_part *part;
    int64_t price_each;
    const char *here_on, *warranty_until, *return_until; /* NULL: no date, or none of it */
    bool changed;
} sw_ordered;

typedef struct sw_order {
    const char *seller, *name; /* "client": what the client brings */
    sw_ordered *lines;
    size_t count;
    int64_t goods, delivery, free_from; /* free_from -1: never */
    bool has_delivery, waived;
    int days;
    const char *here_on; /* the last of it; NULL: no date */
} sw_order;

typedef struct sw_gone {
    const char *part, *name;
    const char *seller, *seller_name; /* NULL: nobody has it any more */
} sw_gone;

struct sw_shopping {
    sw_arena *arena;
    sw_options *options;
    const sw_option *option; /* NULL: there is none */
    size_t number;
    sw_answer *today; /* frame of today's job; NULL: nothing changed */
    sw_gone *gone;
    size_t gone_count;
    sw_whatif_change *settings;
    size_t setting_count;
    bool allows_seller, allows_as_good, allows_part; /* without asking */
    sw_told_way ways[SW_WAYS];
    size_t way_count;
    const sw_answer_bundle *taken; /* NULL: nothing can be bought */
    sw_way taken_way;              /* SW_NO_WAY: as agreed */
    int64_t same_costs; /* what was agreed, bought today, where that is over the budget; or -1 */
    bool way_open;      /* the time ran out before it was known which ways there are */
    bool nothing_today;
    sw_agreed_change *changes;
    size_t change_count;
    bool *worse;      /* [criterion] the taken one has fewer points there */
    int later_by;     /* days from the day of the agreed job to today's */
    const char *date; /* of today's job; NULL: none */
    sw_order *orders;
    size_t order_count;
    int64_t goods, deliveries;
    bool before_tax;
    const char *last_on; /* NULL: no date */
    bool asked_to_stop;
};

/* ---- between its files ------------------------------------------------------------------ */

typedef struct sw_shopping_job {
    sw_shopping *out;
    const sw_scenario *agreed,
        *scenario;                /* as it was agreed; today's: the same where not changed */
    const sw_setup *agreed_setup; /* scored */
    const sw_setup *setup;        /* today's; NULL: not changed */
    const int *baseline;          /* of today's job, picks; NULL: nothing fits */
    sw_end end;                   /* of the search for it */
    sw_way asked;                 /* SW_NO_WAY: none */
    sw_allowance allowance;
    sw_complaints *complaints;
} sw_shopping_job;

/* Reads what the errands ask: `*today` is the changed scenario, NULL where nothing changes. */
sw_status sw_shopping_start(sw_shopping **out, sw_scenario **today, sw_way *asked,
                            const sw_scenario *scenario, const sw_errands *errands,
                            sw_complaints *complaints);
/* The ways to go on, and the one that is taken. */
sw_status sw_shopping_ways(sw_shopping_job *job);
/* What the taken one changes, and what of it needs the client's word. */
sw_status sw_shopping_changes(sw_shopping_job *job);
/* What is bought where. */
sw_status sw_shopping_orders(sw_shopping_job *job);

/* The swap of the role; NULL: it is as today. */
const sw_answer_swap *sw_bundle_swap(const sw_answer_bundle *bundle, const char *role);

/* All of it, once the option is known and today's job is made. */
sw_status sw_find_shopping(sw_shopping_job *job);

#endif
