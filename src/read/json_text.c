/* Values in the making as linked members; the layout is decided when the text is made. */
#include "read/json_text.h"

#include "read/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define COLUMNS 100
#define WHOLE_LIMIT INT64_C(9007199254740991)

struct sw_sketch {
    sw_json_kind kind;
    const char *name;
    const char *text; /* of a text; of a number: its digits */
    bool truth;
    sw_sketch *first, *last, *next; /* members or elements; the next beside it */
    sw_sketch *root;                /* that remembers failures */
    sw_arena *arena;
    sw_status failed; /* of the root */
};

static void fail(sw_sketch *at, sw_status status) {
    if (at->root->failed == SW_OK)
        at->root->failed = status;
}

static bool is_utf8(const char *text) {
    const unsigned char *at = (const unsigned char *)text;
    size_t left = strlen(text), length = 1;
    for (; left > 0 && length > 0; at += length, left -= length)
        length = sw_utf8_length(at, left);
    return length > 0;
}

static const char *copied(sw_sketch *at, const char *text) {
    if (text == NULL || !is_utf8(text)) {
        fail(at, text == NULL ? SW_NO_MEMORY : SW_BAD_DATA);
        return "";
    }
    const char *copy = sw_arena_copy(at->arena, text);
    if (copy == NULL)
        fail(at, SW_NO_MEMORY);
    return copy;
}

/* ---- adding ------------------------------------------------------------------------ */

sw_sketch *sw_sketch_new(sw_arena *arena) {
    sw_sketch *root = SW_NEW(arena, sw_sketch, 1);
    if (root != NULL)
        *root = (sw_sketch){.kind = SW_JSON_OBJECT, .root = root, .arena = arena};
    return root;
}

static void append(sw_sketch *in, sw_sketch *made) {
    if (in->last != NULL)
        in->last->next = made;
    else
        in->first = made;
    in->last = made;
}

/* The place of a value: emptied where there was one of that name. */
static sw_sketch *place(sw_sketch *in, const char *name, sw_json_kind kind) {
    if (in == NULL || (in->kind != SW_JSON_OBJECT && in->kind != SW_JSON_ARRAY))
        return NULL;
    bool named = in->kind == SW_JSON_OBJECT;
    sw_sketch *made = named ? sw_sketch_get(in, name) : NULL;
    if (made != NULL) {
        made->kind = kind;
        made->first = made->last = NULL;
        return made;
    }
    made = SW_NEW(in->arena, sw_sketch, 1);
    if (made == NULL) {
        fail(in, SW_NO_MEMORY);
        return NULL;
    }
    *made = (sw_sketch){.kind = kind, .root = in->root, .arena = in->arena};
    if (named)
        made->name = copied(in, name);
    append(in, made);
    return made;
}

sw_sketch *sw_sketch_object(sw_sketch *in, const char *name) {
    return place(in, name, SW_JSON_OBJECT);
}

sw_sketch *sw_sketch_array(sw_sketch *in, const char *name) {
    return place(in, name, SW_JSON_ARRAY);
}

void sw_sketch_text(sw_sketch *in, const char *name, const char *text) {
    sw_sketch *made = place(in, name, SW_JSON_TEXT);
    if (made != NULL)
        made->text = copied(made, text);
}

static void put_digits(sw_sketch *in, const char *name, const char *digits) {
    sw_sketch *made = place(in, name, SW_JSON_NUMBER);
    if (made == NULL)
        return;
    made->text = digits;
    if (digits == NULL)
        fail(made, SW_NO_MEMORY);
}

void sw_sketch_whole(sw_sketch *in, const char *name, int64_t number) {
    if (in == NULL)
        return;
    if (number > WHOLE_LIMIT || number < -WHOLE_LIMIT)
        fail(in, SW_BAD_DATA);
    put_digits(in, name, sw_arena_format(in->arena, "%lld", (long long)number));
}

void sw_sketch_milli(sw_sketch *in, const char *name, int64_t milli) {
    if (in == NULL)
        return;
    put_digits(in, name, sw_milli_exact(in->arena, milli));
}

void sw_sketch_truth(sw_sketch *in, const char *name, bool truth) {
    sw_sketch *made = place(in, name, SW_JSON_BOOL);
    if (made != NULL)
        made->truth = truth;
}

/* JSON has a point wherever the locale has something else, be it more than one byte. */
static void with_point(char *text) {
    char *to = text;
    for (const char *from = text; *from != '\0'; from++)
        if (strchr("0123456789+-e", *from) != NULL)
            *to++ = *from;
        else if (to == text || to[-1] != '.')
            *to++ = '.';
    *to = '\0';
}

/* Whether digits are enough is said by the reader that will read them. cJSON's own numbers may be
 * off in the last bit. Large ones with an exponent: a plain row of digits might be taken for a
 * whole number that lost some. */
const char *sw_json_number_text(sw_arena *arena, double number) {
    for (int count = 15; count <= 17; count++) {
        const sw_json *back = NULL;
        char *digits = fabs(number) < 1e15 ? sw_arena_format(arena, "%.*g", count, number)
                                           : sw_arena_format(arena, "%.*e", count - 1, number);
        if (digits == NULL || !isfinite(number))
            return NULL;
        with_point(digits);
        sw_status status = sw_json_read(&back, arena, "", digits, strlen(digits), NULL);
        if (status == SW_NO_MEMORY)
            return NULL;
        if (status == SW_OK && back->number == number)
            return digits;
    }
    return NULL;
}

static void fill(sw_sketch *at, const sw_json *json) {
    at->kind = json->kind;
    at->truth = json->truth;
    if (json->kind == SW_JSON_TEXT)
        at->text = copied(at, json->text);
    if (json->kind == SW_JSON_NUMBER) {
        at->text = sw_json_number_text(at->arena, json->number);
        if (at->text == NULL)
            fail(at, isfinite(json->number) ? SW_NO_MEMORY : SW_BAD_DATA);
    }
    for (size_t i = 0; i < json->count; i++)
        sw_sketch_copy(at, json->children[i].name, &json->children[i]);
}

void sw_sketch_copy(sw_sketch *in, const char *name, const sw_json *json) {
    sw_sketch *made = place(in, name, json->kind);
    if (made != NULL)
        fill(made, json);
}

sw_sketch *sw_sketch_of(sw_arena *arena, const sw_json *json) {
    sw_sketch *root = sw_sketch_new(arena);
    if (root != NULL)
        fill(root, json);
    return root;
}

/* ---- finding and moving ------------------------------------------------------------- */

sw_sketch *sw_sketch_get(sw_sketch *in, const char *name) {
    if (in == NULL || in->kind != SW_JSON_OBJECT)
        return NULL;
    for (sw_sketch *at = in->first; at != NULL; at = at->next)
        if (at->name != NULL && strcmp(at->name, name) == 0)
            return at;
    return NULL;
}

sw_sketch *sw_sketch_element(sw_sketch *in, size_t index) {
    sw_sketch *at = in != NULL ? in->first : NULL;
    while (at != NULL && index-- > 0)
        at = at->next;
    return at;
}

size_t sw_sketch_count(const sw_sketch *in) {
    size_t count = 0;
    for (const sw_sketch *at = in != NULL ? in->first : NULL; at != NULL; at = at->next)
        count++;
    return count;
}

static void take_out(sw_sketch *in, sw_sketch *gone) {
    sw_sketch *before = NULL;
    for (sw_sketch *at = in->first; at != gone; at = at->next)
        before = at;
    if (before != NULL)
        before->next = gone->next;
    else
        in->first = gone->next;
    if (in->last == gone)
        in->last = before;
    gone->next = NULL;
}

void sw_sketch_remove(sw_sketch *in, const char *name) {
    sw_sketch *gone = sw_sketch_get(in, name);
    if (gone != NULL)
        take_out(in, gone);
}

void sw_sketch_move(sw_sketch *in, const char *name, const char *behind) {
    sw_sketch *moved = sw_sketch_get(in, name);
    sw_sketch *before = behind != NULL ? sw_sketch_get(in, behind) : NULL;
    if (moved == NULL || moved == before || (behind != NULL && before == NULL))
        return;
    take_out(in, moved);
    if (before == NULL) {
        moved->next = in->first;
        in->first = moved;
    } else {
        moved->next = before->next;
        before->next = moved;
    }
    if (in->last == before)
        in->last = moved;
    if (in->last == NULL)
        in->last = moved;
}

/* ---- writing ------------------------------------------------------------------------ */

void sw_json_text_add(sw_text *to, const char *text) {
    sw_text_add(to, "\"");
    for (const char *at = text; *at != '\0'; at++) {
        unsigned char byte = (unsigned char)*at;
        if (byte == '"' || byte == '\\')
            sw_text_addf(to, "\\%c", byte);
        else if (byte == '\n')
            sw_text_add(to, "\\n");
        else if (byte == '\t')
            sw_text_add(to, "\\t");
        else if (byte < 0x20 || byte == 0x7f)
            sw_text_addf(to, "\\u%04x", byte);
        else
            sw_text_add_bytes(to, at, 1);
    }
    sw_text_add(to, "\"");
}

static void write_name(sw_text *to, const sw_sketch *of) {
    if (of->name == NULL)
        return;
    sw_json_text_add(to, of->name);
    sw_text_add(to, ": ");
}

/* On one line. */
static void write_flat(sw_text *to, const sw_sketch *of) {
    write_name(to, of);
    switch (of->kind) {
    case SW_JSON_NULL:
        sw_text_add(to, "null");
        return;
    case SW_JSON_BOOL:
        sw_text_add(to, of->truth ? "true" : "false");
        return;
    case SW_JSON_NUMBER:
        sw_text_add(to, of->text);
        return;
    case SW_JSON_TEXT:
        sw_json_text_add(to, of->text);
        return;
    case SW_JSON_ARRAY:
    case SW_JSON_OBJECT:
        break;
    }
    sw_text_add(to, of->kind == SW_JSON_OBJECT ? "{" : "[");
    for (const sw_sketch *at = of->first; at != NULL; at = at->next) {
        write_flat(to, at);
        if (at->next != NULL)
            sw_text_add(to, ", ");
    }
    sw_text_add(to, of->kind == SW_JSON_OBJECT ? "}" : "]");
}

/* Characters, since a line of text is as wide as those. */
static size_t columns(const char *bytes, size_t length) {
    size_t count = 0;
    for (size_t i = 0; i < length; i++)
        count += ((unsigned char)bytes[i] & 0xc0) != 0x80;
    return count;
}

static void indent(sw_text *to, size_t depth) {
    for (size_t i = 0; i < depth; i++)
        sw_text_add(to, "  ");
}

static void write_value(sw_text *to, const sw_sketch *of, size_t depth);

static void write_members(sw_text *to, const sw_sketch *of, size_t depth, bool one_by_one) {
    size_t used = 0; /* columns of the line under way; 0: none is */
    for (const sw_sketch *at = of->first; at != NULL; at = at->next) {
        sw_text flat = {0};
        write_flat(&flat, at);
        bool comma = at->next != NULL;
        size_t width = columns(flat.bytes != NULL ? flat.bytes : "", flat.length) + comma;
        bool fits = 2 * depth + width <= COLUMNS;
        bool alone = one_by_one || at->first != NULL;
        bool joins = used > 0 && fits && !alone && used + 1 + width <= COLUMNS;
        if (joins) {
            sw_text_add(to, " ");
        } else {
            sw_text_add(to, "\n");
            indent(to, depth);
        }
        if (fits || at->first == NULL)
            sw_text_add_bytes(to, flat.bytes != NULL ? flat.bytes : "", flat.length);
        else
            write_value(to, at, depth);
        used = !fits || alone ? 0 : joins ? used + 1 + width : 2 * depth + width;
        to->failed = to->failed || flat.failed;
        sw_text_free(&flat);
        if (comma)
            sw_text_add(to, ",");
    }
}

static void write_value(sw_text *to, const sw_sketch *of, size_t depth) {
    write_name(to, of);
    sw_text_add(to, of->kind == SW_JSON_OBJECT ? "{" : "[");
    write_members(to, of, depth + 1, depth == 0);
    sw_text_add(to, "\n");
    indent(to, depth);
    sw_text_add(to, of->kind == SW_JSON_OBJECT ? "}" : "]");
}

sw_status sw_sketch_write(char **out, const sw_sketch *root) {
    *out = NULL;
    if (root == NULL)
        return SW_NO_MEMORY;
    if (root->root->failed != SW_OK)
        return root->root->failed;
    sw_text text = {0};
    if (root->first != NULL)
        write_value(&text, root, 0);
    else
        write_flat(&text, root);
    sw_text_add(&text, "\n");
    if (text.failed) {
        sw_text_free(&text);
        return SW_NO_MEMORY;
    }
    *out = text.bytes;
    return SW_OK;
}
