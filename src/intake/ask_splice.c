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

static void join(sw_text *out, const char *source, const members *old, const members *before,
                 const members *after) {
    add(out, source, old->count > 0 ? old->list[0].gap : old->tail);
    for (size_t i = 0; i < after->count; i++) {
        const member *now = &after->list[i];
        size_t at = find(before, now);
        bool there = at < old->count && at < before->count;
        sw_text_add(out, i > 0 ? "," : "");
        if (there)
            add(out, old->list[at].gap, old->list[at].name);
        else
            sw_text_add(out, "\n  ");
        if (there && same(before->list[at].name, before->list[at].end, now->name, now->end))
            add(out, old->list[at].name, old->list[at].end);
        else
            add(out, now->name, now->end);
    }
    sw_text_add(out, old->tail);
}

sw_status sw_splice(char **out, const char *source, const char *before, const char *after) {
    members old = {0}, was = {0}, now = {0};
    sw_text text = {0};
    bool good = cut(&old, source) && cut(&was, before) && cut(&now, after);
    if (good)
        join(&text, source, &old, &was, &now);
    free(old.list);
    free(was.list);
    free(now.list);
    if (!good || text.failed) {
        sw_text_free(&text);
        return SW_NO_MEMORY;
    }
    *out = text.bytes;
    return SW_OK;
}
