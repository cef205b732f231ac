/* An arena: objects that live and die together, in chunks of one list. */
#include "base/base.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Tests take small ones, so that every object asks for memory that may be refused. */
#ifndef CHUNK_BYTES
#define CHUNK_BYTES ((size_t)64 * 1024)
#endif
#define ALIGNMENT _Alignof(max_align_t)

typedef struct chunk {
    struct chunk *next;
    size_t used, room;
    max_align_t bytes[];
} chunk;

struct sw_arena {
    chunk *chunks; /* the newest first */
};

sw_arena *sw_arena_new(void) { return calloc(1, sizeof(sw_arena)); }

void sw_arena_free(sw_arena *arena) {
    if (arena == NULL)
        return;
    chunk *next = NULL;
    for (chunk *at = arena->chunks; at != NULL; at = next) {
        next = at->next;
        free(at);
    }
    free(arena);
}

static chunk *add_chunk(sw_arena *arena, size_t bytes) {
    size_t room = bytes > CHUNK_BYTES ? bytes : CHUNK_BYTES;
    chunk *added = room > SIZE_MAX - sizeof(chunk) ? NULL : malloc(sizeof(chunk) + room);
    if (added == NULL)
        return NULL;
    added->used = 0;
    added->room = room;
    /* A large object gets a chunk of its own behind the newest one, so that
     * what is left of the newest is not lost. */
    if (bytes > CHUNK_BYTES / 4 && arena->chunks != NULL) {
        added->next = arena->chunks->next;
        arena->chunks->next = added;
    } else {
        added->next = arena->chunks;
        arena->chunks = added;
    }
    return added;
}

/* Room with anything in it. */
static void *take(sw_arena *arena, size_t bytes) {
    if (bytes > SIZE_MAX - ALIGNMENT)
        return NULL;
    bytes = bytes == 0 ? ALIGNMENT : (bytes + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
    chunk *from = arena->chunks;
    if (from == NULL || from->room - from->used < bytes)
        from = add_chunk(arena, bytes);
    if (from == NULL)
        return NULL;
    void *object = (char *)from->bytes + from->used;
    from->used += bytes;
    return object;
}

void *sw_arena_alloc(sw_arena *arena, size_t count, size_t size) {
    if (size != 0 && count > (SIZE_MAX - ALIGNMENT) / size)
        return NULL;
    void *object = take(arena, count * size);
    if (object != NULL)
        memset(object, 0, count * size);
    return object;
}

char *sw_arena_text(sw_arena *arena, const char *bytes, size_t length) {
    if (length == SIZE_MAX)
        return NULL;
    char *copy = take(arena, length + 1);
    if (copy == NULL)
        return NULL;
    if (length > 0)
        memcpy(copy, bytes, length);
    copy[length] = '\0';
    return copy;
}

char *sw_arena_copy(sw_arena *arena, const char *text) {
    return sw_arena_text(arena, text, strlen(text));
}

char *sw_arena_format(sw_arena *arena, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    char *text = length < 0 ? NULL : sw_arena_alloc(arena, (size_t)length + 1, 1);
    if (text == NULL)
        return NULL;
    va_start(arguments, format);
    vsnprintf(text, (size_t)length + 1, format, arguments);
    va_end(arguments);
    return text;
}
