/* The weightings drawn from those that may be right: FORMATS.md section 33. */
#ifndef SW_ANSWER_DRAWN_H
#define SW_ANSWER_DRAWN_H

#include "answer/weightings.h"

#define SW_DRAWN_COUNT 4096

/* [drawn * criteria + criterion of the list] whole numbers, at least one of them above 0 where W
 * has any; NULL when memory is out. */
int64_t *sw_draw_weightings(sw_arena *arena, const sw_scenario *scenario,
                            const sw_weightings *weightings);

#endif
