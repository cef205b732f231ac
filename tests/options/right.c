/* The checker's answer in the words of the program: what a right program would say. */
#include "options.h"

#include <stdio.h>

static void put(cJSON *object, const char *name, cJSON *value) {
    cJSON_DeleteItemFromObjectCaseSensitive(object, name);
    cJSON_AddItemToObject(object, name, must_have(value));
}

static cJSON *in(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static void put_told(cJSON *object, const char *name, double x, int digits) {
    char text[64];
    snprintf(text, sizeof text, "%.*f", digits, x);
    put(object, name, cJSON_CreateString(text));
}

static void tell_curve(cJSON *answer) {
    cJSON *curve = in(answer, "curve"), *step;
    put(curve, "proved", cJSON_CreateTrue());
    cJSON_ArrayForEach(step, in(curve, "steps")) {
        if (!in(step, "level_dba"))
            continue;
        put_told(step, "level_dba", in(step, "level_dba")->valuedouble, 1);
        put_told(step, "loudness_sone", in(step, "loudness_sone")->valuedouble, 2);
    }
}

static void tell_rate(cJSON *to, const cJSON *from, const char *luck, const char *prefix) {
    static const char *const parts[] = {"ratio", "low", "high"};
    static const char *const names[] = {"rate", "low", "high"};
    static const char *const ratios[] = {"ratio", "ratio_low", "ratio_high"};
    char name[32], factor[32];
    put(to, "use", cJSON_CreateString(text_of(from, "use")));
    for (int i = 0; i < 3; i++) {
        snprintf(factor, sizeof factor, "%s%s", luck, parts[i]);
        double ratio = in(from, factor)->valuedouble;
        put_told(to, ratios[i], ratio, 2);
        if (!in(from, "rate_now"))
            continue;
        snprintf(name, sizeof name, "%s%s", i ? prefix : "", names[i]);
        put_told(to, "rate_now", in(from, "rate_now")->valuedouble, 1);
        put_told(to, name, in(from, "rate_now")->valuedouble * ratio, 1);
    }
}

static void tell_promises(cJSON *option) {
    const cJSON *rate;
    cJSON *promised = must_have(cJSON_CreateArray()), *rates = must_have(cJSON_CreateArray());
    cJSON_ArrayForEach(rate, in(option, "promised")) {
        cJSON *one = must_have(cJSON_CreateObject()), *two = must_have(cJSON_CreateObject());
        tell_rate(one, rate, "", "");
        tell_rate(two, rate, "chance_", "rate_");
        cJSON_AddItemToArray(promised, one);
        cJSON_AddItemToArray(rates, two);
    }
    put(option, "promised", promised);
    put(in(option, "bundle"), "rates", rates);
}

/* Where nothing fits no more is asked than whether they show. */
static void tell_complaints(cJSON *answer, bool fits) {
    cJSON *item;
    cJSON_ArrayForEach(item, in(answer, "complaints")) {
        if (!fits || !in(item, "ended_within_budget"))
            put(item, "ended_within_budget", cJSON_CreateNull());
        if (!fits)
            put(item, "costs_at_least", cJSON_CreateNull());
    }
}

static void tell_nothing(cJSON *answer) {
    cJSON_DeleteItemFromObjectCaseSensitive(answer, "curve");
    cJSON_DeleteItemFromObjectCaseSensitive(answer, "knee");
    cJSON_DeleteItemFromObjectCaseSensitive(answer, "nesting");
}

cJSON *right_answer(const cJSON *oracle) {
    cJSON *answer = must_have(cJSON_Duplicate(oracle, true)), *item;
    bool fits = cJSON_GetArraySize(in(answer, "options")) > 0;
    put(answer, "unsettled", cJSON_CreateFalse());
    tell_complaints(answer, fits);
    if (!fits) {
        tell_nothing(answer);
        return answer;
    }
    if (cJSON_IsFalse(in(in(answer, "knee"), "bends")))
        put(answer, "knee", cJSON_CreateNull());
    tell_curve(answer);
    cJSON_ArrayForEach(item, in(answer, "options")) {
        put(item, "proved", cJSON_CreateTrue());
        tell_promises(item);
    }
    return answer;
}
