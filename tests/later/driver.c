/*
 * later FIRST COUNT | --cases FILE | --faults FILE, with --work FOLDER: draws jobs, has
 * the program tell what to buy first and what in which phase, and compares with the
 * checker, which tries every order and every sequence.
 */
#include "later.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { MOST_THINNINGS = 6 };

typedef struct Asked { /* which of the two questions */
    Command from, to;
} Asked;

static void count_first(Met *m, const cJSON *oracle) {
    const cJSON *purchase, *last = NULL;
    m->nothing_fits += !strcmp(text_of(oracle, "status"), "nothing-fits");
    m->groups += cJSON_GetArraySize(get(oracle, "groups")) > 1;
    m->purchases += cJSON_GetArraySize(get(oracle, "purchases")) > 1;
    bool together = false;
    cJSON_ArrayForEach(purchase, get(oracle, "purchases")) {
        together = together || cJSON_GetArraySize(get(purchase, "groups")) > 1;
        last = purchase;
    }
    m->together += together;
    m->horizon_less += last && strcmp(text_of(last, "spent"), text_of(oracle, "horizon")) != 0;
}

static void count_phases(Met *m, const cJSON *oracle) {
    const cJSON *phase;
    int changes = 0, k = 0;
    bool later = false, idle = false;
    m->none_in_phases += !strcmp(text_of(oracle, "status"), "nothing-fits");
    m->slow_is_less += cJSON_IsTrue(get(oracle, "slow_is_less"));
    m->phases += cJSON_GetArraySize(get(oracle, "phases")) > 1;
    cJSON_ArrayForEach(phase, get(oracle, "phases")) {
        bool buys = cJSON_IsObject(get(phase, "purchase"));
        changes += buys;
        later = later || (buys && k > 0);
        idle = idle || !buys;
        k++;
    }
    m->changes += changes > 1;
    m->later += later;
    m->idle += idle;
    const cJSON *first = cJSON_GetArrayItem(get(oracle, "phases"), 0);
    m->beats_greedy +=
        k > 1 && strcmp(text_of(first, "points"), text_of(get(oracle, "greedy"), "points")) != 0;
}

/* Draws, and thins what is sold until every sequence can be tried. */
static bool draw_job(const Setup *s, long seed, const char *scenario, Talk *t, Met *m) {
    for (int thin = 0; thin <= MOST_THINNINGS; thin++) {
        cJSON *tried[2] = {NULL, NULL};
        int code = 0;
        t->why[0] = '\0';
        if (!draw(s, seed, "job", t))
            return false;
        make_job(s, seed, thin);
        bool good = ask_checker(s, PHASES, scenario, NULL, &tried[0], &code, t) &&
                    ask_checker(s, FIRST, scenario, NULL, &tried[1], &code, t);
        cJSON_Delete(tried[0]);
        cJSON_Delete(tried[1]);
        if (good || code != 3)
            return good;
        m->drawn_again += thin == 0;
    }
    m->too_large++;
    return false;
}

static bool check_seed(const Setup *s, Asked asked, long seed, Talk *t, Met *m) {
    char scenario[2048];
    bool good = true;
    path_of(s, "job/scenario.json", scenario, sizeof scenario);
    if (!draw_job(s, seed, scenario, t, m))
        return false;
    for (Command c = asked.from; c <= asked.to; c++) {
        cJSON *oracle, *program;
        char why[1024] = "";
        Talk one = {why, sizeof why};
        if (!same_answers(s, c, scenario, &oracle, &program, &one)) {
            size_t have = strlen(t->why);
            snprintf(t->why + have, t->size - have, " [%s] %s", c == FIRST ? "first" : "phases",
                     why);
            good = false;
        }
        if (oracle && c == FIRST)
            count_first(m, oracle);
        if (oracle && c == PHASES)
            count_phases(m, oracle);
        cJSON_Delete(oracle);
        cJSON_Delete(program);
    }
    return good;
}

static void tell(const Met *m) {
    printf("first: %ld where nothing fits, %ld with two groups or more, %ld with two purchases or"
           " more,\n  %ld that buy groups together, %ld whose horizon is not what is spent\n",
           m->nothing_fits, m->groups, m->purchases, m->together, m->horizon_less);
    printf("phases: %ld where nothing fits, %ld with two phases or more, %ld buy later, %ld in two"
           " phases or more,\n  %ld do nothing in some phase, %ld do not begin with the points of"
           " the greedy; in %ld minutes matter to who sells\n",
           m->none_in_phases, m->phases, m->later, m->changes, m->idle, m->beats_greedy,
           m->slow_is_less);
    printf("%ld jobs made smaller\n", m->drawn_again);
}

static int check_seeds(const Setup *s, Asked asked) {
    char why[4096];
    long passed = 0, failed = 0;
    Met m = {0};
    for (long seed = s->first; seed < s->first + s->count; seed++) {
        Talk t = {why, sizeof why};
        why[0] = '\0';
        if (check_seed(s, asked, seed, &t, &m)) {
            passed++;
            continue;
        }
        failed++;
        printf("seed %ld: %s\n", seed, why);
        fflush(stdout);
    }
    tell(&m);
    /* The questions must stay sharp. */
    if (s->count >= 100 && asked.from != asked.to &&
        (m.groups * 10 < s->count || m.later * 10 < s->count)) {
        failed++;
        printf("too few jobs with two groups, or that buy later\n");
    }
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}

static bool read_valued(Setup *s, const char *name, const char *value) {
    if (!strcmp(name, "--generate"))
        s->generate = value;
    else if (!strcmp(name, "--brute"))
        s->brute = value;
    else if (!strcmp(name, "--program"))
        s->program = value;
    else if (!strcmp(name, "--work"))
        s->work = value;
    else
        return false;
    return true;
}

static Setup read_setup(int argc, char **argv, Asked *asked) {
    Setup s = {.generate = "build/tests/generate",
               .brute = "build/tests/brute",
               .program = "build/swapworth"};
    for (int i = 3; i < argc; i++) {
        if (!strcmp(argv[i], "--stand-in"))
            s.stand_in = true;
        else if (!strcmp(argv[i], "--only-first"))
            asked->to = FIRST;
        else if (!strcmp(argv[i], "--only-phases"))
            asked->from = PHASES;
        else if (i + 1 < argc && read_valued(&s, argv[i], argv[i + 1]))
            i++;
        else
            argc = 0;
    }
    if (argc < 3 || !s.work) {
        fputs("later FIRST COUNT | --cases FILE | --faults FILE, with --work FOLDER"
              " [--generate P] [--brute P] [--program P] [--stand-in] [--only-first | "
              "--only-phases]\n",
              stderr);
        exit(2);
    }
    s.first = strtol(argv[1], NULL, 10);
    s.count = strtol(argv[2], NULL, 10);
    return s;
}

int main(int argc, char **argv) {
    Asked asked = {FIRST, PHASES};
    Setup s = read_setup(argc, argv, &asked);
    if (mkdir(s.work, 0777) != 0 && errno != EEXIST)
        give_up(s.work);
    if (!strcmp(argv[1], "--cases"))
        return check_later_cases(&s, argv[2]);
    if (!strcmp(argv[1], "--faults"))
        return check_later_faults(&s, argv[2]);
    return check_seeds(&s, asked);
}
