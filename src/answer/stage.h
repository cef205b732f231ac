/* What the files of this folder share among themselves. */
#ifndef SW_ANSWER_STAGE_H
#define SW_ANSWER_STAGE_H

#include "answer/answer.h"

/* A rule's sentence with {need}, {room}, {short}, {left}, {right} filled in;
 * NULL when memory is out. */
const char *sw_sentence(sw_arena *arena, const char *sentence, const sw_rule *rule,
                        const sw_judgement *judgement);

/* "a", "a or b", "a, b or c"; "none". NULL when memory is out. */
const char *sw_tokens_text(sw_arena *arena, const sw_value *value);

/* For each role the smallest one that it hangs together with in the bundle, SW_NONE where nothing
 * changes: the groups of FORMATS.md section 11. */
sw_status sw_hang_together(int *group, sw_program *program, const int *best);

/* Asks, and describes what was found into `out`. The picks stay in `*picks` (NULL
 * when there are none). Notes in the answer when it was not settled. */
sw_status sw_ask_other(sw_answer_other *out, const int **picks, sw_answer *answer,
                       const sw_inquiry *inquiry, const sw_request *request);

sw_status sw_cautions_describe(sw_answer_bundle *out, sw_arena *arena, const sw_rulebook *book,
                               const int *machine);

#endif
