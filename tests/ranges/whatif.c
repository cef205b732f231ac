/*
 * What if: the changed scenarios, written out by the driver's own hand, are put to the
 * checker and planned by the program; what the program says of the changes has to be
 * the same.
 */
#include "ranges.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const Set *swept(const Sets *sets) {
    for (int i = 0; i < sets->n; i++)
        if (sets->at[i].values)
            return &sets->at[i];
    return NULL;
}

static void tell_sets(const Sets *sets, Talk *t) {
    for (int i = 0; i < sets->n; i++) {
        size_t length = strlen(t->why);
        if (length < t->size)
            snprintf(t->why + length, t->size - length, " --set '%s=%s'", sets->at[i].path,
                     sets->at[i].value);
    }
}

/* The changed scenario of one case, in its file. */
static bool write_changed(Job *j, const Sets *sets, int value) {
    cJSON *copy = must_have(cJSON_Duplicate(j->json, true));
    bool good = true;
    for (int i = 0; good && i < sets->n; i++) {
        const Set *set = &sets->at[i];
        good = patch(copy, set->path, set->values ? set->each[value] : set->value);
        if (!good)
            fail(j->t, "the driver cannot set %s", set->path);
    }
    write_tree(j->changed, copy);
    cJSON_Delete(copy);
    return good;
}

static cJSON *plan_changed(Job *j, int *code) {
    Words w = {.n = 0};
    add_word(&w, "%s", j->s->program);
    add_word(&w, "plan");
    add_word(&w, "%s", j->changed);
    add_word(&w, "--json");
    return ask(j->s, &w, code);
}

static cJSON *check_changed(Job *j, int *code) {
    Words w = {.n = 0};
    add_word(&w, "%s", j->s->brute);
    add_word(&w, "%s", j->changed);
    add_word(&w, "--before");
    add_word(&w, "%s", j->scenario);
    return ask(j->s, &w, code);
}

cJSON *ask_whatif(Job *j, const Sets *sets, int *code) {
    Words w = {.n = 0};
    add_word(&w, "%s", j->s->program);
    add_word(&w, "whatif");
    add_word(&w, "%s", j->scenario);
    for (int i = 0; i < sets->n; i++) {
        add_word(&w, "--set");
        add_word(&w, "%s=%s", sets->at[i].path, sets->at[i].value);
    }
    add_word(&w, "--json");
    return ask(j->s, &w, code);
}

/* Both have a bundle, the same one, or both have none. */
static bool same_bundles(Talk *t, const char *what, const cJSON *checker, const cJSON *status,
                         const cJSON *bundle) {
    const char *wanted = text_of(checker, "status");
    if (!cJSON_IsString(status) || strcmp(status->valuestring, wanted) != 0)
        return fail(t, "%s: the checker says %s, the program %s", what, wanted,
                    cJSON_IsString(status) ? status->valuestring : "(none)");
    if (strcmp(wanted, "optimal") != 0)
        return !cJSON_IsObject(bundle) || fail(t, "%s: a bundle where nothing fits", what);
    return same_content(t, what, checker, bundle);
}

/* Where the page leaves the word open both are right. */
static bool same_stands(Job *j, const cJSON *checker, const cJSON *one) {
    const char *wanted = text_of(checker, "stands"), *told = text_of(one, "stands");
    bool open = !strcmp(wanted, "left-out") || !strcmp(wanted, "task-gone");
    j->tally->open += open;
    j->tally->open_as_gone += open && !strcmp(told, "gone");
    if (open ? strcmp(told, "gone") != 0 && strcmp(told, "refused") != 0
             : strcmp(told, wanted) != 0)
        return fail(j->t, "it stands as %s by the checker, as %s by the program (%s)", wanted, told,
                    text_of(checker, "status"));
    if (!get(checker, "stands_cost"))
        return !cJSON_IsString(get(one, "stands_cost")) || fail(j->t, "a cost of what is %s", told);
    /* Without a baseline there are no points. */
    bool points = !strcmp(text_of(checker, "status"), "optimal");
    return same_text(j->t, "cost of what was best", text_of(checker, "stands_cost"),
                     text_of(one, "stands_cost")) &&
           (!points || same_text(j->t, "points of what was best", text_of(checker, "stands_points"),
                                 text_of(one, "stands_points")));
}

static void count_stands(Tally *y, const char *stands) {
    static const char *const names[] = {"best", "beaten", "dear", "refused", "gone"};
    long *const counts[] = {&y->best, &y->beaten, &y->dear, &y->refused, &y->gone};
    y->cases++;
    for (int i = 0; i < 5; i++)
        *counts[i] += !strcmp(stands, names[i]);
}

static bool same_value(Job *j, const Set *set, int value, const cJSON *told) {
    if (!set)
        return cJSON_IsNull(told) || !told || fail(j->t, "a value without a sweep");
    if (cJSON_IsString(told) && (!strcmp(told->valuestring, set->each[value]) ||
                                 strtod(told->valuestring, NULL) == strtod(set->each[value], NULL)))
        return true;
    return fail(j->t, "case %d is of %s, not %s", value + 1, set->each[value],
                cJSON_IsString(told) ? told->valuestring : "(none)");
}

static bool same_plan(Job *j, const cJSON *checker, int wanted) {
    int code = wanted;
    if (!j->s->program)
        return true;
    cJSON *plan = plan_changed(j, &code);
    bool good = plan && code == wanted
                    ? same_bundles(j->t, "plan of the changed file", checker, get(plan, "status"),
                                   cJSON_GetArrayItem(get(plan, "bundles"), 0))
                    : fail(j->t, "plan ended with %d, the checker with %d", code, wanted);
    cJSON_Delete(plan);
    return good;
}

/* The program's plan of the changed file too, and the checker's. */
static bool judge_case(Job *j, const Sets *sets, int value, bool present, const cJSON *one) {
    int code;
    if (!write_changed(j, sets, value))
        return false;
    cJSON *checker = check_changed(j, &code);
    bool good = checker != NULL || fail(j->t, "the checker ended with %d on the change", code);
    good = good && same_plan(j, checker, code) &&
           same_value(j, swept(sets), value, get(one, "value")) &&
           same_bundles(j->t, "case", checker, get(one, "status"), get(one, "bundle"));
    if (good && present) {
        good = same_stands(j, checker, one);
        count_stands(j->tally, text_of(checker, "stands"));
    }
    cJSON_Delete(checker);
    return good;
}

static bool judge_present(Job *j, const cJSON *program, bool *present) {
    Words w = {.n = 0};
    int code;
    add_word(&w, "%s", j->s->brute);
    add_word(&w, "%s", j->scenario);
    cJSON *checker = ask(j->s, &w, &code);
    const cJSON *told = get(program, "present");
    bool good = checker != NULL || fail(j->t, "the checker ended with %d", code);
    *present = code == 0;
    good = good && same_bundles(j->t, "present", checker, get(told, "status"), get(told, "bundle"));
    cJSON_Delete(checker);
    return good;
}

static bool judge_changes(Job *j, const Sets *sets, const cJSON *program) {
    const Set *sweep = swept(sets);
    const cJSON *told = get(program, "changes");
    int at = 0;
    if (strcmp(sweep ? sweep->path : "(none)", text_of(program, "swept")) != 0)
        return fail(j->t, "swept: %s", text_of(program, "swept"));
    if (cJSON_GetArraySize(told) != sets->n - (sweep != NULL))
        return fail(j->t, "%d changes are told", cJSON_GetArraySize(told));
    for (int i = 0; i < sets->n; i++) {
        const cJSON *one = cJSON_GetArrayItem(told, at);
        if (sets->at[i].values)
            continue;
        at++;
        if (!same_text(j->t, "path", sets->at[i].path, text_of(one, "path")) ||
            !same_text(j->t, "value", sets->at[i].value, text_of(one, "value")))
            return false;
    }
    return true;
}

/* Does plan refuse the file of some case? Then what if has to refuse it all. */
static bool is_refused(Job *j, const Sets *sets) {
    int code;
    const Set *sweep = swept(sets);
    for (int i = 0; i < (sweep ? sweep->values : 1); i++) {
        if (!write_changed(j, sets, i))
            continue;
        cJSON_Delete(plan_changed(j, &code));
        if (code == 65)
            return true;
    }
    return false;
}

bool judge_whatif(Job *j, const Sets *sets, const cJSON *program, int code) {
    const Set *sweep = swept(sets);
    int n = sweep ? sweep->values : 1;
    bool present;
    if ((code == 64 || code == 65) && !get(program, "cases")) {
        j->tally->refused_alike++;
        return is_refused(j, sets) || fail(j->t, "what if ended with %d, plan takes it", code);
    }
    if (!program || (code != 0 && code != 1))
        return fail(j->t, "what if ended with %d", code);
    if (!judge_present(j, program, &present) || !judge_changes(j, sets, program))
        return false;
    if (cJSON_GetArraySize(get(program, "cases")) != n)
        return fail(j->t, "%d cases are told, not %d", cJSON_GetArraySize(get(program, "cases")),
                    n);
    for (int i = 0; i < n; i++)
        if (!judge_case(j, sets, i, present, cJSON_GetArrayItem(get(program, "cases"), i)))
            return false;
    return true;
}

bool check_whatif(Job *j) {
    Sets sets;
    int code;
    draw_sets(j, &sets);
    j->tally->whatifs++;
    cJSON *program = ask_whatif(j, &sets, &code);
    bool good = judge_whatif(j, &sets, program, code);
    if (!good)
        tell_sets(&sets, j->t);
    cJSON_Delete(program);
    return good;
}
