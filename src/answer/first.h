/*
 * In which order the groups of the best bundle are bought. Meanings: catalog/FORMATS.md section
 * 19. Owned by its answer's arena.
 */
#ifndef SW_ANSWER_FIRST_H
#define SW_ANSWER_FIRST_H

#include "answer/answer.h"

#define SW_FIRST_GROUPS_MOST 15

typedef struct sw_first_group {
    const char **roles, **role_names;
    size_t role_count;
    bool must;     /* the baseline changes one of these roles */
    int64_t alone; /* what it costs bought by itself */
} sw_first_group;

/* Why the groups of a purchase are bought at once. */
typedef enum sw_together {
    SW_TOGETHER_ALONE, /* it is one */
    SW_TOGETHER_FREE,  /* they cost nothing */
    SW_TOGETHER_NEEDS, /* nothing works in between */
    SW_TOGETHER_SAVES, /* apart they cost more */
    SW_TOGETHER_WORSE  /* in between the machine would be worse */
} sw_together;

typedef struct sw_first_purchase {
    const int *groups; /* indexes, rising */
    size_t group_count;
    int64_t cost, spent; /* spent: with those before */
    int64_t apart;       /* what its groups cost one by one */
    sw_together together;
    sw_answer_bundle stage; /* the machine after it; its cost is that of one order */
    int days;               /* until the last part of this purchase is here */
} sw_first_purchase;

struct sw_first {
    sw_answer *answer; /* its best bundle in bundles[0] */
    sw_first_group *groups;
    size_t group_count;
    int64_t horizon, area; /* area: thousandths of a point x minor units */
    sw_first_purchase *purchases;
    size_t purchase_count;
    bool has_threshold; /* the client said what money must bring */
    bool settled;       /* false: the time ran out, there are no purchases */
};

sw_status sw_find_first(sw_first **out, const sw_scenario *scenario, bool allow_unknown,
                        sw_allowance allowance, sw_complaints *complaints);

#endif
