/* Opening a file for checking, and saying where in it something is wrong. */
#include "check/context.h"

#include <stdio.h>
#include <string.h>

#include "read/bytes.h"
#include "read/json_gate.h"
#include "read/plain.h"

/* Once this many complaints are there no more are kept: guessing what was meant
 * would be lost work. */
#define COMPLAINTS_SHOWN 200

sw_check sw_check_start(sw_complaints *complaints) {
    /* Nothing is known of the currency until sellers.json was read. */
    return (sw_check){.complaints = complaints, .file = "", .currency_doubt = true};
}

void sw_check_end(sw_check *check) {
    sw_names *all[] = {&check->roles,    &check->facts,     &check->observations, &check->tasks,
                       &check->parts,    &check->makers,    &check->uses,         &check->criteria,
                       &check->sellers,  &check->tables,    &check->measures,     &check->findings,
                       &check->troubles, &check->surprises, &check->numbers};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        sw_names_free(all[i]);
    sw_arena_free(check->scratch);
    check->scratch = NULL;
}

sw_status sw_check_status(const sw_check *check) {
    if (check->no_memory)
        return SW_NO_MEMORY;
    if (check->unreadable)
        return SW_CANNOT_READ;
    return check->bad ? SW_BAD_DATA : SW_OK;
}

/* ---- nodes ---------------------------------------------------------------------- */

sw_node sw_member(const sw_node *object, const char *name) {
    return (sw_node){.up = object, .json = sw_json_get(object->json, name), .name = name};
}

sw_node sw_element(const sw_node *array, size_t index) {
    const sw_json *json = &array->json->children[index];
    return (sw_node){.up = array, .json = json, .name = json->name, .index = index};
}

static bool is_plain_name(const char *name) {
    return name[0] != '\0' &&
           strspn(name, "abcdefghijklmnopqrstuvwxyz"
                        "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-") == strlen(name);
}

static void add_step(sw_text *path, const sw_node *node) {
    if (node->name == NULL) {
        sw_text_addf(path, "[%zu]", node->index);
    } else if (is_plain_name(node->name) && strlen(node->name) <= 64) {
        sw_text_addf(path, ".%s", node->name);
    } else {
        sw_text_add(path, "[\"");
        sw_plain_add(path, node->name);
        sw_text_add(path, "\"]");
    }
}

/* "$.rules[3].when[0].fact" */
static void add_path(sw_text *path, const sw_node *node) {
    const sw_node *steps[SW_JSON_DEPTH_LIMIT + 2];
    size_t count = 0;
    for (; node->up != NULL && count < sizeof steps / sizeof *steps; node = node->up)
        steps[count++] = node;
    sw_text_add(path, "$");
    while (count > 0)
        add_step(path, steps[--count]);
}

/* ---- complaints ------------------------------------------------------------------ */

static void wrong_at(sw_check *check, const char *place, const char *why, const char *mend,
                     const char *what, va_list arguments) {
    char *filled = NULL;
    va_list again;
    check->bad = true;
    if (why == NULL || mend == NULL) {
        check->no_memory = true;
        return;
    }
    if (check->wrong_count++ >= COMPLAINTS_SHOWN) {
        sw_complain(check->complaints, check->file, place, why, mend, "is wrong");
        return;
    }
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, what, again);
    va_end(again);
    if (length >= 0 && check->scratch != NULL)
        filled = sw_arena_alloc(check->scratch, (size_t)length + 1, 1);
    if (filled == NULL) {
        check->no_memory = true;
        return;
    }
    vsnprintf(filled, (size_t)length + 1, what, arguments);
    sw_complain(check->complaints, check->file, place, why, mend, "%s", filled);
}

void sw_wrong(sw_check *check, const sw_node *at, const char *why, const char *mend,
              const char *what, ...) {
    sw_text path = {0};
    va_list arguments;
    add_path(&path, at);
    va_start(arguments, what);
    if (path.failed)
        check->no_memory = check->bad = true;
    else
        wrong_at(check, path.bytes, why, mend, what, arguments);
    va_end(arguments);
    sw_text_free(&path);
}

void sw_wrong_line(sw_check *check, size_t line, const char *why, const char *mend,
                   const char *what, ...) {
    char place[40];
    va_list arguments;
    snprintf(place, sizeof place, "line %zu", line);
    va_start(arguments, what);
    wrong_at(check, place, why, mend, what, arguments);
    va_end(arguments);
}

const char *sw_shown(sw_check *check, const char *text) {
    sw_text shown = {0};
    if (check->wrong_count >= COMPLAINTS_SHOWN)
        return "";
    sw_text_add(&shown, "");
    sw_plain_add(&shown, text);
    const char *kept = shown.failed ? NULL : sw_arena_copy(check->scratch, shown.bytes);
    sw_text_free(&shown);
    if (kept == NULL)
        check->no_memory = true;
    return kept == NULL ? "" : kept;
}

const char *sw_mend_name(sw_check *check, const char *name, const char *const *known, size_t count,
                         const char *otherwise) {
    if (check->wrong_count >= COMPLAINTS_SHOWN)
        return otherwise;
    const char *nearest = sw_nearest(name, known, count);
    if (nearest == NULL)
        return otherwise;
    const char *mend =
        sw_arena_format(check->scratch, "did you mean \"%s\"?", sw_shown(check, nearest));
    if (mend == NULL)
        check->no_memory = true;
    return mend == NULL ? otherwise : mend;
}

int sw_find(sw_check *check, const sw_node *at, const sw_names *names, const char *name,
            const char *kind, const char *home) {
    int found = sw_names_find(names, name);
    if (found == SW_NONE && names->whole) {
        const char *otherwise =
            sw_arena_format(check->scratch, "name a %s that %s lists", kind, home);
        const char *mend = sw_mend_name(check, name, names->names, names->count, otherwise);
        sw_wrong(check, at, "only names that are listed can be used", mend,
                 "names the %s \"%s\", which is not known", kind, sw_shown(check, name));
    }
    return found;
}

/* ---- keeping ----------------------------------------------------------------------- */

void *sw_keep(sw_check *check, size_t count, size_t size) {
    void *kept = sw_arena_alloc(check->arena, count, size);
    if (kept == NULL)
        check->no_memory = true;
    return kept;
}

const char *sw_keep_text(sw_check *check, const char *text) {
    const char *kept = sw_arena_copy(check->arena, text);
    if (kept == NULL)
        check->no_memory = true;
    return kept == NULL ? "" : kept;
}

bool sw_register(sw_check *check, const sw_node *at, sw_names *names, const char *name, int index) {
    if (sw_names_find(names, name) != SW_NONE) {
        /* Likely one of the two was meant to have a name that others use. */
        names->whole = false;
        sw_wrong(check, at, "each name stands for one thing", "give one of the two another name",
                 "gives \"%s\" a second time", sw_shown(check, name));
        return false;
    }
    if (!sw_names_add(names, name, index))
        check->no_memory = true;
    return !check->no_memory;
}

/* ---- files --------------------------------------------------------------------------- */

static bool read_root(sw_check *check, const char *path, const sw_json **root) {
    const char *bytes = NULL;
    size_t length = 0;
    sw_arena_free(check->scratch);
    check->scratch = sw_arena_new();
    if (check->scratch == NULL) {
        check->no_memory = true;
        return false;
    }
    sw_status status = sw_bytes_read(&bytes, &length, check->scratch, path, check->complaints);
    if (status == SW_OK)
        status = sw_json_read(root, check->scratch, path, bytes, length, check->complaints);
    check->no_memory |= status == SW_NO_MEMORY;
    check->unreadable |= status == SW_CANNOT_READ;
    check->bad |= status != SW_OK;
    return status == SW_OK;
}

bool sw_check_root(sw_check *check, const sw_json *json, sw_node *root) {
    *root = (sw_node){.json = json, .name = "$"};
    if (json->kind != SW_JSON_OBJECT) {
        sw_wrong(check, root, "every file is one object", "put the contents into { }",
                 "is not an object");
        return false;
    }
    sw_node schema = sw_member(root, "schema");
    if (schema.json == NULL)
        sw_wrong(check, root, "it says how the file is to be read", "add \"schema\": 1",
                 "has no \"schema\"");
    else if (!sw_json_is(schema.json, SW_JSON_NUMBER) || schema.json->number != 1)
        sw_wrong(check, &schema, "this program reads schema 1", "write \"schema\": 1", "is not 1");
    return true;
}

bool sw_check_open(sw_check *check, const char *path, sw_node *root) {
    const sw_json *json = NULL;
    check->file = sw_keep_text(check, path);
    return read_root(check, path, &json) && sw_check_root(check, json, root);
}
