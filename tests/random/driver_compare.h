/* Two answers to one question: the first difference between them, in words. */
#ifndef RANDOM_DRIVER_COMPARE_H
#define RANDOM_DRIVER_COMPARE_H

#include <stdbool.h>
#include <stddef.h>

/* Compares the checker's answer with the program's plan, both JSON texts. On a
 * difference writes it to `why` and returns false. */
bool same_answer(const char *oracle, const char *plan, char *why, size_t size);

#endif
