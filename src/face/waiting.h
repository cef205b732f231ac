/* What the person sees and may do while the program works. */
#ifndef SW_FACE_WAITING_H
#define SW_FACE_WAITING_H

#include "swapworth.h"

typedef struct sw_waiting {
    bool on_terminal; /* one line on standard error, rewritten in place */
    bool as_lines;    /* plain lines, as in a log */
    bool shown;       /* a line stands there */
    bool told;        /* `last` holds something */
    double begun, spoken;
    sw_progress last;
    char doing[32]; /* of `last` */
} sw_waiting;

/* From here on SIGINT and SIGTERM ask to stop instead of ending the program; a second one ends it.
 * `lines`: tell how far it is even where standard error is no terminal. */
void sw_waiting_begin(sw_waiting *waiting, sw_plan_options *options, bool lines);
/* Clears what was shown; the signals end the program again. */
void sw_waiting_end(sw_waiting *waiting);

#endif
