/* The weight map as a picture: plain SVG 1.1 that stands alone. */
#include "render/map_svg.h"

#include <math.h>
#include <string.h>

#define TITLE_LINES 2
#define TOLD_MOST 9

/* ---- marks ------------------------------------------------------------------------------------
 */

const char *sw_map_bind(sw_map_drawing *d, const char *text) {
    sw_text out = {0};
    sw_text_add(&out, "");
    for (; *text != '\0'; text++) {
        if (text[0] == ' ' && text[1] == '%')
            sw_text_add(&out, "\xC2\xA0");
        else
            sw_text_add_bytes(&out, text, 1);
    }
    const char *bound = out.failed ? NULL : sw_arena_copy(d->sheet->arena, out.bytes);
    sw_text_free(&out);
    return sw_sheet_text(d->sheet, bound);
}

const char *sw_map_whose(const sw_map_drawing *d) {
    return d->voice == SW_MAP_TO_BENCH ? "The client's answer" : "Your answer";
}

bool sw_map_is_told(const sw_map_drawing *d, size_t place) {
    const sw_map *map = d->map;
    bool told = place < d->told_most || place == map->here ||
                (map->has_change && place == map->change.then) || map->places[place].of_likely > 0;
    for (size_t a = 0; a < map->axis_count; a++)
        told = told || map->axes[a].best == place;
    return told;
}

const char *sw_map_cut(sw_map_drawing *d, const char *text, double width) {
    const char *rest = text;
    const char *line = sw_svg_next_line(d->sheet->arena, &rest, width);
    if (line == NULL)
        return "";
    if (rest[strspn(rest, " ")] == '\0')
        return line;
    rest = text;
    line = sw_svg_next_line(d->sheet->arena, &rest, width - 18);
    return line != NULL ? SW_FORMAT(d->sheet, "%s ...", line) : "";
}

void sw_map_halo(sw_map_drawing *d, double x, double y, sw_svg_anchor anchor, const char *look,
                 const char *text) {
    const char *edge = SW_FORMAT(
        d->sheet, "%s stroke=\"#ffffff\" stroke-width=\"4\" stroke-linejoin=\"round\"", look);
    /* SVG 1.1 has no order of painting; browsers have, and there each word should stand once. */
    if (d->voice == SW_MAP_TO_CLIENT) {
        sw_svg_text(&d->body, x, y, anchor, SW_FORMAT(d->sheet, "%s paint-order=\"stroke\"", edge),
                    text);
        return;
    }
    sw_svg_text(&d->body, x, y, anchor, edge, text);
    sw_svg_text(&d->body, x, y, anchor, look, text);
}

void sw_map_polygon(sw_map_drawing *d, const sw_svg_point *points, size_t count, const char *look) {
    sw_text_add(&d->body, "<polygon points=\"");
    for (size_t i = 0; i < count; i++) {
        sw_text_add(&d->body, i > 0 ? " " : "");
        sw_svg_number(&d->body, points[i].x);
        sw_text_add(&d->body, ",");
        sw_svg_number(&d->body, points[i].y);
    }
    sw_text_addf(&d->body, "\" %s/>\n", look);
}

static void circle(sw_map_drawing *d, double x, double y, const char *look) {
    sw_text_add(&d->body, "<circle");
    sw_svg_attribute(&d->body, "cx", x);
    sw_svg_attribute(&d->body, "cy", y);
    sw_text_addf(&d->body, " %s/>\n", look);
}

void sw_map_dot(sw_map_drawing *d, double x, double y) {
    circle(d, x, y, "r=\"7.5\" fill=\"#ffffff\" stroke=\"" SW_SVG_INK "\" stroke-width=\"1.6\"");
    circle(d, x, y, "r=\"4\" fill=\"" SW_SVG_INK "\"");
}

void sw_map_arrow(sw_map_drawing *d, sw_svg_point from, sw_svg_point to, const char *look) {
    double x = to.x - from.x, y = to.y - from.y, length = sqrt(x * x + y * y);
    if (length < 1)
        return;
    x /= length;
    y /= length;
    sw_svg_line(&d->body, from.x, from.y, to.x - 7 * x, to.y - 7 * y, look);
    const sw_svg_point head[] = {{to.x, to.y},
                                 {to.x - 11 * x - 5.5 * y, to.y - 11 * y + 5.5 * x},
                                 {to.x - 11 * x + 5.5 * y, to.y - 11 * y - 5.5 * x}};
    sw_map_polygon(d, head, 3, "fill=\"#8a3f00\" stroke=\"#ffffff\" stroke-width=\"0.8\"");
}

void sw_map_number(sw_map_drawing *d, double x, double y, size_t place) {
    circle(d, x, y, "r=\"10.5\" fill=\"#ffffff\" stroke=\"" SW_SVG_INK "\" stroke-width=\"1.3\"");
    sw_svg_text(&d->body, x, y + 5, SW_SVG_MIDDLE, " font-weight=\"bold\"",
                sw_map_mark(d->sheet, place, d->voice));
}

/* ---- the whole --------------------------------------------------------------------------------
 */

static void head(sw_map_drawing *d) {
    const char *title = d->map->answer->title, *line;
    double width = (SW_SVG_WIDTH - 2 * SW_SVG_MARGIN) / SW_SVG_TITLE;
    d->foot = 8;
    for (int i = 0; i < TITLE_LINES; i++) {
        bool last = i == TITLE_LINES - 1;
        line = sw_svg_next_line(d->sheet->arena, &title, last ? width - 21 : width);
        if (line == NULL)
            break;
        d->foot += 23;
        if (last && title[strspn(title, " ")] != '\0')
            line = SW_FORMAT(d->sheet, "%s ...", line);
        sw_svg_text(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START,
                    " font-size=\"18\" font-weight=\"bold\"", line);
    }
    d->foot += 22;
    sw_svg_text(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START, "",
                "Which bundle is best, whichever way you weigh what counts");
    if (d->map->place_count < 2)
        return;
    d->foot += 19;
    sw_svg_text(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START, "",
                SW_FORMAT(d->sheet,
                          "Shares are of all ways to weigh: bundle 1 is best in %s of them",
                          sw_map_percent(d->sheet, d->map->places[0].area)));
}

static void sentence(sw_map_drawing *d, const char *words) {
    d->foot += 34;
    for (const char *line; (line = sw_svg_next_line(d->sheet->arena, &words,
                                                    SW_SVG_WIDTH - 2 * SW_SVG_MARGIN)) != NULL;) {
        sw_svg_text(&d->body, SW_SVG_MARGIN, d->foot, SW_SVG_START, "", line);
        d->foot += 18;
    }
    d->foot -= 18;
}

static void picture(sw_map_drawing *d) {
    const sw_map *map = d->map;
    head(d);
    if (sw_map_nothing(map) != NULL) {
        sentence(d, sw_map_nothing(map));
        if (map->place_count > 0)
            sw_map_table(d);
        return;
    }
    if (map->axis_count == 3)
        sw_map_triangle(d);
    else
        sw_map_line(d);
    sw_map_legend(d);
    sw_map_table(d);
}

/* The same for those who do not see it. */
static void describe(sw_text *out, sw_map_drawing *d) {
    const sw_map *map = d->map;
    sw_sheet *s = d->sheet;
    if (map->place_count == 0) {
        sw_svg_escape(out, sw_map_nothing(map));
        return;
    }
    sw_svg_escape(out, SW_FORMAT(s, "The client's answer: %s. Bundle %zu is best there. %s %s",
                                 sw_map_answer(s, map), map->here + 1,
                                 sw_map_likely_words(s, map, d->voice),
                                 sw_map_change_words(s, map, d->voice)));
    for (size_t a = 0; a < map->axis_count; a++)
        sw_svg_escape(out, SW_FORMAT(s, " With %s: bundle %zu.",
                                     sw_map_corner_words(s, map, sw_map_axis_name(map, a)),
                                     map->axes[a].best + 1));
    for (size_t p = 0; p < map->place_count; p++)
        if (sw_map_is_told(d, p))
            sw_svg_escape(out, SW_FORMAT(s, " Bundle %zu, %s: %s.", p + 1,
                                         sw_map_percent(s, map->places[p].area),
                                         sw_map_does(s, map, &map->places[p])));
    sw_svg_escape(out, SW_FORMAT(s, " %s", sw_map_open(s, map, d->voice)));
}

static void frame(sw_text *out, sw_map_drawing *d, const char *description) {
    const char *title = d->map->answer->title;
    double height = d->foot + SW_SVG_MARGIN;
    sw_text_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                     "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"");
    sw_svg_attribute(out, "width", SW_SVG_WIDTH);
    sw_svg_attribute(out, "height", height);
    sw_text_add(out, " viewBox=\"0 0 ");
    sw_svg_number(out, SW_SVG_WIDTH);
    sw_text_add(out, " ");
    sw_svg_number(out, height);
    sw_text_add(out, "\" role=\"img\" aria-labelledby=\"title desc\" font-family=\"sans-serif\" "
                     "font-size=\"14\" fill=\"" SW_SVG_INK "\">\n<title id=\"title\">");
    sw_svg_escape(out, title[0] != '\0' ? title : "The weight map");
    sw_text_add(out, "</title>\n<desc id=\"desc\">");
    sw_text_add(out, description);
    sw_text_add(out, "</desc>\n<rect");
    sw_svg_attribute(out, "width", SW_SVG_WIDTH);
    sw_svg_attribute(out, "height", height);
    sw_text_add(out, " fill=\"#ffffff\"/>\n");
    sw_text_add(out, d->body.bytes);
    sw_text_add(out, "</svg>\n");
}

sw_status sw_render_map_svg(char **out, const sw_map *map) {
    sw_sheet sheet;
    sw_text text = {0}, description = {0};
    if (!sw_sheet_start(&sheet, map->answer, (sw_text_style){.width = 80}))
        return SW_NO_MEMORY;
    sw_map_drawing d = {.map = map, .sheet = &sheet, .side = 452, .told_most = TOLD_MOST};
    picture(&d);
    describe(&description, &d);
    bool good = !d.body.failed && !description.failed && !sheet.page.text.failed;
    if (good)
        frame(&text, &d, description.bytes);
    good = good && !text.failed;
    sw_text_free(&d.body);
    sw_text_free(&description);
    sw_text_free(&sheet.page.text);
    sw_arena_free(sheet.arena);
    if (!good) {
        sw_text_free(&text);
        return SW_NO_MEMORY;
    }
    *out = text.bytes;
    return SW_OK;
}
