/* What the sheet and the page of the hand-over share. */
#ifndef SW_RENDER_HANDOVER_H
#define SW_RENDER_HANDOVER_H

#include "render/bench.h"

/* "as foretold", "better than foretold", ... */
const char *sw_outcome_words(sw_outcome outcome);
extern const char *const sw_outcomes[]; /* ids */
/* "Warranty until 2028-03-05, back to the seller until 2026-03-19" */
const char *sw_cover_words(sw_sheet *sheet, const sw_told_cover *cover);

/* Whose a part is now that came out, as the client reads it. */
const char *sw_handover_whose(sw_sheet *sheet, const sw_bench *bench, const sw_told_out *out);
/* What forbids to hand it over, or is still to be measured before; "" when nothing. */
const char *sw_handover_stop(sw_sheet *sheet, const sw_handover *handover);
/* How many checks came out how; first what forbids to hand it over. */
const char *sw_handover_sum(sw_sheet *sheet, const sw_handover *handover);

#endif
