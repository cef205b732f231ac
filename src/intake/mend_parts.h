/* What mending is made of: the text without messages, edits of it, names, texts and words. */
#ifndef SW_INTAKE_MEND_PARTS_H
#define SW_INTAKE_MEND_PARTS_H

#include "base/base.h"

typedef enum sw_mend_kind {
    SW_MEND_MESSAGES,
    SW_MEND_WORDS,
    SW_MEND_NAMES,
    SW_MEND_BYTES,
    SW_MEND_COMMAS,
    SW_MEND_SEVERAL,
    SW_MEND_KINDS
} sw_mend_kind;

/* Instead of `drop` bytes at `at` stands `put`. */
typedef struct sw_mend_change {
    size_t at, drop, order;
    const char *put;
} sw_mend_change;

/* A name of an object that is still open. */
typedef struct sw_mend_named {
    size_t offset;     /* of its decoded text in `name_bytes` */
    size_t begin, end; /* its quotes in the text */
    const char *text;  /* set only while names are compared */
} sw_mend_named;

typedef struct sw_mend_seen {
    size_t count, first; /* how often, and where first in the text */
} sw_mend_seen;

typedef struct sw_mend {
    sw_arena *arena;
    const char *file;
    sw_complaints *faults;
    sw_text text; /* what is mended: the file without messages */
    size_t length, at;
    size_t *line_ends; /* where in it ends of lines went with a message */
    size_t line_end_count, line_end_room;
    sw_mend_change *changes;
    size_t change_count, change_room;
    sw_mend_named *names;
    size_t name_count, name_room;
    sw_text name_bytes;
    sw_mend_seen notes[SW_MEND_KINDS];
    size_t mended; /* places, all kinds */
    bool faulty, no_memory;
} sw_mend;

/* Begins: copies the bytes, less the messages that a tool wrote between them. */
void sw_mend_leave_messages(sw_mend *to, const char *bytes, size_t length);
void sw_mend_free(sw_mend *to);

int sw_mend_peek(const sw_mend *to); /* SW_SCAN_END behind the last */
void sw_mend_blanks(sw_mend *to);

/* Pass over a text, over a name (which is kept), over a word or number; false when it is none or
 * does not end. */
bool sw_mend_take_text(sw_mend *to);
bool sw_mend_take_name(sw_mend *to);
bool sw_mend_take_word(sw_mend *to);

/* Tells apart the names from number `first` on, whose bytes begin at `first_byte`, and drops them.
 */
void sw_mend_close_names(sw_mend *to, size_t first, size_t first_byte);
/* Drops the names that stand at `from` or behind it. */
void sw_mend_drop_names(sw_mend *to, size_t from);

void sw_mend_note(sw_mend *to, sw_mend_kind kind, size_t at);
void sw_mend_edit(sw_mend *to, sw_mend_kind kind, size_t at, size_t drop, const char *put);
/* Appends the first `length` bytes as changed. */
void sw_mend_apply(sw_mend *to, sw_text *out, size_t length);

/* Complains of the fault at hand; of all that was mended. */
void sw_mend_fault(sw_mend *to, const char *what, const char *why, const char *mend);
void sw_mend_tell(sw_mend *to);

#endif
