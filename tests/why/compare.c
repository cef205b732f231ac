/* Compares the checker's answer to "why" with the program's: the first difference. */
#include "driver.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PERCENTS = 101 };

static const long long dearest = 1000000000;

static int digits_of(const char *currency) {
    return !strcmp(currency, "JPY") ? 0 : !strcmp(currency, "TND") ? 3 : 2;
}

long long minor_units(const cJSON *money, const char *currency) {
    int digits = digits_of(currency), after = -1;
    long long n = 0;
    if (!cJSON_IsString(money))
        return dearest;
    for (const char *p = money->valuestring; *p; p++) {
        if (*p == '.')
            after = 0;
        if (*p == '.')
            continue;
        n = n * 10 + (*p - '0');
        after += after >= 0;
    }
    for (int i = after < 0 ? 0 : after; i < digits; i++)
        n *= 10;
    return n;
}

void money_text(long long minor, const char *currency, char *out, size_t size) {
    int digits = digits_of(currency);
    long long unit = digits == 0 ? 1 : digits == 2 ? 100 : 1000;
    if (digits)
        snprintf(out, size, "%lld.%0*lld", minor / unit, digits, minor % unit);
    else
        snprintf(out, size, "%lld", minor);
}

static bool is_null(const cJSON *value) { return !value || cJSON_IsNull(value); }

/* Both there or neither; a name that is missing is no null. */
static bool both_there(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    if (b && is_null(a) == is_null(b))
        return true;
    snprintf(t->why, t->size, "%s: the checker has %s, the program %s", what,
             is_null(a) ? "none" : "one",
             !b           ? "no such name"
             : is_null(b) ? "none"
                          : "one");
    return false;
}

static bool same_bundle(Talk *t, const char *what, const cJSON *oracle, const cJSON *program) {
    const cJSON *a = get(oracle, what), *b = get(program, what);
    return both_there(t, what, a, b) && (is_null(a) || same_content(t, what, a, b));
}

static bool same_along(Talk *t, const cJSON *a, const cJSON *b) {
    if (!b || !same_count(t, "along", a, b)) {
        if (!b)
            snprintf(t->why, t->size, "along: the program has no such name");
        return false;
    }
    for (int i = 0; i < cJSON_GetArraySize(a); i++)
        if (!same_text(t, "along", cJSON_GetArrayItem(a, i)->valuestring,
                       cJSON_GetArrayItem(b, i)->valuestring))
            return false;
    return true;
}

static const char *or_null(const cJSON *object, const char *name) {
    return cJSON_IsNull(get(object, name)) ? "null" : text_of(object, name);
}

static bool is_settled(Talk *t, const char *what, const cJSON *program) {
    if (cJSON_IsTrue(get(program, "settled")))
        return true;
    snprintf(t->why, t->size, "%s: the program did not settle it", what);
    return false;
}

static bool same_intervals(Talk *t, const cJSON *a, const cJSON *b, const char *currency) {
    char which[64], x[32], y[32];
    static const char *const ends[] = {"from", "to"};
    if (!same_count(t, "intervals of entry prices", a, b))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(a); i++)
        for (int k = 0; k < 2; k++) {
            const cJSON *end = get(cJSON_GetArrayItem(b, i), ends[k]);
            money_text(minor_units(get(cJSON_GetArrayItem(a, i), ends[k]), currency), currency, x,
                       sizeof x);
            money_text(minor_units(end, currency), currency, y, sizeof y);
            snprintf(which, sizeof which, "entry price %d, %s", i + 1, ends[k]);
            if (!same_text(t, which, x, y))
                return false;
        }
    return true;
}

static bool same_entry(Talk *t, const cJSON *a, const cJSON *b, const char *currency) {
    if (!both_there(t, "entry prices", a, b))
        return false;
    if (is_null(a))
        return true;
    return same_text(t, "who is asked", text_of(a, "seller"), text_of(b, "seller")) &&
           same_text(t, "what is asked", text_of(a, "price"), text_of(b, "price")) &&
           is_settled(t, "entry prices", b) &&
           same_intervals(t, get(a, "intervals"), get(b, "intervals"), currency);
}

/* False where a range is none, or does not follow the one before it with a gap. */
static bool spread_out(const cJSON *ranges, bool *in) {
    const cJSON *range;
    int least = 0;
    memset(in, 0, PERCENTS * sizeof *in);
    cJSON_ArrayForEach(range, ranges) {
        const cJSON *from = get(range, "from"), *to = get(range, "to");
        if (!cJSON_IsNumber(from) || !cJSON_IsNumber(to) || from->valuedouble < least ||
            to->valuedouble < from->valuedouble || to->valuedouble > 100)
            return false;
        for (int p = (int)from->valuedouble; p <= (int)to->valuedouble; p++)
            in[p] = true;
        least = (int)to->valuedouble + 2;
    }
    return cJSON_IsArray(ranges);
}

static bool may_be_either(const cJSON *either, int percent) {
    const cJSON *item;
    cJSON_ArrayForEach(item, either) if ((int)item->valuedouble == percent) return true;
    return false;
}

static bool same_criterion(Talk *t, const cJSON *a, const cJSON *b) {
    bool x[PERCENTS], y[PERCENTS];
    char what[128];
    const char *id = text_of(a, "criterion");
    if (!same_text(t, "criterion weighed", id, text_of(b, "criterion")))
        return false;
    snprintf(what, sizeof what, "weight of %s", id);
    if (!same_text(t, what, text_of(a, "now"), text_of(b, "now")) || !is_settled(t, what, b))
        return false;
    if (cJSON_GetArraySize(get(b, "open")) > 0) {
        snprintf(t->why, t->size, "%s: the program left some percents open", what);
        return false;
    }
    if (!spread_out(get(a, "ranges"), x) || !spread_out(get(b, "ranges"), y)) {
        snprintf(t->why, t->size, "%s: the ranges are no rising ranges", what);
        return false;
    }
    for (int p = 0; p < PERCENTS; p++)
        if (x[p] != y[p] && !may_be_either(get(a, "either"), p)) {
            snprintf(t->why, t->size,
                     "%s at %d percent: the checker has the part %s, the program %s", what, p,
                     x[p] ? "in" : "out", y[p] ? "in" : "out");
            return false;
        }
    return true;
}

static bool same_weights(Talk *t, const cJSON *a, const cJSON *b) {
    if (!same_count(t, "criteria weighed", a, b))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(a); i++)
        if (!same_criterion(t, cJSON_GetArrayItem(a, i), cJSON_GetArrayItem(b, i)))
            return false;
    return true;
}

static bool same_over(Talk *t, const cJSON *a, const cJSON *b) {
    if (!a)
        return true;
    return same_text(t, "over", text_of(a, "part"), text_of(b, "part")) &&
           same_bundle(t, "this", a, b) && same_bundle(t, "other", a, b);
}

static bool same_part(Talk *t, const cJSON *a, const cJSON *b) {
    bool x = cJSON_IsTrue(get(a, "present")), y = cJSON_IsTrue(get(b, "present"));
    return same_text(t, "part", text_of(a, "part"), text_of(b, "part")) &&
           same_text(t, "role of the part", text_of(a, "role"), text_of(b, "role")) &&
           same_text(t, "present", x ? "true" : "false", y ? "true" : "false");
}

static bool same_answers(Talk *t, const cJSON *a, const cJSON *b) {
    return same_text(t, "standing", text_of(a, "standing"), text_of(b, "standing")) &&
           same_bundle(t, "best", a, b) && same_bundle(t, "with", a, b) &&
           same_bundle(t, "without", a, b) && same_bundle(t, "cheapest_with", a, b) &&
           same_along(t, get(a, "along"), get(b, "along")) &&
           same_text(t, "behind", or_null(a, "behind"), or_null(b, "behind")) &&
           same_entry(t, get(a, "entry"), get(b, "entry"), text_of(b, "currency")) &&
           same_weights(t, get(a, "weights"), get(b, "weights")) &&
           same_over(t, get(a, "over"), get(b, "over"));
}

bool same_why(Talk *t, const cJSON *oracle, int oracle_code, const cJSON *program, int code) {
    if (oracle_code != code) {
        snprintf(t->why, t->size, "exit codes: the checker %d, the program %d", oracle_code, code);
        return false;
    }
    if (!same_text(t, "status", text_of(oracle, "status"), text_of(program, "status")) ||
        !same_part(t, get(oracle, "part"), get(program, "part")))
        return false;
    if (cJSON_IsTrue(get(program, "unsettled"))) {
        snprintf(t->why, t->size, "the program settled not all of it");
        return false;
    }
    /* Where nothing fits the program may leave it at that. */
    if (code == 1 && !get(program, "standing"))
        return true;
    return same_answers(t, oracle, program);
}
