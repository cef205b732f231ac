/*
 * Judges an answer about money in phases: that each of its machines may stand when it is
 * said to, that it is paid for, and that money, points and value are what is claimed.
 */
#include "later.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Judge {
    Later *l;
    const cJSON *answer;
    char why[512];
    int *was, *is; /* states by role */
    long long spent, value;
} Judge;

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static bool fault(Judge *j, const char *format, ...) {
    va_list args;
    va_start(args, format);
    vsnprintf(j->why, sizeof j->why, format, args);
    va_end(args);
    return false;
}

static bool same_money(Judge *j, int k, const char *what, const cJSON *said, long long wanted) {
    const World *u = j->l->u;
    long long unit = 1;
    char text[64];
    for (int i = 0; i < u->currency_digits; i++)
        unit *= 10;
    snprintf(text, sizeof text, "%lld", wanted / unit);
    size_t have = strlen(text);
    if (u->currency_digits)
        snprintf(text + have, sizeof text - have, ".%0*lld", u->currency_digits, wanted % unit);
    if (cJSON_IsString(said) && !strcmp(said->valuestring, text))
        return true;
    return fault(j, "phase %d: %s is %s, not %s", k + 1, what,
                 cJSON_IsString(said) ? said->valuestring : "missing", text);
}

static bool same_points(Judge *j, int k, const char *what, const cJSON *said, long long wanted) {
    char text[64];
    snprintf(text, sizeof text, "%s%lld.%03lld", wanted < 0 ? "-" : "", llabs(wanted) / 1000,
             llabs(wanted) % 1000);
    if (cJSON_IsString(said) && !strcmp(said->valuestring, text))
        return true;
    return fault(j, "phase %d: %s are %s, not %s", k + 1, what,
                 cJSON_IsString(said) ? said->valuestring : "missing", text);
}

static int count_of(const cJSON *list, const char *part) {
    const cJSON *item;
    int n = 0;
    cJSON_ArrayForEach(item, list) if (!strcmp(text_of(item, "part", ""), part)) n +=
        (int)number_of(item, "count", 0);
    return n;
}

static bool does_task(const cJSON *tasks, const char *id) {
    const cJSON *item;
    cJSON_ArrayForEach(
        item, tasks) if (!strcmp(cJSON_IsString(item) ? item->valuestring : text_of(item, "id", ""),
                                 id)) return true;
    return false;
}

/* The key of what the stage says a role holds. */
static char *key_said(World *u, int role, const cJSON *swap, const cJSON *tasks) {
    const Role *r = &u->role[role];
    const cJSON *in;
    Choice c = {.role = role};
    int room = 0;
    for (int i = 0; i < r->presents; i++)
        room += r->present[i].count;
    cJSON_ArrayForEach(in, get(swap, "in")) room += (int)number_of(in, "count", 0);
    c.piece = hold(u, (size_t)room * sizeof *c.piece);
    c.task = hold(u, (size_t)u->tasks * sizeof *c.task);
    for (int i = 0; i < r->presents; i++)
        for (int n = count_of(get(swap, "out"), r->present[i].id); n < r->present[i].count; n++)
            c.piece[c.pieces++] = (Piece){r->present[i].id, true, NULL};
    cJSON_ArrayForEach(in, get(swap, "in")) for (int n = 0; n < number_of(in, "count", 0); n++)
        c.piece[c.pieces++] = (Piece){text_of(in, "part", ""), false, NULL};
    for (int t = 0; t < u->tasks; t++)
        if (u->task[t].role == role && does_task(tasks, u->task[t].id))
            c.task[c.tasks++] = t;
    return key_of(u, &c);
}

static bool read_stage(Judge *j, int k, const cJSON *stage) {
    Later *l = j->l;
    const cJSON *swap;
    for (int r = 0; r < l->u->roles; r++) {
        const cJSON *mine = NULL;
        cJSON_ArrayForEach(swap, get(stage, "swaps")) if (!strcmp(text_of(swap, "role", ""),
                                                                  l->u->role[r].id)) mine = swap;
        const char *key = key_said(l->u, r, mine, get(stage, "tasks"));
        j->is[r] = -1;
        for (int s = 0; s < l->states[r]; s++)
            if (!strcmp(l->state[r][s]->key, key))
                j->is[r] = s;
        if (j->is[r] < 0)
            return fault(j, "phase %d: role %s has no such state", k + 1, l->u->role[r].id);
        if (!may_become(l, r, j->was[r], j->is[r]))
            return fault(j, "phase %d: role %s changes again", k + 1, l->u->role[r].id);
        if (j->is[r] != j->was[r] && l->market[k].ways[r][j->is[r]].n == 0)
            return fault(j, "phase %d: role %s has what is not to be had then", k + 1,
                         l->u->role[r].id);
    }
    return true;
}

static bool judge_purchase(Judge *j, int k, const cJSON *purchase) {
    Later *l = j->l;
    int changes = 0;
    const cJSON *role;
    for (int r = 0; r < l->u->roles; r++)
        changes += j->is[r] != j->was[r];
    if (!changes)
        return cJSON_IsNull(purchase) || fault(j, "phase %d: a purchase of nothing", k + 1);
    if (!cJSON_IsObject(purchase) || cJSON_GetArraySize(get(purchase, "roles")) != changes)
        return fault(j, "phase %d: the purchase is of other roles", k + 1);
    cJSON_ArrayForEach(role, get(purchase, "roles")) {
        int r = find_role(l->u, role->valuestring);
        if (r < 0 || j->is[r] == j->was[r])
            return fault(j, "phase %d: the purchase is of other roles", k + 1);
    }
    Price p = price_of_change(l, j->was, j->is, k);
    if (!p.some)
        return fault(j, "phase %d: the purchase takes more minutes than there are", k + 1);
    j->spent += p.cost;
    return same_money(j, k, "cost", get(purchase, "cost"), p.cost);
}

static bool judge_phase(Judge *j, int k, const cJSON *phase) {
    Later *l = j->l;
    const Market *m = &l->market[k];
    if (strcmp(text_of(phase, "on", ""), m->on) != 0 ||
        strcmp(text_of(phase, "until", ""), m->until) != 0 ||
        number_of(phase, "days", -1) != m->days)
        return fault(j, "phase %d: its days are others", k + 1);
    if (!read_stage(j, k, get(phase, "stage")) || !judge_purchase(j, k, get(phase, "purchase")) ||
        !same_money(j, k, "money", get(phase, "money"), m->money) ||
        !same_money(j, k, "spent", get(phase, "spent"), j->spent))
        return false;
    if (j->spent > m->money)
        return fault(j, "phase %d: more is spent than there is", k + 1);
    if (!machine_works(l, j->is, k))
        return fault(j, "phase %d: the machine does not obey", k + 1);
    long long points = points_of(l, j->is);
    j->value += m->days * points;
    memcpy(j->was, j->is, (size_t)l->u->roles * sizeof *j->was);
    return same_points(j, k, "points", get(phase, "points"), points) &&
           same_points(j, k, "points of the stage", get(get(phase, "stage"), "points"), points);
}

static bool judge_all(Judge *j) {
    Later *l = j->l;
    const cJSON *value = get(j->answer, "value"), *phases = get(j->answer, "phases");
    if (cJSON_GetArraySize(phases) != l->phases)
        return fault(j, "there are %d phases, not %d", cJSON_GetArraySize(phases), l->phases);
    for (int k = 0; k < l->phases; k++)
        if (!judge_phase(j, k, cJSON_GetArrayItem(phases, k)))
            return false;
    if (!cJSON_IsNumber(value) || value->valuedouble != (double)j->value)
        return fault(j, "value: the phases come to %lld, not to what is said", j->value);
    if (j->value != l->best_value)
        return fault(j, "value: %lld is not the greatest, %lld", j->value, l->best_value);
    return true;
}

void judge_answer(Later *l, const char *path) {
    size_t roles = (size_t)l->u->roles;
    Judge j = {.l = l, .answer = open_json(l->u, path)};
    j.was = hold(l->u, roles * sizeof *j.was);
    j.is = hold(l->u, roles * sizeof *j.is);
    bool none = !strcmp(text_of(j.answer, "status", ""), "nothing-fits");
    if (none != !l->any)
        fault(&j, "status: the program says %s", text_of(j.answer, "status", "nothing"));
    else if (l->any)
        judge_all(&j);
    cJSON *why = cJSON_CreateString(j.why);
    char *text = why ? cJSON_PrintUnformatted(why) : NULL;
    if (!text)
        stop(2, "no memory");
    printf(",\"judged\":%s", text);
    cJSON_free(text);
    cJSON_Delete(why);
}
