/* A job solved for its best bundle and nothing else, for questions that ask many jobs alike. */
#ifndef SW_ANSWER_BEST_H
#define SW_ANSWER_BEST_H

#include "answer/answer.h"
#include "answer/setup.h"

typedef struct sw_best {
    sw_setup setup;
    sw_solution baseline, best; /* `found` in both, or in none */
    sw_end end;
} sw_best;

/* `like` (NULL: none): a job whose bundles are likely to be good here too. The scenario must
 * outlive it. On failure there is nothing to free. */
sw_status sw_best_find(sw_best *out, const sw_scenario *scenario, bool allow_unknown,
                       const sw_best *like, sw_allowance allowance, sw_complaints *complaints);
/* Asks a job that was found for its best bundle at another budget. */
sw_status sw_best_at(sw_solution *out, const sw_best *of, int64_t budget, sw_allowance allowance,
                     sw_complaints *complaints);
/* An answer that holds the bundle (of `solution`, which is of this job) and the job's frame;
 * free it. */
sw_status sw_best_tell(sw_answer **out, const sw_best *of, const sw_scenario *scenario,
                       const sw_solution *solution);
void sw_best_free(sw_best *best);

/* The fit-out of the role with that key, or SW_NONE. */
int sw_fitout_with_key(const sw_fitouts *fitouts, int role, const char *key);
/* The machine with some of its tasks ([task]) not done. SW_INTERNAL where that is none of the
 * job's, which no data can bring about. */
sw_status sw_machine_without(int *out, const sw_fitouts *fitouts, sw_arena *arena,
                             const int *machine, const bool *tasks);
/* The choice of the fit-out whose sellers are these; else its first. */
int sw_choice_like(const sw_fitouts *fitouts, int fitout, const char *seller_key);
/* The machine that `picks` make in `from`, as fit-outs of `to` ([role], SW_NONE: not there); NULL
 * when memory is out. In the arena of `to`. */
int *sw_machine_in(const sw_fitouts *to, const sw_program *from, const int *picks);
/* The picks of these choices where they stand beside one another; false when one is not in the
 * program. */
bool sw_picks_of(int *picks, const sw_program *program, const int *choices);

#endif
