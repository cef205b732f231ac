/* A page of text about one answer, and how sheets write money and numbers. */
#ifndef SW_RENDER_SHEET_H
#define SW_RENDER_SHEET_H

#include "answer/answer.h"
#include "render/page.h"

typedef struct sw_sheet {
    sw_page page;
    const sw_answer *answer;
    sw_arena *arena;       /* scratch for the pieces of lines */
    const char *cut_short; /* why something is not settled: the head of a sentence */
} sw_sheet;

bool sw_sheet_start(sw_sheet *sheet, const sw_answer *answer, sw_text_style style);
/* Frees the scratch and hands over the text. */
sw_status sw_sheet_finish(char **out, sw_sheet *sheet);

const char *sw_sheet_money(sw_sheet *sheet, int64_t minor);
/* Thousandths of a point with one decimal. */
const char *sw_sheet_points(sw_sheet *sheet, int64_t thousandths);
/* A number of so many decimals in three figures. */
const char *sw_sheet_figures(sw_sheet *sheet, int64_t number, int decimals);
const char *sw_sheet_decimal(sw_sheet *sheet, double x, int decimals);
/* "" in place of NULL: lack of memory shows at the end, in the page. */
const char *sw_sheet_text(sw_sheet *sheet, const char *text);
#define SW_FORMAT(sheet, ...) sw_sheet_text((sheet), sw_arena_format((sheet)->arena, __VA_ARGS__))
/* `text` with spaces before it, up to `columns`. */
const char *sw_sheet_right(sw_sheet *sheet, const char *text, int columns);

void sw_sheet_words(sw_sheet *sheet, const char *lead, const char *text);
void sw_sheet_sum(sw_sheet *sheet, const char *lead, const char *left, const char *right);

/* The total less reserve and sundries: less than nothing when they are more. */
int64_t sw_sheet_to_spend(const sw_answer *answer);

/* Title, money to spend. */
void sw_sheet_head(sw_sheet *sheet, bool money);
/* What can hurt in this very machine; nothing when nothing was said of it. */
void sw_sheet_beware(sw_sheet *sheet);
/* What was assumed, since nobody said it; nothing when nothing was. */
void sw_sheet_assumed(sw_sheet *sheet);
/* Everything about one bundle; what it holds alone. */
void sw_sheet_bundle(sw_sheet *sheet, const sw_answer_bundle *bundle);
/* What nobody has looked at yet, under its own heading; nothing when there is nothing. */
void sw_sheet_to_ask(sw_sheet *sheet);
/* What to mind about it, under its own heading; nothing when there is nothing. */
void sw_sheet_cautions(sw_sheet *sheet, const sw_answer_bundle *bundle);
/* "2 x Name (worn)" */
const char *sw_sheet_part(sw_sheet *sheet, const sw_answer_part *part);
/* Where `b` differs from `than`, a line for each role and task; `there` stands before what
 * `than` holds ("in the best"). */
void sw_sheet_differences(sw_sheet *sheet, const sw_answer_bundle *b, const sw_answer_bundle *than,
                          const char *there);
/* What the role holds after the swap: "A, B kept". */
const char *sw_sheet_holding(sw_sheet *sheet, const sw_answer_swap *swap);
/* "about half as loud": loudness over today's. */
const char *sw_louder(double ratio);
/* A use's rate in a bundle, with its unit. */
const char *sw_sheet_rate(sw_sheet *sheet, const sw_answer_rate *rate);
/* What the parts of the best bundle are worth, and what its money is. */
void sw_sheet_worth(sw_sheet *sheet);
void sw_sheet_verdict(sw_sheet *sheet);
/* The last money and the next; the bundles after the best. */
void sw_sheet_ranked(sw_sheet *sheet);
void sw_sheet_left_out(sw_sheet *sheet);
/* The curve in letters. */
void sw_sheet_picture(sw_sheet *sheet, sw_picture picture);
/* What was proved again, where that was asked for. */
void sw_sheet_verified(sw_sheet *sheet);
/* Why there is no best bundle to speak of. */
void sw_sheet_no_best(sw_sheet *sheet);
/* How a question ended that was not settled, by who ended it. */
const char *sw_cut_short(bool asked_to);

#endif
