/* A larger power unit is never loaded more. */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const cJSON *measure_in(const cJSON *answer, const char *id) {
    const cJSON *one;
    cJSON_ArrayForEach(one, member(answer, "measures")) {
        if (strcmp(text_of(one, "measure"), id) == 0)
            return one;
    }
    return NULL;
}

static void compare_shares(const cJSON *before, const cJSON *after, char *wrong, size_t size,
                           bool *moved) {
    static const char *const ends[] = {"low", "value", "high"};
    const cJSON *share = measure_in(before, "load-share"), *then = measure_in(after, "load-share");
    if (strcmp(text_of(share, "state"), "known") != 0)
        return;
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        double now = number_of(share, ends[i], NAN), less = number_of(then, ends[i], NAN);
        *moved = *moved || less < now;
        if (!(less <= now * (1 + 1e-12)))
            snprintf(wrong, size, "load-share, %s: %.12g, then %.12g", ends[i], now, less);
    }
}

static bool draw_unit(Run *run, Number *drawn) {
    Numbers numbers;
    uint64_t seen = 0;
    list_numbers(&numbers, &run->job);
    for (size_t i = 0; i < numbers.count; i++)
        if (strcmp(numbers.all[i].fact, "rated_w") == 0 && below(run, ++seen) == 0)
            *drawn = numbers.all[i];
    free(numbers.all);
    return seen > 0;
}

void try_larger_unit(Run *run) {
    Number number;
    double more;
    Pair pair;
    char wrong[256] = "";
    bool moved = false;
    if (!draw_unit(run, &number) || !more_of(run, &number, 1.0001, 2.5, &more))
        return;
    start_pair(run, &pair);
    pair.before = ask(run, LARGER_UNIT, LOOK, &pair.copy);
    set_number(&pair.copy, &number, more);
    if (pair.before != NULL &&
        (pair.after = ask_again(run, LARGER_UNIT, LOOK, &pair.copy)) != NULL) {
        compare_shares(pair.before, pair.after, wrong, sizeof wrong, &moved);
        say_change(wrong, sizeof wrong, &number, more);
        tell(run, LARGER_UNIT, wrong, moved);
    }
    end_pair(&pair);
}
