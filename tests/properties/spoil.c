/* Faults planted in the second answer: each must be noticed. */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static cJSON *first(const cJSON *in, const char *list) {
    return cJSON_GetArrayItem(member(in, list), 0);
}

static void times(cJSON *in, const char *name, double factor) {
    cJSON *number = member(in, name);
    if (cJSON_IsNumber(number))
        cJSON_SetNumberValue(number, number->valuedouble * factor);
}

static void plus(cJSON *in, const char *name, double more) {
    cJSON *number = member(in, name);
    if (cJSON_IsNumber(number))
        cJSON_SetNumberValue(number, number->valuedouble + more);
}

static void say(cJSON *in, const char *name, const char *text) {
    cJSON *old = member(in, name);
    if (cJSON_IsString(old) && cJSON_SetValuestring(old, text) == NULL)
        die("out of memory");
}

static void slower_stage(cJSON *answer) {
    times(first(first(answer, "uses"), "stages"), "rate", 0.3);
}

static void other_governor(cJSON *answer) {
    cJSON *use;
    cJSON_ArrayForEach(use, member(answer, "uses")) say(use, "governed_by", "nothing");
}

static void fewer_points(cJSON *answer) { say(first(answer, "bundles"), "points", "-900.000"); }

static void nothing_fits(cJSON *answer) { say(answer, "status", "nothing-fits"); }

static void less_use(cJSON *answer) {
    say(first(first(answer, "bundles"), "rates"), "ratio", "0.01");
}

static void no_ratio(cJSON *answer) {
    cJSON *use;
    cJSON_ArrayForEach(use, member(first(answer, "bundles"), "rates")) say(use, "ratio", "0.01");
}

static void quieter_seat(cJSON *answer) { plus(member(answer, "sound"), "seat_dba", -25); }
static void quieter_sone(cJSON *answer) { times(member(answer, "sound"), "seat_sone", 0.1); }
static void louder(cJSON *answer) { plus(member(answer, "sound"), "seat_dba", 1.1); }
static void louder_machine(cJSON *answer) { plus(member(answer, "sound"), "machine_dba", 1); }

static void off_by_a_little(cJSON *answer) {
    plus(member(answer, "sound"), "seat_dba", 0.001);
    cJSON *use, *stage;
    cJSON_ArrayForEach(use, member(answer, "uses")) {
        cJSON_ArrayForEach(stage, member(use, "stages")) times(stage, "rate", 1.00001);
    }
}

static void loaded_more(cJSON *answer) {
    cJSON *one;
    cJSON_ArrayForEach(one, member(answer, "measures")) {
        if (strcmp(text_of(one, "measure"), "load-share") == 0)
            times(one, "high", 4);
    }
}

static void jumping_measures(cJSON *answer) {
    cJSON *one;
    cJSON_ArrayForEach(one, member(answer, "measures")) {
        times(one, "value", 1.3);
        plus(one, "value", 1);
    }
}

static void lost_measures(cJSON *answer) {
    cJSON *one;
    cJSON_ArrayForEach(one, member(answer, "measures")) say(one, "state", "void");
}

static void jumping_rates(cJSON *answer) {
    cJSON *use, *stage;
    cJSON_ArrayForEach(use, member(answer, "uses")) {
        cJSON_ArrayForEach(stage, member(use, "stages")) times(stage, "rate", 1.1);
    }
}

static void jumping_source(cJSON *answer) {
    plus(first(member(answer, "sound"), "sources"), "level_db", 3);
}

typedef void (*Way)(cJSON *);
enum { MOST_WAYS = 7 };

static const Way ways[PROPERTIES][MOST_WAYS] = {
    [FASTER_NOW] = {slower_stage, other_governor},
    [AS_MEASURED] = {off_by_a_little},
    [FASTER_PART] = {fewer_points, nothing_fits, no_ratio},
    [FASTER_USE] = {fewer_points, less_use},
    [ONE_MORE] = {quieter_seat, quieter_sone},
    [MORE_HEAT] = {quieter_seat, quieter_sone},
    [LARGER_UNIT] = {loaded_more},
    [SMOOTH] = {jumping_rates, louder, louder_machine, quieter_sone, jumping_source,
                jumping_measures, lost_measures},
};

unsigned ways_to_spoil(Property property) {
    unsigned count = 0;
    while (count < MOST_WAYS && ways[property][count] != NULL)
        count++;
    return count;
}

void spoil(Run *run, Property property, cJSON *answer) { ways[property][run->spoiled_how](answer); }
