/* Compares the program's work with the checker's: the first difference, in words. */
#include "papers.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

bool is_null(const cJSON *json) { return !json || cJSON_IsNull(json); }

bool fail(Talk *t, const char *format, ...) {
    va_list args;
    va_start(args, format);
    vsnprintf(t->why, t->size, format, args);
    va_end(args);
    return false;
}

static const char *said(const cJSON *json) {
    return is_null(json) ? "none" : cJSON_IsString(json) ? json->valuestring : "something else";
}

/* Texts that both have; or null in both. A name that is missing is no null. */
static bool same_name(Talk *t, const char *what, const cJSON *a, const cJSON *b, const char *name) {
    const cJSON *x = get(a, name), *y = get(b, name);
    if (!y)
        return fail(t, "%s: the program has no \"%s\"", what, name);
    if (is_null(x) == is_null(y) && !strcmp(said(x), said(y)))
        return true;
    return fail(t, "%s: its %s is %s for the checker, %s for the program", what, name, said(x),
                said(y));
}

static bool same_number(Talk *t, const char *what, const cJSON *a, const cJSON *b,
                        const char *name) {
    const cJSON *x = get(a, name), *y = get(b, name);
    if (!y)
        return fail(t, "%s: the program has no \"%s\"", what, name);
    if (is_null(x) && is_null(y))
        return true;
    if (cJSON_IsNumber(x) && cJSON_IsNumber(y) &&
        fabs(x->valuedouble - y->valuedouble) <= 1e-6 + 1e-8 * fabs(x->valuedouble))
        return true;
    return fail(t, "%s: its %s is %.7g for the checker%s, %.7g for the program%s", what, name,
                is_null(x) ? 0.0 : x->valuedouble, is_null(x) ? " (none)" : "",
                is_null(y) ? 0.0 : y->valuedouble, is_null(y) ? " (none)" : "");
}

static bool same_flag(Talk *t, const char *what, const cJSON *a, const cJSON *b, const char *name) {
    const cJSON *x = get(a, name), *y = get(b, name);
    if (cJSON_IsBool(y) && cJSON_IsTrue(x) == cJSON_IsTrue(y))
        return true;
    return fail(t, "%s: its %s is %s for the checker, %s for the program", what, name,
                cJSON_IsTrue(x) ? "yes" : "no",
                cJSON_IsTrue(y)    ? "yes"
                : cJSON_IsFalse(y) ? "no"
                                   : "nothing");
}

/* Compares two lists entry by entry. */
typedef bool (*Same)(Talk *t, const char *what, const cJSON *a, const cJSON *b);

static bool same_list(Talk *t, const char *what, const cJSON *a, const cJSON *b, const char *name,
                      Same same) {
    char of[256];
    const cJSON *x = get(a, name), *y = get(b, name);
    snprintf(of, sizeof of, "%s%s%s", what, *what ? ": " : "", name);
    if (!cJSON_IsArray(y))
        return fail(t, "%s: the program has no such list", of);
    if (!same_count(t, of, x, y))
        return false;
    x = x->child;
    y = y->child;
    for (int i = 1; x && y; x = x->next, y = y->next, i++) {
        snprintf(of, sizeof of, "%s%s%s %d", what, *what ? ": " : "", name, i);
        if (!same(t, of, x, y))
            return false;
    }
    return true;
}

/* ---- the work ---- */

static bool same_item(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    return same_name(t, what, a, b, "role") && same_name(t, what, a, b, "part") &&
           same_number(t, what, a, b, "count");
}

/* Of what has no step in the file it is told whose step it is. */
static bool same_owner(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    static const char *const names[] = {"task", "charge"};
    for (int i = 0; i < 2; i++) {
        const cJSON *reason, *mine = get(a, names[i]);
        bool told = is_null(mine);
        cJSON_ArrayForEach(reason, get(b, "because")) told =
            told || (get(reason, names[i]) && !strcmp(said(get(reason, names[i])), said(mine)));
        if (!told)
            return fail(t, "%s: it is %s %s for the checker", what, names[i], said(mine));
    }
    return true;
}

static bool same_deed(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    return same_name(t, what, a, b, "stage") && same_name(t, what, a, b, "does") &&
           same_name(t, what, a, b, "step") && same_item(t, what, a, b) &&
           same_list(t, what, a, b, "with", same_item) && same_owner(t, what, a, b) &&
           same_number(t, what, a, b, "minutes") && same_number(t, what, a, b, "alone_minutes") &&
           same_flag(t, what, a, b, "billed") && same_number(t, what, a, b, "number");
}

/* Where the works differ in length the first thing that is not the same is the telling one. */
static bool same_deeds(Talk *t, const cJSON *a, const cJSON *b) {
    const cJSON *x = get(a, "work") ? get(a, "work")->child : NULL;
    const cJSON *y = get(b, "work") ? get(b, "work")->child : NULL;
    char what[64];
    for (int i = 1; x && y; x = x->next, y = y->next, i++) {
        snprintf(what, sizeof what, "work %d", i);
        if (!same_deed(t, what, x, y))
            return false;
    }
    return same_count(t, "work", get(a, "work"), get(b, "work"));
}

/* ---- the machine ---- */

static bool same_part(Talk *t, const char *what, const cJSON *a, const cJSON *list) {
    const cJSON *b;
    cJSON_ArrayForEach(
        b, list) if (!strcmp(text_of(a, "part"), text_of(b, "part")) &&
                     cJSON_IsTrue(get(a, "added")) ==
                         cJSON_IsTrue(get(b, "added"))) return same_number(t, what, a, b, "count");
    return fail(t, "%s: the program has no %s there", what, text_of(a, "part"));
}

static bool same_task(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    return same_text(t, what, said(a), said(b));
}

static bool same_role(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    const cJSON *part;
    if (!same_name(t, what, a, b, "role") ||
        !same_count(t, "parts of the machine", get(a, "parts"), get(b, "parts")))
        return false;
    cJSON_ArrayForEach(
        part, get(a, "parts")) if (!same_part(t, what, part, get(b, "parts"))) return false;
    return same_list(t, what, a, b, "tasks", same_task);
}

/* ---- what is told beside ---- */

static bool same_share(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    return same_name(t, what, a, b, "role") && same_name(t, what, a, b, "amount");
}

static bool same_lead(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    return same_name(t, what, a, b, "rule") && same_name(t, what, a, b, "need") &&
           same_name(t, what, a, b, "there") && same_list(t, what, a, b, "takes", same_share) &&
           same_list(t, what, a, b, "gives", same_share);
}

static bool same_gone(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    return same_item(t, what, a, b) && same_name(t, what, a, b, "condition") &&
           same_name(t, what, a, b, "whose") && same_name(t, what, a, b, "offer") &&
           same_flag(t, what, a, b, "keeps_files");
}

static bool same_check(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    static const char *const names[] = {"today", "foretold", "low", "high"};
    if (!same_name(t, what, a, b, "check") || !same_name(t, what, a, b, "use") ||
        !same_name(t, what, a, b, "of") || !same_number(t, what, a, b, "minutes") ||
        !same_number(t, what, a, b, "alone_minutes"))
        return false;
    for (int i = 0; i < 4; i++)
        if (!same_number(t, what, a, b, names[i]))
            return false;
    return true;
}

static bool same_call(Talk *t, const cJSON *a, const cJSON *b) {
    return same_number(t, "the call", a, b, "after_days") &&
           same_list(t, "the call", a, b, "asks", same_task);
}

static bool same_wiping(Talk *t, const cJSON *a, const cJSON *b) {
    /* Where nothing keeps files it need not be told. */
    return !cJSON_IsTrue(get(a, "wiping")) || cJSON_IsString(get(b, "wiping")) ||
           fail(t, "wiping: the checker says %s", cJSON_IsTrue(get(a, "wiping")) ? "yes" : "no");
}

static bool same_hazards(Talk *t, const cJSON *option, const cJSON *b) {
    const cJSON *x = get(option, "hazards"), *y = get(b, "hazards");
    if (!same_count(t, "hazards", x, y))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(x); i++)
        if (!same_text(t, "hazard", said(cJSON_GetArrayItem(x, i)),
                       text_of(cJSON_GetArrayItem(y, i), "hazard")))
            return false;
    return true;
}

static bool same_minutes(Talk *t, const cJSON *a, const cJSON *b) {
    return same_number(t, "minutes", a, b, "billed") && same_number(t, "minutes", a, b, "beside") &&
           same_number(t, "minutes", a, b, "alone");
}

bool same_work(Talk *t, const cJSON *checker, const cJSON *machine, const cJSON *option,
               const cJSON *program) {
    return same_list(t, "", machine, program, "machine", same_role) &&
           same_name(t, "the bundle", get(option, "bundle"), program, "points") &&
           same_name(t, "the bundle", get(option, "bundle"), program, "cost") &&
           same_number(t, "the bundle", option, program, "days_without") &&
           same_deeds(t, checker, program) &&
           same_minutes(t, get(checker, "minutes"), get(program, "minutes")) &&
           same_list(t, "", checker, program, "leads", same_lead) &&
           same_list(t, "", checker, program, "out", same_gone) &&
           same_wiping(t, checker, program) &&
           same_list(t, "", checker, program, "checks", same_check) &&
           same_call(t, get(checker, "call"), get(program, "call")) &&
           same_hazards(t, option, program);
}
