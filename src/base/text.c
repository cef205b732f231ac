/* Text and arrays that grow on the heap. */
#include "base/base.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool sw_grow(void **array, size_t *room, size_t count, size_t size) {
    if (count < *room)
        return true;
    if (*room > SIZE_MAX / 2 / size)
        return false;
    size_t wanted = *room < 8 ? 8 : *room * 2;
    if (wanted > SIZE_MAX / size)
        return false;
    void *moved = realloc(*array, wanted * size);
    if (moved == NULL)
        return false;
    *array = moved;
    *room = wanted;
    return true;
}

/* Room for `more` bytes and a NUL. */
static bool make_room(sw_text *text, size_t more) {
    if (text->failed || more > SIZE_MAX / 4 - text->length) {
        text->failed = true;
        return false;
    }
    size_t needed = text->length + more + 1;
    if (needed <= text->room)
        return true;
    size_t room = text->room < 64 ? 64 : text->room;
    while (room < needed)
        room *= 2;
    char *moved = realloc(text->bytes, room);
    if (moved == NULL) {
        text->failed = true;
        return false;
    }
    text->bytes = moved;
    text->room = room;
    return true;
}

void sw_text_add_bytes(sw_text *text, const char *bytes, size_t length) {
    if (!make_room(text, length))
        return;
    if (length > 0)
        memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    text->bytes[text->length] = '\0';
}

void sw_text_add(sw_text *text, const char *more) { sw_text_add_bytes(text, more, strlen(more)); }

void sw_text_addf(sw_text *text, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    if (length < 0) {
        text->failed = true;
        return;
    }
    if (!make_room(text, (size_t)length))
        return;
    va_start(arguments, format);
    vsnprintf(text->bytes + text->length, (size_t)length + 1, format, arguments);
    va_end(arguments);
    text->length += (size_t)length;
}

void sw_text_free(sw_text *text) {
    free(text->bytes);
    *text = (sw_text){0};
}

int sw_text_compare(const char *a, const char *b) {
    if (a == NULL || b == NULL)
        return (a != NULL) - (b != NULL);
    return strcmp(a, b);
}
