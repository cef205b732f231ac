/* The check that stands in front of the JSON parser. */
#ifndef SW_READ_JSON_GATE_H
#define SW_READ_JSON_GATE_H

#include "base/base.h"

#define SW_JSON_DEPTH_LIMIT 64
#define SW_JSON_VALUE_LIMIT ((size_t)400000)

/* SW_OK when the bytes are one JSON text as read/json.h promises it; else the
 * complaint is made. Neither recursive nor quadratic. */
sw_status sw_json_gate(const char *file, const char *bytes, size_t length,
                       sw_complaints *complaints);

#endif
