/* Members of JSON objects: that they are there, and of the right kind. */
#include "check/fields.h"

#include <string.h>

static const char *const kind_words[] = {"null",   "true or false", "a number",
                                         "a text", "a list",        "an object"};

bool sw_is_kind(sw_check *check, const sw_node *at, sw_json_kind kind) {
    if (sw_json_is(at->json, kind))
        return true;
    const char *mend = kind == SW_JSON_TEXT     ? "put it into double quotes"
                       : kind == SW_JSON_NUMBER ? "write it as a number, without quotes"
                       : kind == SW_JSON_ARRAY  ? "put it into [ ]"
                       : kind == SW_JSON_OBJECT ? "put it into { }"
                                                : "write true or false, without quotes";
    const char *why = sw_arena_format(check->scratch, "%s is due here", kind_words[kind]);
    sw_wrong(check, at, why, mend, "is %s, not %s", kind_words[at->json->kind], kind_words[kind]);
    return false;
}

bool sw_get(sw_check *check, const sw_node *object, const char *name, sw_need need,
            sw_json_kind kind, sw_node *out) {
    sw_node found = sw_member(object, name);
    if (found.json == NULL) {
        if (need == SW_REQUIRED)
            sw_wrong(check, object, "nothing stands in for it", "add it", "has no \"%s\"", name);
        return false;
    }
    if (!sw_is_kind(check, &found, kind))
        return false;
    *out = found;
    return true;
}

bool sw_get_list(sw_check *check, const sw_node *object, const char *name, sw_need need,
                 size_t least, size_t most, sw_node *out) {
    sw_node found;
    if (!sw_get(check, object, name, need, SW_JSON_ARRAY, &found))
        return false;
    if (found.json->count < least || found.json->count > most) {
        const char *why =
            sw_arena_format(check->scratch, "it takes %zu to %zu entries", least, most);
        sw_wrong(check, &found, why,
                 found.json->count < least ? "add what is missing" : "take some away",
                 "has %zu entries", found.json->count);
        return false;
    }
    *out = found;
    return true;
}

/* ---- names ----------------------------------------------------------------------- */

static bool is_listed(const char *name, const char *const *names, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (strcmp(name, names[i]) == 0)
            return true;
    return false;
}

bool sw_check_names(sw_check *check, const sw_node *at, const char *const *names, size_t count) {
    if (!sw_is_kind(check, at, SW_JSON_OBJECT))
        return false;
    for (size_t i = 0; i < at->json->count; i++) {
        sw_node member = sw_element(at, i);
        if (is_listed(member.name, names, count))
            continue;
        if (strcmp(member.name, "note") == 0)
            sw_is_kind(check, &member, SW_JSON_TEXT);
        else
            sw_wrong(check, &member, "a name that is not known here would be passed over",
                     sw_mend_name(check, member.name, names, count,
                                  "take it away; remarks go into \"note\""),
                     "has the unknown name \"%s\"", sw_shown(check, member.name));
    }
    return true;
}

/* ---- texts ------------------------------------------------------------------------ */

bool sw_is_id(const char *text) {
    size_t length = strlen(text);
    return length > 0 && length <= SW_TOKEN_BYTES && text[0] != '-' &&
           strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789-") == length;
}

bool sw_is_fact_name(const char *text) {
    size_t length = strlen(text);
    return length > 0 && length <= SW_TOKEN_BYTES && text[0] >= 'a' && text[0] <= 'z' &&
           strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789_") == length;
}

static bool check_length(sw_check *check, const sw_node *at, size_t most) {
    size_t length = strlen(at->json->text);
    if (length > 0 && length <= most)
        return true;
    const char *why = sw_arena_format(check->scratch, "it takes 1 to %zu bytes", most);
    sw_wrong(check, at, why, length == 0 ? "write it out" : "shorten it",
             length == 0 ? "is empty" : "is too long");
    return false;
}

bool sw_check_text(sw_check *check, const sw_node *at, const char **out) {
    if (!sw_is_kind(check, at, SW_JSON_TEXT) || !check_length(check, at, SW_TEXT_BYTES))
        return false;
    *out = sw_keep_text(check, at->json->text);
    return !check->no_memory;
}

bool sw_get_text(sw_check *check, const sw_node *object, const char *name, sw_need need,
                 const char **out) {
    sw_node found;
    return sw_get(check, object, name, need, SW_JSON_TEXT, &found) &&
           sw_check_text(check, &found, out);
}

bool sw_check_id(sw_check *check, const sw_node *at, const char **out) {
    if (!sw_is_kind(check, at, SW_JSON_TEXT))
        return false;
    if (!sw_is_id(at->json->text)) {
        sw_wrong(check, at, "ids are lower-case letters, digits and hyphens, at most 64",
                 "rename it, and start it with a letter or digit", "is no id: \"%s\"",
                 sw_shown(check, at->json->text));
        return false;
    }
    *out = sw_keep_text(check, at->json->text);
    return !check->no_memory;
}

bool sw_get_id(sw_check *check, const sw_node *object, const char *name, sw_need need,
               const char **out) {
    sw_node found;
    return sw_get(check, object, name, need, SW_JSON_TEXT, &found) &&
           sw_check_id(check, &found, out);
}

bool sw_check_token(sw_check *check, const sw_node *at, const char **out) {
    if (!sw_is_kind(check, at, SW_JSON_TEXT) || !check_length(check, at, SW_TOKEN_BYTES))
        return false;
    *out = sw_keep_text(check, at->json->text);
    return !check->no_memory;
}

bool sw_get_token(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  const char **out) {
    sw_node found;
    return sw_get(check, object, name, need, SW_JSON_TEXT, &found) &&
           sw_check_token(check, &found, out);
}

bool sw_get_choice(sw_check *check, const sw_node *object, const char *name, sw_need need, int *out,
                   const char *const *words, size_t count) {
    sw_node found;
    if (!sw_get(check, object, name, need, SW_JSON_TEXT, &found))
        return false;
    for (size_t i = 0; i < count; i++)
        if (strcmp(found.json->text, words[i]) == 0) {
            *out = (int)i;
            return true;
        }
    sw_text why = {0};
    sw_text_add(&why, "it is one of:");
    for (size_t i = 0; i < count; i++) /* a tab as JSON writes it */
        sw_text_addf(&why, "%s %s", i == 0 ? "" : ",",
                     strcmp(words[i], "\t") == 0 ? "\\t" : words[i]);
    if (why.failed)
        check->no_memory = true;
    else
        sw_wrong(check, &found, why.bytes,
                 sw_mend_name(check, found.json->text, words, count, "choose one of these"),
                 "is \"%s\"", sw_shown(check, found.json->text));
    sw_text_free(&why);
    return false;
}

bool sw_get_index(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  const sw_names *names, const char *kind, const char *home, int *out) {
    sw_node found;
    if (!sw_get(check, object, name, need, SW_JSON_TEXT, &found))
        return false;
    int index = sw_find(check, &found, names, found.json->text, kind, home);
    if (index == SW_NONE)
        return false;
    *out = index;
    return true;
}

bool sw_get_flag(sw_check *check, const sw_node *object, const char *name, sw_need need,
                 bool *out) {
    sw_node found;
    if (!sw_get(check, object, name, need, SW_JSON_BOOL, &found))
        return false;
    *out = found.json->truth;
    return true;
}
