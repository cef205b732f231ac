/* If the client weighed it otherwise: the weight map, and a table of the same numbers. Its machines
 * have letters, since numbers are options. */
#include "render/proposal.h"

#include <string.h>

#include "render/differences.h"
#include "render/map_svg.h"

#define TOLD_MOST 3
#define SIDE 300.0
#define FOOT 2.0 /* of the drawing, below its corners, that the page has no use for */
/* Rows of the options and of what to mind beside which picture and table find no place on three
 * sheets. */
#define ROWS_MOST 15

typedef struct telling {
    sw_proposal *p;
    sw_sheet sheet; /* of the map's own answer: how it ended is not how the options did */
    sw_map_drawing drawing;
} telling;

/* ---- which of the options it is -----------------------------------------------------------------
 */

static bool has_task(const sw_answer_bundle *b, const sw_answer_task *task) {
    for (size_t i = 0; i < b->task_count; i++)
        if (strcmp(b->tasks[i].id, task->id) == 0 && strcmp(b->tasks[i].role, task->role) == 0)
            return true;
    return false;
}

static bool is_same(const sw_answer_bundle *a, const sw_answer_bundle *b) {
    if (a->swap_count != b->swap_count || a->task_count != b->task_count)
        return false;
    for (size_t i = 0; i < a->swap_count; i++)
        if (!sw_same_swap(&a->swaps[i], sw_swap_of(b, a->swaps[i].role)))
            return false;
    for (size_t i = 0; i < a->task_count; i++)
        if (!has_task(b, &a->tasks[i]))
            return false;
    return true;
}

/* "option 3"; NULL: none of them. */
static const char *option_of(telling *t, size_t place) {
    const sw_options *o = t->p->options;
    for (size_t i = 0; i < o->count; i++)
        if (is_same(&t->p->map->places[place].bundle, &o->options[i].bundle))
            return SW_FORMAT(&t->sheet, "option %zu", i + 1);
    return NULL;
}

/* ---- words --------------------------------------------------------------------------------------
 */

static void paragraph(telling *t, const char *words) {
    if (words[0] != '\0')
        sw_html_element(&t->p->html, "p", "", words);
}

/* Of what comes and goes, and of hazards, as the page tells them. */
static size_t count_rows(const sw_options *o) {
    size_t rows = 0;
    for (size_t i = 0; i < o->count; i++) {
        const sw_answer_bundle *b = &o->options[i].bundle;
        rows = b->swap_count + b->task_count > rows ? b->swap_count + b->task_count : rows;
    }
    for (size_t k = 0; k < o->terms.hazard_count; k++) {
        bool told = false;
        for (size_t i = 0; i < o->count; i++)
            told = told || o->options[i].hazards[k];
        rows += told;
    }
    return rows;
}

static void open_section(telling *t) {
    bool is_long = count_rows(t->p->options) > ROWS_MOST;
    sw_html_raw(&t->p->html, is_long ? "<section class=\"long\" " : "<section ");
    sw_html_raw(&t->p->html, "aria-labelledby=\"weighing\">\n<h2 id=\"weighing\">If other things "
                             "mattered more to you</h2>\n");
}

static const char *how_to_read(telling *t) {
    const sw_map *map = t->p->map;
    sw_sheet *s = &t->sheet;
    if (map->axis_count == 2)
        return SW_FORMAT(s,
                         "What is best hangs on how much each thing counts for you. The picture "
                         "shows every way to weigh %s against %s, from all weight on the one to "
                         "all on the other. Each letter is a machine, best where it stands.",
                         sw_map_axis_name(map, 0), sw_map_axis_name(map, 1));
    return SW_FORMAT(s,
                     "What is best hangs on how much each thing counts for you. The picture shows "
                     "every way to weigh %s, %s and %s: the nearer to a corner, the more that one "
                     "counts. Each letter is a machine, best where it stands.",
                     sw_map_axis_name(map, 0), sw_map_axis_name(map, 1), sw_map_axis_name(map, 2));
}

static const char *at_the_answer(telling *t) {
    const sw_map *map = t->p->map;
    sw_sheet *s = &t->sheet;
    const char *option = option_of(t, map->here);
    return SW_FORMAT(s, "Your answer is %s. There %s is best%s%s. %s %s%s", sw_map_answer(s, map),
                     sw_map_name(s, map->here, SW_MAP_TO_CLIENT),
                     option != NULL ? ", which is " : "", option != NULL ? option : "",
                     sw_map_likely_words(s, map, SW_MAP_TO_CLIENT),
                     map->has_change && map->change.share > 0 ? "" : "The nearest change: ",
                     sw_map_change_words(s, map, SW_MAP_TO_CLIENT));
}

static void words(telling *t) {
    const sw_map *map = t->p->map;
    sw_html_element(&t->p->html, "p", " class=\"drawn\"", how_to_read(t));
    paragraph(t, sw_map_others(&t->sheet, map));
    const char *open = sw_map_open(&t->sheet, map, SW_MAP_TO_CLIENT);
    if (open[0] != '\0')
        paragraph(t, SW_FORMAT(&t->sheet, "Not settled (dashed borders): %s", open));
}

/* ---- the picture --------------------------------------------------------------------------------
 */

static const char *caption(telling *t) {
    const sw_map *map = t->p->map;
    const char *likely =
        map->likely_count > 1
            ? "; the row of dots around it holds the ways to weigh that fit what you said"
            : "";
    const char *change = map->has_change && map->change.share > 0
                             ? "; the arrow ends where another machine is better"
                             : "";
    return SW_FORMAT(&t->sheet,
                     "The round mark is your answer%s%s. Shares are of all ways to weigh.", likely,
                     change);
}

static void picture(telling *t) {
    sw_html *h = &t->p->html;
    sw_map_drawing *d = &t->drawing;
    if (t->p->map->axis_count == 3)
        sw_map_triangle(d);
    else
        sw_map_line(d);
    if (d->body.failed) {
        h->out.failed = true;
        return;
    }
    sw_html_raw(h, "<figure>\n<svg viewBox=\"0 0 ");
    sw_svg_number(&h->out, SW_SVG_WIDTH);
    sw_html_raw(h, " ");
    sw_svg_number(&h->out, d->foot - FOOT);
    sw_html_raw(h, "\" role=\"img\" font-size=\"14\" font-family=\"sans-serif\" "
                   "fill=\"" SW_SVG_INK "\" aria-label=\"");
    sw_html_text(h, SW_FORMAT(&t->sheet,
                              "%s of all ways to weigh, parted by which machine is best; the "
                              "table has the numbers",
                              t->p->map->axis_count == 3 ? "Triangle" : "Line"));
    sw_html_raw(h, "\">\n");
    sw_html_raw(h, d->body.bytes);
    sw_html_raw(h, "</svg>\n<figcaption><small>");
    sw_html_text(h, caption(t));
    sw_html_raw(h, "</small></figcaption>\n</figure>\n");
}

/* ---- the table ----------------------------------------------------------------------------------
 */

static void row(telling *t, size_t place) {
    sw_html *h = &t->p->html;
    sw_sheet *s = &t->sheet;
    const sw_map_place *p = &t->p->map->places[place];
    const char *option = option_of(t, place);
    sw_html_raw(h, "<tr><th scope=\"row\">");
    sw_html_element(h, "span", " class=\"numeral\"", sw_map_mark(s, place, SW_MAP_TO_CLIENT));
    if (option != NULL)
        sw_html_text(h, SW_FORMAT(s, " %s", option));
    sw_html_raw(h, "</th>");
    sw_html_element(h, "td", "", sw_map_percent(s, p->area));
    sw_html_element(h, "td", "", p->of_likely > 0 ? sw_map_percent(s, p->of_likely) : "none");
    sw_html_element(h, "td", "", sw_sheet_money(s, p->bundle.cost));
    sw_html_raw(h, "<td>");
    sw_html_element(h, "b", "", sw_map_does(s, t->p->map, p));
    sw_html_element(h, "span", " class=\"how\"", SW_FORMAT(s, "; %s", sw_map_changes(s, p)));
    sw_html_raw(h, "</td></tr>\n");
}

static void table(telling *t) {
    sw_html *h = &t->p->html;
    const sw_map *map = t->p->map;
    double rest = 0;
    size_t left = 0;
    sw_html_raw(h, "<div class=\"wide\" tabindex=\"0\" role=\"group\" "
                   "aria-labelledby=\"weighed\">\n<table class=\"weigh\">\n");
    sw_html_element(h, "caption", " id=\"weighed\"",
                    map->answer->must_count > 0
                        ? "Which is best where. Faster and quieter are told against the machine in "
                          "which only what must be done is done."
                        : "Which is best where");
    sw_html_raw(h, "<thead><tr><th scope=\"col\">machine</th><th scope=\"col\">of all ways to "
                   "weigh</th><th scope=\"col\">of those that fit what you said</th>");
    sw_html_element(h, "th", " scope=\"col\"",
                    SW_FORMAT(&t->sheet, "cost, %s", map->answer->currency));
    sw_html_raw(h, "<th scope=\"col\">what it does, and how</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < map->place_count; i++) {
        if (sw_map_is_told(&t->drawing, i)) {
            row(t, i);
            continue;
        }
        rest += map->places[i].area;
        left++;
    }
    sw_html_raw(h, "</tbody>\n</table>\n</div>\n");
    if (left > 0)
        sw_html_element(h, "p", " class=\"drawn\"",
                        SW_FORMAT(&t->sheet,
                                  "%zu smaller one%s, together %s of all ways, %s no letter here.",
                                  left, left > 1 ? "s" : "", sw_map_percent(&t->sheet, rest),
                                  left > 1 ? "have" : "has"));
}

/* ---- the whole ----------------------------------------------------------------------------------
 */

static void tell(telling *t) {
    open_section(t);
    if (sw_map_nothing(t->p->map) != NULL) {
        paragraph(t, t->p->map->answer->asked_to_stop
                         ? "This was stopped before it was known."
                         : "There was no time left to find this out: ask for this paper again.");
    } else {
        paragraph(t, at_the_answer(t));
        table(t);
        sw_html_raw(&t->p->html, "<div class=\"beside weighed\">\n<div>\n");
        words(t);
        sw_html_raw(&t->p->html, "</div>\n");
        picture(t);
        sw_html_raw(&t->p->html, "</div>\n");
    }
    sw_html_raw(&t->p->html, "</section>\n");
}

void sw_proposal_map(sw_proposal *p) {
    telling t = {.p = p};
    if (p->map == NULL || p->map->axis_count < 2)
        return;
    if (!sw_sheet_start(&t.sheet, p->map->answer, (sw_text_style){.width = 80})) {
        p->html.out.failed = true;
        return;
    }
    t.drawing = (sw_map_drawing){.map = p->map,
                                 .sheet = &t.sheet,
                                 .voice = SW_MAP_TO_CLIENT,
                                 .side = SIDE,
                                 .told_most = TOLD_MOST};
    tell(&t);
    p->html.out.failed = p->html.out.failed || t.sheet.page.text.failed;
    sw_text_free(&t.drawing.body);
    sw_text_free(&t.sheet.page.text);
    sw_arena_free(t.sheet.arena);
}
