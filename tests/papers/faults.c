/*
 * That the driver can fail: right answers, made with the checker, are spoiled in one place
 * after another, and each time it has to be noticed; what is wrong whatever the checker says
 * has to be noticed without it too. A spoil that a job has no place for is left out there, but
 * not in all jobs.
 */
#include "faults.h"

#include <stdio.h>
#include <string.h>

enum { LEAST_JOBS = 60, MOST_JOBS = 400 };

typedef struct Right { /* one job with its right answer */
    Job j;
    cJSON *machine, *checker, *answer;
    const cJSON *option;
} Right;

/* Of the dearest option; false where there is none, or it goes round in a circle. */
static bool make_right(const Setup *s, long seed, Right *r) {
    static char why[4096];
    Talk t = {why, sizeof why};
    *r = (Right){.option = NULL};
    if (!draw_job(s, seed, &r->j, &t))
        give_up(why);
    int n = cJSON_GetArraySize(get(r->j.options, "options"));
    if (!n)
        return false;
    r->option = at(get(r->j.options, "options"), n - 1);
    r->machine = machine_of(&r->j, get(r->option, "bundle"));
    r->checker = ask_checker(s, &r->j, r->machine, &t);
    if (!r->checker)
        give_up(why);
    if (cJSON_IsTrue(get(r->checker, "circular")))
        return false;
    r->answer = right_answer(&r->j, r->checker, r->machine, r->option, n);
    return true;
}

static void free_right(Right *r) {
    cJSON_Delete(r->answer);
    cJSON_Delete(r->checker);
    cJSON_Delete(r->machine);
    free_job(&r->j);
}

static bool stands(const Right *r, const cJSON *answer, bool plain, Talk *t) {
    if (!plain && !same_work(t, r->checker, r->machine, r->option, answer))
        return false;
    return judge_work(t, &r->j, r->machine, r->checker, answer);
}

/* Where the judge has to notice it by itself, the comparison is not asked. */
static void spoil_one(Fault *f, long seed, const Right *r) {
    static char why[4096];
    Talk t = {why, sizeof why};
    cJSON *copy = must_have(cJSON_Duplicate(r->answer, true));
    Ground g = {&r->j, r->checker};
    if (f->spoil(&g, copy) && !cJSON_Compare(copy, r->answer, true)) {
        bool found = !stands(r, copy, f->plain, &t) && (!f->plain || !stands(r, copy, false, &t));
        f->met++;
        f->found += found;
        if (!found)
            printf("%s: not noticed in job %ld\n", f->name, seed);
    }
    cJSON_Delete(copy);
}

static bool all_met(const Fault *f, size_t n) {
    for (size_t i = 0; i < n; i++)
        if (!f[i].met)
            return false;
    return true;
}

static void add_up(const Fault *f, size_t n, long *passed, long *failed) {
    for (size_t i = 0; i < n; i++) {
        if (!f[i].met)
            printf("%s: met in no job\n", f[i].name);
        *(f[i].met > 0 && f[i].found == f[i].met ? passed : failed) += 1;
    }
}

int check_faults(const Setup *s) {
    static char why[4096];
    size_t n, m;
    long passed = 0, failed = 0;
    Fault *told = told_faults(&n), *order = order_faults(&m);
    for (long seed = 1;
         seed <= MOST_JOBS && (seed <= LEAST_JOBS || !all_met(told, n) || !all_met(order, m));
         seed++) {
        Right r;
        Talk t = {why, sizeof why};
        if (!make_right(s, seed, &r)) {
            free_right(&r);
            continue;
        }
        bool good = stands(&r, r.answer, false, &t);
        if (!good)
            printf("job %ld, nothing spoiled: %s\n", seed, why);
        *(good ? &passed : &failed) += 1;
        for (size_t i = 0; good && i < n; i++)
            spoil_one(&told[i], seed, &r);
        for (size_t i = 0; good && i < m; i++)
            spoil_one(&order[i], seed, &r);
        free_right(&r);
    }
    add_up(told, n, &passed, &failed);
    add_up(order, m, &passed, &failed);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}
