/* The known name that a mistyped one was probably meant to be. */
#include "base/base.h"

#include <string.h>

/* Longer names are never compared: no id, fact or file name is that long. */
#define NAME_LIMIT 80

static size_t least_of(size_t a, size_t b) { return a < b ? a : b; }

/* Single-byte changes (put in, leave out, replace) that turn `a` into `b`. */
static size_t distance(const char *a, size_t a_length, const char *b, size_t b_length) {
    size_t row[NAME_LIMIT + 1];
    for (size_t j = 0; j <= b_length; j++)
        row[j] = j;
    for (size_t i = 1; i <= a_length; i++) {
        size_t before = row[0]; /* the entry above and to the left */
        row[0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            size_t replaced = before + (a[i - 1] != b[j - 1]);
            before = row[j];
            row[j] = least_of(replaced, 1 + least_of(row[j], row[j - 1]));
        }
    }
    return row[b_length];
}

const char *sw_nearest(const char *name, const char *const *names, size_t count) {
    const char *nearest = NULL;
    size_t length = strlen(name);
    size_t near_enough = 1 + length / 4;
    if (length > NAME_LIMIT)
        return NULL;
    for (size_t i = 0; i < count; i++) {
        size_t other = strlen(names[i]);
        size_t gap = other > length ? other - length : length - other;
        if (other > NAME_LIMIT || gap > near_enough)
            continue;
        size_t changes = distance(name, length, names[i], other);
        if (changes > near_enough)
            continue;
        if (changes == 0)
            return names[i];
        near_enough = changes - 1; /* only a nearer one replaces it */
        nearest = names[i];
    }
    return nearest;
}
