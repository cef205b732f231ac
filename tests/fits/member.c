/* Members of a JSON object. */
#include "member.h"

const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

const char *text_at(const cJSON *object, const char *name) {
    const cJSON *found = get(object, name);
    return cJSON_IsString(found) ? found->valuestring : "(none)";
}

long number_at(const cJSON *object, const char *name, long otherwise) {
    const cJSON *found = get(object, name);
    return cJSON_IsNumber(found) ? (long)found->valuedouble : otherwise;
}
