/* What the files of edge share: texts, JSON and the table of cases. */
#ifndef EDGE_H
#define EDGE_H

#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stddef.h>

enum { GOOD = 0, BAD = 1, WRONG = 2, FIELDS = 4 };

/* RULE | KIND | CHANGES | EXPECTED, or base | NAME | CHANGES. */
typedef struct table_line {
    char *field[FIELDS];
    int number;
} table_line;

typedef struct table {
    table_line *lines;
    size_t count, room;
} table;

#define RULE field[0]
#define KIND field[1]
#define CHANGES field[2]
#define EXPECTED field[3]

void give_up(const char *format, ...);
char *copy(const char *text, size_t length);
char *joined(const char *a, const char *b, const char *c);
char *read_file(const char *path);
cJSON *read_json(const char *path);
char *trimmed(const char *from, const char *end);
bool starts(const char *text, const char *with);
char *next_word(const char **at);
cJSON *at(const cJSON *object, const char *name);
const char *text_at(const cJSON *object, const char *name);
bool has_text(const cJSON *object, const char *name, const char *text);
cJSON *with_text(const cJSON *list, const char *name, const char *text);
bool list_has(const cJSON *list, const char *text);
void add_line(table *t, const char *from, const char *end, int number);
table read_table(const char *path);
void free_table(table *t);
bool is_reason(const table_line *line);
bool is_base(const table_line *line);
bool is_case(const table_line *line);

/* Has every rule its cases? */
int needs_all(const char *table_path, const char *rules_path, const char *facts_path);

#endif
