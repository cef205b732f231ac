/* Sections 22 to 24 of the page: complaints, the three options, what the paper says of them. */
#ifndef ORACLE_OPTIONS_H
#define ORACLE_OPTIONS_H

#include "hunt.h"

typedef struct Need { /* one way in which an end of the kind `any` may hold */
    const Cond *cond; /* NULL: a number by today's */
    int role, fact, of;
    long long times, plus; /* thousandths */
} Need;

typedef struct End {
    enum { MUST, LOUDNESS, RATE, LOOKS, ANY } kind;
    double number;
    long long milli;
    Need *need;
    int needs;
} End;

typedef struct Complaint {
    const char *id;
    const char *use; /* NULL: it has no end about a rate */
    int which_use;
    End *end;
    int ends;
    bool shows;
} Complaint;

typedef struct Complaints {
    World *w;
    Complaint *at; /* the scenario's, in its order */
    int n;
    Machine today;
    double sones_today;
    long long **doublings;  /* by role, then choice and track; today's choice is the last */
    long long **looks;      /* by role, then choice */
    long long *least_today; /* by use */
    long long looks_today;
} Complaints;

/* complaints.c; once the choices are made. */
Complaints read_complaints(World *w);
bool ends_in(const Complaints *c, const Complaint *one, const Machine *m);
/* A file of the catalog that may be missing: then NULL. */
const cJSON *open_maybe(World *w, const char *name);
Machine machine_today(World *w);

/* promise.c */
typedef struct Rate { /* over today's */
    bool known;
    double ratio, low, high;
} Rate;
/* What the machine without the tasks of chance does. */
Machine without_chance(World *w, const Machine *m);
Rate rate_of(const World *w, int use, const Machine *now, const Machine *m);

typedef struct Option {
    const char *option, *rule, *complaint; /* complaint NULL: not by one */
    Found found;
    Machine m;
} Option;

typedef struct Offer {
    Hunt *h;
    World *w;
    Complaints complaints;
    unsigned char *ended; /* by the number of the combination: a bit for each complaint */
    long long to;         /* the curve is known up to there */
    Steps steps;          /* up to there */
    size_t best;          /* which of them is X */
    Option option[3];
    int options;
    int ends_first; /* which complaint First is the cheapest to end; -1: none */
    bool nests, takes_place;
    Found nested;
    long long lost;
    const cJSON *paper, *hazards; /* NULL: there is none */
} Offer;

/* options.c */
/* All bundles are found, whatever they cost. Returns the exit code: 1 where nothing fits. */
int answer_options(Hunt *h);
/* The options alone. */
Offer make_offer(Hunt *h);
long long bend_of(const Offer *o, const Found *step);

/* options_print.c */
void print_offer(Offer *o);

#endif
