/* What the commands share that ask one question about one scenario. */
#ifndef SW_FACE_ERRAND_H
#define SW_FACE_ERRAND_H

#include "face/commands.h"
#include "face/waiting.h"

/* One question about one scenario, from the words to the text of the answer. */
typedef struct sw_errand {
    const sw_words *words;
    sw_scenario *scenario;
    sw_plan_options options;
    sw_complaints *complaints;
    sw_waiting waiting;
    char *text;
    char *picture; /* a second thing to give out, or NULL */
    const char *picture_path;
    char *record; /* a third */
    const char *record_path;
    int code;
} sw_errand;

/* Reads the scenario, lets `ask` fill in text and code, gives the text out. */
int sw_run_errand(const sw_words *words, const char *command, sw_status (*ask)(sw_errand *));
/* The exit code of an answer that is settled or is not. */
int sw_code_of_status(sw_answer_status status, bool settled);
/* `-o NAME.html` asks for the page; the text or JSON then goes to standard output. */
bool sw_wants_page(const sw_words *words);
/* The terminal's width, bold headings and a fine picture where it can show them; 80 plain columns
 * when the output is no terminal. */
sw_text_style sw_style_of_output(const sw_words *words);
/* Complaints as text and, where JSON is wanted, as JSON; the exit code. */
int sw_end_with(const sw_words *words, const sw_complaints *complaints, sw_status status);
int sw_misused(const sw_words *words, const char *what);

/* ---- what is wrong with the words; NULL: nothing --------------------------------------- */

extern const char sw_over_catalog[];
/* Options that belong to one command alone. */
const char *sw_misplaced(const sw_words *words, const char *command);
const char *sw_misuse_of_one(const sw_words *words, const char *command);

#endif
