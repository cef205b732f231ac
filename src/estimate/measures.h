/* What is told of a machine and never scored: catalog/FORMATS.md section 15. Pure. */
#ifndef SW_MEASURES_H
#define SW_MEASURES_H

#include "estimate/estimates.h"

/* What nobody stated: a fact of a role, or (role SW_NONE) what the text names. */
typedef struct sw_lack {
    int role, fact;
    const char *text;  /* its name; NULL: nothing lacks */
    const char *about; /* in words */
} sw_lack;

typedef struct sw_interval {
    sw_state state;
    double low, mid, high;
    sw_lack lack; /* SW_UNKNOWN */
} sw_interval;

/* New fans, and which way they blow where they stand. */
typedef struct sw_air_stand {
    const sw_thing *thing; /* of a fit-out */
    sw_blows blows;
    int count;
} sw_air_stand;

/* The measures of one machine. */
typedef struct sw_measuring {
    sw_arena *arena;
    const sw_estimates *estimates;
    const int *machine;         /* a fit-out per role */
    const sw_air_stand *stands; /* for things that do not say which way they blow */
    size_t stand_count;
    sw_interval *values; /* [measure] */
    double *held_back;   /* [role] times by which the uses would be faster without its stages */
    bool air_known;
    sw_lack air_lack;
    sw_air air;
    bool radiator_out;
} sw_measuring;

/* Everything in `arena`; `machine` and `stands` (may be NULL) must outlive it. */
sw_status sw_measuring_make(sw_measuring *out, sw_arena *arena, const sw_estimates *estimates,
                            const int *machine, const sw_air_stand *stands, size_t stand_count);
/* Any part of a measure's expression. */
sw_interval sw_measured(const sw_measuring *measuring, const sw_expr *expr);
/* The condition of a finding. */
sw_truth sw_finding_truth(const sw_measuring *measuring, const sw_finding_cond *cond);

#endif
