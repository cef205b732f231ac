/* Price lists whose truth is known, in every dialect. Shares no code with the program. */
#ifndef TESTS_INTAKE_PRICES_H
#define TESTS_INTAKE_PRICES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "../fits/child.h"

#define PARTS 40
#define ROWS 160

typedef struct text {
    char *bytes;
    size_t length, room;
} text;

void add(text *to, const char *format, ...);
void add_bytes(text *to, const char *bytes, size_t length);
void empty(text *to);

void sow(uint64_t seed);
int draw(int below); /* 0 .. below - 1 */
bool one_in(int n);

typedef struct dialect {
    const char *encoding, *mark;
    bool has_mark; /* the file begins with one */
    char delimiter;
    bool crlf, quotes, header, crowded; /* crowded: every cell in quotes */
    int lead;
    char decimal;
    int digits;           /* of the currency */
    int decimals;         /* 0 full, 1 whole-or-full, 2 up-to, 3 none */
    const char *grouping; /* "" none */
    bool grouped_must;
    const char *sign; /* "" none */
    int sign_place;   /* 0 either, 1 before, 2 behind */
    bool sign_must;
    int tax; /* whole percent added; 0 none */
    const char *currency;
    bool has_maker, cheapest;
    int order[6]; /* number, maker, name, price, stock, extra: places */
    int width;
    int step; /* in tenths */
} dialect;

typedef struct part {
    char id[16], name[64], maker[16], number[16];
} part;

typedef struct truth {
    const char *fate;      /* as the report names it */
    const char *column;    /* refused */
    int part;              /* -1 */
    int64_t price;         /* of a piece */
    bool held;             /* the part is known, and the row waits */
    bool doubtful, priced; /* by name or pack; the price was confirmed */
    const char *drawn;     /* its fate before prices were compared */
    int stock, days;
    char number[32]; /* as the row states it */
} truth;

typedef struct sample {
    dialect in;
    part parts[PARTS];
    truth rows[ROWS];
    int row_count;
    bool faulty; /* some row is to be refused */
    text list;   /* in UTF-8 */
    text file;   /* in its encoding */
    text listings, confirm, old;
    int64_t before[PARTS], others[PARTS]; /* listed until now, in minor units; 0: not */
    int stock_before[PARTS];
} sample;

void make_sample(sample *out, uint64_t seed, bool faulty);
/* What was written becomes what was listed before; true when nothing changes by it. */
bool read_again(sample *it);
void free_sample(sample *it);
/* The list in its encoding, or in another. */
void encode(text *out, const text *list, const char *encoding, bool mark);
void write_catalog(const sample *it, const char *folder);
void write_file(const char *path, const char *bytes, size_t length);

extern int passed, failed;
void check(bool good, const char *format, ...);

/* Runs the program; the exit code. The report is in *report, NULL where it is no JSON. */
int ask(const char *program, const char *folder, const char *list, const char *confirm,
        const char *out, cJSON **report);
void judge(const sample *it, uint64_t seed, int code, const cJSON *report, const char *listings);

void spoil_lists(const char *program, const char *folder, uint64_t seed, int rounds);
void bombs(const char *program, const char *folder);
void facts(const char *program, const char *catalog, const char *folder, const char *table);

#endif
