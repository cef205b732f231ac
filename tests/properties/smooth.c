/*
 * A thousandth more of a fact moves no rate, level or measure far. The bounds:
 *
 *   a rate, a measure     E x 0.001 / x of itself, x the fact (at least 0.1), E how many times
 *                         faster than the fact it may go: 8 for the shipped data (the steepest
 *                         there is n^5 of n = heat^1.25), 60 for drawn expressions, in which
 *                         powers stand over powers; a measure 0.005 of its unit more, for what
 *                         is the difference of large numbers
 *   beside that           0.2 percent (drawn: 3) where derived facts are made of the fact: they
 *                         are rounded to thousandths
 *   the level             one step of the grid of half decibels (N), 0.02 dB more at the seat
 *   loudness              what that is in sones at that level
 *   a source              1 of the whole number P_r, and E x 0.001 / x of it, or what a thousandth
 * of a dB is of a power where the fact is a level a measure of sound    0.51, or 15 percent
 *
 * Not tried: counts (facts without a unit); 0 where it says that there is none; measures of
 * formulas and derived facts of tables that go by steps; a measure's state where a table's row may
 * end.
 */
#include "trial.h"
#include "steps.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double step = 0.001, last_digit = 1e-6; /* as answers are told */
static const double a_level = 0.00024; /* of a power, for a thousandth of a dB: ln 10 / 10 of it */

typedef struct Reach {
    Run *run;
    double relative; /* that an answer may move by, for its size */
    char *wrong;
    size_t size;
} Reach;

static void complain(Reach *reach, const char *what, double now, double then) {
    snprintf(reach->wrong, reach->size, "%s: %.12g, then %.12g", what, now, then);
}

static void keep_within(Reach *reach, const char *what, double now, double then, double bound) {
    if (!(fabs(then - now) <= bound + last_digit))
        complain(reach, what, now, then);
}

/* Remembers how much of the bound was needed. */
static void hold(Reach *reach, const char *what, double now, double then, double bound) {
    keep_within(reach, what, now, then, bound);
    reach->run->widest = fmax(reach->run->widest, fabs(then - now) / (bound + last_digit));
}

/* ---- rates ---- */

static void hold_rates(Reach *reach, const cJSON *before, const cJSON *after) {
    const cJSON *use, *stage;
    int u = 0;
    cJSON_ArrayForEach(use, member(before, "uses")) {
        const cJSON *then = cJSON_GetArrayItem(member(after, "uses"), u++);
        int s = 0;
        if (use_has_steps(&reach->run->job, text_of(use, "use")))
            continue;
        cJSON_ArrayForEach(stage, member(use, "stages")) {
            double rate = number_of(stage, "rate", NAN);
            double now = number_of(cJSON_GetArrayItem(member(then, "stages"), s++), "rate", NAN);
            hold(reach, text_of(stage, "stage"), rate, now, reach->relative * rate);
        }
    }
}

/* ---- sound ---- */

static double power_of(double level_db) {
    return isfinite(level_db) ? 10 * pow(10, level_db / 10) : 0;
}

static double source_power(const cJSON *answer, const char *role) {
    const cJSON *one;
    cJSON_ArrayForEach(one, member(member(answer, "sound"), "sources")) {
        if (strcmp(text_of(one, "role"), role) == 0)
            return power_of(number_of(one, "level_db", NAN));
    }
    return 0;
}

static void hold_sources(Reach *reach, const cJSON *before, const cJSON *after) {
    const cJSON *one;
    cJSON_ArrayForEach(one, member(member(after, "sound"), "sources")) {
        const char *role = text_of(one, "role");
        double power = source_power(before, role), then = source_power(after, role);
        keep_within(reach, role, power, then, 1.001 + fmax(reach->relative, a_level) * power);
    }
}

/* Sones for a decibel: ln 2 / 10 of itself from 40 phon up, 2.642 / L below. */
static double sone_bound(double level, double sone, double decibels) {
    return sone * (exp(fmax(0.0694, 2.642 / fmax(level - decibels, 1)) * decibels) - 1) + 1e-9;
}

static void hold_levels(Reach *reach, const cJSON *before, const cJSON *after) {
    double seat = level_in(before, "seat_dba"), then = level_in(after, "seat_dba");
    double sone = level_in(before, "seat_sone");
    if (quiet_of(&reach->run->job) == NULL)
        return;
    keep_within(reach, "machine_dba", level_in(before, "machine_dba"),
                level_in(after, "machine_dba"), 0.5 + 1e-6);
    keep_within(reach, "seat_dba", seat, then, 0.52);
    if (fmin(seat, then) > 5)
        keep_within(reach, "seat_sone", sone, level_in(after, "seat_sone"),
                    sone_bound(fmin(seat, then), sone, 0.52));
    hold_sources(reach, before, after);
}

/* ---- measures ---- */

static void hold_measure(Reach *reach, const cJSON *now, const cJSON *then) {
    static const char *const ends[] = {"low", "value", "high"};
    const char *id = text_of(now, "measure"), *state = text_of(now, "state");
    Steps steps = steps_of_measure(&reach->run->job, id);
    if (steps.leaps)
        return;
    if (strcmp(state, text_of(then, "state")) != 0) {
        if (!steps.rows)
            snprintf(reach->wrong, reach->size, "%s: %s, then %s", id, state,
                     text_of(then, "state"));
        return;
    }
    if (strcmp(state, "known") != 0)
        return;
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        double value = number_of(now, ends[i], NAN);
        double bound =
            steps.sound ? fmax(0.51, 0.15 * fabs(value)) : 0.005 + reach->relative * fabs(value);
        hold(reach, id, value, number_of(then, ends[i], NAN), bound);
    }
}

static void hold_measures(Reach *reach, const cJSON *before, const cJSON *after) {
    const cJSON *now;
    int at = 0;
    cJSON_ArrayForEach(now, member(before, "measures"))
        hold_measure(reach, now, cJSON_GetArrayItem(member(after, "measures"), at++));
}

/* ---- one trial ---- */

/* FORMATS.md, section 10. */
static double most_of_room(const char *field) {
    if (strcmp(field, "temperature_c") == 0)
        return 45;
    return strcmp(field, "distance_m") == 0 ? 10 : 150;
}

/* What was stated of the room is a fact as well. */
static void list_room(Numbers *numbers, const Job *job) {
    const cJSON *field;
    cJSON_ArrayForEach(field, member(scenario_of(job), "room")) {
        if (!cJSON_IsNumber(field) || strcmp(field->string, "machine_dba") == 0)
            continue;
        numbers->all = grown(numbers->all, (numbers->count + 1) * sizeof *numbers->all);
        numbers->all[numbers->count++] = (Number){.fact = field->string,
                                                  .thing = -1,
                                                  .value = field->valuedouble,
                                                  .most = most_of_room(field->string)};
    }
}

/* Three times in four a number that something told reads. */
static bool draw_smooth(Run *run, Number *drawn) {
    Numbers numbers;
    uint64_t seen = 0;
    bool any = below(run, 4) == 0;
    list_numbers(&numbers, &run->job);
    list_room(&numbers, &run->job);
    for (size_t i = 0; i < numbers.count; i++) {
        const Number *one = &numbers.all[i];
        bool wanted = one->role == NULL || one->thing >= 0 || is_smooth(&run->job, one);
        wanted = wanted && (any || one->role == NULL || is_told(&run->job, one));
        if (wanted && one->value + step <= one->most && below(run, ++seen) == 0)
            *drawn = *one;
    }
    free(numbers.all);
    return seen > 0;
}

static void set_anywhere(Job *copy, const Number *number, double value) {
    if (number->role != NULL)
        set_number(copy, number, value);
    else
        cJSON_SetNumberValue(member(member(scenario_of(copy), "room"), number->fact), value);
}

static double reach_of(const Run *run, const Number *number) {
    double relative = (run->drawn ? 60 : 8) * step / fmax(fabs(number->value), 0.1);
    bool derived = number->role != NULL && feeds_derived(&run->job, number->role, number->fact);
    return relative + (derived ? (run->drawn ? 0.03 : 0.002) : 1e-9);
}

void try_smooth(Run *run) {
    Number number;
    char wrong[320] = "";
    Pair pair;
    if (!draw_smooth(run, &number))
        return;
    Reach reach = {run, reach_of(run, &number), wrong, 200};
    double more = round((number.value + step) * 1000) / 1000;
    start_pair(run, &pair);
    take_measurements_out(&pair.copy);
    pair.before = ask(run, SMOOTH, LOOK, &pair.copy);
    set_anywhere(&pair.copy, &number, more);
    if (pair.before != NULL && (pair.after = ask_again(run, SMOOTH, LOOK, &pair.copy)) != NULL) {
        hold_rates(&reach, pair.before, pair.after);
        hold_levels(&reach, pair.before, pair.after);
        hold_measures(&reach, pair.before, pair.after);
        say_change(wrong, sizeof wrong, &number, more);
        tell(run, SMOOTH, wrong, !cJSON_Compare(pair.before, pair.after, true));
    }
    end_pair(&pair);
}
