/* The NVMe drives as `nvme list -o json` tells them, in the flat form of nvme-cli 1 and in the
 * subsystems of nvme-cli 2. */
#ifndef SW_INTAKE_NVME_LIST_H
#define SW_INTAKE_NVME_LIST_H

#include "intake/dump.h"

/* Devices, whatever form they have. */
bool sw_nvme_list_is(const sw_json *root);
void sw_nvme_list_read(const sw_dump *dump, const sw_json *root);

#endif
