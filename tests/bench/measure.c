/* Children and their cost; the curve and single budgets through the library. See measure.h. */
#define _DEFAULT_SOURCE /* wait4: what one child used */
#include "measure.h"

#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double clock_of(clockid_t which) {
    struct timespec t;
    clock_gettime(which, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

double bench_processor(void) { return clock_of(CLOCK_PROCESS_CPUTIME_ID); }

double bench_wall(void) { return clock_of(CLOCK_MONOTONIC); }

static char *read_all(int from) {
    size_t room = 4096, count = 0;
    char *text = malloc(room);
    for (;;) {
        ssize_t got = text == NULL ? 0 : read(from, text + count, room - count - 1);
        if (got <= 0)
            break;
        count += (size_t)got;
        if (room - count < 1024) {
            char *more = realloc(text, room *= 2);
            if (more == NULL)
                free(text);
            text = more;
        }
    }
    if (text != NULL)
        text[count] = '\0';
    return text;
}

bool bench_child(char **lines, double *peak_mb, bench_work work, const void *asked) {
    int ends[2], code = 0;
    struct rusage used;
    fflush(stdout);
    if (pipe(ends) != 0)
        return false;
    pid_t child = fork();
    if (child < 0)
        return false;
    if (child == 0) {
        close(ends[0]);
        FILE *out = fdopen(ends[1], "w");
        int bad = out == NULL ? 1 : work(out, asked);
        if (out != NULL && fclose(out) != 0)
            bad = 1;
        _exit(bad);
    }
    close(ends[1]);
    *lines = read_all(ends[0]);
    close(ends[0]);
    bool ended = wait4(child, &code, 0, &used) == child && WIFEXITED(code);
    *peak_mb = (double)used.ru_maxrss / 1024;
    return ended && WEXITSTATUS(code) == 0 && *lines != NULL;
}

/* ---- a job in the child ---------------------------------------------------------------- */

typedef struct question {
    const char *scenario;
    int64_t budget;
    double seconds;
} question;

int bench_failed(const char *scenario, sw_complaints *complaints, sw_status status) {
    const sw_complaint *first = sw_complaints_get(complaints, 0);
    fprintf(stderr, "%s: status %d: %s\n", scenario, (int)status, first ? first->what : "");
    return 1;
}

/* ---- the curve ---------------------------------------------------------------------------- */

/* Setup alone, to be told apart; then the whole call as anybody makes it. */
static int work_curve(FILE *out, const void *asked) {
    const question *q = asked;
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_answer *answer = NULL;
    sw_run job = {0};
    sw_plan_options options = sw_plan_options_default();
    options.seconds = q->seconds;
    options.now = bench_processor;
    sw_status status = sw_scenario_read(&scenario, q->scenario, NULL, complaints);
    double begun = bench_processor();
    if (status == SW_OK)
        status = sw_run_make(&job, scenario, &options, true, complaints);
    double made = bench_processor();
    if (status == SW_OK) {
        sw_run_free(&job);
        double asked_at = bench_processor();
        status = sw_curve(&answer, scenario, &options, complaints);
        fprintf(out, "%.6f %.6f\n", made - begun, bench_processor() - asked_at);
    }
    if (status != SW_OK)
        return bench_failed(q->scenario, complaints, status);
    fprintf(out, "%d %zu\n", answer->status == SW_OPTIMAL, answer->bundle_count);
    for (size_t i = 0; i < answer->bundle_count; i++)
        fprintf(out, "%lld %lld\n", (long long)answer->bundles[i].cost,
                (long long)answer->bundles[i].points);
    return 0;
}

/* The next number of the lines. */
static int64_t next_whole(char **at) { return strtoll(*at, at, 10); }

static double next_number(char **at) { return strtod(*at, at); }

bool bench_ask_curve(bench_curve *out, const char *scenario, double seconds) {
    *out = (bench_curve){0};
    question q = {.scenario = scenario, .seconds = seconds};
    char *lines = NULL;
    if (!bench_child(&lines, &out->peak_mb, work_curve, &q)) {
        free(lines);
        return false;
    }
    char *at = lines;
    out->setup_s = next_number(&at);
    out->all_s = next_number(&at);
    out->proved = next_whole(&at) == 1;
    out->count = (size_t)next_whole(&at);
    out->steps = calloc(out->count + 1, sizeof *out->steps);
    for (size_t i = 0; i < out->count && out->steps != NULL; i++) {
        out->steps[i].cost = next_whole(&at);
        out->steps[i].points = next_whole(&at);
    }
    free(lines);
    return out->steps != NULL && out->count > 0;
}

const bench_point *bench_curve_at(const bench_curve *curve, int64_t budget) {
    const bench_point *best = NULL;
    for (size_t i = 0; i < curve->count && curve->steps[i].cost <= budget; i++)
        best = &curve->steps[i];
    return best;
}

/* ---- single budgets ------------------------------------------------------------------------- */

void bench_tell(FILE *out, size_t which, const sw_solution *found, double seconds) {
    fprintf(out, "%zu %d %lld %lld %.6f\n", which, found->end == SW_END_PROVED,
            (long long)found->tally.cost, (long long)found->tally.points, seconds);
}

/* Scored and presolved, as the curve is asked; what it took. */
sw_status bench_make(sw_run *job, const char *file, sw_scenario **scenario,
                     sw_complaints *complaints, double *seconds) {
    sw_plan_options options = sw_plan_options_default();
    sw_status status = sw_scenario_read(scenario, file, NULL, complaints);
    double begun = bench_processor();
    if (status == SW_OK)
        status = sw_run_make(job, *scenario, &options, true, complaints);
    if (status == SW_OK)
        status = sw_program_presolve(job->setup.program);
    *seconds = bench_processor() - begun;
    return status;
}

sw_allowance bench_allow(double seconds, double (*now)(void)) {
    return (sw_allowance){.seconds = seconds, .now = now, .ends = now() + seconds};
}

static int work_best(FILE *out, const void *asked) {
    const question *q = asked;
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_run job = {0};
    sw_solution found;
    double setup_s;
    sw_status status = bench_make(&job, q->scenario, &scenario, complaints, &setup_s);
    if (status == SW_OK) {
        sw_request request = sw_request_for(job.setup.program, SW_AIM_BEST);
        request.limit = q->budget;
        request.start = job.baseline.picks;
        double begun = bench_processor();
        status = sw_solve(&found, job.setup.program, &request,
                          bench_allow(q->seconds, bench_processor), complaints);
        fprintf(out, "%.6f\n", setup_s);
        if (status == SW_OK)
            bench_tell(out, 0, &found, bench_processor() - begun);
    }
    return status == SW_OK ? 0 : bench_failed(q->scenario, complaints, status);
}

bool bench_read_answers(bench_answers *out, char *lines, size_t count) {
    out->count = count;
    out->at = calloc(count + 1, sizeof *out->at);
    for (size_t i = 0; i < count && out->at != NULL; i++)
        out->at[i].seconds = -1;
    char *at = lines;
    out->setup_s = next_number(&at);
    while (out->at != NULL && *at != '\0') {
        size_t which = (size_t)next_whole(&at);
        bench_answer answer = {.proved = next_whole(&at) == 1};
        answer.point.cost = next_whole(&at);
        answer.point.points = next_whole(&at);
        answer.seconds = next_number(&at);
        at += strspn(at, "\n");
        if (which < count)
            out->at[which] = answer;
    }
    free(lines);
    return out->at != NULL;
}

static int work_budget(FILE *out, const void *asked) {
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_status status = sw_scenario_read(&scenario, asked, NULL, complaints);
    if (status != SW_OK)
        return bench_failed(asked, complaints, status);
    fprintf(out, "%lld\n", (long long)sw_bill_limit(scenario, sw_scenario_budget(scenario)));
    return 0;
}

int64_t bench_budget_of(const char *scenario) {
    char *lines = NULL;
    double peak_mb;
    bool good = bench_child(&lines, &peak_mb, work_budget, scenario);
    int64_t budget = good ? strtoll(lines, NULL, 10) : -1;
    free(lines);
    return budget;
}

bool bench_ask_best(bench_answers *out, const char *scenario, int64_t budget, double seconds) {
    question q = {scenario, budget, seconds};
    char *lines = NULL;
    *out = (bench_answers){0};
    if (bench_child(&lines, &out->peak_mb, work_best, &q))
        return bench_read_answers(out, lines, 1);
    free(lines);
    return false;
}
