/* A healthy machine with one thing changed: the scenario of a line. */
#include "findings.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

char *case_path(const char *folder, const table_line *line, const char *end) {
    char name[64];
    snprintf(name, sizeof name, "/%d%s", line->number, end);
    return joined(folder, name, "");
}

static cJSON *parsed(const char *text, const char *word) {
    cJSON *value = cJSON_Parse(text);
    if (value == NULL)
        give_up("%s: the value is no JSON", word);
    return value;
}

static void put(cJSON *object, const char *name, const char *text, const char *word) {
    cJSON_DeleteItemFromObjectCaseSensitive(object, name);
    if (strcmp(text, "?") != 0)
        cJSON_AddItemToObject(object, name, parsed(text, word));
}

/* ROLE.FACT=VALUE for every piece of the role, ROLE#N.FACT=VALUE for its Nth entry. */
static void set_fact(cJSON *scenario, const char *word) {
    const char *dot = strchr(word, '.'), *is = strchr(word, '='), *hash = strchr(word, '#');
    if (dot == NULL || is == NULL || is < dot)
        give_up("not a change: %s", word);
    long wanted = hash != NULL && hash < dot ? strtol(hash + 1, NULL, 10) : 0;
    char *role = copy(word, (size_t)((wanted > 0 ? hash : dot) - word));
    char *fact = copy(dot + 1, (size_t)(is - dot - 1));
    cJSON *piece, *list = at(at(scenario, "machine"), role);
    long number = 0;
    cJSON_ArrayForEach(piece, list) {
        number++;
        if (wanted == 0 || number == wanted)
            put(at(piece, "facts"), fact, is + 1, word);
    }
    if (number < wanted || number == 0)
        give_up("%s: there is no such piece", word);
    free(role);
    free(fact);
}

/* ROLE*N: so many pieces of the role's first entry, and no other. */
static void count_pieces(cJSON *scenario, const char *word) {
    const char *star = strchr(word, '*');
    if (star == NULL)
        give_up("not a count: %s", word);
    char *role = copy(word, (size_t)(star - word));
    cJSON *list = at(at(scenario, "machine"), role), *first = cJSON_GetArrayItem(list, 0);
    if (first == NULL)
        give_up("%s: there is no such piece", word);
    while (cJSON_GetArraySize(list) > 1)
        cJSON_DeleteItemFromArray(list, 1);
    put(first, "count", star + 1, word);
    free(role);
}

/* /a/b=VALUE: a member of the scenario. */
static void set_member(cJSON *scenario, const char *word) {
    const char *is = strchr(word, '=');
    if (is == NULL)
        give_up("not a change: %s", word);
    cJSON *object = scenario;
    const char *from = word + 1, *slash;
    while ((slash = memchr(from, '/', (size_t)(is - from))) != NULL) {
        char *name = copy(from, (size_t)(slash - from));
        object = at(object, name);
        if (object == NULL)
            give_up("%s: there is no \"%s\"", word, name);
        free(name);
        from = slash + 1;
    }
    char *name = copy(from, (size_t)(is - from));
    put(object, name, is + 1, word);
    free(name);
}

static void apply(const table *t, cJSON *scenario, const char *words);

static void apply_base(const table *t, cJSON *scenario, const char *name) {
    for (size_t i = 0; i < t->count; i++)
        if (is_base(&t->lines[i]) && strcmp(t->lines[i].KIND, name) == 0) {
            apply(t, scenario, t->lines[i].CHANGES);
            return;
        }
    give_up("there is no base \"%s\"", name);
}

static void apply_word(const table *t, cJSON *scenario, const char *word) {
    if (starts(word, "base="))
        apply_base(t, scenario, word + 5);
    else if (starts(word, "seen="))
        cJSON_AddItemToArray(at(scenario, "observed"), cJSON_CreateString(word + 5));
    else if (starts(word, "none="))
        cJSON_DeleteItemFromObjectCaseSensitive(at(scenario, "machine"), word + 5);
    else if (starts(word, "pieces="))
        count_pieces(scenario, word + 7);
    else if (*word == '/')
        set_member(scenario, word);
    else
        set_fact(scenario, word);
}

static void apply(const table *t, cJSON *scenario, const char *words) {
    char *word;
    while ((word = next_word(&words)) != NULL) {
        if (strcmp(word, "-") != 0)
            apply_word(t, scenario, word);
        free(word);
    }
}

static void save(const cJSON *json, const char *path) {
    char *text = cJSON_Print(json);
    FILE *out = fopen(path, "wb");
    bool good = text != NULL && out != NULL && fputs(text, out) >= 0;
    good = (out == NULL || fclose(out) == 0) && good;
    if (!good)
        give_up("%s cannot be written", path);
    free(text);
}

void write_cases(const table *t, const char *healthy_path, const char *folder) {
    cJSON *healthy = read_json(healthy_path);
    for (size_t i = 0; i < t->count; i++) {
        if (!is_case(&t->lines[i]))
            continue;
        cJSON *scenario = cJSON_Duplicate(healthy, true);
        apply(t, scenario, t->lines[i].CHANGES);
        char *path = case_path(folder, &t->lines[i], ".json");
        save(scenario, path);
        free(path);
        cJSON_Delete(scenario);
    }
    cJSON_Delete(healthy);
}
