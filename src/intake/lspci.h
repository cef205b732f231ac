/* PCI devices as `lspci -mm` lists them, with -nn, with -n or with neither (pciutils 3). */
#ifndef SW_INTAKE_LSPCI_H
#define SW_INTAKE_LSPCI_H

#include "intake/dump.h"

/* Is there a line that begins with an address and a text in quotes? */
bool sw_lspci_is(const char *bytes, size_t length);

/* Graphics, sound, network and storage ports. Lines that are broken are told in the dump's faults
 * and passed over. */
void sw_lspci_read(const sw_dump *dump, const char *bytes, size_t length);

#endif
