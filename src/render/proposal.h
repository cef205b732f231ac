/* What the files that write the proposal share: a page section each. */
#ifndef SW_RENDER_PROPOSAL_H
#define SW_RENDER_PROPOSAL_H

#include "render/html.h"
#include "answer/map.h"
#include "render/options.h"

typedef struct sw_proposal {
    sw_html html;
    const sw_options *options;
    const sw_map *map; /* NULL: none */
} sw_proposal;

/* What is wrong today, with its evidence. */
void sw_proposal_wrong(sw_proposal *p);
/* The options side by side. */
void sw_proposal_table(sw_proposal *p);
/* The machine before and after: NULL shows it as it is today. */
void sw_proposal_drawing(sw_proposal *p, const sw_option *option);
/* How to read the drawings: their marks and words. */
void sw_proposal_drawing_key(sw_proposal *p);
/* The curve, its table, the sums that a person may try. */
void sw_proposal_curve(sw_proposal *p);
/* Which machine is best where the client weighs otherwise; nothing where there is no map. */
void sw_proposal_map(sw_proposal *p);
/* What the page's script knows of each step. */
void sw_proposal_data(sw_proposal *p);
/* What to mind, how far one may be surprised, the choice and the signature. */
void sw_proposal_terms(sw_proposal *p);
/* What nobody said and was assumed. */
void sw_proposal_assumed(sw_proposal *p);

/* The place of the option as tests and the script name it. */
const char *sw_proposal_place(const sw_option *option);
/* "options 1 and 3", "every option"; `in` [option]. NULL: none. */
const char *sw_proposal_which(sw_proposal *p, const bool *in);
/* What points stand for in this job: sentences. */
const char *sw_proposal_weights(sw_proposal *p);
const char *sw_proposal_money(sw_proposal *p, int64_t minor); /* with the currency */

#endif
