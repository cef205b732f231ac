/*
 * That the driver can fail: right answers, made with the checker, are spoiled in one
 * place after another, and each time it has to be noticed. A spoil that a job has no
 * place for is left out there, but not in all jobs.
 */
#include "right.h"

#include <stdio.h>
#include <string.h>

enum { LEAST_JOBS = 10, MOST_JOBS = 60 };

/* False where the answer has no place for it. */
typedef bool (*Spoil)(const Job *j, cJSON *answer);

static cJSON *in(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static bool put_text(cJSON *object, const char *name, const char *text) {
    return in(object, name) && cJSON_ReplaceItemInObjectCaseSensitive(
                                   object, name, must_have(cJSON_CreateString(text)));
}

static bool put(cJSON *object, const char *name, cJSON *value) {
    if (in(object, name))
        return cJSON_ReplaceItemInObjectCaseSensitive(object, name, value);
    cJSON_Delete(value);
    return false;
}

static bool move_money(const Job *j, cJSON *object, const char *name, long long by) {
    char text[32];
    const cJSON *now = in(object, name);
    if (!cJSON_IsString(now) || minor_of(j, now->valuestring) + by < 0)
        return false;
    money_of(j, minor_of(j, now->valuestring) + by, text, sizeof text);
    return put_text(object, name, text);
}

static cJSON *price(const cJSON *a) { return cJSON_GetArrayItem(in(a, "prices"), 0); }

/* One with an end to move, where there is one. */
static cJSON *weight(const cJSON *a) {
    cJSON *one;
    cJSON_ArrayForEach(one, in(a, "weights")) {
        const cJSON *from = in(one, "from"), *to = in(one, "to");
        if (from && to && (from->valuedouble > 0 || to->valuedouble < 100))
            return one;
    }
    return cJSON_GetArrayItem(in(a, "weights"), 0);
}

static bool move_percent(cJSON *told, const char *name, double by) {
    cJSON *end = in(told, name);
    if (!end || end->valuedouble + by < 0 || end->valuedouble + by > 100)
        return false;
    cJSON_SetNumberValue(end, end->valuedouble + by);
    return true;
}

static bool drop_first(cJSON *list) {
    if (!cJSON_GetArraySize(list))
        return false;
    cJSON_DeleteItemFromArray(list, 0);
    return true;
}

#define SPOIL(name, does)                                                                          \
    static bool name(const Job *j, cJSON *a) {                                                     \
        (void)j;                                                                                   \
        return does;                                                                               \
    }

SPOIL(status, put_text(a, "status", "stopped-early"))
SPOIL(unsettled, put(a, "unsettled", cJSON_CreateTrue()))
SPOIL(best_cost, move_money(j, in(a, "bundle"), "cost", 1))
SPOIL(best_points, put_text(in(a, "bundle"), "points", "0.001"))
SPOIL(best_swaps, drop_first(in(in(a, "bundle"), "swaps")))
SPOIL(no_bundle, put(a, "bundle", cJSON_CreateNull()))
SPOIL(total_from_less, move_money(j, in(a, "budget"), "from", -1))
SPOIL(total_from_more, move_money(j, in(a, "budget"), "from", 1))
SPOIL(total_to_less, move_money(j, in(a, "budget"), "to", -1))
SPOIL(total_to_more, move_money(j, in(a, "budget"), "to", 1))
SPOIL(total_endless,
      cJSON_IsString(in(in(a, "budget"), "to")) && put(in(a, "budget"), "to", cJSON_CreateNull()))
SPOIL(total_ends,
      cJSON_IsNull(in(in(a, "budget"), "to")) &&
          put(in(a, "budget"), "to", cJSON_CreateString(text_of(get(j->json, "budget"), "total"))))
SPOIL(total_open, put(in(a, "budget"), "settled", cJSON_CreateFalse()))
SPOIL(no_budget, put(a, "budget", cJSON_CreateNull()))
SPOIL(price_from_less, move_money(j, price(a), "from", -1))
SPOIL(price_from_more, move_money(j, price(a), "from", 1))
SPOIL(price_to_less, move_money(j, price(a), "to", -1))
SPOIL(price_to_more, move_money(j, price(a), "to", 1))
SPOIL(price_now, move_money(j, price(a), "now", 1))
SPOIL(price_open, put(price(a), "settled", cJSON_CreateFalse()))
SPOIL(price_seller, put_text(price(a), "seller", "nobody"))
SPOIL(price_part, put_text(price(a), "part", "nothing"))
SPOIL(price_left_out, drop_first(in(a, "prices")))
SPOIL(weight_from_less, move_percent(weight(a), "from", -2))
SPOIL(weight_from_more, move_percent(weight(a), "from", 1))
SPOIL(weight_to_less, move_percent(weight(a), "to", -1))
SPOIL(weight_to_more, move_percent(weight(a), "to", 2))
SPOIL(weight_now, move_percent(weight(a), "now_percent", 1))
SPOIL(weight_open, weight(a) && put(weight(a), "settled", cJSON_CreateFalse()))
SPOIL(weight_left_out, drop_first(in(a, "weights")))
SPOIL(weight_of_none, put_text(weight(a), "criterion", "nothing"))
SPOIL(weight_twice, cJSON_GetArraySize(in(a, "weights")) > 1 &&
                        put_text(weight(a), "criterion",
                                 text_of(cJSON_GetArrayItem(in(a, "weights"), 1), "criterion")))

static cJSON *one_case(const cJSON *a, int i) { return cJSON_GetArrayItem(in(a, "cases"), i); }

/* In the first case of which that is told. */
static cJSON *case_with(const cJSON *a, const char *name) {
    cJSON *one;
    cJSON_ArrayForEach(one, in(a, "cases")) if (in(one, name)) return one;
    return NULL;
}

/* Where it stands as `from`, tell `to`. */
static bool misplace(const cJSON *a, const char *from, const char *to) {
    cJSON *one;
    cJSON_ArrayForEach(one, in(a, "cases")) if (!strcmp(text_of(one, "stands"),
                                                        from)) return put_text(one, "stands", to);
    return false;
}

SPOIL(present_status, put_text(in(a, "present"), "status", "nothing-fits"))
SPOIL(present_cost, move_money(j, in(in(a, "present"), "bundle"), "cost", 1))
SPOIL(case_status, put_text(one_case(a, 0), "status", "stopped-early"))
SPOIL(case_value, put_text(one_case(a, 0), "value", "0.001"))
SPOIL(case_less, drop_first(in(a, "cases")))
SPOIL(case_cost, move_money(j, in(case_with(a, "bundle"), "bundle"), "cost", 1))
SPOIL(case_points, put_text(in(case_with(a, "bundle"), "bundle"), "points", "0.001"))
SPOIL(case_swaps, drop_first(in(in(case_with(a, "bundle"), "bundle"), "swaps")))
SPOIL(case_no_bundle, put(case_with(a, "bundle"), "bundle", cJSON_CreateNull()))
SPOIL(best_as_beaten, misplace(a, "best", "beaten"))
SPOIL(beaten_as_best, misplace(a, "beaten", "best"))
SPOIL(dear_as_refused, misplace(a, "dear", "refused"))
SPOIL(dear_as_beaten, misplace(a, "dear", "beaten"))
SPOIL(refused_as_gone, misplace(a, "refused", "gone"))
SPOIL(gone_as_refused, misplace(a, "gone", "refused"))
SPOIL(stands_cost, move_money(j, case_with(a, "stands_cost"), "stands_cost", 1))
SPOIL(stands_points, !strcmp(text_of(case_with(a, "stands_points"), "status"), "optimal") &&
                         put_text(case_with(a, "stands_points"), "stands_points", "0.001"))
SPOIL(swept_other, put_text(a, "swept", "budget.sundries"))
SPOIL(changes_more, cJSON_AddItemToArray(in(a, "changes"), cJSON_CreateObject()))

typedef struct Fault {
    const char *name;
    Spoil spoil;
    bool lenient; /* within 0.02 points it need not be noticed */
    long met, found;
} Fault;

#define FAULT(name)                                                                                \
    { #name, name, false, 0, 0 }
#define LENIENT(name)                                                                              \
    { #name, name, true, 0, 0 }

static void count_fault(Fault *f, bool changed, bool found, long seed, const Talk *t) {
    if (!changed)
        return;
    f->met++;
    f->found += found;
    if (!found && !f->lenient)
        printf("%s: not noticed in job %ld%s\n", f->name, seed, t->why);
}

static void spoil_ranges(Job *j, long seed, const cJSON *right, Fault *f) {
    cJSON *copy = must_have(cJSON_Duplicate(right, true));
    bool changed = f->spoil(j, copy) && !cJSON_Compare(copy, right, true);
    j->t->why[0] = '\0';
    count_fault(f, changed, changed && !judge_ranges(j, copy, 0, NULL, 0), seed, j->t);
    cJSON_Delete(copy);
}

static void spoil_whatif(Job *j, long seed, const Sets *sets, const cJSON *right, Fault *f) {
    cJSON *copy = must_have(cJSON_Duplicate(right, true));
    bool changed = f->spoil(j, copy) && !cJSON_Compare(copy, right, true);
    j->t->why[0] = '\0';
    count_fault(f, changed, changed && !judge_whatif(j, sets, copy, 0), seed, j->t);
    cJSON_Delete(copy);
}

static bool is_tried(const Fault *f, int n) {
    for (int i = 0; i < n; i++)
        if (!f[i].met || (f[i].lenient && !f[i].found))
            return false;
    return true;
}

static long sum_up(const Fault *f, int n, long *passed) {
    long failed = 0;
    for (int i = 0; i < n; i++) {
        bool good = f[i].met > 0 && (f[i].lenient ? f[i].found > 0 : f[i].found == f[i].met);
        if (!f[i].met || (f[i].lenient && !f[i].found))
            printf("%s: %s in no job\n", f[i].name, f[i].met ? "noticed" : "met");
        *passed += good;
        failed += !good;
    }
    return failed;
}

/* A sweep that, over all jobs, lets the best bundle stand in every way there is. */
static Sets one_sweep(const cJSON *ranges, long seed) {
    static const char *const each[] = {"0", "40", "9000"};
    Sets sets = {.n = 1};
    Set *set = &sets.at[0];
    const cJSON *swap = cJSON_GetArrayItem(in(in(ranges, "bundle"), "swaps"), 0);
    const cJSON *bought = cJSON_GetArrayItem(in(swap, "in"), 0);
    if (seed % 3 == 0 && bought && strcmp(text_of(bought, "seller"), "client") != 0)
        snprintf(set->path, WORD, "quotes.%s.stock", text_of(bought, "part"));
    else
        snprintf(set->path, WORD, seed % 3 == 1 ? "wishes.limits.bench_minutes" : "budget.total");
    snprintf(set->value, WORD, "0,40,9000");
    for (; set->values < 3; set->values++)
        snprintf(set->each[set->values], WORD, "%s", each[set->values]);
    return sets;
}

/* Weights in whole percents. */
static void weigh_evenly(Job *j) {
    static const double shares[][4] = {{100}, {60, 40}, {50, 30, 20}, {40, 30, 20, 10}};
    cJSON *swings = in(in(j->json, "wishes"), "swings"), *one;
    int n = cJSON_GetArraySize(swings), i = 0;
    cJSON_ArrayForEach(one, swings) if (n <= 4) cJSON_SetNumberValue(one, shares[n - 1][i++]);
    write_tree(j->scenario, j->json);
}

static Fault ranges_faults[] = {FAULT(status),
                                FAULT(unsettled),
                                FAULT(best_cost),
                                FAULT(best_points),
                                FAULT(best_swaps),
                                FAULT(no_bundle),
                                FAULT(total_from_less),
                                FAULT(total_from_more),
                                FAULT(total_to_less),
                                FAULT(total_to_more),
                                FAULT(total_endless),
                                FAULT(total_ends),
                                FAULT(total_open),
                                FAULT(no_budget),
                                FAULT(price_from_less),
                                FAULT(price_from_more),
                                FAULT(price_to_less),
                                FAULT(price_to_more),
                                FAULT(price_now),
                                FAULT(price_open),
                                FAULT(price_seller),
                                FAULT(price_part),
                                FAULT(price_left_out),
                                LENIENT(weight_from_less),
                                LENIENT(weight_from_more),
                                LENIENT(weight_to_less),
                                LENIENT(weight_to_more),
                                FAULT(weight_now),
                                FAULT(weight_open),
                                FAULT(weight_left_out),
                                FAULT(weight_of_none),
                                FAULT(weight_twice)};

static Fault whatif_faults[] = {
    FAULT(present_status), FAULT(present_cost),    FAULT(case_status),     FAULT(case_value),
    FAULT(case_less),      FAULT(case_cost),       FAULT(case_points),     FAULT(case_swaps),
    FAULT(case_no_bundle), FAULT(best_as_beaten),  FAULT(beaten_as_best),  FAULT(dear_as_refused),
    FAULT(dear_as_beaten), FAULT(refused_as_gone), FAULT(gone_as_refused), FAULT(stands_cost),
    FAULT(stands_points),  FAULT(swept_other),     FAULT(changes_more)};

enum {
    RANGES = sizeof ranges_faults / sizeof *ranges_faults,
    WHATIF = sizeof whatif_faults / sizeof *whatif_faults
};

static bool all_tried(void) {
    return is_tried(ranges_faults, RANGES) && is_tried(whatif_faults, WHATIF);
}

/* Whether the answers stand as long as nothing is spoiled. */
static bool spoil_all(Job *j, long seed, const cJSON *right) {
    Sets sets = one_sweep(right, seed);
    cJSON *answer = right_whatif(j, &sets);
    bool good = judge_ranges(j, right, 0, NULL, 0) && judge_whatif(j, &sets, answer, 0);
    if (!good)
        printf("job %ld, nothing spoiled: %s\n", seed, j->t->why);
    for (int i = 0; good && i < RANGES; i++)
        spoil_ranges(j, seed, right, &ranges_faults[i]);
    for (int i = 0; good && i < WHATIF; i++)
        spoil_whatif(j, seed, &sets, answer, &whatif_faults[i]);
    cJSON_Delete(answer);
    return good;
}

int check_faults(const Setup *s) {
    static char why[4096];
    long passed = 0, failed = 0;
    Setup alone = *s;
    Tally tally = {0};
    alone.program = NULL;
    for (long seed = 1, jobs = 0; jobs < MOST_JOBS && seed < 1000; seed++) {
        Talk t = {why, sizeof why};
        Job j = {.s = &alone, .t = &t, .tally = &tally};
        if (jobs >= LEAST_JOBS && all_tried())
            break;
        why[0] = '\0';
        if (!open_job(&j, seed))
            give_up("the generator");
        weigh_evenly(&j);
        cJSON *right = right_ranges(&j);
        if (right) {
            jobs++;
            *(spoil_all(&j, seed, right) ? &passed : &failed) += 1;
        }
        cJSON_Delete(right);
        close_job(&j);
    }
    failed += sum_up(ranges_faults, RANGES, &passed) + sum_up(whatif_faults, WHATIF, &passed);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}
