/* What the files that draw the curve share. */
#ifndef SW_RENDER_CURVE_SVG_H
#define SW_RENDER_CURVE_SVG_H

#include "render/plot.h"
#include "render/svg.h"

/* Units of the drawing. At 480 pixels of width a unit is 0.8 pixels, and text of 14 is 11. */
#define SW_SVG_WIDTH 600.0
#define SW_SVG_MARGIN 16.0
/* How much wider a bold letter of 18 is than a plain one of 14. */
#define SW_SVG_TITLE 1.45

/* Contrast on white (WCAG 2.1, 1.4.3 and 1.4.11): 4.5 for text and 3 for lines at the least. Each
 * kind of line has dashes of its own, so that it is told without its colour. */
#define SW_SVG_INK "#1f2933"
#define SW_SVG_STEPS "stroke=\"#14406b\" fill=\"none\" stroke-width=\"2.5\""
#define SW_SVG_OPEN "stroke=\"#14406b\" fill=\"none\" stroke-width=\"2.5\" stroke-dasharray=\"5 4\""
#define SW_SVG_CEILING                                                                             \
    "stroke=\"#14406b\" fill=\"none\" stroke-width=\"1.5\" stroke-dasharray=\"1.5 3\""
#define SW_SVG_ENVELOPE                                                                            \
    "stroke=\"#8a3f00\" fill=\"none\" stroke-width=\"1.5\" stroke-dasharray=\"11 5\""
#define SW_SVG_BUDGET                                                                              \
    "stroke=\"#5f2167\" fill=\"none\" stroke-width=\"1.8\" stroke-dasharray=\"9 3 2 3\""

typedef struct sw_svg_box {
    double left, top, right, bottom;
} sw_svg_box;

#define SW_SVG_LABELS_MOST 16

typedef struct sw_drawing {
    const sw_answer *answer;
    sw_plot plot;
    sw_arena *arena; /* scratch */
    sw_text body;
    sw_svg_box frame; /* of the plot */
    double foot;      /* down to here it is drawn */
    sw_svg_box labels[SW_SVG_LABELS_MOST];
    size_t label_count;
} sw_drawing;

double sw_drawing_x(const sw_drawing *d, int64_t cost);
double sw_drawing_y(const sw_drawing *d, int64_t points);
/* "" in place of NULL: lack of memory shows at the end, in the body. */
const char *sw_drawing_text(sw_drawing *d, const char *text);
#define SW_DRAW_FORMAT(d, ...) sw_drawing_text((d), sw_arena_format((d)->arena, __VA_ARGS__))
const char *sw_drawing_money(sw_drawing *d, int64_t minor); /* with the currency */
const char *sw_drawing_points(sw_drawing *d, int64_t thousandths);
/* Three figures; "-" for -1, which is beyond telling. */
const char *sw_drawing_figures(sw_drawing *d, int64_t number, int decimals);
const char *sw_drawing_per_hundred(sw_drawing *d, const sw_answer_slope *slope);
/* "41.8 EUR" */
const char *sw_drawing_price(sw_drawing *d, const sw_answer_slope *slope);

typedef enum sw_mark { SW_MARK_TODAY, SW_MARK_FIRST, SW_MARK_LAST } sw_mark;
void sw_drawing_mark(sw_drawing *d, sw_mark mark, double x, double y);

/* Writes a text at the first of the places where it lies over nothing else; nowhere: leaves it out,
 * since the words below the picture say it too. */
typedef struct sw_svg_place {
    double x, y;
    sw_svg_anchor anchor;
} sw_svg_place;
bool sw_drawing_label(sw_drawing *d, const char *text, const sw_svg_place *places, size_t count);

/* The words below the picture, from `foot` on. */
void sw_drawing_legend(sw_drawing *d);
/* The same for those who do not see it. */
void sw_drawing_describe(sw_text *out, sw_drawing *d);

#endif
