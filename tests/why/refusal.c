/*
 * The refusal: a set of terms that keeps the part out of every bundle, and no smaller
 * one. Many sets may be that; the one that is told is tried, all other terms dropped.
 */
#include "driver.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_TERMS = 64, WORD = 160 };

typedef struct Terms {
    int n;
    char at[MOST_TERMS][WORD];
} Terms;

static void add_term(Terms *terms, const char *prefix, const char *name) {
    char term[WORD];
    snprintf(term, sizeof term, "%s%s", prefix, name);
    for (int i = 0; i < terms->n; i++)
        if (!strcmp(terms->at[i], term))
            return;
    if (terms->n == MOST_TERMS)
        give_up("more terms than the driver holds");
    memcpy(terms->at[terms->n++], term, sizeof term);
}

static void add_texts(Terms *terms, const char *prefix, const cJSON *list) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) add_term(terms, prefix, item->valuestring);
}

/* All terms of the job; the budget plays no part here. */
static void list_terms(const char *folder, Terms *terms) {
    static const char *const limits[] = {"loudness_sone", "days", "bench_minutes"};
    char path[4096];
    const cJSON *item, *string;
    snprintf(path, sizeof path, "%s/scenario.json", folder);
    cJSON *job = read_json(path);
    snprintf(path, sizeof path, "%s/rules.json", folder);
    cJSON *rules = read_json(path);
    const cJSON *wishes = get(job, "wishes");
    cJSON_ArrayForEach(item, get(rules, "rules")) if (!strcmp(text_of(item, "level"), "hard"))
        add_term(terms, "rule:", text_of(item, "id"));
    cJSON_ArrayForEach(item, get(job, "musts")) add_term(terms, "must:", text_of(item, "id"));
    add_texts(terms, "keep:", get(wishes, "keep"));
    add_texts(terms, "replace:", get(wishes, "replace"));
    add_texts(terms, "avoid:", get(wishes, "avoid"));
    for (int i = 0; i < 3; i++)
        if (get(get(wishes, "limits"), limits[i]))
            add_term(terms, "limit:", limits[i]);
    cJSON_ArrayForEach(item, get(job, "given")) cJSON_ArrayForEach(
        string, get(item, "strings")) if (!strcmp(string->valuestring, "must-use"))
        add_term(terms, "use:", text_of(item, "part"));
    if (!cJSON_IsTrue(get(job, "allow_unknown")))
        add_term(terms, "unknown", "");
    cJSON_Delete(job);
    cJSON_Delete(rules);
}

static bool lists(const cJSON *told, const char *term) {
    const cJSON *item;
    cJSON_ArrayForEach(item, told) if (!strcmp(item->valuestring, term)) return true;
    return false;
}

typedef enum { NONE, SOME, TOO_MANY } Bundles;

/* Whether some bundle holds the part under the told terms, less the one that is let go. */
static bool try_terms(const Setup *s, Talk *t, const Question *q, const Terms *terms,
                      const cJSON *told, const char *less, Bundles *found) {
    const char *words[MOST_TERMS + 8] = {s->brute, "--drop"};
    int n = 2, code;
    cJSON *json = NULL;
    for (int i = 0; i < terms->n; i++)
        if (!lists(told, terms->at[i]) || (less && !strcmp(less, terms->at[i])))
            words[n++] = terms->at[i];
    words[n++] = "--";
    words[n++] = "--why";
    words[n++] = q->part;
    words[n++] = q->scenario;
    bool good = ask(s, words, &json, &code, t);
    *found = !good && code == 3                           ? TOO_MANY
             : cJSON_IsObject(get(json, "cheapest_with")) ? SOME
                                                          : NONE;
    if (*found == TOO_MANY)
        t->why[0] = '\0';
    cJSON_Delete(json);
    return good || *found == TOO_MANY;
}

static bool check_terms(const Setup *s, Talk *t, const char *folder, const Question *q,
                        const cJSON *told, Tally *tally) {
    Terms terms = {0};
    Bundles found;
    const cJSON *item;
    list_terms(folder, &terms);
    cJSON_ArrayForEach(item, told) {
        int i = 0;
        while (i < terms.n && strcmp(terms.at[i], item->valuestring) != 0)
            i++;
        if (i == terms.n) {
            snprintf(t->why, t->size, "refusal: %s is no term of the job", item->valuestring);
            return false;
        }
    }
    if (!try_terms(s, t, q, &terms, told, NULL, &found))
        return false;
    if (found == SOME) {
        snprintf(t->why, t->size, "refusal: under the terms told some bundle holds the part");
        return false;
    }
    cJSON_ArrayForEach(item, told) {
        if (!try_terms(s, t, q, &terms, told, item->valuestring, &found))
            return false;
        if (found == NONE) {
            snprintf(t->why, t->size, "refusal: without %s no bundle holds the part either",
                     item->valuestring);
            return false;
        }
    }
    tally->refusals += cJSON_GetArraySize(told) > 0;
    return true;
}

bool same_refusal(const Setup *s, Talk *t, const char *folder, const Question *q,
                  const cJSON *oracle, const cJSON *program, Tally *tally) {
    const cJSON *refusal = get(program, "refusal");
    bool never = !strcmp(text_of(oracle, "standing"), "never");
    if (never != cJSON_IsObject(refusal)) {
        snprintf(t->why, t->size, "refusal: the part stands %s, and the program gives %s",
                 text_of(oracle, "standing"), never ? "none" : "one");
        return false;
    }
    if (!never)
        return true;
    if (!cJSON_IsTrue(get(refusal, "settled")) || !cJSON_IsArray(get(refusal, "terms"))) {
        snprintf(t->why, t->size, "refusal: the program did not settle it");
        return false;
    }
    return check_terms(s, t, folder, q, get(refusal, "terms"), tally);
}
