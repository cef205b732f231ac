/*
 * properties --program P --work W [--seed S] [--trials N] [--drawn] [--only NAME]
 *            [--spoil NAME HOW] FOLDER...
 *
 * N trials of every property on the job in each FOLDER (a catalog with scenario.json beside its
 * files); of plans every fourth. --drawn: the jobs are generated. --spoil: the fault HOW is planted
 * in the second answers of one property. Ends with how often each property was put to the test, and
 * the count.
 *
 * properties --faults: the faults that can be planted, one "NAME HOW" a line.
 */
#include "trial.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void (*const trials[PROPERTIES])(Run *) = {
    [FASTER_NOW] = try_faster_now,   [AS_MEASURED] = try_as_measured,
    [FASTER_PART] = try_faster_part, [FASTER_USE] = try_faster_use,
    [ONE_MORE] = try_one_more,       [MORE_HEAT] = try_more_heat,
    [LARGER_UNIT] = try_larger_unit, [SMOOTH] = try_smooth,
};

typedef struct Options {
    Run run;
    unsigned long trials;
    Property only; /* PROPERTIES: all */
    int first_folder;
} Options;

static _Noreturn void misused(void) {
    fputs("properties --program P --work W [--seed S] [--trials N] [--drawn] [--only NAME]\n"
          "           [--spoil NAME HOW] FOLDER... | --faults\n",
          stderr);
    exit(2);
}

static Property property_by_name(const char *name) {
    for (int p = 0; p < PROPERTIES; p++)
        if (strcmp(name, property_name((Property)p)) == 0)
            return (Property)p;
    misused();
}

static int print_faults(void) {
    for (int p = 0; p < PROPERTIES; p++)
        for (unsigned how = 0; how < ways_to_spoil((Property)p); how++)
            printf("%s %u\n", property_name((Property)p), how);
    return 0;
}

/* How many arguments the option at `at` takes with it. */
static int read_option(Options *o, int left, char **at) {
    Run *run = &o->run;
    int takes = strcmp(at[0], "--drawn") == 0 ? 1 : strcmp(at[0], "--spoil") == 0 ? 3 : 2;
    if (takes > left)
        misused();
    if (strcmp(at[0], "--drawn") == 0)
        run->drawn = true;
    else if (strcmp(at[0], "--program") == 0)
        run->program = at[1];
    else if (strcmp(at[0], "--work") == 0)
        run->work = at[1];
    else if (strcmp(at[0], "--seed") == 0)
        run->dice = strtoull(at[1], NULL, 10) * 1000003;
    else if (strcmp(at[0], "--trials") == 0)
        o->trials = strtoul(at[1], NULL, 10);
    else if (strcmp(at[0], "--only") == 0)
        o->only = property_by_name(at[1]);
    else if (strcmp(at[0], "--spoil") == 0) {
        run->spoiled = o->only = property_by_name(at[1]);
        run->spoiled_how = (unsigned)strtoul(at[2], NULL, 10);
        if (run->spoiled_how >= ways_to_spoil(run->spoiled))
            misused();
    } else
        misused();
    return takes;
}

static void read_options(Options *o, int argc, char **argv) {
    *o = (Options){.run = {.spoiled = PROPERTIES}, .trials = 1, .only = PROPERTIES};
    int at = 1;
    while (at < argc && strncmp(argv[at], "--", 2) == 0)
        at += read_option(o, argc - at, argv + at);
    o->first_folder = at;
    if (at == argc || o->run.program == NULL || o->run.work == NULL)
        misused();
}

/* A plan takes many times as long as a look. */
static bool is_due(const Options *o, Property property, unsigned long trial) {
    bool plans = property == FASTER_PART || property == FASTER_USE;
    return (o->only == PROPERTIES && (!plans || trial % 4 == 0)) || o->only == property;
}

static void try_folder(Options *o, const char *folder) {
    const char *slash = strrchr(folder, '/');
    o->run.name = slash == NULL ? folder : slash + 1;
    open_job(&o->run.job, folder);
    for (unsigned long i = 0; i < o->trials; i++)
        for (int p = 0; p < PROPERTIES; p++)
            if (is_due(o, (Property)p, i))
                trials[p](&o->run);
    close_job(&o->run.job);
}

int main(int argc, char **argv) {
    Options o;
    size_t passed = 0, failed = 0;
    if (argc == 2 && strcmp(argv[1], "--faults") == 0)
        return print_faults();
    read_options(&o, argc, argv);
    for (int i = o.first_folder; i < argc; i++)
        try_folder(&o, argv[i]);
    for (int p = 0; p < PROPERTIES; p++) {
        printf("tried %s %zu, the answer moved %zu\n", property_name((Property)p),
               o.run.passed[p] + o.run.failed[p], o.run.moved[p]);
        passed += o.run.passed[p];
        failed += o.run.failed[p];
    }
    printf("of the bounds of smoothness at most %.3g was used\n", o.run.widest);
    printf("%zu passed, %zu failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}
