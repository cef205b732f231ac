/*
 * Sets of terms, compared as sets. That nothing obeys under some terms alone means
 * that each set which would let a bundle obey has one of them.
 */
#include "judge.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool complain(Talk *t, const char *format, ...) {
    va_list args;
    va_start(args, format);
    vsnprintf(t->why, t->size, format, args);
    va_end(args);
    return false;
}

static bool holds(const cJSON *terms, const char *term) {
    const cJSON *item;
    cJSON_ArrayForEach(item, terms) if (!strcmp(item->valuestring, term)) return true;
    return false;
}

static bool is_term(const cJSON *sets, const char *term) {
    const cJSON *item;
    cJSON_ArrayForEach(item,
                       get(sets, "terms")) if (!strcmp(text_of(item, "term"), term)) return true;
    return false;
}

static bool are_terms(Talk *t, const cJSON *sets, const cJSON *terms) {
    const cJSON *item;
    cJSON_ArrayForEach(item, terms) if (!is_term(sets, item->valuestring)) return complain(
        t, "\"%s\" is no term of the job", item->valuestring);
    return true;
}

/* Some bundle obeys under `terms` without `but` alone, all others dropped. */
static bool some_obey(const cJSON *sets, const cJSON *terms, const char *but) {
    const cJSON *set, *item;
    cJSON_ArrayForEach(set, get(sets, "sets")) {
        bool apart = true;
        cJSON_ArrayForEach(item, get(set, "terms")) if (!but || strcmp(item->valuestring, but) != 0)
            apart = apart && !holds(terms, item->valuestring);
        if (apart)
            return true;
    }
    return false;
}

bool conflict_stands(Talk *t, const cJSON *sets, const cJSON *conflict) {
    const cJSON *terms = get(conflict, "terms"), *item;
    if (!cJSON_IsTrue(get(conflict, "settled")))
        return complain(t, "the conflict is not settled");
    if (!cJSON_GetArraySize(terms))
        return complain(t, "there is no conflict");
    if (!are_terms(t, sets, terms))
        return false;
    if (some_obey(sets, terms, NULL))
        return complain(t, "conflict: some bundle obeys under these terms alone");
    cJSON_ArrayForEach(item, terms) if (!some_obey(sets, terms, item->valuestring)) return complain(
        t, "conflict: without %s nothing obeys either", item->valuestring);
    return true;
}

static int fewest(const cJSON *sets, int *how_many) {
    const cJSON *set;
    int least = 0;
    *how_many = 0;
    cJSON_ArrayForEach(set, get(sets, "sets")) {
        int n = cJSON_GetArraySize(get(set, "terms"));
        if (!cJSON_IsTrue(get(set, "bends")) || (*how_many && n > least))
            continue;
        *how_many = *how_many && n == least ? *how_many + 1 : 1;
        least = n;
    }
    return least;
}

static bool same_set(const cJSON *a, const cJSON *b) {
    const cJSON *item;
    cJSON_ArrayForEach(item, a) if (!holds(b, item->valuestring)) return false;
    return cJSON_GetArraySize(a) == cJSON_GetArraySize(b);
}

static bool is_mend(const cJSON *sets, const cJSON *terms) {
    const cJSON *set;
    cJSON_ArrayForEach(set, get(sets, "sets")) if (cJSON_IsTrue(get(set, "bends")) &&
                                                   same_set(get(set, "terms"), terms)) return true;
    return false;
}

static int by_terms(const cJSON *a, const cJSON *b) {
    const cJSON *x = a->child, *y = b->child;
    for (; x && y; x = x->next, y = y->next) {
        int d = strcmp(x->valuestring, y->valuestring);
        if (d)
            return d;
    }
    return x ? 1 : y ? -1 : 0;
}

static bool rises(const cJSON *terms) {
    for (const cJSON *item = terms->child; item && item->next; item = item->next)
        if (strcmp(item->valuestring, item->next->valuestring) >= 0)
            return false;
    return true;
}

static long milli_of(const char *points) { /* three decimals */
    long n = 0;
    for (const char *p = points; *p; p++)
        if (*p >= '0' && *p <= '9')
            n = n * 10 + (*p - '0');
    return *points == '-' ? -n : n;
}

static bool in_order(const cJSON *a, const cJSON *b) {
    long x = milli_of(text_of(get(a, "bundle"), "points"));
    long y = milli_of(text_of(get(b, "bundle"), "points"));
    return x != y ? x > y : by_terms(get(a, "terms"), get(b, "terms")) < 0;
}

bool mends_stand(Talk *t, const cJSON *sets, const cJSON *mends) {
    int all, size = fewest(sets, &all), told = all < MOST_MENDS ? all : MOST_MENDS;
    const cJSON *mend;
    cJSON_ArrayForEach(mend, mends) {
        const cJSON *terms = get(mend, "terms");
        if (!cJSON_GetArraySize(terms) || !are_terms(t, sets, terms))
            return complain(t, "a mend with no terms, or others than the job's");
        if (!is_mend(sets, terms) || cJSON_GetArraySize(terms) != size)
            return complain(t, "%s.. (%d terms) is no mend with the fewest terms, %d",
                            terms->child->valuestring, cJSON_GetArraySize(terms), size);
        if (!rises(terms))
            return complain(t, "the terms of a mend are not in byte order");
        if (mend->next && !in_order(mend, mend->next))
            return complain(t, "the mend after %s.. should stand before it, or is the same",
                            terms->child->valuestring);
    }
    if (cJSON_GetArraySize(mends) != told)
        return complain(t, "there are %d mends of %d terms, the program tells %d", all, size,
                        cJSON_GetArraySize(mends));
    return true;
}

bool mend_brings(Talk *t, const cJSON *dropped, const cJSON *mend) {
    const cJSON *bundle = get(mend, "bundle");
    bool budget = holds(get(mend, "terms"), "budget");
    if (!cJSON_IsTrue(get(dropped, "obeys")))
        return complain(t, "nothing obeys with %s.. dropped",
                        get(mend, "terms")->child->valuestring);
    if (budget != cJSON_IsString(get(mend, "needed")))
        return complain(t, "what is needed is %s", budget ? "not told" : "told for nothing");
    if (budget && !same_text(t, "needed", text_of(dropped, "least"), text_of(mend, "needed")))
        return false;
    return same_content(t, "a mend's bundle", get(dropped, "bundle"), bundle);
}
