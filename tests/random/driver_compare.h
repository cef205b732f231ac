/* Two answers to one question: the first difference between them, in words. */
#ifndef RANDOM_DRIVER_COMPARE_H
#define RANDOM_DRIVER_COMPARE_H

#include <stdbool.h>
#include <stddef.h>

/* Compares the checker's answer with the program's plan, both JSON texts. On a
 * difference writes it to `why` and returns false. */
bool same_answer(const char *oracle, const char *plan, char *why, size_t size);

/* Compares an answer (the program's or the checker's) with a published one. A
 * cost or items of "-" are not printed by the source. Items are a list with
 * commas, in byte order, or "none". */
bool same_row(const char *answer, const char *points, const char *cost, const char *items,
              char *why, size_t size);

#endif
