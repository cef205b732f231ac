/* Pieces of answers that several JSON documents share. */
#ifndef SW_RENDER_ANSWER_JSON_H
#define SW_RENDER_ANSWER_JSON_H

#include "answer/answer.h"
#include "render/json_writer.h"

extern const char *const sw_json_statuses[];

/* Why it was stopped, when it was; what was proved again, when that was asked for. */
/* What nobody has looked at yet. */
void sw_json_to_ask(sw_writer *in, const sw_answer *answer);
void sw_json_ending(sw_writer *in, const sw_answer *answer);
void sw_json_stopped(sw_writer *in, bool stopped, bool asked_to);
void sw_json_swaps(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *bundle);
void sw_json_tasks(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *bundle);
/* What is heard and how fast it goes, before and after. */
void sw_json_sound(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *bundle);
void sw_json_rates(sw_writer *in, const sw_answer_bundle *bundle);
void sw_json_bundle(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *bundle);
/* Groups, last, next and verdict of a plan. */
void sw_json_worth(sw_writer *in, const sw_answer *answer);

/* What can hurt in this very machine. */
void sw_json_beware(sw_writer *in, const sw_answer *answer);
/* What was assumed, since nobody said it. */
void sw_json_assumed(sw_writer *in, const sw_answer *answer);

#endif
