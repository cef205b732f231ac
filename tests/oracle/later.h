/* Sections 19 and 20 of the page: what first, and money in phases. */
#ifndef ORACLE_LATER_H
#define ORACLE_LATER_H

#include "hunt.h"

typedef struct Ways { /* one state of one role, from whom its parts may come */
    const Choice **at;
    int n;
} Ways;

/* purchase.c */
/* The choices that hold the same parts and do the same tasks. */
Ways ways_of(World *w, int role, const char *key);
typedef struct Price {
    bool some;         /* it can be paid for: parts to be had, minutes within the limit */
    long long cost;    /* B: never below 0 */
    bool slow_is_less; /* other sellers ask less, but take more minutes than there are */
} Price;
/* `bought` is by role; NULL: as today. `timed`: the limit on minutes counts. */
Price price_of(World *w, const Ways *const *bought, bool timed);

/* first.c: the bundles are found. Returns the exit code: 1 where nothing fits. */
int print_first(Hunt *h);

/* market.c */
/* Days since some fixed day. */
long long day_number(const char *date);
typedef struct Market { /* the job as it is in one phase */
    World *w;
    const char *on, *until;
    long long day, days, money;
    Ways **ways; /* by role and state; none: not to be had in this phase */
    Price *price;
    bool *priced;
} Market;
/* Loads the job as it is in phase k, from 0. */
Market open_market(World *arena, const char *scenario, int k);
/* Every part that is to be had in some phase, in any number, whenever it comes. */
void load_all(World *w, const char *scenario);
/* The given parts that must be used: from which day on. */
typedef struct MustUse {
    const char *part;
    int role;
    long long day;
} MustUse;
int must_uses(World *w, const cJSON *job, MustUse **out);

/* phases.c */
typedef struct Later {
    World *u; /* holds every state there is, and the points */
    const cJSON *job;
    int phases;
    Market *market;
    int *states;     /* by role; state 0 is today's */
    Choice ***state; /* by role and state */
    bool *barred;    /* by role: today's may not be in any bundle */
    MustUse *must;
    int musts;
    size_t machines;
    signed char *works; /* by machine; -1: not looked yet */
    long long *points;
    Machine base, at;
    double loud_today;
    unsigned long long tried, limit;
    int **path, **best; /* by phase and role */
    long long best_value;
    bool any, slow_is_less;
} Later;
typedef struct Step {
    size_t machine, bought;
} Step;
/* The machine with these states; `from` NULL: the machine, else what changes from there. */
size_t number_of_states(const Later *l, const int *states, const int *from);
bool may_become(const Later *l, int role, int from, int to);
bool machine_works(Later *l, const int *states, int phase);
/* The points of that machine; only after machine_works. */
long long points_of(Later *l, const int *states);
Price price_of_change(Later *l, const int *from, const int *to, int phase);
int answer_phases(World *w, const char *scenario, const char *judged, unsigned long long limit);

/* judge.c: says what is wrong with an answer of the program, or nothing. */
void judge_answer(Later *l, const char *path);

#endif
