/* What the renderings of `fits` share. */
#ifndef SW_RENDER_FITS_H
#define SW_RENDER_FITS_H

#include "answer/fits.h"
#include "render/json_writer.h"
#include "render/sheet.h"

extern const char *const sw_fits_words[]; /* [sw_fits_says] */

/* Has the rule a need and a room to tell? */
bool sw_fits_measured(const sw_fits_rule *rule);
/* "285 mm needed, 320 mm there, 35 mm to spare" or "N5 against N5 or N6"; "" where nothing
 * is compared. */
const char *sw_sheet_clearance(sw_sheet *sheet, const sw_fits_rule *rule);
/* Everything but the title. */
void sw_json_fits(sw_writer *in, const sw_fits *fits);
/* One rule with its numbers and sentences, as a list entry. */
void sw_sheet_fits_rule(sw_sheet *sheet, const sw_fits_rule *rule);

#endif
