/* What the sheets, pages and documents about the options share. */
#ifndef SW_RENDER_OPTIONS_H
#define SW_RENDER_OPTIONS_H

#include "answer/options.h"
#include "render/sheet.h"

extern const char *const sw_option_places[]; /* ids */
extern const char *const sw_option_names[];  /* as the client reads them */

/* The sheet here lends its scratch and its ways to write numbers. */

/* Why it is offered: a sentence without its end. */
const char *sw_option_reason(sw_sheet *sheet, const sw_options *options, const sw_option *option);
/* "options 1 and 3" that end the complaint; NULL: none. */
const char *sw_option_enders(sw_sheet *sheet, const sw_options *options, size_t trouble);
/* What became of the complaint: whole sentences. */
const char *sw_option_fate(sw_sheet *sheet, const sw_options *options, size_t trouble);
/* "144 (136 to 144) frames/s" */
const char *sw_option_rate(sw_sheet *sheet, const sw_answer_rate *rate);
/* Going on from it to a dearer one: "to option 3: gives up ...". */
const char *sw_option_going_on(sw_sheet *sheet, const sw_options *options, const sw_option *option,
                               const sw_given_up *given);
/* What the next sum brings: sentences; "" where nothing is known. */
const char *sw_option_more(sw_sheet *sheet, const sw_options *options, const sw_option *option);
/* "2 days", "less than a day" */
const char *sw_days(sw_sheet *sheet, int days);

#endif
