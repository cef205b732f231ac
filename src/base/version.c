/* Which library this is. */
#include "swapworth.h"

const char *sw_version(void) { return SW_VERSION; }
