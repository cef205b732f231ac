/* Two bundles side by side. */
#ifndef SW_RENDER_DIFFERENCES_H
#define SW_RENDER_DIFFERENCES_H

#include "answer/answer.h"

/* What the bundle changes in the role; NULL: it is as today. */
const sw_answer_swap *sw_swap_of(const sw_answer_bundle *bundle, const char *role);
/* The same parts in the role; both NULL: as today. */
bool sw_same_swap(const sw_answer_swap *a, const sw_answer_swap *b);
/* `bundle` may be NULL: does nothing. */
bool sw_does(const sw_answer_bundle *bundle, const char *task);

#endif
