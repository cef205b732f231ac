/*
 * One change of a scenario's JSON: a copy of the tree with one member or element set, made or
 * taken away. What the change comes to is judged afterwards, like any file.
 */
#include "check/stage.h"

#include <stdlib.h>
#include <string.h>

#include "read/utf8.h"

#define STEPS_MOST 16

typedef enum list_kind { NO_LIST, LIST_OF_TEXTS, LIST_OF_OBJECTS } list_kind;

typedef struct change {
    sw_check *check;
    const char *path, *value;
    const char *steps[STEPS_MOST];
    size_t step_count;
    sw_json is;    /* the value */
    bool takes;    /* the value is null: take it away */
    bool in, asks; /* of a list of texts: put it in? `asks`: the value says yes or no */
} change;

static bool wrong(change *c, const char *why, const char *mend, const char *what, const char *of) {
    sw_check *check = c->check;
    check->bad = true;
    sw_complain(check->complaints, check->file, sw_shown(check, c->path), why, mend, what,
                sw_shown(check, of));
    return false;
}

static bool no_memory(change *c) {
    c->check->no_memory = true;
    return false;
}

/* ---- the path and the value ----------------------------------------------------------------- */

static bool read_path(change *c) {
    const char *at = c->path;
    for (;;) {
        size_t length = strcspn(at, ".");
        if (length == 0)
            return wrong(c, "names stand between the dots", "write it like budget.total",
                         "is no path%s", "");
        if (c->step_count == STEPS_MOST)
            return wrong(c, "no place in a scenario lies that deep", "shorten it",
                         "has too many steps%s", "");
        const char *step = sw_arena_text(c->check->scratch, at, length);
        if (step == NULL)
            return no_memory(c);
        c->steps[c->step_count++] = step;
        if (at[length] == '\0')
            return true;
        at += length + 1;
    }
}

static bool is_utf8(const char *text) {
    size_t left = strlen(text), length = 1;
    for (; left > 0 && length > 0; text += length, left -= length) {
        length = sw_utf8_length((const unsigned char *)text, left);
        if (length == 0)
            return false;
    }
    return true;
}

/* A number as JSON has it, else not one: without a complaint. False: memory is out. */
static bool read_number(sw_json *out, const char *text) {
    sw_arena *arena = sw_arena_new();
    sw_complaints *unsaid = sw_complaints_new();
    const sw_json *json = NULL;
    sw_status status = arena == NULL || unsaid == NULL
                           ? SW_NO_MEMORY
                           : sw_json_read(&json, arena, "", text, strlen(text), unsaid);
    out->as_number = status == SW_OK && json->kind == SW_JSON_NUMBER;
    if (out->as_number)
        out->number = json->number;
    sw_arena_free(arena);
    sw_complaints_free(unsaid);
    return status != SW_NO_MEMORY;
}

static bool read_bare(change *c) {
    const char *text = c->value;
    bool yes = strcmp(text, "yes") == 0 || strcmp(text, "true") == 0;
    bool no = strcmp(text, "no") == 0 || strcmp(text, "false") == 0;
    if (!is_utf8(text))
        return wrong(c, "texts are UTF-8", "write it in UTF-8",
                     "is set to bytes that are no text%s", "");
    c->is = (sw_json){.kind = SW_JSON_TEXT, .bare = true, .as_truth = yes || no, .truth = yes};
    c->is.text = sw_arena_copy(c->check->scratch, text);
    c->is.due = SW_NEW(c->check->scratch, sw_json_kind, 1);
    if (c->is.text == NULL || c->is.due == NULL)
        return no_memory(c);
    *c->is.due = SW_JSON_NULL;
    if (((text[0] >= '0' && text[0] <= '9') || text[0] == '-') && !read_number(&c->is, text))
        return no_memory(c);
    c->takes = strcmp(text, "null") == 0;
    c->asks = yes || no || c->takes;
    c->in = yes;
    return true;
}

static bool read_value(change *c) {
    const sw_json *json = NULL;
    if (c->value[0] == '\0' || strchr("{[\"", c->value[0]) == NULL)
        return read_bare(c);
    sw_status status = sw_json_read(&json, c->check->scratch, c->check->file, c->value,
                                    strlen(c->value), c->check->complaints);
    if (status == SW_NO_MEMORY)
        return no_memory(c);
    c->check->bad |= status != SW_OK;
    if (status == SW_OK)
        c->is = *json;
    return status == SW_OK;
}

/* ---- lists --------------------------------------------------------------------------------- */

static bool is_one_of(const char *name, const char *const *names, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (strcmp(name, names[i]) == 0)
            return true;
    return false;
}

#define IS_ONE_OF(name, ...)                                                                       \
    is_one_of((name), (const char *const[]){__VA_ARGS__},                                          \
              sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *))

/* What stands at the first `step` steps of the path, by its name, where nothing is there yet. */
static list_kind list_by_name(const change *c, size_t step) {
    const char *name = step > 0 ? c->steps[step - 1] : "";
    const char *above = step > 1 ? c->steps[step - 2] : "";
    if (IS_ONE_OF(name, "observed", "keep", "replace", "avoid", "strings") ||
        strcmp(above, "taste") == 0)
        return LIST_OF_TEXTS;
    if (IS_ONE_OF(name, "quotes", "given", "musts", "uses", "sums", "complaints") ||
        strcmp(above, "machine") == 0)
        return LIST_OF_OBJECTS;
    return NO_LIST;
}

static list_kind list_at(const change *c, const sw_json *old, size_t step) {
    if (old == NULL || (old->kind == SW_JSON_ARRAY && old->count == 0))
        return list_by_name(c, step);
    if (old->kind != SW_JSON_ARRAY)
        return NO_LIST;
    return old->children[0].kind == SW_JSON_TEXT ? LIST_OF_TEXTS : LIST_OF_OBJECTS;
}

static const char *text_of(const sw_json *object, const char *name) {
    const sw_json *found = sw_json_get(object, name);
    return found != NULL && found->kind == SW_JSON_TEXT ? found->text : NULL;
}

/* Is `key` what the element goes by? */
static bool goes_by(const sw_json *element, const char *key) {
    static const char *const names[] = {"id", "part", "complaint", "use", "on"};
    const char *part = text_of(element, "part"), *seller = text_of(element, "seller");
    if (text_of(element, "id") == NULL && part != NULL && seller != NULL) {
        size_t length = strlen(part);
        return strncmp(key, part, length) == 0 && key[length] == '@' &&
               strcmp(key + length + 1, seller) == 0;
    }
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *text = text_of(element, names[i]);
        if (text != NULL)
            return strcmp(text, key) == 0;
    }
    return false;
}

/* The element that the step names; `list->count` when there is none. */
static size_t element_at(const sw_json *list, const char *step) {
    size_t index = 0, length = strlen(step);
    for (size_t i = 0; i < list->count; i++)
        if (goes_by(&list->children[i], step))
            return i;
    if (length == 0 || length > 6 || strspn(step, "0123456789") != length)
        return list->count;
    for (size_t i = 0; i < length; i++)
        index = index * 10 + (size_t)(step[i] - '0');
    return index < list->count ? index : list->count;
}

/* A new element that goes by `key`, in the list at the first `step` steps. */
static bool make_element(change *c, size_t step, const char *key, sw_json *out) {
    const char *list = c->steps[step - 1];
    const char *name = strcmp(list, "uses") == 0         ? "use"
                       : strcmp(list, "sums") == 0       ? "on"
                       : strcmp(list, "musts") == 0      ? "id"
                       : strcmp(list, "complaints") == 0 ? "complaint"
                                                         : "part";
    const char *at = strcmp(name, "part") == 0 ? strchr(key, '@') : NULL;
    sw_json *members = SW_NEW(c->check->scratch, sw_json, 2);
    size_t length = at == NULL ? strlen(key) : (size_t)(at - key);
    const char *text = sw_arena_text(c->check->scratch, key, length);
    if (members == NULL || text == NULL)
        return no_memory(c);
    members[0] = (sw_json){.kind = SW_JSON_TEXT, .name = name, .text = text};
    if (at != NULL)
        members[1] = (sw_json){.kind = SW_JSON_TEXT, .name = "seller", .text = at + 1};
    *out = (sw_json){.kind = SW_JSON_OBJECT, .children = members, .count = at == NULL ? 1 : 2};
    return true;
}

/* ---- the tree ------------------------------------------------------------------------------- */

static bool change_at(change *c, const sw_json *old, const char *name, size_t step, sw_json *out,
                      bool *gone);

/* `old` (NULL: nothing) with child `at` changed, made (`at` = its count) or taken away. */
static bool with_child(change *c, const sw_json *old, size_t at, const sw_json *child, bool gone,
                       sw_json *out) {
    size_t count = old == NULL ? 0 : old->count, used = 0;
    sw_json *children = SW_NEW(c->check->scratch, sw_json, count + 1);
    if (children == NULL)
        return no_memory(c);
    for (size_t i = 0; i < count; i++)
        if (i != at)
            children[used++] = old->children[i];
        else if (!gone)
            children[used++] = *child;
    if (at == count && !gone)
        children[used++] = *child;
    out->children = children;
    out->count = used;
    return true;
}

static bool in_object(change *c, const sw_json *old, size_t step, sw_json *out) {
    const char *name = c->steps[step];
    size_t at = 0, count = old == NULL ? 0 : old->count;
    while (at < count && strcmp(old->children[at].name, name) != 0)
        at++;
    sw_json child;
    bool gone = false;
    out->kind = SW_JSON_OBJECT;
    return is_utf8(name) ? change_at(c, at < count ? &old->children[at] : NULL, name, step + 1,
                                     &child, &gone) &&
                               with_child(c, old, at, &child, gone, out)
                         : wrong(c, "names are UTF-8", "write it in UTF-8", "is no path%s", "");
}

static bool in_texts(change *c, const sw_json *old, size_t step, sw_json *out) {
    const char *text = c->steps[step];
    size_t at = 0, count = old == NULL ? 0 : old->count;
    while (at < count &&
           (old->children[at].kind != SW_JSON_TEXT || strcmp(old->children[at].text, text) != 0))
        at++;
    if (step + 1 < c->step_count)
        return wrong(c, "nothing lies below a text in a list", "take away what is behind it",
                     "goes on behind the text \"%s\"", text);
    if (!c->asks)
        return wrong(c, "a text is in the list or it is not", "write =yes or =no behind it",
                     "is set to \"%s\"", c->value);
    sw_json child = {.kind = SW_JSON_TEXT, .text = text};
    out->kind = SW_JSON_ARRAY;
    return with_child(c, old, at, &child, !c->in, out);
}

static bool in_objects(change *c, const sw_json *old, size_t step, sw_json *out) {
    const char *key = c->steps[step];
    size_t count = old == NULL ? 0 : old->count, at = old == NULL ? 0 : element_at(old, key);
    sw_json child, made;
    bool gone = false;
    const sw_json *element = at < count ? &old->children[at] : NULL;
    if (element == NULL && list_by_name(c, step) != LIST_OF_OBJECTS)
        return wrong(
            c,
            "an element is named by its id, part, complaint, use or day, or by its number from 0",
            "name one that is there", "has no element \"%s\"", key);
    if (element == NULL && step + 1 < c->step_count) {
        if (!make_element(c, step, key, &made))
            return false;
        element = &made;
    }
    out->kind = SW_JSON_ARRAY;
    return change_at(c, element, NULL, step + 1, &child, &gone) &&
           with_child(c, old, at, &child, gone, out);
}

/* What stands at the first `step` steps, as the change leaves it. The depth is the path's. */
static bool change_at(change *c, const sw_json *old, const char *name, size_t step, sw_json *out,
                      bool *gone) {
    if (step == c->step_count) {
        *out = c->is;
        out->name = name;
        *gone = c->takes;
        return true;
    }
    *out = (sw_json){.name = name};
    list_kind kind = list_at(c, old, step);
    if (kind == LIST_OF_TEXTS)
        return in_texts(c, old, step, out);
    if (kind == LIST_OF_OBJECTS)
        return in_objects(c, old, step, out);
    if (old != NULL && old->kind != SW_JSON_OBJECT)
        return wrong(c, "only objects and lists have something below them",
                     "take away what is behind it", "goes on behind \"%s\", which has no parts",
                     step > 0 ? c->steps[step - 1] : "");
    return in_object(c, old, step, out);
}

bool sw_change_json(const sw_json **root, sw_check *check, const char *path, const char *value) {
    change c = {.check = check, .path = path, .value = value};
    sw_json *out = SW_NEW(check->scratch, sw_json, 1);
    bool gone = false;
    if (out == NULL)
        return no_memory(&c);
    if (!read_path(&c) || !read_value(&c) || !change_at(&c, *root, NULL, 0, out, &gone))
        return false;
    *root = out;
    return true;
}
