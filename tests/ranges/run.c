/* Command lines, files and money. */
#include "ranges.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void add_word(Words *w, const char *format, ...) {
    char word[WORD * 4];
    va_list args;
    va_start(args, format);
    int length = vsnprintf(word, sizeof word, format, args);
    va_end(args);
    if (w->n == MOST_WORDS || length < 0 || (size_t)length >= sizeof word)
        give_up("too many or too long words");
    w->at[w->n] = strdup(word);
    if (!w->at[w->n++])
        give_up("memory");
}

void drop_words(Words *w) {
    for (int i = 0; i < w->n; i++)
        free(w->at[i]);
    *w = (Words){.n = 0};
}

cJSON *ask(const Setup *s, Words *w, int *code) {
    char to[2048], err[2048];
    path_of(s, "answer.json", to, sizeof to);
    path_of(s, "answer.err", err, sizeof err);
    *code = run_child(w->at, to, err);
    drop_words(w);
    return read_tree(to);
}

bool fail(Talk *t, const char *format, ...) {
    va_list args;
    va_start(args, format);
    vsnprintf(t->why, t->size, format, args);
    va_end(args);
    return false;
}

void path_of(const Setup *s, const char *name, char *out, size_t size) {
    if (snprintf(out, size, "%s/%s", s->work, name) >= (int)size)
        give_up("the work folder's name is too long");
}

void write_tree(const char *path, const cJSON *json) {
    char *text = cJSON_Print(json);
    FILE *f = fopen(path, "w");
    if (!text || !f || fputs(text, f) < 0 || fclose(f) != 0)
        give_up(path);
    cJSON_free(text);
}

cJSON *must_have(cJSON *pointer) {
    if (!pointer)
        give_up("memory");
    return pointer;
}

/* Of the currencies that the jobs are drawn in. */
static int digits_of(const Job *j) {
    const char *currency = text_of(j->json, "currency");
    return !strcmp(currency, "JPY") ? 0 : !strcmp(currency, "TND") ? 3 : 2;
}

long long minor_of(const Job *j, const char *money) {
    const char *point = strchr(money, '.');
    long long amount = 0;
    int after = point ? (int)strlen(point + 1) : 0;
    for (const char *p = money; *p; p++)
        if (*p != '.')
            amount = amount * 10 + (*p - '0');
    for (; after < digits_of(j); after++)
        amount *= 10;
    return amount;
}

void money_of(const Job *j, long long minor, char *out, size_t size) {
    long long unit = 1;
    for (int i = 0; i < digits_of(j); i++)
        unit *= 10;
    if (unit == 1)
        snprintf(out, size, "%lld", minor);
    else
        snprintf(out, size, "%lld.%0*lld", minor / unit, digits_of(j), minor % unit);
}
