/* Judges one relation over a shelf. */
#ifndef RELATIONS_JUDGE_H
#define RELATIONS_JUDGE_H

#include "language.h"

bool judge(const relation *r, const shelf *s);
/* Ends the test when the relation names a fact that the catalog does not have. */
void check_fields(const relation *r, const shelf *s);

#endif
