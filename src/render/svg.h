/* The few marks of SVG 1.1 that pictures are made of. Nothing here depends on the locale. */
#ifndef SW_RENDER_SVG_H
#define SW_RENDER_SVG_H

#include "base/base.h"

typedef enum sw_svg_anchor { SW_SVG_START, SW_SVG_MIDDLE, SW_SVG_END } sw_svg_anchor;

/* A number to a tenth. */
void sw_svg_number(sw_text *out, double number);
/* Text as XML 1.0 takes it, between tags or in an attribute. */
void sw_svg_escape(sw_text *out, const char *text);
/* " name=\"number\"" */
void sw_svg_attribute(sw_text *out, const char *name, double number);
/* `look`: further attributes, "" for none. */
void sw_svg_text(sw_text *out, double x, double y, sw_svg_anchor anchor, const char *look,
                 const char *text);
void sw_svg_line(sw_text *out, double x1, double y1, double x2, double y2, const char *look);

/* About how wide the text is at a size of 14, in a wide face to be safe. */
double sw_svg_width(const char *text);
/* The next line no wider than `width` of `*text`, which moves on behind it: NULL when nothing is
 * left or memory is out. A word longer than a line is cut. */
const char *sw_svg_next_line(sw_arena *arena, const char **text, double width);

#endif
