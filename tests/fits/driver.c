/*
 * fits-driver FIRST COUNT [--lists N] [--generate P] [--brute P] [--program P]
 * [--work FOLDER] [--spoil K]: for each seed draws a job and N lists of parts, asks
 * the program and the checker whether they fit, and compares all they say.
 *
 * fits-driver --cases FOLDER [OPTION..]: asks what FOLDER/cases.txt asks and compares with
 * what is written there, and with the checker.
 *
 * With --spoil the K-th fault is planted in each of the program's answers: every
 * answer that could be spoiled must then be complained of, and a few are enough. --spoil -1 alters
 * the job between the two instead. fits-driver --faults prints how many faults there are.
 */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "cases.h"
#include "child.h"
#include "compare.h"
#include "lists.h"
#include "member.h"

enum { NO_FAULT = -2, OTHER_JOB = -1, PATH = 2048, ENOUGH = 8 };

typedef struct Setup {
    char *generate, *brute, *program;
    const char *work, *cases;
    long first, count;
    int lists, fault;
} Setup;

typedef struct Job { /* the folder of one seed, read */
    cJSON *scenario, *parts, *rules, *roles;
    Pool pool;
    char path[PATH];
} Job;

typedef struct Tally {
    long passed, failed, spoiled, fits, refused, unknown, unasked, idle;
} Tally;

typedef struct Asking {
    const char *name[MOST_NAMED];
    int n;
    bool allow_unknown;
} Asking;

static void path_of(const Setup *s, const char *name, char *out) {
    if (snprintf(out, PATH, "%s/%s", s->work, name) >= PATH) {
        fputs("fits-driver: the work folder's name is too long\n", stderr);
        exit(2);
    }
}

/* Every seed of four has another kind of job. */
static bool draw(const Setup *s, long seed) {
    static char rich[] = "--rich", crowded[] = "--crowded", size[] = "--size";
    static char middling[] = "middling";
    char number[32], folder[PATH], err[PATH];
    char *argv[8] = {s->generate, number, folder};
    int n = 3;
    snprintf(number, sizeof number, "%ld", seed);
    path_of(s, "job", folder);
    path_of(s, "draw.err", err);
    if (seed % 4 != 3)
        argv[n++] = rich;
    if (seed % 4 != 0)
        argv[n++] = crowded;
    if (seed % 4 == 2) {
        argv[n++] = size;
        argv[n++] = middling;
    }
    return run_child(argv, "/dev/null", err) == 0;
}

static cJSON *read_in(const Setup *s, const char *name) {
    char path[PATH];
    path_of(s, name, path);
    return read_tree(path);
}

static Job read_job(const Setup *s) {
    Job j = {read_in(s, "job/scenario.json"),
             read_in(s, "job/parts/parts.json"),
             read_in(s, "job/rules.json"),
             read_in(s, "job/roles.json"),
             {.n = 0},
             ""};
    path_of(s, "job/scenario.json", j.path);
    j.pool = pool_of(j.roles, j.parts, j.scenario);
    return j;
}

static void free_job(Job *j) {
    cJSON_Delete(j->scenario);
    cJSON_Delete(j->parts);
    cJSON_Delete(j->rules);
    cJSON_Delete(j->roles);
}

/* Asks one side; the tree is NULL where it gave none. */
static cJSON *ask(const Setup *s, const Job *j, const Asking *q, bool program, int *code) {
    static char fits[] = "fits", list[] = "--fits", end[] = "--", json[] = "--json";
    static char allow[] = "--allow-unknown";
    char out[PATH], err[PATH], *argv[MOST_NAMED + 8] = {program ? s->program : s->brute};
    int n = 1;
    path_of(s, program ? "program.json" : "brute.json", out);
    path_of(s, program ? "program.err" : "brute.err", err);
    if (q->allow_unknown && !program)
        argv[n++] = allow;
    argv[n++] = program ? fits : list;
    if (q->allow_unknown && program)
        argv[n++] = allow;
    if (program)
        argv[n++] = (char *)j->path;
    for (int i = 0; i < q->n; i++)
        argv[n++] = (char *)q->name[i];
    argv[n++] = program ? json : end;
    if (!program)
        argv[n++] = (char *)j->path;
    *code = run_child(argv, out, err);
    return read_tree(out);
}

/* Another rule of the job bends the machine: the same question of another job. */
static void alter_job(const Setup *s, const Job *j) {
    char path[PATH];
    cJSON *rules = cJSON_Duplicate(j->rules, true), *list = cJSON_GetObjectItem(rules, "rules");
    cJSON_DeleteItemFromArray(list, 0);
    path_of(s, "job/rules.json", path);
    char *text = cJSON_PrintUnformatted(rules);
    FILE *f = fopen(path, "w");
    if (!f || !text || fputs(text, f) < 0 || fclose(f) != 0)
        give_up(path);
    cJSON_free(text);
    cJSON_Delete(rules);
}

static void restore_job(const Setup *s, const Job *j) {
    char path[PATH];
    path_of(s, "job/rules.json", path);
    char *text = cJSON_PrintUnformatted(j->rules);
    FILE *f = fopen(path, "w");
    if (!f || !text || fputs(text, f) < 0 || fclose(f) != 0)
        give_up(path);
    cJSON_free(text);
}

static bool same_answer(Talk *t, const Job *j, const cJSON *a, int a_code, const cJSON *b,
                        int b_code, bool *idle) {
    if (a_code != 0 && a_code != 1 && a_code != 64)
        return complain(t, "the checker ended with %d", a_code);
    if (a_code != b_code)
        return complain(t, "exit codes: the checker %d (%s), the program %d", a_code,
                        text_at(a, a_code == 64 ? "why" : "verdict"), b_code);
    if (a_code == 64)
        return true;
    if (!a || !b)
        return complain(t, "%s gave no JSON", a ? "the program" : "the checker");
    return same_fits(t, a, b, j->rules) && stands_well(t, a, b, idle);
}

static void count_verdict(Tally *y, const cJSON *a, int code) {
    const char *verdict = text_at(a, "verdict");
    y->unasked += code == 64;
    y->fits += code == 0;
    y->unknown += !strcmp(verdict, "unknown");
    y->refused += !strcmp(verdict, "refused");
}

static void report(const Setup *s, long seed, const Asking *q, const char *why) {
    printf("seed %ld:", seed);
    for (int i = 0; i < q->n; i++)
        printf(" %s", q->name[i]);
    printf("%s: %s\n", q->allow_unknown ? " --allow-unknown" : "", why);
    (void)s;
    fflush(stdout);
}

static void check_list(const Setup *s, const Job *j, long seed, const Asking *q, Tally *y) {
    char why[512] = "";
    int a_code, b_code;
    bool spoiled = false, idle = false;
    cJSON *a = ask(s, j, q, false, &a_code);
    if (s->fault == OTHER_JOB)
        alter_job(s, j);
    cJSON *b = ask(s, j, q, true, &b_code);
    if (s->fault == OTHER_JOB)
        restore_job(s, j);
    if (s->fault >= 0 && b && b_code <= 1)
        spoiled = spoil(b, s->fault);
    if (s->fault == OTHER_JOB)
        spoiled = b_code <= 1 && cJSON_GetArraySize(get(j->rules, "rules")) > 0;
    bool same = same_answer(&(Talk){why, sizeof why}, j, a, a_code, b, b_code, &idle);
    count_verdict(y, a, a_code);
    y->spoiled += spoiled;
    y->idle += idle;
    y->passed += s->fault == NO_FAULT ? same : spoiled && !same;
    y->failed += s->fault == NO_FAULT ? !same : spoiled && same;
    if (s->fault == NO_FAULT && !same)
        report(s, seed, q, why);
    if (spoiled && same)
        report(s, seed, q, "a fault was not noticed");
    cJSON_Delete(a);
    cJSON_Delete(b);
}

static void check_seed(const Setup *s, long seed, Tally *y) {
    Dice dice = {(uint64_t)seed * UINT64_C(0x2545F4914F6CDD1D) + 7};
    if (!draw(s, seed)) {
        printf("seed %ld: the generator failed\n", seed);
        y->failed++;
        return;
    }
    Job j = read_job(s);
    for (int i = 0; i < s->lists; i++) {
        Asking q = {.n = 0};
        q.n = draw_list(&dice, &j.pool, q.name);
        q.allow_unknown = roll(&dice, 8) == 0;
        check_list(s, &j, seed, &q, y);
    }
    free_job(&j);
}

static void read_case_job(const Setup *s, const Case *c, Job *j) {
    char path[PATH + 64];
    *j = (Job){.scenario = NULL};
    if (snprintf(j->path, sizeof j->path, "%s/cases/%s.json", s->cases, c->scenario) >= PATH)
        give_up(s->cases);
    snprintf(path, sizeof path, "%s/cases/bench/rules.json", s->cases);
    j->rules = read_tree(path);
}

static void check_case(const Setup *s, char *line, Tally *y) {
    Case c;
    Job j;
    Asking q = {.n = 0};
    int a_code, b_code;
    bool idle;
    char why[512] = "";
    Talk t = {why, sizeof why};
    if (!read_case(line, &c))
        return;
    read_case_job(s, &c, &j);
    for (int i = 0; i < c.parts && i < MOST_NAMED; i++)
        q.name[q.n++] = c.part[i];
    cJSON *a = ask(s, &j, &q, false, &a_code), *b = ask(s, &j, &q, true, &b_code);
    bool good = same_answer(&t, &j, a, a_code, b, b_code, &idle) &&
                is_wanted(&t, &c, b_code == 64 ? NULL : b);
    y->passed += good;
    y->failed += !good;
    if (!good) {
        printf("case %s:", c.scenario);
        for (int i = 0; i < q.n; i++)
            printf(" %s", q.name[i]);
        printf(": %s\n", why);
    }
    cJSON_Delete(a);
    cJSON_Delete(b);
    free_job(&j);
}

static void check_cases(const Setup *s, Tally *y) {
    char path[PATH];
    if (snprintf(path, sizeof path, "%s/cases.txt", s->cases) >= PATH)
        give_up(s->cases);
    char *text = read_whole(path);
    for (char *line = text, *next; *line; line = next) {
        next = line + strcspn(line, "\n");
        if (*next)
            *next++ = '\0';
        check_case(s, line, y);
    }
    free(text);
    y->failed += y->passed == 0;
}

static bool read_option(Setup *s, const char *name, char *value) {
    if (!strcmp(name, "--lists"))
        s->lists = (int)strtol(value, NULL, 10);
    else if (!strcmp(name, "--generate"))
        s->generate = value;
    else if (!strcmp(name, "--brute"))
        s->brute = value;
    else if (!strcmp(name, "--program"))
        s->program = value;
    else if (!strcmp(name, "--work"))
        s->work = value;
    else if (!strcmp(name, "--spoil"))
        s->fault = (int)strtol(value, NULL, 10);
    else
        return false;
    return true;
}

static Setup read_setup(int argc, char **argv) {
    static char generate[] = "build/tests/generate", brute[] = "build/tests/brute";
    static char program[] = "build/swapworth";
    Setup s = {.generate = generate,
               .brute = brute,
               .program = program,
               .work = "/tmp/swapworth-fits",
               .lists = 10,
               .fault = NO_FAULT};
    bool good = argc >= 3, cases = argc >= 3 && !strcmp(argv[1], "--cases");
    for (int i = 3; i + 1 < argc; i += 2)
        good = good && read_option(&s, argv[i], argv[i + 1]);
    if (!good || argc % 2 == 0) {
        fputs("fits-driver FIRST COUNT [--lists N] [--generate P] [--brute P] [--program P]"
              " [--work FOLDER] [--spoil K]\n"
              "fits-driver --cases FOLDER [--brute P] [--program P] [--work FOLDER]\n",
              stderr);
        exit(2);
    }
    s.cases = cases ? argv[2] : NULL;
    s.first = strtol(argv[1], NULL, 10);
    s.count = strtol(argv[2], NULL, 10);
    return s;
}

int main(int argc, char **argv) {
    if (argc == 2 && !strcmp(argv[1], "--faults")) {
        printf("%d\n", spoils());
        return 0;
    }
    Setup s = read_setup(argc, argv);
    Tally y = {0};
    if (mkdir(s.work, 0777) != 0 && errno != EEXIST)
        give_up(s.work);
    if (s.cases)
        check_cases(&s, &y);
    for (long seed = s.first; !s.cases && seed < s.first + s.count && y.spoiled < ENOUGH; seed++)
        check_seed(&s, seed, &y);
    if (s.cases)
        ;
    else if (s.fault == NO_FAULT)
        printf("%ld fit, %ld are refused, %ld unknown, %ld are no question;"
               " %ld leave out a spare thing that could stand\n",
               y.fits, y.refused, y.unknown, y.unasked, y.idle);
    else
        printf("%s: planted %ld times, noticed %ld times\n",
               s.fault < 0 ? "another job" : spoil_name(s.fault), y.spoiled, y.passed);
    if (s.fault != NO_FAULT && y.spoiled == 0)
        y.failed++;
    printf("%ld passed, %ld failed\n", y.passed, y.failed);
    return y.failed ? 1 : 0;
}
