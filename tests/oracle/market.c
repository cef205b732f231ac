/*
 * The market of a phase: the catalog with what sellers told for the job and with its
 * sums up to then, the days counted from the phase's own.
 */
#include "later.h"

#include <stdlib.h>
#include <string.h>

enum { MOST_DROPS = 80, ANY_NUMBER = 16 };

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static bool is_leap(long long year) {
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

long long day_number(const char *date) {
    static const int before[] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334};
    long long year = strtoll(date, NULL, 10), month = strtoll(date + 5, NULL, 10);
    long long day = strtoll(date + 8, NULL, 10);
    for (long long y = 1900; y < year; y++)
        day += is_leap(y) ? 366 : 365;
    return day + before[month - 1] + (month > 2 && is_leap(year));
}

static bool lists(const cJSON *array, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, array) if (!strcmp(item->valuestring, text)) return true;
    return false;
}

static const cJSON *sum_of(const World *w, int k) {
    return cJSON_GetArrayItem(need(need(w->job, "phases"), "sums"), k);
}

int must_uses(World *w, const cJSON *job, MustUse **out) {
    const cJSON *given;
    int n = 0;
    *out = hold(w, (size_t)cJSON_GetArraySize(get(job, "given")) * sizeof **out);
    cJSON_ArrayForEach(given, get(job, "given")) {
        const char *on = text_of(given, "arrives_on", NULL);
        if (lists(get(given, "strings"), "must-use"))
            (*out)[n++] = (MustUse){text_of(given, "part", ""), -1, on ? day_number(on) : 0};
    }
    return n;
}

/* The limit on days is held against the phase's own day, here and not by the reader;
 * what must be used counts from the phase on in whose course it comes. */
static void drop_terms(World *w, const cJSON *job, long long until) {
    MustUse *must;
    int musts = must_uses(w, job, &must);
    if (musts > MOST_DROPS - 1)
        stop(3, "more strings than the checker holds");
    w->dropped = hold(w, MOST_DROPS * sizeof *w->dropped);
    if (get(get(get(job, "wishes"), "limits"), "days"))
        w->dropped[w->droppings++] = "limit:days";
    for (int i = 0; i < musts; i++)
        if (must[i].day >= until) {
            char *term = hold(w, strlen(must[i].part) + 5);
            w->dropped[w->droppings++] = strcat(strcpy(term, "use:"), must[i].part);
        }
}

/* Given parts come on their own day, and are not to be had before. */
static void date_given(World *w, long long day, long long until) {
    const cJSON *given;
    for (int i = 0; i < w->listings; i++)
        cJSON_ArrayForEach(given, get(w->job, "given")) {
            const char *on = text_of(given, "arrives_on", NULL);
            Listing *l = &w->listing[i];
            if (l->seller == w->sellers - 1 &&
                !strcmp(w->part[l->part].id, text_of(given, "part", "")))
                l->days = on ? day_number(on) - day : 0;
            if (l->seller == w->sellers - 1 && l->days >= until - day)
                l->stock = 0;
        }
}

static void drop_late(World *w, const cJSON *job) {
    const cJSON *limits = get(get(job, "wishes"), "limits");
    int n = 0;
    if (!get(limits, "days"))
        return;
    for (int i = 0; i < w->listings; i++)
        if (w->listing[i].days <= number_of(limits, "days", 0))
            w->listing[n++] = w->listing[i];
    w->listings = n;
}

Market open_market(World *arena, const char *scenario, int k) {
    World *w = hold(arena, sizeof *w);
    const cJSON *job = open_json(w, scenario);
    w->job = job;
    w->allow_unknown = arena->allow_unknown;
    const cJSON *next = sum_of(w, k + 1);
    Market m = {.w = w, .on = text_of(sum_of(w, k), "on", "")};
    m.until = next ? text_of(next, "on", "") : text_of(need(job, "phases"), "until", "");
    m.day = day_number(m.on);
    m.days = day_number(m.until) - m.day;
    drop_terms(w, job, m.day + m.days);
    w->sums = k + 1;
    load_world(w, scenario);
    for (int i = 0; i <= k; i++)
        m.money += money_of(w, text_of(sum_of(w, i), "sum", "0"));
    m.money = m.money > w->set_aside ? m.money - w->set_aside : 0;
    w->budget = m.money;
    date_given(w, m.day, m.day + m.days);
    drop_late(w, job);
    make_choices(w);
    learn_today(w);
    return m;
}

void load_all(World *w, const char *scenario) {
    const cJSON *job = open_json(w, scenario);
    drop_terms(w, job, -1);
    w->sums = cJSON_GetArraySize(need(need(job, "phases"), "sums"));
    load_world(w, scenario);
    for (int i = 0; i < w->listings; i++)
        if (w->listing[i].seller != w->sellers - 1)
            w->listing[i].stock = ANY_NUMBER;
    make_choices(w);
    learn_today(w);
}
