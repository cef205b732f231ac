/* Verdict, pieces, work and every rule: what both sides say, member by member. */
#include "compare.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "member.h"

bool complain(Talk *t, const char *format, ...) {
    va_list args;
    va_start(args, format);
    vsnprintf(t->why, t->size, format, args);
    va_end(args);
    return false;
}

static bool same_text(Talk *t, const char *what, const char *a, const char *b) {
    return !strcmp(a, b) || complain(t, "%s: the checker says %s, the program %s", what, a, b);
}

static bool same_number(Talk *t, const char *what, long a, long b) {
    return a == b || complain(t, "%s: the checker says %ld, the program %ld", what, a, b);
}

static bool same_pieces(Talk *t, const char *what, const cJSON *a, const cJSON *b) {
    const cJSON *x = a->child, *y = cJSON_IsArray(b) ? b->child : NULL;
    if (!same_number(t, what, cJSON_GetArraySize(a), cJSON_GetArraySize(b)))
        return false;
    for (; x && y; x = x->next, y = y->next) {
        if (!same_text(t, what, text_at(x, "role"), text_at(y, "role")) ||
            !same_text(t, what, text_at(x, "part"), text_at(y, "part")) ||
            !same_number(t, text_at(x, "part"), number_at(x, "count", -1),
                         number_at(y, "count", -1)))
            return false;
        if (cJSON_IsTrue(get(x, "kept")) != cJSON_IsTrue(get(y, "kept")))
            return complain(t, "%s: kept by one, not by the other", text_at(x, "part"));
        if (!cJSON_IsString(get(y, "name")))
            return complain(t, "%s has no name", text_at(x, "part"));
    }
    return true;
}

/* In any order. */
static bool same_tasks(Talk *t, const cJSON *a, const cJSON *b) {
    const cJSON *id, *task;
    if (!same_number(t, "tasks", cJSON_GetArraySize(a), cJSON_GetArraySize(b)))
        return false;
    cJSON_ArrayForEach(id, a) {
        bool found = false;
        cJSON_ArrayForEach(task, b) found = found || !strcmp(text_at(task, "id"), id->valuestring);
        if (!found)
            return complain(t, "the checker does the task %s", id->valuestring);
    }
    return true;
}

static bool one_of_unknowns(const cJSON *list, const cJSON *told) {
    const cJSON *item;
    cJSON_ArrayForEach(item,
                       list) if (!strcmp(text_at(item, "role"), text_at(told, "role")) &&
                                 !strcmp(text_at(item, "fact"), text_at(told, "fact"))) return true;
    return false;
}

/* need and room: the same texts, and there or not there together. Of a rule that is
 * not known the program may tell what is. */
static bool same_sums(Talk *t, const cJSON *a, const cJSON *b, bool unsure) {
    static const char *const names[] = {"need", "room"};
    for (int i = 0; i < 2 && !unsure; i++) {
        char what[160];
        snprintf(what, sizeof what, "%s, %s", text_at(a, "rule"), names[i]);
        if (!same_text(t, what, text_at(a, names[i]), text_at(b, names[i])))
            return false;
    }
    return true;
}

static bool same_words(Talk *t, const cJSON *a, const cJSON *b) {
    static const char *const names[] = {"client", "bench"};
    bool broken = cJSON_IsTrue(get(a, "broken"));
    for (int i = 0; i < 2; i++) {
        if (broken != cJSON_IsString(get(b, names[i])))
            return complain(t, "%s: %s %s", text_at(a, "rule"), names[i],
                            broken ? "is missing" : "is said of what is not broken");
        if (strpbrk(text_at(b, names[i]), "{}"))
            return complain(t, "%s: %s is not filled in", text_at(a, "rule"), names[i]);
    }
    return true;
}

static bool same_rule(Talk *t, const cJSON *a, const cJSON *b, const cJSON *rule) {
    const char *id = text_at(a, "rule"), *verdict = text_at(a, "verdict");
    bool unsure = !strcmp(verdict, "unknown") ||
                  (!strcmp(verdict, "today") && !cJSON_IsTrue(get(a, "broken")));
    const char *name = get(rule, "name") ? text_at(rule, "name") : id;
    const char *unit = strcmp(verdict, "moot") != 0 ? text_at(rule, "unit") : "(none)";
    if (!same_text(t, "rule", id, text_at(b, "rule")) ||
        !same_text(t, id, verdict, text_at(b, "verdict")) ||
        !same_text(t, id, name, text_at(b, "name")) ||
        !same_text(t, id, text_at(rule, "level"), text_at(b, "level")) ||
        !same_text(t, id, text_at(rule, "shape"), text_at(b, "shape")) ||
        !same_sums(t, a, b, unsure) || !same_words(t, a, b))
        return false;
    const char *said = *text_at(b, "unit") ? text_at(b, "unit") : "(none)";
    if (!unsure && !same_text(t, "unit", unit, said))
        return false;
    const cJSON *told = get(b, "unknown");
    if (unsure && !told)
        return complain(t, "%s: what is unknown is not told", id);
    if (unsure && !one_of_unknowns(get(a, "unknowns"), told))
        return complain(t, "%s: %s.%s is not what is unknown", id, text_at(told, "role"),
                        text_at(told, "fact"));
    return true;
}

static const cJSON *rule_of(const cJSON *rules, const char *id) {
    const cJSON *rule;
    cJSON_ArrayForEach(rule, get(rules, "rules")) if (!strcmp(text_at(rule, "id"), id)) return rule;
    return NULL;
}

static bool same_rules(Talk *t, const cJSON *a, const cJSON *b, const cJSON *rules) {
    const cJSON *x = a->child, *y = cJSON_IsArray(b) ? b->child : NULL;
    if (!same_number(t, "entries of rules", cJSON_GetArraySize(a), cJSON_GetArraySize(b)))
        return false;
    for (; x && y; x = x->next, y = y->next)
        if (!same_rule(t, x, y, rule_of(rules, text_at(x, "rule"))))
            return false;
    return true;
}

bool same_fits(Talk *t, const cJSON *checker, const cJSON *program, const cJSON *rules) {
    return same_text(t, "verdict", text_at(checker, "verdict"), text_at(program, "verdict")) &&
           same_pieces(t, "pieces", get(checker, "pieces"), get(program, "pieces")) &&
           same_pieces(t, "out", get(checker, "out"), get(program, "out")) &&
           same_tasks(t, get(checker, "tasks"), get(program, "tasks")) &&
           same_rules(t, get(checker, "rules"), get(program, "rules"), rules) &&
           same_number(t, "places asked", number_at(get(checker, "places"), "asked", -1),
                       number_at(get(program, "places"), "asked", -1)) &&
           same_number(t, "places left", number_at(get(checker, "places"), "left", -1),
                       number_at(get(program, "places"), "left", -1));
}
