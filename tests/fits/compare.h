/* The checker's judgement of a machine and the program's: the first difference. */
#ifndef FITS_COMPARE_H
#define FITS_COMPARE_H

#include <stdbool.h>
#include <stddef.h>

#include <cjson/cJSON.h>

typedef struct Talk { /* where the difference is told */
    char *why;
    size_t size;
} Talk;

/* Writes the words to the talk; always false. */
bool complain(Talk *t, const char *format, ...);

/* compare.c: everything but where things stand. `rules` is the catalog's file. */
bool same_fits(Talk *t, const cJSON *checker, const cJSON *program, const cJSON *rules);

/* stand.c: whether things can stand as the program says, given what the checker
 * found on the machine, and whether the numbers beside agree. Idle: some thing that
 * could stand is left out as spare. */
bool stands_well(Talk *t, const cJSON *checker, const cJSON *program, bool *idle);

/* spoil.c: one fault planted in the program's answer; false where the answer has
 * nothing that could be spoiled this way. */
int spoils(void);
const char *spoil_name(int which);
bool spoil(cJSON *program, int which);

#endif
