/*
 * A drawn job with what a proposal needs: what the client complains of, work that is a
 * matter of luck, the shop's paper, what can hurt. Drawn last of all, so that the rest of a
 * seed stays what it is; only money is made ample and rules loosened in some, for more than
 * one step.
 */
#include "generate.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_COMPLAINTS = 6, MOST_STATED = 3 };

typedef struct Ground { /* what a complaint of this job can be about */
    bool quiet, looks, uses, wished[2];
} Ground;

static cJSON *get(const cJSON *json, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(json, name);
}

static double whole_milli(double x) { return (double)llround(1000.0 * x) / 1000.0; }

static bool has_kind(const Draw *d, const char *kind) {
    const cJSON *json;
    cJSON_ArrayForEach(
        json, get(d->criteria_file, "criteria")) if (!strcmp(get(json, "kind")->valuestring,
                                                             kind)) return true;
    return false;
}

static Ground ground_of(const Draw *d) {
    const cJSON *use, *uses = get(get(d->scenario, "wishes"), "uses");
    Ground g = {.quiet = has_kind(d, "quiet"), .looks = has_kind(d, "looks")};
    g.uses = d->speed && cJSON_GetArraySize(uses) > 0;
    cJSON_ArrayForEach(use, uses) {
        const char *id = get(use, "use")->valuestring;
        g.wished[id[strlen(id) - 1] - '0'] = true;
    }
    return g;
}

/* ---- ends ---- */

static void term_in(const Draw *d, cJSON *json, const char *name, int role, int fact) {
    char text[96];
    snprintf(text, sizeof text, "%s.%s", d->role[role].id,
             fact < 0 ? "pieces" : d->fact[fact].name);
    text_in(json, name, text);
}

static double some_value(Draw *d, int fact) {
    const Fact *f = &d->fact[fact];
    int n = 0;
    while (n < 8 && f->values[n])
        n++;
    return n ? read_number(f->values[below(d, n)]) : 1;
}

/* The number now, so many times or by so much more. */
static cJSON *draw_by_today(Draw *d, int role, int fact) {
    static const double times[] = {1, 1.1, 1.4, 1.5, 2, 0.5, 4, 1.001};
    cJSON *json = object();
    int other = fact_on(d, role, NUMBER);
    bool less = d->fact[fact].least < 0;
    term_in(d, json, "fact", role, chance(d, 8) ? -1 : fact);
    if (chance(d, 65))
        number_in(json, "times", times[below(d, 8)]);
    if (other >= 0 && chance(d, 15))
        term_in(d, json, "of", role, other);
    if (chance(d, 45) || cJSON_GetArraySize(json) == 1)
        number_in(json, "plus",
                  chance(d, 25) ? 0.001 : whole_milli(some_value(d, fact) * (less ? -0.5 : 0.5)));
    return json;
}

static bool reads_a_role(const cJSON *cond) {
    while (get(cond, "not"))
        cond = get(cond, "not");
    return !get(cond, "observed");
}

/* A condition that does not stand already is the more telling one. */
static cJSON *draw_need(Draw *d) {
    int role = below(d, d->roles), fact = fact_on(d, role, NUMBER);
    if (fact >= 0 && chance(d, 50))
        return draw_by_today(d, role, fact);
    cJSON *json = object();
    if (chance(d, 40)) {
        text_in(json, "changes", d->role[role].id);
        return json;
    }
    if (d->tasks && chance(d, 25)) {
        text_in(json, "task", d->task[below(d, d->tasks)]);
        return json;
    }
    cJSON_Delete(json);
    json = draw_cond(d);
    while (!reads_a_role(json)) {
        cJSON_Delete(json);
        json = draw_cond(d);
    }
    return json;
}

static bool draw_end(Draw *d, const Ground *g, cJSON *end) {
    static const double louds[] = {1, 0.999, 0.95, 0.9, 0.8, 0.7, 0.5, 0.2};
    static const double rates[] = {1.001, 1.05, 1.2, 1.5, 1.333, 1.1, 2, 100};
    static const double looks[] = {0.001, 0.25, 0.333, 0.5, 0.1, 1};
    const bool musts = cJSON_GetArraySize(get(d->scenario, "musts")) > 0;
    switch (below(d, 7)) {
    case 0:
        flag_in(end, "must", true);
        return musts || chance(d, 20);
    case 1:
        if (g->quiet)
            number_in(end, "loudness", louds[below(d, 8)]);
        return g->quiet;
    case 2:
    case 3:
        if (g->uses)
            number_in(end, "rate", rates[below(d, 8)]);
        return g->uses;
    case 4:
        if (g->looks)
            number_in(end, "looks", looks[below(d, 6)]);
        return g->looks;
    default:
        for (cJSON *list = array_in(end, "any"); chance(d, 40) || !cJSON_GetArraySize(list);)
            put_next(list, draw_need(d));
        return true;
    }
}

static void draw_complaint(Draw *d, const Ground *g, cJSON *json, int number) {
    static const char *const ids[MOST_COMPLAINTS] = {"slow", "a-loud", "0-hot",
                                                     "drab", "z",      "stutters-2"};
    text_in(json, "complaint", ids[number]);
    text_in(json, "name", "Something is wrong");
    cJSON *ends = array_in(json, "ends");
    for (int n = chance(d, 80) ? 1 : 2; cJSON_GetArraySize(ends) < n;) {
        cJSON *end = object();
        if (draw_end(d, g, end))
            put_next(ends, end);
        else
            cJSON_Delete(end);
    }
    text_in(json, "goal", "better than today");
    text_in(json, "source", "dice");
}

static bool has_end(const cJSON *complaint, const char *name) {
    const cJSON *end;
    cJSON_ArrayForEach(end, get(complaint, "ends")) if (get(end, name)) return true;
    return false;
}

static void state_complaint(Draw *d, const Ground *g, cJSON *list, const cJSON *complaint) {
    cJSON *json = next_object(list);
    char use[ID];
    int which = below(d, 2);
    text_in(json, "complaint", get(complaint, "complaint")->valuestring);
    snprintf(use, sizeof use, "use-%d", g->wished[which] ? which : !which);
    if (has_end(complaint, "rate") && chance(d, 50))
        text_in(json, "use", use);
    if (chance(d, 30))
        text_in(json, "words", "it does that whenever I look away");
}

static cJSON *draw_complaints(Draw *d) {
    Ground g = ground_of(d);
    cJSON *file = file_of("complaints"), *list = get(file, "complaints");
    int n = between(d, 3, MOST_COMPLAINTS), first = below(d, n);
    for (int i = 0; i < n; i++)
        draw_complaint(d, &g, next_object(list), i);
    int stated = chance(d, 85) ? between(d, 1, MOST_STATED) : 0;
    cJSON *said = stated || chance(d, 50) ? array_in(d->scenario, "complaints") : NULL;
    for (int i = 0; i < stated; i++)
        state_complaint(d, &g, said, cJSON_GetArrayItem(list, (first + i) % n));
    return file;
}

/* ---- work that is luck ---- */

/* Better where a rate feels it. */
static void quicken(Draw *d, const cJSON *task) {
    int role = 0;
    while (strcmp(d->role[role].id, get(task, "role")->valuestring) != 0)
        role++;
    for (int i = 0; i < d->facts; i++) {
        const Fact *f = &d->fact[i];
        if (!f->on[role] || !f->pace || f->type != NUMBER || !chance(d, 70))
            continue;
        cJSON *effect = next_object(get(task, "effects"));
        text_in(effect, "fact", f->name);
        number_in(effect, "times", chance(d, 80) ? 1.25 : 0.9);
    }
}

static void draw_chances(Draw *d) {
    cJSON *task;
    cJSON_ArrayForEach(task, get(d->tasks_file, "tasks")) {
        if (!chance(d, 60))
            continue;
        bool luck = chance(d, 85);
        flag_in(task, "chance", luck);
        if (luck)
            quicken(d, task);
    }
}

/* ---- the paper ---- */

static void draw_surprises(Draw *d, cJSON *paper) {
    static const char *const ids[] = {"like-for-like", "any-way"};
    cJSON *list = array_in(paper, "surprises");
    for (int i = 0; i < 2; i++) {
        cJSON *json = next_object(list);
        text_in(json, "surprise", ids[i]);
        text_in(json, "name", "how far");
        text_next(array_in(json, "free"), "a cable");
        text_next(array_in(json, "word"), "a part");
    }
    if (chance(d, 30))
        text_in(d->scenario, "surprise", ids[below(d, 2)]);
}

static void draw_asks(Draw *d, cJSON *paper) {
    static const char *const ids[] = {"short-warranty", "given-part", "odd"};
    cJSON *list = array_in(paper, "asks");
    for (int i = between(d, 0, 3); i > 0; i--) {
        cJSON *json = next_object(list);
        text_in(json, "ask", ids[i - 1]);
        cJSON *any = array_in(json, "any");
        if (i == 1 && chance(d, 70))
            number_in(next_object(any), "warranty_most", between(d, 0, 4) * 6);
        else if (i == 1)
            number_in(next_object(any), "return_most", between(d, 0, 4) * 7);
        if (i == 2)
            flag_in(next_object(any), "given", true);
        if (i == 3 || chance(d, 25))
            put_next(any, draw_cond(d));
        text_in(json, "words", "May we?");
    }
}

static cJSON *draw_paper(Draw *d) {
    static const int days[] = {1, 7, 20, 35, 60, 240};
    static const double shares[] = {0, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 1};
    cJSON *paper = object();
    number_in(paper, "schema", 1);
    text_in(paper, "shop", "A shop");
    number_in(paper, "valid_days", between(d, 1, 30));
    number_in(paper, "bench_minutes_a_day", days[below(d, 6)]);
    number_in(paper, "test_days", between(d, 0, 3));
    number_in(paper, "nest_share", shares[below(d, 8)]);
    draw_surprises(d, paper);
    draw_asks(d, paper);
    text_next(array_in(paper, "promises"), "We test what we build.");
    return paper;
}

static cJSON *draw_hazards(Draw *d) {
    static const char *const ids[] = {"mains", "edges", "data"};
    cJSON *file = file_of("hazards"), *list = get(file, "hazards");
    for (int i = between(d, 0, 2); i >= 0; i--) {
        cJSON *json = next_object(list);
        text_in(json, "hazard", ids[i]);
        cJSON *any = array_in(json, "any");
        if (chance(d, 60))
            text_in(next_object(any), "changes", d->role[below(d, d->roles)].id);
        if (!cJSON_GetArraySize(any) || chance(d, 50))
            put_next(any, draw_cond(d));
        text_in(json, "danger", "It can hurt.");
        text_in(json, "habit", "We take care.");
        text_in(json, "limit", "Beyond this we ask somebody else.");
        text_in(json, "source", "dice");
    }
    return file;
}

/* Warranty and days to return, the last two of each line; the line stays as long. */
static void draw_warranties(Draw *d) {
    static const char *const ends[] = {",24,14\n", ",12,30\n", ",6,100\n", ",0,365\n", ",120,0\n"};
    const size_t length = strlen(ends[0]);
    for (char *end = d->listings; (end = strstr(end, ends[0])) != NULL; end += length)
        memcpy(end, ends[chance(d, 40) ? 0 : below(d, 5)], length);
}

static void draw_budget(Draw *d) {
    static const int totals[] = {2500, 4000, 6000, 9000, 14000, 20000, 30000, 60000};
    cJSON *budget = get(d->scenario, "budget");
    if (!chance(d, 75))
        return;
    cJSON_DeleteItemFromObjectCaseSensitive(budget, "total");
    money_in(d, budget, "total", totals[below(d, 8)]);
}

/* Fewer bundles forbidden, so that more of them are steps of the curve. */
static void loosen(Draw *d) {
    cJSON *rule;
    if (!chance(d, 60))
        return;
    cJSON_ArrayForEach(rule, get(d->rules_file, "rules")) if (chance(d, 60)) {
        cJSON_ReplaceItemInObjectCaseSensitive(rule, "level", must(cJSON_CreateString("caution")));
        cJSON_DeleteItemFromObjectCaseSensitive(rule, "bends");
    }
    cJSON_DeleteItemFromObjectCaseSensitive(get(d->scenario, "wishes"), "limits");
}

void draw_options(Draw *d) {
    loosen(d);
    draw_chances(d);
    draw_warranties(d);
    draw_budget(d);
    d->complaints_file = draw_complaints(d);
    d->paper_file = chance(d, 85) ? draw_paper(d) : NULL;
    d->hazards_file = chance(d, 85) ? draw_hazards(d) : NULL;
}
