/* Right answers by the checker, for the trial of the driver itself. */
#ifndef RANGES_RIGHT_H
#define RANGES_RIGHT_H

#include "ranges.h"

/* NULL where nothing fits or a weight is no whole percent. */
cJSON *right_ranges(Job *j);
cJSON *right_whatif(Job *j, const Sets *sets);

#endif
