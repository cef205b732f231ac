/* A job made ready to be asked: all stages up to the integer program. Questions
 * that change the job (another price, a wish less) each make their own. */
#ifndef SW_ANSWER_SETUP_H
#define SW_ANSWER_SETUP_H

#include "program/program.h"

typedef struct sw_setup {
    sw_fitouts *fitouts;
    sw_estimates *estimates;
    sw_rulebook *book;
    sw_demands *demands; /* NULL: none */
    sw_program *program; /* not scored yet */
} sw_setup;

/* `aside` [rule of the catalog]: rules that forbid nothing; NULL: none. The scenario must
 * outlive the setup. On failure there is nothing to free; SW_BAD_DATA without a complaint as
 * with sw_complain_of_sites. */
sw_status sw_setup_make(sw_setup *out, const sw_scenario *scenario, bool allow_unknown,
                        const bool *aside, sw_complaints *complaints);
/* The same job, of whose bundles only those count that end what the client complains of. */
sw_status sw_setup_make_ending(sw_setup *out, const sw_scenario *scenario, bool allow_unknown,
                               const sw_stated_trouble *trouble, sw_complaints *complaints);
/* Scores the program against the machine of `picks` (one per group), or against the
 * present one (NULL). */
sw_status sw_setup_score(sw_setup *setup, const int *picks);
/* The same, by its fit-outs (one per role). */
sw_status sw_setup_score_by(sw_setup *setup, const int *machine);
void sw_setup_free(sw_setup *setup);

#endif
