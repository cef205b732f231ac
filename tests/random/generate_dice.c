/* Dice (splitmix64) and small helpers for building JSON. */
#include "generate.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static uint64_t roll(Draw *d) {
    uint64_t z = (d->state += UINT64_C(0x9E3779B97F4A7C15));
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

int below(Draw *d, int n) { return n <= 1 ? 0 : (int)(roll(d) % (uint64_t)n); }

bool chance(Draw *d, int percent) { return below(d, 100) < percent; }

int between(Draw *d, int least, int most) { return least + below(d, most - least + 1); }

const char *one_of(Draw *d, int n, const char *const *texts) { return texts[below(d, n)]; }

void *must(void *pointer) {
    if (!pointer) {
        fputs("generate: no memory\n", stderr);
        exit(2);
    }
    return pointer;
}

cJSON *object(void) { return must(cJSON_CreateObject()); }

void put_in(cJSON *parent, const char *name, cJSON *item) {
    cJSON_AddItemToObject(parent, name, must(item));
}

void put_next(cJSON *array, cJSON *item) { cJSON_AddItemToArray(array, must(item)); }

cJSON *array_in(cJSON *parent, const char *name) {
    return must(cJSON_AddArrayToObject(parent, name));
}

cJSON *object_in(cJSON *parent, const char *name) {
    return must(cJSON_AddObjectToObject(parent, name));
}

cJSON *text_in(cJSON *parent, const char *name, const char *text) {
    return must(cJSON_AddStringToObject(parent, name, text));
}

cJSON *number_in(cJSON *parent, const char *name, double x) {
    return must(cJSON_AddNumberToObject(parent, name, x));
}

cJSON *flag_in(cJSON *parent, const char *name, bool on) {
    return must(cJSON_AddBoolToObject(parent, name, on));
}

/* A catalog file: {"schema":1, LIST:[]}. */
cJSON *file_of(const char *list) {
    cJSON *file = object();
    number_in(file, "schema", 1);
    array_in(file, list);
    return file;
}

cJSON *next_object(cJSON *array) {
    cJSON *item = object();
    put_next(array, item);
    return item;
}

void text_next(cJSON *array, const char *text) { put_next(array, cJSON_CreateString(text)); }

/* The currency's minor units are taken to be so many hundredths of a unit. */
void money_text(const Draw *d, int hundredths, char *out, size_t size) {
    if (d->digits == 0)
        snprintf(out, size, "%d", hundredths);
    else if (d->digits == 2 && hundredths % 100 == 0 && hundredths % 3 == 0)
        snprintf(out, size, "%d", hundredths / 100);
    else if (d->digits == 2)
        snprintf(out, size, "%d.%02d", hundredths / 100, hundredths % 100);
    else
        snprintf(out, size, "%d.%03d", hundredths / 1000, hundredths % 1000);
}

void money_in(Draw *d, cJSON *parent, const char *name, int hundredths) {
    char text[32];
    money_text(d, hundredths, text, sizeof text);
    text_in(parent, name, text);
}

/* "-3.5" without the locale: at most three decimals. */
double read_number(const char *text) {
    long whole = 0, part = 0, unit = 1;
    bool minus = *text == '-';
    for (text += minus; *text && *text != '.'; text++)
        whole = whole * 10 + (*text - '0');
    for (text += *text == '.'; *text; text++, unit *= 10)
        part = part * 10 + (*text - '0');
    double x = (double)(whole * unit + part) / (double)unit;
    return minus ? -x : x;
}
