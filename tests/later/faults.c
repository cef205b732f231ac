/*
 * That the driver can fail: the checker's own answers to cases made by hand are changed
 * in one way after another, cases/faults.json, and each time the comparison has to say
 * so, in the words that are named there.
 */
#include "later.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Sets what the dotted path leads to; steps into lists are numbers from 0. */
static void put_at(cJSON *root, const char *path, const cJSON *value) {
    char copy[256], *rest = NULL;
    snprintf(copy, sizeof copy, "%s", path);
    cJSON *at = root;
    char *step = strtok_r(copy, ".", &rest), *next = step ? strtok_r(NULL, ".", &rest) : NULL;
    for (; next; step = next, next = strtok_r(NULL, ".", &rest))
        at = cJSON_IsArray(at) ? cJSON_GetArrayItem(at, (int)strtol(step, NULL, 10))
                               : cJSON_GetObjectItemCaseSensitive(at, step);
    cJSON *fresh = cJSON_Duplicate(value, true);
    bool put = at && step && fresh;
    if (put && cJSON_IsArray(at))
        put = cJSON_ReplaceItemInArray(at, (int)strtol(step, NULL, 10), fresh);
    else if (put)
        put = cJSON_ReplaceItemInObjectCaseSensitive(at, step, fresh);
    if (!put)
        give_up(path);
}

static void count(const char *name, const char *what, bool good, const char *why, long *passed,
                  long *failed) {
    *(good ? passed : failed) += 1;
    if (!good)
        printf("%s: %s: %s\n", name, what, *why ? why : "not found");
}

/* The checker is asked again where it has to judge. */
static bool still_same(const Setup *s, Command c, const char *scenario, const cJSON *oracle,
                       const cJSON *said, const int codes[2], Talk *t) {
    cJSON *judging = NULL;
    int own = 0;
    if (c == FIRST)
        return same_first(t, oracle, codes[0], said, codes[1]);
    bool same = ask_checker(s, c, scenario, said, &judging, &own, t) &&
                same_phases(t, judging, own, said, codes[1]);
    cJSON_Delete(judging);
    return same;
}

static void check_fault(const Setup *s, const char *cases, const cJSON *fault, long *passed,
                        long *failed) {
    char scenario[2048], why[1024] = "";
    Talk t = {why, sizeof why};
    const char *name = text_of(fault, "case"), *says = text_of(fault, "says");
    const cJSON *edit;
    cJSON *oracle = NULL;
    Command c;
    int codes[2] = {0, 0}; /* the checker's, the program's */
    if (!write_case(s, cases, name, scenario, sizeof scenario, &c) ||
        !ask_checker(s, c, scenario, NULL, &oracle, &codes[0], &t)) {
        count(name, says, false, "the case does not stand", passed, failed);
        return;
    }
    cJSON *said = cJSON_Duplicate(oracle, true);
    codes[1] = codes[0];
    count(name, "as it is", still_same(s, c, scenario, oracle, said, codes, &t), why, passed,
          failed);
    cJSON_ArrayForEach(edit, get(fault, "edits")) put_at(said, edit->string, edit);
    bool moved = get(fault, "code") != NULL;
    if (moved)
        codes[1] = (int)get(fault, "code")->valuedouble;
    bool changed = moved || !cJSON_Compare(said, oracle, true);
    why[0] = '\0';
    bool found =
        changed && !still_same(s, c, scenario, oracle, said, codes, &t) && strstr(why, says);
    count(name, says, found, why, passed, failed);
    cJSON_Delete(said);
    cJSON_Delete(oracle);
}

int check_later_faults(const Setup *s, const char *file) {
    char path[2048];
    const char *slash = strrchr(file, '/');
    const cJSON *fault;
    long passed = 0, failed = 0;
    snprintf(path, sizeof path, "%.*s/faults.json", slash ? (int)(slash - file) : 1,
             slash ? file : ".");
    cJSON *faults = read_json(path);
    cJSON_ArrayForEach(fault, faults) check_fault(s, file, fault, &passed, &failed);
    cJSON_Delete(faults);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed || !passed ? 1 : 0;
}
