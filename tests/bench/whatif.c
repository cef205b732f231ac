/*
 * How long a what-if takes: whatif SCENARIO...
 * For each scenario: reading it; the job as it is with one other budget; a sweep of 50 budgets, of
 * 50 weights and of 50 prices. What one more what-if takes is a fiftieth of a sweep.
 */
#include "swapworth.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

/* The least of three. */
static double seconds_of(const sw_scenario *scenario, const char *setting) {
    double best = 1e9;
    for (int i = 0; i < 3; i++) {
        sw_complaints *complaints = sw_complaints_new();
        sw_whatif *whatif = NULL;
        sw_plan_options options = sw_plan_options_default();
        options.now = now;
        double begun = now();
        if (complaints == NULL ||
            sw_ask_whatif(&whatif, scenario, &setting, 1, &options, complaints) != SW_OK ||
            sw_whatif_get_status(whatif) == SW_STOPPED_EARLY) {
            printf("  %s was not answered\n", setting);
            exit(1);
        }
        double took = now() - begun;
        best = took < best ? took : best;
        sw_whatif_free(whatif);
        sw_complaints_free(complaints);
    }
    return best;
}

static void time_one(const char *path) {
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    double begun = now();
    if (complaints == NULL || sw_scenario_read(&scenario, path, NULL, complaints) != SW_OK) {
        printf("%s cannot be read\n", path);
        exit(1);
    }
    printf("%-28s read %4.0f ms", path, (now() - begun) * 1000);
    double one = seconds_of(scenario, "budget.total=300");
    printf("; as it is and one other budget %5.0f ms\n", one * 1000);
    static const char *const sweeps[][2] = {{"budgets", "budget.total=255:500:5"},
                                            {"weights", "wishes.swings.quiet=2:100:2"},
                                            {"prices", "quotes.merrowby-band.price=2:100:2"}};
    for (size_t i = 0; i < sizeof sweeps / sizeof *sweeps; i++) {
        double all = seconds_of(scenario, sweeps[i][1]);
        printf("    50 %-8s %6.2f s, one %5.0f ms\n", sweeps[i][0], all, all / 50 * 1000);
    }
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
}

int main(int argc, char **argv) {
    for (int i = 1; i < argc; i++)
        time_one(argv[i]);
    return 0;
}
