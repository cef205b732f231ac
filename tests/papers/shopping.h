/* What the parts of the shopping's check share: one job, one errand, both answers. */
#ifndef PAPERS_SHOPPING_H
#define PAPERS_SHOPPING_H

#include <stdbool.h>
#include <stddef.h>

#include "../fits/child.h"
#include "../random/driver_compare.h"

typedef struct Setup {
    const char *generate, *brute, *program, *work;
    long first, count;
} Setup;

typedef struct Errand {
    int option;           /* from 1 */
    const char *words[6]; /* behind the scenario and the option; NULL ends */
    const char *take;     /* NULL: not said */
    bool changed;
} Errand;

typedef struct Case {
    const Setup *s;
    char scenario[2048], today[2048];
    cJSON *job;                             /* as agreed */
    cJSON *sellers, *tasks, *roles, *paper; /* of its catalog; paper NULL: none */
    char *listings;
    cJSON *now;             /* today's scenario */
    cJSON *options;         /* the program's */
    const cJSON *agreed;    /* the bundle of the option */
    cJSON *oracle, *answer; /* of the errand; oracle NULL: as agreed */
    char *csv;
    int code;
} Case;

typedef struct Tally {
    long jobs, errands, same, least, anew, nothing, free_seller, free_good, free_part, asked, dates,
        waived, brought, shelf, not_known, dropped;
} Tally;

/* shopping_job.c */
/* Draws the job of a seed, with allowances, dates and names of its own; asks its options. */
bool draw_case(Case *c, const Setup *s, long seed, Talk *t);
/* Asks both for the errand; `now` is today's scenario and is written. */
bool ask_errand(Case *c, const Errand *e, Talk *t);
void end_errand(Case *c);
void end_case(Case *c);
cJSON *must_have(cJSON *pointer);

/* shopping_dates.c: calendar days, counted one by one */
typedef struct Date {
    int year, month, day;
} Date;
Date read_date(const char *text);
Date days_later(Date from, long days);
Date months_later(Date from, long months);
long days_to(Date from, Date to); /* 0 where it is not later */
bool is_date(const cJSON *told, Date want);

/* shopping_ways.c, shopping_changes.c, shopping_orders.c, shopping_csv.c */
bool right_ways(Talk *t, const Case *c, const Errand *e, Tally *y);
bool right_changes(Talk *t, const Case *c, Tally *y);
bool right_orders(Talk *t, const Case *c, Tally *y);
bool right_csv(Talk *t, const cJSON *answer, const char *csv);
/* The bundle that is taken, by the answer's own word; NULL: none. */
const cJSON *taken_bundle(const Case *c);
bool right_answer(Talk *t, const Case *c, const Errand *e, Tally *y);

bool fail(Talk *t, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Minor units, whatever the digits; the text of an amount. */
long long money_of(const char *text);
bool is_whole(const cJSON *told, long want);
bool is_money(const cJSON *object, const char *name, long long want);
const cJSON *swap_of(const cJSON *bundle, const char *role);

/* shopping_faults.c: returns the exit code */
int check_faults(const Setup *s);

#endif
