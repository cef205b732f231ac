/*
 * driver FIRST COUNT [--best K] [--apart D] [--groups] [--curve] [--generate P]
 * [--brute P] [--plan P] [--work FOLDER] [ARG..]: for each seed draws an instance,
 * lets the checker try every bundle, lets the program plan, and compares. ARGs go
 * to generate. Says which seeds differ. The first three ask for more of a plan;
 * every third seed is planned again with just the money for one of its steps.
 * With --curve the program's curve is compared too, whole and in part.
 *
 * driver --published FOLDER [--plan P] [--work FOLDER]: asks for every row of
 * FOLDER/expected.txt and ranked.txt and compares with the published answer. With
 * --brute P and no --plan the checker is asked in the program's place.
 */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "driver.h"
#include "driver_compare.h"

static bool check_plan(const Setup *s, const Question *q, char *why, size_t size) {
    char *oracle = NULL, *plan = NULL;
    int a = 0, b = 0;
    bool same = false;
    if (!answer(s, false, q, &oracle, &a))
        snprintf(why, size, "the checker ended with %d", a);
    else if (!answer(s, true, q, &plan, &b))
        snprintf(why, size, "the program ended with %d", b);
    else if (a != b)
        snprintf(why, size, "exit codes: the checker %d, the program %d", a, b);
    else
        same = same_answer(oracle, plan, (Wanted){q->best != NULL, q->groups}, why, size);
    free(oracle);
    free(plan);
    return same;
}

/* The checker's whole curve, or NULL. */
static cJSON *whole_curve(const Setup *s, char *scenario, char *why, size_t size) {
    char *text = NULL;
    int code = 0;
    cJSON *json = NULL;
    if (answer(s, false, &(Question){.scenario = scenario, .curve = true}, &text, &code))
        json = cJSON_Parse(text);
    if (!json)
        snprintf(why, size, "the checker's curve ended with %d", code);
    free(text);
    return json;
}

static bool check_curve(const Setup *s, const Question *q, char *why, size_t size) {
    char *oracle = NULL, *plan = NULL;
    int a = 0, b = 0;
    bool same = false;
    if (!answer(s, false, q, &oracle, &a))
        snprintf(why, size, "the checker's curve ended with %d", a);
    else if (!answer(s, true, q, &plan, &b))
        snprintf(why, size, "the program's curve ended with %d", b);
    else
        same = same_curve(oracle, plan, b, why, size);
    free(oracle);
    free(plan);
    return same;
}

/* One minor unit less; nothing stays nothing. */
static void lessen(char *money) {
    if (strspn(money, "0.") == strlen(money))
        return;
    for (char *p = money + strlen(money) - 1;; p--) {
        if (*p == '.')
            continue;
        if (*p > '0') {
            --*p;
            return;
        }
        *p = '9';
    }
}

static void cost_at(const cJSON *steps, long which, bool less, char *out, size_t size) {
    int n = cJSON_GetArraySize(steps);
    snprintf(out, size, "%s",
             n ? text_of(cJSON_GetArrayItem(steps, (int)(which % n)), "cost") : "0");
    if (less)
        lessen(out);
}

/* The whole curve, then from one step's cost or just before it, up to another's. */
static bool check_curves(const Setup *s, char *scenario, long seed, const cJSON *steps, char *why,
                         size_t size) {
    char low[64], high[64];
    long n = cJSON_GetArraySize(steps), first = n ? seed / 4 % n : 0;
    long second = n ? first + seed / 12 % (n - first) : 0;
    Question q = {.scenario = scenario, .curve = true};
    if (!check_curve(s, &q, why, size))
        return false;
    cost_at(steps, first, seed & 1, low, sizeof low);
    cost_at(steps, second, (seed & 2) && second > first, high, sizeof high);
    q.from = seed % 5 ? low : NULL;
    q.to = seed % 7 ? high : NULL;
    return check_curve(s, &q, why, size);
}

/* Planned with just the money for one of the steps of the curve. */
static bool check_tight(const Setup *s, Question q, long seed, const cJSON *steps, char *why,
                        size_t size) {
    char total[64];
    long n = cJSON_GetArraySize(steps);
    if (n == 0)
        return true;
    /* The least budget every other time. */
    long which = seed % 2 ? seed / 6 % n : 0;
    snprintf(total, sizeof total, "%s", text_of(cJSON_GetArrayItem(steps, (int)which), "total"));
    q.budget = total;
    if (check_plan(s, &q, why, size))
        return true;
    size_t length = strlen(why);
    if (length < size)
        snprintf(why + length, size - length, ", at a budget of %s", total);
    return false;
}

static bool check_seed(const Setup *s, long seed, char *why, size_t size) {
    char scenario[2048];
    path_of(s, "job/scenario.json", scenario, sizeof scenario);
    Question q = {.scenario = scenario, .best = s->best, .apart = s->apart, .groups = s->groups};
    bool more = s->best || s->groups, tight = more && seed % 3 == 0;
    if (!draw(s, seed, why, size) || ((more || !s->curve) && !check_plan(s, &q, why, size)))
        return false;
    if (!tight && !s->curve)
        return true;
    cJSON *curve = whole_curve(s, scenario, why, size);
    const cJSON *steps = get(curve, "steps");
    bool same = curve && (!tight || check_tight(s, q, seed, steps, why, size)) &&
                (!s->curve || check_curves(s, scenario, seed, steps, why, size));
    cJSON_Delete(curve);
    return same;
}

static bool read_valued(Setup *s, const char *name, char *value) {
    if (!strcmp(name, "--generate"))
        s->generate = value;
    else if (!strcmp(name, "--brute"))
        s->brute = value;
    else if (!strcmp(name, "--plan"))
        s->plan = value;
    else if (!strcmp(name, "--work"))
        s->work = value;
    else if (!strcmp(name, "--best"))
        s->best = value;
    else if (!strcmp(name, "--apart"))
        s->apart = value;
    else
        return false;
    return true;
}

static Setup read_setup(int argc, char **argv) {
    static char generate[] = "build/tests/generate", brute[] = "build/tests/brute";
    Setup s = {.generate = generate, .brute = brute, .work = "/tmp/swapworth-driver"};
    if (argc < 3) {
        fputs("driver FIRST COUNT [--best K] [--apart D] [--groups] [--curve] [--generate P]"
              " [--brute P] [--plan P] [--work FOLDER] [ARG..]\n"
              "driver --published FOLDER [--brute P] [--plan P] [--work FOLDER]\n",
              stderr);
        exit(2);
    }
    if (!strcmp(argv[1], "--published")) {
        s.published = argv[2];
    } else {
        s.first = strtol(argv[1], NULL, 10);
        s.count = strtol(argv[2], NULL, 10);
    }
    for (int i = 3; i < argc; i++) {
        if (i + 1 < argc && read_valued(&s, argv[i], argv[i + 1]))
            i++;
        else if (!strcmp(argv[i], "--curve"))
            s.curve = true;
        else if (!strcmp(argv[i], "--groups"))
            s.groups = true;
        else if (s.extras < MOST_ARGS)
            s.extra[s.extras++] = argv[i];
    }
    return s;
}

static int check_seeds(Setup *s) {
    static char program[] = "build/swapworth";
    char why[512];
    long passed = 0, failed = 0;
    if (!s->plan)
        s->plan = program;
    for (long seed = s->first; seed < s->first + s->count; seed++) {
        why[0] = '\0';
        if (check_seed(s, seed, why, sizeof why)) {
            passed++;
            continue;
        }
        failed++;
        printf("seed %ld: %s\n", seed, why);
        fflush(stdout);
    }
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}

int main(int argc, char **argv) {
    Setup s = read_setup(argc, argv);
    if (mkdir(s.work, 0777) != 0 && errno != EEXIST)
        give_up(s.work);
    return s.published ? check_published(&s) : check_seeds(&s);
}
