/* What a drive says of its own health, as `smartctl -j -a` prints it for ATA and NVMe. */
#ifndef SW_INTAKE_SMARTCTL_H
#define SW_INTAKE_SMARTCTL_H

#include "intake/dump.h"

/* One object, or several in one file. */
bool sw_smartctl_is(const sw_json *root);
void sw_smartctl_read(const sw_dump *dump, const sw_json *root);

#endif
