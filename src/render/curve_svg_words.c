/* The words of the picture of a curve: its legend, its prices, its description. */
#include "render/curve_svg.h"

#define LINE 19.0      /* from one line of words to the next */
#define SAMPLE 40.0    /* width of a sample of a line */
#define SLOPES_MOST 24 /* prices told in the picture */

static size_t open_count(const sw_answer *a) {
    size_t open = 0;
    for (size_t i = 0; i < a->bundle_count; i++)
        open += a->bundles[i].open > 0;
    return open;
}

static const char *steps_words(sw_drawing *d) {
    const sw_answer *a = d->answer;
    size_t open = open_count(a);
    if (open > 0)
        return SW_DRAW_FORMAT(d, "Most points found for the money: %zu step%s, %zu of them proved.",
                              a->bundle_count, a->bundle_count == 1 ? "" : "s",
                              a->bundle_count - open);
    return SW_DRAW_FORMAT(d, "Most points for the money: %zu step%s, proved.", a->bundle_count,
                          a->bundle_count == 1 ? "" : "s");
}

static const char *open_words(sw_drawing *d) {
    const sw_answer *a = d->answer;
    int64_t most = 0;
    bool unknown = false;
    for (size_t i = 0; i < a->bundle_count; i++) {
        unknown = unknown || a->bundles[i].open == INT64_MAX;
        if (a->bundles[i].open != INT64_MAX && a->bundles[i].open > most)
            most = a->bundles[i].open;
    }
    const char *head = "Not proved:";
    if (most > 0)
        head = SW_DRAW_FORMAT(d, "Not proved: up to %s points more may be possible%s",
                              sw_drawing_points(d, (most / 100 + (most % 100 > 0)) * 100),
                              unknown ? "; at some steps" : ".");
    return unknown ? SW_DRAW_FORMAT(d, "%s it is not known how much more may be possible.", head)
                   : head;
}

static const char *step_words(sw_drawing *d, const sw_answer_bundle *step) {
    return SW_DRAW_FORMAT(d, "%s, %s points", sw_drawing_money(d, step->cost),
                          sw_drawing_points(d, step->points));
}

static const char *first_words(sw_drawing *d) {
    return SW_DRAW_FORMAT(d, "%s: %s.",
                          d->answer->bundle_count > 1 ? "First step" : "The only step",
                          step_words(d, &d->answer->bundles[0]));
}

static const char *last_words(sw_drawing *d) {
    const sw_answer *a = d->answer;
    bool whole = a->status == SW_OPTIMAL && a->curve_to < 0;
    const char *end = whole              ? " More money brings no more."
                      : a->curve_to >= 0 ? SW_DRAW_FORMAT(d, " Asked for up to %s.",
                                                          sw_drawing_money(d, a->curve_to))
                                         : "";
    return SW_DRAW_FORMAT(d, "Last step: %s.%s", step_words(d, &a->bundles[a->bundle_count - 1]),
                          end);
}

static const char *budget_words(sw_drawing *d) {
    const sw_answer *a = d->answer;
    const char *money = sw_drawing_money(d, a->budget);
    if (d->plot.budget == SW_BUDGET_UNASKED)
        return SW_DRAW_FORMAT(d, "The budget, %s, lies outside what was asked for.", money);
    const char *brings =
        d->plot.at_budget != NULL
            ? SW_DRAW_FORMAT(d, "%s points", sw_drawing_points(d, d->plot.at_budget->points))
            : "less than the first step costs";
    return SW_DRAW_FORMAT(d, "The budget, %s%s: %s.", money,
                          d->plot.budget == SW_BUDGET_BEYOND ? ", lies beyond the picture" : "",
                          brings);
}

static const char *cut_words(const sw_answer *a) {
    return a->status != SW_STOPPED_EARLY ? ""
           : a->asked_to_stop            ? "It was stopped on request before all was settled."
                                         : "The time ran out before all was settled.";
}

/* Prices of steps that more time may add to. */
static const char *so_far(const sw_answer *a) {
    return a->status == SW_STOPPED_EARLY ? " so far" : "";
}

/* Words with their sample before them: `sample` draws it, NULL for none. */
static void entry(sw_drawing *d, void (*sample)(sw_drawing *d, double x, double y),
                  const char *words) {
    double left = SW_SVG_MARGIN + SAMPLE + 10;
    double width = SW_SVG_WIDTH - SW_SVG_MARGIN - left;
    if (words[0] == '\0')
        return;
    if (sample != NULL)
        sample(d, SW_SVG_MARGIN, d->foot + LINE - 5);
    for (const char *line; (line = sw_svg_next_line(d->arena, &words, width)) != NULL;) {
        d->foot += LINE;
        sw_svg_text(&d->body, left, d->foot, SW_SVG_START, "", line);
    }
}

#define SAMPLE_OF(name, look)                                                                      \
    static void name(sw_drawing *d, double x, double y) {                                          \
        sw_svg_line(&d->body, x, y, x + SAMPLE, y, " " look);                                      \
    }
SAMPLE_OF(steps_sample, SW_SVG_STEPS)
SAMPLE_OF(envelope_sample, SW_SVG_ENVELOPE)
SAMPLE_OF(budget_sample, SW_SVG_BUDGET)

static void open_sample(sw_drawing *d, double x, double y) {
    sw_svg_line(&d->body, x, y + 2, x + SAMPLE, y + 2, " " SW_SVG_OPEN);
    sw_svg_line(&d->body, x, y - 5, x + SAMPLE, y - 5, " " SW_SVG_CEILING);
}

static void first_sample(sw_drawing *d, double x, double y) {
    sw_drawing_mark(d, SW_MARK_FIRST, x + SAMPLE / 2, y);
}
static void last_sample(sw_drawing *d, double x, double y) {
    sw_drawing_mark(d, SW_MARK_LAST, x + SAMPLE / 2, y);
}
static void today_sample(sw_drawing *d, double x, double y) {
    sw_drawing_mark(d, SW_MARK_TODAY, x + SAMPLE / 2, y);
}

/* ---- prices --------------------------------------------------------------------------- */

/* The pieces that are told: all, or those over which most money goes. */
static bool is_told(const sw_answer *a, size_t slope) {
    size_t longer = 0;
    int64_t own = a->bundles[a->envelope[slope].to].cost - a->bundles[a->envelope[slope].from].cost;
    for (size_t i = 0; i < a->envelope_count; i++) {
        int64_t other = a->bundles[a->envelope[i].to].cost - a->bundles[a->envelope[i].from].cost;
        longer += other > own || (other == own && i < slope);
    }
    return longer < SLOPES_MOST;
}

typedef struct table {
    double left, width; /* of a column of rows */
    size_t rows;        /* in a column */
} table;

static double cell(const table *t, size_t index, int column) {
    static const double ends[] = {0.25, 0.51, 0.76, 1};
    size_t beside = index / t->rows; /* columns of rows */
    return t->left + (double)beside * (t->width + 16) + t->width * ends[column];
}

static void row(sw_drawing *d, const table *t, size_t index, double top, const char *const *words,
                const char *look) {
    for (int c = 0; c < 4; c++)
        sw_svg_text(&d->body, cell(t, index, c), top, SW_SVG_END, look, words[c]);
}

/* Costs and prices both rise, so that the last are the widest but for the decimals. */
static double widest_cell(sw_drawing *d) {
    const sw_answer *a = d->answer;
    int64_t cost = a->bundles[a->bundle_count - 1].cost;
    double most = sw_svg_width(sw_drawing_text(d, sw_money_text(d->arena, cost, a->digits)));
    for (size_t i = 0; i < a->envelope_count; i++) {
        double price = sw_svg_width(sw_drawing_figures(d, a->envelope[i].price_millionths, 6));
        most = price > most ? price : most;
    }
    return most;
}

static void prices(sw_drawing *d) {
    const sw_answer *a = d->answer;
    if (a->envelope_count == 0)
        return;
    size_t told = a->envelope_count < SLOPES_MOST ? a->envelope_count : SLOPES_MOST;
    bool two = told > 6 && widest_cell(d) <= 66;
    table t = {.left = SW_SVG_MARGIN,
               .width = two ? (SW_SVG_WIDTH - 2 * SW_SVG_MARGIN - 16) / 2 : 420,
               .rows = two ? (told + 1) / 2 : told};
    d->foot += LINE + 12;
    sw_svg_text(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START, " font-weight=\"bold\"",
                SW_DRAW_FORMAT(d, "Price of a point%s, in %s", so_far(a), a->currency));
    d->foot += LINE;
    const char *const head[] = {"from", "to", "a point", "per 100"};
    for (size_t i = 0; i < told; i += t.rows)
        row(d, &t, i, d->foot, head, "");
    size_t at = 0;
    for (size_t i = 0; i < a->envelope_count; i++) {
        const sw_answer_slope *slope = &a->envelope[i];
        if (!is_told(a, i))
            continue;
        const char *const words[] = {
            sw_drawing_text(d, sw_money_text(d->arena, a->bundles[slope->from].cost, a->digits)),
            sw_drawing_text(d, sw_money_text(d->arena, a->bundles[slope->to].cost, a->digits)),
            sw_drawing_figures(d, slope->price_millionths, 6), sw_drawing_per_hundred(d, slope)};
        row(d, &t, at, d->foot + LINE * (double)(at % t.rows + 1), words, "");
        at++;
    }
    d->foot += LINE * (double)t.rows;
    if (told < a->envelope_count) {
        d->foot += LINE;
        sw_svg_text(
            &d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START, "",
            SW_DRAW_FORMAT(d, "%zu shorter pieces are not listed here.", a->envelope_count - told));
    }
}

/* ---- all of them ----------------------------------------------------------------------- */

void sw_drawing_legend(sw_drawing *d) {
    const sw_answer *a = d->answer;
    bool some = open_count(a) < a->bundle_count;
    entry(d, some ? steps_sample : open_sample, steps_words(d));
    if (open_count(a) > 0)
        entry(d, open_sample, open_words(d));
    if (a->envelope_count > 0)
        entry(d, envelope_sample,
              a->status == SW_OPTIMAL
                  ? "Straight lines over all steps; their slopes are the price of a point."
                  : "Straight lines over the steps found so far; their slopes are the price of a "
                    "point so far.");
    if (d->plot.has_today)
        entry(d, today_sample, "Today: nothing spent.");
    entry(d, first_sample, first_words(d));
    if (a->bundle_count > 1)
        entry(d, last_sample, last_words(d));
    entry(d, d->plot.budget == SW_BUDGET_SHOWN ? budget_sample : NULL, budget_words(d));
    if (d->plot.money.low > 0 || d->plot.points.low > 0)
        entry(d, NULL, "The axes do not begin at 0.");
    entry(d, NULL, cut_words(a));
    prices(d);
}

static void add_sentence(sw_text *out, const char *words) {
    if (words[0] == '\0')
        return;
    if (out->length > 0)
        sw_text_add(out, " ");
    sw_svg_escape(out, words);
}

void sw_drawing_describe(sw_text *out, sw_drawing *d) {
    const sw_answer *a = d->answer;
    add_sentence(out, "A staircase of points against money.");
    add_sentence(out, steps_words(d));
    if (open_count(a) > 0)
        add_sentence(out, open_words(d));
    add_sentence(out, first_words(d));
    if (a->bundle_count > 1)
        add_sentence(out, last_words(d));
    add_sentence(out, budget_words(d));
    add_sentence(out, cut_words(a));
    for (size_t i = 0; i < a->envelope_count; i++)
        if (is_told(a, i))
            add_sentence(out,
                         SW_DRAW_FORMAT(d, "From %s to %s a point costs %s%s.",
                                        sw_drawing_money(d, a->bundles[a->envelope[i].from].cost),
                                        sw_drawing_money(d, a->bundles[a->envelope[i].to].cost),
                                        sw_drawing_price(d, &a->envelope[i]), so_far(a)));
}
