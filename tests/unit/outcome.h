/* What reading some bytes came to. */
#ifndef OUTCOME_H
#define OUTCOME_H

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "read/csv.h"
#include "read/json.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

typedef struct sample {
    const char *bytes;
    size_t length;
} sample;
/* Bytes may hold NUL. */
#define BYTES(text)                                                                                \
    { (text), sizeof(text) - 1 }

typedef struct outcome {
    sw_arena *arena;
    sw_complaints *complaints;
    sw_status status;
    const sw_json *json;
    sw_csv table;
} outcome;

static outcome start(void) {
    return (outcome){.arena = sw_arena_new(), .complaints = sw_complaints_new()};
}

static void finish(outcome *is) {
    sw_arena_free(is->arena);
    sw_complaints_free(is->complaints);
}

static const char *what_of(const outcome *is) {
    const sw_complaint *first = sw_complaints_get(is->complaints, 0);
    return first == NULL ? "(nothing)" : first->what;
}

#endif
