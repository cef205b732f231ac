/* Faults to plant in an answer, so that the judging is seen to notice them. */
#include "judge.h"

#include <string.h>

static cJSON *terms_of(const cJSON *json) { return cJSON_GetObjectItem(json, "terms"); }

static cJSON *mends_of(const cJSON *program) { return cJSON_GetObjectItem(program, "mends"); }

static cJSON *first_mend(const cJSON *program) { return cJSON_GetArrayItem(mends_of(program), 0); }

static cJSON *first_bundle(const cJSON *program) {
    return cJSON_GetObjectItem(first_mend(program), "bundle");
}

static bool set_text(cJSON *json, const char *name, const char *text) {
    if (!json || !get(json, name) || !strcmp(text_of(json, name), text))
        return false;
    return cJSON_ReplaceItemInObjectCaseSensitive(json, name, cJSON_CreateString(text));
}

static bool lose_first(cJSON *array) {
    if (!cJSON_GetArraySize(array))
        return false;
    cJSON_DeleteItemFromArray(array, 0);
    return true;
}

static bool fewer_terms(cJSON *p) { return lose_first(terms_of(get(p, "conflict"))); }

/* A term of the first mend that the conflict does not need. */
static bool more_terms(cJSON *p) {
    cJSON *terms = terms_of(get(p, "conflict")), *item, *own;
    cJSON_ArrayForEach(item, terms_of(first_mend(p))) {
        bool there = false;
        cJSON_ArrayForEach(own, terms) there =
            there || !strcmp(own->valuestring, item->valuestring);
        if (!there)
            return cJSON_AddItemToArray(terms, cJSON_CreateString(item->valuestring));
    }
    return false;
}

static bool strange_term(cJSON *p) {
    return cJSON_AddItemToArray(terms_of(get(p, "conflict")), cJSON_CreateString("rule:nobody"));
}

static bool lose_mend(cJSON *p) { return lose_first(mends_of(p)); }

static bool same_mend_twice(cJSON *p) {
    cJSON *mend = first_mend(p);
    return mend && cJSON_AddItemToArray(mends_of(p), cJSON_Duplicate(mend, true));
}

static bool shrink_mend(cJSON *p) { return lose_first(terms_of(first_mend(p))); }

static bool turn_order(cJSON *p) {
    cJSON *mends = mends_of(p);
    int n = cJSON_GetArraySize(mends);
    return n > 1 && cJSON_AddItemToArray(mends, cJSON_DetachItemFromArray(mends, 0));
}

static bool other_points(cJSON *p) { return set_text(first_bundle(p), "points", "999.999"); }

static bool other_cost(cJSON *p) { return set_text(first_bundle(p), "cost", "1.23"); }

static bool lose_swap(cJSON *p) {
    return lose_first(cJSON_GetObjectItem(first_bundle(p), "swaps"));
}

static bool lose_task(cJSON *p) {
    return lose_first(cJSON_GetObjectItem(first_bundle(p), "tasks"));
}

static bool other_need(cJSON *p) {
    cJSON *mend;
    cJSON_ArrayForEach(mend, mends_of(p)) if (set_text(mend, "needed", "0.01")) return true;
    return false;
}

static bool lose_need(cJSON *p) {
    cJSON *mend;
    cJSON_ArrayForEach(mend, mends_of(p)) if (get(mend, "needed")) {
        cJSON_DeleteItemFromObjectCaseSensitive(mend, "needed");
        return true;
    }
    return false;
}

typedef struct Fault {
    const char *name;
    bool (*plant)(cJSON *program);
} Fault;

static const Fault faults[] = {
    {"a term of the conflict is lost", fewer_terms},
    {"the conflict has a term too many", more_terms},
    {"a term of no job", strange_term},
    {"a mend is lost", lose_mend},
    {"a mend is told twice", same_mend_twice},
    {"a term of a mend is lost", shrink_mend},
    {"the mends in another order", turn_order},
    {"other points", other_points},
    {"another cost", other_cost},
    {"a swap is lost", lose_swap},
    {"a task is lost", lose_task},
    {"another need of money", other_need},
    {"the need of money is lost", lose_need},
};

int spoils(void) { return (int)(sizeof faults / sizeof *faults); }

const char *spoil_name(int which) { return faults[which].name; }

bool spoil(cJSON *program, int which) { return faults[which].plant(program); }
