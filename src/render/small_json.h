/* The small JSON outputs, each schema 1: README.md lists the fields. */
#ifndef SW_RENDER_SMALL_JSON_H
#define SW_RENDER_SMALL_JSON_H

#include "swapworth.h"

/* {"schema","count","complaints":[{"file","place","what","why","mend"}]}. The
 * text is malloc'd: free() it. */
sw_status sw_render_complaints_json(char **out, const sw_complaints *complaints);

/* {"schema","form","text"}: an exported program inside JSON. malloc'd. */
sw_status sw_render_export_json(char **out, const char *form, const char *text);

#endif
