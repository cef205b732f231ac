/* What a display says of itself: VESA E-EDID 1.3 and 1.4, with its CTA-861 and DisplayID blocks. */
#ifndef SW_INTAKE_EDID_H
#define SW_INTAKE_EDID_H

#include "intake/statements.h"

/* Does it begin like one? */
bool sw_edid_is(const char *bytes, size_t length);

/* What the blocks say of one display, which is named by `file`. SW_BAD_DATA when something was
 * complained of: of the base block before anything is stated; of an extension that is missing or
 * whose checksum is wrong after what the base block says. The top refresh rate is told only where
 * every timing that the display lists could be read; where the two sizes in mm differ by more than
 * they may be rounded, both are stated. */
sw_status sw_edid_read(sw_statements *list, const char *file, const char *bytes, size_t length,
                       sw_complaints *complaints);

#endif
