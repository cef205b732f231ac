/* Members of an object by their bytes. All three texts came through the gate: they are sound. */
#include "intake/ask_splice.h"

#include <stdlib.h>
#include <string.h>

typedef struct member {
    const char *gap, *name, *end; /* the blanks before it; its name; behind its value */
} member;

typedef struct members {
    member *list;
    size_t count, room;
    const char *tail; /* behind the last */
} members;

static bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

static const char *skip_text(const char *at) {
    for (at++; *at != '"' && *at != '\0'; at++)
        if (*at == '\\' && at[1] != '\0')
            at++;
    return at + (*at == '"');
}

/* To the comma or the brace behind the member. */
static const char *skip_member(const char *at) {
    size_t depth = 0;
    while (*at != '\0') {
        if (depth == 0 && (*at == ',' || *at == '}'))
            break;
        if (*at == '"') {
            at = skip_text(at);
            continue;
        }
        depth += *at == '{' || *at == '[';
        depth -= depth > 0 && (*at == '}' || *at == ']');
        at++;
    }
    return at;
}

static bool cut(members *out, const char *text) {
    const char *at = strchr(text, '{');
    *out = (members){.tail = at == NULL ? text : at + 1};
    if (at == NULL)
        return true;
    while (*at != '\0') {
        member one = {.gap = at + 1};
        for (at++; is_blank(*at);)
            at++;
        if (*at == '}' || *at == '\0')
            break;
        one.name = at;
        at = skip_member(at);
        one.end = at;
        while (one.end > one.name && is_blank(one.end[-1]))
            one.end--;
        if (!SW_GROW(out->list, out->room, out->count))
            return false;
        out->list[out->count++] = one;
        out->tail = one.end;
        if (*at != ',')
            break;
    }
    return true;
}

static bool same(const char *a, const char *a_end, const char *b, const char *b_end) {
    return a_end - a == b_end - b && memcmp(a, b, (size_t)(a_end - a)) == 0;
}

/* The place in `all` of the member with that name; `all->count`: nowhere. */
static size_t find(const members *all, const member *wanted) {
    const char *end = skip_text(wanted->name);
    size_t i = 0;
    for (; i < all->count; i++)
        if (same(all->list[i].name, skip_text(all->list[i].name), wanted->name, end))
            break;
    return i;
}

static void add(sw_text *out, const char *from, const char *to) {
    sw_text_add_bytes(out, from, (size_t)(to - from));
}

static const char *value_of(const member *one) {
    const char *at = skip_text(one->name);
    while (is_blank(*at))
        at++;
    for (at++; is_blank(*at);)
        at++;
    return at;
}

static bool splice(sw_text *out, const char *source, const char *end, const char *before,
                   const char *after, int levels);

/* A member that is another now. An object keeps what is the same in it, down to that level. */
static bool put_changed(sw_text *out, const member *old, const member *was, const member *now,
                        int levels) {
    const char *old_value = value_of(old), *was_value = value_of(was), *now_value = value_of(now);
    if (levels > 1 && *old_value == '{' && *was_value == '{' && *now_value == '{') {
        add(out, old->name, old_value);
        return splice(out, old_value, old->end, was_value, now_value, levels - 1);
    }
    add(out, now->name, now->end);
    return true;
}

/* The blanks before a new member: below the first level those of its neighbours. */
static void add_gap(sw_text *out, const members *old, bool is_root) {
    if (!is_root && old->count > 0)
        add(out, old->list[0].gap, old->list[0].name);
    else
        sw_text_add(out, is_root ? "\n  " : "\n    ");
}

static bool join(sw_text *out, const char *source, const char *end, const members *old,
                 const members *before, const members *after, int levels) {
    bool good = true, is_root = *end == '\0';
    add(out, source, old->count > 0 ? old->list[0].gap : old->tail);
    for (size_t i = 0; i < after->count && good; i++) {
        const member *now = &after->list[i];
        size_t at = find(before, now);
        bool there = at < old->count && at < before->count;
        sw_text_add(out, i > 0 ? "," : "");
        if (there)
            add(out, old->list[at].gap, old->list[at].name);
        else
            add_gap(out, old, is_root);
        if (!there)
            add(out, now->name, now->end);
        else if (same(before->list[at].name, before->list[at].end, now->name, now->end))
            add(out, old->list[at].name, old->list[at].end);
        else
            good = put_changed(out, &old->list[at], &before->list[at], now, levels);
    }
    add(out, old->tail, end);
    return good;
}

static bool splice(sw_text *out, const char *source, const char *end, const char *before,
                   const char *after, int levels) {
    members old = {0}, was = {0}, now = {0};
    bool good = cut(&old, source) && cut(&was, before) && cut(&now, after) &&
                join(out, source, end, &old, &was, &now, levels);
    free(old.list);
    free(was.list);
    free(now.list);
    return good;
}

sw_status sw_splice(char **out, const char *source, const char *before, const char *after,
                    int levels) {
    sw_text text = {0};
    if (!splice(&text, source, source + strlen(source), before, after, levels) || text.failed) {
        sw_text_free(&text);
        return SW_NO_MEMORY;
    }
    *out = text.bytes;
    return SW_OK;
}
