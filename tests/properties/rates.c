/* A faster present part, and what was measured: the rates of look. */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Rates go through powers and products, whose last bits need not rise, and are told to six
 * decimals. */
static const double last_bits = 1e-9, last_digit = 1e-6;

static bool draw_pace(Run *run, const Job *job, Number *drawn) {
    Numbers numbers;
    uint64_t seen = 0;
    list_numbers(&numbers, job);
    for (size_t i = 0; i < numbers.count; i++)
        if (is_pace(numbers.all[i].fact) && below(run, ++seen) == 0)
            *drawn = numbers.all[i];
    free(numbers.all);
    return seen > 0;
}

static const cJSON *named(const cJSON *list, const char *name, const char *text) {
    const cJSON *one;
    cJSON_ArrayForEach(one, list) {
        if (strcmp(text_of(one, name), text) == 0)
            return one;
    }
    return NULL;
}

static double governing_rate(const cJSON *use) {
    return number_of(named(member(use, "stages"), "stage", text_of(use, "governed_by")), "rate",
                     NAN);
}

/* The governing stage is the slowest one. */
static bool governs(const cJSON *use, char *wrong, size_t size) {
    double rate = governing_rate(use);
    const cJSON *stage;
    cJSON_ArrayForEach(stage, member(use, "stages")) {
        if (!(rate <= number_of(stage, "rate", NAN) * (1 + last_bits) + last_digit)) {
            snprintf(wrong, size, "%s: %s does not govern", text_of(use, "use"),
                     text_of(use, "governed_by"));
            return false;
        }
    }
    return true;
}

/* No stage of any use is slower; `moved` when one is faster. */
static void compare_rates(const cJSON *before, const cJSON *after, char *wrong, size_t size,
                          bool *moved) {
    const cJSON *use, *stage;
    cJSON_ArrayForEach(use, member(before, "uses")) {
        const cJSON *then = named(member(after, "uses"), "use", text_of(use, "use"));
        if (then == NULL || !governs(then, wrong, size)) {
            snprintf(wrong, size, "%s: not told, or not the slowest stage", text_of(use, "use"));
            return;
        }
        *moved =
            *moved || governing_rate(then) > governing_rate(use) * (1 + last_bits) + last_digit;
        cJSON_ArrayForEach(stage, member(use, "stages")) {
            double rate = number_of(stage, "rate", NAN);
            double now = number_of(named(member(then, "stages"), "stage", text_of(stage, "stage")),
                                   "rate", NAN);
            if (now >= rate * (1 - last_bits) - last_digit)
                continue;
            snprintf(wrong, size, "%s, %s: %.12g, then %.12g", text_of(use, "use"),
                     text_of(stage, "stage"), rate, now);
            return;
        }
    }
}

void try_faster_now(Run *run) {
    Number number;
    double more;
    Pair pair;
    char wrong[256] = "";
    bool moved = false;
    if (!draw_pace(run, &run->job, &number) || !more_of(run, &number, 1.0001, 2.5, &more))
        return;
    start_pair(run, &pair);
    take_measurements_out(&pair.copy);
    pair.before = ask(run, FASTER_NOW, LOOK, &pair.copy);
    set_number(&pair.copy, &number, more);
    if (pair.before != NULL && cJSON_GetArraySize(member(pair.before, "uses")) > 0 &&
        (pair.after = ask_again(run, FASTER_NOW, LOOK, &pair.copy)) != NULL) {
        compare_rates(pair.before, pair.after, wrong, sizeof wrong, &moved);
        say_change(wrong, sizeof wrong, &number, more);
        tell(run, FASTER_NOW, wrong, moved);
    }
    end_pair(&pair);
}

/* ---- what was measured ---- */

static void set_field(cJSON *in, const char *name, double value) {
    cJSON_DeleteItemFromObjectCaseSensitive(in, name);
    if (cJSON_AddNumberToObject(in, name, value) == NULL)
        die("out of memory");
}

static void measure(Run *run, Job *copy) {
    cJSON *scenario = scenario_of(copy), *room = member(scenario, "room"), *use;
    cJSON_ArrayForEach(use, member(member(scenario, "wishes"), "uses")) {
        cJSON_DeleteItemFromObjectCaseSensitive(use, "rate_wanted");
        set_field(use, "rate_now", (double)(1000 + below(run, 200000)) / 1000);
    }
    if (quiet_of(copy) == NULL)
        return;
    if (room == NULL && (room = cJSON_AddObjectToObject(scenario, "room")) == NULL)
        die("out of memory");
    double background = number_of(room, "level_dba", 25);
    set_field(room, "machine_dba", background + (double)(3000 + below(run, 20000)) / 1000);
}

static void compare_measured(const Job *copy, const cJSON *answer, char *wrong, size_t size) {
    const cJSON *scenario = scenario_of(copy), *use;
    cJSON_ArrayForEach(use, member(member(scenario, "wishes"), "uses")) {
        const cJSON *told = named(member(answer, "uses"), "use", text_of(use, "use"));
        double rate = number_of(use, "rate_now", NAN), now = governing_rate(told);
        if (told != NULL && fabs(now - rate) <= rate * last_bits + last_digit)
            continue;
        snprintf(wrong, size, "%s: %.12g measured, %.12g told", text_of(use, "use"), rate, now);
    }
    double seat = number_of(member(scenario, "room"), "machine_dba", NAN);
    if (quiet_of(copy) != NULL && !(fabs(level_in(answer, "seat_dba") - seat) <= last_digit))
        snprintf(wrong, size, "%.12g dB(A) measured, %.12g told", seat,
                 level_in(answer, "seat_dba"));
}

/* Whatever stands in the machine, the measured rate and level are those of today. */
void try_as_measured(Run *run) {
    Number number;
    double more;
    Pair pair;
    char wrong[256] = "";
    start_pair(run, &pair);
    measure(run, &pair.copy);
    if (draw_pace(run, &run->job, &number) && more_of(run, &number, 1.0001, 2.5, &more))
        set_number(&pair.copy, &number, more);
    pair.after = ask_again(run, AS_MEASURED, LOOK, &pair.copy);
    if (pair.after != NULL) {
        compare_measured(&pair.copy, pair.after, wrong, sizeof wrong);
        tell(run, AS_MEASURED, wrong, cJSON_GetArraySize(member(pair.after, "uses")) > 0);
    }
    end_pair(&pair);
}
