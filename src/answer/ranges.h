/*
 * Over which budgets, prices and weights the best bundle stays best. Meanings: catalog/FORMATS.md
 * section 21. Owned by its answer's arena.
 */
#ifndef SW_ANSWER_RANGES_H
#define SW_ANSWER_RANGES_H

#include "answer/answer.h"
#include "answer/best.h"

#define SW_NO_END INT64_MAX

typedef struct sw_range_price {
    const char *part, *name, *seller, *seller_name;
    bool bought; /* the bundle buys it there */
    int64_t now;
    int64_t from, to; /* minor units; `to` SW_NO_END: at any price above */
    bool settled;
} sw_range_price;

typedef struct sw_range_weight {
    const char *criterion, *name;
    int64_t now_milli; /* percent */
    int from, to;      /* whole percents; from > to: at none but the present weight */
    bool settled;
} sw_range_weight;

struct sw_ranges {
    sw_answer *answer;              /* the bundle in bundles[0] */
    int64_t budget_from, budget_to; /* totals; `budget_to` SW_NO_END: no end */
    bool budget_settled;
    sw_range_price *prices;
    size_t price_count;
    sw_range_weight *weights;
    size_t weight_count;
};

/* `parts`: indexes of parts of the scenario. */
sw_status sw_find_ranges(sw_ranges **out, const sw_scenario *scenario, const int *parts,
                         size_t count, bool allow_unknown, sw_allowance allowance,
                         sw_complaints *complaints);

/* ---- the parts of it --------------------------------------------------------------------------
 */

typedef struct sw_staying {
    const sw_scenario *scenario;
    sw_best *job;
    bool allow_unknown;
    sw_allowance allowance; /* for this part of the answer */
    sw_complaints *complaints;
} sw_staying;

/* Of the time that is left, this share. */
sw_allowance sw_slice(const sw_allowance *allowance, int parts);
/* The prices of `listing`, for the parts of `role`. Leaves the job's prices as they were. */
sw_status sw_find_price_range(sw_range_price *out, const sw_staying *job, int listing, int role);
sw_status sw_find_weight_range(sw_range_weight *out, const sw_staying *job, size_t criterion);

#endif
