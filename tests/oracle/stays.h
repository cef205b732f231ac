/* Sections 18 and 21 of the page: where the best bundle stays best in a changed job. */
#ifndef ORACLE_STAYS_H
#define ORACLE_STAYS_H

#include "why.h"

/* stays.c. Each change is "budget:TOTAL", "price:PART:SELLER:MONEY" or
 * "weight:CRITERION:PERCENT", by itself; points are measured against the baseline of
 * the job as it is. The bundles are found whatever they cost, and scored. */
void print_stays(Hunt *h, char **change, int changes);

/* stands.c. How the best bundle of the scenario `before` stands in this one. */
typedef struct Before {
    const char *scenario;
    unsigned long long limit;
} Before;
void print_stands(Hunt *h, const char *scenario, const Before *before);

/* The same parts and tasks, whoever sells them. */
bool same_fit_outs(const World *w, const Choice **a, const Choice **b);

/* brute.c */
void score_all(Hunt *h);

#endif
