/* A binary SMBIOS dump (DMTF DSP0134) as `dmidecode --dump-bin` writes it: the entry point, then
 * the table where the entry point says that it stands. */
#ifndef SW_INTAKE_SMBIOS_H
#define SW_INTAKE_SMBIOS_H

#include "intake/statements.h"

/* Does it begin like one? */
bool sw_smbios_is(const char *bytes, size_t length);

/* What the table says. SW_BAD_DATA when something was complained of: of a wrong entry point before
 * anything is stated; of a table that is cut short or broken after what stood before the fault. */
sw_status sw_smbios_read(sw_statements *list, const char *file, const char *bytes, size_t length,
                         sw_complaints *complaints);

#endif
