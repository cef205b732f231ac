/* Likenesses, from left to right: no step can be taken in two ways, so none is tried again. */
#include "read/like.h"
#include "base/letters.h"

#include <string.h>

#define LIKE_BYTES 200
#define SLOT_DIGITS 7

static bool is_digit(char byte) { return byte >= '0' && byte <= '9'; }

static bool is_wordly(char byte) {
    return is_digit(byte) || (sw_small_letter(byte) >= 'a' && sw_small_letter(byte) <= 'z');
}

size_t sw_blank_length(const char *text) {
    if (text[0] == ' ' || text[0] == '\t')
        return 1;
    if (strncmp(text, "\xC2\xA0", 2) == 0)
        return 2;
    return strncmp(text, "\xE2\x80\xAF", 3) == 0 ? 3 : 0;
}

/* ---- reading one ------------------------------------------------------------------ */

/* `*at` stands behind the brace and is moved behind the other. */
static bool read_slot(sw_like *like, sw_arena *arena, const char **at, sw_like_step *out,
                      const char **fault) {
    const char *end = strchr(*at, '}');
    *out = (sw_like_step){.kind = SW_LIKE_SLOT, .slot = -1};
    if (end == NULL) {
        *fault = "opens a brace that is never closed";
        return false;
    }
    size_t length = (size_t)(end - *at);
    const char *name = *at;
    *at = end + 1;
    if (length == 1 && name[0] == '*') {
        out->kind = SW_LIKE_REST;
        return true;
    }
    if (length == 1 && name[0] == '-')
        return true;
    for (; length > 0 && (name[length - 1] == '.' || name[length - 1] == ','); length--)
        *(name[length - 1] == '.' ? &out->point : &out->comma) = true;
    if (length == 0 || strspn(name, "abcdefghijklmnopqrstuvwxyz_") < length) {
        *fault = "has a slot without a name in small letters";
        return false;
    }
    if (like->slot_count == SW_LIKE_SLOTS) {
        *fault = "has more than 4 slots";
        return false;
    }
    const char *kept = sw_arena_text(arena, name, length);
    *fault = NULL;
    if (kept == NULL)
        return false;
    if (sw_like_slot(like, kept) >= 0) {
        *fault = "has two slots of one name";
        return false;
    }
    out->slot = like->slot_count;
    like->slots[like->slot_count++] = kept;
    return true;
}

/* May `next` stand behind `before`? */
static const char *clash(const sw_like_step *before, const sw_like_step *next) {
    if (before->kind == SW_LIKE_REST)
        return "goes on behind {*}";
    if (before->kind != SW_LIKE_SLOT)
        return NULL;
    if (next->kind == SW_LIKE_SLOT)
        return "has a slot right behind another";
    return next->kind == SW_LIKE_LETTER && is_digit(next->letter)
               ? "has a digit right behind a slot"
               : NULL;
}

bool sw_like_read(sw_like *out, sw_arena *arena, const char *text, const char **fault) {
    sw_like like = {0};
    size_t length = strlen(text);
    *fault = "is longer than 200 bytes";
    if (length > LIKE_BYTES)
        return false;
    sw_like_step *steps = SW_NEW(arena, sw_like_step, length + 1);
    *fault = NULL;
    if (steps == NULL)
        return false;
    for (const char *at = text; *at != '\0';) {
        sw_like_step step = {.kind = SW_LIKE_LETTER, .letter = sw_small_letter(*at), .slot = -1};
        size_t blank = sw_blank_length(at);
        if (*at == '{') {
            at++;
            if (!read_slot(&like, arena, &at, &step, fault))
                return false;
        } else if (blank > 0) {
            step.kind = SW_LIKE_BLANK;
            at += blank;
        } else {
            at++;
        }
        if (like.count > 0 && (*fault = clash(&steps[like.count - 1], &step)) != NULL)
            return false;
        /* A blank between two slots parts nothing where none stands. */
        if (like.count > 1 && steps[like.count - 1].kind == SW_LIKE_BLANK &&
            (*fault = clash(&steps[like.count - 2], &step)) != NULL)
            return false;
        steps[like.count++] = step;
    }
    like.steps = steps;
    *out = like;
    return true;
}

int sw_like_slot(const sw_like *like, const char *name) {
    for (int i = 0; i < like->slot_count; i++)
        if (strcmp(like->slots[i], name) == 0)
            return i;
    return -1;
}

/* ---- holding a text against it ------------------------------------------------------- */

/* A number at `at`; its length, 0 when it is none. */
static size_t take_number(const sw_like_step *step, const char *at, int64_t *milli) {
    int64_t number = 0;
    size_t digits = 0, decimals = 0;
    for (; is_digit(at[digits]); digits++) {
        if (digits == SLOT_DIGITS)
            return 0;
        number = number * 10 + (at[digits] - '0');
    }
    if (digits == 0 || number > 1000000)
        return 0;
    number *= 1000;
    char mark = at[digits];
    if ((mark != '.' && mark != ',') || !is_digit(at[digits + 1])) {
        *milli = number;
        return digits;
    }
    if (mark == '.' ? !step->point : !step->comma)
        return 0;
    const char *behind = at + digits + 1;
    for (int64_t unit = 100; is_digit(behind[decimals]); decimals++, unit /= 10) {
        if (decimals == 3)
            return 0;
        number += unit * (behind[decimals] - '0');
    }
    /* 1,500 may be one and a half or fifteen hundred. */
    bool grouped = decimals == 3 && digits <= 3 && at[0] != '0';
    bool again =
        (behind[decimals] == '.' || behind[decimals] == ',') && is_digit(behind[decimals + 1]);
    if (grouped || again)
        return 0;
    *milli = number;
    return digits + 1 + decimals;
}

/* How far it goes from `text` on; SIZE_MAX when it does not. */
static size_t take_all(const sw_like *like, const char *text, int64_t *milli) {
    const char *at = text;
    for (size_t i = 0; i < like->count; i++) {
        const sw_like_step *step = &like->steps[i];
        int64_t number = 0;
        size_t length = 0;
        switch (step->kind) {
        case SW_LIKE_LETTER:
            if (sw_small_letter(*at) != step->letter)
                return SIZE_MAX;
            at++;
            break;
        case SW_LIKE_BLANK:
            while ((length = sw_blank_length(at)) > 0)
                at += length;
            break;
        case SW_LIKE_SLOT:
            length = take_number(step, at, &number);
            if (length == 0)
                return SIZE_MAX;
            if (step->slot >= 0)
                milli[step->slot] = number;
            at += length;
            break;
        case SW_LIKE_REST:
            at += strlen(at);
            break;
        }
    }
    return (size_t)(at - text);
}

bool sw_like_is(const sw_like *like, const char *text, int64_t *milli) {
    size_t length = take_all(like, text, milli);
    return length != SIZE_MAX && text[length] == '\0';
}

static bool may_begin(const char *text, size_t at) {
    if (at == 0 || !is_wordly(text[at]))
        return true;
    if (is_wordly(text[at - 1]))
        return false;
    bool joined = strchr(".,-/", text[at - 1]) != NULL && at > 1 && is_digit(text[at - 2]);
    return !joined || !is_digit(text[at]);
}

static bool may_end(const char *text, size_t end) {
    if (end == 0 || !is_wordly(text[end - 1]))
        return true;
    return !is_wordly(text[end]) && !(text[end] == '/' && is_wordly(text[end + 1]));
}

bool sw_like_find(const sw_like *like, const char *text, size_t *from, int64_t *milli) {
    for (size_t at = *from; text[at] != '\0'; at++) {
        if (!may_begin(text, at))
            continue;
        size_t length = take_all(like, text + at, milli);
        if (length == SIZE_MAX || length == 0 || !may_end(text, at + length))
            continue;
        *from = at + length;
        return true;
    }
    return false;
}
