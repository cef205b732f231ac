/*
 * Turns a drawn job into one with time in it: sums on days, quotes that come with them,
 * gifts that come later, a must, limits; by dice of its own, from the seed alone.
 */
#include "later.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ROWS = 400, MOST_PHASES = 4 };

typedef struct Row {
    char part[64], seller[64];
    long price;
    bool waits; /* listed by a quote only */
} Row;

typedef struct Make {
    const Setup *s;
    uint64_t state;
    cJSON *job, *sellers;
    int digits;
    Row row[MOST_ROWS];
    int rows;
    char day[MOST_PHASES + 1][48];
    long at[MOST_PHASES + 1]; /* the same, in days from 2026-02-26 */
    int phases;
} Make;

static int below(Make *m, int n) {
    m->state = m->state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int)((m->state >> 33) % (uint64_t)n);
}

static bool chance(Make *m, int percent) { return below(m, 100) < percent; }

static cJSON *in(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static cJSON *object_in(cJSON *parent, const char *name) {
    cJSON *found = in(parent, name);
    return found ? found : cJSON_AddObjectToObject(parent, name);
}

static void set(cJSON *object, const char *name, cJSON *item) {
    if (!item)
        give_up("memory");
    cJSON_DeleteItemFromObjectCaseSensitive(object, name);
    cJSON_AddItemToObject(object, name, item);
}

static void set_money(Make *m, cJSON *object, const char *name, long minor) {
    char text[64];
    long unit = 1;
    for (int i = 0; i < m->digits; i++)
        unit *= 10;
    int n = snprintf(text, sizeof text, "%ld", minor / unit);
    if (m->digits)
        snprintf(text + n, sizeof text - (size_t)n, ".%0*ld", m->digits, minor % unit);
    set(object, name, cJSON_CreateString(text));
}

static long minor_of(const Make *m, const char *text) {
    long amount = 0;
    int after = -1;
    for (; *text; text++) {
        if (*text == '.') {
            after = 0;
            continue;
        }
        amount = amount * 10 + (*text - '0');
        after += after >= 0;
    }
    for (int i = after < 0 ? 0 : after; i < m->digits; i++)
        amount *= 10;
    return amount;
}

/* About half of the rows are left out each time, and some wait for a quote; what stays is written
 * back. */
static void read_rows(Make *m, const char *path, int thin) {
    char *text = read_text(path), *rest = NULL, *copy = malloc(strlen(text) + 2);
    if (!copy)
        give_up("memory");
    copy[0] = '\0';
    int line_number = 0;
    for (char *line = strtok_r(text, "\r\n", &rest); line; line = strtok_r(NULL, "\r\n", &rest)) {
        bool stays = true;
        char price[64];
        for (int i = 0; i < thin && line_number; i++)
            stays = stays && chance(m, 50);
        bool waits = line_number && chance(m, 12);
        if (stays && !waits)
            strcat(strcat(copy, line), "\n");
        Row *row = &m->row[m->rows];
        if (stays && line_number && m->rows < MOST_ROWS &&
            sscanf(line, "%63[^,],%63[^,],%63[^,]", row->part, row->seller, price) == 3) {
            row->price = minor_of(m, price);
            row->waits = waits;
            m->rows++;
        }
        line_number++;
    }
    write_text(path, copy);
    free(copy);
    free(text);
}

/* Days as YYYY-MM-DD, from 2026-02-26 on; a leap day is met in 2028. */
static void write_day(long after, char *out, size_t size) {
    static const int length[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    long day = 25 + after;
    int month = 1, year = 2026;
    for (;;) {
        int days = length[month] + (month == 1 && year % 4 == 0);
        if (day < days)
            break;
        day -= days;
        month = (month + 1) % 12;
        year += month == 0;
    }
    snprintf(out, size, "%04d-%02d-%02ld", year, month + 1, day + 1);
}

static void draw_days(Make *m) {
    static const int gaps[] = {1, 7, 30, 61, 92, 365};
    long at = below(m, 3) * 2;
    m->phases = 1 + below(m, MOST_PHASES);
    for (int k = 0; k <= m->phases; k++) {
        m->at[k] = at;
        write_day(at, m->day[k], sizeof m->day[k]);
        at += gaps[below(m, 6)] + below(m, 2);
    }
}

static cJSON *draw_quote(Make *m) {
    const Row *row = &m->row[below(m, m->rows)];
    cJSON *quote = cJSON_CreateObject();
    int all = chance(m, 25), listed = chance(m, 75) && !row->waits;
    set(quote, "part", cJSON_CreateString(row->part));
    const char *seller = row->seller;
    if (!listed && !(row->waits && chance(m, 50)))
        seller =
            text_of(cJSON_GetArrayItem(in(m->sellers, "sellers"),
                                       below(m, cJSON_GetArraySize(in(m->sellers, "sellers")))),
                    "id");
    if (!all || !listed)
        set(quote, "seller", cJSON_CreateString(seller));
    if (!listed || chance(m, 70))
        set_money(m, quote, "price", row->price * (40 + below(m, 90)) / 100);
    if (!listed || chance(m, 40))
        set(quote, "stock", cJSON_CreateNumber(below(m, 4)));
    if (chance(m, 30) || cJSON_GetArraySize(quote) < 3)
        set(quote, "days", cJSON_CreateNumber(below(m, 9)));
    return quote;
}

static void put_quotes(Make *m, cJSON *object, int percent) {
    if (!m->rows || !chance(m, percent))
        return;
    cJSON *list = cJSON_CreateArray();
    for (int n = 1 + below(m, 3); n > 0; n--)
        cJSON_AddItemToArray(list, draw_quote(m));
    set(object, "quotes", list);
}

static void put_phases(Make *m) {
    static const long totals[] = {800, 1500, 3000, 5000, 8000, 12000};
    long left = totals[below(m, 6)] * (1 + below(m, 2));
    cJSON *phases = cJSON_CreateObject(), *sums = cJSON_CreateArray();
    for (int k = 0; k < m->phases; k++) {
        cJSON *sum = cJSON_CreateObject();
        long share = k + 1 < m->phases ? 5 + below(m, 60) : 60 + below(m, 40);
        long now = chance(m, 8) ? 0 : left * share / 100;
        set(sum, "on", cJSON_CreateString(m->day[k]));
        set_money(m, sum, "sum", now);
        left -= now;
        put_quotes(m, sum, k ? 60 : 25);
        cJSON_AddItemToArray(sums, sum);
    }
    set(phases, "until", cJSON_CreateString(m->day[m->phases]));
    set(phases, "sums", sums);
    set(m->job, "phases", phases);
}

/* On the first day of a phase or some days later. */
static void date_gifts(Make *m) {
    cJSON *given;
    cJSON_ArrayForEach(given, in(m->job, "given")) {
        char day[48];
        cJSON_DeleteItemFromObjectCaseSensitive(given, "arrives_on");
        if (chance(m, 30))
            continue;
        long at = m->at[below(m, m->phases)];
        write_day(chance(m, 50) ? at : at + below(m, 9), day, sizeof day);
        set(given, "arrives_on", cJSON_CreateString(day));
    }
}

static void put_must(Make *m) {
    const cJSON *role, *piece, *chosen = NULL;
    cJSON *musts = in(m->job, "musts"), *must;
    int n = 0;
    if (cJSON_GetArraySize(musts) > 0 || cJSON_GetArraySize(in(in(m->job, "wishes"), "keep")) > 0 ||
        !chance(m, 15))
        return;
    cJSON_ArrayForEach(role, in(m->job, "machine")) cJSON_ArrayForEach(piece, role) chosen =
        below(m, ++n) == 0 ? piece : chosen;
    if (!chosen)
        return;
    must = cJSON_CreateObject();
    set(must, "id", cJSON_CreateString("must-now"));
    set(must, "replace", cJSON_CreateString(text_of(chosen, "part")));
    set(must, "why", cJSON_CreateString("it is failing"));
    musts = cJSON_CreateArray();
    cJSON_AddItemToArray(musts, must);
    set(m->job, "musts", musts);
}

static void put_limits(Make *m) {
    cJSON *limits = object_in(in(m->job, "wishes"), "limits");
    if (chance(m, 20))
        set(limits, "bench_minutes", cJSON_CreateNumber(10 + below(m, 12) * 10));
    if (chance(m, 20))
        set(limits, "days", cJSON_CreateNumber(below(m, 8)));
}

void make_job(const Setup *s, long seed, int thin) {
    char path[2048];
    Make m = {.s = s, .state = (uint64_t)seed * 977 + (uint64_t)thin * 31 + 5};
    path_of(s, "job/sellers.json", path, sizeof path);
    m.sellers = read_json(path);
    path_of(s, "job/scenario.json", path, sizeof path);
    m.job = read_json(path);
    const char *currency = text_of(m.job, "currency");
    m.digits = !strcmp(currency, "JPY") ? 0 : !strcmp(currency, "TND") ? 3 : 2;
    path_of(s, "job/listings.csv", path, sizeof path);
    read_rows(&m, path, thin);
    draw_days(&m);
    /* Ample money, for bundles of several groups. */
    if (chance(&m, 65))
        set_money(&m, in(m.job, "budget"), "total", 100000 + below(&m, 9) * 10000);
    date_gifts(&m);
    put_must(&m);
    put_limits(&m);
    put_quotes(&m, m.job, 30);
    put_phases(&m);
    path_of(s, "job/scenario.json", path, sizeof path);
    write_json(path, m.job);
    cJSON_Delete(m.job);
    cJSON_Delete(m.sellers);
}
