/* Faults to plant in an answer, so that the comparison is seen to notice them. */
#include "compare.h"

#include <string.h>

#include "member.h"

static cJSON *first(cJSON *program, const char *list) {
    return cJSON_GetArrayItem(get(program, list), 0);
}

static cJSON *stand(cJSON *program) {
    return cJSON_GetArrayItem(get(get(program, "places"), "stand"), 0);
}

static bool set_text(cJSON *json, const char *name, const char *text) {
    if (!json || !get(json, name))
        return false;
    return cJSON_ReplaceItemInObjectCaseSensitive(json, name, cJSON_CreateString(text));
}

static bool add_one(cJSON *json, const char *name) {
    cJSON *number = cJSON_GetObjectItemCaseSensitive(json, name);
    if (!cJSON_IsNumber(number))
        return false;
    cJSON_SetNumberValue(number, number->valuedouble + 1);
    return true;
}

static bool other_verdict(cJSON *program) {
    bool fits = !strcmp(text_at(program, "verdict"), "fits");
    return set_text(program, "verdict", fits ? "refused" : "fits");
}

static bool lose_piece(cJSON *program) {
    cJSON *list = cJSON_GetObjectItem(program, "pieces");
    if (!cJSON_GetArraySize(list))
        return false;
    cJSON_DeleteItemFromArray(list, 0);
    return true;
}

static bool turn_kept(cJSON *program) {
    cJSON *piece = first(program, "pieces");
    bool kept = cJSON_IsTrue(get(piece, "kept"));
    return piece && cJSON_ReplaceItemInObjectCaseSensitive(piece, "kept", cJSON_CreateBool(!kept));
}

static bool more_out(cJSON *program) { return add_one(first(program, "out"), "count"); }

static bool other_task(cJSON *program) { return set_text(first(program, "tasks"), "id", "idle"); }

static cJSON *rule_with(cJSON *program, const char *name) {
    cJSON *rule;
    cJSON_ArrayForEach(rule, get(program, "rules")) if (get(rule, name)) return rule;
    return NULL;
}

static bool other_rule(cJSON *program) {
    cJSON *rule = first(program, "rules");
    bool holds = !strcmp(text_at(rule, "verdict"), "holds");
    return set_text(rule, "verdict", holds ? "mind" : "holds");
}

static bool lose_rule(cJSON *program) {
    cJSON *list = cJSON_GetObjectItem(program, "rules");
    if (!cJSON_GetArraySize(list))
        return false;
    cJSON_DeleteItemFromArray(list, cJSON_GetArraySize(list) - 1);
    return true;
}

static bool other_need(cJSON *program) {
    return set_text(rule_with(program, "need"), "need", "123.456");
}

static bool other_room(cJSON *program) {
    return set_text(rule_with(program, "room"), "room", "-0.001");
}

static bool lose_words(cJSON *program) {
    cJSON *rule = rule_with(program, "client");
    cJSON_DeleteItemFromObjectCaseSensitive(rule, "client");
    return rule;
}

static bool other_unknown(cJSON *program) {
    cJSON *rule = rule_with(program, "unknown");
    bool told = !strcmp(text_at(rule, "verdict"), "unknown");
    return told && set_text(cJSON_GetObjectItem(rule, "unknown"), "fact", "pieces");
}

static bool more_asked(cJSON *program) {
    return add_one(cJSON_GetObjectItem(program, "places"), "asked");
}

static bool more_left(cJSON *program) {
    return add_one(cJSON_GetObjectItem(program, "places"), "left");
}

static bool more_spare(cJSON *program) {
    return add_one(cJSON_GetObjectItem(program, "places"), "spare");
}

static bool more_stand(cJSON *program) { return add_one(stand(program), "count"); }

static bool lose_stand(cJSON *program) {
    if (!stand(program))
        return false;
    cJSON_DeleteItemFromArray(cJSON_GetObjectItem(cJSON_GetObjectItem(program, "places"), "stand"),
                              0);
    return true;
}

static bool other_site(cJSON *program) { return set_text(stand(program), "site", "nowhere"); }

static bool other_size(cJSON *program) { return set_text(stand(program), "size", "huge"); }

static bool stand_twice(cJSON *program) {
    cJSON *line = stand(program);
    return line && cJSON_AddItemToArray(
                       cJSON_GetObjectItem(cJSON_GetObjectItem(program, "places"), "stand"),
                       cJSON_Duplicate(line, true));
}

static bool other_caution(cJSON *program) {
    cJSON *line = stand(program);
    if (!line)
        return false;
    if (get(line, "caution"))
        cJSON_DeleteItemFromObjectCaseSensitive(line, "caution");
    else
        cJSON_AddStringToObject(line, "caution", "Mind this.");
    return true;
}

typedef struct Fault {
    const char *name;
    bool (*plant)(cJSON *program);
} Fault;

static const Fault faults[] = {
    {"another verdict", other_verdict},
    {"a piece is lost", lose_piece},
    {"kept is turned round", turn_kept},
    {"one more comes out", more_out},
    {"another task", other_task},
    {"a rule says otherwise", other_rule},
    {"a rule is lost", lose_rule},
    {"another need", other_need},
    {"another room", other_room},
    {"a sentence is lost", lose_words},
    {"another thing is unknown", other_unknown},
    {"one more asks", more_asked},
    {"one more is left", more_left},
    {"one more is spare", more_spare},
    {"one more stands", more_stand},
    {"one stands no more", lose_stand},
    {"on another site", other_site},
    {"of another size", other_size},
    {"it stands twice", stand_twice},
    {"another caution", other_caution},
};

int spoils(void) { return (int)(sizeof faults / sizeof *faults); }

const char *spoil_name(int which) { return faults[which].name; }

bool spoil(cJSON *program, int which) { return faults[which].plant(program); }
