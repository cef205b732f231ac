/* Two criteria: a line from all weight on the first to all on the second. */
#include "render/map_svg.h"

#include <math.h>

#define LEFT (SW_SVG_MARGIN + 14)
#define RIGHT (SW_SVG_WIDTH - SW_SVG_MARGIN - 14)
#define HEIGHT 62.0
#define NARROW 16.0 /* no room for a number */
#define APART 24.0

static double across(double share) { return LEFT + share * (RIGHT - LEFT); }

static void bar(sw_map_drawing *d, double top) {
    const sw_map *map = d->map;
    for (size_t p = 0; p < map->place_count; p++) {
        const sw_map_place *place = &map->places[p];
        double from = across(place->corners[0].share[1]), to = across(place->corners[1].share[1]);
        const sw_svg_point box[] = {
            {from, top}, {to, top}, {to, top + HEIGHT}, {from, top + HEIGHT}};
        sw_map_polygon(d, box, 4,
                       SW_FORMAT(d->sheet, "fill=\"%s\" %s",
                                 p == map->here ? SW_MAP_HERE : "#ffffff",
                                 place->is_proved ? SW_MAP_BORDER : SW_MAP_OPEN));
    }
}

static double middle_of(const sw_map_place *place) {
    return across((place->corners[0].share[1] + place->corners[1].share[1]) / 2);
}

static double width_of(const sw_map_place *place) { return place->area * (RIGHT - LEFT) - 12; }

/* Its number and share, and what it does where that fits. */
static void name(sw_map_drawing *d, size_t p, double top) {
    const sw_map_place *place = &d->map->places[p];
    double middle = middle_of(place), width = width_of(place), y = top + 18;
    const char *share = sw_map_percent(d->sheet, place->area);
    double wide = sw_svg_width(share) + 6;
    if (width < wide + 24) {
        sw_map_number(d, middle, y, p);
        return;
    }
    sw_map_number(d, middle - wide / 2, y, p);
    sw_svg_text(&d->body, middle - wide / 2 + 16, y + 5, SW_SVG_START, " font-weight=\"bold\"",
                share);
    if (d->voice == SW_MAP_TO_CLIENT)
        return;
    const char *rest = sw_map_bind(d, sw_map_does(d->sheet, d->map, place));
    const char *first = sw_svg_next_line(d->sheet->arena, &rest, width);
    const char *second = sw_svg_next_line(d->sheet->arena, &rest, width);
    if (first == NULL || sw_svg_next_line(d->sheet->arena, &rest, width) != NULL)
        return;
    sw_svg_text(&d->body, middle, y + 24, SW_SVG_MIDDLE, " font-size=\"13\"", first);
    if (second != NULL)
        sw_svg_text(&d->body, middle, y + 39, SW_SVG_MIDDLE, " font-size=\"13\"", second);
}

/* The narrow ones from left to right. */
static size_t list_narrow(size_t *out, const sw_map_drawing *d) {
    const sw_map *map = d->map;
    size_t count = 0;
    for (size_t p = 0; p < map->place_count; p++) {
        if (width_of(&map->places[p]) >= NARROW || !sw_map_is_told(d, p))
            continue;
        size_t at = count++;
        for (; at > 0 && middle_of(&map->places[out[at - 1]]) > middle_of(&map->places[p]); at--)
            out[at] = out[at - 1];
        out[at] = p;
    }
    return count;
}

/* Narrow ones have their numbers below the bar, at lines; true when there are any. */
static bool names(sw_map_drawing *d, double top) {
    const sw_map *map = d->map;
    size_t *narrow = SW_NEW(d->sheet->arena, size_t, map->place_count);
    double *x = SW_NEW(d->sheet->arena, double, map->place_count);
    d->body.failed = d->body.failed || narrow == NULL || x == NULL;
    if (narrow == NULL || x == NULL)
        return false;
    for (size_t p = 0; p < map->place_count; p++)
        if (width_of(&map->places[p]) >= NARROW)
            name(d, p, top);
    size_t count = list_narrow(narrow, d);
    for (size_t i = 0; i < count; i++) {
        x[i] = middle_of(&map->places[narrow[i]]);
        if (i > 0 && x[i] < x[i - 1] + APART)
            x[i] = x[i - 1] + APART;
    }
    for (size_t i = count; i-- > 0;) {
        double most = i + 1 < count ? x[i + 1] - APART : RIGHT;
        x[i] = x[i] < most ? x[i] : most;
        double middle = middle_of(&map->places[narrow[i]]);
        sw_svg_line(&d->body, middle, top + HEIGHT / 2, x[i], top + HEIGHT + 16, " " SW_MAP_LEADER);
        sw_map_number(d, x[i], top + HEIGHT + 26, narrow[i]);
    }
    return count > 0;
}

static void ticks(sw_map_drawing *d, double y) {
    for (int percent = 0; percent <= 100; percent += 25) {
        double x = across(percent / 100.0);
        sw_svg_line(&d->body, x, y, x, y + 5, " " SW_MAP_BORDER);
        sw_svg_text(&d->body, x, y + 19, SW_SVG_MIDDLE, "", SW_FORMAT(d->sheet, "%d %%", percent));
    }
    d->foot = y + 38;
    sw_svg_text(&d->body, (LEFT + RIGHT) / 2, d->foot, SW_SVG_MIDDLE, "",
                SW_FORMAT(d->sheet, "weight of %s; the rest is that of %s",
                          sw_map_cut(d, sw_map_axis_name(d->map, 1), 160),
                          sw_map_cut(d, sw_map_axis_name(d->map, 0), 160)));
}

static void corner(sw_map_drawing *d, size_t axis, double x, sw_svg_anchor anchor, double y) {
    const sw_map *map = d->map;
    sw_svg_text(&d->body, x, y, anchor, "",
                SW_FORMAT(d->sheet, "%s:",
                          sw_map_corner_words(d->sheet, map,
                                              sw_map_cut(d, sw_map_axis_name(map, axis), 120))));
    sw_svg_text(
        &d->body, x, y + 17, anchor, " font-weight=\"bold\"",
        SW_FORMAT(d->sheet, "%s is best", sw_map_name(d->sheet, map->axes[axis].best, d->voice)));
}

/* Above the bar: the answer, what is likely around it, the way to the nearest change. */
static void marks(sw_map_drawing *d, double y) {
    const sw_map *map = d->map;
    double at = across(map->axes[1].at);
    sw_svg_point near_from = {0}, near_to = {0};
    bool points = false;
    sw_svg_line(&d->body, at, y, at, y + 34, " " SW_MAP_BORDER);
    if (map->likely_count > 1) {
        double a = across(map->likely[0].share[1]), b = across(map->likely[1].share[1]);
        const sw_svg_point box[] = {{a, y - 12}, {b, y - 12}, {b, y + 12}, {a, y + 12}};
        sw_map_polygon(d, box, 4, SW_MAP_LIKELY);
    }
    if (map->has_change && map->change.share > 0) {
        double by = map->change.share * (map->change.to == 1 ? 1 : -1);
        double to = across(map->axes[1].at + by), way = at < (LEFT + RIGHT) / 2 ? 1 : -1;
        bool near = to - at < SW_MAP_NEAR && at - to < SW_MAP_NEAR;
        if (!near)
            sw_map_arrow(d, (sw_svg_point){at, y}, (sw_svg_point){to, y}, SW_MAP_MOVE);
        sw_map_halo(d, near ? (way > 0 ? fmax(at, to) : fmin(at, to)) + 44 * way : at + 8 * way,
                    y + 27, way > 0 ? SW_SVG_START : SW_SVG_END, " font-weight=\"bold\"",
                    SW_FORMAT(d->sheet, "nearest change: %s, then %s",
                              sw_map_percent(d->sheet, map->change.share),
                              sw_map_mark(d->sheet, map->change.then, d->voice)));
        near_from = (sw_svg_point){(way > 0 ? fmax(at, to) : fmin(at, to)) + 40 * way, y + 22};
        near_to = (sw_svg_point){near ? to : at, y};
        points = near;
    }
    bool left = map->axes[1].at<0.25, right = map->axes[1].at> 0.75;
    sw_map_halo(
        d,
        left    ? at - 8
        : right ? at + 8
                : at,
        y - 19,
        left    ? SW_SVG_START
        : right ? SW_SVG_END
                : SW_SVG_MIDDLE,
        " font-weight=\"bold\"",
        SW_FORMAT(d->sheet, "%s: %s", sw_map_whose(d), sw_map_mark(d->sheet, map->here, d->voice)));
    sw_map_dot(d, at, y);
    if (points)
        sw_map_arrow(d, near_from, near_to, SW_MAP_POINTER);
}

void sw_map_line(sw_map_drawing *d) {
    d->foot += 34;
    corner(d, 0, LEFT, SW_SVG_START, d->foot);
    corner(d, 1, RIGHT, SW_SVG_END, d->foot);
    double y = d->foot + 62, top = y + 34;
    bar(d, top);
    bool narrow = names(d, top);
    marks(d, y);
    ticks(d, top + HEIGHT + (narrow ? 42 : 4));
    d->foot += 8;
}
