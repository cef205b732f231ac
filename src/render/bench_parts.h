/* Pieces of the JSON about the work that the hand-over shares. */
#ifndef SW_RENDER_BENCH_PARTS_H
#define SW_RENDER_BENCH_PARTS_H

#include "answer/bench.h"
#include "render/json_writer.h"

/* Status, title, option. */
void sw_json_bench_frame(sw_writer *root, const sw_bench *bench);
/* What is foretold of a check. */
void sw_json_proof(sw_writer *one, const sw_told_proof *proof);

#endif
