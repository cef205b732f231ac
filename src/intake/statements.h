/*
 * What dumps of a machine say, in one shape whoever said it (FORMATS.md section 29): "this device
 * has this property, and that is where it stands". Readers add; whoever makes the draft compares.
 * What a dump does not know never becomes a statement, and what is private stands apart.
 */
#ifndef SW_INTAKE_STATEMENTS_H
#define SW_INTAKE_STATEMENTS_H

#include "base/base.h"
#include "check/devices.h"

typedef struct sw_statement {
    const char *device;   /* the kind: "memory-module" */
    const char *key;      /* which of them: "DIMM A1"; "" where the kind has no key */
    const char *property; /* "size_mb" */
    sw_says says;
    const char *text; /* SW_SAYS_TEXT: UTF-8, never empty; else "" */
    int64_t milli;    /* SW_SAYS_NUMBER: thousandths of the unit in the property's name */
    bool flag;        /* SW_SAYS_FLAG */
    const char *file;
    const char *place; /* within the file: "handle 0011h", "line 7", "$.lscpu[3]" */
} sw_statement;

/* What names a piece or a person rather than a kind of thing. */
typedef struct sw_private {
    const char *device; /* "board", "drive:sda" */
    const char *kind;   /* "serial number", "asset tag", "UUID", "MAC address", ... */
    const char *value;
    const char *file;
} sw_private;

/* Everything in it lives in the arena. */
typedef struct sw_statements {
    sw_arena *arena;
    sw_statement *all;
    size_t count, room;
    sw_private *privates;
    size_t private_count, private_room;
    bool failed; /* memory ran out: stays set */
    bool full;   /* SW_STATEMENTS_LIMIT was reached, the rest is lost: stays set */
    bool misuse; /* a reader stated what section 29 does not list: stays set */
} sw_statements;

#define SW_STATEMENTS_LIMIT 100000
#define SW_STATEMENT_TEXT_LIMIT 2000 /* bytes of one text; longer ones are no statement */

void sw_statements_begin(sw_statements *list, sw_arena *arena);

/* SW_NO_MEMORY when memory ran out; SW_INTERNAL with a complaint on misuse; SW_BAD_DATA with a
 * complaint when the list is full; else SW_OK. Asked once, when all readers are done. */
sw_status sw_statements_end(const sw_statements *list, sw_complaints *complaints);

/* Which device, and where that stands. All is copied; the key is cleaned like a text, but no word
 * in it is taken for "not known". NULL as key means "". */
typedef struct sw_about {
    const char *device, *key, *file, *place;
} sw_about;

/* `bytes` may hold anything and need no NUL: cleaned as sw_statement_text does. Nothing is added
 * when nothing is left. */
void sw_state_text(sw_statements *list, const sw_about *about, const char *property,
                   const char *bytes, size_t length);
/* Whole units; beyond what thousandths hold (9.2e15): nothing is added. */
void sw_state_whole(sw_statements *list, const sw_about *about, const char *property,
                    int64_t number);
void sw_state_milli(sw_statements *list, const sw_about *about, const char *property,
                    int64_t milli);
/* Rounded to thousandths; not finite or too large: nothing is added. */
void sw_state_real(sw_statements *list, const sw_about *about, const char *property, double number);
void sw_state_flag(sw_statements *list, const sw_about *about, const char *property, bool flag);

/* `kind` in words, `bytes` as with sw_state_text. */
void sw_state_private(sw_statements *list, const sw_about *about, const char *kind,
                      const char *bytes, size_t length);

/* Text as section 29 wants it: no control characters, none that only steer how text is shown, no
 * blanks at its ends; bytes that are no UTF-8 become U+FFFD. NULL when nothing is left, when it is
 * over the limit, or when memory is out (list->failed). */
const char *sw_statement_clean(sw_statements *list, const char *bytes, size_t length);
/* The same, and NULL too when the text is one of the words for "not known". */
const char *sw_statement_text(sw_statements *list, const char *bytes, size_t length);
/* Is the clean text such a word ("Unknown", "To be filled by O.E.M.", "0000")? */
bool sw_says_unknown(const char *clean);

/* `key` while `taken` has none equal to it, else "key #2", "key #3"..; NULL when memory is out
 * (list->failed). For devices that a dump gives one name. */
const char *sw_statement_key_apart(sw_statements *list, const char *key, const char *const *taken,
                                   size_t count);

#endif
