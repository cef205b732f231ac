/*
 * What to buy when, where the money comes in phases. Meanings: catalog/FORMATS.md section 20.
 * Owned by its answer's arena.
 */
#ifndef SW_ANSWER_PHASES_H
#define SW_ANSWER_PHASES_H

#include "answer/answer.h"

typedef struct sw_phase_told {
    const char *on, *until;
    int64_t days;         /* how long it lasts */
    int64_t money, spent; /* up to this phase */
    int64_t cost;         /* of its purchase */
    const char **roles;   /* that change in it, by id */
    size_t role_count;
    int here_in;            /* days until the last part of its purchase is here */
    sw_answer_bundle stage; /* the machine in this phase; its cost is that of one order */
} sw_phase_told;

struct sw_phases {
    sw_answer *answer; /* the frame; no bundles */
    int64_t value;     /* thousandths of a point x days */
    int64_t bound;     /* stopped early: no plan has more; INT64_MAX: not known */
    sw_phase_told *phases;
    size_t phase_count;
    /* Phase 1 as if it were the last. */
    sw_answer_bundle *greedy; /* NULL: not settled */
    bool greedy_too;          /* the plan does just that in phase 1 */
    int64_t greedy_value;     /* of the best that may follow it; -1: not settled */
};

sw_status sw_find_phases(sw_phases **out, const sw_scenario *scenario, bool allow_unknown,
                         sw_allowance allowance, sw_complaints *complaints);

#endif
