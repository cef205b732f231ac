/* The curve as a picture: a staircase of points against money, its envelope, the budget. Plain
 * SVG 1.1 that stands alone. */
#include "render/curve_svg.h"

#include <string.h>

#define PLOT_HEIGHT 320.0
#define TITLE_LINES 3

/* ---- places and words ---------------------------------------------------------------- */

double sw_drawing_x(const sw_drawing *d, int64_t cost) {
    return d->frame.left + sw_axis_share(&d->plot.money, cost) * (d->frame.right - d->frame.left);
}

double sw_drawing_y(const sw_drawing *d, int64_t points) {
    return d->frame.bottom -
           sw_axis_share(&d->plot.points, points) * (d->frame.bottom - d->frame.top);
}

const char *sw_drawing_text(sw_drawing *d, const char *text) {
    d->body.failed = d->body.failed || text == NULL;
    return text != NULL ? text : "";
}

const char *sw_drawing_money(sw_drawing *d, int64_t minor) {
    return SW_DRAW_FORMAT(d, "%s %s",
                          sw_drawing_text(d, sw_money_text(d->arena, minor, d->answer->digits)),
                          d->answer->currency);
}

const char *sw_drawing_points(sw_drawing *d, int64_t thousandths) {
    return sw_drawing_text(d, sw_milli_text(d->arena, thousandths, 1));
}

const char *sw_drawing_figures(sw_drawing *d, int64_t number, int decimals) {
    if (number < 0)
        return "-";
    sw_text text = {0};
    sw_text_add_figures(&text, number, decimals);
    const char *copy = text.failed ? NULL : sw_arena_copy(d->arena, text.bytes);
    sw_text_free(&text);
    return sw_drawing_text(d, copy);
}

const char *sw_drawing_per_hundred(sw_drawing *d, const sw_answer_slope *slope) {
    return slope->per_hundred == 0 ? "<0.001" : sw_drawing_figures(d, slope->per_hundred, 3);
}

const char *sw_drawing_price(sw_drawing *d, const sw_answer_slope *slope) {
    return SW_DRAW_FORMAT(d, "%s %s", sw_drawing_figures(d, slope->price_millionths, 6),
                          d->answer->currency);
}

/* ---- head ------------------------------------------------------------------------------- */

static void head(sw_drawing *d) {
    const char *title = d->answer->title, *line;
    double width = (SW_SVG_WIDTH - 2 * SW_SVG_MARGIN) / SW_SVG_TITLE;
    d->foot = 8;
    for (int i = 0; i < TITLE_LINES; i++) {
        bool last = i == TITLE_LINES - 1;
        line = sw_svg_next_line(d->arena, &title, last ? width - 21 : width);
        if (line == NULL)
            break;
        d->foot += 23;
        if (last && title[strspn(title, " ")] != '\0')
            line = SW_DRAW_FORMAT(d, "%s ...", line);
        sw_svg_text(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START,
                    " font-size=\"18\" font-weight=\"bold\"", line);
    }
    d->foot += 22;
    sw_svg_text(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START, "",
                "What each sum of money brings at most");
}

/* ---- axes -------------------------------------------------------------------------------- */

#define AXIS " stroke=\"" SW_SVG_INK "\" stroke-width=\"1\""
#define GRID " stroke=\"#767676\" stroke-width=\"0.8\" stroke-dasharray=\"1 5\""

/* The widest of the texts at the ticks. */
static double widest(sw_drawing *d, const sw_axis *axis, int digits) {
    double most = 0;
    for (int64_t at = axis->first_tick; at <= axis->high; at += axis->step) {
        double width = sw_svg_width(sw_drawing_text(d, sw_axis_text(d->arena, axis, at, digits)));
        most = width > most ? width : most;
    }
    return most;
}

/* Fewer ticks where their texts are wide. */
static void tick_money(sw_drawing *d) {
    double width = d->frame.right - d->frame.left;
    for (int most = 9; most >= 1; most--) {
        sw_axis_tick(&d->plot.money, most, d->answer->digits);
        double room =
            width * (double)d->plot.money.step / (double)(d->plot.money.high - d->plot.money.low);
        if (room > widest(d, &d->plot.money, d->answer->digits) + 12)
            return;
    }
}

static void lay_out(sw_drawing *d) {
    sw_axis_tick(&d->plot.points, 7, 3);
    d->frame.left = SW_SVG_MARGIN + 12 + widest(d, &d->plot.points, 3);
    d->frame.right = SW_SVG_WIDTH - SW_SVG_MARGIN - 8;
    d->frame.top = d->foot + 46;
    d->frame.bottom = d->frame.top + PLOT_HEIGHT;
    tick_money(d);
}

static void axes(sw_drawing *d) {
    const sw_svg_box *f = &d->frame;
    const sw_axis *money = &d->plot.money, *points = &d->plot.points;
    for (int64_t at = points->first_tick; at <= points->high; at += points->step) {
        double y = sw_drawing_y(d, at);
        if (y < f->bottom - 1)
            sw_svg_line(&d->body, f->left, y, f->right, y, GRID);
        sw_svg_line(&d->body, f->left - 5, y, f->left, y, AXIS);
        sw_svg_text(&d->body, f->left - 9, y + 5, SW_SVG_END, "",
                    sw_drawing_text(d, sw_axis_text(d->arena, points, at, 3)));
    }
    for (int64_t at = money->first_tick; at <= money->high; at += money->step) {
        double x = sw_drawing_x(d, at);
        sw_svg_line(&d->body, x, f->bottom, x, f->bottom + 5, AXIS);
        sw_svg_text(&d->body, x, f->bottom + 20, SW_SVG_MIDDLE, "",
                    sw_drawing_text(d, sw_axis_text(d->arena, money, at, d->answer->digits)));
    }
    sw_svg_line(&d->body, f->left, f->top, f->left, f->bottom, AXIS);
    sw_svg_line(&d->body, f->left, f->bottom, f->right, f->bottom, AXIS);
    sw_svg_text(&d->body, SW_SVG_MARGIN, f->top - 12, SW_SVG_START, "", "points");
    sw_svg_text(&d->body, f->right, f->bottom + 40, SW_SVG_END, "",
                SW_DRAW_FORMAT(d, "money spent in all, %s", d->answer->currency));
    d->foot = f->bottom + 50;
}

/* ---- the staircase ----------------------------------------------------------------------- */

typedef struct pen {
    sw_text path;
    bool down;
} pen;

static void add_place(sw_text *out, const char *command, double x, double y) {
    sw_text_add(out, command);
    sw_svg_number(out, x);
    sw_text_add(out, " ");
    sw_svg_number(out, y);
}

/* From one place to another with `to`, which is set down first where it is not yet; the other pen
 * is lifted. */
static void draw(pen *to, pen *other, double x1, double y1, double x2, double y2) {
    if (!to->down)
        add_place(&to->path, "M", x1, y1);
    add_place(&to->path, "L", x2, y2);
    to->down = true;
    other->down = false;
}

static void path(sw_drawing *d, pen *p, const char *look) {
    d->body.failed = d->body.failed || p->path.failed;
    if (p->path.length > 0) {
        sw_text_addf(&d->body, "<path %s stroke-linejoin=\"round\" d=\"", look);
        sw_text_add(&d->body, p->path.bytes);
        sw_text_add(&d->body, "\"/>\n");
    }
    sw_text_free(&p->path);
}

static double run_end(const sw_drawing *d, size_t step) {
    const sw_answer *a = d->answer;
    return sw_drawing_x(d, step + 1 < a->bundle_count ? a->bundles[step + 1].cost : d->plot.end);
}

/* What is proved is one line, what is open another; a riser belongs to the step it leads to. */
static void stairs(sw_drawing *d) {
    const sw_answer *a = d->answer;
    pen proved = {0}, open = {0};
    for (size_t i = 0; i < a->bundle_count; i++) {
        bool is_open = a->bundles[i].open > 0;
        pen *mine = is_open ? &open : &proved, *other = is_open ? &proved : &open;
        double x = sw_drawing_x(d, a->bundles[i].cost), y = sw_drawing_y(d, a->bundles[i].points);
        if (i > 0)
            draw(mine, other, x, sw_drawing_y(d, a->bundles[i - 1].points), x, y);
        draw(mine, other, x, y, run_end(d, i), y);
    }
    path(d, &proved, SW_SVG_STEPS);
    path(d, &open, SW_SVG_OPEN);
}

static void ceilings(sw_drawing *d) {
    pen dotted = {0}, none = {0};
    int64_t ceiling;
    for (size_t i = 0; i < d->answer->bundle_count; i++) {
        if (!sw_plot_ceiling(&ceiling, &d->plot, &d->answer->bundles[i]))
            continue;
        double y = sw_drawing_y(d, ceiling);
        dotted.down = false;
        draw(&dotted, &none, sw_drawing_x(d, d->answer->bundles[i].cost), y, run_end(d, i), y);
    }
    path(d, &dotted, SW_SVG_CEILING);
}

/* ---- envelope ------------------------------------------------------------------------------ */

static void envelope(sw_drawing *d) {
    const sw_answer *a = d->answer;
    pen line = {0}, none = {0};
    for (size_t i = 0; i < a->envelope_count; i++) {
        const sw_answer_bundle *from = &a->bundles[a->envelope[i].from];
        const sw_answer_bundle *to = &a->bundles[a->envelope[i].to];
        draw(&line, &none, sw_drawing_x(d, from->cost), sw_drawing_y(d, from->points),
             sw_drawing_x(d, to->cost), sw_drawing_y(d, to->points));
    }
    path(d, &line, SW_SVG_ENVELOPE);
}

static double across(const sw_drawing *d, const sw_answer_slope *slope) {
    return sw_drawing_x(d, d->answer->bundles[slope->to].cost) -
           sw_drawing_x(d, d->answer->bundles[slope->from].cost);
}

/* A piece's price above the middle of it. */
static void name_slope(sw_drawing *d, const sw_answer_slope *slope) {
    const sw_answer_bundle *from = &d->answer->bundles[slope->from];
    const sw_answer_bundle *to = &d->answer->bundles[slope->to];
    static const double at[] = {0.5, 0.3, 0.7, 0.1, 0.9};
    sw_svg_place places[2 * sizeof at / sizeof *at];
    size_t count = 0;
    for (size_t i = 0; i < sizeof at / sizeof *at; i++) {
        double x1 = sw_drawing_x(d, from->cost), y1 = sw_drawing_y(d, from->points);
        double x = x1 + at[i] * (sw_drawing_x(d, to->cost) - x1);
        double y = y1 + at[i] * (sw_drawing_y(d, to->points) - y1);
        places[count++] = (sw_svg_place){x, y - 9, SW_SVG_MIDDLE};
        places[count++] = (sw_svg_place){x - 6, y - 6, SW_SVG_END};
    }
    sw_drawing_label(d, SW_DRAW_FORMAT(d, "%s a point", sw_drawing_price(d, slope)), places, count);
}

/* The widest pieces first; those too short for a name are in the table. */
static void name_slopes(sw_drawing *d) {
    const sw_answer *a = d->answer;
    double below = SW_SVG_WIDTH;
    for (;;) {
        double widest_left = 20;
        for (size_t i = 0; i < a->envelope_count; i++) {
            double width = across(d, &a->envelope[i]);
            if (width < below && width > widest_left)
                widest_left = width;
        }
        if (widest_left <= 20)
            return;
        for (size_t i = 0; i < a->envelope_count; i++)
            if (across(d, &a->envelope[i]) == widest_left)
                name_slope(d, &a->envelope[i]);
        below = widest_left;
    }
}

/* ---- marks ------------------------------------------------------------------------------------
 */

void sw_drawing_mark(sw_drawing *d, sw_mark mark, double x, double y) {
    static const double shapes[][4][2] = {
        [SW_MARK_TODAY] = {{0, -6}, {6, 0}, {0, 6}, {-6, 0}},
        [SW_MARK_LAST] = {{-4.5, -4.5}, {4.5, -4.5}, {4.5, 4.5}, {-4.5, 4.5}}};
    if (mark == SW_MARK_FIRST) {
        sw_text_add(&d->body, "<circle");
        sw_svg_attribute(&d->body, "cx", x);
        sw_svg_attribute(&d->body, "cy", y);
        sw_text_add(&d->body, " r=\"5\" fill=\"#14406b\"/>\n");
        return;
    }
    sw_text_add(&d->body, "<polygon points=\"");
    for (int i = 0; i < 4; i++)
        add_place(&d->body, i > 0 ? " " : "", x + shapes[mark][i][0], y + shapes[mark][i][1]);
    sw_text_addf(&d->body, "\" %s/>\n",
                 mark == SW_MARK_TODAY ? "fill=\"#ffffff\" stroke=\"" SW_SVG_INK
                                         "\" stroke-width=\"1.6\""
                                       : "fill=\"#14406b\"");
}

static void budget(sw_drawing *d) {
    if (d->plot.budget != SW_BUDGET_SHOWN)
        return;
    double x = sw_drawing_x(d, d->answer->budget);
    sw_svg_line(&d->body, x, d->frame.top, x, d->frame.bottom, " " SW_SVG_BUDGET);
    const char *brings =
        d->plot.at_budget == NULL
            ? "nothing"
            : SW_DRAW_FORMAT(d, "%s points", sw_drawing_points(d, d->plot.at_budget->points));
    const char *words =
        SW_DRAW_FORMAT(d, "budget %s: %s", sw_drawing_money(d, d->answer->budget), brings);
    if (d->plot.at_budget != NULL) {
        double y = sw_drawing_y(d, d->plot.at_budget->points);
        sw_text_add(&d->body, "<circle");
        sw_svg_attribute(&d->body, "cx", x);
        sw_svg_attribute(&d->body, "cy", y);
        sw_text_add(&d->body,
                    " r=\"4\" fill=\"#ffffff\" stroke=\"#5f2167\" stroke-width=\"1.8\"/>\n");
    }
    double low = d->frame.bottom - 12, middle = (d->frame.top + d->frame.bottom) / 2;
    double high = d->frame.top + 16;
    const sw_svg_place places[] = {
        {x + 7, low - 24, SW_SVG_START}, {x - 7, low - 24, SW_SVG_END},
        {x + 7, middle, SW_SVG_START},   {x - 7, middle, SW_SVG_END},
        {x + 7, high, SW_SVG_START},     {x - 7, high, SW_SVG_END},
    };
    sw_drawing_label(d, words, places, sizeof places / sizeof *places);
}

static bool name_mark(sw_drawing *d, double x, double y, const char *words) {
    const sw_svg_place places[] = {
        {x + 11, y - 8, SW_SVG_START},  {x - 11, y - 10, SW_SVG_END}, {x, y - 11, SW_SVG_MIDDLE},
        {x + 11, y + 18, SW_SVG_START}, {x + 4, y + 21, SW_SVG_END},  {x - 11, y + 18, SW_SVG_END},
    };
    return sw_drawing_label(d, words, places, sizeof places / sizeof *places);
}

static void marks(sw_drawing *d) {
    const sw_answer *a = d->answer;
    const sw_answer_bundle *first = &a->bundles[0], *last = &a->bundles[a->bundle_count - 1];
    double fx = sw_drawing_x(d, first->cost), fy = sw_drawing_y(d, first->points);
    double lx = sw_drawing_x(d, last->cost), ly = sw_drawing_y(d, last->points);
    double tx = sw_drawing_x(d, 0), ty = sw_drawing_y(d, 0);
    if (a->bundle_count > 1)
        sw_drawing_mark(d, SW_MARK_LAST, lx, ly);
    if (d->plot.has_today)
        sw_drawing_mark(d, SW_MARK_TODAY, tx, ty);
    sw_drawing_mark(d, SW_MARK_FIRST, fx, fy);
    bool together = d->plot.has_today && fx - tx < 12 && ty - fy < 12;
    if (a->bundle_count > 1)
        name_mark(d, lx, ly,
                  SW_DRAW_FORMAT(d, "last: %s points", sw_drawing_points(d, last->points)));
    const char *name = together ? "today, first" : "first";
    if (!name_mark(d, fx, fy,
                   SW_DRAW_FORMAT(d, "%s: %s points", name, sw_drawing_points(d, first->points))))
        name_mark(d, fx, fy, name);
    if (d->plot.has_today && !together)
        name_mark(d, tx, ty, "today");
}

/* ---- the whole ---------------------------------------------------------------------------------
 */

/* No steps: the words alone. */
static const char *no_steps(sw_drawing *d) {
    const sw_answer *a = d->answer;
    if (a->status == SW_STOPPED_EARLY)
        return a->asked_to_stop ? "It was stopped on request before any step was found."
                                : "The time ran out before any step was found.";
    if (a->curve_to < 0)
        return "No steps: nothing fits, at any price.";
    const char *asked = sw_drawing_money(d, a->curve_to);
    return a->needed > 0
               ? SW_DRAW_FORMAT(d, "No steps: nothing fits up to %s; it takes at least %s.", asked,
                                sw_drawing_money(d, a->needed))
               : SW_DRAW_FORMAT(d, "No steps: nothing fits up to %s.", asked);
}

static void picture(sw_drawing *d) {
    head(d);
    if (!sw_plot_make(&d->plot, d->answer)) {
        d->foot += 34;
        sw_svg_text(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START, "", no_steps(d));
        return;
    }
    lay_out(d);
    axes(d);
    envelope(d);
    ceilings(d);
    stairs(d);
    budget(d);
    marks(d);
    name_slopes(d);
    sw_drawing_legend(d);
}

static void frame(sw_text *out, sw_drawing *d, const char *description) {
    double height = d->foot + SW_SVG_MARGIN;
    sw_text_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                     "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"");
    sw_svg_attribute(out, "width", SW_SVG_WIDTH);
    sw_svg_attribute(out, "height", height);
    sw_text_add(out, " viewBox=\"0 0 ");
    add_place(out, "", SW_SVG_WIDTH, height);
    sw_text_add(out, "\" role=\"img\" aria-labelledby=\"title desc\" font-family=\"sans-serif\" "
                     "font-size=\"14\" fill=\"" SW_SVG_INK "\">\n<title id=\"title\">");
    sw_svg_escape(out, d->answer->title[0] != '\0' ? d->answer->title : "Points against money");
    sw_text_add(out, "</title>\n<desc id=\"desc\">");
    sw_text_add(out, description);
    sw_text_add(out, "</desc>\n<rect");
    sw_svg_attribute(out, "width", SW_SVG_WIDTH);
    sw_svg_attribute(out, "height", height);
    sw_text_add(out, " fill=\"#ffffff\"/>\n");
    sw_text_add(out, d->body.bytes);
    sw_text_add(out, "</svg>\n");
}

sw_status sw_render_curve_svg(char **out, const sw_answer *answer) {
    sw_drawing d = {.answer = answer, .arena = sw_arena_new()};
    if (d.arena == NULL)
        return SW_NO_MEMORY;
    sw_text text = {0}, description = {0};
    picture(&d);
    if (answer->bundle_count > 0)
        sw_drawing_describe(&description, &d);
    else
        sw_text_add(&description, no_steps(&d));
    bool failed = d.body.failed || description.failed;
    if (!failed)
        frame(&text, &d, description.bytes);
    failed = failed || text.failed || d.body.failed;
    sw_text_free(&description);
    sw_text_free(&d.body);
    sw_arena_free(d.arena);
    if (failed) {
        sw_text_free(&text);
        return SW_NO_MEMORY;
    }
    *out = text.bytes;
    return SW_OK;
}
