/* What each sum brings: the staircase with the options on it, a table of the same numbers, and,
 * where scripts may run, a sum to be tried out. */
#include <stdlib.h>
#include <string.h>

#include "render/json_writer.h"
#include "render/plot.h"
#include "render/proposal.h"

#define LEFT 60.0
#define RIGHT 632.0
#define TOP 24.0
#define BOTTOM 210.0
#define INK "#1b2430"
#define TICK " stroke=\"" INK "\" stroke-width=\"1\""
#define GRID " stroke=\"#767676\" stroke-width=\"0.8\" stroke-dasharray=\"1 5\""

/* ---- the picture ------------------------------------------------------------------------------
 */

static double x_of(const sw_plot *plot, int64_t cost) {
    double share = sw_axis_share(&plot->money, cost);
    return LEFT + (share > 1 ? 1 : share) * (RIGHT - LEFT);
}

static double y_of(const sw_plot *plot, int64_t points) {
    return BOTTOM - sw_axis_share(&plot->points, points) * (BOTTOM - TOP);
}

static void axes(sw_proposal *p, sw_plot *plot) {
    sw_text *out = &p->html.out;
    sw_sheet *s = &p->html.sheet;
    int digits = p->options->plan->digits;
    sw_axis_tick(&plot->points, 5, 3);
    sw_axis_tick(&plot->money, 7, digits);
    for (int64_t at = plot->points.first_tick; at <= plot->points.high; at += plot->points.step) {
        double y = y_of(plot, at);
        if (y < BOTTOM - 1)
            sw_svg_line(out, LEFT, y, RIGHT, y, GRID);
        sw_svg_text(out, LEFT - 7, y + 5, SW_SVG_END, "",
                    sw_sheet_text(s, sw_axis_text(s->arena, &plot->points, at, 3)));
    }
    for (int64_t at = plot->money.first_tick; at <= plot->money.high; at += plot->money.step) {
        double x = x_of(plot, at);
        sw_svg_line(out, x, BOTTOM, x, BOTTOM + 5, TICK);
        sw_svg_text(out, x, BOTTOM + 20, SW_SVG_MIDDLE, "",
                    sw_sheet_text(s, sw_axis_text(s->arena, &plot->money, at, digits)));
    }
    sw_svg_line(out, LEFT, TOP, LEFT, BOTTOM, TICK);
    sw_svg_line(out, LEFT, BOTTOM, RIGHT, BOTTOM, TICK);
    sw_svg_text(out, RIGHT, BOTTOM + 40, SW_SVG_END, "",
                SW_FORMAT(s, "money spent in all, %s", p->options->plan->currency));
    sw_svg_text(out, 2, TOP - 10, SW_SVG_START, "", "points");
}

static void place(sw_text *out, const char *command, double x, double y) {
    sw_text_add(out, command);
    sw_svg_number(out, x);
    sw_text_add(out, " ");
    sw_svg_number(out, y);
}

static void stairs(sw_proposal *p, const sw_plot *plot) {
    sw_text *out = &p->html.out;
    const sw_answer *curve = p->options->curve;
    sw_text_add(out, "<path fill=\"none\" stroke=\"#14406b\" stroke-width=\"2.5\" d=\"");
    for (size_t i = 0; i < curve->bundle_count; i++) {
        const sw_answer_bundle *step = &curve->bundles[i];
        double x = x_of(plot, step->cost);
        if (i > 0)
            place(out, "L", x, y_of(plot, curve->bundles[i - 1].points));
        place(out, i == 0 ? "M" : "L", x, y_of(plot, step->points));
    }
    place(out, "L", x_of(plot, plot->end),
          y_of(plot, curve->bundles[curve->bundle_count - 1].points));
    sw_text_add(out, "\"/>\n");
}

static void budget(sw_proposal *p, const sw_plot *plot) {
    sw_text *out = &p->html.out;
    if (plot->budget != SW_BUDGET_SHOWN)
        return;
    double x = x_of(plot, p->options->plan->budget);
    sw_svg_line(out, x, TOP, x, BOTTOM,
                " stroke=\"#5f2167\" stroke-width=\"1.8\" stroke-dasharray=\"9 3 2 3\"");
    bool left = x > (LEFT + RIGHT) / 2;
    sw_svg_text(
        out, left ? x - 5 : x + 5, BOTTOM - 8, left ? SW_SVG_END : SW_SVG_START,
        " stroke=\"#ffffff\" stroke-width=\"4\" paint-order=\"stroke\"",
        SW_FORMAT(&p->html.sheet, "to spend %s", sw_proposal_money(p, p->options->plan->budget)));
}

static void numerals(sw_proposal *p, const sw_plot *plot) {
    sw_text *out = &p->html.out;
    const sw_options *o = p->options;
    double last = -100;
    for (size_t i = 0; i < o->count; i++) {
        const sw_answer_bundle *b = &o->options[i].bundle;
        double x = x_of(plot, b->cost), y = y_of(plot, b->points);
        double beside = x - last < 24 ? last + 24 : x;
        sw_text_add(out, "<circle");
        sw_svg_attribute(out, "cx", x);
        sw_svg_attribute(out, "cy", y);
        sw_text_add(out, " r=\"4\" fill=\"" INK "\"/>");
        /* The numeral stands above, beside the one before where they would meet. */
        double above = y - 18 < TOP + 4 ? y + 20 : y - 18;
        sw_text_add(out, "<circle");
        sw_svg_attribute(out, "cx", beside);
        sw_svg_attribute(out, "cy", above);
        sw_text_add(out, " r=\"11\" fill=\"#ffffff\" stroke=\"" INK "\" stroke-width=\"1.6\"/>");
        sw_svg_text(out, beside, above + 5.4, SW_SVG_MIDDLE, " font-weight=\"bold\"",
                    SW_FORMAT(&p->html.sheet, "%zu", i + 1));
        last = beside;
    }
}

static void picture(sw_proposal *p, sw_plot *plot) {
    sw_html *h = &p->html;
    const sw_answer *curve = p->options->curve;
    const sw_answer_bundle *last = &curve->bundles[curve->bundle_count - 1];
    sw_html_raw(h, "<figure>\n<svg viewBox=\"0 0 640 254\" role=\"img\" font-size=\"15\" "
                   "font-family=\"sans-serif\" fill=\"" INK "\" aria-label=\"");
    sw_html_text(h, SW_FORMAT(&h->sheet,
                              "Staircase of the best points for each sum, from %s to %s, where it "
                              "stands at %s points; the table below has the numbers",
                              sw_proposal_money(p, curve->bundles[0].cost),
                              sw_proposal_money(p, last->cost),
                              sw_sheet_points(&h->sheet, last->points)));
    sw_html_raw(h, "\">\n");
    axes(p, plot);
    stairs(p, plot);
    budget(p, plot);
    numerals(p, plot);
    sw_html_raw(h, "<line id=\"here\" visibility=\"hidden\" stroke=\"#8a3f00\" "
                   "stroke-width=\"2.2\" y1=\"24\" y2=\"210\" x1=\"60\" x2=\"60\"/>\n"
                   "</svg>\n<figcaption><small>The line shows the most points that each sum can "
                   "bring; the numerals are the options.</small></figcaption>\n</figure>\n");
}

/* ---- the table ----------------------------------------------------------------------------------
 */

static const sw_answer_bundle *step_at(const sw_answer *curve, int64_t sum) {
    const sw_answer_bundle *found = NULL;
    for (size_t i = 0; i < curve->bundle_count && curve->bundles[i].cost <= sum; i++)
        found = &curve->bundles[i];
    return found;
}

static void row(sw_proposal *p, const char *head, const sw_answer_bundle *step, bool sound) {
    sw_html *h = &p->html;
    sw_sheet *s = &h->sheet;
    sw_html_raw(h, "<tr>");
    sw_html_element(h, "th", " scope=\"row\"", head);
    sw_html_element(h, "td", "", step == NULL ? "too little" : sw_sheet_points(s, step->points));
    sw_html_element(h, "td", "", step == NULL ? "" : sw_sheet_money(s, step->cost));
    if (sound)
        sw_html_element(h, "td", "",
                        step == NULL ? "" : sw_sheet_decimal(s, step->loudness_sone, 2));
    sw_html_raw(h, "</tr>\n");
}

static void table_head(sw_proposal *p, const char *caption, bool sound) {
    sw_html *h = &p->html;
    const char *currency = p->options->plan->currency;
    sw_html_raw(h, "<table class=\"plain\">\n");
    sw_html_element(h, "caption", "", caption);
    sw_html_raw(h, "<thead><tr>");
    sw_html_element(h, "th", " scope=\"col\"", SW_FORMAT(&h->sheet, "sum, %s", currency));
    sw_html_element(h, "th", " scope=\"col\"", "points at best");
    sw_html_element(h, "th", " scope=\"col\"", SW_FORMAT(&h->sheet, "spent, %s", currency));
    if (sound)
        sw_html_element(h, "th", " scope=\"col\"", "sone");
    sw_html_raw(h, "</tr></thead>\n<tbody>\n");
}

/* At round sums, as few as show the shape. */
static void round_sums(sw_proposal *p) {
    const sw_answer *curve = p->options->curve;
    sw_axis axis = {.low = 0, .high = curve->curve_to};
    sw_axis_tick(&axis, 9, curve->digits);
    table_head(p, "The same in numbers, at round sums", false);
    for (int64_t sum = axis.first_tick; sum <= curve->curve_to; sum += axis.step)
        row(p, sw_sheet_money(&p->html.sheet, sum), step_at(curve, sum), false);
    sw_html_raw(&p->html, "</tbody>\n</table>\n");
}

static void all_steps(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_answer *curve = p->options->curve;
    sw_html_raw(h, "<details>\n");
    sw_html_element(h, "summary", "",
                    SW_FORMAT(&h->sheet, "Every step of the line (%zu)", curve->bundle_count));
    sw_html_raw(h, "\n<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"Every step of "
                   "the line\">\n");
    table_head(p, "Every step: the least sum for so many points", p->options->plan->has_sound);
    for (size_t i = 0; i < curve->bundle_count; i++)
        row(p, sw_sheet_money(&h->sheet, curve->bundles[i].cost), &curve->bundles[i],
            p->options->plan->has_sound);
    sw_html_raw(h, "</tbody>\n</table>\n</div>\n</details>\n");
}

/* ---- a sum to try
 * ---------------------------------------------------------------------------------- */

static int64_t unit_of(const sw_answer *a) { return sw_hundred(a) / 100; }

static void try_out(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_answer *a = p->options->plan, *curve = p->options->curve;
    long long most = (long long)(curve->curve_to / unit_of(a));
    long long now = (long long)(a->budget / unit_of(a));
    sw_html_raw(h, "<section class=\"try\" id=\"try\" hidden aria-labelledby=\"try-name\">\n"
                   "<h3 id=\"try-name\">Try another sum</h3>\n<p><label for=\"slide\">");
    sw_html_text(h, SW_FORMAT(&h->sheet, "Sum, from 0 to %lld %s", most, a->currency));
    sw_text_addf(&h->out,
                 "</label><input type=\"range\" id=\"slide\" min=\"0\" max=\"%lld\" step=\"1\" "
                 "value=\"%lld\"></p>\n<p><label for=\"typed\">or typed in, ",
                 most, now);
    sw_html_text(h, a->currency);
    sw_text_addf(&h->out,
                 "</label><input type=\"number\" id=\"typed\" min=\"0\" max=\"%s\" step=\"any\" "
                 "inputmode=\"decimal\" value=\"%lld\"></p>\n",
                 sw_sheet_money(&h->sheet, curve->curve_to), now);
    sw_html_raw(h, "<p id=\"told\" role=\"status\"></p>\n<ul id=\"told-parts\" aria-label=\"What "
                   "it holds\"></ul>\n</section>\n");
}

void sw_proposal_curve(sw_proposal *p) {
    sw_html *h = &p->html;
    sw_plot plot;
    sw_html_raw(h, "<section aria-labelledby=\"sums\">\n<h2 id=\"sums\">What each sum would "
                   "bring</h2>\n");
    if (sw_plot_make(&plot, p->options->curve)) {
        sw_html_raw(h, "<div class=\"beside\">\n");
        picture(p, &plot);
        round_sums(p);
        sw_html_raw(h, "</div>\n");
        if (p->options->curve->status != SW_OPTIMAL)
            sw_html_element(h, "p", "",
                            "The search was stopped early: the line is the best that was found.");
        try_out(p);
        all_steps(p);
    }
    sw_html_raw(h, "</section>\n");
}

/* ---- what the script knows
 * ---------------------------------------------------------------------------- */

typedef struct words {
    const char **list;
    size_t count, room;
    bool failed;
} words;

static int64_t index_of(words *w, const char *word) {
    for (size_t i = 0; i < w->count; i++)
        if (strcmp(w->list[i], word) == 0)
            return (int64_t)i;
    if (!SW_GROW(w->list, w->room, w->count)) {
        w->failed = true;
        return 0;
    }
    w->list[w->count] = word;
    return (int64_t)w->count++;
}

static bool has_luck(const sw_answer_bundle *step) {
    for (size_t i = 0; i < step->task_count; i++)
        if (step->tasks[i].chance)
            return true;
    return false;
}

static void add_rates(sw_proposal *p, sw_writer *in, const sw_answer_bundle *step) {
    sw_sheet *s = &p->html.sheet;
    sw_writer *list = sw_writer_array(in, "rates");
    for (size_t i = 0; i < step->rate_count; i++)
        sw_writer_text(list, NULL,
                       SW_FORMAT(s, "%s: %s%s", step->rates[i].use_name,
                                 sw_option_rate(s, &step->rates[i]),
                                 has_luck(step) ? " with luck" : ""));
}

static void add_holds(sw_proposal *p, sw_writer *in, words *w, const sw_answer_bundle *step) {
    sw_sheet *s = &p->html.sheet;
    sw_writer *list = sw_writer_array(in, "has");
    for (size_t i = 0; i < step->swap_count; i++) {
        const sw_answer_swap *swap = &step->swaps[i];
        for (size_t k = 0; k < swap->in_count; k++)
            sw_writer_integer(list, NULL,
                              index_of(w, SW_FORMAT(s, "%s: %s", swap->role_name,
                                                    sw_sheet_part(s, &swap->in[k]))));
        for (size_t k = 0; swap->in_count == 0 && k < swap->out_count; k++)
            sw_writer_integer(list, NULL,
                              index_of(w, SW_FORMAT(s, "%s: %s taken out", swap->role_name,
                                                    sw_sheet_part(s, &swap->out[k]))));
    }
    for (size_t i = 0; i < step->task_count; i++)
        sw_writer_integer(
            list, NULL,
            index_of(w, SW_FORMAT(s, "%s: %s", step->tasks[i].role_name, step->tasks[i].name)));
}

static void add_step(sw_proposal *p, sw_writer *list, words *w, const sw_answer_bundle *step) {
    sw_sheet *s = &p->html.sheet;
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_integer(one, "cost", step->cost);
    sw_writer_text(one, "points", sw_sheet_points(s, step->points));
    if (p->options->plan->has_sound)
        sw_writer_text(one, "loudness",
                       SW_FORMAT(s, "%s sone", sw_sheet_decimal(s, step->loudness_sone, 2)));
    add_rates(p, one, step);
    add_holds(p, one, w, step);
}

/* JSON within a script element: nothing in it may end the element, whatever a text holds. */
static void put_safely(sw_html *h, const char *json) {
    for (; *json != '\0'; json++) {
        bool unsafe = *json == '<' || *json == '>' || *json == '&';
        if (unsafe)
            sw_text_addf(&h->out, "\\u%04x", (unsigned)*json);
        else if (*json != '\n' && *json != '\t')
            sw_text_add_bytes(&h->out, json, 1);
    }
}

void sw_proposal_data(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_answer *curve = p->options->curve;
    sw_plot plot;
    words w = {0};
    sw_writer *root = sw_writer_new();
    char *json = NULL;
    if (root == NULL) {
        h->out.failed = true;
        return;
    }
    sw_writer_integer(root, "digits", curve->digits);
    sw_writer_text(root, "currency", curve->currency);
    sw_writer_integer(root, "left", (int64_t)LEFT);
    sw_writer_integer(root, "right", (int64_t)RIGHT);
    sw_writer_integer(root, "high", sw_plot_make(&plot, curve) ? plot.money.high : 1);
    sw_writer *steps = sw_writer_array(root, "steps");
    for (size_t i = 0; i < curve->bundle_count; i++)
        add_step(p, steps, &w, &curve->bundles[i]);
    sw_writer *list = sw_writer_array(root, "words");
    for (size_t i = 0; i < w.count; i++)
        sw_writer_text(list, NULL, w.list[i]);
    if (sw_writer_finish(&json, root) != SW_OK || w.failed) {
        h->out.failed = true;
    } else {
        sw_html_raw(h, "<script type=\"application/json\" id=\"steps\">");
        put_safely(h, json);
        sw_html_raw(h, "</script>\n");
    }
    free(json);
    free(w.list);
}
