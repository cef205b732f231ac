/* What the steps share: the request at hand, and JSON texts put together piece by piece. */
#ifndef SW_DESK_STEPS_H
#define SW_DESK_STEPS_H

#include "desk/step.h"

typedef struct sw_step_work {
    sw_sheets *sheets;
    sw_desk_sheet *sheet; /* NULL: the request names none */
    const sw_json *body;
    sw_arena *arena;
    sw_complaints *complaints; /* why nothing was done, where a step ends in SW_BAD_DATA */
    sw_text answer;
    sw_step *step;
    /* What cannot fail, done once the answer stands and is a good one; NULL: nothing. */
    void (*at_last)(struct sw_step_work *r);
} sw_step_work;

/* ---- the answer: an object that is begun already -------------------------------------------- */

void sw_put_text(sw_step_work *r, const char *name, const char *text); /* NULL: null */
void sw_put_whole(sw_step_work *r, const char *name, unsigned long number);
void sw_put_truth(sw_step_work *r, const char *name, bool truth);
/* JSON that was made elsewhere; NULL: null. */
void sw_put_json(sw_step_work *r, const char *name, const char *bytes, size_t length);
/* What a complaint is about, as the page calls it: files as seen from the desk's folder or without
 * folders, dumps by their labels, "the change". */
const char *sw_step_subject(const sw_step_work *r, const char *file);
void sw_put_complaints(sw_step_work *r, const char *name, const sw_complaints *complaints);
/* A list or an object; in lists names are NULL. */
void sw_put_open(sw_step_work *r, const char *name, char bracket);
void sw_put_close(sw_step_work *r, char bracket);
/* Begins the answer anew with that status, and tells what is wrong. */
void sw_put_error(sw_step_work *r, int status, const char *what, const char *why, const char *mend);
/* Sheet, revision and the job as the text has it (NULL: none yet). */
void sw_put_job(sw_step_work *r, unsigned revision, const char *text, size_t length);

/* ---- the request ---------------------------------------------------------------------------- */

/* A member that is known to be of that kind, or missing. */
const char *sw_step_member(const sw_step_work *r, const char *name);
bool sw_step_truth(const sw_step_work *r, const char *name);
/* Texts of a list, empty where it is missing; SW_BAD_DATA where one is no text. */
sw_status sw_step_texts(const char *const **out, size_t *count, sw_step_work *r, const char *name);
/* The catalog of the job in hand, as a path; NULL when memory is out. */
const char *sw_step_catalog(sw_step_work *r);
/* The sheet is to have this text once the step is settled; it is copied. */
sw_status sw_step_take(sw_step_work *r, const char *text, size_t length);

/* ---- the steps ------------------------------------------------------------------------------ */

sw_status sw_step_open(sw_step_work *r);
sw_status sw_step_change(sw_step_work *r);
sw_status sw_step_machine(sw_step_work *r);
sw_status sw_step_undo(sw_step_work *r);
sw_status sw_step_difference(sw_step_work *r);
sw_status sw_step_save(sw_step_work *r);
sw_status sw_step_tray(sw_step_work *r);
sw_status sw_step_dumps(sw_step_work *r);
sw_status sw_step_prices(sw_step_work *r);
sw_status sw_step_interview(sw_step_work *r);

#endif
