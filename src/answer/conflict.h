/*
 * When nothing fits: a conflict of the job's terms, and the least of them that mend it.
 * catalog/FORMATS.md section 14.
 */
#ifndef SW_ANSWER_CONFLICT_H
#define SW_ANSWER_CONFLICT_H

#include "answer/clauses.h"
#include "answer/why.h"

/* A question of what can hold together. */
typedef struct sw_quarrel {
    sw_clauses clauses;
    sw_arena *arena;  /* of what is to last */
    const char *part; /* bundles must hold this part, of `role`; NULL: any bundle */
    int role;
    sw_allowance allowance;
    sw_complaints *complaints;
    bool early; /* the time ran out on a question */
} sw_quarrel;

/* Does any bundle obey without the dropped clauses [clause]? */
sw_status sw_quarrel_ask(bool *obeys, sw_quarrel *quarrel, const bool *dropped);

/* Takes clauses away from `dropped`'s complement until what is left is a conflict: `in` [clause].
 * Nothing may obey without the dropped ones. */
sw_status sw_quarrel_conflict(bool *in, sw_quarrel *quarrel, const bool *dropped);

/* Conflict and mends of a job that nothing fits. */
sw_status sw_find_conflict(sw_answer *answer, const sw_scenario *scenario, bool allow_unknown,
                           sw_allowance allowance, sw_complaints *complaints);
/* From one conflict [clause]. */
sw_status sw_find_mends(sw_answer *answer, sw_quarrel *quarrel, const bool *conflict);
/* Why no bundle may hold the part, whatever it costs. */
sw_status sw_find_refusal(sw_answer_conflict *out, sw_arena *arena, const sw_why_job *job);

#endif
