/* The words in which dumps of a machine speak: devices, their properties, and who reads them
 * (FORMATS.md section 29). */
#ifndef SW_CHECK_DEVICES_H
#define SW_CHECK_DEVICES_H

#include <stdbool.h>
#include <stddef.h>

typedef enum sw_says { SW_SAYS_TEXT, SW_SAYS_NUMBER, SW_SAYS_FLAG } sw_says;

#define SW_READERS 10 /* kinds of dump */

/* Does section 29 list this property of this device, with values of this kind? */
bool sw_statement_known(const char *device, const char *property, sw_says says);
/* With values of any kind: which; false when it lists none. */
bool sw_property_says(sw_says *out, const char *device, const char *property);
bool sw_device_known(const char *device);

/* The name of a reader in intake.json: "lscpu"; `index` from 0 in the order of sw_dump_kind. */
const char *sw_reader_name(size_t index);

#endif
