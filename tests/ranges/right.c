/*
 * Right answers, made by asking the checker again and again, in the shape of the
 * program's: for the trial of the driver itself.
 */
#include "right.h"

#include <stdio.h>
#include <string.h>

static const long long dearest = 1000000000;

/* A change of one number: what stands before it, and how it is written. */
typedef struct Line {
    Job *j;
    char what[256];
    bool money;
} Line;

static bool stays_at(const Line *l, long long number) {
    Words w = {.n = 0};
    char text[32];
    int code;
    if (l->money)
        money_of(l->j, number, text, sizeof text);
    else
        snprintf(text, sizeof text, "%lld", number);
    add_word(&w, "%s", l->j->s->brute);
    add_word(&w, "%s", l->j->scenario);
    add_word(&w, "--stays");
    add_word(&w, "%s:%s", l->what, text);
    add_word(&w, "--");
    cJSON *answer = must_have(ask(l->j->s, &w, &code));
    bool stays = cJSON_IsTrue(get(cJSON_GetArrayItem(get(answer, "at"), 0), "stays"));
    cJSON_Delete(answer);
    return stays;
}

/* The last number from `good` towards `limit` at which it stays. */
static long long last_good(const Line *l, long long good, long long limit) {
    long long step = 1, way = limit < good ? -1 : 1, bad;
    if (good == limit)
        return good;
    for (;; step *= 2) {
        bad = good + way * step;
        if (way * (bad - limit) >= 0) {
            if (stays_at(l, limit))
                return limit;
            bad = limit;
            break;
        }
        if (!stays_at(l, bad))
            break;
        good = bad;
    }
    while (way * (bad - good) > 1) {
        long long middle = good + (bad - good) / 2;
        *(stays_at(l, middle) ? &good : &bad) = middle;
    }
    return good;
}

static void put_money(Job *j, cJSON *into, const char *name, long long minor) {
    char text[32];
    money_of(j, minor, text, sizeof text);
    cJSON_AddStringToObject(into, name, text);
}

static void put_range(const Line *l, cJSON *into, long long now) {
    long long to = last_good(l, now, dearest);
    put_money(l->j, into, "from", last_good(l, now, 0));
    if (to == dearest)
        cJSON_AddNullToObject(into, "to");
    else
        put_money(l->j, into, "to", to);
    cJSON_AddTrueToObject(into, "settled");
}

static void put_budget(Job *j, cJSON *out) {
    Line l = {j, "budget", true};
    put_range(&l, must_have(cJSON_AddObjectToObject(out, "budget")),
              minor_of(j, text_of(get(j->json, "budget"), "total")));
}

static void put_prices(Job *j, const cJSON *best, cJSON *out) {
    cJSON *prices = must_have(cJSON_AddArrayToObject(out, "prices"));
    const cJSON *swap, *in;
    cJSON_ArrayForEach(swap, get(best, "swaps")) cJSON_ArrayForEach(in, get(swap, "in")) {
        if (!strcmp(text_of(in, "seller"), "client"))
            continue;
        long long now =
            minor_of(j, text_of(in, "price")) / (long long)get(in, "count")->valuedouble;
        Line l = {j, "", true};
        cJSON *one = must_have(cJSON_CreateObject());
        snprintf(l.what, sizeof l.what, "price:%s:%s", text_of(in, "part"), text_of(in, "seller"));
        cJSON_AddStringToObject(one, "part", text_of(in, "part"));
        cJSON_AddStringToObject(one, "seller", text_of(in, "seller"));
        put_money(j, one, "now", now);
        put_range(&l, one, now);
        cJSON_AddItemToArray(prices, one);
    }
}

/* Swings alone, and only where the weight is a whole percent. */
static bool put_weights(Job *j, cJSON *out) {
    cJSON *weights = must_have(cJSON_AddArrayToObject(out, "weights"));
    const cJSON *swings = get(get(j->json, "wishes"), "swings"), *one;
    double sum = 0;
    int n = 0;
    cJSON_ArrayForEach(one, swings) {
        sum += one->valuedouble;
        n += one->valuedouble > 0;
    }
    cJSON_ArrayForEach(one, swings) {
        long long percent = (long long)(100 * one->valuedouble / sum + 0.5);
        Line l = {j, "", false};
        if (n < 2 || one->valuedouble <= 0)
            continue;
        snprintf(l.what, sizeof l.what, "weight:%s", one->string);
        if ((double)percent * sum != 100 * one->valuedouble || !stays_at(&l, percent))
            return false;
        cJSON *told = must_have(cJSON_CreateObject());
        cJSON_AddStringToObject(told, "criterion", one->string);
        cJSON_AddNumberToObject(told, "now_percent", (double)percent);
        cJSON_AddNumberToObject(told, "from", (double)last_good(&l, percent, 0));
        cJSON_AddNumberToObject(told, "to", (double)last_good(&l, percent, 100));
        cJSON_AddTrueToObject(told, "settled");
        cJSON_AddItemToArray(weights, told);
    }
    return n > 0;
}

cJSON *right_ranges(Job *j) {
    Words w = {.n = 0};
    int code;
    add_word(&w, "%s", j->s->brute);
    add_word(&w, "%s", j->scenario);
    cJSON *best = must_have(ask(j->s, &w, &code)), *out = must_have(cJSON_CreateObject());
    if (code != 0 || !put_weights(j, out)) {
        cJSON_Delete(best);
        cJSON_Delete(out);
        return NULL;
    }
    cJSON_AddStringToObject(out, "status", "optimal");
    cJSON_AddFalseToObject(out, "unsettled");
    put_budget(j, out);
    put_prices(j, best, out);
    cJSON_AddItemToObject(out, "bundle", best);
    return out;
}

static void put_case(Job *j, const Set *set, int value, const char *name, cJSON *into) {
    Words w = {.n = 0};
    cJSON *copy = must_have(cJSON_Duplicate(j->json, true));
    int code;
    if (set && !patch(copy, set->path, set->each[value]))
        give_up(set->path);
    write_tree(j->changed, copy);
    cJSON_Delete(copy);
    add_word(&w, "%s", j->s->brute);
    add_word(&w, "%s", j->changed);
    add_word(&w, "--before");
    add_word(&w, "%s", j->scenario);
    cJSON *one = must_have(ask(j->s, &w, &code)), *told = must_have(cJSON_CreateObject());
    static const char *const names[] = {"status", "stands", "stands_points", "stands_cost"};
    for (int i = 0; i < 4; i++)
        if (get(one, names[i]))
            cJSON_AddStringToObject(told, names[i], text_of(one, names[i]));
    if (set)
        cJSON_AddStringToObject(told, "value", set->each[value]);
    if (code == 0)
        cJSON_AddItemToObject(told, "bundle", one);
    else
        cJSON_Delete(one);
    if (name)
        cJSON_AddItemToObject(into, name, told);
    else
        cJSON_AddItemToArray(into, told);
}

/* Of one swept change. */
cJSON *right_whatif(Job *j, const Sets *sets) {
    cJSON *out = must_have(cJSON_CreateObject());
    put_case(j, NULL, 0, "present", out);
    cJSON_AddArrayToObject(out, "changes");
    cJSON_AddStringToObject(out, "swept", sets->at[0].path);
    cJSON *cases = must_have(cJSON_AddArrayToObject(out, "cases"));
    for (int i = 0; i < sets->at[0].values; i++)
        put_case(j, &sets->at[0], i, NULL, cases);
    return out;
}
