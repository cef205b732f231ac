/*
 * Rows that follow from the others for whole numbers and not for parts of them: what
 * the files that find them share. They are found at a solution of the relaxation that
 * breaks them.
 */
#ifndef SW_PROGRAM_CUTS_H
#define SW_PROGRAM_CUTS_H

#include "program/stage.h"

#define SW_CUT_BREACH 0.02 /* what breaks a row by less is left alone */

typedef struct sw_cuts {
    sw_matrix *matrix;
    sw_arena *arena; /* of the round */
    double *value;   /* [column] the solution */
    int added, rounds;
    double first_bound, last_bound; /* of the relaxation */
} sw_cuts;

/* How much of the pick the solution takes. */
double sw_taken(const sw_cuts *cuts, int pick);

/* The cover of one sum. */
sw_status sw_cut_cover(sw_cuts *cuts, const sw_load_row *load);
/* For two groups: of one these, or of the other those, for no two of them may stand
 * together. */
sw_status sw_cut_pairs(sw_cuts *cuts);

#endif
