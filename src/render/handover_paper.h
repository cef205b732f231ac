/* What the files that write the page of the hand-over share. */
#ifndef SW_RENDER_HANDOVER_PAPER_H
#define SW_RENDER_HANDOVER_PAPER_H

#include "render/handover.h"
#include "render/paper.h"

typedef struct sw_handover_paper {
    sw_html html;
    const sw_handover *handover;
} sw_handover_paper;

/* "as promised", "better than promised", ... */
const char *sw_outcome_told(sw_outcome outcome);
/* "until 2028-03-05", "24 months from the day it came", "none" */
const char *sw_cover_warranty(sw_sheet *sheet, const sw_told_cover *cover);
/* "until 2026-03-19", "no" */
const char *sw_cover_return(sw_sheet *sheet, const sw_told_cover *cover);
/* Whose a part is that went: "yours, it goes home with you". */
const char *sw_out_told(sw_sheet *sheet, const sw_bench *bench, const sw_told_out *out);
/* What is asked about a complaint that is ended. */
const char *sw_call_about(sw_sheet *sheet, const sw_told_trouble *trouble);

/* Promised against measured, check by check. */
void sw_handover_results(sw_handover_paper *p);
/* The check as a bar: what was promised, what it was before, what is measured now. */
void sw_handover_bar(sw_html *h, const sw_told_proof *proof, const sw_told_result *result);
/* How to read the bars. */
void sw_handover_bar_key(sw_html *h);

#endif
