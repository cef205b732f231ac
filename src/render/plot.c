/* The window of a curve's picture. */
#include "render/plot.h"

#define SW_POINT 1000 /* thousandths */

double sw_axis_share(const sw_axis *axis, int64_t value) {
    return ((double)value - (double)axis->low) / ((double)axis->high - (double)axis->low);
}

static int64_t round_up_to_tick(int64_t least) {
    int64_t step = 1;
    while (step < least && step < INT64_MAX / 10) {
        if (step * 2 >= least)
            return step * 2;
        if (step * 5 >= least)
            return step * 5;
        step *= 10;
    }
    return step;
}

void sw_axis_tick(sw_axis *axis, int most, int digits) {
    int64_t span = axis->high - axis->low;
    axis->step = round_up_to_tick(span / most + (span % most > 0));
    int64_t rest = axis->low % axis->step;
    axis->first_tick = rest == 0 ? axis->low : axis->low - rest + (axis->low > 0 ? axis->step : 0);
    int64_t one = 1;
    for (int i = 0; i < digits; i++)
        one *= 10;
    for (axis->decimals = 0; axis->decimals < digits && axis->step % one != 0; axis->decimals++)
        one /= 10;
}

const char *sw_axis_text(sw_arena *arena, const sw_axis *axis, int64_t tick, int digits) {
    for (int i = axis->decimals; i < digits; i++)
        tick /= 10;
    return sw_money_text(arena, tick, axis->decimals);
}

bool sw_plot_ceiling(int64_t *out, const sw_plot *plot, const sw_answer_bundle *step) {
    if (step->open <= 0 || step->open == INT64_MAX || step->open > plot->points.high ||
        step->points > plot->points.high - step->open)
        return false;
    *out = step->points + step->open;
    return true;
}

static int64_t units(const sw_answer *answer, int64_t count) {
    for (int i = 0; i < answer->digits; i++)
        count *= 10;
    return count;
}

/* The last of the steps that cost at most this; NULL: none. */
static const sw_answer_bundle *step_at(const sw_answer *answer, int64_t cost) {
    const sw_answer_bundle *found = NULL;
    for (size_t i = 0; i < answer->bundle_count && answer->bundles[i].cost <= cost; i++)
        found = &answer->bundles[i];
    return found;
}

static void place_budget(sw_plot *p, int64_t last) {
    const sw_answer *a = p->answer;
    if (a->budget < a->curve_from || (a->curve_to >= 0 && a->budget > a->curve_to))
        p->budget = SW_BUDGET_UNASKED;
    else if (last > 0 && a->budget > last + last * 3 / 5)
        p->budget = SW_BUDGET_BEYOND;
    else
        p->budget = SW_BUDGET_SHOWN;
    p->at_budget = p->budget == SW_BUDGET_UNASKED ? NULL : step_at(a, a->budget);
}

static void choose_money(sw_plot *p) {
    const sw_answer *a = p->answer;
    int64_t first = a->bundles[0].cost, last = a->bundles[a->bundle_count - 1].cost;
    place_budget(p, last);
    /* From nothing on, unless a part of the curve was asked for. */
    p->money.low = 0;
    if (a->curve_from > 0 && first > 0)
        p->money.low = first - (last - first) / 20;
    p->money.low = p->money.low < 0 ? 0 : p->money.low;
    p->money.high = last;
    if (p->budget == SW_BUDGET_SHOWN && a->budget > p->money.high)
        p->money.high = a->budget;
    int64_t span = p->money.high - p->money.low;
    /* A run behind the last step, so that it is seen as one. */
    p->money.high += span > 0 ? span / 16 + 1 : units(a, 10) + last / 4;
    p->end = p->money.high;
    if (a->curve_to >= 0 && a->curve_to < p->end)
        p->end = a->curve_to > last ? a->curve_to : last;
    p->has_today = p->money.low == 0;
}

static void choose_points(sw_plot *p) {
    const sw_answer *a = p->answer;
    int64_t first = a->bundles[0].points, last = a->bundles[a->bundle_count - 1].points;
    int64_t low = a->curve_from > 0 && first > 0 ? first - (last - first) / 20
                  : first < 0                    ? first
                                                 : 0;
    low = first > 0 && low < 0 ? 0 : low;
    int64_t high = last > low ? last : low + SW_POINT;
    /* What may be possible is shown as long as it leaves half the height to what is there. */
    int64_t room = 2 * (high - low);
    for (size_t i = 0; i < a->bundle_count; i++) {
        const sw_answer_bundle *step = &a->bundles[i];
        if (step->open < room && step->points - low <= room - step->open &&
            step->points + step->open > high)
            high = step->points + step->open;
    }
    p->points.low = low;
    p->points.high = high + (high - low) / 12 + 1;
}

bool sw_plot_make(sw_plot *out, const sw_answer *answer) {
    *out = (sw_plot){.answer = answer};
    if (answer->bundle_count == 0)
        return false;
    choose_money(out);
    choose_points(out);
    return true;
}
