/* Where the contract itself goes by steps, read off the catalog. */
#ifndef PROPERTIES_STEPS_H
#define PROPERTIES_STEPS_H

#include "trial.h"

typedef struct Steps {
    bool sound; /* hangs on the level, which goes by half decibels and whole P_r */
    bool rows;  /* reads a table by rows, beyond whose ends it is unknown */
    bool leaps; /* has a formula or a table that goes by steps */
} Steps;

Steps steps_of_measure(const Job *job, const char *id);
bool use_has_steps(const Job *job, const char *id);
/* A number with a unit, that is no count and not 0 for none, and with which no fan's n leaps
 * (section 8: from 0 up). */
bool is_smooth(const Job *job, const Number *number);
/* Whether a use, a measure, a criterion or a derived fact reads it. */
bool is_told(const Job *job, const Number *number);
bool feeds_derived(const Job *job, const char *role, const char *fact);

#endif
