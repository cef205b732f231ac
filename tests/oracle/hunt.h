/*
 * The hunt: every bundle that obeys, with its cost and points, and the order
 * that says which of two comes first.
 */
#ifndef ORACLE_HUNT_H
#define ORACLE_HUNT_H

#include "world.h"

typedef struct Found {
    unsigned long long number; /* which combination */
    long long cost, points;
} Found;

typedef struct Hunt {
    World *w;
    bool wide; /* whatever it costs: for the curve and the money beyond */
    Found *found;
    size_t n, room, within; /* all found; those within the budget */
    unsigned long long combinations;
    const Choice **at, **other;
    Found base, best;
    Machine baseline;
} Hunt;

/* Whether a bundle may be picked; `about` is the asker's own. */
typedef bool (*May)(Hunt *h, const Found *f, const void *about);

/* hunt.c */
void find_all(Hunt *h, unsigned long long limit);
void set_machine(const World *w, unsigned long long number, const Choice **at);
bool within(const Hunt *h, const Found *f);
int swaps_of(const World *w, const Choice **at);
int tasks_of(const World *w, const Choice **at);
bool comes_first(Hunt *h, const Found *a, const Found *b);
/* The first in the order of those that may; NULL where none may. */
const Found *pick(Hunt *h, May may, const void *about);
/* Once all are found, and some are: the baseline, and the points of each. */
void score_all(Hunt *h);

/* print.c */
/* Swaps and tasks of a machine, as members of an object. */
void print_changes(World *w, const Choice **at);
void print_bundle(Hunt *h, const Found *f);
void print_criteria(Hunt *h, const Found *f);
void print_step(Hunt *h, const char *name, const Found *f);

/* lists.c */
typedef struct Steps {
    Found *at;
    size_t n;
} Steps;
Steps steps_of(Hunt *h);
void print_all(Hunt *h);
/* Returns how many steps there were to print. */
size_t print_curve(Hunt *h, const char *from, const char *to);
void print_ranked(Hunt *h, int best, int apart);

/* worth.c */
/* By role: a group bears the number of its first role; -1: not touched. */
int *groups_of(World *w, Machine *m);
void print_groups(Hunt *h);
void print_verdict(Hunt *h);

#endif
