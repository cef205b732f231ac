/*
 * The published problems: every row of expected.txt is one plan, every row of
 * ranked.txt the first so many bundles or a whole curve.
 */
#include "driver.h"
#include "driver_compare.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIELDS = 6 };

typedef bool (*Row)(const Setup *s, char *field[FIELDS], int n, char *why, size_t size);

static char *unless_dash(char *field) { return strcmp(field, "-") != 0 ? field : NULL; }

/* Asks the program; in its absence the checker. */
static char *ask(const Setup *s, Question *q, const char *folder, char *why, size_t size) {
    char scenario[4096], *text = NULL;
    int code = 0;
    snprintf(scenario, sizeof scenario, "%s/%s/scenario.json", s->published, folder);
    q->scenario = scenario;
    if (answer(s, s->plan != NULL, q, &text, &code))
        return text;
    snprintf(why, size, "the program ended with %d", code);
    free(text);
    return NULL;
}

/* Folder, budget, points, cost, items. */
static bool plan_row(const Setup *s, char *field[FIELDS], int n, char *why, size_t size) {
    if (n != 5) {
        snprintf(why, size, "a row needs five fields");
        return false;
    }
    char *text = ask(s, &(Question){.budget = field[1]}, field[0], why, size);
    bool same = text && same_row(text, field[2], field[3], field[4], why, size);
    free(text);
    return same;
}

static bool best_row(const Setup *s, char *field[FIELDS], char *why, size_t size) {
    char count[32];
    int k = 1;
    for (const char *p = field[3]; *p; p++)
        k += *p == ',';
    snprintf(count, sizeof count, "%d", k);
    char *text = ask(s, &(Question){.budget = field[2], .best = count}, field[1], why, size);
    bool same = text && same_ranking(text, field[3], field[4], field[5], why, size);
    free(text);
    return same;
}

/* best, folder, budget, points.., costs.., items..; or curve, folder, from, to, steps.. */
static bool ranked_row(const Setup *s, char *field[FIELDS], int n, char *why, size_t size) {
    if (n == 6 && !strcmp(field[0], "best"))
        return best_row(s, field, why, size);
    if (n != 5 || strcmp(field[0], "curve") != 0) {
        snprintf(why, size, "a row is best and five fields, or curve and four");
        return false;
    }
    Question q = {.curve = true, .from = unless_dash(field[2]), .to = unless_dash(field[3])};
    char *text = ask(s, &q, field[1], why, size);
    bool same = text && same_steps(text, field[4], why, size);
    free(text);
    return same;
}

static bool check_row(const Setup *s, Row row, char *line, char *why, size_t size) {
    char *field[FIELDS], *rest = NULL;
    int n = 0;
    for (char *p = strtok_r(line, " ", &rest); p; p = strtok_r(NULL, " ", &rest)) {
        if (n == FIELDS) {
            snprintf(why, size, "a row has too many fields");
            return false;
        }
        field[n++] = p;
    }
    return row(s, field, n, why, size);
}

/* Blank lines and comments pass. */
static void check_file(const Setup *s, const char *name, Row row, long *passed, long *failed) {
    char path[4096], why[2048], told[256];
    snprintf(path, sizeof path, "%s/%s", s->published, name);
    char *text = read_text(path);
    for (char *line = text, *next; line && *line; line = next) {
        next = strchr(line, '\n');
        if (next)
            *next++ = '\0';
        if (*line == '#' || !*line)
            continue;
        snprintf(told, sizeof told, "%s", line);
        if (check_row(s, row, line, why, sizeof why)) {
            ++*passed;
            continue;
        }
        ++*failed;
        printf("%s\n    %s\n", told, why);
    }
    free(text);
}

int check_published(const Setup *s) {
    long passed = 0, failed = 0;
    check_file(s, "expected.txt", plan_row, &passed, &failed);
    check_file(s, "ranked.txt", ranked_row, &passed, &failed);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}
