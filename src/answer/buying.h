/* What given fit-outs cost when nobody is told where to buy: FORMATS.md sections 18 to 20. */
#ifndef SW_ANSWER_BUYING_H
#define SW_ANSWER_BUYING_H

#include "program/program.h"

typedef struct sw_purchase {
    bool found;     /* false: not to be had, or not within the minutes */
    bool early;     /* the time ran out: there may be a cheaper way */
    int *choices;   /* [group], in the program's arena */
    int64_t total;  /* with invoice tax */
    sw_tally tally; /* no points */
} sw_purchase;

/* The least total over the sellers of the parts of `machine` (a fit-out per role), whether that
 * machine obeys or not, within so many minutes (-1: any). Each fit-out has choices. */
sw_status sw_buy(sw_purchase *out, const sw_program *program, const int *machine,
                 int64_t minutes_most, const sw_allowance *allowance);

/* Days until the last part of the choice is here, or `days` where that is more. */
int sw_days_of(const sw_fitouts *fitouts, const sw_choice *choice, int days);

#endif
