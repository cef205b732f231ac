/* Has every rule its cases? */
#include "edge.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct inspection {
    const table *table;
    const cJSON *rule, *facts;
    const char *id;
    int missing;
} inspection;

static int lines_of(const inspection *in, const char *kind) {
    int count = 0;
    for (size_t i = 0; i < in->table->count; i++)
        count += strcmp(in->table->lines[i].RULE, in->id) == 0 &&
                 strcmp(in->table->lines[i].KIND, kind) == 0;
    return count;
}

static void miss(inspection *in, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    printf("%s%s: no line ", in->missing == 0 ? "FAILED " : "       ", in->id);
    vprintf(format, arguments);
    putchar('\n');
    va_end(arguments);
    in->missing++;
}

/* A kind may be left out where a reason stands in the table. */
static void want(inspection *in, const char *kind, int least) {
    char *reason = joined("no-", kind, "");
    int there = lines_of(in, kind) + lines_of(in, reason);
    free(reason);
    if (there < least)
        miss(in, "of the kind %s (%d of %d are there)", kind, there, least);
}

/* The line of a kind that leaves this fact unstated. */
static bool has_unstated(const inspection *in, const char *kind, const char *term) {
    char *word = joined(term, "=?", "");
    bool found = false;
    for (size_t i = 0; i < in->table->count && !found; i++) {
        const table_line *line = &in->table->lines[i];
        if (strcmp(line->RULE, in->id) != 0)
            continue;
        if (strcmp(line->KIND, kind) == 0)
            found = strstr(line->CHANGES, word) != NULL;
        else if (starts(line->KIND, "no-") && strcmp(line->KIND + 3, kind) == 0)
            found = strstr(line->CHANGES, term) != NULL;
    }
    free(word);
    return found;
}

/* A derived fact is not stated; some line must show that what it is made of is not. */
static void want_unstated(inspection *in, const char *role, const char *name) {
    const cJSON *fact = with_text(at(in->facts, "facts"), "fact", name);
    bool derived = with_text(at(in->facts, "derived"), "fact", name) != NULL;
    const char *kind = at(fact, "absent") != NULL ? "absent" : "unknown";
    char *start = joined(role, ".", name);
    if (derived && lines_of(in, "unknown") == 0)
        miss(in, "of the kind unknown for the derived %s", start);
    if (fact != NULL && !derived && !has_unstated(in, kind, start))
        miss(in, "of the kind %s for %s", kind, start);
    free(start);
}

static void want_term(inspection *in, const char *term) {
    const char *dot = strchr(term, '.');
    const cJSON *role,
        *fact = dot == NULL ? NULL : with_text(at(in->facts, "facts"), "fact", dot + 1);
    if (dot == NULL)
        return;
    if (term[0] != '*') {
        char *name = copy(term, (size_t)(dot - term));
        want_unstated(in, name, dot + 1);
        free(name);
        return;
    }
    cJSON_ArrayForEach(role, at(fact, "roles")) {
        want_unstated(in, cJSON_GetStringValue(role), dot + 1);
    }
}

/* Every fact that the rule reads, wherever in it. */
static void want_terms(inspection *in, const cJSON *node) {
    static const char *const names[] = {"fact", "left", "right", "need", "room"};
    const cJSON *item;
    cJSON_ArrayForEach(item, node) {
        bool names_fact = cJSON_IsArray(node);
        for (size_t i = 0; i < sizeof names / sizeof *names && item->string != NULL; i++)
            names_fact |= strcmp(item->string, names[i]) == 0;
        if (cJSON_IsString(item) && names_fact)
            want_term(in, item->valuestring);
        else
            want_terms(in, item);
    }
}

static bool mentions(const cJSON *node, const char *name) {
    const cJSON *item;
    cJSON_ArrayForEach(item, node) {
        if ((item->string != NULL && strcmp(item->string, name) == 0) || mentions(item, name))
            return true;
    }
    return false;
}

/* Only what is changed or done is never so today. */
static void want_today(inspection *in) {
    want(in, "today", 1);
    if (lines_of(in, "no-today") > 0 && !mentions(in->rule, "changes") &&
        !mentions(in->rule, "task"))
        miss(in, "of the kind today, and no reason why: it reads neither changes nor tasks");
}

static void want_cases(inspection *in) {
    const cJSON *shape_of = at(in->rule, "of"), *needs = at(in->rule, "needs");
    int aside =
        cJSON_GetArraySize(at(in->rule, "when")) + cJSON_GetArraySize(at(in->rule, "unless"));
    /* Of a clash each condition by itself must be able to keep the peace, of an unlock
     * each need must be able to break it. */
    want(in, "equal", shape_of != NULL ? cJSON_GetArraySize(shape_of) : 1);
    want(in, "past", needs != NULL ? cJSON_GetArraySize(needs) : 1);
    want(in, "aside", aside);
    if (has_text(in->rule, "level", "hard"))
        want_today(in);
    want_terms(in, in->rule);
}

static bool is_rule(const cJSON *rules, const char *id) {
    return with_text(at(rules, "rules"), "id", id) != NULL;
}

int needs_all(const char *table_path, const char *rules_path, const char *facts_path) {
    table t = read_table(table_path);
    cJSON *rules = read_json(rules_path), *facts = read_json(facts_path);
    int code = GOOD;
    const cJSON *rule;
    cJSON_ArrayForEach(rule, at(rules, "rules")) {
        inspection in = {.table = &t, .rule = rule, .facts = facts, .id = text_at(rule, "id")};
        want_cases(&in);
        if (in.missing == 0)
            printf("good %s\n", in.id);
        code = in.missing == 0 ? code : BAD;
    }
    for (size_t i = 0; i < t.count; i++)
        if (!is_base(&t.lines[i]) && !is_rule(rules, t.lines[i].RULE)) {
            printf("FAILED %d: there is no rule %s\n", t.lines[i].number, t.lines[i].RULE);
            code = BAD;
        }
    cJSON_Delete(rules);
    cJSON_Delete(facts);
    free_table(&t);
    return code;
}
