/* Texts, JSON and the table of cases. */
#include "edge.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void give_up(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    fputs("edge: ", stderr);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
    va_end(arguments);
    exit(WRONG);
}

/* ---- text ------------------------------------------------------------------------------ */

char *copy(const char *text, size_t length) {
    char *own = malloc(length + 1);
    if (own == NULL)
        give_up("no memory");
    memcpy(own, text, length);
    own[length] = '\0';
    return own;
}

char *joined(const char *a, const char *b, const char *c) {
    size_t room = strlen(a) + strlen(b) + strlen(c) + 1;
    char *own = malloc(room);
    if (own == NULL)
        give_up("no memory");
    snprintf(own, room, "%s%s%s", a, b, c);
    return own;
}

char *read_file(const char *path) {
    FILE *in = fopen(path, "rb");
    if (in == NULL)
        return NULL;
    size_t room = 1 << 16, used = 0;
    char *text = malloc(room);
    while (text != NULL) {
        used += fread(text + used, 1, room - used - 1, in);
        if (used < room - 1)
            break;
        room *= 2;
        char *more = realloc(text, room);
        if (more == NULL)
            free(text);
        text = more;
    }
    fclose(in);
    if (text == NULL)
        give_up("no memory");
    text[used] = '\0';
    return text;
}

cJSON *read_json(const char *path) {
    char *text = read_file(path);
    cJSON *json = text == NULL ? NULL : cJSON_Parse(text);
    free(text);
    if (json == NULL)
        give_up("%s is not there, or no JSON", path);
    return json;
}

char *trimmed(const char *from, const char *end) {
    while (from < end && isspace((unsigned char)*from))
        from++;
    while (end > from && isspace((unsigned char)end[-1]))
        end--;
    return copy(from, (size_t)(end - from));
}

bool starts(const char *text, const char *with) { return strncmp(text, with, strlen(with)) == 0; }

/* The next word, blanks between quotes kept; NULL at the end. Freed by the caller. */
char *next_word(const char **at) {
    bool quoted = false;
    while (isspace((unsigned char)**at))
        (*at)++;
    const char *from = *at;
    while (**at != '\0' && (quoted || !isspace((unsigned char)**at))) {
        quoted ^= **at == '"';
        (*at)++;
    }
    return *at == from ? NULL : copy(from, (size_t)(*at - from));
}

/* ---- JSON ------------------------------------------------------------------------------ */

cJSON *at(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

const char *text_at(const cJSON *object, const char *name) {
    const char *text = cJSON_GetStringValue(at(object, name));
    return text == NULL ? "" : text;
}

bool has_text(const cJSON *object, const char *name, const char *text) {
    return strcmp(text_at(object, name), text) == 0;
}

cJSON *with_text(const cJSON *list, const char *name, const char *text) {
    cJSON *item;
    cJSON_ArrayForEach(item, list) {
        if (has_text(item, name, text))
            return item;
    }
    return NULL;
}

bool list_has(const cJSON *list, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) {
        if (cJSON_IsString(item) && strcmp(item->valuestring, text) == 0)
            return true;
    }
    return false;
}

/* ---- the table ------------------------------------------------------------------------- */

void add_line(table *t, const char *from, const char *end, int number) {
    if (t->count == t->room) {
        t->room = t->room == 0 ? 256 : 2 * t->room;
        table_line *more = realloc(t->lines, t->room * sizeof *more);
        if (more == NULL)
            give_up("no memory");
        t->lines = more;
    }
    table_line *line = &t->lines[t->count++];
    line->number = number;
    for (int f = 0; f < FIELDS; f++) {
        const char *bar = memchr(from, '|', (size_t)(end - from));
        const char *until = bar == NULL || f == FIELDS - 1 ? end : bar;
        line->field[f] = trimmed(from, until);
        from = until < end ? until + 1 : end;
    }
}

table read_table(const char *path) {
    table t = {0};
    char *text = read_file(path);
    if (text == NULL)
        give_up("%s is not there", path);
    int number = 1;
    for (const char *from = text; *from != '\0'; number++) {
        const char *end = strchr(from, '\n');
        if (end == NULL)
            end = from + strlen(from);
        char *line = trimmed(from, end);
        if (*line != '\0' && *line != '#')
            add_line(&t, from, end, number);
        free(line);
        from = *end == '\0' ? end : end + 1;
    }
    free(text);
    return t;
}

void free_table(table *t) {
    for (size_t i = 0; i < t->count; i++)
        for (int f = 0; f < FIELDS; f++)
            free(t->lines[i].field[f]);
    free(t->lines);
}

/* A line that only gives a reason why its rule has no case of a kind. */
bool is_reason(const table_line *line) { return starts(line->KIND, "no-"); }
bool is_base(const table_line *line) { return strcmp(line->RULE, "base") == 0; }
bool is_case(const table_line *line) { return !is_base(line) && !is_reason(line); }
