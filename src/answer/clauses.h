/*
 * The terms of a job, each of which may be dropped: its hard rules, musts, wishes,
 * limits, promises and budget. catalog/FORMATS.md section 14.
 */
#ifndef SW_ANSWER_CLAUSES_H
#define SW_ANSWER_CLAUSES_H

#include "answer/answer.h"
#include "answer/setup.h"

typedef struct sw_clause {
    sw_clause_kind kind;
    int index;      /* rule, must, role, part, avoided name or given part */
    const char *id; /* "rule:socket" */
    bool bends;
} sw_clause;

typedef struct sw_clauses {
    const sw_scenario *scenario;
    bool allow_unknown;
    sw_clause *list;
    size_t count;
} sw_clauses;

/* In `arena`. Without the rules that the scenario's catalog does not make hard. */
sw_status sw_clauses_make(sw_clauses *out, sw_arena *arena, const sw_scenario *scenario,
                          bool allow_unknown);

/* The job without the dropped clauses [clause]. The scenario it is made from lives in the setup's
 * own arena. `*limit` on the bill. */
sw_status sw_clauses_setup(sw_setup *out, int64_t *limit, const sw_clauses *clauses,
                           const bool *dropped, sw_arena *arena, sw_complaints *complaints);

/* For the answer: what the clause says, in words' parts. */
sw_status sw_clause_tell(sw_answer_clause *out, sw_arena *arena, const sw_clauses *clauses,
                         size_t clause);

#endif
