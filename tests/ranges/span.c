/*
 * The ranges that the program tells, asked of the checker: at both ends and inside the
 * best bundle is the same, one unit outside each end it is another, or nothing fits.
 */
#include "ranges.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_TRIALS = 300, NAMES = 96, CLOSE = 20, INSIDE = 3 };
static const long long dearest = 1000000000;

typedef struct Trial { /* one change, and what the program's range says of it */
    char change[288];
    bool inside, weight;
} Trial;

typedef struct Trials {
    Trial at[MOST_TRIALS];
    int n;
} Trials;

typedef struct Ask { /* a price that has to be told */
    char part[NAMES], seller[NAMES];
    long long now;
} Ask;

typedef struct Asks {
    Ask at[32];
    int n;
} Asks;

static void add_trial(Trials *ts, bool weight, bool inside, const char *what, const char *value) {
    if (ts->n == MOST_TRIALS)
        give_up("more trials than the driver holds");
    Trial *one = &ts->at[ts->n++];
    one->inside = inside;
    one->weight = weight;
    if (snprintf(one->change, sizeof one->change, "%s:%s", what, value) >= (int)sizeof one->change)
        give_up("a change that is too long");
}

static void add_money(const Job *j, Trials *ts, bool inside, const char *what, long long minor) {
    char money[32];
    if (minor < 0 || minor > dearest)
        return;
    money_of(j, minor, money, sizeof money);
    add_trial(ts, false, inside, what, money);
}

/* Where there is no end, high up and just under the highest there may be. */
static bool try_money(Job *j, Trials *ts, const char *what, const cJSON *range) {
    const cJSON *first = get(range, "from"), *last = get(range, "to");
    if (!cJSON_IsString(first) || !last || (!cJSON_IsString(last) && !cJSON_IsNull(last)))
        return fail(j->t, "%s: no ends of a range", what);
    /* What is told of a price that is not settled must still hold inside. */
    bool whole = cJSON_IsTrue(get(range, "settled"));
    if (!whole && (!j->unsettled || !strcmp(what, "budget")))
        return fail(j->t, "%s: not settled", what);
    j->tally->unsettled += !whole;
    long long from = minor_of(j, first->valuestring);
    long long to = cJSON_IsString(last) ? minor_of(j, last->valuestring) : dearest;
    if (from > to)
        return fail(j->t, "%s: from %lld to %lld", what, from, to);
    j->tally->endless += cJSON_IsNull(last);
    add_money(j, ts, true, what, from);
    add_money(j, ts, true, what, to);
    if (whole) {
        add_money(j, ts, false, what, from - 1);
        add_money(j, ts, false, what, to + 1);
    }
    for (int i = 0; i < INSIDE; i++) {
        long long wide = to - from > 20000 && i ? 20000 : to - from;
        add_money(j, ts, true, what, from + (long long)((double)wide * below(j, 10001) / 10000.0));
    }
    return true;
}

static void add_ask(Asks *as, const char *part, const char *seller, long long now) {
    for (int i = 0; i < as->n; i++)
        if (!strcmp(as->at[i].part, part))
            return;
    if (as->n == 32)
        give_up("more prices than the driver holds");
    Ask *a = &as->at[as->n++];
    snprintf(a->part, sizeof a->part, "%s", part);
    snprintf(a->seller, sizeof a->seller, "%s", seller);
    a->now = now;
}

/* What is bought for the bundle: the client is no seller. */
static void ask_for_bought(const Job *j, const cJSON *best, Asks *as) {
    const cJSON *swap, *in;
    cJSON_ArrayForEach(swap, get(best, "swaps"))
        cJSON_ArrayForEach(in, get(swap, "in")) if (strcmp(text_of(in, "seller"), "client") != 0)
            add_ask(as, text_of(in, "part"), text_of(in, "seller"),
                    minor_of(j, text_of(in, "price")) / (long long)get(in, "count")->valuedouble);
}

/* Of a part that is not bought: who is asked by section 13; nobody, perhaps. */
static bool ask_for_named(Job *j, const char *part, Asks *as) {
    Words w = {.n = 0};
    int code;
    add_word(&w, "%s", j->s->brute);
    add_word(&w, "--why");
    add_word(&w, "%s", part);
    add_word(&w, "%s", j->scenario);
    cJSON *why = ask(j->s, &w, &code);
    if (!why)
        return fail(j->t, "the checker's why ended with %d", code);
    const cJSON *entry = get(why, "entry");
    if (cJSON_IsObject(entry))
        add_ask(as, part, text_of(entry, "seller"), minor_of(j, text_of(entry, "price")));
    cJSON_Delete(why);
    return true;
}

static const Ask *find_ask(const Asks *as, const cJSON *told) {
    for (int i = 0; i < as->n; i++)
        if (!strcmp(as->at[i].part, text_of(told, "part")) &&
            !strcmp(as->at[i].seller, text_of(told, "seller")))
            return &as->at[i];
    return NULL;
}

static bool try_prices(Job *j, Trials *ts, const cJSON *prices, const Asks *as) {
    char what[272];
    const cJSON *told;
    if (cJSON_GetArraySize(prices) != as->n)
        return fail(j->t, "prices: %d are told, not %d", cJSON_GetArraySize(prices), as->n);
    cJSON_ArrayForEach(told, prices) {
        const Ask *a = find_ask(as, told);
        if (!a)
            return fail(j->t, "prices: %s of %s is not asked for", text_of(told, "part"),
                        text_of(told, "seller"));
        if (!cJSON_IsString(get(told, "now")) || minor_of(j, text_of(told, "now")) != a->now)
            return fail(j->t, "prices: %s is %s now, not %lld", a->part, text_of(told, "now"),
                        a->now);
        snprintf(what, sizeof what, "price:%s:%s", a->part, a->seller);
        if (!try_money(j, ts, what, told))
            return false;
        add_money(j, ts, true, what, a->now);
        long long from = minor_of(j, text_of(told, "from"));
        if (a->now < from ||
            (cJSON_IsString(get(told, "to")) && a->now > minor_of(j, text_of(told, "to"))))
            return fail(j->t, "prices: %s is not within its own range", a->part);
        j->tally->priced++;
    }
    return true;
}

/* In percent, by the swings or by the ranks; 0: not weighed. */
static double weight_of(const Job *j, const char *criterion) {
    const cJSON *wishes = get(j->json, "wishes"), *item;
    int n = cJSON_GetArraySize(get(wishes, "ranks")), at = 0;
    double sum = 0, own = 0;
    cJSON_ArrayForEach(item, get(wishes, "ranks")) {
        at++;
        for (int i = at; i <= n && !strcmp(item->valuestring, criterion); i++)
            own += 1.0 / i;
    }
    if (n)
        return 100.0 * own / n;
    cJSON_ArrayForEach(item, get(wishes, "swings")) {
        sum += item->valuedouble;
        own += !strcmp(item->string, criterion) ? item->valuedouble : 0;
    }
    return sum > 0 ? 100.0 * own / sum : 0;
}

static int weighed(const Job *j) {
    const cJSON *wishes = get(j->json, "wishes"), *item;
    int n = cJSON_GetArraySize(get(wishes, "ranks"));
    cJSON_ArrayForEach(item, get(wishes, "swings")) n += item->valuedouble > 0;
    return n > 1 ? n : 0;
}

static void add_percent(Trials *ts, bool inside, const char *what, int percent) {
    char text[16];
    snprintf(text, sizeof text, "%d", percent);
    if (percent >= 0 && percent <= 100)
        add_trial(ts, true, inside, what, text);
}

/* No whole percent near the weight may be one at which the bundle stays best. */
static bool try_weight(Job *j, Trials *ts, const char *what, double now, const cJSON *told) {
    const cJSON *first = get(told, "from"), *last = get(told, "to");
    int lower = (int)floor(now + 1e-9), upper = (int)ceil(now - 1e-9);
    bool none = !cJSON_IsNumber(first) || !cJSON_IsNumber(last);
    int from = none ? 101 : (int)first->valuedouble, to = none ? -1 : (int)last->valuedouble;
    if (!cJSON_IsTrue(get(told, "settled")))
        return fail(j->t, "%s: not settled", what);
    if (!none && (from < 0 || to > 100 || from > upper || to < lower))
        return fail(j->t, "%s: from %d to %d is not around %.3f", what, from, to, now);
    add_percent(ts, lower >= from && lower <= to, what, lower);
    add_percent(ts, upper >= from && upper <= to, what, upper);
    if (none || from > to)
        return true;
    add_percent(ts, false, what, from - 1);
    add_percent(ts, true, what, from);
    add_percent(ts, true, what, to);
    add_percent(ts, false, what, to + 1);
    for (int i = 0; i < INSIDE; i++)
        add_percent(ts, true, what, from + below(j, to - from + 1));
    return true;
}

static bool try_weights(Job *j, Trials *ts, const cJSON *weights) {
    char what[272];
    const cJSON *told, *other;
    if (cJSON_GetArraySize(weights) != weighed(j))
        return fail(j->t, "weights: %d are told, not %d", cJSON_GetArraySize(weights), weighed(j));
    cJSON_ArrayForEach(told, weights) {
        const char *id = text_of(told, "criterion");
        double now = weight_of(j, id);
        const cJSON *shown = get(told, "now_percent");
        for (other = told->next; other; other = other->next)
            if (!strcmp(text_of(other, "criterion"), id))
                return fail(j->t, "weights: %s is told twice", id);
        if (now <= 0)
            return fail(j->t, "weights: \"%s\" does not count now", id);
        if (!cJSON_IsNumber(shown) || fabs(shown->valuedouble - now) > 0.0501)
            return fail(j->t, "weights: %s counts %.3f percent now, told otherwise", id, now);
        snprintf(what, sizeof what, "weight:%s", id);
        if (!try_weight(j, ts, what, now, told))
            return false;
    }
    return true;
}

/* Within 0.02 points a percent may be told either way. */
static bool may_be_either(const cJSON *lead) {
    return cJSON_IsString(lead) && fabs(strtod(lead->valuestring, NULL)) * 1000.0 <= CLOSE + 0.5;
}

static bool judge_trial(Job *j, const Trial *one, const cJSON *answer) {
    bool stays = cJSON_IsTrue(get(answer, "stays"));
    if (one->weight && may_be_either(get(answer, "lead"))) {
        j->tally->either++;
        return true;
    }
    *(one->inside ? &j->tally->inside : &j->tally->outside) += 1;
    if (stays == one->inside)
        return true;
    return fail(j->t, "%s: by the program's range the bundle %s best, the checker finds %s",
                one->change, one->inside ? "stays" : "is no more",
                stays ? "that it stays" : "another");
}

static bool judge_trials(Job *j, const Trials *ts) {
    Words w = {.n = 0};
    int code;
    add_word(&w, "%s", j->s->brute);
    add_word(&w, "%s", j->scenario);
    add_word(&w, "--stays");
    for (int i = 0; i < ts->n; i++)
        add_word(&w, "%s", ts->at[i].change);
    add_word(&w, "--");
    cJSON *answer = ask(j->s, &w, &code);
    const cJSON *list = get(answer, "at");
    bool good = cJSON_GetArraySize(list) == ts->n;
    if (!good)
        fail(j->t, "the checker ended with %d and %d answers", code, cJSON_GetArraySize(list));
    for (int i = 0; good && i < ts->n; i++)
        good = judge_trial(j, &ts->at[i], cJSON_GetArrayItem(list, i));
    cJSON_Delete(answer);
    return good;
}

cJSON *ask_ranges(Job *j, char *const named[], int n, int *code) {
    Words w = {.n = 0};
    add_word(&w, "%s", j->s->program);
    add_word(&w, "ranges");
    add_word(&w, "%s", j->scenario);
    for (int i = 0; i < n; i++)
        add_word(&w, "%s", named[i]);
    add_word(&w, "--seconds");
    add_word(&w, "30");
    add_word(&w, "--json");
    return ask(j->s, &w, code);
}

static bool judge_nothing(Job *j, const cJSON *program, int code) {
    j->tally->nothing_fits++;
    if (code != 1 || strcmp(text_of(program, "status"), "nothing-fits") != 0 ||
        cJSON_IsObject(get(program, "bundle")))
        return fail(j->t, "nothing fits, but the program ended with %d and says \"%s\"", code,
                    text_of(program, "status"));
    return true;
}

static bool judge_told(Job *j, const cJSON *best, const cJSON *program, char *const named[],
                       int n) {
    Trials *ts = calloc(1, sizeof *ts);
    Asks asks = {.n = 0};
    if (!ts)
        give_up("memory");
    ask_for_bought(j, best, &asks);
    bool good = same_text(j->t, "status", "optimal", text_of(program, "status")) &&
                same_content(j->t, "the best bundle", best, get(program, "bundle"));
    if (good && cJSON_IsTrue(get(program, "unsettled")) != j->unsettled)
        good = fail(j->t, "\"unsettled\" and the exit code do not agree");
    for (int i = 0; good && i < n; i++)
        good = ask_for_named(j, named[i], &asks);
    good = good && try_money(j, ts, "budget", get(program, "budget")) &&
           try_prices(j, ts, get(program, "prices"), &asks) &&
           try_weights(j, ts, get(program, "weights")) && judge_trials(j, ts);
    free(ts);
    return good;
}

bool judge_ranges(Job *j, const cJSON *program, int code, char *const named[], int n) {
    Words w = {.n = 0};
    int found;
    add_word(&w, "%s", j->s->brute);
    add_word(&w, "%s", j->scenario);
    cJSON *best = ask(j->s, &w, &found);
    bool good;
    if (!best)
        good = fail(j->t, "the checker ended with %d", found);
    else if (!program)
        good = fail(j->t, "ranges ended with %d and gave no JSON", code);
    else if (found == 1)
        good = judge_nothing(j, program, code);
    else if (code != 0 && code != 2)
        good = fail(j->t, "ranges ended with %d", code);
    else {
        long before = j->tally->unsettled;
        j->unsettled = code == 2;
        good = judge_told(j, best, program, named, n);
        if (good && code == 2 && j->tally->unsettled == before)
            good = fail(j->t, "it is not settled, and nothing in it says so");
    }
    cJSON_Delete(best);
    return good;
}

bool check_ranges(Job *j) {
    Words named = {.n = 0};
    int code;
    for (int n = below(j, 4); n > 0; n--)
        add_word(&named, "%s", any_part(j));
    j->tally->named += named.n;
    cJSON *program = ask_ranges(j, named.at, named.n, &code);
    bool good = judge_ranges(j, program, code, named.at, named.n);
    cJSON_Delete(program);
    drop_words(&named);
    return good;
}
