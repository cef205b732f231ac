/* What the files that draw the weight map share. */
#ifndef SW_RENDER_MAP_SVG_H
#define SW_RENDER_MAP_SVG_H

#include "render/curve_svg.h"
#include "render/map.h"

#define SW_MAP_LABELS_MOST 64
#define SW_MAP_STROKES_MOST 96
/* How much wider a bold letter is than a plain one of the same size. */
#define SW_MAP_BOLD 1.12

/* Each kind of line has its own look, so that it is told without its colour: borders are whole, or
 * of long dashes where they are not settled; what is likely stands in a row of dots; leaders are
 * fine. */
#define SW_MAP_BORDER "stroke=\"" SW_SVG_INK "\" stroke-width=\"1.3\""
#define SW_MAP_OPEN SW_MAP_BORDER " stroke-dasharray=\"9 4\""
#define SW_MAP_LIKELY                                                                              \
    "stroke=\"#5f2167\" fill=\"none\" stroke-width=\"3.6\" stroke-linecap=\"round\" "              \
    "stroke-dasharray=\"0.1 6\""
#define SW_MAP_MOVE " stroke=\"#8a3f00\" stroke-width=\"2.6\""
#define SW_MAP_POINTER " stroke=\"#8a3f00\" stroke-width=\"1.4\""
/* A shorter move cannot be seen beside the mark of the answer. */
#define SW_MAP_NEAR 30.0
#define SW_MAP_LEADER "stroke=\"" SW_SVG_INK "\" stroke-width=\"0.8\" stroke-dasharray=\"2 2\""
#define SW_MAP_HERE "#dfe8f2"

typedef struct sw_svg_point {
    double x, y;
} sw_svg_point;

typedef struct sw_svg_stroke {
    sw_svg_point from, to;
    double weight; /* how much a label should keep off */
} sw_svg_stroke;

typedef struct sw_map_drawing {
    const sw_map *map;
    sw_sheet *sheet; /* lends words and scratch */
    sw_map_voice voice;
    double side;      /* of the triangle: small where paper is dear */
    size_t told_most; /* of the largest regions; others where they matter */
    sw_text body;
    double foot;             /* down to here it is drawn */
    sw_svg_point corners[3]; /* of the triangle */
    sw_svg_box labels[SW_MAP_LABELS_MOST];
    size_t label_count;
    sw_svg_stroke strokes[SW_MAP_STROKES_MOST]; /* that labels should not lie on */
    size_t stroke_count;
} sw_map_drawing;

/* A number and its "%" stay on one line. */
const char *sw_map_bind(sw_map_drawing *d, const char *text);
/* "The client's answer", "Your answer" */
const char *sw_map_whose(const sw_map_drawing *d);
/* Has it a number in the picture, and a row in the table? */
bool sw_map_is_told(const sw_map_drawing *d, size_t place);
/* One line of it, cut where it is wider. */
const char *sw_map_cut(sw_map_drawing *d, const char *text, double width);
/* A text on a white edge, so that it can be read over lines. */
void sw_map_halo(sw_map_drawing *d, double x, double y, sw_svg_anchor anchor, const char *look,
                 const char *text);
void sw_map_polygon(sw_map_drawing *d, const sw_svg_point *points, size_t count, const char *look);
void sw_map_dot(sw_map_drawing *d, double x, double y); /* the client's answer */
void sw_map_arrow(sw_map_drawing *d, sw_svg_point from, sw_svg_point to, const char *look);
void sw_map_number(sw_map_drawing *d, double x, double y, size_t place);

/* From `foot` on; each leaves it below what it drew. */
void sw_map_triangle(sw_map_drawing *d);
void sw_map_line(sw_map_drawing *d);
void sw_map_legend(sw_map_drawing *d);
void sw_map_table(sw_map_drawing *d);

#endif
