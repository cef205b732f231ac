/* What the page says with the catalog's own words: stages, dangers, wishes. FORMATS.md section 38.
 */
#ifndef SW_DESK_PAGE_WORDS_H
#define SW_DESK_PAGE_WORDS_H

#include "check/catalog.h"
#include "render/json_writer.h"

/* Uses with unit and stages, parts by name, hazards, asks, and what the interview calls wishes. */
void sw_add_page_words(sw_writer *root, const sw_catalog *catalog);

#endif
