/* The drives as `lsblk -J` tells them (util-linux 2.27 and later), with `-b` or without. */
#ifndef SW_INTAKE_LSBLK_H
#define SW_INTAKE_LSBLK_H

#include "intake/dump.h"

/* Of all block devices only whole ones are drives. */
bool sw_lsblk_is(const sw_json *root);
void sw_lsblk_read(const sw_dump *dump, const sw_json *root);

#endif
