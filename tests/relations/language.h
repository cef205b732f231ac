/* The language of relations.txt, taken apart. What it means stands in that file. */
#ifndef RELATIONS_LANGUAGE_H
#define RELATIONS_LANGUAGE_H

#include "shelf.h"

typedef enum op {
    OP_NUMBER,
    OP_TEXT,
    OP_FIELD,
    OP_SELF,
    OP_LET,
    OP_ADD,
    OP_LESS,
    OP_TIMES,
    OP_OVER,
    OP_POWER,
    OP_CALL,
    OP_EQUAL,
    OP_UNEQUAL,
    OP_BELOW,
    OP_AT_MOST,
    OP_ABOVE,
    OP_AT_LEAST,
    OP_WITHIN,
    OP_HAS,
    OP_INSIDE,
    OP_ONE_OF,
    OP_STARTS,
    OP_CONTAINS,
    OP_ALIKE,
    OP_KNOWN,
    OP_NOT,
    OP_AND,
    OP_OR
} op;

typedef struct node node;
struct node {
    op op;
    double number;
    const char *text; /* a text, a field, a function */
    size_t who;       /* index of a variable or let */
    node *kids[3];
    node *next; /* in a list of operands */
};

/* One variable and what it runs over: parts of roles, or a list of another record. */
typedef struct range {
    char name;
    const char **roles; /* or "any", "listing", "seller" */
    size_t role_count;
    bool of_other;
    size_t other; /* index of the variable whose `field` is run over */
    const char *field;
} range;

typedef struct let {
    const char *name;
    node *is;
} let;

typedef struct conditions {
    node **all;
    size_t count, room;
} conditions;

enum { RANGES = 8, LETS = 8 };

typedef struct relation {
    const char *name, *says, *source;
    range ranges[RANGES]; /* the `for` ones first, then the `some` ones */
    size_t for_count, range_count;
    let lets[LETS];
    size_t let_count;
    conditions where, with, holds;
    node *rank_a, *rank_b, *rank_by, *distinct;
    double rank_least;
    bool none; /* `finds none` */
    size_t finds, cases;
    const char **alter; /* the words after `break` */
    size_t alter_count;
} relation;

typedef struct book {
    relation *all;
    size_t count, room;
    price_name *prices;
    size_t price_count;
} book;

book book_read(pool *memory, const char *path);
const relation *book_find(const book *b, const char *name);

#endif
