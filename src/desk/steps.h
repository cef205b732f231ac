/* What the steps share: the request at hand, and JSON texts put together piece by piece. */
#ifndef SW_DESK_STEPS_H
#define SW_DESK_STEPS_H

#include "desk/step.h"

typedef struct sw_request {
    sw_sheets *sheets;
    sw_sheet *sheet; /* NULL: the request names none */
    const sw_json *body;
    sw_arena *arena;
    sw_complaints *complaints; /* why nothing was done, where a step ends in SW_BAD_DATA */
    sw_text answer;
    sw_step *step;
} sw_request;

/* ---- the answer: an object that is begun already -------------------------------------------- */

void sw_answer_text(sw_request *r, const char *name, const char *text); /* NULL: null */
void sw_answer_whole(sw_request *r, const char *name, unsigned long number);
void sw_answer_truth(sw_request *r, const char *name, bool truth);
/* JSON that was made elsewhere; NULL: null. */
void sw_answer_json(sw_request *r, const char *name, const char *bytes, size_t length);
void sw_answer_complaints(sw_request *r, const char *name, const sw_complaints *complaints);
/* A list or an object; in lists names are NULL. */
void sw_answer_open(sw_request *r, const char *name, char bracket);
void sw_answer_close(sw_request *r, char bracket);
/* Begins the answer anew with that status, and tells what is wrong. */
void sw_answer_error(sw_request *r, int status, const char *what, const char *why,
                     const char *mend);
/* Sheet, revision and the job as the text has it (NULL: none yet). */
void sw_answer_job(sw_request *r, unsigned revision, const char *text, size_t length);

/* ---- the request ------------------------------------------------------------------------------ */

/* A member that is known to be of that kind, or missing. */
const char *sw_request_text(const sw_request *r, const char *name);
bool sw_request_truth(const sw_request *r, const char *name);
/* Texts of a list, empty where it is missing; SW_BAD_DATA where one is no text. */
sw_status sw_request_texts(const char *const **out, size_t *count, sw_request *r,
                           const char *name);
/* The catalog of the job in hand, as a path; NULL when memory is out. */
const char *sw_request_catalog(sw_request *r);
/* The sheet is to have this text once the step is settled; it is copied. */
sw_status sw_request_take(sw_request *r, const char *text, size_t length);

/* ---- the steps -------------------------------------------------------------------------------- */

sw_status sw_step_open(sw_request *r);
sw_status sw_step_change(sw_request *r);
sw_status sw_step_machine(sw_request *r);
sw_status sw_step_undo(sw_request *r);
sw_status sw_step_difference(sw_request *r);
sw_status sw_step_save(sw_request *r);
sw_status sw_step_tray(sw_request *r);
sw_status sw_step_dumps(sw_request *r);
sw_status sw_step_prices(sw_request *r);
sw_status sw_step_profiles(sw_request *r);
sw_status sw_step_interview(sw_request *r);

#endif
