/* Section 13 of the page: why a part is in the best bundle, or is not. */
#ifndef ORACLE_WHY_H
#define ORACLE_WHY_H

#include "hunt.h"

enum { DEAREST = 1000000000 }; /* the highest price there may be, in minor units */

typedef struct Why {
    const char *scenario, *part, *over;
    unsigned long long limit;
    bool each_price; /* entry prices by trying every price there is */
} Why;

typedef struct Asked { /* a job in which one seller has the part, at any price */
    Hunt *h;
    World *w;
    const char *part;
    int role;
    Listing *listing;
} Asked;

/* why.c */
/* The bundles are found and scored. Returns the exit code: 1 where nothing fits. */
int print_why(Hunt *h, const Why *why);
bool holds(const World *w, const Choice **at, const char *part);
/* The order of the baseline: as if there were no points. */
bool is_cheaper(Hunt *h, const Found *a, const Found *b);

/* weights.c: at which weights of each criterion the best bundle holds the part */
void print_weights(Hunt *h, const char *part);
/* The criteria count this much from now on. */
void weigh(Hunt *h, const double *weight);
/* The weights with one at this many percent, the others sharing the rest. */
void share_out(const double *now, int n, int which, int percent, double *out);

/* entry.c: at which prices the best bundle holds the part */
void print_entry(Hunt *h, const Why *why);
bool is_given(const World *w, const char *part);
/* The listing of the seller who is asked; NULL: nobody can send it. */
Listing *who_is_asked(const World *w, int part);
bool buys(const Asked *a, const Found *f);
long long cost_at(Asked *a, const Found *f, long long price);
/* The least price at which the seller's goods reach what waives delivery. */
long long waived_from(Asked *a, const Found *f);
void put_back_price(Asked *a, long long price);

/* entry_sharp.c: for each part that is sold a budget at which a waived delivery
 * leaves a gap between its entry prices, where there is one. */
void print_sharp(Hunt *h);

#endif
