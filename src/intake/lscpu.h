/* The processor as `lscpu -J` tells it (util-linux 2.30 and later). */
#ifndef SW_INTAKE_LSCPU_H
#define SW_INTAKE_LSCPU_H

#include "intake/dump.h"

/* A list of fields and their data; which of them stand there hangs on machine and version, and
 * newer ones put fields below others. */
bool sw_lscpu_is(const sw_json *root);
void sw_lscpu_read(const sw_dump *dump, const sw_json *root);

#endif
