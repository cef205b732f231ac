#include "fuzz.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "read/utf8.h"

void fuzz_hold(bool holds, const char *format, ...) {
    if (holds)
        return;
    va_list arguments;
    va_start(arguments, format);
    fputs("does not hold: ", stderr);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
    va_end(arguments);
    abort();
}

static size_t readable_length(const unsigned char *at, size_t left) {
    size_t length = sw_utf8_length(at, left);
    bool control = at[0] < 0x20 || at[0] == 0x7F || (at[0] == 0xC2 && length == 2 && at[1] < 0xA0);
    return control ? 0 : length;
}

bool fuzz_is_readable(const char *text) {
    size_t left = strlen(text);
    for (size_t length; left > 0; text += length, left -= length) {
        length = readable_length((const unsigned char *)text, left);
        if (length == 0)
            return false;
    }
    return true;
}

void fuzz_complaints(sw_status status, const sw_complaints *complaints) {
    const sw_complaint *one = NULL;
    size_t count = sw_complaints_count(complaints);
    fuzz_hold(status != SW_INTERNAL && status != SW_NO_MEMORY, "status %d", status);
    fuzz_hold((status == SW_OK) == (count == 0), "status %d with %zu complaints", status, count);
    for (size_t i = 0; (one = sw_complaints_get(complaints, i)) != NULL; i++) {
        fuzz_hold(one->what[0] != '\0' && one->why[0] != '\0' && one->mend[0] != '\0',
                  "a complaint lacks something: \"%s\", \"%s\", \"%s\"", one->what, one->why,
                  one->mend);
        fuzz_hold(fuzz_is_readable(one->file) && fuzz_is_readable(one->place) &&
                      fuzz_is_readable(one->what) && fuzz_is_readable(one->why) &&
                      fuzz_is_readable(one->mend),
                  "unreadable: %s: %s: %s", one->file, one->place, one->what);
    }
}

void fuzz_one_complaint(sw_status status, const sw_complaints *complaints) {
    const sw_complaint *one = NULL;
    size_t others = 0;
    fuzz_complaints(status, complaints);
    for (size_t i = 0; (one = sw_complaints_get(complaints, i)) != NULL; i++)
        others += strstr(one->what, " twice in one object") == NULL;
    fuzz_hold(others <= 1, "%zu complaints of one fault", others);
}

bool fuzz_same_complaints(const sw_complaints *a, const sw_complaints *b) {
    if (sw_complaints_count(a) != sw_complaints_count(b))
        return false;
    const sw_complaint *one = NULL, *other = NULL;
    for (size_t i = 0; (one = sw_complaints_get(a, i)) != NULL; i++) {
        other = sw_complaints_get(b, i);
        if (other == NULL || strcmp(one->place, other->place) != 0 ||
            strcmp(one->what, other->what) != 0 || strcmp(one->mend, other->mend) != 0)
            return false;
    }
    return true;
}

bool fuzz_same_json(const sw_json *a, const sw_json *b) {
    if (a->kind != b->kind || a->count != b->count || sw_text_compare(a->name, b->name) != 0)
        return false;
    if (a->kind == SW_JSON_NUMBER && !(a->number == b->number))
        return false;
    if (a->kind == SW_JSON_TEXT && strcmp(a->text, b->text) != 0)
        return false;
    if (a->kind == SW_JSON_BOOL && a->truth != b->truth)
        return false;
    for (size_t i = 0; i < a->count; i++)
        if (!fuzz_same_json(&a->children[i], &b->children[i]))
            return false;
    return true;
}

/* ---- the input as text ---------------------------------------------------------------------- */

char *fuzz_text(const uint8_t *data, size_t size) {
    char *text = malloc(size + 1);
    if (text == NULL)
        abort();
    if (size > 0)
        memcpy(text, data, size);
    text[size] = '\0';
    return text;
}

char *fuzz_utf8(const uint8_t *data, size_t size) {
    char *text = fuzz_text(data, size);
    for (size_t i = 0, length; i < size; i += length) {
        length = readable_length((const unsigned char *)text + i, size - i);
        if (length == 0) {
            text[i] = '?';
            length = 1;
        }
    }
    return text;
}

char *fuzz_rest(char *text) {
    char *end = strchr(text, '\n');
    if (end == NULL)
        return NULL;
    *end = '\0';
    return end + 1;
}
