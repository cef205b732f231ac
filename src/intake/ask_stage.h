/* What the files of the interview share. */
#ifndef SW_INTAKE_ASK_STAGE_H
#define SW_INTAKE_ASK_STAGE_H

#include "intake/ask.h"

/* ---- reading what was typed --------------------------------------------------------------- */

typedef struct sw_pieces {
    const char **list;
    size_t count;
} sw_pieces;

/* Says why the answer is not taken; always false. */
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
bool
sw_ask_refuse(sw_interview *interview, const char *format, ...);
/* What is to be told of the answer when it is taken, each in its own line. */
void sw_ask_notice(sw_interview *interview, const char *text);
/* Memory of the fold; NULL after noting that there is none. */
void *sw_ask_room(sw_interview *interview, size_t count, size_t size);
#define SW_ASK_NEW(interview, type, count) ((type *)sw_ask_room((interview), (count), sizeof(type)))
/* Text made for the fold; "" when memory is out. */
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
const char *
sw_ask_format(sw_interview *interview, const char *format, ...);
/* The text that grew, as memory of the fold; frees it. */
const char *sw_ask_keep(sw_interview *interview, sw_text *text);
/* `text` as it may be shown in a message. */
const char *sw_ask_shown(sw_interview *interview, const char *text);

/* Things that commas and semicolons part; false after a refusal of "1,5". */
bool sw_ask_things(sw_interview *interview, const char *text, sw_pieces *out);
/* Words that blanks part, or `parts` too. */
bool sw_ask_words(sw_interview *interview, const char *text, const char *parts, sw_pieces *out);
bool sw_ask_is_whole(const char *text);
/* A whole number from `least` to `most`. */
bool sw_ask_whole(const char *text, int64_t least, int64_t most, int64_t *out);
/* Digits with at most three behind a point. */
bool sw_ask_milli(const char *text, int64_t *out);
/* Do both read the same, whatever the case of a to z? */
bool sw_ask_same(const char *a, const char *b);
/* Numbers from 1 to `most`, each once, in the order they were typed. */
bool sw_ask_numbers(sw_interview *interview, const char *text, size_t most, int **out,
                    size_t *count);
bool sw_ask_money(sw_interview *interview, const char *text, int64_t *out);
const char *sw_ask_money_text(sw_interview *interview, int64_t minor);
/* Thousandths without needless zeros. */
const char *sw_ask_milli_text(sw_interview *interview, int64_t milli);

/* ---- the questions ------------------------------------------------------------------------ */

/* Is it asked at all? */
bool sw_ask_applies(sw_interview *interview, sw_topic topic);
/* What the draft says of it, NULL: nothing. */
const char *sw_ask_stands(sw_interview *interview, sw_topic topic);
/* What was answered to it, in words. */
const char *sw_ask_tells(sw_interview *interview, sw_topic topic);
/* The list to choose from. */
void sw_ask_offer(sw_interview *interview, sw_topic topic, sw_asked *out);
/* Takes an answer that is not empty; false after a refusal. */
bool sw_ask_hear(sw_interview *interview, sw_topic topic, const char *text);
/* What is known once the question is done, answered or not. */
void sw_ask_settle(sw_interview *interview, sw_topic topic);

bool sw_ask_hear_uses(sw_interview *interview, const char *text);
bool sw_ask_hear_rates(sw_interview *interview, const char *text);
bool sw_ask_hear_order(sw_interview *interview, const char *text);
bool sw_ask_hear_worth(sw_interview *interview, const char *text);
bool sw_ask_hear_taste(sw_interview *interview, const char *text);
bool sw_ask_hear_budget(sw_interview *interview, const char *text);
bool sw_ask_hear_later(sw_interview *interview, const char *text);
bool sw_ask_hear_keep(sw_interview *interview, const char *text);
bool sw_ask_hear_avoid(sw_interview *interview, const char *text);
bool sw_ask_hear_limits(sw_interview *interview, const char *text);
bool sw_ask_hear_surprise(sw_interview *interview, const char *text);
void sw_ask_list_stayers(sw_interview *interview);
void sw_ask_list_makers(sw_interview *interview);

/* ---- complaints in the client's words -------------------------------------------------------- */

/* Sorts the words into kinds, in the order of the first words that tell of each. */
bool sw_ask_hear_complaint(sw_interview *interview, const char *text);
/* Which kinds were understood, to be confirmed. */
void sw_ask_offer_sorted(sw_interview *interview, sw_asked *out);
bool sw_ask_hear_sorted(sw_interview *interview, const char *text);

/* ---- what the wishes come to -------------------------------------------------------------------
 */

/* Do the weights of the draft say something, or is all weight on one criterion for want of an
 * interview? */
bool sw_ask_weights_stand(const sw_interview *interview);
/* Does the draft weigh what is not asked about? */
bool sw_ask_weighs_others(const sw_interview *interview);
/* Is it told by ranks alone? */
bool sw_ask_by_ranks(const sw_interview *interview);
/* The weight of each swing as they stand now, in any unit. */
double *sw_ask_weights(sw_interview *interview);
/* The worth of each swing, in thousandths, where it is told by numbers. */
int64_t *sw_ask_worths(sw_interview *interview);

/* ---- doubts ------------------------------------------------------------------------------------
 */

/* The doubt number `which` about the topic; false when there are no more. */
bool sw_ask_doubt(sw_interview *interview, sw_topic topic, size_t which, sw_asked *out);
/* The question that is asked again when it is not so. */
sw_topic sw_ask_again(sw_topic topic);
const sw_doubt_form *sw_ask_doubt_form(const sw_interview *interview, sw_doubt doubt);

#endif
