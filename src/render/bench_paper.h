/* What the files that write the page of the work order share. */
#ifndef SW_RENDER_BENCH_PAPER_H
#define SW_RENDER_BENCH_PAPER_H

#include "render/bench.h"
#include "render/paper.h"

typedef struct sw_bench_paper {
    sw_html html;
    const sw_bench *bench;
} sw_bench_paper;

/* The case with what stands at its sides, and which way the air goes; nothing where no side is
 * known. What it shows has the numbers of the list of places. */
void sw_bench_drawing(sw_bench_paper *p);
/* The checks: what is measured, what it was, what is foretold, and room for what is read. */
void sw_bench_checks(sw_bench_paper *p);

#endif
