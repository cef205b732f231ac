/* What the files of bench-catalog share: numbers drawn the same everywhere, and where they go. */
#ifndef BENCH_CATALOG_H
#define BENCH_CATALOG_H

#include <stdint.h>
#include <stdio.h>

#define ROLES 15

typedef struct dice {
    uint64_t state;
} dice;

/* A stream of its own for each seed and purpose: a bigger catalog begins with the smaller one. */
dice dice_for(uint64_t seed, uint64_t purpose);
uint64_t dice_next(dice *d);
int between(dice *d, int least, int most); /* each as likely */
int about(dice *d, int mid, int spread);   /* mid likeliest, no further off than spread */
int clip(int value, int least, int most);

/* One candidate as it is drawn. Grades run from 0 to 1000. */
typedef struct sample {
    dice *d;
    FILE *out;
    const char *comma; /* what parts the next fact from the one before */
    int worth;         /* what it passes for: its price goes by that */
    int grade;         /* what it is by and large; its single qualities lie about it */
    int style;         /* how much was spent on its looks */
    int premium;       /* percent that its looks and rarer merits add to the price */
} sample;

typedef struct trade_role {
    const char *role, *name;
    int least_eur, span_eur; /* price at grade 0, and what grade 1000 adds */
    void (*draw)(sample *s); /* writes the facts */
    const char *present;     /* the facts of the middling old part that stands there */
    int offer_eur;           /* what the old part would fetch */
} trade_role;

/* In byte order of the roles. */
extern const trade_role bench_roles[ROLES];

/* The files that are the same for every seed. */
void write_fixed(const char *name, FILE *out);

#endif
