/*
 * The checker's picture of one job: the catalog's vocabulary, the pieces on the
 * bench and on offer, and every choice each role has. Everything is held in one
 * arena that is thrown away at the end.
 */
#ifndef ORACLE_WORLD_H
#define ORACLE_WORLD_H

#include <stdbool.h>
#include <stddef.h>

#include <cjson/cJSON.h>

typedef enum { NO, MAYBE, YES } Truth;
typedef enum { UNKNOWN, BLANK, KNOWN } State;           /* BLANK: the page's "void" */
typedef enum { NUMBER, TOKEN, LIST, FLAG, SPOTS } Type; /* SPOTS: sites or things */

typedef struct Bag { /* a set of interned texts, rising, without repeats */
    int n;
    int *name;
} Bag;

typedef struct Cell { /* what a fact is on a piece or on a fit-out */
    State state;
    bool silent;        /* a piece of a power fact that adds nothing */
    long long milli;    /* numbers; flags as 0 or 1000 */
    long long power;    /* power facts of a fit-out: the whole-number sum */
    double real;        /* what an expression sees */
    Bag bag;            /* tokens and lists */
    const cJSON *spots; /* sites and things of a piece */
} Cell;

typedef struct Fact {
    const char *name;
    Type type;
    const char *combine;
    bool *on; /* by role */
    bool has_absent;
    Cell absent;
    const cJSON *is; /* a derived fact's expression */
} Fact;

typedef struct Cond {
    enum { IS, RANGE, HAS, ONE_OF, TASK, CHANGES, HOLDS, EMPTY, OBSERVED, NOT } kind;
    int role; /* -1: about none */
    int fact;
    long long low, high;
    Bag bag;
    int task;
    const char *part;
    bool observed;
    struct Cond *inner;
} Cond;

typedef struct Conds {
    int n;
    Cond *at;
} Conds;

typedef struct Spot { /* one role's fact with a factor; role -1: a fixed number */
    int role, fact;
    long long factor, fixed;
    bool today; /* until learn_today: then it is fixed */
} Spot;

typedef struct Spots {
    int n;
    Spot *at;
} Spots;

typedef struct Finding {
    enum { FINE, SHORT, UNSURE } how;
    long long by;
} Finding;

typedef struct Rule {
    const char *id, *shape, *kind;
    bool hard, bends, dropped;
    Conds when, unless, of, needs;
    Cond *to;
    Spots left, right, taken; /* need, loads, things are left; room, supplies, sites right */
    int *body;                /* roles; for unlock the asking goes need by need */
    int bodies;
    Finding *now; /* the present machine, per need for unlock */
} Rule;

typedef struct Part {
    const char *id, *maker;
    int role;
    Cell *cell;
} Part;

typedef struct Present { /* a kind of piece that stands in the machine today */
    const char *id;
    int count;
    long long offer;
    Cell *cell;
} Present;

typedef struct Role {
    const char *id;
    int least, most, kinds, minutes;
    bool whole;  /* kept all or none */
    bool *count; /* by number of pieces */
    bool renewal;
    Present *present;
    int presents;
    struct Choice *choice;
    int choices, room;
    int now; /* which choice is the present machine's; -1 when it is barred */
    struct Choice *today;
} Role;

typedef struct Seller {
    const char *id;
    long long delivery, free_from;
    bool has_free;
    int days, minutes;
} Seller;

typedef struct Listing {
    int part, seller;
    long long price, stock;
    long long days; /* until the part is here */
    int warranty_months, return_days;
    bool must_use;
} Listing;

typedef struct Task {
    const char *id, *family;
    int role, minutes;
    bool any, chance;
    long long price;
    Conds needs;
    const cJSON *effects;
} Task;

typedef struct Charge {
    const char *id;
    long long amount;
    int minutes;
    Conds any;
} Charge;

typedef struct Piece {
    const char *id;
    bool kept;
    Cell *cell;
} Piece;

typedef struct Line {
    const Listing *listing;
    int count;
} Line;

typedef struct Choice {
    int role;
    Piece *piece;
    int pieces;
    Line line[2];
    int lines;
    int *kept; /* per kind of present piece */
    int *task;
    int tasks;
    Cell *cell; /* by fact, over the fit-out */
    bool changed, adds;
    long long money; /* change, labour and task prices, in minor units */
    int minutes;
    long long *score; /* by scoring column */
    double fans,
        whine;     /* quiet: what `noise` and `declared` give at full speed; the tone's factor */
    long long hum; /* the `steady` power */
    char *key, *from;
} Choice;

typedef struct Factor {
    int role;
    const cJSON *is;
    double exponent, low, high; /* low, high: the ends between which it may lie */
} Factor;

typedef struct Track { /* one alternative of one stage of one use */
    int use;
    double plain; /* its numbers: the sum of exponent x log2 */
    Factor *factor;
    int factors;
    long long base;
} Track;

typedef struct Use {
    const char *id;
    double share;
    bool capped;
    double ratio;
} Use;

typedef struct Run { /* a role whose fans turn only as fast as the heat asks */
    bool runs;
    int by_role, by, full, least; /* facts; `least` -1: none */
    double busy;
} Run;

typedef struct Quiet {
    bool scored;                       /* there is such a criterion */
    int noise, declared, steady, tone; /* facts; -1: none */
    int loss_role, loss;               /* -1: none */
    double at_m, distance_m, room_dba;
    bool measured;
    double measured_dba, calibration_db;
    Run *run; /* by role */
} Quiet;

typedef struct Criterion {
    const char *id, *kind;
    const cJSON *json;
    double weight;
} Criterion;

typedef struct World {
    void *arena;
    char **name;
    int names, name_room;
    cJSON *tree[64];
    int trees;
    const cJSON *job;
    const char *catalog; /* its folder */
    Role *role;
    int roles;
    int *in_order; /* roles in byte order of their ids */
    Fact *fact;
    int facts;
    Part *part;
    int parts, part_room;
    Seller *seller;
    int sellers; /* the last one is the client */
    Listing *listing;
    int listings, listing_room;
    Task *task;
    int tasks;
    Charge *charge;
    int charges;
    Rule *rule;
    int rules;
    Criterion *criterion;
    int criteria;
    Use *use;
    int uses;
    Track *track;
    int tracks, track_room;
    int *spare; /* per rule: its things without a site today */
    bool allow_unknown;
    int currency_digits;
    long long budget, rate, bench_minutes, days, tax;
    long long set_aside;      /* reserve and sundries */
    long long worth_at_least; /* thousandths of a point per 100 of the currency */
    long long renewal_share;  /* thousandths */
    bool has_worth;
    bool tax_without, tax_invoice, tax_even, has_days, has_bench, has_loudness;
    double loudness;
    Quiet quiet;
    const char *without; /* a rule to leave out, for weighing its bite */
    bool free_of_limits; /* nothing is avoided and no day too late */
    bool free_of_wishes; /* nor are there musts, strings, things to keep or to replace */
    char **dropped;      /* terms of the job that do not count */
    int droppings;
    const char *budget_text;
    int sums; /* how many of the phases' sums tell their quotes */
} World;

typedef struct Machine { /* one choice per role */
    const Choice **at;
} Machine;

/* store.c: memory, names, files, numbers */
void *hold(World *w, size_t bytes);
void *grow(World *w, void *old, int have, int *room, size_t each);
void drop_all(World *w);
_Noreturn void stop(int code, const char *format, ...);
int intern(World *w, const char *text);
const cJSON *open_json(World *w, const char *path);
char *slurp(World *w, const char *path, size_t *length);
const cJSON *need(const cJSON *object, const char *name);
const char *text_of(const cJSON *object, const char *name, const char *otherwise);
long long number_of(const cJSON *object, const char *name, long long otherwise);
long long milli_of(const cJSON *value);
long long money_of(const World *w, const char *text);
void money_print(const World *w, long long amount);
void points_print(long long milli);
int find_role(const World *w, const char *id);
int find_fact(const World *w, const char *name);
int find_task(const World *w, const char *id);
int find_part(const World *w, const char *id);
void bag_add(World *w, Bag *bag, int name);
bool bag_has(const Bag *bag, int name);

/* facts.c: the vocabulary, values, fit-outs, expressions */
void read_facts(World *w, const cJSON *file);
Cell *read_cells(World *w, int role, const cJSON *facts, const Cell *over);
void settle(World *w, Choice *c);
State reckon(const World *w, const cJSON *is, const Choice *c, double *out);
void split_term(const World *w, const char *term, int *role, int *fact);
long long rule_number(const Cell *cell);

/* load.c, rules.c */
void load_world(World *w, const char *scenario);
void read_tasks(World *w, const cJSON *file);
/* quotes.c: on all listings there are, before any is left out. */
void apply_quotes(World *w, const cJSON *quotes);
Conds read_conds(World *w, const cJSON *array);
Cond *read_cond(World *w, const cJSON *json);
void read_rules(World *w, const cJSON *file);
Truth ask(const World *w, const Cond *cond, const Machine *m);
Finding examine(const World *w, const Rule *r, int part, const Machine *m);
bool body_touched(const World *w, const Rule *r, int part, const Machine *m);
void learn_today(World *w);
int parts_of(const Rule *r);
bool clause_allows(const World *w, const Rule *r, int part, const Machine *m);
bool rule_allows(const World *w, const Rule *r, const Machine *m);
/* How far a within or supply rule falls short; below 0: to spare. 0 where it is silent. */
long long short_of(const World *w, const Rule *r, const Machine *m);
bool places_allow(const World *w, const Machine *m);
bool rules_allow(const World *w, const Machine *m);

/* The law by itself, on a rule that applies: the present shortfall counted. */
bool part_allows(const World *w, const Rule *r, int part, const Machine *m);
bool applies(const World *w, const Rule *r, const Machine *m);
/* Which place rules ask for something: the hard ones that are sure. */
void who_asks(const World *w, const Machine *m, bool *asks);

/* place.c: the least number of things left without a site */
typedef enum { ANY_SITE, PLAIN_SITES } Which; /* plain: those that carry no caution */
/* Things without a site beyond the spare ones of each rule. */
int left_over(const World *w, const Machine *m, const bool *asks, const int *spare);
int left_over_on(const World *w, const Machine *m, const bool *asks, const int *spare, Which which);
/* The place rule that a list entry of a piece comes under among those that ask; -1: none. */
int rule_for(const World *w, const bool *asks, int role, int fact, const char *kind, bool site);

/* choices.c: fit-outs and the tasks on them, handed to the asker one by one */
typedef struct Sink {
    void (*take)(World *w, Choice c, void *about);
    void *about;
} Sink;
typedef struct Stay {
    void (*take)(World *w, int role, const int *kept, void *about);
    void *about;
} Stay;
Choice fit_out(World *w, int role, const int *kept, const Line *line, int lines);
char *key_of(World *w, const Choice *c);
/* The bare fit-out is settled already. */
void each_task_set(World *w, const Choice *bare, Sink sink);
/* Every way to keep some of what is there; start with `at` 0. */
void each_kept(World *w, int role, int *kept, int at, Stay stay);
void make_todays(World *w);

/* drop.c: terms that are dropped */
/* Cuts from the scenario what was dropped of its wishes, musts and limits, and what it
 * is to be free of. */
void drop_wishes(World *w, cJSON *job);
/* After today is learned: what counts as today stays. */
void drop_rules(World *w);
bool drops(const World *w, const char *term);

/* choices.c, money.c, score.c: points */
void make_choices(World *w);
long long with_tax(const World *w, long long amount);
long long wages(const World *w, long long minutes);
void price_choice(const World *w, Choice *c);
long long cost_of(const World *w, const Machine *m, long long *minutes);
void read_criteria(World *w, const cJSON *criteria, const cJSON *uses);
const cJSON *find_use(const cJSON *uses, const char *id);
bool can_serve(World *w, Choice *c);
/* Of a criterion of looks: how far the role is to the client's taste, and its share of what shows.
 */
double match_of(const World *w, const Criterion *k, const Choice *c);
double shown(const World *w, const Criterion *k, int role);
void score_choices(World *w, const Machine *base);
long long score_of(const World *w, const Machine *m, const Machine *base, long long *by_criterion);

/* sound.c */
void read_quiet(World *w, const cJSON *criterion, const cJSON *uses);
/* What the choice sounds like whatever stands beside it; false where that is unknown. */
bool hear(const World *w, Choice *c);
/* Once the present machine is made: the calibration hangs on it. */
void calibrate(World *w);
double sones(const World *w, const Machine *m);
double level_at_seat(const World *w, const Machine *m);
void print_sound(const World *w, const Machine *m);

#endif
