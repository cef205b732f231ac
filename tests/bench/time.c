/*
 * bench-time SCENARIO [CURVE-SECONDS [SECONDS-EACH [BUDGETS [CBC-BUDGETS]]]]: one job, each way
 * of answering it right after the other, each in a child process of its own:
 *
 *   curve  the whole curve (sw_curve), reading of the files left out
 *   best   one budget, the scenario's, through the search (presolve, sw_solve)
 *   glpk   BUDGETS (default 100) budgets evenly over the costs of the curve, rising, through the
 *          linear solver alone after the same presolve, each with the bundle of the one before as
 * its incumbent (cut-off, and picks closed by their reduced costs): the quickest setting we know.
 * Where they would take more than SECONDS-EACH of wall clock (default 30), some spread over all,
 * three at least. cbc    CBC on the exported MPS at CBC-BUDGETS (default 3) budgets, a quarter,
 * half and three quarters along; each at most SECONDS-EACH.
 *
 * One line of numbers, seconds of the processor and megabytes (peak, resident):
 *
 *   curve: all, setup, MB, steps, proved (0 or 1)
 *   best:  all, setup, MB, proved
 *   glpk:  all (setup and solving; scaled up where not all were asked), setup, MB, asked, ended
 *   cbc:   mean of one budget, MB, asked, ended
 *
 * -1 where nothing was measured. Exits 1 when two answers differ (told on standard error):
 * GLPK's points and costs must be the curve's, CBC's points round to the curve's.
 */
#include "measure.h"

#include <stdlib.h>

typedef struct limits {
    double curve_s, each_s;
    size_t budgets, cbc_budgets;
} limits;

static int wrong(const char *scenario, const char *who, int64_t budget, const bench_point *step,
                 double points, int64_t cost) {
    fprintf(stderr, "WRONG %s at %lld: the curve has %lld for %lld, %s %.3f for %lld\n", scenario,
            (long long)budget, (long long)(step != NULL ? step->points : -1),
            (long long)(step != NULL ? step->cost : -1), who, points, (long long)cost);
    return 1;
}

/* Only what is proved on both sides can differ. */
static int check(const char *scenario, const char *who, const bench_curve *curve, int64_t budget,
                 const bench_answer *answer) {
    const bench_point *step = bench_curve_at(curve, budget);
    if (!curve->proved || !answer->proved ||
        (step != NULL && step->points == answer->point.points && step->cost == answer->point.cost))
        return 0;
    return wrong(scenario, who, budget, step, (double)answer->point.points, answer->point.cost);
}

/* An unproved curve may lack its cheap end. */
static int64_t budget_along(const bench_curve *curve, size_t i, size_t last) {
    int64_t low = curve->proved ? curve->steps[0].cost : 0;
    int64_t high = curve->steps[curve->count - 1].cost;
    return last == 0 ? high : low + (high - low) * (int64_t)i / (int64_t)last;
}

static int tell_curve(const bench_curve *curve, bool good) {
    if (good)
        printf("%.4f %.4f %.1f %zu %d", curve->all_s, curve->setup_s, curve->peak_mb, curve->count,
               curve->proved);
    else
        printf("-1 -1 -1 0 0");
    return 0;
}

static int tell_best(const bench_curve *curve, const char *scenario, const limits *l,
                     int64_t budget) {
    bench_answers best;
    if (!bench_ask_best(&best, scenario, budget, l->curve_s)) {
        printf("  -1 -1 -1 0");
        return 0;
    }
    printf("  %.4f %.4f %.1f %d", best.setup_s + best.at[0].seconds, best.setup_s, best.peak_mb,
           best.at[0].proved);
    int bad = check(scenario, "the search", curve, budget, &best.at[0]);
    free(best.at);
    return bad;
}

static int tell_linear(const bench_curve *curve, const char *scenario, const limits *l) {
    int64_t *budgets = calloc(l->budgets + 1, sizeof *budgets);
    bench_answers answers;
    for (size_t i = 0; i < l->budgets && budgets != NULL; i++)
        budgets[i] = budget_along(curve, i, l->budgets - 1);
    bench_sweep sweep = {.scenario = scenario,
                         .budgets = budgets,
                         .count = l->budgets,
                         .seconds = l->each_s,
                         .seconds_one = l->each_s};
    if (budgets == NULL || l->budgets == 0 || !bench_ask_linear(&answers, &sweep)) {
        printf("  -1 -1 -1 0 0");
        free(budgets);
        return 0;
    }
    size_t asked = 0, ended = 0;
    double sum = 0;
    int bad = 0;
    for (size_t i = 0; i < l->budgets; i++)
        if (answers.at[i].seconds >= 0) {
            asked++;
            ended += answers.at[i].proved;
            sum += answers.at[i].seconds;
            bad += check(scenario, "GLPK", curve, budgets[i], &answers.at[i]);
        }
    double all = answers.setup_s + sum * (double)l->budgets / (double)(asked > 0 ? asked : 1);
    printf("  %.4f %.4f %.1f %zu %zu", all, answers.setup_s, answers.peak_mb, asked, ended);
    free(answers.at);
    free(budgets);
    return bad;
}

static int tell_cbc(const bench_curve *curve, const char *scenario, const limits *l) {
    size_t asked = 0, ended = 0;
    double sum = 0, most_mb = -1;
    int bad = 0;
    for (size_t i = 0; i < l->cbc_budgets; i++) {
        int64_t budget = budget_along(curve, i + 1, l->cbc_budgets + 1);
        bench_answer answer;
        double peak_mb = 0;
        if (!bench_ask_cbc(&answer, &peak_mb, scenario, budget, l->each_s))
            continue;
        const bench_point *step = bench_curve_at(curve, budget);
        asked++;
        ended += answer.proved;
        sum += answer.seconds;
        most_mb = peak_mb > most_mb ? peak_mb : most_mb;
        if (curve->proved && answer.proved &&
            (step == NULL || !bench_cbc_agrees(&answer, step->points)))
            bad += wrong(scenario, "CBC", budget, step, answer.told, -1);
    }
    printf("  %.4f %.1f %zu %zu", asked > 0 ? sum / (double)asked : -1, most_mb, asked, ended);
    return bad;
}

static double number_at(char **argv, int argc, int i, double otherwise) {
    return argc > i ? strtod(argv[i], NULL) : otherwise;
}

int main(int argc, char **argv) {
    if (argc < 2) {
        fprintf(stderr, "bench-time SCENARIO [CURVE-SECONDS [SECONDS-EACH [BUDGETS "
                        "[CBC-BUDGETS]]]]\n");
        return 64;
    }
    limits l = {.curve_s = number_at(argv, argc, 2, 600), .each_s = number_at(argv, argc, 3, 30)};
    l.budgets = (size_t)number_at(argv, argc, 4, 100);
    l.cbc_budgets = (size_t)number_at(argv, argc, 5, 3);
    bench_curve curve;
    int64_t budget = bench_budget_of(argv[1]);
    bool good = bench_ask_curve(&curve, argv[1], l.curve_s);
    int bad = tell_curve(&curve, good);
    bad += tell_best(&curve, argv[1], &l, budget);
    if (good) {
        bad += tell_linear(&curve, argv[1], &l);
        bad += tell_cbc(&curve, argv[1], &l);
    } else {
        printf("  -1 -1 -1 0 0  -1 -1 0 0");
    }
    printf("\n");
    free(curve.steps);
    return bad == 0 ? 0 : 1;
}
