/* Plain text for a person: wrapped paragraphs and lines with a sum at the
 * right edge, no wider than asked. */
#ifndef SW_RENDER_PAGE_H
#define SW_RENDER_PAGE_H

#include "base/base.h"

typedef struct sw_page {
    sw_text text;
    int width; /* columns */
    bool bold; /* headings, by the escape sequences of ECMA-48 */
} sw_page;

/* Columns that UTF-8 text takes, one per code point. */
int sw_columns(const char *text);

/* The words of `text`, first line behind `lead`, the rest below its end. */
void sw_page_words(sw_page *page, const char *lead, const char *text);
/* `left`, wrapped when it must be, and `right` flush at the right edge. */
void sw_page_sum(sw_page *page, const char *lead, const char *left, const char *right);
void sw_page_heading(sw_page *page, const char *heading, const char *right);
void sw_page_title(sw_page *page, const char *title);
void sw_page_gap(sw_page *page);

#endif
