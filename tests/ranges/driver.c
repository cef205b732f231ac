/*
 * ranges FIRST COUNT: for each seed a random job; where its best bundle stays best, and
 * what other jobs would have come to, the program's word against the checker's.
 * ranges --refused FILE SCENARIO: --set texts that have to be refused.
 * ranges --faults: that a wrong answer is found, whatever is wrong with it.
 * With [--generate P] [--brute P] [--program P] [--ranges-alone | --whatif-alone]
 * --work FOLDER.
 */
#include "ranges.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static bool check_seed(const Setup *s, long seed, Talk *t, Tally *tally) {
    Job j = {.s = s, .t = t, .tally = tally};
    bool good = open_job(&j, seed);
    good = good && (s->only == WHATIF_ALONE || check_ranges(&j));
    for (int i = 0; i < 2; i++)
        good = good && (s->only == RANGES_ALONE || check_whatif(&j));
    tally->jobs++;
    close_job(&j);
    return good;
}

/* A run of some length that met nothing of a kind has not tested it. */
static long missed(const Setup *s, const Tally *y) {
    const long met[] = {y->inside, y->outside, y->endless, y->priced, y->best,
                        y->beaten, y->dear,    y->refused, y->gone};
    long none = 0;
    for (size_t i = 0; s->count >= 100 && !s->only && i < sizeof met / sizeof *met; i++)
        none += met[i] == 0;
    if (none)
        printf("%ld kinds of answers were never met\n", none);
    /* A few may be too much for the time; more would say that they are not settled at all. */
    bool open = y->unsettled * 12 > y->priced && y->unsettled > 1;
    if (open)
        printf("%ld of %ld prices were not settled\n", y->unsettled, y->priced);
    return none + open;
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
    printf("%ld jobs, %ld where nothing fits: %ld changes inside a range, %ld outside, %ld either"
           " way; %ld ranges without end, %ld prices (%ld not settled), %ld parts named\n",
           y.jobs, y.nothing_fits, y.inside, y.outside, y.either, y.endless, y.priced, y.unsettled,
           y.named);
    printf("%ld times what if, %ld refused as the changed file is, %ld cases: %ld best, %ld beaten,"
           " %ld dear, %ld refused, %ld gone; %ld that the page leaves open (gone: %ld)\n",
           y.whatifs, y.refused_alike, y.cases, y.best, y.beaten, y.dear, y.refused, y.gone, y.open,
           y.open_as_gone);
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
    const char *word[3] = {NULL};
    int words = 0;
    for (int i = 1; i < argc; i++) {
        if (i + 1 < argc && read_valued(&s, argv[i], argv[i + 1]))
            i++;
        else if (!strcmp(argv[i], "--ranges-alone"))
            s.only = RANGES_ALONE;
        else if (!strcmp(argv[i], "--whatif-alone"))
            s.only = WHATIF_ALONE;
        else if (words < 3)
            word[words++] = argv[i];
    }
    if (!words || !s.work) {
        fputs("ranges FIRST COUNT | --refused FILE SCENARIO | --faults, with --work FOLDER"
              " [--generate P] [--brute P] [--program P]\n",
              stderr);
        return 2;
    }
    if (mkdir(s.work, 0777) != 0 && errno != EEXIST)
        give_up(s.work);
    if (!strcmp(word[0], "--faults"))
        return check_faults(&s);
    if (words == 3 && !strcmp(word[0], "--refused"))
        return check_refused(&s, word[1], word[2]);
    s.first = strtol(word[0], NULL, 10);
    s.count = words == 2 ? strtol(word[1], NULL, 10) : 1;
    return check_seeds(&s);
}
