/*
 * conflict-driver FIRST COUNT [--generate P] [--brute P] [--program P] [--work FOLDER]
 * [--spoil K]: draws jobs from seed FIRST on until nothing fits COUNT of them, asks
 * the program what stands in the way and what would mend it, and tries every bundle
 * to see whether that is so.
 *
 * With --spoil the K-th fault is planted in each of the program's answers: every
 * answer that could be spoiled must then be complained of, and a few are enough. conflict-driver
 * --faults prints how many faults there are.
 */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "../fits/child.h"
#include "judge.h"

enum { NO_FAULT = -1, PATH = 2048, MOST_TERMS = 64, ENOUGH = 8 };

typedef struct Setup {
    char *generate, *brute, *program;
    const char *work;
    long first, count;
    int fault;
    char scenario[PATH];
} Setup;

typedef struct Tally {
    long passed, failed, infeasible, spoiled, mends, wide, many, too_large;
} Tally;

static void path_of(const Setup *s, const char *name, char *out) {
    if (snprintf(out, PATH, "%s/%s", s->work, name) >= PATH) {
        fputs("conflict-driver: the work folder's name is too long\n", stderr);
        exit(2);
    }
}

static bool draw(const Setup *s, long seed) {
    static char rich[] = "--rich", tight[] = "--tight";
    char number[32], folder[PATH], err[PATH];
    char *argv[] = {s->generate, number, folder, rich, tight, NULL};
    snprintf(number, sizeof number, "%ld", seed);
    path_of(s, "job", folder);
    path_of(s, "draw.err", err);
    return run_child(argv, "/dev/null", err) == 0;
}

static cJSON *ask_sets(const Setup *s, int *code) {
    static char mends[] = "--mends";
    char out[PATH], err[PATH], *argv[] = {s->brute, mends, (char *)s->scenario, NULL};
    path_of(s, "sets.json", out);
    path_of(s, "brute.err", err);
    *code = run_child(argv, out, err);
    return read_tree(out);
}

static cJSON *ask_program(const Setup *s, int *code) {
    static char plan[] = "plan", json[] = "--json";
    char out[PATH], err[PATH], *argv[] = {s->program, plan, (char *)s->scenario, json, NULL};
    path_of(s, "program.json", out);
    path_of(s, "program.err", err);
    *code = run_child(argv, out, err);
    return read_tree(out);
}

/* The checker's own search with these terms dropped, its other way to see it. */
static cJSON *ask_drop(const Setup *s, char **term, int terms, int *code) {
    static char drop[] = "--drop", end[] = "--";
    char out[PATH], err[PATH], *argv[MOST_TERMS + 8] = {s->brute, drop};
    int n = 2;
    for (int i = 0; i < terms; i++)
        argv[n++] = term[i];
    argv[n++] = end;
    argv[n++] = (char *)s->scenario;
    path_of(s, "drop.json", out);
    path_of(s, "brute.err", err);
    *code = run_child(argv, out, err);
    return read_tree(out);
}

static bool has(const cJSON *terms, const char *term) {
    const cJSON *item;
    cJSON_ArrayForEach(item, terms) if (!strcmp(item->valuestring, term)) return true;
    return false;
}

/* All terms are dropped but the conflict's, of which `but` is dropped too. */
static bool obeys_under(const Setup *s, const cJSON *sets, const cJSON *conflict, const char *but,
                        int *code) {
    char *out[MOST_TERMS];
    int n = 0;
    const cJSON *item;
    cJSON_ArrayForEach(item, get(sets, "terms")) {
        const char *term = text_of(item, "term");
        if (n < MOST_TERMS && (!has(conflict, term) || (but && !strcmp(but, term))))
            out[n++] = get(item, "term")->valuestring;
    }
    cJSON_Delete(ask_drop(s, out, n, code));
    return *code == 0;
}

static bool conflict_holds(const Setup *s, Talk *t, const cJSON *sets, const cJSON *terms) {
    const cJSON *item;
    int code;
    if (obeys_under(s, sets, terms, NULL, &code))
        return complain(t, "conflict: a bundle obeys under these terms alone (searched)");
    if (code != 1)
        return complain(t, "the checker ended with %d", code);
    cJSON_ArrayForEach(item, terms) if (
        !obeys_under(s, sets, terms, item->valuestring,
                     &code)) return complain(t,
                                             "conflict: without %s nothing obeys either (searched)",
                                             item->valuestring);
    return true;
}

static bool mends_hold(const Setup *s, Talk *t, const cJSON *mends) {
    const cJSON *mend, *item;
    cJSON_ArrayForEach(mend, mends) {
        char *out[MOST_TERMS];
        int n = 0, code;
        cJSON_ArrayForEach(item, get(mend, "terms")) if (n < MOST_TERMS) out[n++] =
            item->valuestring;
        cJSON *dropped = ask_drop(s, out, n, &code);
        bool good = code <= 1 ? mend_brings(t, dropped, mend)
                              : complain(t, "the checker ended with %d", code);
        cJSON_Delete(dropped);
        if (!good)
            return false;
    }
    return true;
}

static bool judge(const Setup *s, Talk *t, const cJSON *sets, const cJSON *program, int code) {
    const cJSON *conflict = get(program, "conflict"), *mends = get(program, "mends");
    if (code != 1 || !program)
        return complain(t, "nothing fits, but the program ended with %d", code);
    if (!cJSON_IsTrue(get(program, "mends_settled")))
        return complain(t, "the mends are not settled");
    return same_text(t, "status", "nothing-fits", text_of(program, "status")) &&
           conflict_stands(t, sets, conflict) &&
           conflict_holds(s, t, sets, get(conflict, "terms")) && mends_stand(t, sets, mends) &&
           mends_hold(s, t, mends);
}

static void check_infeasible(const Setup *s, long seed, const cJSON *sets, Tally *y) {
    char why[512] = "";
    int code;
    bool spoiled = false;
    cJSON *program = ask_program(s, &code);
    if (s->fault >= 0 && code == 1)
        spoiled = spoil(program, s->fault);
    bool good = judge(s, &(Talk){why, sizeof why}, sets, program, code);
    y->infeasible++;
    y->spoiled += spoiled;
    y->mends += cJSON_GetArraySize(get(program, "mends"));
    y->wide += cJSON_GetArraySize(get(get(program, "conflict"), "terms")) > 2;
    y->many += cJSON_GetArraySize(get(program, "mends")) > 1;
    y->passed += s->fault < 0 ? good : spoiled && !good;
    y->failed += s->fault < 0 ? !good : spoiled && good;
    if (s->fault < 0 ? !good : spoiled && good) {
        printf("seed %ld: %s\n", seed, s->fault < 0 ? why : "a fault was not noticed");
        fflush(stdout);
    }
    cJSON_Delete(program);
}

static void check_seed(const Setup *s, long seed, Tally *y) {
    int code;
    if (!draw(s, seed)) {
        printf("seed %ld: the generator failed\n", seed);
        y->failed++;
        return;
    }
    cJSON *sets = ask_sets(s, &code);
    if (code == 1)
        check_infeasible(s, seed, sets, y);
    else if (code == 3)
        y->too_large++;
    else if (code != 0) {
        printf("seed %ld: the checker ended with %d\n", seed, code);
        y->failed++;
    }
    cJSON_Delete(sets);
}

static bool read_option(Setup *s, const char *name, char *value) {
    if (!strcmp(name, "--generate"))
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
               .work = "/tmp/swapworth-conflict",
               .fault = NO_FAULT};
    bool good = argc >= 3;
    for (int i = 3; i + 1 < argc; i += 2)
        good = good && read_option(&s, argv[i], argv[i + 1]);
    if (!good || argc % 2 == 0) {
        fputs("conflict-driver FIRST COUNT [--generate P] [--brute P] [--program P]"
              " [--work FOLDER] [--spoil K]\n",
              stderr);
        exit(2);
    }
    s.first = strtol(argv[1], NULL, 10);
    s.count = strtol(argv[2], NULL, 10);
    path_of(&s, "job/scenario.json", s.scenario);
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
    long seed = s.first;
    for (; y.infeasible < s.count && y.spoiled < ENOUGH && seed < s.first + 20 * s.count + 100;
         seed++)
        check_seed(&s, seed, &y);
    if (s.fault < 0)
        printf("nothing fits %ld of %ld jobs (%ld too large): %ld conflicts of three terms or"
               " more, %ld with several mends, %ld mends\n",
               y.infeasible, seed - s.first, y.too_large, y.wide, y.many, y.mends);
    else
        printf("%s: planted %ld times, noticed %ld times\n", spoil_name(s.fault), y.spoiled,
               y.passed);
    y.failed += s.fault < 0 ? y.infeasible < s.count : y.spoiled == 0;
    printf("%ld passed, %ld failed\n", y.passed, y.failed);
    return y.failed ? 1 : 0;
}
