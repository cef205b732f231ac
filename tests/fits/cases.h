/* Questions whose answer is written beside them. */
#ifndef FITS_CASES_H
#define FITS_CASES_H

#include <stdbool.h>

#include <cjson/cJSON.h>

#include "compare.h"

enum { MOST_WORDS = 40 };

typedef struct Case { /* words point into the line */
    char *scenario, *part[MOST_WORDS], *wanted[MOST_WORDS];
    int parts, wants;
} Case;

/* Splits a line of cases.txt, which it changes; false for one that is none. */
bool read_case(char *line, Case *out);
/* Whether the answer, NULL where the question was refused, is what is wanted. */
bool is_wanted(Talk *t, const Case *c, const cJSON *answer);

#endif
