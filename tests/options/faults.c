/*
 * That the driver can fail: right answers, made with the checker, are spoiled in one place
 * after another, and each time it has to be noticed. A spoil that a job has no place for is
 * left out there, but not in all jobs.
 */
#include "options.h"

#include <stdio.h>
#include <string.h>

enum { LEAST_JOBS = 20, MOST_JOBS = 150 };

/* False where the answer has no place for it. */
typedef bool (*Spoil)(cJSON *answer);

static cJSON *in(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static cJSON *at(const cJSON *list, int i) { return cJSON_GetArrayItem(list, i); }

static bool put(cJSON *object, const char *name, cJSON *value) {
    if (in(object, name))
        return cJSON_ReplaceItemInObjectCaseSensitive(object, name, must_have(value));
    cJSON_Delete(value);
    return false;
}

static bool put_text(cJSON *object, const char *name, const char *text) {
    return put(object, name, cJSON_CreateString(text));
}

/* The last digit of a number told as a text becomes another. */
static bool turn_digit(cJSON *object, const char *name) {
    const cJSON *now = in(object, name);
    char text[64];
    if (!cJSON_IsString(now) || !*now->valuestring)
        return false;
    snprintf(text, sizeof text, "%s", now->valuestring);
    char *last = text + strlen(text) - 1;
    *last = *last == '9' ? '7' : (char)(*last + 1 + (*last < '8'));
    return put_text(object, name, text);
}

static bool turn(cJSON *object, const char *name) {
    const cJSON *now = in(object, name);
    return cJSON_IsBool(now) && put(object, name, cJSON_CreateBool(!cJSON_IsTrue(now)));
}

static bool drop_first(cJSON *list) {
    if (!cJSON_GetArraySize(list))
        return false;
    cJSON_DeleteItemFromArray(list, 0);
    return true;
}

static bool add_text(cJSON *list, const char *text) {
    return list && cJSON_AddItemToArray(list, must_have(cJSON_CreateString(text)));
}

/* Is null, becomes a text; or the other way round. */
static bool becomes_some(cJSON *object, const char *name, const char *text) {
    return cJSON_IsNull(in(object, name)) && put_text(object, name, text);
}

static bool becomes_none(cJSON *object, const char *name) {
    return in(object, name) && !cJSON_IsNull(in(object, name)) &&
           put(object, name, cJSON_CreateNull());
}

static bool add_to(cJSON *object, const char *name, double by) {
    cJSON *now = in(object, name);
    if (!cJSON_IsNumber(now))
        return false;
    cJSON_SetNumberValue(now, now->valuedouble + by);
    return true;
}

/* The first element whose member is this; NULL where none is. */
static cJSON *with(const cJSON *list, const char *name, const char *value) {
    cJSON *item;
    cJSON_ArrayForEach(item, list) if (!strcmp(text_of(item, name), value)) return item;
    return NULL;
}

static cJSON *option(const cJSON *a, const char *name) {
    return with(in(a, "options"), "option", name);
}

/* The first option that has something in that list. */
static cJSON *option_that(const cJSON *a, const char *list) {
    cJSON *item;
    cJSON_ArrayForEach(item,
                       in(a, "options")) if (cJSON_GetArraySize(in(item, list)) > 0) return item;
    return NULL;
}

static cJSON *steps(const cJSON *a) { return in(in(a, "curve"), "steps"); }

static cJSON *step_of_option(const cJSON *a, bool is_one) {
    cJSON *step;
    cJSON_ArrayForEach(step,
                       steps(a)) if (cJSON_IsNumber(in(step, "option")) == is_one) return step;
    return NULL;
}

static cJSON *complaint_with(const cJSON *a, bool shows, int affordable) {
    cJSON *one;
    cJSON_ArrayForEach(one, in(a, "complaints")) {
        bool can = cJSON_IsTrue(in(one, "ended_within_budget"));
        if (cJSON_IsTrue(in(one, "shows")) == shows && (affordable < 0 || can == (affordable > 0)))
            return one;
    }
    return NULL;
}

static cJSON *step_told(const cJSON *a) {
    cJSON *item;
    cJSON_ArrayForEach(item, in(a, "options")) if (cJSON_IsObject(in(item, "next_step"))) return in(
        item, "next_step");
    return NULL;
}

static cJSON *parts_given_up(const cJSON *a) {
    cJSON *item, *up;
    cJSON_ArrayForEach(item, in(a, "options")) cJSON_ArrayForEach(
        up, in(item, "given_up")) if (cJSON_GetArraySize(in(up, "parts")) > 0) return up;
    return NULL;
}

static cJSON *bought(const cJSON *a) {
    cJSON *item, *swap;
    cJSON_ArrayForEach(item, in(a, "options")) cJSON_ArrayForEach(
        swap, in(in(item, "bundle"), "swaps")) if (cJSON_GetArraySize(in(swap, "in")) >
                                                   0) return at(in(swap, "in"), 0);
    return NULL;
}

static cJSON *promise(const cJSON *a) { return at(in(option_that(a, "promised"), "promised"), 0); }

static bool swap_first_two(cJSON *list) {
    if (cJSON_GetArraySize(list) < 2)
        return false;
    cJSON *second = cJSON_DetachItemFromArray(list, 1);
    return cJSON_InsertItemInArray(list, 0, second);
}

/* What luck may bring, told as if it were promised. */
static bool promise_luck(cJSON *a) {
    cJSON *one;
    cJSON_ArrayForEach(one, in(a, "options")) {
        const cJSON *rates = in(in(one, "bundle"), "rates");
        for (int i = 0; i < cJSON_GetArraySize(rates); i++)
            if (strcmp(text_of(at(rates, i), "ratio"),
                       text_of(at(in(one, "promised"), i), "ratio")) != 0)
                return put_text(at(in(one, "promised"), i), "ratio",
                                text_of(at(rates, i), "ratio"));
    }
    return false;
}

static cJSON *measured(const cJSON *a) {
    cJSON *rate;
    cJSON_ArrayForEach(rate, in(option(a, "full"), "promised")) if (in(rate, "rate")) return rate;
    return NULL;
}

/* Middle stays where it was although the nested one should take its place. */
static bool keep_middle(cJSON *a) {
    cJSON *middle = option(a, "middle");
    return !strcmp(text_of(middle, "rule"), "nested-bend") && put_text(middle, "rule", "bend");
}

static bool drop_option(cJSON *a, const char *name) {
    int n = cJSON_GetArraySize(in(a, "options"));
    for (int i = 0; i < n; i++)
        if (!strcmp(text_of(at(in(a, "options"), i), "option"), name)) {
            cJSON_DeleteItemFromArray(in(a, "options"), i);
            return true;
        }
    return false;
}

static bool full_as_first(cJSON *a) {
    cJSON *list = in(a, "options");
    if (cJSON_GetArraySize(list) != 1)
        return false;
    cJSON *copy = must_have(cJSON_Duplicate(at(list, 0), true));
    put_text(copy, "option", "first");
    put_text(copy, "rule", "best-rate");
    return cJSON_InsertItemInArray(list, 0, copy);
}

#define SPOIL(name, does)                                                                          \
    static bool name(cJSON *a) { return does; }

SPOIL(status, put_text(a, "status", "stopped-early"))
SPOIL(unsettled, turn(a, "unsettled"))
SPOIL(to_spend, turn_digit(a, "budget"))
SPOIL(valid_until, turn_digit(a, "valid_until"))
SPOIL(curve_to, turn_digit(in(a, "curve"), "to"))
SPOIL(curve_open, turn(in(a, "curve"), "proved"))
SPOIL(step_less, drop_first(steps(a)))
SPOIL(step_cost, turn_digit(at(steps(a), 0), "cost"))
SPOIL(step_points, turn_digit(at(steps(a), 0), "points"))
SPOIL(step_sones, turn_digit(at(steps(a), 0), "loudness_sone"))
SPOIL(step_level, turn_digit(at(steps(a), 0), "level_dba"))
SPOIL(step_no_option, becomes_none(step_of_option(a, true), "option"))
SPOIL(step_an_option, put(step_of_option(a, false), "option", cJSON_CreateNumber(1)))
SPOIL(step_other_option,
      cJSON_GetArraySize(in(a, "options")) > 1 &&
          add_to(step_of_option(a, true), "option",
                 in(step_of_option(a, true), "option")->valuedouble > 1 ? -1 : 1))
SPOIL(knee_none, becomes_none(a, "knee"))
SPOIL(knee_cost, turn_digit(in(a, "knee"), "cost"))
SPOIL(knee_points, turn_digit(in(a, "knee"), "points"))
SPOIL(complaint_less, drop_first(in(a, "complaints")))
SPOIL(complaint_order, swap_first_two(in(a, "complaints")))
SPOIL(complaint_use, put_text(at(in(a, "complaints"), 0), "use", "use-9"))
SPOIL(complaint_hidden, turn(complaint_with(a, true, -1), "shows"))
SPOIL(complaint_shown, turn(complaint_with(a, false, -1), "shows"))
SPOIL(complaint_dear, turn(complaint_with(a, true, 1), "ended_within_budget"))
SPOIL(complaint_cheap, turn(complaint_with(a, true, 0), "ended_within_budget"))
SPOIL(complaint_unasked, becomes_none(complaint_with(a, true, -1), "ended_within_budget"))
SPOIL(costs_other, turn_digit(complaint_with(a, true, 0), "costs_at_least"))
SPOIL(costs_none, becomes_none(complaint_with(a, true, 0), "costs_at_least"))
SPOIL(costs_some, becomes_some(complaint_with(a, true, 0), "costs_at_least", "1"))
SPOIL(first_left_out, drop_option(a, "first"))
SPOIL(middle_left_out, drop_option(a, "middle"))
SPOIL(full_left_out, drop_option(a, "full"))
SPOIL(full_twice, full_as_first(a))
SPOIL(ends_as_rate, put_text(with(in(a, "options"), "rule", "ends-complaint"), "rule", "best-rate"))
SPOIL(rate_as_ends, put_text(with(in(a, "options"), "rule", "best-rate"), "rule", "ends-complaint"))
SPOIL(kept_as_rate, put_text(with(in(a, "options"), "rule", "keeps-money"), "rule", "best-rate"))
SPOIL(bend_as_nested, put_text(with(in(a, "options"), "rule", "bend"), "rule", "nested-bend"))
SPOIL(nested_as_bend, keep_middle(a))
SPOIL(first_complaint, put_text(with(in(a, "options"), "rule", "ends-complaint"), "complaint", "x"))
SPOIL(first_no_complaint,
      becomes_none(with(in(a, "options"), "rule", "ends-complaint"), "complaint"))
SPOIL(full_complaint, becomes_some(option(a, "full"), "complaint", "slow"))
SPOIL(option_open, turn(at(in(a, "options"), 0), "proved"))
SPOIL(first_cost, turn_digit(in(option(a, "first"), "bundle"), "cost"))
SPOIL(first_points, turn_digit(in(option(a, "first"), "bundle"), "points"))
SPOIL(first_swaps, drop_first(in(in(option(a, "first"), "bundle"), "swaps")))
SPOIL(middle_cost, turn_digit(in(option(a, "middle"), "bundle"), "cost"))
SPOIL(middle_swaps, drop_first(in(in(option(a, "middle"), "bundle"), "swaps")))
SPOIL(full_points, turn_digit(in(option(a, "full"), "bundle"), "points"))
SPOIL(full_tasks, drop_first(in(in(option(a, "full"), "bundle"), "tasks")))
SPOIL(bought_part, put_text(bought(a), "part", "nothing"))
SPOIL(bought_seller, put_text(bought(a), "seller", "nobody"))
SPOIL(bought_count, add_to(bought(a), "count", 1))
SPOIL(ends_less, drop_first(in(option_that(a, "ends"), "ends")))
SPOIL(ends_more, add_text(in(option(a, "full"), "ends"), "nothing"))
SPOIL(promise_less, drop_first(in(option_that(a, "promised"), "promised")))
SPOIL(promise_use, put_text(promise(a), "use", "use-9"))
SPOIL(promise_ratio, turn_digit(promise(a), "ratio"))
SPOIL(promise_ratio_low, turn_digit(promise(a), "ratio_low"))
SPOIL(promise_ratio_high, turn_digit(promise(a), "ratio_high"))
SPOIL(promise_now, turn_digit(measured(a), "rate_now"))
SPOIL(promise_rate, turn_digit(measured(a), "rate"))
SPOIL(promise_low, turn_digit(measured(a), "low"))
SPOIL(promise_high, turn_digit(measured(a), "high"))
SPOIL(luck_not, turn(option(a, "full"), "chance"))
SPOIL(luck_ratio, turn_digit(at(in(in(option(a, "full"), "bundle"), "rates"), 0), "ratio"))
SPOIL(promise_of_luck, promise_luck(a))
SPOIL(days_more, add_to(option(a, "full"), "days_without", 1))
SPOIL(days_less, add_to(option(a, "full"), "days_without", -1))
SPOIL(next_none, becomes_none(at(in(a, "options"), 0), "next_step"))
SPOIL(next_cost, turn_digit(step_told(a), "cost"))
SPOIL(next_points, turn_digit(step_told(a), "points"))
SPOIL(next_more_cost, turn_digit(step_told(a), "more_cost"))
SPOIL(next_more_points, turn_digit(step_told(a), "more_points"))
SPOIL(hundred_none, becomes_none(option(a, "full"), "next_hundred"))
SPOIL(hundred_cost, turn_digit(in(option(a, "full"), "next_hundred"), "cost"))
SPOIL(hundred_points, turn_digit(in(option(a, "full"), "next_hundred"), "points"))
SPOIL(hundred_more, turn_digit(in(option(a, "full"), "next_hundred"), "more_points"))
SPOIL(asks_less, drop_first(in(option_that(a, "asks"), "asks")))
SPOIL(asks_more, add_text(in(option(a, "full"), "asks"), "nothing"))
SPOIL(hazards_less, drop_first(in(option_that(a, "hazards"), "hazards")))
SPOIL(hazards_more, add_text(in(option(a, "full"), "hazards"), "nothing"))
SPOIL(given_up_to, put_text(at(in(option_that(a, "given_up"), "given_up"), 0), "to", "nothing"))
SPOIL(given_up_less, drop_first(in(parts_given_up(a), "parts")))
SPOIL(given_up_sum, turn_digit(parts_given_up(a), "price"))
SPOIL(given_up_price, turn_digit(at(in(parts_given_up(a), "parts"), 0), "price"))
SPOIL(given_up_count, add_to(at(in(parts_given_up(a), "parts"), 0), "count", 1))
SPOIL(given_up_part, put_text(at(in(parts_given_up(a), "parts"), 0), "part", "nothing"))
SPOIL(given_up_not, drop_first(in(option_that(a, "given_up"), "given_up")))
SPOIL(nesting_none, becomes_none(a, "nesting"))
SPOIL(nesting_lost, turn_digit(in(a, "nesting"), "points_lost"))
SPOIL(nesting_taken, turn(in(a, "nesting"), "taken"))
SPOIL(nesting_cost, turn_digit(in(in(a, "nesting"), "bundle"), "cost"))
SPOIL(nesting_swaps, drop_first(in(in(in(a, "nesting"), "bundle"), "swaps")))

typedef struct Fault {
    const char *name;
    Spoil spoil;
    long met, found;
} Fault;

#define FAULT(name)                                                                                \
    { #name, name, 0, 0 }

/* Whether it is found in this job, if it has a place for it. */
static void spoil_one(Fault *f, long seed, const cJSON *oracle, int code, const cJSON *right) {
    static char why[4096];
    Talk t = {why, sizeof why};
    cJSON *copy = must_have(cJSON_Duplicate(right, true));
    if (f->spoil(copy) && !cJSON_Compare(copy, right, true)) {
        bool found = !same_options(&t, oracle, code, copy, code);
        f->met++;
        f->found += found;
        if (!found)
            printf("%s: not noticed in job %ld\n", f->name, seed);
    }
    cJSON_Delete(copy);
}

static bool all_met(const Fault *f, size_t n) {
    for (size_t i = 0; i < n; i++)
        if (!f[i].met)
            return false;
    return true;
}

/* Whether the answer stands as long as nothing is spoiled, and not with another exit code. */
static bool stands(long seed, const cJSON *oracle, int code, const cJSON *right) {
    static char why[4096];
    Talk t = {why, sizeof why};
    if (!same_options(&t, oracle, code, right, code)) {
        printf("job %ld, nothing spoiled: %s\n", seed, why);
        return false;
    }
    if (!same_options(&t, oracle, code, right, 2))
        return true;
    printf("job %ld: another exit code is not noticed\n", seed);
    return false;
}

int check_faults(const Setup *s) {
    static char why[4096];
    Fault fault[] = {FAULT(status),
                     FAULT(unsettled),
                     FAULT(to_spend),
                     FAULT(valid_until),
                     FAULT(curve_to),
                     FAULT(curve_open),
                     FAULT(step_less),
                     FAULT(step_cost),
                     FAULT(step_points),
                     FAULT(step_sones),
                     FAULT(step_level),
                     FAULT(step_no_option),
                     FAULT(step_an_option),
                     FAULT(step_other_option),
                     FAULT(knee_none),
                     FAULT(knee_cost),
                     FAULT(knee_points),
                     FAULT(complaint_less),
                     FAULT(complaint_order),
                     FAULT(complaint_use),
                     FAULT(complaint_hidden),
                     FAULT(complaint_shown),
                     FAULT(complaint_dear),
                     FAULT(complaint_cheap),
                     FAULT(complaint_unasked),
                     FAULT(costs_other),
                     FAULT(costs_none),
                     FAULT(costs_some),
                     FAULT(first_left_out),
                     FAULT(middle_left_out),
                     FAULT(full_left_out),
                     FAULT(full_twice),
                     FAULT(ends_as_rate),
                     FAULT(rate_as_ends),
                     FAULT(kept_as_rate),
                     FAULT(bend_as_nested),
                     FAULT(nested_as_bend),
                     FAULT(first_complaint),
                     FAULT(first_no_complaint),
                     FAULT(full_complaint),
                     FAULT(option_open),
                     FAULT(first_cost),
                     FAULT(first_points),
                     FAULT(first_swaps),
                     FAULT(middle_cost),
                     FAULT(middle_swaps),
                     FAULT(full_points),
                     FAULT(full_tasks),
                     FAULT(bought_part),
                     FAULT(bought_seller),
                     FAULT(bought_count),
                     FAULT(ends_less),
                     FAULT(ends_more),
                     FAULT(promise_less),
                     FAULT(promise_use),
                     FAULT(promise_now),
                     FAULT(promise_rate),
                     FAULT(promise_low),
                     FAULT(promise_high),
                     FAULT(promise_of_luck),
                     FAULT(promise_ratio),
                     FAULT(promise_ratio_low),
                     FAULT(promise_ratio_high),
                     FAULT(luck_not),
                     FAULT(luck_ratio),
                     FAULT(days_more),
                     FAULT(days_less),
                     FAULT(next_none),
                     FAULT(next_cost),
                     FAULT(next_points),
                     FAULT(next_more_cost),
                     FAULT(next_more_points),
                     FAULT(hundred_none),
                     FAULT(hundred_cost),
                     FAULT(hundred_points),
                     FAULT(hundred_more),
                     FAULT(asks_less),
                     FAULT(asks_more),
                     FAULT(hazards_less),
                     FAULT(hazards_more),
                     FAULT(given_up_to),
                     FAULT(given_up_less),
                     FAULT(given_up_sum),
                     FAULT(given_up_price),
                     FAULT(given_up_count),
                     FAULT(given_up_part),
                     FAULT(given_up_not),
                     FAULT(nesting_none),
                     FAULT(nesting_lost),
                     FAULT(nesting_taken),
                     FAULT(nesting_cost),
                     FAULT(nesting_swaps)};
    const size_t n = sizeof fault / sizeof *fault;
    long passed = 0, failed = 0;
    for (long seed = 1; seed <= MOST_JOBS && (seed <= LEAST_JOBS || !all_met(fault, n)); seed++) {
        char scenario[2048];
        Talk t = {why, sizeof why};
        int code = 0;
        cJSON *oracle = draw_job(s, seed, scenario, sizeof scenario, &t)
                            ? ask_checker(s, scenario, &code, &t)
                            : NULL;
        if (!oracle)
            give_up(why);
        cJSON *right = right_answer(oracle);
        bool good = stands(seed, oracle, code, right);
        *(good ? &passed : &failed) += 1;
        for (size_t i = 0; good && i < n; i++)
            spoil_one(&fault[i], seed, oracle, code, right);
        cJSON_Delete(right);
        cJSON_Delete(oracle);
    }
    for (size_t i = 0; i < n; i++) {
        bool good = fault[i].met > 0 && fault[i].found == fault[i].met;
        if (!fault[i].met)
            printf("%s: met in no job\n", fault[i].name);
        *(good ? &passed : &failed) += 1;
    }
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}
