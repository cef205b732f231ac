/* The formulas of swapworth.h by name, for the measures of a catalog. */
#ifndef SW_FORMULAS_H
#define SW_FORMULAS_H

#include "swapworth.h"

#define SW_FORMULA_ARGUMENTS 4

typedef struct sw_formula {
    const char *name;
    int arguments;
    double (*of)(const double *arguments);
    const char *text; /* how it is written, with the names of its arguments */
    const char *source;
} sw_formula;

size_t sw_formula_count(void);
const sw_formula *sw_formula_at(size_t index);

#endif
