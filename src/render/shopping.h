/* What the renderings of the shopping share. */
#ifndef SW_RENDER_SHOPPING_H
#define SW_RENDER_SHOPPING_H

#include "answer/shopping.h"
#include "render/sheet.h"

extern const char *const sw_way_names[];    /* [sw_way]: ids */
extern const char *const sw_agreed_kinds[]; /* [sw_agreed_kind]: ids */

/* Why the change is free, or needs the client's word: a sentence without its end. */
const char *sw_sheet_because(sw_sheet *sheet, const sw_shopping *shopping,
                             const sw_agreed_change *change);

#endif
