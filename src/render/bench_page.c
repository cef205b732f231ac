/* The work order as a page. */
#include "render/bench.h"

sw_status sw_render_bench_page(char **out, const sw_bench *bench) {
    return sw_render_bench_text(out, bench, (sw_text_style){.width = 80});
}
