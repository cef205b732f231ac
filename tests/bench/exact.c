/*
 * bench-exact SCENARIO SEED BUDGETS CBC-BUDGETS SECONDS [--spoil]: the curve against other solvers
 * at random budgets: GLPK, which must give the very points and cost, and CBC, whose points must
 * round to the curve's. Each solve may take SECONDS, the curve ten times that. A curve that is not
 * proved, and a solve that does not end, count as failed. Ends with "N passed, N failed".
 *
 * Budgets are drawn over the costs of the curve and a little beyond its end; of every three one
 * stands right at a step, and one a minor unit below. With --spoil every step of the curve gets a
 * thousandth of a point too many first: then all must fail.
 */
#include "measure.h"

#include <stdlib.h>
#include <string.h>

typedef struct count {
    int passed, failed;
} count;

static uint64_t state;

static uint64_t draw(uint64_t below) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return state % below;
}

static int compare(const void *a, const void *b) {
    int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
    return (x > y) - (x < y);
}

static int64_t *draw_budgets(const bench_curve *curve, size_t wanted) {
    int64_t *budgets = calloc(wanted + 1, sizeof *budgets);
    int64_t first = curve->steps[0].cost, last = curve->steps[curve->count - 1].cost;
    for (size_t i = 0; i < wanted && budgets != NULL; i++) {
        int64_t step = curve->steps[draw(curve->count)].cost;
        if (i % 3 == 0)
            budgets[i] = step;
        else if (i % 3 == 1 && step > first)
            budgets[i] = step - 1;
        else
            budgets[i] = first + (int64_t)draw((uint64_t)((last - first) * 11 / 10 + 1));
    }
    if (budgets != NULL)
        qsort(budgets, wanted, sizeof *budgets, compare);
    return budgets;
}

static void fail(count *c, const char *scenario, int64_t budget, const char *what) {
    printf("FAILED %s at %lld: %s\n", scenario, (long long)budget, what);
    c->failed++;
}

static void against_linear(count *c, const char *scenario, const bench_curve *curve,
                           const int64_t *budgets, size_t wanted, double seconds) {
    bench_answers answers;
    bench_sweep sweep = {.scenario = scenario,
                         .budgets = budgets,
                         .count = wanted,
                         .seconds_one = seconds,
                         .all = true};
    if (!bench_ask_linear(&answers, &sweep)) {
        fail(c, scenario, 0, "the linear solver gave up");
        return;
    }
    for (size_t i = 0; i < wanted; i++) {
        const bench_point *step = bench_curve_at(curve, budgets[i]), *told = &answers.at[i].point;
        char what[160];
        snprintf(what, sizeof what,
                 "the curve has %lld thousandths for %lld, the linear solver %lld for %lld%s",
                 (long long)step->points, (long long)step->cost, (long long)told->points,
                 (long long)told->cost, answers.at[i].proved ? "" : " (not proved in time)");
        if (answers.at[i].proved && told->points == step->points && told->cost == step->cost)
            c->passed++;
        else
            fail(c, scenario, budgets[i], what);
    }
    free(answers.at);
}

static void against_cbc(count *c, const char *scenario, const bench_curve *curve, int64_t budget,
                        double seconds) {
    bench_answer answer;
    double peak_mb;
    const bench_point *step = bench_curve_at(curve, budget);
    char what[160];
    if (!bench_ask_cbc(&answer, &peak_mb, scenario, budget, seconds)) {
        fail(c, scenario, budget, "CBC could not be run");
        return;
    }
    snprintf(what, sizeof what, "the curve has %lld thousandths, CBC %.3f%s",
             (long long)step->points, answer.told, answer.proved ? "" : " (not proved in time)");
    if (answer.proved && bench_cbc_agrees(&answer, step->points))
        c->passed++;
    else
        fail(c, scenario, budget, what);
}

int main(int argc, char **argv) {
    bool spoil = argc == 7 && strcmp(argv[6], "--spoil") == 0;
    if (argc != 6 && !spoil) {
        fprintf(stderr, "bench-exact SCENARIO SEED BUDGETS CBC-BUDGETS SECONDS [--spoil]\n");
        return 64;
    }
    const char *scenario = argv[1];
    size_t wanted = (size_t)strtoul(argv[3], NULL, 10);
    size_t by_cbc = (size_t)strtoul(argv[4], NULL, 10);
    double seconds = strtod(argv[5], NULL);
    state = strtoull(argv[2], NULL, 10) * UINT64_C(0x9E3779B97F4A7C15) + 88172645463325252u;
    count c = {0};
    bench_curve curve;
    if (!bench_ask_curve(&curve, scenario, 10 * seconds) || !curve.proved) {
        fail(&c, scenario, 0, "the curve is not proved");
    } else {
        int64_t *budgets = draw_budgets(&curve, wanted);
        if (budgets == NULL)
            return 70;
        for (size_t i = 0; i < curve.count && spoil; i++)
            curve.steps[i].points++;
        against_linear(&c, scenario, &curve, budgets, wanted, seconds);
        for (size_t i = 0; i < by_cbc && i < wanted; i++)
            against_cbc(&c, scenario, &curve, budgets[i * wanted / by_cbc], seconds);
        free(budgets);
    }
    free(curve.steps);
    printf("%d passed, %d failed\n", c.passed, c.failed);
    return c.failed == 0 ? 0 : 1;
}
