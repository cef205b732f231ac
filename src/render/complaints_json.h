/* Complaints as JSON, schema 1: {"schema":1,"complaints":[{file, place, what,
 * why, mend}],"count":n}. */
#ifndef SW_RENDER_COMPLAINTS_JSON_H
#define SW_RENDER_COMPLAINTS_JSON_H

#include "swapworth.h"

/* The text is malloc'd: free() it. */
sw_status sw_render_complaints_json(char **out, const sw_complaints *complaints);

#endif
