/* Section 25 of the page: the ways to go on from an option that was agreed. */
#ifndef ORACLE_SHOPPING_H
#define ORACLE_SHOPPING_H

#include "options.h"

typedef struct Agreed {
    const char *scenario;
    int option; /* from 1 */
    unsigned long long limit;
} Agreed;

/* `today` is the scenario as it is now. Returns the exit code: 1 where nothing fits. */
int answer_shopping(World *w, const char *today, const Agreed *agreed);

#endif
