/* Where answers may go by steps, read off the catalog: stairs of tables, stepped formulas, rows. */
#include "steps.h"

#include <math.h>
#include <string.h>

enum { DEPTH = 20 };

/* Like in_job, for a file that may be missing. */
static const cJSON *file_named(const Job *job, const char *name) {
    size_t folder = strlen(job->folder);
    for (size_t d = 0; d < job->count; d++)
        if (strcmp(job->docs[d].path + folder + 1, name) == 0)
            return job->docs[d].root;
    return NULL;
}

static const cJSON *entry(const cJSON *list, const char *name, const char *text) {
    const cJSON *one;
    cJSON_ArrayForEach(one, list) {
        if (strcmp(text_of(one, name), text) == 0)
            return one;
    }
    return NULL;
}

/* Neighbours a hundredth apart that give unlike numbers. */
static bool is_stair(const cJSON *table) {
    const cJSON *at = member(table, "at"), *gives = member(table, "gives");
    for (int i = 1; i < cJSON_GetArraySize(at); i++) {
        double run =
            cJSON_GetArrayItem(at, i)->valuedouble - cJSON_GetArrayItem(at, i - 1)->valuedouble;
        if (run < 0.011 && cJSON_GetArrayItem(gives, i)->valuedouble !=
                               cJSON_GetArrayItem(gives, i - 1)->valuedouble)
            return true;
    }
    return false;
}

static bool has_stair(const cJSON *json) {
    const cJSON *one;
    if (is_stair(member(json, "table")))
        return true;
    cJSON_ArrayForEach(one, json) {
        if (has_stair(one))
            return true;
    }
    return false;
}

/* Whether an expression has a stair, or reads a derived fact that has one. */
static bool leaps(const Job *job, const cJSON *json, int depth) {
    const cJSON *derived;
    if (has_stair(json))
        return true;
    cJSON_ArrayForEach(derived, in_job(job, "facts.json", "derived")) {
        if (depth < DEPTH && mentions(json, text_of(derived, "role"), text_of(derived, "fact")) &&
            leaps(job, member(derived, "is"), depth + 1))
            return true;
    }
    return false;
}

bool use_has_steps(const Job *job, const char *id) {
    return leaps(job, entry(in_job(job, "uses.json", "uses"), "id", id), 0);
}

/* 20.32 mm each, rounded up; whole lines and steps of the clock; kinds of link by number. */
static bool is_stepped_formula(const char *name) {
    static const char *const names[] = {"slots_covered", "picture_gbit_s", "pcie_gb_s", "usb_mb_s",
                                        "displayport_gbit_s"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(name, names[i]) == 0)
            return true;
    return false;
}

static void add_steps(const Job *job, const cJSON *json, int depth, Steps *steps);

static void add_measure(const Job *job, const char *id, int depth, Steps *steps) {
    const cJSON *is =
        member(entry(member(file_named(job, "measures.json"), "measures"), "measure", id), "is");
    if (depth == DEPTH)
        return;
    steps->leaps = steps->leaps || leaps(job, is, 0);
    add_steps(job, is, depth + 1, steps);
}

static void add_steps(const Job *job, const cJSON *json, int depth, Steps *steps) {
    const cJSON *one;
    steps->sound =
        steps->sound || member(json, "sound") != NULL || member(json, "share_of_sound") != NULL;
    steps->rows = steps->rows || member(json, "row") != NULL;
    steps->leaps = steps->leaps || is_stepped_formula(text_of(json, "formula"));
    if (*text_of(json, "measure") != '\0')
        add_measure(job, text_of(json, "measure"), depth, steps);
    cJSON_ArrayForEach(one, json) add_steps(job, one, depth, steps);
}

Steps steps_of_measure(const Job *job, const char *id) {
    Steps steps = {false, false, false};
    add_measure(job, id, 0, &steps);
    return steps;
}

bool feeds_derived(const Job *job, const char *role, const char *fact) {
    const cJSON *derived;
    cJSON_ArrayForEach(derived, in_job(job, "facts.json", "derived")) {
        if (strcmp(text_of(derived, "role"), role) == 0 &&
            mentions(member(derived, "is"), role, fact))
            return true;
    }
    return false;
}

bool is_told(const Job *job, const Number *number) {
    static const char *const files[] = {"uses.json", "measures.json", "criteria.json"};
    static const char *const heard[] = {"noise", "declared", "steady", "tone"};
    const char *fact = number->fact;
    for (size_t i = 0; i < sizeof files / sizeof *files; i++)
        if (mentions(file_named(job, files[i]), number->role, fact))
            return true;
    for (size_t i = 0; i < sizeof heard / sizeof *heard; i++)
        if (strcmp(text_of(quiet_of(job), heard[i]), fact) == 0)
            return true;
    return number->thing >= 0 || feeds_derived(job, number->role, fact);
}

static bool has_unit(const char *fact) {
    static const char *const ends[] = {"_w",    "_mm",   "_db",     "_dba",   "_gb",     "_mt_s",
                                       "_mb_s", "_gb_s", "_hz",     "_m3_h",  "_cm2",    "_pa",
                                       "_ma",   "_c",    "_v",      "_k_w",   "_rate",   "_share",
                                       "_mp",   "_gbit", "_gbit_s", "_speed", "_factor", "_pt"};
    size_t length = strlen(fact);
    if (strncmp(fact, "pace_", 5) == 0)
        return true;
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++)
        if (length > strlen(ends[i]) && strcmp(fact + length - strlen(ends[i]), ends[i]) == 0)
            return true;
    return false;
}

/* Fans of no heat, or of no strength, turn at full speed; those of a little hardly. */
static bool starts_fans(const Job *job, const Number *number) {
    const cJSON *run;
    cJSON_ArrayForEach(run, member(quiet_of(job), "runs")) {
        if (fabs(number->value) < 0.1 &&
            (comes_from(job, text_of(run, "by"), number->role, number->fact) ||
             comes_from(job, text_of(run, "full"), number->role, number->fact)))
            return true;
    }
    return false;
}

/* 0 mostly says that there is none, and a thousandth of something is another thing; not in dB. */
static bool is_none(const Number *number) {
    size_t length = strlen(number->fact);
    bool decibels = length > 3 && (strcmp(number->fact + length - 3, "_db") == 0 ||
                                   strcmp(number->fact + length - 3, "dba") == 0);
    return fabs(number->value) < 0.1 && !decibels;
}

bool is_smooth(const Job *job, const Number *number) {
    return has_unit(number->fact) && !is_none(number) && !starts_fans(job, number);
}
