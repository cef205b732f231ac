/* One role of a scenario's machine said anew: FORMATS.md section 29, `intake piece`. */
#ifndef SW_INTAKE_PIECE_H
#define SW_INTAKE_PIECE_H

#include "check/scenario.h"

struct sw_piece {
    sw_arena *arena;
    sw_scenario *before, *after;
    int role;
    const char *text; /* the new scenario */
};

#endif
