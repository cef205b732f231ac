/*
 * A random catalog and scenario in the making: dice, the vocabulary, and what
 * has been decided so far that later choices must agree with.
 */
#ifndef RANDOM_GENERATE_H
#define RANDOM_GENERATE_H

#include <stdbool.h>
#include <stdint.h>

#include <cjson/cJSON.h>

enum { MAX_ROLES = 12, MAX_FACTS = 40, MAX_PARTS = 200, MAX_TASKS = 6, ID = 24 };

typedef enum { SMALL, MIDDLING } Size;
typedef enum { ANYTHING, PLACES, TASKS, RATES } Focus; /* what a seed has more of */
typedef enum { NUMBER, TOKEN, LIST, FLAG, SITES, THINGS, DERIVED } Type;

typedef struct Fact {
    const char *name;
    Type type;
    const char *combine;
    const char *values[8]; /* a few, so that ties are common */
    double least, most;
    bool pace;  /* read by speed: positive, and known on present pieces */
    bool vital; /* known on present pieces */
    bool on[MAX_ROLES];
    bool absent;
} Fact;

typedef struct Role {
    char id[ID];
    int least, most, kinds;
    bool whole, count[20];
    int held;         /* pieces present */
    double kept_ways; /* rough numbers for the count of combinations */
    double kept_by_total[40];
    double new_by_total[40];
    int tasks;
} Role;

typedef struct Part {
    char id[ID];
    int role;
    bool catalog; /* not the scenario's own */
    const char *maker;
    int listings;
} Part;

typedef struct Draw {
    uint64_t state;
    Size size;
    Focus focus;
    bool untaxed;
    bool close; /* values and prices a thousandth of a point or one minor unit apart */
    int roles, facts, parts, tasks, sellers, lavish;
    Role role[MAX_ROLES];
    Fact fact[MAX_FACTS];
    Part part[MAX_PARTS];
    char task[MAX_TASKS][ID];
    int task_role[MAX_TASKS];
    bool speed, quiet;
    int uses, must_role;
    const char *currency;
    int digits;
    cJSON *roles_file, *facts_file, *rules_file, *tasks_file, *observations_file;
    cJSON *charges_file, *criteria_file, *uses_file, *parts_file, *sellers_file, *scenario;
    cJSON *complaints_file, *paper_file, *hazards_file, *bench_file; /* NULL: there is none */
    char *listings;
    size_t listings_length, listings_room;
} Draw;

/* generate_dice.c */
int below(Draw *d, int n);
bool chance(Draw *d, int percent);
int between(Draw *d, int least, int most);
const char *one_of(Draw *d, int n, const char *const *texts);
void *must(void *pointer);
cJSON *object(void);
cJSON *array_in(cJSON *parent, const char *name);
cJSON *object_in(cJSON *parent, const char *name);
cJSON *text_in(cJSON *parent, const char *name, const char *text);
cJSON *number_in(cJSON *parent, const char *name, double x);
cJSON *flag_in(cJSON *parent, const char *name, bool on);
cJSON *file_of(const char *list);
cJSON *next_object(cJSON *array);
void text_next(cJSON *array, const char *text);
void put_in(cJSON *parent, const char *name, cJSON *item);
void put_next(cJSON *array, cJSON *item);
void money_in(Draw *d, cJSON *parent, const char *name, int hundredths);
void money_text(const Draw *d, int hundredths, char *out, size_t size);
double read_number(const char *text);

/* generate_words.c: roles, facts, parts, sellers, listings */
void draw_roles(Draw *d);
void draw_facts(Draw *d);
cJSON *draw_piece_facts(Draw *d, int role, bool present);
cJSON *draw_value(Draw *d, const Fact *f);
void draw_parts(Draw *d);
void draw_sellers(Draw *d);
int new_part(Draw *d, int role, bool catalog);
int fact_on(Draw *d, int role, Type type);
int any_fact(Draw *d, Type type, int *role);
bool can_be_pace(const Draw *d, int role);
cJSON *draw_spots(Draw *d, bool sites);

/* generate_laws.c: expressions, conditions, rules, tasks, charges */
cJSON *draw_expression(Draw *d, int role, int depth, bool pace);
cJSON *draw_cond(Draw *d);
void draw_derived(Draw *d);
void draw_tasks(Draw *d);
void draw_rules(Draw *d);
void draw_charges(Draw *d);
void draw_observations(Draw *d);

/* generate_job.c: criteria, uses, the scenario */
void draw_machine(Draw *d);
void draw_criteria(Draw *d);
void draw_scenario(Draw *d);
double combinations(const Draw *d);

/* generate_sound.c, generate_told.c: last of all, on any job */
/* More to hear where quiet counts, and how busy the uses keep each role. */
void draw_sound(Draw *d);
/* What no bundle hangs on. */
void draw_told(Draw *d);

/* generate_options.c: after all that; complaints, luck, the shop's paper, hazards */
void draw_options(Draw *d);

/* generate_bench.c: the very last, from dice of its own; how the work is done */
void draw_bench(Draw *d, uint64_t seed);

/* generate_waiver.c, generate_rich.c: after all else is drawn */
void draw_waivers(Draw *d);
/* Names, units and what bends; reach and cautions; unknowns; parts nobody sells. */
void draw_rich(Draw *d);
/* More pieces than all bundles could be tried of. */
void draw_crowd(Draw *d);
void draw_tight(Draw *d);

#endif
