/* Three criteria: the triangle, its regions with their names, and what lies on it. */
#include "render/map_svg.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define GRID 26
#define LEADERS_MOST 12 /* regions too small for a number inside */
#define ROW 15.0        /* of a name, at a size of 13 */
#define APART 24.0      /* numbers outside */
#define NOTE_LINES 4

/* ---- places ------------------------------------------------------------------------------------
 */

static sw_svg_point at(const sw_map_drawing *d, const double share[3]) {
    sw_svg_point out = {0, 0};
    for (int i = 0; i < 3; i++) {
        out.x += share[i] * d->corners[i].x;
        out.y += share[i] * d->corners[i].y;
    }
    return out;
}

static sw_svg_point *polygon_of(sw_map_drawing *d, const sw_map_corner *corners, size_t count) {
    sw_svg_point *out = SW_NEW(d->sheet->arena, sw_svg_point, count);
    for (size_t k = 0; out != NULL && k < count; k++)
        out[k] = at(d, corners[k].share);
    d->body.failed = d->body.failed || out == NULL;
    return out;
}

static void note_stroke(sw_map_drawing *d, sw_svg_point from, sw_svg_point to, double weight) {
    if (d->stroke_count < SW_MAP_STROKES_MOST)
        d->strokes[d->stroke_count++] = (sw_svg_stroke){from, to, weight};
}

static void note_label(sw_map_drawing *d, sw_svg_box box) {
    if (d->label_count < SW_MAP_LABELS_MOST)
        d->labels[d->label_count++] = box;
}

static double turn(sw_svg_point a, sw_svg_point b, double x, double y) {
    return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x);
}

/* How far inside the convex polygon; below 0: outside. */
static double depth(const sw_svg_point *polygon, size_t count, double x, double y) {
    double least = 1e9, twice = 0;
    for (size_t k = 1; k + 1 < count; k++)
        twice += turn(polygon[0], polygon[k], polygon[k + 1].x, polygon[k + 1].y);
    for (size_t k = 0; k < count; k++) {
        sw_svg_point a = polygon[k], b = polygon[(k + 1) % count];
        double length = sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
        double far = length > 0 ? turn(a, b, x, y) / length : 1e9;
        far = twice < 0 && length > 0 ? -far : far;
        least = far < least ? far : least;
    }
    return least;
}

static bool overlaps(const sw_svg_box *a, const sw_svg_box *b) {
    return a->left < b->right && b->left < a->right && a->top < b->bottom && b->top < a->bottom;
}

static bool crosses(const sw_svg_box *box, const sw_svg_stroke *stroke) {
    for (int i = 0; i <= 24; i++) {
        double t = i / 24.0;
        double x = stroke->from.x + t * (stroke->to.x - stroke->from.x);
        double y = stroke->from.y + t * (stroke->to.y - stroke->from.y);
        if (x > box->left && x < box->right && y > box->top && y < box->bottom)
            return true;
    }
    return false;
}

/* The middle of where a box of that size lies best within the polygon: over no label, on the
 * fewest lines, far from the border. */
static bool find_room(sw_svg_point *out, const sw_map_drawing *d, const sw_svg_point *polygon,
                      size_t count, double width, double height, double least) {
    sw_svg_box around = {1e9, 1e9, -1e9, -1e9};
    double best = least;
    for (size_t k = 0; k < count; k++) {
        around.left = fmin(around.left, polygon[k].x);
        around.right = fmax(around.right, polygon[k].x);
        around.top = fmin(around.top, polygon[k].y);
        around.bottom = fmax(around.bottom, polygon[k].y);
    }
    for (int i = 1; i < GRID * GRID; i++) {
        double x = around.left + (around.right - around.left) * (i % GRID) / GRID;
        int row = i / GRID;
        double y = around.top + (around.bottom - around.top) * row / GRID;
        sw_svg_box box = {x - width / 2, y - height / 2, x + width / 2, y + height / 2};
        double inside = fmin(fmin(depth(polygon, count, box.left, box.top),
                                  depth(polygon, count, box.right, box.top)),
                             fmin(depth(polygon, count, box.left, box.bottom),
                                  depth(polygon, count, box.right, box.bottom)));
        bool free = inside > 1;
        for (size_t l = 0; l < d->label_count && free; l++)
            free = !overlaps(&box, &d->labels[l]);
        if (!free)
            continue;
        double worth = fmin(inside, 30);
        for (size_t s = 0; s < d->stroke_count; s++)
            worth -= crosses(&box, &d->strokes[s]) ? d->strokes[s].weight : 0;
        if (worth > best) {
            best = worth;
            *out = (sw_svg_point){x, y};
        }
    }
    return best > least;
}

/* ---- names of regions -------------------------------------------------------------------------
 */

/* Over what is likely or over the way to the change a name would be hard to read. */
#define CLEAR (-120.0)

typedef struct name {
    const char *lines[6];
    size_t count;
    double width; /* of all lines */
} name;

static bool wrap(name *out, sw_map_drawing *d, const char *words, double width) {
    *out = (name){.count = 0};
    for (const char *line; (line = sw_svg_next_line(d->sheet->arena, &words, width)) != NULL;) {
        if (out->count == 6)
            return false;
        out->width = fmax(out->width, sw_svg_width(line) * 13 / 14);
        out->lines[out->count++] = line;
    }
    return true;
}

static void write_name(sw_map_drawing *d, const name *of, sw_svg_point middle, size_t place,
                       const char *share, double width, double height) {
    double x = middle.x, y = middle.y - height / 2 + 12;
    double wide = sw_svg_width(share) * SW_MAP_BOLD + 28;
    note_label(d, (sw_svg_box){x - width / 2, y - 12, x + width / 2, y - 12 + height});
    sw_map_number(d, x - wide / 2 + 11, y, place);
    sw_map_halo(d, x - wide / 2 + 27, y + 5, SW_SVG_START, " font-weight=\"bold\"", share);
    for (size_t i = 0; i < of->count; i++)
        sw_map_halo(d, x, y + 24 + ROW * (double)i, SW_SVG_MIDDLE, " font-size=\"13\"",
                    of->lines[i]);
}

/* With what it does, or with its share alone, or its number alone; false: there is no room. */
static bool name_inside(sw_map_drawing *d, size_t place, const sw_svg_point *polygon) {
    const sw_map_place *p = &d->map->places[place];
    static const double widths[] = {230, 190, 150, 120, 95};
    const char *share = sw_map_percent(d->sheet, p->area);
    const char *does = sw_map_bind(d, sw_map_does(d->sheet, d->map, p));
    double head = sw_svg_width(share) * SW_MAP_BOLD + 28;
    sw_svg_point middle;
    name of = {.count = 0};
    /* On a page the table says what it does, and the picture is small. */
    size_t tries = d->voice == SW_MAP_TO_CLIENT ? 0 : sizeof widths / sizeof *widths;
    for (size_t i = 0; i < tries; i++) {
        if (!wrap(&of, d, does, widths[i]))
            continue;
        double width = fmax(of.width, head) + 4, height = 26 + ROW * (double)of.count;
        if (find_room(&middle, d, polygon, p->corner_count, width, height, CLEAR)) {
            write_name(d, &of, middle, place, share, width, height);
            return true;
        }
    }
    of.count = 0;
    if (find_room(&middle, d, polygon, p->corner_count, head, 24, -1e9)) {
        write_name(d, &of, middle, place, share, head, 24);
        return true;
    }
    if (!find_room(&middle, d, polygon, p->corner_count, 22, 22, -1e9))
        return false;
    sw_map_number(d, middle.x, middle.y, place);
    note_label(d, (sw_svg_box){middle.x - 11, middle.y - 11, middle.x + 11, middle.y + 11});
    return true;
}

/* ---- numbers beside the triangle ---------------------------------------------------------------
 */

typedef struct outside {
    size_t place;
    sw_svg_point from, to;
    int side; /* 0 left, 1 right, 2 below */
} outside;

static sw_svg_point middle_of(const sw_svg_point *polygon, size_t count) {
    sw_svg_point out = {0, 0};
    for (size_t k = 0; k < count; k++) {
        out.x += polygon[k].x / (double)count;
        out.y += polygon[k].y / (double)count;
    }
    return out;
}

static int by_side(const void *left, const void *right) {
    const outside *a = left, *b = right;
    if (a->side != b->side)
        return a->side - b->side;
    double by = a->side == 2 ? a->from.x - b->from.x : a->from.y - b->from.y;
    return by < 0 ? -1 : by > 0;
}

/* Where it stands along its side: across or down. */
static double *along(outside *of) { return of->side == 2 ? &of->to.x : &of->to.y; }

/* One beside the other in their order, and none beyond the end of its side. */
static void spread(const sw_map_drawing *d, outside *list, size_t count) {
    for (size_t i = 1; i < count; i++)
        if (list[i].side == list[i - 1].side)
            *along(&list[i]) = fmax(*along(&list[i]), *along(&list[i - 1]) + APART);
    for (size_t i = count; i-- > 0;) {
        bool last = i + 1 == count || list[i + 1].side != list[i].side;
        double end = list[i].side == 2 ? SW_SVG_WIDTH - SW_SVG_MARGIN - 12 : d->corners[1].y - 2;
        *along(&list[i]) = fmin(*along(&list[i]), last ? end : *along(&list[i + 1]) - APART);
    }
}

/* To the nearest side. */
static void place_outside(sw_map_drawing *d, outside *list, size_t count) {
    const sw_svg_point *c = d->corners;
    double low = c[1].y - c[0].y;
    for (size_t i = 0; i < count; i++) {
        double half = d->side / 2 * (list[i].from.y - c[0].y) / low;
        double left = list[i].from.x - (c[0].x - half), right = c[0].x + half - list[i].from.x;
        double below = c[1].y - list[i].from.y;
        list[i].side = below < 0.5 * fmin(left, right) ? 2 : left < right ? 0 : 1;
        list[i].to =
            (sw_svg_point){list[i].from.x, list[i].side == 2 ? c[1].y + 24 : list[i].from.y};
    }
    qsort(list, count, sizeof *list, by_side);
    spread(d, list, count);
    for (size_t i = 0; i < count; i++) {
        double half = d->side / 2 * fmin(1, fmax(0, (list[i].to.y - c[0].y) / low));
        if (list[i].side != 2)
            list[i].to.x = c[0].x + (list[i].side == 0 ? -1 : 1) * (half + 24);
    }
}

/* True when some stand below the triangle. */
static bool name_outside(sw_map_drawing *d, outside *list, size_t count) {
    place_outside(d, list, count);
    bool below = false;
    for (size_t i = 0; i < count; i++) {
        const outside *o = &list[i];
        sw_svg_line(&d->body, o->from.x, o->from.y, o->to.x, o->to.y, " " SW_MAP_LEADER);
        sw_map_number(d, o->to.x, o->to.y, o->place);
        below = below || o->side == 2;
    }
    return below;
}

/* ---- the triangle ------------------------------------------------------------------------------
 */

static void regions(sw_map_drawing *d) {
    const sw_map *map = d->map;
    for (size_t p = 0; p < map->place_count; p++) {
        const sw_map_place *place = &map->places[p];
        const sw_svg_point *polygon = polygon_of(d, place->corners, place->corner_count);
        if (polygon != NULL)
            sw_map_polygon(d, polygon, place->corner_count,
                           SW_FORMAT(d->sheet, "fill=\"%s\" %s stroke-linejoin=\"round\"",
                                     p == map->here ? SW_MAP_HERE : "#ffffff",
                                     place->is_proved ? SW_MAP_BORDER : SW_MAP_OPEN));
    }
    sw_map_polygon(d, d->corners, 3, "fill=\"none\" " SW_MAP_BORDER);
}

static bool names(sw_map_drawing *d) {
    const sw_map *map = d->map;
    outside list[LEADERS_MOST];
    size_t count = 0;
    for (size_t p = 0; p < map->place_count; p++) {
        const sw_map_place *place = &map->places[p];
        const sw_svg_point *polygon = polygon_of(d, place->corners, place->corner_count);
        if (polygon == NULL || !sw_map_is_told(d, p) || name_inside(d, p, polygon) ||
            count == LEADERS_MOST)
            continue;
        list[count++] = (outside){.place = p, .from = middle_of(polygon, place->corner_count)};
    }
    return name_outside(d, list, count);
}

static void corner(sw_map_drawing *d, size_t axis, double x, double y, sw_svg_anchor anchor) {
    const sw_map *map = d->map;
    const char *where = SW_FORMAT(
        d->sheet,
        "%s:", sw_map_corner_words(d->sheet, map, sw_map_cut(d, sw_map_axis_name(map, axis), 120)));
    sw_svg_text(&d->body, x, y, anchor, "", where);
    sw_svg_text(
        &d->body, x, y + 17, anchor, " font-weight=\"bold\"",
        SW_FORMAT(d->sheet, "%s is best", sw_map_name(d->sheet, map->axes[axis].best, d->voice)));
}

/* ---- what lies on it ---------------------------------------------------------------------------
 */

static sw_svg_point answer_at(const sw_map_drawing *d, double moved) {
    const sw_map *map = d->map;
    double share[3];
    for (int a = 0; a < 3; a++)
        share[a] = map->axes[a].at;
    if (moved > 0) {
        share[map->change.from] -= moved;
        share[map->change.to] += moved;
    }
    return at(d, share);
}

static void likely(sw_map_drawing *d) {
    const sw_map *map = d->map;
    const sw_svg_point *rim = polygon_of(d, map->likely, map->likely_count);
    if (rim == NULL || map->likely_count < 2)
        return;
    sw_map_polygon(d, rim, map->likely_count, SW_MAP_LIKELY);
    for (size_t k = 0; k < map->likely_count; k++)
        note_stroke(d, rim[k], rim[(k + 1) % map->likely_count], 200);
}

/* A note in the empty room beside the top of the triangle; from where a line leads to what it is
 * about. */
static sw_svg_point note(sw_map_drawing *d, int side, const char *lead, const char *words) {
    double x = side == 0 ? SW_SVG_MARGIN : SW_SVG_WIDTH - SW_SVG_MARGIN;
    double y = d->corners[0].y + 4, width = 176;
    sw_svg_anchor anchor = side == 0 ? SW_SVG_START : SW_SVG_END;
    sw_svg_text(&d->body, x, y, anchor, " font-weight=\"bold\"", lead);
    words = sw_map_bind(d, words);
    for (int i = 0; i < NOTE_LINES; i++) {
        const char *line = sw_svg_next_line(d->sheet->arena, &words, width);
        if (line == NULL)
            break;
        y += 17;
        sw_svg_text(&d->body, x, y, anchor, "", line);
    }
    return (sw_svg_point){side == 0 ? x + 60 : x - 60, y + 6};
}

static void lead_to(sw_map_drawing *d, sw_svg_point from, sw_svg_point about) {
    sw_svg_line(&d->body, from.x, from.y, about.x, about.y, " " SW_MAP_LEADER);
    note_stroke(d, from, about, 50);
}

/* The answer, and the way to the nearest change: an arrow from the one to the other, or, where that
 * would be too short to be seen, from its words. */
static void notes(sw_map_drawing *d, sw_svg_point here, sw_svg_point there) {
    const sw_map *map = d->map;
    sw_sheet *s = d->sheet;
    /* The client's own on the side where it lies. */
    int side = here.x > there.x ? 1 : 0;
    if (fabs(here.x - there.x) < 1)
        side = here.x > d->corners[0].x;
    const char *mark = sw_map_mark(s, map->here, d->voice);
    lead_to(d, note(d, side, SW_FORMAT(s, "%s: %s", sw_map_whose(d), mark), sw_map_answer(s, map)),
            here);
    bool changes = map->has_change && map->change.share > 0;
    bool near = hypot(there.x - here.x, there.y - here.y) < SW_MAP_NEAR;
    sw_svg_point from = here;
    if (changes) {
        mark = sw_map_mark(s, map->change.then, d->voice);
        from = note(d, 1 - side, SW_FORMAT(s, "Nearest change: to %s", mark),
                    SW_FORMAT(s, "%s of the weight from %s to %s",
                              sw_map_percent(s, map->change.share),
                              sw_map_cut(d, sw_map_axis_name(map, (size_t)map->change.from), 100),
                              sw_map_cut(d, sw_map_axis_name(map, (size_t)map->change.to), 100)));
    }
    if (changes && !near) {
        lead_to(d, from, there);
        sw_map_arrow(d, here, there, SW_MAP_MOVE);
        note_stroke(d, here, there, 200);
    }
    sw_map_dot(d, here.x, here.y);
    note_label(d, (sw_svg_box){here.x - 9, here.y - 9, here.x + 9, here.y + 9});
    if (changes && near) {
        sw_map_arrow(d, from, there, SW_MAP_POINTER);
        note_stroke(d, from, there, 200);
    }
}

void sw_map_triangle(sw_map_drawing *d) {
    const sw_map *map = d->map;
    double top = d->foot + 52, middle = SW_SVG_WIDTH / 2, low = top + d->side * 0.8660254;
    d->corners[0] = (sw_svg_point){middle, top};
    d->corners[1] = (sw_svg_point){middle - d->side / 2, low};
    d->corners[2] = (sw_svg_point){middle + d->side / 2, low};
    regions(d);
    likely(d);
    sw_svg_point here = answer_at(d, 0);
    sw_svg_point there = answer_at(d, map->has_change ? map->change.share : 0);
    notes(d, here, there);
    d->foot = low + (names(d) ? 52 : 20);
    corner(d, 0, middle, top - 25, SW_SVG_MIDDLE);
    corner(d, 1, SW_SVG_MARGIN, d->foot, SW_SVG_START);
    corner(d, 2, SW_SVG_WIDTH - SW_SVG_MARGIN, d->foot, SW_SVG_END);
    d->foot += 28;
}
