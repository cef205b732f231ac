/*
 * bench-catalog SEED CANDIDATES OUTDIR [--charges]: a whole job to measure with, in the formats
 * of catalog/FORMATS.md: OUTDIR/scenario.json and OUTDIR/catalog/. A middling old machine of 15
 * roles, CANDIDATES parts for each; price and quality go together, with noise. Everything is
 * invented. The same seed gives the same bytes everywhere, and the parts of a smaller catalog
 * are the first of a bigger one.
 *
 * Without --charges one seller has everything and sends it free; with it there are five, whose
 * delivery is free from a sum of goods on, and every part is sold by one to three of them.
 */
#include <errno.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "catalog.h"

/* ---- dice ---------------------------------------------------------------------------- */

/* The splitmix64 step: full period, and any two states give unlike streams. */
uint64_t dice_next(dice *d) {
    uint64_t z = d->state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ z >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ z >> 27) * UINT64_C(0x94D049BB133111EB);
    return z ^ z >> 31;
}

dice dice_for(uint64_t seed, uint64_t purpose) {
    dice d = {seed * UINT64_C(0xD1342543DE82EF95) + purpose * UINT64_C(0x2545F4914F6CDD1D)};
    dice_next(&d);
    return d;
}

int between(dice *d, int least, int most) {
    return least + (int)(dice_next(d) % (uint64_t)(most - least + 1));
}

int about(dice *d, int mid, int spread) {
    int sum = between(d, 0, spread) + between(d, 0, spread);
    return mid + sum - spread;
}

int clip(int value, int least, int most) {
    return value < least ? least : value > most ? most : value;
}

/* ---- files --------------------------------------------------------------------------- */

typedef struct job {
    const char *folder;
    uint64_t seed;
    int candidates;
    bool charges;
} job;

static void fail(const char *what, const char *path) {
    fprintf(stderr, "bench-catalog: %s: %s: %s\n", path, what, strerror(errno));
    exit(1);
}

static char *path_of(const job *j, const char *name, const char *end) {
    size_t size = strlen(j->folder) + strlen(name) + strlen(end) + 2;
    char *path = malloc(size);
    if (path == NULL)
        fail("no memory", name);
    snprintf(path, size, "%s/%s%s", j->folder, name, end);
    return path;
}

static void make_folder(const job *j, const char *name) {
    char *path = path_of(j, name, "");
    if (mkdir(path, 0777) != 0 && errno != EEXIST)
        fail("cannot make the folder", path);
    free(path);
}

static FILE *open_file(const job *j, const char *name, const char *end) {
    char *path = path_of(j, name, end);
    FILE *out = fopen(path, "wb");
    if (out == NULL)
        fail("cannot write", path);
    free(path);
    return out;
}

static void close_file(FILE *out, const char *name) {
    bool bad = ferror(out) != 0;
    if (fclose(out) != 0 || bad)
        fail("cannot write", name);
}

/* ---- parts and prices ------------------------------------------------------------------- */

static const char *const makers[] = {"Alderbrook", "Fenwright", "Kilnmoor",
                                     "Lanthorn",   "Marlpit",   "Stowmarsh"};

/* In cents. The better it passes for, the more each step up costs. */
static int price_of(sample *s, const trade_role *role) {
    int64_t bend = (int64_t)s->worth * s->worth / 1000;
    int64_t cents = role->least_eur * 100 + role->span_eur * (bend * 7 + s->worth * 3) / 100;
    cents = cents * (100 + s->premium) / 100;
    cents = cents * about(s->d, 1000, 300) / 1000;
    if (between(s->d, 0, 5) == 0) /* second-hand: whole euros */
        return (int)(cents * between(s->d, 50, 75) / 10000 * 100 + 100);
    return (int)(cents / 50 * 50 + 40);
}

static void write_offer(FILE *out, const char *id, const char *seller, int cents) {
    fprintf(out, "%s,%s,%d.%02d,4,1,24,14\n", id, seller, cents / 100, cents % 100);
}

static const struct {
    const char *id, *name, *delivery, *free_from;
} sellers[] = {
    {"ashgate", "Ashgate Parts", "4.90", "60.00"},
    {"brinkwell", "Brinkwell", "3.90", "90.00"},
    {"coldharbour", "Coldharbour", "5.90", "50.00"},
    {"dunmere", "Dunmere and Low", "6.90", "150.00"},
    {"eastfold", "Eastfold Post", "5.40", "120.00"},
};

/* By one to three of the five, each at a price of its own. */
static void write_offers(FILE *out, dice *d, const char *id, int cents, bool charges) {
    if (!charges) {
        write_offer(out, id, "market", cents);
        return;
    }
    int first = between(d, 0, 4), count = between(d, 1, 3), step = between(d, 1, 2);
    for (int i = 0; i < count; i++) {
        int own = cents * about(d, 1000, 60) / 1000 / 10 * 10;
        write_offer(out, id, sellers[(first + i * step) % 5].id, own);
    }
}

/* One part of the role: its line among the parts, its prices among the listings. */
static void write_part(FILE *out, FILE *listings, const job *j, int r, int i) {
    const trade_role *role = &bench_roles[r];
    dice d = dice_for(j->seed, (uint64_t)(r * 1000003 + i));
    dice trade = dice_for(~j->seed, (uint64_t)(r * 1000003 + i));
    sample s = {.d = &d, .out = out, .comma = ""};
    s.worth = between(&d, 0, 1000);
    s.grade = clip(about(&d, s.worth, 340), 0, 1000);
    s.style = clip(about(&d, 150 + s.worth / 2, 450), 0, 1000);
    const char *maker = makers[between(&d, 0, 5)];
    char id[48];
    snprintf(id, sizeof id, "%s-%04d", role->role, i + 1);
    fprintf(out,
            ",\n  {\"id\": \"%s\", \"role\": \"%s\", \"name\": \"%s %s %d\", \"maker\": \"%s\", "
            "\"facts\": {",
            id, role->role, maker, role->name, i + 1, maker);
    role->draw(&s);
    fputs("}}", out);
    write_offers(listings, &trade, id, price_of(&s, role), j->charges);
}

/* The old part first: nobody sells it. */
static void write_parts(const job *j) {
    FILE *listings = open_file(j, "catalog/listings", ".csv");
    FILE *out = open_file(j, "catalog/parts/parts", ".json");
    fputs("part,seller,price,stock,days,warranty_months,return_days\n", listings);
    fputs("{\"schema\": 1, \"parts\": [", out);
    for (int r = 0; r < ROLES; r++) {
        const trade_role *role = &bench_roles[r];
        fprintf(out,
                "%s\n  {\"id\": \"%s-old\", \"role\": \"%s\", \"name\": \"the old %s\", \"maker\": "
                "\"Peatbank\", \"facts\": {%s}}",
                r > 0 ? "," : "", role->role, role->role, role->name, role->present);
        for (int i = 0; i < j->candidates; i++)
            write_part(out, listings, j, r, i);
    }
    fputs("\n]}\n", out);
    close_file(out, "parts.json");
    close_file(listings, "listings.csv");
}

/* ---- the rest ----------------------------------------------------------------------------- */

static void write_sellers(const job *j) {
    FILE *out = open_file(j, "catalog/sellers", ".json");
    fputs("{\"schema\": 1, \"currency\": \"EUR\", \"sellers\": [", out);
    if (!j->charges)
        fputs("\n  {\"id\": \"market\", \"name\": \"The market\"}", out);
    for (int i = 0; j->charges && i < 5; i++)
        fprintf(out,
                "%s\n  {\"id\": \"%s\", \"name\": \"%s\", \"delivery\": \"%s\", \"free_from\": "
                "\"%s\", \"delivery_days\": 2}",
                i > 0 ? "," : "", sellers[i].id, sellers[i].name, sellers[i].delivery,
                sellers[i].free_from);
    fputs("\n]}\n", out);
    close_file(out, "sellers.json");
}

static void write_scenario(const job *j) {
    FILE *out = open_file(j, "scenario", ".json");
    fprintf(out,
            "{\"schema\": 1, \"title\": \"Bench: seed %llu, %d candidates for each role\", "
            "\"catalog\": \"catalog\", \"currency\": \"EUR\", \"date\": \"2026-03-02\",\n"
            " \"machine\": {",
            (unsigned long long)j->seed, j->candidates);
    for (int r = 0; r < ROLES; r++) {
        const trade_role *role = &bench_roles[r];
        fprintf(out, "%s\n  \"%s\": [{\"part\": \"%s-old\"", r > 0 ? "," : "", role->role,
                role->role);
        if (role->offer_eur > 0)
            fprintf(out, ", \"offer\": \"%d.00\"", role->offer_eur);
        fputs("}]", out);
    }
    fputs("},\n"
          " \"wishes\": {\"swings\": {\"speed\": 50, \"quiet\": 20, \"looks\": 20, \"panel\": 4, "
          "\"feel\": 4, \"headset\": 2},\n"
          "  \"uses\": [{\"use\": \"play\", \"share\": 50}, {\"use\": \"films\", \"share\": 30}, "
          "{\"use\": \"office\", \"share\": 20}],\n"
          "  \"taste\": {\"finish\": [\"white\"], \"light\": [\"soft\"]}},\n"
          " \"room\": {\"level_dba\": 26, \"distance_m\": 0.7},\n"
          " \"budget\": {\"total\": \"1500.00\"}}\n",
          out);
    close_file(out, "scenario.json");
}

int main(int argc, char **argv) {
    bool charges = argc == 5 && strcmp(argv[4], "--charges") == 0;
    char *seed_end = NULL, *count_end = NULL;
    if (argc == 4 || charges) {
        job j = {.folder = argv[3], .charges = charges};
        j.seed = strtoull(argv[1], &seed_end, 10);
        j.candidates = (int)strtol(argv[2], &count_end, 10);
        if (*seed_end == '\0' && *count_end == '\0' && j.candidates >= 1 && j.candidates <= 3000) {
            static const char *const fixed[] = {"roles",        "facts",   "rules",    "tasks",
                                                "observations", "charges", "criteria", "uses"};
            make_folder(&j, "");
            make_folder(&j, "catalog");
            make_folder(&j, "catalog/parts");
            for (size_t i = 0; i < sizeof fixed / sizeof *fixed; i++) {
                char *path = path_of(&j, "catalog/", fixed[i]);
                FILE *out = open_file(&j, path + strlen(j.folder) + 1, ".json");
                write_fixed(fixed[i], out);
                close_file(out, path);
                free(path);
            }
            write_parts(&j);
            write_sellers(&j);
            write_scenario(&j);
            return 0;
        }
    }
    fprintf(stderr, "bench-catalog SEED CANDIDATES OUTDIR [--charges] (1 to 3000 candidates)\n");
    return 64;
}
