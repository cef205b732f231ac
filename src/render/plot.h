/* What every picture of a curve shows: the window of money and points, its round ticks,
 * where the budget stands. */
#ifndef SW_RENDER_PLOT_H
#define SW_RENDER_PLOT_H

#include "answer/answer.h"

typedef struct sw_axis {
    int64_t low, high;
    int64_t step, first_tick; /* ticks: from the first on, up to `high` */
    int decimals;             /* that the ticks need */
} sw_axis;

typedef enum sw_budget_place {
    SW_BUDGET_SHOWN,   /* in the window */
    SW_BUDGET_BEYOND,  /* more than the window shows; what it buys is known */
    SW_BUDGET_UNASKED, /* outside the costs that were asked for: what it buys is not known */
} sw_budget_place;

typedef struct sw_plot {
    const sw_answer *answer;
    sw_axis money, points; /* minor units; thousandths */
    int64_t end;           /* cost up to which the last step's run goes */
    bool has_today;        /* cost 0 lies in the window */
    sw_budget_place budget;
    const sw_answer_bundle *at_budget; /* the step that stands there; NULL: none, or unasked */
} sw_plot;

/* False when there is no step to show. */
bool sw_plot_make(sw_plot *out, const sw_answer *answer);
/* Ticks at the least round distance (1, 2 or 5 of a power of ten) that gives at most `most`. */
void sw_axis_tick(sw_axis *axis, int most, int digits);
/* How far along the axis, 0 to 1 within the window. */
double sw_axis_share(const sw_axis *axis, int64_t value);
/* A tick, in whole units where the distance allows it; NULL when memory is out. */
const char *sw_axis_text(sw_arena *arena, const sw_axis *axis, int64_t tick, int digits);
/* The most points that are possible at the step, as far as the window shows; false: proved, not
 * known, or out of the window. */
bool sw_plot_ceiling(int64_t *out, const sw_plot *plot, const sw_answer_bundle *step);

#endif
