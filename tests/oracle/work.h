/* Section 26 of the page: what is done at the bench for one bundle, and in which order. */
#ifndef ORACLE_WORK_H
#define ORACLE_WORK_H

#include "world.h"

typedef enum { GOES, STAYS, COMES } Fate;

typedef struct Item { /* the pieces of one part in one role that go, stay or come */
    int role, count;
    const char *part;
    Fate fate;
    const Cell *cell;
    bool *on;    /* by role: what carries it */
    int carrier; /* the one it rides on; -1: it does not ride */
    bool acts, lifted;
    bool leaves; /* with what it rides on, by no action of its own */
} Item;

typedef struct Mount { /* of a role; json NULL: it has none */
    const cJSON *json;
    int place;
} Mount;

typedef struct Cover {
    int role, over;
    bool o, m; /* holds today; in the bundle's machine */
} Cover;

typedef struct Chore { /* one of the file, or what stands for a task or charge without one */
    const char *id;    /* NULL: it is not of the file */
    const cJSON *json;
    int stage, task, charge; /* task, charge -1: none */
    long long minutes, alone;
    bool there;
} Chore;

typedef enum { TAKE_OUT, TAKE_OFF, LAY_OUT, PUT_BACK, FIT, STEP } Does;

typedef struct Deed {
    Does does;
    int item, step; /* -1: not about one */
    int stage;
    long long minutes;
    bool billed, done;
} Deed;

typedef struct Work {
    World *w;
    const cJSON *bench; /* NULL: there is no file */
    Machine o, m;
    bool changes; /* some part differs or some task is done */
    int stages, machine_stage;
    Mount *mount; /* by role */
    Cover *cover;
    int covers;
    Chore *step;
    int steps;
    Item *item;
    int items;
    bool *worked; /* by role */
    Deed *deed;
    int deeds;
    int *order; /* of deeds */
    int ordered;
    bool circular;
} Work;

/* work.c */
/* The machine of a program's answer (its `machine`) for this scenario. Returns the exit code. */
int answer_work(World *w, const char *machine);
const cJSON *in_bench(const Work *k, const char *name);
const char *stage_name(const Work *k, int stage);
bool any_may(const Work *k, const cJSON *conds, const Machine *m);
bool all_may(const Work *k, const cJSON *conds, const Machine *m);
/* Whether something that lists `any` (a check, what is asked at the call) is there. */
bool is_asked(const Work *k, const cJSON *json);
bool charge_is_due(const Work *k, int charge);

/* work_items.c: items, what carries them, what is touched */
void list_items(Work *k);
void touch(Work *k);
/* Why an item that stays has to come off. */
bool carrier_lifts(const Work *k, const Item *item, int role);
bool cover_lifts(const Work *k, const Item *item, int over);
/* Whether the step is there and names the role so. */
bool step_names(const Work *k, int step, const char *how, int role);

/* work_order.c: actions and steps in the order in which they are done */
void order_work(Work *k);
/* The take-out with which an item leaves that has none of its own; -1: none. */
int leaves_by(const Work *k, const Item *item);
bool is_off(const Deed *d);
bool is_on(const Deed *d);

/* work_told.c: leads, what goes, checks, the call */
void print_told(Work *k);

/* work_print.c */
void print_work(Work *k);

#endif
