/* The checker's answer in the words of the program: what a right program would say. */
#include "papers.h"

#include <string.h>

static void put(cJSON *object, const char *name, cJSON *value) {
    cJSON_DeleteItemFromObjectCaseSensitive(object, name);
    cJSON_AddItemToObject(object, name, must_have(value));
}

static cJSON *copy_of(const cJSON *json) {
    return json ? must_have(cJSON_Duplicate(json, true)) : must_have(cJSON_CreateNull());
}

static void tell_hazards(cJSON *answer, const cJSON *option) {
    const cJSON *id;
    cJSON *list = must_have(cJSON_CreateArray());
    cJSON_ArrayForEach(id, get(option, "hazards")) {
        cJSON *json = must_have(cJSON_CreateObject());
        must_have(cJSON_AddStringToObject(json, "hazard", id->valuestring));
        cJSON_AddItemToArray(list, json);
    }
    put(answer, "hazards", list);
}

/* Members that a kind of check does not have are told as null. */
static void tell_checks(cJSON *answer) {
    static const char *const names[] = {"today", "foretold", "low", "high"};
    cJSON *check;
    cJSON_ArrayForEach(check,
                       cJSON_GetObjectItem(answer, "checks")) for (int i = 0; i < 4;
                                                                   i++) if (!get(check, names[i]))
        put(check, names[i], cJSON_CreateNull());
}

static void tell_words(cJSON *answer) {
    cJSON *deed;
    cJSON_ArrayForEach(deed, cJSON_GetObjectItem(answer, "work")) {
        cJSON *words = must_have(cJSON_CreateArray());
        cJSON_AddItemToArray(words, must_have(cJSON_CreateString("Do it.")));
        put(deed, "words", words);
        put(deed, "caution", cJSON_CreateNull());
    }
}

cJSON *right_answer(const Job *j, const cJSON *checker, const cJSON *machine, const cJSON *option,
                    int number) {
    cJSON *answer = must_have(cJSON_Duplicate(checker, true));
    cJSON *which = must_have(cJSON_CreateObject());
    must_have(cJSON_AddNumberToObject(which, "number", number));
    must_have(cJSON_AddStringToObject(which, "place", text_of(option, "option")));
    put(answer, "schema", cJSON_CreateNumber(1));
    put(answer, "status", cJSON_CreateString("optimal"));
    put(answer, "unsettled", cJSON_CreateFalse());
    put(answer, "option", which);
    put(answer, "points", copy_of(get(get(option, "bundle"), "points")));
    put(answer, "cost", copy_of(get(get(option, "bundle"), "cost")));
    put(answer, "days_without", copy_of(get(option, "days_without")));
    put(answer, "machine", copy_of(get(machine, "machine")));
    put(answer, "wiping",
        cJSON_IsTrue(get(checker, "wiping")) ? copy_of(get(j->bench, "wiping"))
                                             : cJSON_CreateNull());
    tell_hazards(answer, option);
    tell_checks(answer);
    tell_words(answer);
    return answer;
}
