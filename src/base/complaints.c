/* Complaints gathered about the data: the first ones kept, all counted. */
#include "base/base.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define KEPT_LIMIT 200

struct sw_complaints {
    sw_arena *arena;
    sw_complaint kept[KEPT_LIMIT];
    size_t kept_count, count;
    bool no_memory;
};

sw_complaints *sw_complaints_new(void) {
    sw_complaints *complaints = calloc(1, sizeof *complaints);
    if (complaints == NULL)
        return NULL;
    complaints->arena = sw_arena_new();
    if (complaints->arena == NULL) {
        free(complaints);
        return NULL;
    }
    return complaints;
}

void sw_complaints_free(sw_complaints *complaints) {
    if (complaints == NULL)
        return;
    sw_arena_free(complaints->arena);
    free(complaints);
}

size_t sw_complaints_count(const sw_complaints *complaints) {
    return complaints == NULL ? 0 : complaints->count;
}

const sw_complaint *sw_complaints_get(const sw_complaints *complaints, size_t index) {
    if (complaints == NULL || index >= complaints->kept_count)
        return NULL;
    return &complaints->kept[index];
}

static const char *copy_of(sw_arena *arena, const char *text) {
    return text == NULL ? NULL : sw_arena_copy(arena, text);
}

void sw_complain(sw_complaints *complaints, const char *file, const char *place, const char *why,
                 const char *mend, const char *what, ...) {
    if (complaints == NULL)
        return;
    complaints->count++;
    if (complaints->kept_count == KEPT_LIMIT)
        return;
    char *filled = NULL;
    va_list arguments;
    va_start(arguments, what);
    int length = vsnprintf(NULL, 0, what, arguments);
    va_end(arguments);
    if (length >= 0)
        filled = sw_arena_alloc(complaints->arena, (size_t)length + 1, 1);
    if (filled != NULL) {
        va_start(arguments, what);
        vsnprintf(filled, (size_t)length + 1, what, arguments);
        va_end(arguments);
    }
    sw_complaint made = {
        .file = copy_of(complaints->arena, file),
        .place = copy_of(complaints->arena, place),
        .what = filled,
        .why = copy_of(complaints->arena, why),
        .mend = copy_of(complaints->arena, mend),
    };
    if (made.file != NULL && made.place != NULL && made.what != NULL && made.why != NULL &&
        made.mend != NULL)
        complaints->kept[complaints->kept_count++] = made;
    else
        complaints->no_memory = true;
}

bool sw_complaints_lack_memory(const sw_complaints *complaints) {
    return complaints != NULL && complaints->no_memory;
}

const char *sw_error_words(char room[SW_ERROR_ROOM], int error) {
    if (strerror_r(error, room, SW_ERROR_ROOM) != 0)
        snprintf(room, SW_ERROR_ROOM, "error %d of the system", error);
    return room;
}
