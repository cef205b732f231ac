/* What is right whatever the weights turn out to be, and what to ask next. */
#ifndef ORACLE_SURE_H
#define ORACLE_SURE_H

#include "doubt.h"
#include "options.h"

enum { DRAWN = 4096 };

typedef enum { BY_SWINGS, BY_RANKS, BY_NOTHING } How;

/* The weightings that may be right (FORMATS section 33). */
typedef struct Weights {
    How how;
    int criteria;
    long long *low, *high; /* [criterion] swings in thousandths; of BY_SWINGS */
    int measure;
    int *listed, count; /* criteria that may weigh: ranks in their order, others in that of the
                           catalog */
    long long *own;     /* [criterion] the client's own answer */
    bool *weighs;       /* [criterion] some extreme does */
    long long *corner;  /* [extreme * criteria + criterion] as they are told, before they are made
                           smaller */
} Weights;

/* weightings.c */
Weights read_weights(World *w);
/* The same where what each criterion brings may be off by so many percent. */
Weights widened(World *w, const Weights *of, int percent);
void extremes_of(Doubt *d, Weights *of);
/* [drawn * criteria + criterion]; in the world's arena. */
long long *draw_weightings(World *w, const Weights *of);

/* sure.c */
/* Once all are found and scored; returns the exit code. */
int print_sure(Hunt *h, const char *percents);
/* The one of N that is worth most at these weights, of equals the first. */
size_t best_of(const Doubt *d, const size_t *n, size_t count, const long long *weight);

/* offered.c */
void print_offered(const Offer *offer, const Doubt *d, const Weights *may, const size_t *n,
                   size_t count, const long long *drawn);

/* question.c */
void print_questions(const Doubt *d, const Weights *of, const size_t *n, size_t count,
                     const long long *drawn);

#endif
