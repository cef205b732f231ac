/* What the files of this folder share among themselves. */
#ifndef SW_FITOUTS_STAGE_H
#define SW_FITOUTS_STAGE_H

#include "fitouts/fitouts.h"

sw_status sw_sources_make(sw_fitouts *fitouts);

/* One kind of piece in a fit-out, with its values after the tasks. */
typedef struct sw_piece {
    sw_value *values; /* by slot */
    int part, count;
} sw_piece;

/* Room for the pieces of any fit-out of the role: they are needed while its values are made, and
 * no longer, so all share it. NULL when memory is out. */
sw_piece *sw_pieces_make(const sw_fitouts *fitouts, int role);
/* Fills `fitout->values` from its pieces and tasks. */
sw_status sw_values_make(sw_fitouts *fitouts, sw_fitout *fitout, sw_piece *pieces);

/* Every fit-out of one role, appended; without choices yet. */
sw_status sw_role_fitouts_make(sw_fitouts *fitouts, int role, sw_complaints *complaints);

/* Every way to buy one fit-out, appended. */
sw_status sw_choices_make(sw_fitouts *fitouts, int fitout, sw_complaints *complaints);

/* Too many choices in one role: the complaint, and its status. */
sw_status sw_too_many(const sw_fitouts *fitouts, int role, sw_complaints *complaints);

#endif
