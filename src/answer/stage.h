/* What the files of this folder share among themselves. */
#ifndef SW_ANSWER_STAGE_H
#define SW_ANSWER_STAGE_H

#include "answer/answer.h"

/* A rule's sentence with {need}, {room}, {short}, {left}, {right} filled in;
 * NULL when memory is out. */
const char *sw_sentence(sw_arena *arena, const char *sentence, const sw_rule *rule,
                        const sw_judgement *judgement);

sw_status sw_cautions_describe(sw_answer_bundle *out, sw_arena *arena, const sw_rulebook *book,
                               const int *machine);

#endif
