/* Changes in the text of a job: the first lines are changes, an empty line ends them, the rest is
 * the text. What a change does not name keeps its bytes; the new text is JSON, and the check says
 * of it what it was said to say. */
#include <stdlib.h>
#include <string.h>

#include "check/scenario.h"
#include "desk/sheets.h"
#include "fuzz.h"

#define CHANGES 4

/* A member of the root as it stands, from its name's quote to the end of its value. */
typedef struct span {
    const char *at;
    size_t name, length; /* bytes of the quoted name; of all */
} span;

/* Told apart by depth alone: what is passed here is known to be JSON. */
static const char *next_member(span *out, const char *at) {
    int depth = 0;
    bool quoted = false;
    at += strcspn(at, "\"}");
    if (*at != '"')
        return NULL;
    *out = (span){.at = at};
    const char *end = at;
    for (; *at != '\0'; at++) {
        if (quoted && *at == '\\') {
            at++;
        } else if (*at == '"') {
            quoted = !quoted;
        } else if (!quoted && (*at == '{' || *at == '[')) {
            depth++;
        } else if (!quoted && depth > 0 && (*at == '}' || *at == ']')) {
            depth--;
        } else if (!quoted && depth == 0 && (*at == ',' || *at == '}')) {
            break;
        }
        if (out->name == 0 && !quoted && *at == '"')
            out->name = (size_t)(at + 1 - out->at);
        if (strchr(" \t\r\n", *at) == NULL || quoted)
            end = at + 1;
    }
    out->length = (size_t)(end - out->at);
    return at;
}

/* Does the change's path begin with this name? Names with escapes count as named. */
static bool is_named(const span *member, const char *const *settings, size_t count) {
    if (memchr(member->at, '\\', member->name) != NULL)
        return true;
    for (size_t i = 0; i < count; i++) {
        size_t head = strcspn(settings[i], ".=");
        if (head + 2 == member->name && memcmp(member->at + 1, settings[i], head) == 0)
            return true;
    }
    return false;
}

static bool stands_in(const span *member, const char *text) {
    span other;
    const char *at = strchr(text, '{') + 1;
    while (at != NULL && (at = next_member(&other, at)) != NULL)
        if (other.length == member->length && memcmp(other.at, member->at, other.length) == 0)
            return true;
    return false;
}

static void others_keep_their_bytes(const char *before, const char *after,
                                    const char *const *settings, size_t count) {
    span member;
    const char *at = strchr(before, '{') + 1;
    while (at != NULL && (at = next_member(&member, at)) != NULL)
        fuzz_hold(is_named(&member, settings, count) || stands_in(&member, after),
                  "%.*s is changed too", (int)member.length, member.at);
}

static void change(const char *text, const char *const *settings, size_t count) {
    char *path = fuzz_path("jobs/job.json"), *catalog = fuzz_path("catalog");
    sw_complaints *faults = sw_complaints_new(), *complaints = sw_complaints_new();
    sw_complaints *again = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_changed made = {0};
    sw_status status = sw_text_change(&made, text, strlen(text), path, catalog, settings, count,
                                      faults, complaints);
    fuzz_one_complaint(status, complaints);
    if (status == SW_OK) {
        fuzz_complaints(sw_complaints_count(faults) == 0 ? SW_OK : SW_BAD_DATA, faults);
#ifdef FUZZ_FAULT
        if (count == 2 && made.text[0] == '{' && strstr(made.text, ": [") != NULL)
            *strstr(made.text, ": [") = ' ', strstr(made.text, "  [")[1] = ':';
#endif
        others_keep_their_bytes(text, made.text, settings, count);
        sw_scenario_read_bytes(&scenario, path, made.text, made.length, catalog, false, again);
        fuzz_hold(sw_complaints_count(again) == sw_complaints_count(faults),
                  "%zu faults are told, %zu are there", sw_complaints_count(faults),
                  sw_complaints_count(again));
    }
    sw_scenario_free(scenario);
    sw_complaints_free(faults);
    sw_complaints_free(complaints);
    sw_complaints_free(again);
    free(made.text);
    free(path);
    free(catalog);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const char *settings[CHANGES];
    size_t count = 0;
    sw_arena *arena = sw_arena_new();
    const sw_json *json = NULL;
    char *bytes = fuzz_text(data, size), *line = bytes, *rest = NULL;
    /* A command line and a request hold valid UTF-8, or are refused before. */
    char *valid = fuzz_utf8(data, size);
    while (count < CHANGES && (rest = fuzz_rest(line)) != NULL && line[0] != '\0') {
        memcpy(line, valid + (line - bytes), strlen(line));
        settings[count++] = line;
        line = rest;
    }
    if (rest != NULL && line[0] == '\0' &&
        sw_json_read(&json, arena, "", rest, strlen(rest), NULL) == SW_OK &&
        json->kind == SW_JSON_OBJECT)
        change(rest, settings, count);
    free(valid);
    free(bytes);
    sw_arena_free(arena);
    return 0;
}
