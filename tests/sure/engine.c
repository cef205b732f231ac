/*
 * sure SCENARIO EXTREMES [SECONDS] [--times | --blind]: the non-dominated bundles of a job whose
 * weights are in doubt, as the checker prints them (brute --extremes); with --times only how many
 * there are, whether that is all, the nodes, and the seconds; --blind: likewise, without a clock.
 * EXTREMES: "speed:3,quiet:1;looks:4". Looks into the library.
 *
 * sure --draw SEED SCENARIO: random extremes of the scenario's criteria.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "answer/unsure.h"

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

static int fail(const char *what) {
    fprintf(stderr, "sure: %s\n", what);
    return 2;
}

/* ---- extremes --------------------------------------------------------------------------- */

static int criterion_named(const sw_catalog *catalog, const char *text, size_t length) {
    for (size_t c = 0; c < catalog->criterion_count; c++)
        if (strlen(catalog->criteria[c].id) == length &&
            strncmp(catalog->criteria[c].id, text, length) == 0)
            return (int)c;
    return -1;
}

static bool read_extremes(sw_extremes *out, int64_t *weight, const sw_catalog *catalog,
                          const char *text) {
    *out = (sw_extremes){1, catalog->criterion_count, weight, false};
    while (*text != '\0') {
        size_t length = strcspn(text, ":");
        int c = criterion_named(catalog, text, length);
        char *end;
        if (c < 0 || text[length] == '\0')
            return false;
        weight[(out->count - 1) * out->criteria + (size_t)c] = strtoll(text + length + 1, &end, 10);
        if (*end == ';' && out->count++ == SW_EXTREMES_MOST)
            return false;
        text = end + (*end == ',' || *end == ';');
    }
    return true;
}

/* ---- random extremes ---------------------------------------------------------------------- */

static uint64_t state;

static int draw(int below) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (int)((state >> 11) % (uint64_t)below);
}

static const char *const *names;

static void print_weights(const int *weight, int count, bool *first) {
    bool any = false;
    printf("%s", *first ? "" : ";");
    *first = false;
    for (int c = 0; c < count; c++)
        if (weight[c] > 0) {
            printf("%s%s:%d", any ? "," : "", names[c], weight[c]);
            any = true;
        }
}

/* All weights, ranks, a box of ratios, one point, or any corners. */
static void draw_extremes(int kind, int count) {
    int weight[4] = {0}, low[4], high[4];
    bool first = true;
    if (kind == 0)
        for (int c = 0; c < count; c++) {
            memset(weight, 0, sizeof weight);
            weight[c] = 1 + draw(3);
            print_weights(weight, count, &first);
        }
    else if (kind == 1)
        for (int c = 0; c < count; c++) {
            weight[c] = 1;
            print_weights(weight, count, &first);
        }
    else if (kind == 2) {
        for (int c = 0; c < count; c++) {
            low[c] = 10 + draw(90);
            high[c] = low[c] + draw(150);
        }
        for (int corner = 0; corner < 1 << (count - 1); corner++) {
            weight[0] = 100;
            for (int c = 1; c < count; c++)
                weight[c] = corner >> (c - 1) & 1 ? high[c] : low[c];
            print_weights(weight, count, &first);
        }
    } else
        for (int e = kind == 3 ? 1 : 2 + draw(5); e > 0; e--) {
            for (int c = 0; c < count; c++)
                weight[c] = draw(30) + (c == 0);
            print_weights(weight, count, &first);
        }
    putchar('\n');
}

static int tell_draw(uint64_t seed, const sw_scenario *scenario) {
    const sw_catalog *catalog = scenario->catalog;
    const char *chosen[4];
    int count = 0;
    state = seed * UINT64_C(0x9E3779B97F4A7C15) + 88172645463325252u;
    for (int i = 0; i < 10; i++)
        draw(2);
    for (size_t c = 0; c < catalog->criterion_count && count < 4; c++)
        if (catalog->criteria[c].kind != SW_SPEED || scenario->use_count > 0)
            chosen[count++] = catalog->criteria[c].id;
    for (int i = count - 1; i > 0; i--) {
        int k = draw(i + 1);
        const char *other = chosen[i];
        chosen[i] = chosen[k];
        chosen[k] = other;
    }
    if (count == 0)
        return fail("no criteria");
    names = chosen;
    draw_extremes((int)(seed % 5), count > 2 ? 2 + draw(count - 1) : count);
    return 0;
}

/* ---- what is found ------------------------------------------------------------------------- */

static void print_text(const char *text) {
    for (; *text != '\0'; text++)
        putchar(*text == '\n' ? ',' : *text == '\t' ? '~' : *text);
}

static void print_bundle(const sw_unsure *u, const sw_undominated_bundle *b, size_t extremes) {
    const sw_program *program = u->setup.program;
    const sw_fitouts *fitouts = u->setup.fitouts;
    printf("values");
    for (size_t e = 0; e < extremes; e++)
        printf(" %lld", (long long)b->value[e]);
    printf(" cost %lld swaps %d tasks %d", (long long)sw_total(program, &b->tally), b->tally.swaps,
           b->tally.tasks);
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_choice *choice = &fitouts->choices[program->picks[b->picks[g]].choice];
        printf(" %s=", fitouts->catalog->roles[g].id);
        print_text(fitouts->fitouts[choice->fitout].key);
        putchar('@');
        if (choice->line_count > 0)
            print_text(choice->seller_key);
        if (choice->line_count > 1)
            putchar(',');
    }
    putchar('\n');
}

static int find(const sw_scenario *scenario, const sw_extremes *extremes, double seconds,
                bool times, bool blind, sw_complaints *complaints) {
    sw_unsure unsure;
    double begun = now();
    sw_allowance allowance = {
        .seconds = seconds, .now = blind ? NULL : now, .ends = begun + seconds};
    sw_status status = sw_unsure_make(&unsure, scenario, extremes, false, allowance, complaints);
    const sw_undominated_set *set = &unsure.set;
    int code = status == SW_OK ? 0 : fail("could not be answered");
    if (code == 0 && times) {
        printf("%zu bundles, %s, %lld nodes, %lld labels, %.2f s", set->count,
               set->complete ? "all" : "not all", set->nodes, set->labels, now() - begun);
        for (size_t e = 0; !set->complete && set->most != NULL && e < extremes->count; e++)
            printf(" %lld", (long long)set->most[e]);
        putchar('\n');
    } else if (code == 0 && !unsure.baseline.found) {
        puts("nothing fits");
        code = 1;
    } else if (code == 0) {
        printf("bundles %zu\n", set->count);
        for (size_t i = 0; i < set->count; i++)
            print_bundle(&unsure, &set->bundles[i], extremes->count);
        if (!set->complete)
            puts("not all");
    }
    sw_unsure_free(&unsure);
    return code;
}

int main(int argc, char **argv) {
    bool draws = argc == 4 && strcmp(argv[1], "--draw") == 0;
    bool blind = argc > 3 && strcmp(argv[argc - 1], "--blind") == 0;
    bool times = blind || (argc > 3 && strcmp(argv[argc - 1], "--times") == 0);
    if (argc < 3 || argc > 5)
        return fail("SCENARIO EXTREMES [SECONDS] [--times], or --draw SEED SCENARIO");
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_extremes extremes;
    int code = 2;
    if (sw_scenario_read(&scenario, draws ? argv[3] : argv[1], NULL, complaints) != SW_OK) {
        const sw_complaint *first = sw_complaints_get(complaints, 0);
        fail(first != NULL ? first->what : "could not be read");
    } else if (draws)
        code = tell_draw(strtoull(argv[2], NULL, 10), scenario);
    else {
        size_t criteria = scenario->catalog->criterion_count;
        int64_t *weight = calloc(SW_EXTREMES_MOST * criteria + 1, sizeof *weight);
        if (weight == NULL || !read_extremes(&extremes, weight, scenario->catalog, argv[2]))
            fail("extremes could not be read");
        else
            code = find(scenario, &extremes, argc - times > 3 ? strtod(argv[3], NULL) : 600, times,
                        blind, complaints);
        free(weight);
    }
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
    return code;
}
