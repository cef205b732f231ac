/*
 * Memory, names, files and numbers for the checker: one arena, interned texts,
 * money and thousandths read from text without the locale.
 */
#include "world.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Block {
    struct Block *next;
    max_align_t data[];
} Block;

_Noreturn void stop(int code, const char *format, ...) {
    va_list args;
    va_start(args, format);
    fputs("brute: ", stderr);
    vfprintf(stderr, format, args);
    fputc('\n', stderr);
    va_end(args);
    exit(code);
}

void *hold(World *w, size_t bytes) {
    Block *b = calloc(1, sizeof *b + (bytes ? bytes : 1));
    if (!b)
        stop(2, "no memory for %zu bytes", bytes);
    b->next = w->arena;
    w->arena = b;
    return b->data;
}

/* Room for one more of `each` bytes; the old array stays in the arena. */
void *grow(World *w, void *old, int have, int *room, size_t each) {
    if (have < *room)
        return old;
    int wanted = *room ? *room * 2 : 16;
    void *fresh = hold(w, (size_t)wanted * each);
    if (have)
        memcpy(fresh, old, (size_t)have * each);
    *room = wanted;
    return fresh;
}

void drop_all(World *w) {
    for (int i = 0; i < w->trees; i++)
        cJSON_Delete(w->tree[i]);
    for (Block *b = w->arena, *next; b; b = next) {
        next = b->next;
        free(b);
    }
}

int intern(World *w, const char *text) {
    for (int i = 0; i < w->names; i++)
        if (!strcmp(w->name[i], text))
            return i;
    w->name = grow(w, w->name, w->names, &w->name_room, sizeof *w->name);
    char *copy = hold(w, strlen(text) + 1);
    strcpy(copy, text);
    w->name[w->names] = copy;
    return w->names++;
}

char *slurp(World *w, const char *path, size_t *length) {
    FILE *f = fopen(path, "rb");
    if (!f)
        stop(2, "%s: %s", path, strerror(errno));
    if (fseek(f, 0, SEEK_END) != 0)
        stop(2, "%s: cannot seek", path);
    long size = ftell(f);
    if (size < 0)
        stop(2, "%s: no size", path);
    rewind(f);
    char *text = hold(w, (size_t)size + 1);
    if (fread(text, 1, (size_t)size, f) != (size_t)size)
        stop(2, "%s: short read", path);
    fclose(f);
    *length = (size_t)size;
    return text;
}

const cJSON *open_json(World *w, const char *path) {
    size_t length;
    char *text = slurp(w, path, &length);
    cJSON *tree = cJSON_ParseWithLength(text, length);
    if (!tree)
        stop(2, "%s: not JSON", path);
    if (w->trees == (int)(sizeof w->tree / sizeof *w->tree))
        stop(2, "more files than the checker holds");
    w->tree[w->trees++] = tree;
    return tree;
}

const cJSON *need(const cJSON *object, const char *name) {
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, name);
    if (!found)
        stop(2, "\"%s\" is missing", name);
    return found;
}

const char *text_of(const cJSON *object, const char *name, const char *otherwise) {
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, name);
    return cJSON_IsString(found) ? found->valuestring : otherwise;
}

long long number_of(const cJSON *object, const char *name, long long otherwise) {
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, name);
    return cJSON_IsNumber(found) ? llround(found->valuedouble) : otherwise;
}

long long milli_of(const cJSON *value) { return llround(value->valuedouble * 1000.0); }

long long money_of(const World *w, const char *text) {
    long long amount = 0;
    int after = -1;
    for (const char *p = text; *p; p++) {
        if (*p == '.') {
            after = 0;
            continue;
        }
        amount = amount * 10 + (*p - '0');
        after += after >= 0;
    }
    for (int i = after < 0 ? 0 : after; i < w->currency_digits; i++)
        amount *= 10;
    return amount;
}

static void decimal_print(long long amount, int digits) {
    long long unit = 1;
    for (int i = 0; i < digits; i++)
        unit *= 10;
    printf("\"%s%lld", amount < 0 ? "-" : "", llabs(amount) / unit);
    if (digits)
        printf(".%0*lld", digits, llabs(amount) % unit);
    putchar('"');
}

void money_print(const World *w, long long amount) { decimal_print(amount, w->currency_digits); }

void points_print(long long milli) { decimal_print(milli, 3); }

int find_role(const World *w, const char *id) {
    for (int i = 0; i < w->roles; i++)
        if (!strcmp(w->role[i].id, id))
            return i;
    return -1;
}

int find_fact(const World *w, const char *name) {
    for (int i = 0; i < w->facts; i++)
        if (!strcmp(w->fact[i].name, name))
            return i;
    return -1;
}

int find_task(const World *w, const char *id) {
    for (int i = 0; i < w->tasks; i++)
        if (!strcmp(w->task[i].id, id))
            return i;
    return -1;
}

int find_part(const World *w, const char *id) {
    for (int i = 0; i < w->parts; i++)
        if (!strcmp(w->part[i].id, id))
            return i;
    return -1;
}

bool bag_has(const Bag *bag, int name) {
    for (int i = 0; i < bag->n; i++)
        if (bag->name[i] == name)
            return true;
    return false;
}

void bag_add(World *w, Bag *bag, int name) {
    if (bag_has(bag, name))
        return;
    int *fresh = hold(w, (size_t)(bag->n + 1) * sizeof *fresh);
    int i = 0;
    for (; i < bag->n && bag->name[i] < name; i++)
        fresh[i] = bag->name[i];
    fresh[i] = name;
    for (; i < bag->n; i++)
        fresh[i + 1] = bag->name[i];
    bag->name = fresh;
    bag->n++;
}
