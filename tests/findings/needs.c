/* Has every finding of the catalog its lines in the table? And the bounds moved. */
#include "findings.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const cJSON *bare(const cJSON *condition, bool *negated) {
    const cJSON *inner;
    *negated = false;
    while ((inner = at(condition, "not")) != NULL) {
        condition = inner;
        *negated = !*negated;
    }
    return condition;
}

bool has_bound(const cJSON *condition) {
    return at(condition, "least") != NULL || at(condition, "most") != NULL;
}

/* ---- needs ----------------------------------------------------------------------------- */

static int lines_of(const table *t, const char *finding, const char *kind) {
    int count = 0;
    for (size_t i = 0; i < t->count; i++) {
        const char *own = t->lines[i].KIND;
        own += starts(own, "no-") ? 3 : 0;
        if (strcmp(t->lines[i].FINDING, finding) == 0 && strcmp(own, kind) == 0)
            count++;
    }
    return count;
}

/* Facts with an absent value are never unknown, nor is the built-in one; derived facts are
 * where those that they are made of are. */
static bool may_lack(const cJSON *condition, const cJSON *facts) {
    const char *term = text_at(condition, "fact"), *dot = strchr(term, '.');
    const cJSON *fact = dot == NULL ? NULL : with_text(at(facts, "facts"), "fact", dot + 1);
    return at(condition, "measure") != NULL || (fact != NULL && at(fact, "absent") == NULL);
}

static bool needs_kind(const table *t, const char *finding, const char *kind, int needed) {
    int there = lines_of(t, finding, kind);
    if (there >= needed)
        return true;
    printf("FAILED %s has %d lines \"%s\" of the %d that it needs\n", finding, there, kind, needed);
    return false;
}

static bool check_finding(const table *t, const cJSON *form, const cJSON *facts) {
    const char *id = text_at(form, "finding");
    int below = 0, aside = 0, unknown = 0;
    const cJSON *condition;
    cJSON_ArrayForEach(condition, at(form, "when")) {
        bool negated;
        const cJSON *inner = bare(condition, &negated);
        if (has_bound(inner))
            below++;
        else if (negated || at(inner, "observed") == NULL)
            aside++; /* what is merely observed is not so on the healthy machine */
        if (may_lack(inner, facts))
            unknown = 1;
    }
    bool good = needs_kind(t, id, "made", 1);
    good = needs_kind(t, id, "below", below) && good;
    good = needs_kind(t, id, "aside", aside) && good;
    return needs_kind(t, id, "unknown", unknown) && good;
}

/* A line about nothing, or of a kind that nothing reads, would only look like a test. */
static bool check_table(const table *t, const cJSON *forms) {
    static const char *const kinds[] = {"made", "far", "below", "aside", "unknown"};
    bool good = true;
    for (size_t i = 0; i < t->count; i++) {
        const table_line *line = &t->lines[i];
        const char *kind = line->KIND + (is_reason(line) ? 3 : 0);
        bool known = is_base(line);
        for (int k = 0; k < 5; k++)
            known = known || strcmp(kinds[k], kind) == 0;
        if (!known || (!is_base(line) && with_text(forms, "finding", line->FINDING) == NULL)) {
            printf("FAILED line %d: there is no finding \"%s\", or no kind \"%s\"\n", line->number,
                   line->FINDING, line->KIND);
            good = false;
        }
    }
    return good;
}

int check_needs(const table *t, const char *findings_path, const char *facts_path) {
    cJSON *file = read_json(findings_path), *facts = read_json(facts_path), *form;
    bool all = check_table(t, at(file, "findings"));
    cJSON_ArrayForEach(form, at(file, "findings")) {
        bool good = check_finding(t, form, facts);
        if (good)
            printf("good %s\n", text_at(form, "finding"));
        all = all && good;
    }
    cJSON_Delete(file);
    cJSON_Delete(facts);
    return all ? GOOD : BAD;
}

/* ---- bounds moved ------------------------------------------------------------------------ */

/* A hundredth: as near as the lines of the table lie to their bounds; or the next whole
 * number, of small counts and of years. */
static double step_of(double bound, bool of_fact) {
    double step = fabs(bound) * 0.02;
    bool whole = of_fact && fabs(bound) < 50 && fabs(bound - round(bound)) < 1e-9;
    if (whole && step < 1)
        step = 1;
    return ceil(step * 1000) / 1000;
}

static void move_bound(cJSON *condition, const char *name, double way) {
    cJSON *bound = at(condition, name);
    if (bound == NULL)
        return;
    double value = bound->valuedouble;
    double moved = value + way * step_of(value, at(condition, "fact") != NULL);
    cJSON_SetNumberValue(bound, round(moved * 1000) / 1000);
}

int move_bounds(const char *findings_path, bool tighter) {
    cJSON *file = read_json(findings_path), *form, *condition;
    cJSON_ArrayForEach(form, at(file, "findings")) {
        cJSON_ArrayForEach(condition, at(form, "when")) {
            bool negated;
            cJSON *inner = (cJSON *)bare(condition, &negated);
            double way = tighter != negated ? 1 : -1;
            move_bound(inner, "least", way);
            move_bound(inner, "most", -way);
        }
    }
    char *text = cJSON_Print(file);
    bool good = text != NULL && puts(text) >= 0;
    free(text);
    cJSON_Delete(file);
    return good ? GOOD : WRONG;
}
