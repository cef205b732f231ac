/* What the driver's parts share: how it was asked, and running the other programs. */
#ifndef RANDOM_DRIVER_H
#define RANDOM_DRIVER_H

#include <stdbool.h>
#include <stddef.h>

enum { MOST_ARGS = 16 };

typedef struct Setup {
    char *generate, *brute, *plan;
    const char *work, *published;
    char *extra[MOST_ARGS];
    int extras;
    long first, count;
    char *best, *apart; /* as they were written; NULL: not asked */
    bool curve, groups;
} Setup;

typedef struct Question { /* NULL: not asked */
    char *scenario, *budget, *best, *apart, *from, *to;
    bool curve, groups;
} Question;

/* driver_run.c */
void give_up(const char *what);
char *read_text(const char *path);
void path_of(const Setup *s, const char *name, char *out, size_t size);
bool draw(const Setup *s, long seed, char *why, size_t size);
/* Asks the program, or else the checker. The caller frees *text. False when it
 * ended with a code that is no answer. */
bool answer(const Setup *s, bool program, const Question *q, char **text, int *code);

/* driver_published.c */
int check_published(const Setup *s);

#endif
