/* Planted faults: how a right answer is spoiled in one place. */
#ifndef PAPERS_FAULTS_H
#define PAPERS_FAULTS_H

#include "papers.h"

typedef struct Ground { /* the job and what the checker says of it */
    const Job *j;
    const cJSON *checker;
} Ground;

/* False where the answer has no place for it. */
typedef bool (*Spoil)(const Ground *g, cJSON *answer);

typedef struct Fault {
    const char *name;
    Spoil spoil;
    bool plain; /* the judge has to notice it by itself */
    long met, found;
} Fault;

/* spoil.c: anything that is told; spoil_order.c: what is done when */
Fault *told_faults(size_t *n);
Fault *order_faults(size_t *n);

/* spoil.c */
cJSON *in(const cJSON *object, const char *name);
cJSON *at(const cJSON *list, int i);
bool is_said(const cJSON *json, const char *name, const char *value);
/* Numbers from 1 on again, so that nothing but the change is wrong. */
void number_anew(cJSON *answer);

#endif
