/* The hand-over as a page. */
#include "render/handover.h"

sw_status sw_render_handover_page(char **out, const sw_handover *handover) {
    return sw_render_handover_text(out, handover, (sw_text_style){.width = 80});
}
