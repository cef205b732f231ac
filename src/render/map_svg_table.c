/* Below the map: what its marks mean, and a table with the numbers. */
#include "render/map_svg.h"

#include <string.h>

#define SAMPLE 34.0
#define LINE 18.0

/* ---- marks ------------------------------------------------------------------------------------
 */

static void entry(sw_map_drawing *d, void (*sample)(sw_map_drawing *d, double x, double y),
                  const char *lead, const char *words) {
    double left = SW_SVG_MARGIN + SAMPLE + 10;
    if (words[0] == '\0')
        return;
    words = sw_map_bind(d, words);
    d->foot += 6;
    if (sample != NULL)
        sample(d, SW_SVG_MARGIN, d->foot + LINE - 5);
    if (lead[0] != '\0') {
        d->foot += LINE;
        sw_svg_text(&d->body, left, d->foot, SW_SVG_START, " font-weight=\"bold\"", lead);
    }
    for (const char *line;
         (line = sw_svg_next_line(d->sheet->arena, &words, SW_SVG_WIDTH - SW_SVG_MARGIN - left)) !=
         NULL;) {
        d->foot += LINE;
        sw_svg_text(&d->body, left, d->foot, SW_SVG_START, "", line);
    }
}

static void answer_sample(sw_map_drawing *d, double x, double y) {
    sw_map_dot(d, x + SAMPLE / 2, y);
}
static void likely_sample(sw_map_drawing *d, double x, double y) {
    const sw_svg_point box[] = {
        {x + 2, y - 7}, {x + SAMPLE - 2, y - 7}, {x + SAMPLE - 2, y + 6}, {x + 2, y + 6}};
    sw_map_polygon(d, box, 4, SW_MAP_LIKELY);
}
static void move_sample(sw_map_drawing *d, double x, double y) {
    sw_map_arrow(d, (sw_svg_point){x, y}, (sw_svg_point){x + SAMPLE, y}, SW_MAP_MOVE);
}
static void open_sample(sw_map_drawing *d, double x, double y) {
    sw_svg_line(&d->body, x, y, x + SAMPLE, y, " " SW_MAP_OPEN);
}

void sw_map_legend(sw_map_drawing *d) {
    const sw_map *map = d->map;
    sw_sheet *s = d->sheet;
    entry(d, answer_sample, SW_FORMAT(s, "The client's answer: bundle %zu is best", map->here + 1),
          SW_FORMAT(s, "%s: %s.", sw_map_answer(s, map),
                    sw_map_does(s, map, &map->places[map->here])));
    entry(d, likely_sample, "How sure that is: the ways to weigh that fit the client's words",
          sw_map_likely_words(s, map, d->voice));
    entry(d, map->has_change && map->change.share > 0 ? move_sample : NULL,
          map->has_change && map->change.share > 0 ? "The nearest change, where the arrow ends"
                                                   : "The nearest change",
          sw_map_change_words(s, map, d->voice));
    entry(d, NULL, "", sw_map_others(s, map));
    if (map->answer->must_count > 0)
        entry(d, NULL, "",
              "Faster and quieter are told against the machine in which only what must be done is "
              "done.");
    entry(d, open_sample, "Not settled: dashed borders", sw_map_open(s, map, d->voice));
}

/* ---- the table --------------------------------------------------------------------------------
 */

/* Where columns end; the last begins. */
static const double ends[] = {108, 210, 282};
#define WORDS_LEFT 294.0

static void row(sw_map_drawing *d, const char *const *cells, const char *look) {
    for (int c = 0; c < 3; c++)
        sw_svg_text(&d->body, ends[c], d->foot, SW_SVG_END, look, cells[c]);
}

static void words(sw_map_drawing *d, const char *text, const char *look, double wider) {
    double width = (SW_SVG_WIDTH - SW_SVG_MARGIN - WORDS_LEFT) / wider;
    text = sw_map_bind(d, text);
    for (const char *line; (line = sw_svg_next_line(d->sheet->arena, &text, width)) != NULL;) {
        sw_svg_text(&d->body, WORDS_LEFT, d->foot, SW_SVG_START, look, line);
        d->foot += LINE;
    }
}

static void table_head(sw_map_drawing *d) {
    const char *const heads[][3] = {{"", "of the ways", ""},
                                    {"of all ways", "that fit what", "cost,"},
                                    {"to weigh", "was said", d->map->answer->currency}};
    d->foot += 14;
    for (size_t line = 0; line < sizeof heads / sizeof *heads; line++) {
        d->foot += line == 0 ? LINE : LINE - 2;
        row(d, heads[line], " font-weight=\"bold\" font-size=\"13\"");
    }
    sw_svg_text(&d->body, WORDS_LEFT, d->foot, SW_SVG_START, " font-weight=\"bold\"",
                "what it does, and how");
    d->foot += 8;
    sw_svg_line(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_WIDTH - SW_SVG_MARGIN, d->foot,
                " " SW_MAP_BORDER);
}

static void table_row(sw_map_drawing *d, size_t place) {
    const sw_map_place *p = &d->map->places[place];
    sw_sheet *s = d->sheet;
    const char *const cells[] = {sw_map_percent(s, p->area),
                                 p->of_likely > 0 ? sw_map_percent(s, p->of_likely) : "-",
                                 sw_sheet_money(s, p->bundle.cost)};
    d->foot += LINE + 4;
    sw_map_number(d, SW_SVG_MARGIN + 11, d->foot - 5, place);
    row(d, cells, "");
    words(d, sw_map_does(s, d->map, p), " font-weight=\"bold\"", SW_MAP_BOLD);
    words(d, sw_map_changes(s, p), "", 1);
    d->foot -= LINE - 8;
    sw_svg_line(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_WIDTH - SW_SVG_MARGIN, d->foot,
                " stroke=\"#767676\" stroke-width=\"0.6\"");
}

void sw_map_table(sw_map_drawing *d) {
    const sw_map *map = d->map;
    double rest = 0;
    size_t left = 0;
    table_head(d);
    for (size_t p = 0; p < map->place_count; p++) {
        if (sw_map_is_told(d, p)) {
            table_row(d, p);
            continue;
        }
        rest += map->places[p].area;
        left++;
    }
    if (left == 0)
        return;
    d->foot += LINE + 4;
    sw_svg_text(
        &d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START, "",
        SW_FORMAT(
            d->sheet, "%zu smaller one%s, together %s of all ways, %s neither numbered nor listed.",
            left, left > 1 ? "s" : "", sw_map_percent(d->sheet, rest), left > 1 ? "are" : "is"));
}
