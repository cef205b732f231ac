/* A calibration file with one more job: catalog/FORMATS.md section 28. */
#ifndef SW_RENDER_CALIBRATION_H
#define SW_RENDER_CALIBRATION_H

#include "check/calibration.h"

/* The text (free() it) of `calibration` with `job` (NULL: none): in place of the job of its id,
 * whose note stays where `job` has none, else behind the others. Numbers read back equal. The text
 * was read again, so a file made of it will be taken; what cannot be is complained of: a file that
 * would be too large, an id that is none. */
sw_status sw_render_calibration(char **out, const sw_calibration *calibration,
                                const sw_past_job *job, sw_complaints *complaints);

#endif
