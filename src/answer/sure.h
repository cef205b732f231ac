/* Which swaps are right whatever the client turns out to like: FORMATS.md section 34. */
#ifndef SW_ANSWER_SURE_H
#define SW_ANSWER_SURE_H

#include "answer/answer.h"
#include "answer/weightings.h"

typedef enum sw_sure_kind { SW_SURE_AS_IT_IS, SW_SURE_PART, SW_SURE_TASK } sw_sure_kind;

typedef struct sw_sure_thing {
    sw_sure_kind kind;
    const char *role, *role_name;                    /* of a part or task, too */
    const char *id, *name;                           /* NULL for a role as it is */
    double index, share;                             /* of N, of the weightings drawn */
    double least_index, most_index, estimates_index; /* below 0: not known */
} sw_sure_thing;

typedef struct sw_sure_bundle {
    sw_answer_bundle bundle;
    const int64_t *by_criterion; /* [criterion] thousandths at weight 1 */
    double regret;               /* points */
} sw_sure_bundle;

/* How far a criterion's swing may be another, all else as answered: times `from` to `to`. */
typedef struct sw_sure_range {
    double from, to;             /* factors; `to` infinite: no end */
    double from_share, to_share; /* of all weight */
} sw_sure_range;

/* One of the three options, as the client was offered it. */
typedef struct sw_sure_option {
    size_t number; /* from 1 */
    const char *place;
    const char **keys; /* [role] of its fit-outs */
    int64_t cost;
    const int64_t *by_criterion;
    double regret;         /* points */
    sw_sure_range *ranges; /* [criterion of the weightings]; NULL: it is not best, or not known */
    double stays;          /* share of the weightings drawn; below 0: not known */
} sw_sure_option;

struct sw_sure {
    sw_arena *arena;
    sw_answer *answer; /* title, money, criteria; its status */
    sw_weightings weightings;
    sw_sure_bundle *bundles; /* N, in its order */
    size_t count;
    bool complete; /* N is */
    bool prices_known, estimates_known;
    int prices_percent, estimates_percent;
    sw_sure_thing *things; /* role by role: as it is, then parts; then tasks */
    size_t thing_count;
    size_t best, least_regret; /* of the bundles */
    sw_sure_option *options;   /* in the arena */
    size_t option_count;
    bool options_known; /* all of them were found */
};

/* What is asked beside N: the options, whose places, keys and costs are filled in. */
sw_status sw_find_sure(sw_sure **out, const sw_scenario *scenario, const sw_sure_job *job,
                       const sw_sure_option *options, size_t option_count, bool allow_unknown,
                       sw_allowance allowance, sw_complaints *complaints);

#endif
