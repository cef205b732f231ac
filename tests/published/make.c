/*
 * make FOLDER: writes the published problems of expected.txt as catalog and
 * scenario folders in our own formats. Its output is committed; run it again
 * only to change the problems.
 *
 * Every item is a role that is empty today and may hold one part. Its value is a
 * number fact that one rated criterion reads with weight 1 and scale 100, so
 * points are the value itself. One resource is the money, each other resource a
 * supply rule with a fixed supply.
 */
#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { MOST_ITEMS = 28, MOST_ROWS = 10 };

typedef struct Problem {
    const char *folder, *title, *source;
    int items, rows;
    const char *budget;
    const char *value[MOST_ITEMS];
    int price[MOST_ITEMS]; /* 0 everywhere: no resource is money */
    int use[MOST_ROWS][MOST_ITEMS];
    int supply[MOST_ROWS];
    int group[MOST_ITEMS]; /* 0: every item is a role of its own */
} Problem;

static const char *const lorie = "Lorie and Savage 1955, Journal of Business 28; data from memory";
static const char *const petersen = "Petersen 1967, Management Science 13(9)";
static const char *const ness = "Weingartner and Ness 1967, Operations Research 15(1)";
static const char *const toth = "Martello and Toth 1990, Knapsack Problems, chapter 2";
static const char *const burkardt = "Burkardt, data set knapsack_01";
static const char *const kellerer =
    "Kellerer, Pferschy and Pisinger 2004, chapter 2; data from memory";
static const char *const sinha = "made for this project in the form of Sinha and Zoltners 1979";

/* clang-format off */
#define WEINGARTNER_DATA \
    {"1898", "440", "22507", "270", "14148", "3100", "4650", "30800", "615", "4975", "1160", \
     "4225", "510", "11880", "479", "440", "490", "330", "110", "560", "24355", "2885", "11748", \
     "4550", "750", "3720", "1950", "10500"}, \
    {45, 0, 85, 150, 65, 95, 30, 0, 170, 0, 40, 25, 20, 0, 0, 25, 0, 0, 25, 0, 165, 0, 85, 0, 0, \
     0, 0, 100}, \
    {{30, 20, 125, 5, 80, 25, 35, 73, 12, 15, 15, 40, 5, 10, 10, 12, 10, 9, 0, 20, 60, 40, 50, \
      36, 49, 40, 19, 150}}

static const Problem problems[] = {
    {"lorie-savage", "Nine projects, two periods", lorie, 9, 1, "50",
     {"14", "17", "17", "15", "40", "12", "14", "10", "12"},
     {12, 54, 6, 6, 30, 6, 48, 36, 18}, {{3, 7, 6, 2, 35, 6, 4, 3, 3}}, {20}, {0}},
    {"petersen-1", "Six projects, ten resources", petersen, 6, 10, "0",
     {"100", "600", "1200", "2400", "500", "2000"}, {0},
     {{8, 12, 13, 64, 22, 41}, {8, 12, 13, 75, 22, 41}, {3, 6, 4, 18, 6, 4}, {5, 10, 8, 32, 6, 12},
      {5, 13, 8, 42, 6, 20}, {5, 13, 8, 48, 6, 20}, {0, 0, 0, 0, 8, 0}, {3, 0, 4, 0, 8, 0},
      {3, 2, 4, 0, 8, 4}, {3, 2, 4, 8, 8, 4}},
     {80, 96, 20, 36, 44, 48, 10, 18, 22, 24}, {0}},
    {"petersen-2", "Ten projects, ten resources", petersen, 10, 10, "0",
     {"600.1", "310.5", "1800", "3850", "18.6", "198.7", "882", "4200", "402.5", "327"}, {0},
     {{20, 5, 100, 200, 2, 4, 60, 150, 80, 40}, {20, 7, 130, 280, 2, 8, 110, 210, 100, 40},
      {60, 3, 50, 100, 4, 2, 20, 40, 6, 12}, {60, 8, 70, 200, 4, 6, 40, 70, 16, 20},
      {60, 13, 70, 250, 4, 10, 60, 90, 20, 24}, {60, 13, 70, 280, 4, 10, 70, 105, 22, 28},
      {5, 2, 20, 100, 2, 5, 10, 60, 0, 0}, {45, 14, 80, 180, 6, 10, 40, 100, 20, 0},
      {55, 14, 80, 200, 6, 10, 50, 140, 30, 40}, {65, 14, 80, 220, 6, 10, 50, 180, 30, 50}},
     {450, 540, 200, 360, 440, 480, 200, 360, 440, 480}, {0}},
    {"petersen-3", "Fifteen projects, ten resources, the first one money", petersen, 15, 9, "550",
     {"100", "220", "90", "400", "300", "400", "205", "120", "160", "580", "400", "140", "100",
      "1300", "650"},
     {8, 24, 13, 80, 70, 80, 45, 15, 28, 90, 130, 32, 20, 120, 40},
     {{8, 44, 13, 100, 100, 90, 75, 25, 28, 120, 130, 32, 40, 160, 40},
      {3, 6, 4, 20, 20, 30, 8, 3, 12, 14, 40, 6, 3, 20, 5},
      {5, 9, 6, 40, 30, 40, 16, 5, 18, 24, 60, 16, 11, 30, 25},
      {5, 11, 7, 50, 40, 40, 19, 7, 18, 29, 70, 21, 17, 30, 25},
      {5, 11, 7, 55, 40, 40, 21, 9, 18, 29, 70, 21, 17, 35, 25},
      {0, 0, 1, 10, 4, 10, 0, 6, 0, 6, 32, 3, 0, 70, 10},
      {3, 4, 5, 20, 14, 20, 6, 12, 10, 18, 42, 9, 12, 100, 20},
      {3, 6, 9, 30, 29, 20, 12, 12, 10, 30, 42, 18, 18, 110, 20},
      {3, 8, 9, 35, 29, 20, 16, 15, 10, 30, 42, 20, 18, 120, 20}},
     {700, 130, 240, 280, 310, 110, 205, 260, 275}, {0}},
    {"weingartner-600", "Twenty-eight projects, second resource 600", ness, 28, 1, "600",
     WEINGARTNER_DATA, {600}, {0}},
    {"weingartner-500", "Twenty-eight projects, second resource 500", ness, 28, 1, "500",
     WEINGARTNER_DATA, {500}, {0}},
    {"weingartner-300", "Twenty-eight projects, second resource 300", ness, 28, 1, "300",
     WEINGARTNER_DATA, {300}, {0}},
    {"knapsack-toth-1", "Example 2.1", toth, 8, 0, "102",
     {"15", "100", "90", "60", "40", "15", "10", "1"}, {2, 20, 20, 30, 40, 30, 60, 10},
     {{0}}, {0}, {0}},
    {"knapsack-toth-3", "Example 2.3", toth, 6, 0, "190",
     {"50", "50", "64", "46", "50", "5"}, {56, 59, 80, 64, 75, 17}, {{0}}, {0}, {0}},
    {"knapsack-toth-7", "Example 2.7", toth, 7, 0, "50",
     {"70", "20", "39", "37", "7", "5", "10"}, {31, 10, 20, 19, 4, 3, 6}, {{0}}, {0}, {0}},
    {"knapsack-kreher", "Ten items", "Kreher and Stinson, in: Burkardt, data set knapsack_01",
     10, 0,
     "165", {"92", "57", "49", "68", "60", "43", "67", "84", "87", "72"},
     {23, 31, 29, 44, 53, 38, 63, 85, 89, 82}, {{0}}, {0}, {0}},
    {"knapsack-p02", "Five items", burkardt, 5, 0, "26", {"24", "13", "23", "15", "16"},
     {12, 7, 11, 8, 9}, {{0}}, {0}, {0}},
    {"knapsack-p06", "Seven items", burkardt, 7, 0, "170",
     {"442", "525", "511", "593", "546", "564", "617"}, {41, 50, 49, 59, 55, 57, 60},
     {{0}}, {0}, {0}},
    {"knapsack-p07", "Fifteen items", burkardt, 15, 0, "750",
     {"135", "139", "149", "150", "156", "163", "173", "184", "192", "201", "210", "214", "221",
      "229", "240"},
     {70, 73, 77, 80, 82, 87, 90, 94, 98, 106, 110, 113, 115, 118, 120}, {{0}}, {0}, {0}},
    {"knapsack-kellerer", "Seven items", kellerer, 7, 0, "9",
     {"6", "5", "8", "9", "6", "7", "3"}, {2, 3, 6, 7, 5, 9, 4}, {{0}}, {0}, {0}},
    {"multiple-choice", "Four groups, one of each at most", sinha, 11, 0, "300",
     {"30", "45", "60", "20", "38", "50", "12", "22", "18", "30", "36"},
     {100, 180, 300, 60, 150, 260, 40, 90, 80, 120, 200}, {{0}}, {0},
     {1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4}},
};
/* clang-format on */

static FILE *create(const char *root, const Problem *p, const char *name) {
    char path[4096];
    if (snprintf(path, sizeof path, "%s/%s/%s", root, p->folder, name) >= (int)sizeof path) {
        fprintf(stderr, "make: the path of %s is too long\n", name);
        exit(2);
    }
    FILE *f = fopen(path, "w");
    if (!f) {
        fprintf(stderr, "make: %s: %s\n", path, strerror(errno));
        exit(2);
    }
    return f;
}

static void finish(FILE *f) {
    if (fclose(f) != 0) {
        fprintf(stderr, "make: %s\n", strerror(errno));
        exit(2);
    }
}

static void write_file(const char *root, const Problem *p, const char *name, const char *format,
                       ...) {
    va_list args;
    FILE *f = create(root, p, name);
    va_start(args, format);
    vfprintf(f, format, args);
    va_end(args);
    finish(f);
}

/* Item and role of place i (from 0); a group is one role with several items. */
static void name_item(const Problem *p, int i, char *item, char *role, size_t size) {
    snprintf(item, size, "item-%02d", i + 1);
    if (p->group[0])
        snprintf(role, size, "group-%d", p->group[i]);
    else
        snprintf(role, size, "slot-%02d", i + 1);
}

static int opens_role(const Problem *p, int i) {
    return i == 0 || !p->group[0] || p->group[i] != p->group[i - 1];
}

static void write_roles(const char *root, const Problem *p) {
    char item[32], role[32];
    FILE *f = create(root, p, "roles.json");
    fputs("{\n  \"schema\": 1,\n  \"roles\": [", f);
    for (int i = 0; i < p->items; i++) {
        name_item(p, i, item, role, sizeof item);
        if (opens_role(p, i))
            fprintf(f, "%s\n    {\"role\": \"%s\", \"name\": \"%s\", \"least\": 0, \"most\": 1}",
                    i ? "," : "", role, role);
    }
    fputs("\n  ]\n}\n", f);
    finish(f);
}

static void write_fact(FILE *f, const Problem *p, const char *name, const char *meaning) {
    char item[32], role[32];
    fprintf(f,
            "    {\n      \"fact\": \"%s\", \"type\": \"number\", \"combine\": \"sum\",\n"
            "      \"least\": 0, \"most\": 1000000,\n      \"roles\": [",
            name);
    for (int i = 0; i < p->items; i++) {
        name_item(p, i, item, role, sizeof item);
        if (opens_role(p, i))
            fprintf(f, "%s\"%s\"", i ? ", " : "", role);
    }
    fprintf(f, "],\n      \"meaning\": \"%s\", \"source\": \"%s\"\n    }", meaning, p->source);
}

static void write_facts(const char *root, const Problem *p) {
    char name[32];
    FILE *f = create(root, p, "facts.json");
    fputs("{\n  \"schema\": 1,\n  \"facts\": [\n", f);
    write_fact(f, p, "value", "what the item is worth");
    for (int k = 0; k < p->rows; k++) {
        snprintf(name, sizeof name, "use_%d", k + 1);
        fputs(",\n", f);
        write_fact(f, p, name, "what the item uses of this resource");
    }
    fputs("\n  ],\n  \"derived\": []\n}\n", f);
    finish(f);
}

static void write_rules(const char *root, const Problem *p) {
    FILE *f = create(root, p, "rules.json");
    fputs("{\n  \"schema\": 1,\n  \"rules\": [", f);
    for (int k = 0; k < p->rows; k++)
        fprintf(f,
                "%s\n    {\n      \"id\": \"resource-%d\", \"shape\": \"supply\", "
                "\"level\": \"hard\",\n      \"loads\": [{\"fact\": \"*.use_%d\"}], "
                "\"supplies\": [{\"fixed\": %d}],\n"
                "      \"client\": \"There is {room} of this resource; this needs {need}.\",\n"
                "      \"bench\": \"{need} of {room}: {short} short.\",\n"
                "      \"source\": \"%s\"\n    }",
                k ? "," : "", k + 1, k + 1, p->supply[k], p->source);
    fputs(p->rows ? "\n  ]\n}\n" : "]\n}\n", f);
    finish(f);
}

static void write_parts(const char *root, const Problem *p) {
    char item[32], role[32];
    FILE *f = create(root, p, "parts/items.json");
    fputs("{\n  \"schema\": 1,\n  \"parts\": [", f);
    for (int i = 0; i < p->items; i++) {
        name_item(p, i, item, role, sizeof item);
        fprintf(f,
                "%s\n    {\n      \"id\": \"%s\", \"role\": \"%s\", \"name\": \"%s\", "
                "\"maker\": \"paper\",\n      \"facts\": {\"value\": %s",
                i ? "," : "", item, role, item, p->value[i]);
        for (int k = 0; k < p->rows; k++)
            fprintf(f, ", \"use_%d\": %d", k + 1, p->use[k][i]);
        fputs("}\n    }", f);
    }
    fputs("\n  ]\n}\n", f);
    finish(f);
}

static void write_listings(const char *root, const Problem *p) {
    char item[32], role[32];
    FILE *f = create(root, p, "listings.csv");
    fputs("part,seller,price,stock,days,warranty_months,return_days\n", f);
    for (int i = 0; i < p->items; i++) {
        name_item(p, i, item, role, sizeof item);
        fprintf(f, "%s,shop,%d,1,0,24,14\n", item, p->price[i]);
    }
    finish(f);
}

static void make_folder(const char *root, const Problem *p, const char *below) {
    char path[4096];
    if (snprintf(path, sizeof path, "%s/%s%s", root, p->folder, below) >= (int)sizeof path ||
        (mkdir(path, 0777) != 0 && errno != EEXIST)) {
        fprintf(stderr, "make: %s: %s\n", path, strerror(errno));
        exit(2);
    }
}

static void write_problem(const char *root, const Problem *p) {
    make_folder(root, p, "");
    make_folder(root, p, "/parts");
    write_roles(root, p);
    write_facts(root, p);
    write_rules(root, p);
    write_parts(root, p);
    write_listings(root, p);
    write_file(root, p, "tasks.json", "{\"schema\": 1, \"tasks\": []}\n");
    write_file(root, p, "observations.json", "{\"schema\": 1, \"observations\": []}\n");
    write_file(root, p, "charges.json", "{\"schema\": 1, \"charges\": []}\n");
    write_file(root, p, "uses.json", "{\"schema\": 1, \"uses\": []}\n");
    write_file(root, p, "sellers.json",
               "{\n  \"schema\": 1, \"currency\": \"EUR\",\n  \"sellers\": [{\"id\": \"shop\", "
               "\"name\": \"The shop\", \"delivery_days\": 1, \"minutes\": 0}]\n}\n");
    write_file(
        root, p, "criteria.json",
        "{\n  \"schema\": 1,\n  \"criteria\": [\n    {\"id\": \"value\", \"name\": "
        "\"Value\", \"kind\": \"rated\", \"facts\": [\"*.value\"], \"scale\": 100}\n  ]\n}\n");
    write_file(root, p, "scenario.json",
               "{\n  \"schema\": 1, \"title\": \"%s\",\n  \"note\": \"%s\",\n"
               "  \"catalog\": \".\", \"currency\": \"EUR\", \"date\": \"2026-03-02\",\n"
               "  \"machine\": {},\n  \"wishes\": {\"swings\": {\"value\": 1}},\n"
               "  \"budget\": {\"total\": \"%s\"}\n}\n",
               p->title, p->source, p->budget);
}

int main(int argc, char **argv) {
    if (argc != 2) {
        fputs("make FOLDER\n", stderr);
        return 2;
    }
    for (size_t i = 0; i < sizeof problems / sizeof *problems; i++)
        write_problem(argv[1], &problems[i]);
    return 0;
}
