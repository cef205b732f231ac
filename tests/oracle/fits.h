/*
 * Section 12 of the page: the trials of some named parts, the machine that is
 * judged, and what is said of it.
 */
#ifndef ORACLE_FITS_H
#define ORACLE_FITS_H

#include "world.h"

typedef struct Trial { /* the machine judged, with its tasks */
    const Choice **at;
    bool obeys;
    long number; /* which trial it is, from 1 */
} Trial;

/* fits.c. False where the question is refused; `why` then says it. The world is
 * loaded, its present machine made and learned. */
bool find_trial(World *w, char *const *part, int parts, Trial *out, const char **why);

/* fits_print.c */
void print_trial(World *w, const Trial *t);
/* Prints the whole answer; returns the exit code of `swapworth fits`. */
int answer_fits(World *w, char *const *part, int parts);

#endif
