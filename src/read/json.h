/*
 * One gate in front of all JSON. What comes through is RFC 8259 to the letter,
 * names once per object, valid UTF-8, numbers finite, integers within 2^53.
 * The tree is ours: nothing behind this header knows which parser made it.
 */
#ifndef SW_READ_JSON_H
#define SW_READ_JSON_H

#include "base/base.h"

typedef enum sw_json_kind {
    SW_JSON_NULL,
    SW_JSON_BOOL,
    SW_JSON_NUMBER,
    SW_JSON_TEXT,
    SW_JSON_ARRAY,
    SW_JSON_OBJECT
} sw_json_kind;

typedef struct sw_json {
    sw_json_kind kind;
    const char *name; /* inside an object, else NULL */
    const char *text; /* SW_JSON_TEXT */
    double number;    /* SW_JSON_NUMBER */
    bool truth;       /* SW_JSON_BOOL */
    /* A word from outside any file: a text that may stand for a number or for true and false
     * too, where these are due. Then `number` and `truth` say which. */
    bool bare, as_number, as_truth;
    sw_json_kind *due; /* of a bare word: where the kind that was due is noted; NULL: nowhere */
    const struct sw_json *children; /* arrays and objects, in file order */
    size_t count;
} sw_json;

/* Reads `length` bytes into a tree owned by `arena`. A complaint names `file`
 * and the line. SW_BAD_DATA, SW_NO_MEMORY or SW_OK. */
sw_status sw_json_read(const sw_json **out, sw_arena *arena, const char *file, const char *bytes,
                       size_t length, sw_complaints *complaints);

/* Is it of that kind, or a bare word that may stand for it? Then that kind is noted with the word.
 */
bool sw_json_is(const sw_json *json, sw_json_kind kind);

/* The member of that name, NULL when absent or not an object. */
const sw_json *sw_json_get(const sw_json *object, const char *name);

#endif
