/* Compares the program's options with the checker's: the whole answer but each option. */
#include "options.h"

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

bool same_member(Talk *t, const char *what, const cJSON *oracle, const cJSON *program,
                 const char *name) {
    char of[192];
    const cJSON *a = get(oracle, name), *b = get(program, name);
    snprintf(of, sizeof of, "%s of %s", name, what);
    if (!b || is_null(a) != is_null(b))
        return fail(t, "%s: the checker has %s, the program %s", of,
                    is_null(a)          ? "none"
                    : cJSON_IsString(a) ? a->valuestring
                                        : "one",
                    !b                  ? "no such name"
                    : is_null(b)        ? "none"
                    : cJSON_IsString(b) ? b->valuestring
                                        : "one");
    return is_null(a) || same_text(t, of, text_of(oracle, name), text_of(program, name));
}

/* "-12.345" without the locale; *half is half of the last digit. */
static double number_in(const char *text, double *half) {
    double x = 0.0, unit = 1.0;
    bool minus = *text == '-', after = false;
    for (text += minus; *text; text++) {
        if (*text == '.') {
            after = true;
            continue;
        }
        x = x * 10.0 + (*text - '0');
        unit *= after ? 10.0 : 1.0;
    }
    *half = 0.5 / unit;
    return (minus ? -x : x) / unit;
}

bool near_told(Talk *t, const char *what, double value, const cJSON *told) {
    double half = 1e-6, number;
    if (cJSON_IsString(told))
        number = number_in(told->valuestring, &half);
    else if (cJSON_IsNumber(told))
        number = told->valuedouble;
    else
        return fail(t, "%s: the checker has %.6f, the program nothing", what, value);
    if (fabs(number - value) <= half * 1.000001 + 1e-9 * fabs(value))
        return true;
    return fail(t, "%s: the checker has %.6f, the program %.6f", what, value, number);
}

static bool same_budget(Talk *t, const cJSON *oracle, const cJSON *program) {
    return same_text(t, "money to spend", text_of(oracle, "budget"), text_of(program, "budget"));
}

/* A step may say which option it is, by number from 1. */
static bool same_option_of_step(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    if (!b || (is_null(a) && is_null(b)))
        return true;
    if (cJSON_IsNumber(a) && cJSON_IsNumber(b) && a->valuedouble == b->valuedouble)
        return true;
    return fail(t, "%s: the checker has option %.0f, the program %.0f", what,
                is_null(a) ? 0.0 : a->valuedouble, cJSON_IsNumber(b) ? b->valuedouble : 0.0);
}

static bool same_curve_of(Talk *t, const cJSON *oracle, const cJSON *program) {
    const cJSON *a = get(oracle, "steps")->child, *b = get(program, "steps");
    char what[64];
    int n = 0;
    if (!same_member(t, "the curve", oracle, program, "to"))
        return false;
    if (!cJSON_IsTrue(get(program, "proved")))
        return fail(t, "the curve is not proved");
    if (!same_count(t, "steps", get(oracle, "steps"), b))
        return false;
    for (b = b->child; a && b; a = a->next, b = b->next) {
        snprintf(what, sizeof what, "step %d", ++n);
        if (!same_member(t, what, a, b, "cost") || !same_member(t, what, a, b, "points") ||
            !same_option_of_step(t, what, get(a, "option"), get(b, "option")))
            return false;
        if (!get(a, "level_dba"))
            continue;
        if (!near_told(t, what, get(a, "level_dba")->valuedouble, get(b, "level_dba")) ||
            !near_told(t, what, get(a, "loudness_sone")->valuedouble, get(b, "loudness_sone")))
            return false;
    }
    return true;
}

/* Where no step has a bend the knee would be the curve's first: that need not be told. */
static bool same_knee(Talk *t, const cJSON *oracle, const cJSON *program) {
    if (cJSON_IsNull(program) && cJSON_IsFalse(get(oracle, "bends")))
        return true;
    if (is_null(oracle) != is_null(program))
        return fail(t, "knee: only one of them has any");
    return is_null(oracle) || (same_member(t, "the knee", oracle, program, "cost") &&
                               same_member(t, "the knee", oracle, program, "points"));
}

static bool same_flag(Talk *t, const char *what, const cJSON *oracle, const cJSON *program) {
    if (cJSON_IsBool(program) && cJSON_IsTrue(oracle) == cJSON_IsTrue(program))
        return true;
    return fail(t, "%s: the checker says %s, the program %s", what,
                cJSON_IsTrue(oracle) ? "yes" : "no",
                cJSON_IsTrue(program)    ? "yes"
                : cJSON_IsFalse(program) ? "no"
                                         : "nothing");
}

static bool same_end(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    char within[224];
    snprintf(within, sizeof within, "%s within the budget", what);
    if (!same_member(t, what, a, b, "costs_at_least"))
        return false;
    if (!get(a, "ended_within_budget"))
        return is_null(get(b, "ended_within_budget")) ||
               fail(t, "%s: asked, though it does not show", within);
    return same_flag(t, within, get(a, "ended_within_budget"), get(b, "ended_within_budget"));
}

/* Where nothing fits it need not be told what ends it. */
static bool same_complaint(Talk *t, const cJSON *a, const cJSON *b, bool fits) {
    char what[192];
    snprintf(what, sizeof what, "complaint %s", text_of(a, "complaint"));
    if (!same_member(t, what, a, b, "complaint") || !same_member(t, what, a, b, "use"))
        return false;
    bool told =
        fits || !is_null(get(b, "ended_within_budget")) || !is_null(get(b, "costs_at_least"));
    if (told && !same_end(t, what, a, b))
        return false;
    snprintf(what, sizeof what, "whether the complaint %s shows", text_of(a, "complaint"));
    return (!fits && is_null(get(b, "shows"))) ||
           same_flag(t, what, get(a, "shows"), get(b, "shows"));
}

static bool same_complaints(Talk *t, const cJSON *oracle, const cJSON *program, bool fits) {
    if (!same_count(t, "complaints", oracle, program))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(oracle); i++)
        if (!same_complaint(t, cJSON_GetArrayItem(oracle, i), cJSON_GetArrayItem(program, i), fits))
            return false;
    return true;
}

static bool same_nesting(Talk *t, const cJSON *a, const cJSON *b) {
    if (is_null(a) != is_null(b))
        return fail(t, "nesting: only one of them has any");
    return is_null(a) || (same_member(t, "the nested middle", a, b, "points_lost") &&
                          same_flag(t, "nested middle taken", get(a, "taken"), get(b, "taken")) &&
                          same_content(t, "the nested middle", get(a, "bundle"), get(b, "bundle")));
}

static bool same_all_options(Talk *t, const cJSON *oracle, const cJSON *program) {
    if (!same_count(t, "options", oracle, program))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(oracle); i++)
        if (!same_option(t, cJSON_GetArrayItem(oracle, i), cJSON_GetArrayItem(program, i)))
            return false;
    return true;
}

bool same_options(Talk *t, const cJSON *oracle, int oracle_code, const cJSON *program, int code) {
    if (!same_member(t, "the answer", oracle, program, "status"))
        return false;
    if (oracle_code != code)
        return fail(t, "exit code: the checker ended with %d, the program with %d", oracle_code,
                    code);
    if (!cJSON_IsFalse(get(program, "unsettled")))
        return fail(t, "the program does not say that all is settled");
    if (!same_budget(t, oracle, program) ||
        !same_member(t, "the answer", oracle, program, "valid_until") ||
        !same_complaints(t, get(oracle, "complaints"), get(program, "complaints"), code != 1))
        return false;
    /* Where nothing fits there is no more to be told. */
    if (code == 1)
        return same_count(t, "options", NULL, get(program, "options"));
    return same_all_options(t, get(oracle, "options"), get(program, "options")) &&
           same_curve_of(t, get(oracle, "curve"), get(program, "curve")) &&
           same_knee(t, get(oracle, "knee"), get(program, "knee")) &&
           same_nesting(t, get(oracle, "nesting"), get(program, "nesting"));
}
