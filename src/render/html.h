/* The few marks of HTML that pages are made of. Text goes in escaped, always. */
#ifndef SW_RENDER_HTML_H
#define SW_RENDER_HTML_H

#include "render/sheet.h"
#include "render/svg.h"

typedef struct sw_html {
    sw_text out;
    sw_sheet sheet; /* lends its scratch, and its ways to write numbers */
} sw_html;

/* Marks as they are. */
void sw_html_raw(sw_html *h, const char *marks);
void sw_html_text(sw_html *h, const char *text);
/* <tag attributes>text</tag>; `attributes` "" or with a space before them, as they are. */
void sw_html_element(sw_html *h, const char *tag, const char *attributes, const char *text);
/* A number that tests find again: <span data-is="name">text</span>. */
void sw_html_number(sw_html *h, const char *option, const char *name, const char *text);
/* What can hurt in this very machine; nothing when nothing was said of it. */
void sw_html_beware(sw_html *h, const sw_answer *answer);

#endif
