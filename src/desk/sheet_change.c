/*
 * Changes of section 18 made in a scenario's text. The tree is changed where --set changes it, the
 * check says what bare words stand for, and the one place in which two trees differ is then written
 * anew in the text.
 */
#include "desk/sheets.h"

#include <stdlib.h>
#include <string.h>

#include "check/stage.h"
#include "read/json_text.h"

typedef struct work {
    sw_arena *arena;
    const sw_json **trees; /* [changes so far] */
    sw_text text;          /* as it is so far */
} work;

/* ---- passing over text that came through the gate ------------------------------------------- */

static bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

static const char *skip_blanks(const char *at) {
    while (is_blank(*at))
        at++;
    return at;
}

static const char *skip_text(const char *at) {
    for (at++; *at != '"' && *at != '\0'; at++)
        if (*at == '\\' && at[1] != '\0')
            at++;
    return at + (*at == '"');
}

static const char *skip_value(const char *at) {
    size_t depth = 0;
    do {
        if (*at == '"') {
            at = skip_text(at);
            continue;
        }
        if (*at == '{' || *at == '[') {
            depth++;
            at++;
        } else if (*at == '}' || *at == ']') {
            depth--;
            at++;
        } else if (depth > 0) {
            at++;
        } else {
            while (*at != '\0' && !is_blank(*at) && strchr(",}]", *at) == NULL)
                at++;
        }
    } while (depth > 0 && *at != '\0');
    return at;
}

/* A child as it stands: blanks behind what was before it, its name, its value. */
typedef struct place {
    const char *gap, *start, *value, *end;
} place;

/* The first child of the container at `open`, or the next one. */
static place child_from(const char *gap, bool named) {
    place out = {.gap = gap, .start = skip_blanks(gap)};
    out.value = named ? skip_blanks(skip_blanks(skip_text(out.start)) + 1) : out.start;
    out.end = skip_value(out.value);
    return out;
}

static place next_child(place last, bool named) {
    return child_from(skip_blanks(last.end) + 1, named);
}

static place child_at(const char *open, size_t index, bool named) {
    place at = child_from(open + 1, named);
    for (size_t i = 0; i < index; i++)
        at = next_child(at, named);
    return at;
}

/* ---- what is written anew ------------------------------------------------------------------- */

/* A bare word as what was due where it stands. What nothing was due of (its name is wrong, or the
 * check did not come that far) is what it looks like. */
static sw_json plain_word(const sw_json *word) {
    sw_json out = {.kind = SW_JSON_TEXT, .name = word->name, .text = word->text};
    sw_json_kind due = word->due == NULL ? SW_JSON_NULL : *word->due;
    if (due == SW_JSON_NULL)
        due = word->as_number ? SW_JSON_NUMBER : word->as_truth ? SW_JSON_BOOL : SW_JSON_TEXT;
    if (due == SW_JSON_NUMBER || due == SW_JSON_BOOL)
        out = (sw_json){
            .kind = due, .name = word->name, .number = word->number, .truth = word->truth};
    return out;
}

/* Without bare words. The depth is the path's: what was read has none. */
static bool without_bare(sw_json *out, work *w, const sw_json *json) {
    *out = json->bare ? plain_word(json) : *json;
    if (json->bare || json->count == 0)
        return true;
    sw_json *children = SW_NEW(w->arena, sw_json, json->count);
    if (children == NULL)
        return false;
    for (size_t i = 0; i < json->count; i++)
        if (!without_bare(&children[i], w, &json->children[i]))
            return false;
    out->children = children;
    return true;
}

/* The blanks at the head of the line in which `at` stands. */
static const char *indent_of(work *w, const char *text, const char *at) {
    const char *line = at;
    while (line > text && line[-1] != '\n')
        line--;
    size_t length = strspn(line, " \t");
    return sw_arena_text(w->arena, line, line + length > at ? (size_t)(at - line) : length);
}

/* Appends the value, its further lines as far in as the line at `at` is. */
static sw_status add_value(sw_text *to, work *w, const sw_json *json, const char *at) {
    sw_json plain;
    char *made = NULL;
    const char *indent = indent_of(w, w->text.bytes, at);
    if (indent == NULL || !without_bare(&plain, w, json))
        return SW_NO_MEMORY;
    sw_status status = sw_sketch_write(&made, sw_sketch_of(w->arena, &plain));
    if (status != SW_OK)
        return status;
    made[strlen(made) - 1] = '\0'; /* the line end */
    for (const char *line = made; *line != '\0';) {
        size_t length = strcspn(line, "\n");
        sw_text_add_bytes(to, line, length);
        line += length;
        if (*line == '\n') {
            sw_text_addf(to, "\n%s", indent);
            line++;
        }
    }
    free(made);
    return to->failed ? SW_NO_MEMORY : SW_OK;
}

/* ---- one place ------------------------------------------------------------------------------ */

static bool is_container(const sw_json *json) {
    return json->kind == SW_JSON_OBJECT || json->kind == SW_JSON_ARRAY;
}

/* Is it the very value, left as it was? What was not touched is shared. */
static bool is_same(const sw_json *a, const sw_json *b) {
    if (a->kind != b->kind || a->bare != b->bare)
        return false;
    switch (a->kind) {
    case SW_JSON_NULL:
        return true;
    case SW_JSON_BOOL:
        return a->truth == b->truth;
    case SW_JSON_NUMBER:
        return a->number == b->number;
    case SW_JSON_TEXT:
        return a->text == b->text;
    case SW_JSON_ARRAY:
    case SW_JSON_OBJECT:
        return a->children == b->children && a->count == b->count;
    }
    return false;
}

static bool is_same_child(const sw_json *a, const sw_json *b) {
    return sw_text_compare(a->name, b->name) == 0 && is_same(a, b);
}

static size_t first_difference(const sw_json *old, const sw_json *now) {
    size_t i = 0;
    while (i < old->count && i < now->count && is_same_child(&old->children[i], &now->children[i]))
        i++;
    return i;
}

/* Bytes `from` to `to` of the text are to be `with`. */
static void replace(work *w, const char *from, const char *to, sw_text *with) {
    sw_text out = {0};
    const char *text = w->text.bytes;
    sw_text_add_bytes(&out, text, (size_t)(from - text));
    sw_text_add_bytes(&out, with->bytes != NULL ? with->bytes : "", with->length);
    sw_text_add(&out, to);
    out.failed |= with->failed;
    sw_text_free(with);
    sw_text_free(&w->text);
    w->text = out;
}

/* As the children before it stand: on a line of its own, or behind them. */
static sw_status append_child(work *w, const char *open, const sw_json *old, const sw_json *child) {
    bool named = child->name != NULL;
    sw_text made = {0};
    place last = {0};
    const char *at = open + 1;
    if (old->count > 0) {
        last = child_at(open, old->count - 1, named);
        at = last.end;
        sw_text_add(&made, ",");
        if (last.start > last.gap)
            sw_text_add_bytes(&made, last.gap, (size_t)(last.start - last.gap));
        else
            sw_text_add(&made, " ");
    }
    if (named) {
        sw_json_text_add(&made, child->name);
        const char *behind = old->count > 0 ? skip_text(last.start) : NULL;
        if (behind != NULL)
            sw_text_add_bytes(&made, behind, (size_t)(last.value - behind));
        else
            sw_text_add(&made, ": ");
    }
    sw_json nameless = *child;
    nameless.name = NULL;
    sw_status status = add_value(&made, w, &nameless, old->count > 0 ? last.start : open);
    if (status == SW_OK)
        replace(w, at, old->count > 0 ? at : skip_blanks(at), &made);
    else
        sw_text_free(&made);
    return status;
}

static void take_away(work *w, const char *open, const sw_json *old, size_t index) {
    bool named = old->kind == SW_JSON_OBJECT;
    place gone = child_at(open, index, named);
    sw_text nothing = {0};
    if (old->count == 1)
        replace(w, open + 1, skip_blanks(gone.end), &nothing);
    else if (index == 0)
        replace(w, gone.start, next_child(gone, named).start, &nothing);
    else
        replace(w, child_at(open, index - 1, named).end, gone.end, &nothing);
}

static sw_status put_value(work *w, const char *at, const sw_json *json) {
    sw_text made = {0};
    sw_json nameless = *json;
    nameless.name = NULL;
    sw_status status = add_value(&made, w, &nameless, at);
    if (status == SW_OK)
        replace(w, at, skip_value(at), &made);
    else
        sw_text_free(&made);
    return status;
}

/* The text's value at `at` is `old`: it is to be `now`, which differs in one place. */
static sw_status mend(work *w, const char *at, const sw_json *old, const sw_json *now) {
    while (!is_same(old, now)) {
        if (!is_container(old) || old->kind != now->kind)
            return put_value(w, at, now);
        size_t index = first_difference(old, now);
        if (now->count == old->count + 1 && index == old->count)
            return append_child(w, at, old, &now->children[index]);
        if (now->count + 1 == old->count) {
            sw_json rest = {
                .kind = now->kind, .count = now->count - index, .children = now->children + index};
            sw_json were = {
                .kind = now->kind, .count = rest.count, .children = old->children + index + 1};
            if (first_difference(&were, &rest) == rest.count) {
                take_away(w, at, old, index);
                return SW_OK;
            }
        }
        if (now->count != old->count)
            return put_value(w, at, now);
        if (index == old->count)
            return SW_OK; /* equal, in a list made anew */
        for (size_t i = index + 1; i < old->count; i++)
            if (!is_same_child(&old->children[i], &now->children[i]))
                return put_value(w, at, now);
        if (old->kind == SW_JSON_OBJECT &&
            strcmp(old->children[index].name, now->children[index].name) != 0)
            return put_value(w, at, now);
        at = child_at(at, index, old->kind == SW_JSON_OBJECT).value;
        old = &old->children[index];
        now = &now->children[index];
    }
    return SW_OK;
}

/* ---- the whole ------------------------------------------------------------------------------ */

/* The catalog was read with the rest of the file: another would make another job of it. */
static bool may_change(const char *path, sw_complaints *complaints) {
    static const char *const fixed[] = {"schema", "catalog"};
    for (size_t f = 0; f < sizeof fixed / sizeof *fixed; f++) {
        size_t length = strlen(fixed[f]);
        if (strncmp(path, fixed[f], length) == 0 && (path[length] == '\0' || path[length] == '.')) {
            sw_complain(complaints, "--set", fixed[f], "all the rest is read by it",
                        "change it in the file, with an editor", "cannot be changed here");
            return false;
        }
    }
    return true;
}

/* "PATH=VALUE" as two texts. */
static sw_status cut(const char **path, const char **value, work *w, const char *setting,
                     sw_complaints *complaints) {
    const char *equals = strchr(setting, '=');
    if (equals == NULL || equals == setting) {
        sw_complain(complaints, "--set", "", "a change names a place and its value",
                    "write it like budget.total=700", "is no change");
        return SW_BAD_DATA;
    }
    *path = sw_arena_text(w->arena, setting, (size_t)(equals - setting));
    *value = equals + 1;
    if (*path == NULL)
        return SW_NO_MEMORY;
    return may_change(*path, complaints) ? SW_OK : SW_BAD_DATA;
}

static sw_status change_trees(work *w, const char *const *settings, size_t count,
                              sw_complaints *complaints) {
    sw_check check = sw_check_start(complaints);
    check.scratch = w->arena;
    check.file = "--set";
    sw_status status = SW_OK;
    for (size_t i = 0; i < count && status == SW_OK; i++) {
        const char *path = NULL, *value = NULL;
        status = cut(&path, &value, w, settings[i], complaints);
        w->trees[i + 1] = w->trees[i];
        if (status == SW_OK && !sw_change_json(&w->trees[i + 1], &check, path, value))
            status = check.no_memory ? SW_NO_MEMORY : SW_BAD_DATA;
    }
    check.scratch = NULL;
    sw_check_end(&check);
    return status;
}

/* Complains of what is wrong with the changed scenario, which is no failure here. */
static sw_status judge(const sw_json *tree, const char *path, const char *catalog,
                       sw_complaints *faults) {
    sw_scenario *scenario = NULL;
    sw_status status = sw_scenario_read_tree(&scenario, path, tree, catalog, false, faults);
    sw_scenario_free(scenario);
    return status == SW_NO_MEMORY ? status : SW_OK;
}

/* Nested too deep, say: what goes into a sheet is read by all. */
static sw_status read_again(work *w, sw_complaints *complaints) {
    const sw_json *again = NULL;
    if (w->text.failed)
        return SW_NO_MEMORY;
    if (w->text.length > SW_SHEET_BYTES) {
        sw_complain(complaints, "--set", "", "the desk works on jobs of at most 4 MiB",
                    "say it in fewer words", "makes the job too large");
        return SW_BAD_DATA;
    }
    return sw_json_read(&again, w->arena, "--set", w->text.bytes, w->text.length, complaints);
}

static sw_status change(work *w, size_t length, const char *path, const char *catalog,
                        const char *const *settings, size_t count, sw_complaints *faults,
                        sw_complaints *complaints) {
    w->trees = SW_NEW(w->arena, const sw_json *, count + 1);
    if (w->trees == NULL || w->text.failed)
        return SW_NO_MEMORY;
    sw_status status =
        sw_json_read(&w->trees[0], w->arena, path, w->text.bytes, length, complaints);
    if (status == SW_OK)
        status = change_trees(w, settings, count, complaints);
    if (status == SW_OK)
        status = judge(w->trees[count], path, catalog, faults);
    for (size_t i = 0; i < count && status == SW_OK; i++) {
        status = mend(w, skip_blanks(w->text.bytes), w->trees[i], w->trees[i + 1]);
        if (status == SW_OK && w->text.failed)
            status = SW_NO_MEMORY;
    }
    return status == SW_OK ? read_again(w, complaints) : status;
}

sw_status sw_text_change(sw_changed *out, const char *text, size_t length, const char *path,
                         const char *catalog, const char *const *settings, size_t count,
                         sw_complaints *faults, sw_complaints *complaints) {
    work w = {.arena = sw_arena_new()};
    if (w.arena == NULL)
        return SW_NO_MEMORY;
    sw_text_add_bytes(&w.text, text, length);
    sw_status status = change(&w, length, path, catalog, settings, count, faults, complaints);
    if (status == SW_OK)
        *out = (sw_changed){w.text.bytes, w.text.length};
    else
        sw_text_free(&w.text);
    sw_arena_free(w.arena);
    return status;
}
