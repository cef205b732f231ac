/* Questions whose answer is written beside them: SCENARIO | PARTS | WANTED. */
#include "cases.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "member.h"

static int split(char *text, char **word) {
    int n = 0;
    for (char *rest = text, *one; (one = strtok_r(rest, " \n", &rest)) && n < MOST_WORDS;)
        word[n++] = one;
    return n;
}

bool read_case(char *line, Case *out) {
    char *first = strchr(line, '|'), *second = first ? strchr(first + 1, '|') : NULL;
    char *scenario[MOST_WORDS];
    *out = (Case){.parts = 0};
    if (*line == '#' || !second)
        return false;
    *first = *second = '\0';
    if (split(line, scenario) != 1)
        return false;
    out->scenario = scenario[0];
    out->parts = split(first + 1, out->part);
    out->wants = split(second + 1, out->wanted);
    return out->wants > 0;
}

/* What follows "name:" in the word, or NULL. */
static const char *after(const char *word, const char *name) {
    size_t length = strlen(name);
    return !strncmp(word, name, length) && word[length] == ':' ? word + length + 1 : NULL;
}

static bool lists_part(const cJSON *list, const char *id, const char *kept) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) {
        bool is_kept = cJSON_IsTrue(get(item, "kept"));
        if (!strcmp(text_at(item, "part"), id) && (!kept || is_kept == !strcmp(kept, "kept")))
            return true;
    }
    return false;
}

static bool has_member(const cJSON *list, const char *name, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) if (get(item, name) &&
                                       (!text || !strcmp(text_at(item, name), text))) return true;
    return false;
}

/* "RULE=VERDICT" or "RULE=VERDICT:NEED/ROOM" of some entry. */
static bool says_rule(const cJSON *rules, const char *word) {
    char said[256];
    const cJSON *rule;
    bool sums = strchr(word, '/') != NULL;
    cJSON_ArrayForEach(rule, rules) {
        snprintf(said, sizeof said, "%s=%s%s%s%s%s", text_at(rule, "rule"),
                 text_at(rule, "verdict"), sums ? ":" : "", sums ? text_at(rule, "need") : "",
                 sums ? "/" : "", sums ? text_at(rule, "room") : "");
        if (!strcmp(said, word))
            return true;
    }
    return false;
}

static bool meets_place(const char *word, const cJSON *places) {
    const cJSON *stand = get(places, "stand");
    if (after(word, "on"))
        return has_member(stand, "site", after(word, "on"));
    if (after(word, "off"))
        return !has_member(stand, "site", after(word, "off"));
    if (after(word, "asked"))
        return number_at(places, "asked", -1) == strtol(after(word, "asked"), NULL, 10);
    if (after(word, "left"))
        return number_at(places, "left", -1) == strtol(after(word, "left"), NULL, 10);
    return has_member(stand, "caution", NULL) == !strcmp(word, "caution");
}

static bool meets(const char *word, const cJSON *answer) {
    const cJSON *pieces = get(answer, "pieces"), *tasks = get(answer, "tasks");
    if (!strcmp(word, "no-question"))
        return !answer;
    if (strchr(word, '='))
        return says_rule(get(answer, "rules"), word);
    if (after(word, "stays"))
        return lists_part(pieces, after(word, "stays"), "kept");
    if (after(word, "added"))
        return lists_part(pieces, after(word, "added"), "added");
    if (after(word, "out"))
        return lists_part(get(answer, "out"), after(word, "out"), NULL);
    if (after(word, "task"))
        return has_member(tasks, "id", after(word, "task"));
    if (after(word, "tasks"))
        return cJSON_GetArraySize(tasks) == strtol(after(word, "tasks"), NULL, 10);
    if (strchr(word, ':') || strstr(word, "caution"))
        return meets_place(word, get(answer, "places"));
    return !strcmp(text_at(answer, "verdict"), word);
}

bool is_wanted(Talk *t, const Case *c, const cJSON *answer) {
    for (int i = 0; i < c->wants; i++)
        if (!meets(c->wanted[i], answer))
            return complain(t, "wanted is %s, the program says otherwise", c->wanted[i]);
    return true;
}
