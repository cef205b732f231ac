/* What an expression is worth when its variables stand for records. */
#ifndef RELATIONS_VALUE_H
#define RELATIONS_VALUE_H

#include "language.h"

typedef enum kind { UNKNOWN, NUMBER, TEXT, LIST } kind;

typedef struct value {
    kind kind;
    double number;
    const char *text;
    const cJSON *list;
} value;

typedef struct standing {
    const relation *of;
    const cJSON *records[RANGES];
    pool *scratch;
} standing;

value value_of(const standing *in, const node *n);
int compare(value a, value b); /* of one kind, numbers or texts */
bool all_true(const standing *in, const conditions *of);
bool any_unknown(const standing *in, const conditions *of);
/* Numbers with at most three decimals, whatever the locale. */
const char *decimal_text(pool *to, double number);
const char *value_text(pool *to, value v);

#endif
