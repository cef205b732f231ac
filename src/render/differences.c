/* Where two bundles differ. */
#include "render/differences.h"

#include <string.h>

const sw_answer_swap *sw_swap_of(const sw_answer_bundle *b, const char *role) {
    for (size_t i = 0; i < b->swap_count; i++)
        if (strcmp(b->swaps[i].role, role) == 0)
            return &b->swaps[i];
    return NULL;
}

static bool same_parts(const sw_answer_part *a, size_t a_count, const sw_answer_part *b,
                       size_t b_count) {
    bool same = a_count == b_count;
    for (size_t i = 0; same && i < a_count; i++)
        same = strcmp(a[i].id, b[i].id) == 0 && a[i].count == b[i].count;
    return same;
}

bool sw_same_swap(const sw_answer_swap *a, const sw_answer_swap *b) {
    if (a == NULL || b == NULL)
        return a == b;
    return same_parts(a->in, a->in_count, b->in, b->in_count) &&
           same_parts(a->stays, a->stay_count, b->stays, b->stay_count);
}

bool sw_does(const sw_answer_bundle *b, const char *task) {
    for (size_t i = 0; b != NULL && i < b->task_count; i++)
        if (strcmp(b->tasks[i].id, task) == 0)
            return true;
    return false;
}
