/*
 * What each phase may hold, and what can be bought in it. Phases with the same market share one
 * setup.
 */
#ifndef SW_ANSWER_MARKETS_H
#define SW_ANSWER_MARKETS_H

#include "answer/setup.h"

typedef struct sw_market {
    sw_scenario scenario; /* the job's, with this market's catalog and given parts */
    sw_catalog catalog;
    sw_setup setup;
} sw_market;

typedef struct sw_markets {
    sw_arena *arena;
    const sw_scenario *scenario;
    size_t count; /* phases */
    /* [phase] Everything that can be there by then: bought now or before, at the least price so
     * far. Scored against the first phase's baseline. */
    sw_market **there;
    sw_market **shop; /* [phase] what can be bought in it, as it is sold then */
    sw_market *owned; /* 2 a phase */
    size_t owned_count;
    int **next;     /* [phase][fit-out of `there`] the same one in the next phase's */
    int64_t *money; /* [phase] up to it */
} sw_markets;

sw_status sw_markets_make(sw_markets *out, const sw_scenario *scenario, bool allow_unknown,
                          sw_complaints *complaints);
void sw_markets_free(sw_markets *markets);
/* Scores all against this machine of the first phase (a fit-out of `there` per role). */
sw_status sw_markets_score(sw_markets *markets, const int *baseline);

/* The fit-out `f` of `there` of phase `from` in phase `to` (SW_NONE: not there). */
int sw_market_fitout(const sw_markets *markets, size_t from, size_t to, int fitout);

#endif
