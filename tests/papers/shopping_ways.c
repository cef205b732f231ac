/* The ways to go on, against those of the checker, and which of them is taken. */
#include "shopping.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

bool fail(Talk *t, const char *format, ...) {
    va_list args;
    va_start(args, format);
    vsnprintf(t->why, t->size, format, args);
    va_end(args);
    return false;
}

long long money_of(const char *text) {
    long long minor = 0;
    bool minus = *text == '-';
    for (text += minus; *text; text++)
        if (*text != '.')
            minor = minor * 10 + (*text - '0');
    return minus ? -minor : minor;
}

bool is_money(const cJSON *object, const char *name, long long want) {
    const cJSON *told = get(object, name);
    return cJSON_IsString(told) && money_of(told->valuestring) == want;
}

bool is_whole(const cJSON *told, long want) {
    return cJSON_IsNumber(told) && told->valuedouble == (double)want;
}

const cJSON *swap_of(const cJSON *bundle, const char *role) {
    const cJSON *swap;
    cJSON_ArrayForEach(swap,
                       get(bundle, "swaps")) if (!strcmp(text_of(swap, "role"), role)) return swap;
    return NULL;
}

const cJSON *taken_bundle(const Case *c) {
    const cJSON *way;
    if (!strcmp(text_of(c->answer, "taken"), "as-agreed"))
        return c->agreed;
    cJSON_ArrayForEach(
        way, get(c->answer, "ways")) if (!strcmp(text_of(way, "way"),
                                                 text_of(c->answer, "taken"))) return get(way,
                                                                                          "bundle");
    return NULL;
}

/* Null in both, or the same text. */
static bool same_or_none(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    if (cJSON_IsNull(a) || !cJSON_IsString(b))
        return (cJSON_IsNull(a) && cJSON_IsNull(b)) || fail(t, "%s: known to only one", what);
    return same_text(t, what, a->valuestring, b->valuestring);
}

/* The bundle tells its points as they were agreed too. */
static bool same_way(Talk *t, const Case *c, const cJSON *a, const cJSON *b) {
    const char *name = text_of(a, "way");
    const cJSON *known = get(a, "agreed_points");
    if (!same_text(t, "a way", name, text_of(b, "way")) ||
        !same_or_none(t, "points", known, get(b, "points")) ||
        !same_or_none(t, "loss", get(a, "loss"), get(b, "loss")))
        return false;
    if (!cJSON_IsTrue(get(b, "proved")))
        return fail(t, "%s is not proved", name);
    long long cost = money_of(text_of(get(a, "bundle"), "cost"));
    if (!is_money(b, "cost", cost) ||
        !is_money(b, "more_cost", cost - money_of(text_of(c->agreed, "cost"))))
        return fail(t, "%s: the money is %s, %s more", name, text_of(b, "cost"),
                    text_of(b, "more_cost"));
    if (!is_whole(get(b, "days"), (long)get(a, "days")->valuedouble))
        return fail(t, "%s: other days", name);
    cJSON *bundle = must_have(cJSON_Duplicate(get(a, "bundle"), true));
    if (cJSON_IsString(known))
        cJSON_ReplaceItemInObjectCaseSensitive(bundle, "points",
                                               must_have(cJSON_CreateString(known->valuestring)));
    bool same = same_content(t, name, bundle, get(b, "bundle"));
    cJSON_Delete(bundle);
    return same;
}

/* What the errand asks for, else the first that costs no more than was agreed, else the first. */
static const char *should_take(const Case *c, const Errand *e) {
    const cJSON *way, *ways = get(c->oracle, "ways");
    if (e->take)
        return e->take;
    cJSON_ArrayForEach(way, ways) if (money_of(text_of(get(way, "bundle"), "cost")) <=
                                      money_of(text_of(c->agreed, "cost"))) return text_of(way,
                                                                                           "way");
    return text_of(ways->child, "way");
}

static bool right_agreed(Talk *t, const Case *c, const Errand *e) {
    const cJSON *told = get(c->answer, "agreed"), *option = get(c->answer, "option");
    const cJSON *listed = cJSON_GetArrayItem(get(c->options, "options"), e->option - 1);
    if (!is_whole(get(option, "number"), e->option) || !cJSON_IsTrue(get(option, "proved")))
        return fail(t, "another option is told");
    return same_text(t, "place", text_of(listed, "option"), text_of(option, "place")) &&
           same_text(t, "cost agreed", text_of(c->agreed, "cost"), text_of(told, "cost")) &&
           same_text(t, "points agreed", text_of(c->agreed, "points"), text_of(told, "points")) &&
           (is_whole(get(told, "days"), (long)get(c->agreed, "longest_days")->valuedouble) ||
            fail(t, "days agreed"));
}

static void count_way(Tally *y, const cJSON *way) {
    const char *name = text_of(way, "way");
    y->same += !strcmp(name, "same");
    y->least += !strcmp(name, "least");
    y->anew += !strcmp(name, "anew");
    y->not_known += cJSON_IsNull(get(way, "agreed_points"));
}

bool right_ways(Talk *t, const Case *c, const Errand *e, Tally *y) {
    const cJSON *a, *b = get(c->answer, "ways");
    if (cJSON_IsTrue(get(c->answer, "changed")) != e->changed)
        return fail(t, "whether anything changed");
    if (!right_agreed(t, c, e))
        return false;
    if (!e->changed)
        return same_text(t, "taken", "as-agreed", text_of(c->answer, "taken")) &&
               same_count(t, "ways", NULL, b);
    if (!same_count(t, "ways", get(c->oracle, "ways"), b))
        return false;
    if (!same_content(t, "what was agreed", get(c->oracle, "agreed"), c->agreed))
        return false;
    b = b->child;
    cJSON_ArrayForEach(a, get(c->oracle, "ways")) {
        count_way(y, a);
        if (!same_way(t, c, a, b))
            return false;
        b = b->next;
    }
    bool none = !cJSON_GetArraySize(get(c->oracle, "ways"));
    y->nothing += none;
    if (c->code != (none ? 1 : 0) ||
        strcmp(text_of(c->answer, "status"), none ? "nothing-fits" : "optimal") != 0)
        return fail(t, "ended with %d, %s", c->code, text_of(c->answer, "status"));
    return none ? cJSON_IsNull(get(c->answer, "taken")) || fail(t, "something is taken")
                : same_text(t, "taken", should_take(c, e), text_of(c->answer, "taken"));
}
