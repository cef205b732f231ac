/*
 * One request of the page that mends a job: from the members of its body to the text of the answer.
 * What takes long is told from what does not, so that it can be done in a process of its own:
 *
 *     const sw_step_kind *kind = sw_step_named("change");
 *     sw_step step = {0};
 *     if (sw_step_is_heavy(kind)) {       in the worker:
 *         sw_step_run(&step, kind, sheets, body);
 *         sw_step_pack(&bytes, &length, &step);      and send the bytes;
 *                                         in the desk, which has the bytes now:
 *         sw_step_unpack(&step, bytes, length);
 *     } else
 *         sw_step_run(&step, kind, sheets, body);
 *     sw_step_settle(&step, sheets);      only here the sheet gets a new text
 *     .. step.status, step.answer ..
 *     sw_step_free(&step);
 */
#ifndef SW_DESK_STEP_H
#define SW_DESK_STEP_H

#include "desk/sheets.h"

typedef struct sw_step {
    int status; /* of HTTP */
    char *answer;
    size_t length;
    char sheet[17];    /* that gets the text */
    unsigned revision; /* that it was made of */
    char *text;        /* NULL: none */
    size_t text_length;
} sw_step;

typedef struct sw_step_kind sw_step_kind;

/* NULL: no such request. */
const sw_step_kind *sw_step_named(const char *name);
const char *sw_step_name(const sw_step_kind *kind);
bool sw_step_is_heavy(const sw_step_kind *kind);

/* The answer, also where the request is wrong. Only steps that are not heavy change sheets. Where
 * memory is out `answer` is NULL and the status 500. */
void sw_step_run(sw_step *out, const sw_step_kind *kind, sw_sheets *sheets, const sw_json *body);
/* Puts the text into its sheet; where that has another revision by now, or is gone, the answer
 * becomes that of a conflict. */
void sw_step_settle(sw_step *step, sw_sheets *sheets);
void sw_step_free(sw_step *step);

/* As bytes, to be freed, and back; false when memory is out or they are no step. */
bool sw_step_pack(char **out, size_t *length, const sw_step *step);
bool sw_step_unpack(sw_step *out, const char *bytes, size_t length);

/* {"schema":"swapworth-desk-1","error":{"what","why","mend"}}; free() it, NULL when memory is out.
 */
char *sw_desk_error(const char *what, const char *why, const char *mend);

#endif
