/* What the parts of the driver of the work share: how it was asked, one job, both answers. */
#ifndef PAPERS_PAPERS_H
#define PAPERS_PAPERS_H

#include <stdbool.h>
#include <stddef.h>

#include "../fits/child.h"
#include "../random/driver_compare.h"

typedef struct Setup {
    const char *generate, *brute, *program, *work;
    long first, count;
} Setup;

typedef struct Job { /* what the drawn files say; bench NULL: there is no such file */
    char scenario[2048];
    cJSON *job, *bench, *facts, *parts, *roles, *tasks, *charges, *rules;
    cJSON *options; /* the program's three options */
    int code;       /* what it ended with there */
} Job;

typedef struct Tally { /* how much of what was met */
    long jobs, options, refused, nothing_fits, circular, unchanged, no_file, alone;
    long take_out, take_off, lay_out, fit, with, steps, of_tasks, of_charges, unnamed;
    long lifts, reaches, covers, leads, shop, client, files, checks, before_machine, behind_machine;
    long put_back, kept_job, kept_away;
} Tally;

/* run.c */
void path_in(const Setup *s, const char *name, char *out, size_t size);
cJSON *must_have(cJSON *pointer);
/* Draws the job of a seed and asks for its options. */
bool draw_job(const Setup *s, long seed, Job *j, Talk *t);
/* The same for a scenario beside the drawn one. */
bool read_job(const Setup *s, const char *scenario, Job *j, Talk *t);
void free_job(Job *j);
/* The checker's work for a machine; NULL, with the reason told, where none came. */
cJSON *ask_checker(const Setup *s, const Job *j, const cJSON *machine, Talk *t);
/* The last answer that was written there. */
cJSON *answer_in(const Setup *s, const char *out);
/* The program's work for an option; NULL where it gave no JSON. */
cJSON *ask_program(const Setup *s, const Job *j, int option, int *code);

/* machine.c */
void insert_at(cJSON *list, int place, cJSON *item);
/* The machine of a bundle: {"machine":[..]} as the program tells it, roles in byte order. */
cJSON *machine_of(const Job *j, const cJSON *bundle);
/* That machine with one role as it is today, its work too. */
cJSON *machine_without(const Job *j, const cJSON *machine, const char *role);
/* The entry of a role; NULL: it holds nothing, and nothing is done there. */
const cJSON *role_in(const cJSON *machine, const char *role);
bool role_changes(const Job *j, const cJSON *machine, const char *role);
bool any_change(const Job *j, const cJSON *machine);

/* compare.c: the program's answer against the checker's */
bool same_work(Talk *t, const cJSON *checker, const cJSON *machine, const cJSON *option,
               const cJSON *program);
bool is_null(const cJSON *json);
bool fail(Talk *t, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* judge.c, judge_order.c, judge_touch.c: what must hold of any answer, by plain counting. Of
 * the checker only which conditions hold is taken: covers, steps that are there, charges. */
typedef struct Item {
    const char *role, *part;
    enum { GOES, STAYS, COMES } fate;
    int count;
    const cJSON *kinds;                 /* texts: the kinds of its things */
    int out, off, lay, back, fit, with; /* where in the work, from 0; -1: nowhere */
} Item;

enum { MOST_ITEMS = 128 };

typedef struct Judge {
    Talk *t;
    const Job *j;
    const cJSON *machine, *truths, *work;
    Item item[MOST_ITEMS];
    int items;
    bool lifted[MOST_ITEMS], acts[MOST_ITEMS];
    cJSON *held; /* what `kinds` points into */
} Judge;

bool judge_work(Talk *t, const Job *j, const cJSON *machine, const cJSON *truths,
                const cJSON *answer);
bool judge_order(Judge *g);
bool judge_touch(Judge *g);
const cJSON *mount_of(const Judge *g, const char *role);
bool carries(const Judge *g, const Item *item, const char *role);
/* The role it rides on; NULL: it does not ride. */
const char *ride_of(const Judge *g, const Item *item);
bool holds_today(const Judge *g, const char *role);
bool holds_then(const Judge *g, const char *role);
bool lists_text(const cJSON *list, const char *text);
bool is_there(const Judge *g, const char *step);

/* right.c: the checker's answer as a right program would tell it */
cJSON *right_answer(const Job *j, const cJSON *checker, const cJSON *machine, const cJSON *option,
                    int number);

/* faults.c: returns the exit code */
int check_faults(const Setup *s);

#endif
