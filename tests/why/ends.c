/*
 * The ends of the entry prices, with nothing of what found them: the job is written
 * again with the seller asking just that price and nobody else selling the part, and
 * planned by the program and by the checker.
 */
#include "driver.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const long long dearest = 1000000000;

typedef struct Ends {
    const Setup *s;
    Talk *t;
    Tally *tally;
    const char *part, *seller, *currency;
    char scenario[2048], listings[2048];
    char *listed;   /* the listings of the job */
    cJSON *job;     /* the scenario */
    char *baseline; /* of the job as listed */
} Ends;

/* The lines of the listings, but of the part only the seller's, at the price. */
static void write_priced(const Ends *e, long long price) {
    char money[32], *text = malloc(strlen(e->listed) + 64), *out = text;
    size_t part = strlen(e->part), seller = strlen(e->seller);
    if (!text)
        give_up("memory");
    money_text(price, e->currency, money, sizeof money);
    for (const char *line = e->listed, *next; *line; line = next) {
        next = line + strcspn(line, "\n");
        next += *next == '\n';
        bool about = !strncmp(line, e->part, part) && line[part] == ',';
        const char *who = line + part + 1;
        if (!about) {
            memcpy(out, line, (size_t)(next - line));
            out += next - line;
        } else if (!strncmp(who, e->seller, seller) && who[seller] == ',') {
            const char *rest = strchr(who + seller + 1, ',');
            if (!rest)
                give_up("a listing without a stock");
            out += sprintf(out, "%s,%s,%s", e->part, e->seller, money);
            memcpy(out, rest, (size_t)(next - rest));
            out += next - rest;
        }
    }
    *out = '\0';
    write_text(e->listings, text);
    free(text);
}

static int count_of(const cJSON *list, const char *part) {
    const cJSON *item;
    int n = 0;
    cJSON_ArrayForEach(item, list) if (!strcmp(text_of(item, "part"), part)) {
        const cJSON *count = get(item, "count");
        n += count ? (int)count->valuedouble : 1;
    }
    return n;
}

/* What stands in the machine today, less what goes out, with what comes in. */
static bool is_held(const Ends *e, const cJSON *bundle) {
    const cJSON *role, *swap;
    int n = 0;
    cJSON_ArrayForEach(role, get(e->job, "machine")) n += count_of(role, e->part);
    cJSON_ArrayForEach(swap, get(bundle, "swaps")) n +=
        count_of(get(swap, "in"), e->part) - count_of(get(swap, "out"), e->part);
    return n > 0;
}

/* Parts and tasks, whatever they cost and whoever sells them. */
static char *signature(const cJSON *bundle) {
    cJSON *copy = cJSON_Duplicate(bundle, true), *swap, *in;
    if (!copy)
        give_up("memory");
    cJSON_DeleteItemFromObject(copy, "cost");
    cJSON_ArrayForEach(swap, get(copy, "swaps")) cJSON_ArrayForEach(in, get(swap, "in")) {
        cJSON_DeleteItemFromObject(in, "price");
        cJSON_DeleteItemFromObject(in, "seller");
    }
    char *text = cJSON_PrintUnformatted(copy);
    cJSON_Delete(copy);
    if (!text)
        give_up("memory");
    return text;
}

/* The checker's plan. Sets *moved where points are measured against another baseline
 * than in the job as listed: then the best bundle may be another too. */
static bool plan_by_checker(Ends *e, bool *held, bool *moved) {
    const char *words[] = {e->s->brute, e->scenario, NULL};
    cJSON *json;
    int code;
    if (!ask(e->s, words, &json, &code, e->t))
        return false;
    *held = code == 0 && is_held(e, json);
    *moved = false;
    if (code == 0) {
        char *now = signature(get(json, "baseline"));
        *moved = !e->baseline || strcmp(now, e->baseline) != 0;
        cJSON_free(now);
    }
    cJSON_Delete(json);
    return true;
}

static bool plan_by_program(Ends *e, bool *held) {
    const char *words[] = {e->s->program, "plan", e->scenario, "--json", NULL};
    cJSON *json;
    int code;
    if (e->s->stand_in)
        return true;
    if (!ask(e->s, words, &json, &code, e->t))
        return false;
    bool good = code == 0 || code == 1;
    *held = code == 0 && is_held(e, cJSON_GetArrayItem(get(json, "bundles"), 0));
    if (!good)
        snprintf(e->t->why, e->t->size, "the program's plan ended with %d", code);
    cJSON_Delete(json);
    return good;
}

static bool check_price(Ends *e, long long price, bool wanted) {
    bool checker, program = wanted, moved;
    char money[32];
    if (price < 0 || price > dearest)
        return true;
    write_priced(e, price);
    if (!plan_by_checker(e, &checker, &moved))
        return false;
    if (moved) {
        e->tally->moved++;
        return true;
    }
    if (!plan_by_program(e, &program))
        return false;
    e->tally->prices++;
    if (checker == wanted && program == wanted)
        return true;
    money_text(price, e->currency, money, sizeof money);
    snprintf(e->t->why, e->t->size, "by the entry prices %s is %s at %s, but %s plans it %s",
             e->part, wanted ? "in" : "out", money,
             checker != wanted ? "the checker" : "the program", wanted ? "out" : "in");
    return false;
}

static bool check_intervals(Ends *e, const cJSON *intervals) {
    const cJSON *interval;
    cJSON_ArrayForEach(interval, intervals) {
        long long from = minor_units(get(interval, "from"), e->currency);
        long long to = minor_units(get(interval, "to"), e->currency);
        if (!check_price(e, from - 1, false) || !check_price(e, from, true) ||
            !check_price(e, to, true) || !check_price(e, to + 1, false))
            return false;
    }
    /* Where there is none at all, not even for nothing. */
    return cJSON_GetArraySize(intervals) > 0 || check_price(e, 0, false);
}

static char *baseline_as_listed(const Ends *e) {
    const char *words[] = {e->s->brute, e->scenario, NULL};
    cJSON *json;
    int code;
    char *text = NULL;
    if (ask(e->s, words, &json, &code, e->t)) {
        if (code == 0)
            text = signature(get(json, "baseline"));
        cJSON_Delete(json);
    }
    return text;
}

bool check_ends(const Setup *s, Talk *t, const char *part, const cJSON *entry, Tally *tally) {
    Ends e = {.s = s, .t = t, .tally = tally, .part = part};
    if (!entry || cJSON_IsNull(entry))
        return true;
    path_of(s, "priced/scenario.json", e.scenario, sizeof e.scenario);
    path_of(s, "priced/listings.csv", e.listings, sizeof e.listings);
    e.listed = read_text(e.listings);
    e.job = read_json(e.scenario);
    e.seller = text_of(entry, "seller");
    e.currency = text_of(e.job, "currency");
    e.baseline = baseline_as_listed(&e);
    bool good = check_intervals(&e, get(entry, "intervals"));
    write_text(e.listings, e.listed);
    free(e.listed);
    cJSON_free(e.baseline);
    cJSON_Delete(e.job);
    return good;
}
