/* The JSON tree: behind the gate the text is known to be sound, so the parser's
 * own leniences do not matter; its tree is copied into the arena and freed. */
#include "read/json.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <string.h>

#include "read/json_gate.h"

static bool copy_node(sw_json *out, const cJSON *from, sw_arena *arena);

static bool copy_children(sw_json *out, const cJSON *from, sw_arena *arena) {
    size_t count = 0;
    for (const cJSON *child = from->child; child != NULL; child = child->next)
        count++;
    sw_json *children = SW_NEW(arena, sw_json, count);
    if (children == NULL)
        return false;
    size_t i = 0;
    for (const cJSON *child = from->child; child != NULL; child = child->next)
        if (!copy_node(&children[i++], child, arena))
            return false;
    out->children = children;
    out->count = count;
    return true;
}

/* Recursion is bounded: the gate lets at most 64 levels through. */
static bool copy_node(sw_json *out, const cJSON *from, sw_arena *arena) {
    if (from->string != NULL) {
        out->name = sw_arena_copy(arena, from->string);
        if (out->name == NULL)
            return false;
    }
    switch (from->type & 0xFF) {
    case cJSON_True:
    case cJSON_False:
        out->kind = SW_JSON_BOOL;
        out->truth = (from->type & 0xFF) == cJSON_True;
        return true;
    case cJSON_Number:
        out->kind = SW_JSON_NUMBER;
        out->number = from->valuedouble;
        return isfinite(out->number);
    case cJSON_String:
        out->kind = SW_JSON_TEXT;
        out->text = sw_arena_copy(arena, from->valuestring);
        return out->text != NULL;
    case cJSON_Array:
    case cJSON_Object:
        out->kind = (from->type & 0xFF) == cJSON_Array ? SW_JSON_ARRAY : SW_JSON_OBJECT;
        return copy_children(out, from, arena);
    default:
        out->kind = SW_JSON_NULL;
        return true;
    }
}

sw_status sw_json_read(const sw_json **out, sw_arena *arena, const char *file, const char *bytes,
                       size_t length, sw_complaints *complaints) {
    sw_status status = sw_json_gate(file, bytes, length, complaints);
    if (status != SW_OK)
        return status;
    /* Everything the gate lets through parses: a failure is want of memory. */
    cJSON *parsed = cJSON_ParseWithLength(bytes, length);
    sw_json *root = parsed == NULL ? NULL : SW_NEW(arena, sw_json, 1);
    bool copied = root != NULL && copy_node(root, parsed, arena);
    cJSON_Delete(parsed);
    if (!copied)
        return SW_NO_MEMORY;
    *out = root;
    return SW_OK;
}

bool sw_json_is(const sw_json *json, sw_json_kind kind) {
    bool is = json->kind == kind || (json->bare && kind == SW_JSON_NUMBER && json->as_number) ||
              (json->bare && kind == SW_JSON_BOOL && json->as_truth);
    if (is && json->due != NULL)
        *json->due = kind;
    return is;
}

const sw_json *sw_json_get(const sw_json *object, const char *name) {
    if (object == NULL || object->kind != SW_JSON_OBJECT)
        return NULL;
    for (size_t i = 0; i < object->count; i++)
        if (strcmp(object->children[i].name, name) == 0)
            return &object->children[i];
    return NULL;
}
