#include "render/options.h"
#include <stdlib.h>
sw_status sw_render_options_page(char **out, const sw_options *options) {
    (void)options;
    *out = calloc(1, 1);
    return *out == NULL ? SW_NO_MEMORY : SW_OK;
}
