/* CBC on the exported program. See measure.h. */
#define _DEFAULT_SOURCE /* wait4: what one child used */
#include "measure.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

typedef struct export {
    const char *scenario, *path;
    int64_t budget;
}
export;

/* Writes the program; tells the constant that the objective leaves out. */
static int work_export(FILE *out, const void *asked) {
    const export *e = asked;
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_plan_options options = sw_plan_options_default();
    char *text = NULL, budget[32];
    sw_status status = sw_scenario_read(&scenario, e->scenario, NULL, complaints);
    snprintf(budget, sizeof budget, "%lld.%02d", (long long)(e->budget / 100),
             (int)(e->budget % 100));
    if (status == SW_OK)
        status = sw_scenario_set_budget(scenario, budget, complaints);
    if (status == SW_OK)
        status = sw_export(&text, scenario, &options, SW_EXPORT_MPS, complaints);
    if (status != SW_OK)
        return bench_failed(e->scenario, complaints, status);
    const char *told = strstr(text, "* points = ");
    FILE *file = fopen(e->path, "w");
    if (told == NULL || file == NULL || fputs(text, file) < 0 || fclose(file) != 0)
        return 1;
    fprintf(out, "%lld\n", strtoll(told + strlen("* points = "), NULL, 10));
    return 0;
}

/* Exact as far as its options go: no gap is allowed, relative or absolute. */
static void become_cbc(const char *problem, const char *solution, double seconds) {
    char limit[32];
    snprintf(limit, sizeof limit, "%.0f", seconds);
    if (freopen("/dev/null", "w", stdout) != NULL && freopen("/dev/null", "w", stderr) != NULL)
        execlp("cbc", "cbc", problem, "-ratio", "0", "-allow", "0", "-seconds", limit, "-solve",
               "-solu", solution, (char *)NULL);
    _exit(127);
}

static bool run_cbc(const char *problem, const char *solution, double limit, double *seconds,
                    double *peak_mb) {
    struct rusage used;
    int code = 0;
    fflush(stdout);
    pid_t child = fork();
    if (child == 0)
        become_cbc(problem, solution, limit);
    bool ended = child > 0 && wait4(child, &code, 0, &used) == child && WIFEXITED(code) &&
                 WEXITSTATUS(code) == 0;
    if (ended) {
        *peak_mb = (double)used.ru_maxrss / 1024;
        *seconds = (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
                   (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec) * 1e-6;
    }
    return ended;
}

/* The first line of the solution: "Optimal - objective value -12.5". */
static void read_solution(bench_answer *out, const char *path, int64_t constant) {
    static const char optimal[] = "Optimal - objective value ";
    char line[128];
    FILE *in = fopen(path, "r");
    if (in != NULL && fgets(line, sizeof line, in) != NULL &&
        strncmp(line, optimal, strlen(optimal)) == 0) {
        out->proved = true;
        out->told = (double)constant - strtod(line + strlen(optimal), NULL);
    }
    if (in != NULL)
        fclose(in);
}

bool bench_ask_cbc(bench_answer *out, double *peak_mb, const char *scenario, int64_t budget,
                   double seconds) {
    char folder[] = P_tmpdir "/bench-XXXXXX", problem[64], solution[64], *lines = NULL;
    double export_mb;
    *out = (bench_answer){0};
    if (mkdtemp(folder) == NULL)
        return false;
    snprintf(problem, sizeof problem, "%s/job.mps", folder);
    snprintf(solution, sizeof solution, "%s/job.txt", folder);
    export e = {scenario, problem, budget};
    bool good = bench_child(&lines, &export_mb, work_export, &e) &&
                run_cbc(problem, solution, seconds, &out->seconds, peak_mb);
    if (good)
        read_solution(out, solution, strtoll(lines, NULL, 10));
    free(lines);
    unlink(problem);
    unlink(solution);
    rmdir(folder);
    return good;
}

/* Half a thousandth of a point: what is told must round to the points. */
bool bench_cbc_agrees(const bench_answer *answer, int64_t points) {
    return fabs(answer->told - (double)points) < 0.5;
}
