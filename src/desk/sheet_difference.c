/*
 * Where two scenarios differ, leaf by leaf, by paths of section 18: elements of lists by what they
 * go by, so that one that moved is the same one. The order of a list is told where it changed.
 */
#include "desk/sheets.h"

#include <stdlib.h>
#include <string.h>

#include "check/scenario.h"
#include "read/json_text.h"

#define PATH_BYTES_MOST ((size_t)16 * 1024 * 1024)

typedef struct work {
    sw_arena *arena;
    sw_leaf_change *list;
    size_t count, room, bytes; /* bytes: of the paths made */
    bool no_memory, full;
} work;

/* ---- what is told --------------------------------------------------------------------------- */

/* Texts as they are, all else as JSON writes it. */
static const char *told(work *w, const sw_json *json) {
    char *made = NULL;
    if (json == NULL || json->kind == SW_JSON_TEXT)
        return json == NULL ? NULL : json->text;
    sw_json nameless = *json;
    nameless.name = NULL;
    if (sw_sketch_write(&made, sw_sketch_of(w->arena, &nameless)) != SW_OK) {
        w->no_memory = true;
        return NULL;
    }
    const char *kept = sw_arena_text(w->arena, made, strlen(made) - 1);
    free(made);
    w->no_memory |= kept == NULL;
    return kept;
}

static void add(work *w, const char *path, const char *before, const char *after) {
    w->full |= w->count == SW_LEAF_CHANGES_MOST;
    if (w->full)
        return;
    if (!SW_GROW(w->list, w->room, w->count)) {
        w->no_memory = true;
        return;
    }
    w->list[w->count++] = (sw_leaf_change){path, before, after};
}

/* A long name with many leaves below it would take room without end. */
static const char *below(work *w, const char *path, const char *step) {
    w->bytes += strlen(path) + strlen(step) + 2;
    w->full |= w->bytes > PATH_BYTES_MOST;
    if (w->full)
        return "";
    const char *out = path[0] == '\0' ? step : sw_arena_format(w->arena, "%s.%s", path, step);
    w->no_memory |= out == NULL;
    return out == NULL ? "" : out;
}

/* ---- what elements go by -------------------------------------------------------------------- */

static const char *text_of(const sw_json *object, const char *name) {
    const sw_json *found = sw_json_get(object, name);
    return found != NULL && found->kind == SW_JSON_TEXT ? found->text : NULL;
}

/* NULL: by its number. */
static const char *key_of(work *w, const sw_json *element) {
    if (element->kind == SW_JSON_TEXT)
        return element->text;
    const char *id = text_of(element, "id"), *part = text_of(element, "part");
    const char *seller = text_of(element, "seller");
    if (id == NULL && part != NULL && seller != NULL) {
        const char *key = sw_arena_format(w->arena, "%s@%s", part, seller);
        w->no_memory |= key == NULL;
        return key;
    }
    static const char *const names[] = {"id", "part", "complaint", "use", "on"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (text_of(element, names[i]) != NULL)
            return text_of(element, names[i]);
    return NULL;
}

typedef struct keyed {
    const char *key;
    size_t index;
} keyed;

static int by_key(const void *a, const void *b) {
    return strcmp(((const keyed *)a)->key, ((const keyed *)b)->key);
}

/* The elements in the order of their keys; NULL where not every one has one of its own. */
static keyed *by_keys(work *w, const sw_json *list) {
    keyed *out = SW_NEW(w->arena, keyed, list->count);
    if (out == NULL) {
        w->no_memory = true;
        return NULL;
    }
    for (size_t i = 0; i < list->count; i++) {
        out[i] = (keyed){key_of(w, &list->children[i]), i};
        if (out[i].key == NULL)
            return NULL;
    }
    qsort(out, list->count, sizeof *out, by_key);
    for (size_t i = 1; i < list->count; i++)
        if (strcmp(out[i - 1].key, out[i].key) == 0)
            return NULL;
    return out;
}

static const sw_json *find(const sw_json *list, const keyed *keys, const char *key, size_t *index) {
    keyed wanted = {key, 0};
    const keyed *found =
        list == NULL ? NULL : bsearch(&wanted, keys, list->count, sizeof *keys, by_key);
    if (found == NULL)
        return NULL;
    *index = found->index;
    return &list->children[found->index];
}

/* ---- the walk ------------------------------------------------------------------------------- */

static void compare(work *w, const char *path, const sw_json *before, const sw_json *after);

/* The members in the order of their names, which are each there once. */
static keyed *by_names(work *w, const sw_json *object) {
    keyed *out = SW_NEW(w->arena, keyed, object == NULL ? 0 : object->count);
    w->no_memory |= out == NULL;
    for (size_t i = 0; out != NULL && object != NULL && i < object->count; i++)
        out[i] = (keyed){object->children[i].name, i};
    if (out != NULL && object != NULL)
        qsort(out, object->count, sizeof *out, by_key);
    return out;
}

static void objects(work *w, const char *path, const sw_json *before, const sw_json *after) {
    const keyed *old = by_names(w, before), *now = by_names(w, after);
    size_t index = 0;
    for (size_t i = 0; before != NULL && i < before->count && !w->no_memory && !w->full; i++) {
        const sw_json *child = &before->children[i];
        compare(w, below(w, path, child->name), child, find(after, now, child->name, &index));
    }
    for (size_t i = 0; after != NULL && i < after->count && !w->no_memory && !w->full; i++) {
        const sw_json *child = &after->children[i];
        if (find(before, old, child->name, &index) == NULL)
            compare(w, below(w, path, child->name), NULL, child);
    }
}

static const char *joined(work *w, const sw_json *list) {
    sw_text text = {0};
    for (size_t i = 0; i < list->count; i++) {
        const char *key = key_of(w, &list->children[i]);
        sw_text_addf(&text, "%s%s", i > 0 ? ", " : "", key == NULL ? "" : key);
    }
    const char *kept = text.failed ? NULL : sw_arena_copy(w->arena, text.bytes);
    w->no_memory |= kept == NULL;
    sw_text_free(&text);
    return kept;
}

static bool is_text(const sw_json *json) { return json != NULL && json->kind == SW_JSON_TEXT; }

/* A text of a list is in it or not. */
static void element(work *w, const char *path, const sw_json *before, const sw_json *after) {
    if (is_text(before) && is_text(after))
        return;
    if (is_text(before) || is_text(after))
        add(w, path, before != NULL ? "yes" : NULL, after != NULL ? "yes" : NULL);
    else
        compare(w, path, before, after);
}

static void keyed_lists(work *w, const char *path, const sw_json *before, const keyed *old,
                        const sw_json *after, const keyed *now) {
    size_t last = 0, index = 0;
    bool moved = false;
    for (size_t i = 0; before != NULL && i < before->count; i++) {
        const char *key = key_of(w, &before->children[i]);
        const sw_json *other = find(after, now, key, &index);
        moved |= other != NULL && index < last;
        last = other != NULL ? index : last;
        element(w, below(w, path, key), &before->children[i], other);
    }
    for (size_t i = 0; after != NULL && i < after->count; i++) {
        const char *key = key_of(w, &after->children[i]);
        if (find(before, old, key, &index) == NULL)
            element(w, below(w, path, key), NULL, &after->children[i]);
    }
    if (moved && !w->full)
        add(w, path, joined(w, before), joined(w, after));
}

static void numbered_lists(work *w, const char *path, const sw_json *before, const sw_json *after) {
    size_t old = before == NULL ? 0 : before->count, now = after == NULL ? 0 : after->count;
    for (size_t i = 0; i < old || i < now; i++) {
        const char *step = sw_arena_format(w->arena, "%zu", i);
        w->no_memory |= step == NULL;
        compare(w, below(w, path, step == NULL ? "" : step), i < old ? &before->children[i] : NULL,
                i < now ? &after->children[i] : NULL);
    }
}

static void lists(work *w, const char *path, const sw_json *before, const sw_json *after) {
    keyed *old = before == NULL ? NULL : by_keys(w, before);
    keyed *now = after == NULL ? NULL : by_keys(w, after);
    if ((before == NULL || old != NULL) && (after == NULL || now != NULL))
        keyed_lists(w, path, before, old, after, now);
    else
        numbered_lists(w, path, before, after);
}

static bool holds_any(const sw_json *json, sw_json_kind kind) {
    return json == NULL || (json->kind == kind && json->count > 0);
}

static bool is_equal(const sw_json *a, const sw_json *b) {
    if (a == NULL || b == NULL || a->kind != b->kind)
        return a == b;
    return (a->kind != SW_JSON_TEXT || strcmp(a->text, b->text) == 0) &&
           (a->kind != SW_JSON_NUMBER || a->number == b->number) &&
           (a->kind != SW_JSON_BOOL || a->truth == b->truth) && a->count == b->count;
}

static void compare(work *w, const char *path, const sw_json *before, const sw_json *after) {
    if (w->no_memory || w->full || (before == NULL && after == NULL))
        return;
    if (holds_any(before, SW_JSON_OBJECT) && holds_any(after, SW_JSON_OBJECT))
        objects(w, path, before, after);
    else if (holds_any(before, SW_JSON_ARRAY) && holds_any(after, SW_JSON_ARRAY))
        lists(w, path, before, after);
    else if (!is_equal(before, after))
        add(w, path, told(w, before), told(w, after));
}

sw_status sw_leaf_changes(const sw_leaf_change **out, size_t *count, bool *all, sw_arena *arena,
                          const sw_json *before, const sw_json *after) {
    work w = {.arena = arena};
    compare(&w, "", before, after);
    sw_leaf_change *kept = SW_NEW(arena, sw_leaf_change, w.count);
    if (kept != NULL && w.count > 0)
        memcpy(kept, w.list, w.count * sizeof *kept);
    free(w.list);
    *out = kept;
    *count = w.count;
    *all = !w.full;
    return w.no_memory || kept == NULL ? SW_NO_MEMORY : SW_OK;
}
