/* What the pages of the work share: head and foot of the file, boxes to tick, lines to sign. They
 * hold no script at all. */
#ifndef SW_RENDER_PAPER_H
#define SW_RENDER_PAPER_H

#include "answer/options.h"
#include "render/html.h"

/* From the doctype into the header: the shop, and "kind: title" as heading. */
void sw_paper_start(sw_html *h, const sw_options *options, const char *kind);
/* Ends the file and hands it over, or frees it. */
sw_status sw_paper_finish(char **out, sw_html *h);
/* The main part where there is no option to speak of. */
void sw_paper_no_option(sw_html *h, const sw_options *options);

/* A box to tick by hand; "[ ]" where there is no style. */
void sw_paper_box(sw_html *h);
/* A line to write a number on; "________" where there is no style. */
void sw_paper_blank(sw_html *h);
/* Lines to write on, a word under each. */
void sw_paper_sign(sw_html *h, const char *const *under, size_t count);
/* Said of a cell where cells stand below each other: "Today: ". */
void sw_paper_label(sw_html *h, const char *label);
/* A list, one text an item; nothing where there is none. `attributes` as in sw_html_element. */
void sw_paper_list(sw_html *h, const char *attributes, const char *const *texts, size_t count);
/* A section with its heading; `id` is letters alone. Ends with "</section>". */
void sw_paper_section(sw_html *h, const char *id, const char *heading);
const char *sw_paper_money(sw_html *h, const sw_options *options, int64_t minor);

#endif
