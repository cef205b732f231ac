/* What the program says when nothing fits, held against the checker's sets. */
#ifndef CONFLICT_JUDGE_H
#define CONFLICT_JUDGE_H

#include <stdbool.h>
#include <stddef.h>

#include <cjson/cJSON.h>

#include "../random/driver_compare.h"

enum { MOST_MENDS = 64 };

/* Writes the words to the talk; always false. */
bool complain(Talk *t, const char *format, ...);

/* judge.c. `sets` is the checker's answer to --mends: every smallest set of terms
 * that lets some bundle obey when dropped, by inclusion. */
bool conflict_stands(Talk *t, const cJSON *sets, const cJSON *conflict);
/* Exactly the mends with the fewest terms, in order; not their bundles. */
bool mends_stand(Talk *t, const cJSON *sets, const cJSON *mends);
/* One mend's bundle, against the checker's answer to --drop with its terms. */
bool mend_brings(Talk *t, const cJSON *dropped, const cJSON *mend);

/* spoil.c: one fault planted in the program's answer; false where there is nothing to
 * spoil this way. */
int spoils(void);
const char *spoil_name(int which);
bool spoil(cJSON *program, int which);

#endif
