/*
 * Section 14 of the page, by trying every bundle: what each breaks of the job's
 * terms, and so which sets of terms let some bundle obey when they are dropped.
 */
#ifndef ORACLE_MENDS_H
#define ORACLE_MENDS_H

#include "hunt.h"

/* mends.c. Prints every smallest set of terms that lets some bundle obey. Loads the
 * job itself, with all that can be cut from it cut. */
int answer_mends(World *w, const char *scenario, unsigned long long limit);
/* Of the job as it was loaded, some terms dropped: whether a bundle obeys, what it
 * takes, and the best by the present machine's measure. */
int answer_drop(Hunt *h, unsigned long long limit);

#endif
