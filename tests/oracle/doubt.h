/* Weights in doubt. */
#ifndef ORACLE_DOUBT_H
#define ORACLE_DOUBT_H

#include "hunt.h"

/* Once all are found and scored; returns the exit code. */
int print_doubt(Hunt *h, const char *extremes);

#endif
