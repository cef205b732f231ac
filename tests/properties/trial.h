/*
 * One job, changed in ways whose effect is known, and what the program says of it before and
 * after. Shares no code with the program.
 */
#ifndef PROPERTIES_TRIAL_H
#define PROPERTIES_TRIAL_H

#include "../metamorphic/job.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef enum Property {
    FASTER_NOW,  /* look: a faster present part lowers no rate */
    AS_MEASURED, /* look: what the client measured is told as measured */
    FASTER_PART, /* plan: a faster part lowers not the points of the best bundle */
    FASTER_USE,  /* plan: with one use alone, nor its rate */
    ONE_MORE,    /* look: one more fan is never quieter */
    MORE_HEAT,   /* look: more heat is never quieter */
    LARGER_UNIT, /* look: a larger power unit is never loaded more */
    SMOOTH,      /* look: a thousandth more of a fact moves nothing far */
    PROPERTIES
} Property;

typedef struct Run {
    const char *program, *work;
    const char *name; /* of the job */
    bool drawn;       /* generated, not shipped */
    uint64_t dice;
    Property spoiled; /* whose second answers are spoiled; PROPERTIES: none */
    unsigned spoiled_how;
    size_t passed[PROPERTIES], failed[PROPERTIES];
    size_t moved[PROPERTIES]; /* trials in which the answer moved as it should */
    double widest;            /* SMOOTH: the most of its bound that was used */
    Job job;                  /* as it is in its folder */
} Run;

const char *property_name(Property property);

uint64_t below(Run *run, uint64_t count);
double between(Run *run, double least, double most);

/* Counts a trial, and says what is wrong unless `wrong` is "". */
void tell(Run *run, Property property, const char *wrong, bool moved);
/* Complains and counts a failure. */
void fail(Run *run, Property property, const char *form, ...) __attribute__((format(printf, 3, 4)));

/* Adds to what is wrong, if anything is, which number was changed. */
struct Number;
void say_change(char *wrong, size_t size, const struct Number *number, double more);

typedef enum Asked { LOOK, PLAN } Asked;
/* The program's answer on the copy; NULL, with a failure counted, when there is none. */
cJSON *ask(Run *run, Property property, Asked asked, const Job *copy);
/* The same after a change: the answer that --spoil spoils. */
cJSON *ask_again(Run *run, Property property, Asked asked, const Job *copy);

/* A copy to change, and the answers before and after the change. */
typedef struct Pair {
    Job copy;
    cJSON *before, *after;
} Pair;
void start_pair(Run *run, Pair *pair);
void end_pair(Pair *pair);

/* spoil.c */
void spoil(Run *run, Property property, cJSON *answer);
unsigned ways_to_spoil(Property property);

/* ---- facts.c: the numbers of the present machine ---- */

typedef struct Number {
    const char *role, *fact; /* owned by the job */
    int piece;
    int thing; /* -1, or the thing of the fact whose `detail` it is */
    const char *detail;
    double value, least, most;
} Number;

typedef struct Numbers {
    Number *all;
    size_t count;
} Numbers;

void list_numbers(Numbers *numbers, const Job *job);
void set_number(Job *copy, const Number *number, double value);
double number_of(const cJSON *in, const char *name, double otherwise);
bool is_pace(const char *fact);
/* As far as the fact allows; in whole thousandths, above the value. False: there is no more. */
bool more_of(Run *run, const Number *number, double least_times, double most_times, double *more);
cJSON *scenario_of(const Job *job);
cJSON *quiet_of(const Job *job); /* the quiet criterion, or NULL */
bool mentions(const cJSON *json, const char *role, const char *fact); /* as a term */
const cJSON *derived_by_name(const Job *job, const char *fact);

/* sound.c: whether the term is the fact of the role, or a derived fact that is made of it */
bool comes_from(const Job *job, const char *term, const char *role, const char *fact);

/* ---- properties, one trial each ---- */

void try_faster_now(Run *run);
void try_as_measured(Run *run);
void try_faster_part(Run *run);
void try_faster_use(Run *run);
void try_one_more(Run *run);
void try_more_heat(Run *run);
void try_larger_unit(Run *run);
void try_smooth(Run *run);

/* Leaves rates and levels as estimated. */
void take_measurements_out(Job *copy);
double level_in(const cJSON *answer, const char *name); /* of look; NAN where there is none */

#endif
