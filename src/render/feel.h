/* What a stage of a job is like, in a few lines. */
#ifndef SW_RENDER_FEEL_H
#define SW_RENDER_FEEL_H

#include "render/sheet.h"

/* "graphics card: Name, from Seller (out: Old)" */
void sw_sheet_swap_line(sw_sheet *sheet, const sw_answer_swap *swap);
/* Points, rates and loudness of the stage where they differ from those of the stage before it
 * (NULL: from today's). */
void sw_sheet_feel(sw_sheet *sheet, const char *lead, const sw_answer_bundle *stage,
                   const sw_answer_bundle *before);

#endif
