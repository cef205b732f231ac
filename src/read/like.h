/* Likenesses: what a short text looks like, in a small closed grammar without going back, so that
 * the time is as the text is long: catalog/FORMATS.md section 30. */
#ifndef SW_READ_LIKE_H
#define SW_READ_LIKE_H

#include "base/base.h"

#define SW_LIKE_SLOTS 4

typedef enum sw_like_kind {
    SW_LIKE_LETTER,
    SW_LIKE_BLANK,
    SW_LIKE_SLOT,
    SW_LIKE_REST
} sw_like_kind;

typedef struct sw_like_step {
    sw_like_kind kind;
    char letter;       /* small */
    int slot;          /* -1: passed over */
    bool point, comma; /* decimals may stand behind it */
} sw_like_step;

typedef struct sw_like {
    const sw_like_step *steps;
    size_t count;
    const char *slots[SW_LIKE_SLOTS];
    int slot_count;
} sw_like;

/* False, with what is wrong in `fault`, when it is no likeness; `fault` NULL: memory ran out. */
bool sw_like_read(sw_like *out, sw_arena *arena, const char *text, const char **fault);
/* The slot of that name, -1 when there is none. */
int sw_like_slot(const sw_like *like, const char *name);

/* Is the whole text like that? `milli` [SW_LIKE_SLOTS] gets the slots in thousandths. */
bool sw_like_is(const sw_like *like, const char *text, int64_t *milli);
/* The first place at `from` or behind it where it stands between words: true, and `*from` is
 * behind it. */
bool sw_like_find(const sw_like *like, const char *text, size_t *from, int64_t *milli);

/* Bytes of the blank at `text` (space, tab, no-break, narrow no-break), 0 when it is none. */
size_t sw_blank_length(const char *text);

#endif
