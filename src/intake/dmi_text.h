/* The text that dmidecode prints, of any version since 2.12, whole or in pieces, with or without
 * its handles, with any ends of lines, in UTF-8, UTF-16 or what else a shell made of it. */
#ifndef SW_INTAKE_DMI_TEXT_H
#define SW_INTAKE_DMI_TEXT_H

#include "intake/statements.h"

/* Is there a line that begins a structure as dmidecode does? */
bool sw_dmi_text_is(const char *bytes, size_t length);

/* What its structures say. SW_BAD_DATA with a complaint when there is none, or more than is read
 * (what was read is stated then); lines that mean nothing here are passed over. */
sw_status sw_dmi_text_read(sw_statements *list, const char *file, const char *bytes, size_t length,
                           sw_complaints *complaints);

#endif
