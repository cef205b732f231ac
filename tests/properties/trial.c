/* Dice, counts, copies of jobs, and the program asked about them. */
#include "trial.h"
#include "../fits/child.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

const char *property_name(Property property) {
    static const char *const names[PROPERTIES] = {
        [FASTER_NOW] = "faster-now",   [AS_MEASURED] = "as-measured",
        [FASTER_PART] = "faster-part", [FASTER_USE] = "faster-use",
        [ONE_MORE] = "one-more-fan",   [MORE_HEAT] = "more-heat",
        [LARGER_UNIT] = "larger-unit", [SMOOTH] = "smooth"};
    return names[property];
}

uint64_t below(Run *run, uint64_t count) {
    uint64_t z = run->dice += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return (z ^ (z >> 31)) % count;
}

double between(Run *run, double least, double most) {
    return least + (most - least) * (double)below(run, 1000001) / 1000000;
}

void fail(Run *run, Property property, const char *form, ...) {
    va_list args;
    va_start(args, form);
    run->failed[property]++;
    printf("FAILED %s, %s: ", run->name, property_name(property));
    vprintf(form, args);
    puts("");
    va_end(args);
}

void tell(Run *run, Property property, const char *wrong, bool moved) {
    if (*wrong != '\0') {
        fail(run, property, "%s", wrong);
        return;
    }
    run->passed[property]++;
    run->moved[property] += moved;
}

void say_change(char *wrong, size_t size, const Number *number, double more) {
    size_t length = strlen(wrong);
    if (length == 0 || length >= size)
        return;
    snprintf(wrong + length, size - length, " (%s.%s of piece %d from %.9g to %.9g)",
             number->role == NULL ? "room" : number->role, number->fact, number->piece + 1,
             number->value, more);
}

static void make_folder(const char *path) {
    if (mkdir(path, 0777) != 0 && errno != EEXIST)
        die("cannot make %s", path);
}

/* Its listings stay the job's. */
static void copy_job(Job *copy, const Job *job, const char *folder) {
    *copy = (Job){.folder = joined(folder, "", ""), .count = job->count, .listings = job->listings};
    copy->docs = grown(NULL, job->count * sizeof *copy->docs);
    for (size_t d = 0; d < job->count; d++) {
        copy->docs[d].path = joined(folder, job->docs[d].path + strlen(job->folder), "");
        copy->docs[d].root = cJSON_Duplicate(job->docs[d].root, true);
        if (copy->docs[d].root == NULL)
            die("out of memory");
    }
}

void start_pair(Run *run, Pair *pair) {
    char *folder = joined(run->work, "/", run->name);
    *pair = (Pair){.before = NULL};
    copy_job(&pair->copy, &run->job, folder);
    free(folder);
}

void end_pair(Pair *pair) {
    pair->copy.listings = (Table){.count = 0};
    close_job(&pair->copy);
    cJSON_Delete(pair->before);
    cJSON_Delete(pair->after);
}

static void write_copy(const Job *copy) {
    char *parts = joined(copy->folder, "/parts", "");
    make_folder(copy->folder);
    make_folder(parts);
    free(parts);
    write_job(copy);
}

/* A plan may find that nothing fits; a sanitizer's exit code may look like that, so nothing may
 * be said on the side. */
static bool is_answer(Asked asked, int code, const char *said) {
    return (code == 0 || (asked == PLAN && code == 1)) && *said == '\0';
}

cJSON *ask(Run *run, Property property, Asked asked, const Job *copy) {
    write_copy(copy);
    char *scenario = joined(copy->folder, "/", "scenario.json");
    char *out = joined(run->work, "/", "answer.json"), *err = joined(run->work, "/", "said.txt");
    char *const argv[] = {(char *)run->program,
                          asked == LOOK ? "look" : "plan",
                          scenario,
                          "--catalog",
                          copy->folder,
                          "--json",
                          asked == LOOK ? NULL : "--seconds",
                          "600",
                          NULL};
    int code = run_child(argv, out, err);
    char *said = read_whole(err);
    cJSON *answer = is_answer(asked, code, said) ? read_tree(out) : NULL;
    if (answer == NULL)
        fail(run, property, "%s ended with code %d: %.300s", argv[1], code, said);
    free(said);
    free(scenario);
    free(out);
    free(err);
    return answer;
}

cJSON *ask_again(Run *run, Property property, Asked asked, const Job *copy) {
    cJSON *answer = ask(run, property, asked, copy);
    if (answer != NULL && run->spoiled == property)
        spoil(run, property, answer);
    return answer;
}

void take_measurements_out(Job *copy) {
    cJSON *scenario = scenario_of(copy), *use;
    cJSON_ArrayForEach(use, member(member(scenario, "wishes"), "uses")) {
        cJSON_DeleteItemFromObjectCaseSensitive(use, "rate_now");
        cJSON_DeleteItemFromObjectCaseSensitive(use, "rate_wanted");
    }
    cJSON_DeleteItemFromObjectCaseSensitive(member(scenario, "room"), "machine_dba");
}

double level_in(const cJSON *answer, const char *name) {
    return number_of(member(answer, "sound"), name, NAN);
}
