/*
 * options FIRST COUNT | --faults, with [--generate P] [--brute P] [--program P] --work FOLDER:
 * for each seed a random job with complaints; the program's three options, and what it tells
 * of them, against the checker, which tries every bundle. --faults: that a wrong answer is
 * found, whatever is wrong with it.
 */
#include "options.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static bool is_rule(const cJSON *option, const char *rule) {
    return !strcmp(text_of(option, "rule"), rule);
}

static void count_option(Tally *y, const cJSON *option) {
    const cJSON *item;
    bool given_up = false, luck = false;
    y->ends += is_rule(option, "ends-complaint");
    y->best_rate += is_rule(option, "best-rate");
    y->kept += is_rule(option, "keeps-money");
    y->bend += is_rule(option, "bend");
    y->nested += is_rule(option, "nested-bend");
    cJSON_ArrayForEach(item, get(option, "given_up")) given_up =
        given_up || cJSON_GetArraySize(get(item, "parts")) > 0;
    cJSON_ArrayForEach(item, get(option, "promised")) luck =
        luck || get(item, "ratio")->valuedouble != get(item, "chance_ratio")->valuedouble;
    y->given_up += given_up;
    y->luck += luck;
    y->next += !is_null(get(option, "next_step"));
    y->asks += cJSON_GetArraySize(get(option, "asks")) > 0;
    y->hazards += cJSON_GetArraySize(get(option, "hazards")) > 0;
}

static void count_complaint(Tally *y, const cJSON *complaint) {
    y->by_rate += !is_null(get(complaint, "use"));
    if (!cJSON_IsTrue(get(complaint, "shows"))) {
        y->hidden++;
        return;
    }
    y->shows++;
    if (cJSON_IsTrue(get(complaint, "ended_within_budget")))
        y->affordable++;
    else if (is_null(get(complaint, "costs_at_least")))
        y->never++;
    else
        y->dear++;
}

static void count(Tally *y, const cJSON *oracle) {
    const cJSON *options = get(oracle, "options"), *nesting = get(oracle, "nesting"), *item;
    int on_curve = 0;
    y->nothing_fits += !strcmp(text_of(oracle, "status"), "nothing-fits");
    y->alone += cJSON_GetArraySize(options) == 1;
    cJSON_ArrayForEach(item, options) count_option(y, item);
    cJSON_ArrayForEach(item, get(oracle, "complaints")) count_complaint(y, item);
    cJSON_ArrayForEach(item, get(get(oracle, "curve"), "steps")) on_curve +=
        cJSON_IsNumber(get(item, "option"));
    y->off_curve += on_curve < cJSON_GetArraySize(options);
    /* Of First nothing is given up for a Full that costs less. */
    const cJSON *first = cJSON_GetArrayItem(options, 0), *second = cJSON_GetArrayItem(options, 1);
    y->dearer += second && !cJSON_GetArraySize(get(first, "given_up"));
    y->nests_elsewhere +=
        !is_null(nesting) && strcmp(text_of(nesting, "points_lost"), "0.000") != 0;
}

static bool check_seed(const Setup *s, long seed, Talk *t, Tally *y) {
    char scenario[2048];
    int codes[2] = {0, 0};
    if (!draw_job(s, seed, scenario, sizeof scenario, t))
        return false;
    cJSON *oracle = ask_checker(s, scenario, &codes[0], t);
    cJSON *program = oracle ? ask_program(s, scenario, &codes[1], t) : NULL;
    bool good = program && same_options(t, oracle, codes[0], program, codes[1]);
    y->jobs++;
    if (oracle)
        count(y, oracle);
    cJSON_Delete(oracle);
    cJSON_Delete(program);
    return good;
}

/* A run of some length that met nothing of a kind has not tested it. */
static long missed(const Setup *s, const Tally *y) {
    const long met[] = {y->nothing_fits, y->alone,  y->ends,    y->best_rate, y->dearer,
                        y->bend,         y->nested, y->shows,   y->hidden,    y->affordable,
                        y->dear,         y->never,  y->by_rate, y->given_up,  y->next,
                        y->luck,         y->asks,   y->hazards, y->off_curve, y->nests_elsewhere};
    long none = 0;
    for (size_t i = 0; s->count >= 100 && i < sizeof met / sizeof *met; i++)
        none += met[i] == 0;
    none += s->count >= 500 && y->kept == 0;
    if (none)
        printf("%ld kinds of answers were never met\n", none);
    return none;
}

static void tell(const Tally *y) {
    printf("%ld jobs, %ld where nothing fits, %ld with one option; First: %ld end a complaint, %ld"
           " by the best rate, %ld keep money, %ld dearer than Full;\n  Middle: %ld at the bend, "
           "%ld nested, %ld"
           " nested ones that lose points; %ld with an option off the curve\n",
           y->jobs, y->nothing_fits, y->alone, y->ends, y->best_rate, y->kept, y->dearer, y->bend,
           y->nested, y->nests_elsewhere, y->off_curve);
    printf("complaints: %ld show (%ld ended within the budget, %ld beyond it, %ld never), %ld do"
           " not, %ld about a rate; options: %ld give parts up, %ld with a next step, %ld with luck"
           " in a rate, %ld that ask, %ld with hazards\n",
           y->shows, y->affordable, y->dear, y->never, y->hidden, y->by_rate, y->given_up, y->next,
           y->luck, y->asks, y->hazards);
}

static int check_seeds(const Setup *s) {
    static char why[4096];
    long passed = 0, failed = 0;
    Tally y = {0};
    for (long seed = s->first; seed < s->first + s->count; seed++) {
        Talk t = {why, sizeof why};
        why[0] = '\0';
        if (check_seed(s, seed, &t, &y)) {
            passed++;
            continue;
        }
        failed++;
        printf("seed %ld: %s\n", seed, why);
        fflush(stdout);
    }
    tell(&y);
    failed += missed(s, &y);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}

static bool read_valued(Setup *s, const char *name, const char *value) {
    const char **into = !strcmp(name, "--generate")  ? &s->generate
                        : !strcmp(name, "--brute")   ? &s->brute
                        : !strcmp(name, "--program") ? &s->program
                        : !strcmp(name, "--work")    ? &s->work
                                                     : NULL;
    if (into)
        *into = value;
    return into != NULL;
}

int main(int argc, char **argv) {
    Setup s = {.generate = "build/tests/generate",
               .brute = "build/tests/brute",
               .program = "build/swapworth"};
    const char *word[2] = {NULL};
    int words = 0;
    for (int i = 1; i < argc; i++) {
        if (i + 1 < argc && read_valued(&s, argv[i], argv[i + 1]))
            i++;
        else if (words < 2)
            word[words++] = argv[i];
    }
    if (!words || !s.work) {
        fputs("options FIRST COUNT | --faults, with --work FOLDER [--generate P] [--brute P]"
              " [--program P]\n",
              stderr);
        return 2;
    }
    if (mkdir(s.work, 0777) != 0 && errno != EEXIST)
        give_up(s.work);
    if (!strcmp(word[0], "--faults"))
        return check_faults(&s);
    s.first = strtol(word[0], NULL, 10);
    s.count = words == 2 ? strtol(word[1], NULL, 10) : 1;
    return check_seeds(&s);
}
