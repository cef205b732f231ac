/* A change of the job in words. */
#ifndef SW_RENDER_CHANGE_WORDS_H
#define SW_RENDER_CHANGE_WORDS_H

#include "answer/whatif.h"
#include "render/sheet.h"

/* "there are 700 EUR in all": the head of a sentence, small. */
const char *sw_sheet_change(sw_sheet *sheet, const sw_whatif_change *change, const char *value);

#endif
