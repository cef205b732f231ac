/* The tree of devices that `lshw -json` prints. */
#ifndef SW_INTAKE_LSHW_H
#define SW_INTAKE_LSHW_H

#include "intake/dump.h"

/* One object, or a list of them when a class was asked for. */
bool sw_lshw_is(const sw_json *root);
void sw_lshw_read(const sw_dump *dump, const sw_json *root);

#endif
