/* What the sheets and pages of the work share. */
#ifndef SW_RENDER_BENCH_H
#define SW_RENDER_BENCH_H

#include "answer/handover.h"
#include "render/sheet.h"

/* The sheet here lends its scratch and its ways to write numbers. */

/* "Take out: graphics card, 2 x Name (with ...)": what the action is, without how. */
const char *sw_bench_title(sw_sheet *sheet, const sw_told_action *action);
/* Why a piece that stays comes off: "lies over the processor"; "" for other actions. */
const char *sw_bench_cause(sw_sheet *sheet, const sw_told_action *action);
/* "35 min", "1 h 20 min" */
const char *sw_bench_minutes(sw_sheet *sheet, int64_t minutes);
/* What is foretold: "36.2 dB(A) (34.2 to 38.2)", "at most 90 deg C", "done, without a fault". */
const char *sw_bench_foretold(sw_sheet *sheet, const sw_told_proof *proof);
/* "Rate: fast play" */
const char *sw_bench_check_name(sw_sheet *sheet, const sw_told_proof *proof);
/* A value of the check with its digits and unit. */
const char *sw_bench_value(sw_sheet *sheet, const sw_told_proof *proof, double value);
/* A value as it was read: with more digits than that, up to three, where it has them. */
const char *sw_bench_read(sw_sheet *sheet, const sw_told_proof *proof, double value);
/* "2 x Name (fan 120): on Case, place "front"; blows into the case" */
const char *sw_bench_stand(sw_sheet *sheet, const sw_told_stand *stand);
/* "drives 2, hub 1; there: board 6" */
const char *sw_bench_takers(sw_sheet *sheet, const sw_told_lead *lead);
/* "3 of 6 (drives 2, hub 1; there: board 6)" */
const char *sw_bench_lead(sw_sheet *sheet, const sw_told_lead *lead);
/* "2 x Name" */
const char *sw_bench_counted(sw_sheet *sheet, const sw_told_piece *piece);
/* Whose it is now, in words. */
const char *sw_bench_owner(sw_sheet *sheet, const sw_told_out *out);
/* The same, and what is said of the files that it keeps. */
const char *sw_bench_whose(sw_sheet *sheet, const sw_bench *bench, const sw_told_out *out);

extern const char *const sw_bench_does[]; /* ids by sw_does */

#endif
