/* The driver of the dumps: what a file says, as lines of text that compare. */
#ifndef TESTS_INTAKE_DUMPS_H
#define TESTS_INTAKE_DUMPS_H

#include "intake/dumps.h"

/* Lines "DEVICE:KEY | PROPERTY | VALUE | PLACE", sorted or as they came. */
typedef struct lines {
    char **all;
    size_t count, room;
} lines;

typedef struct said {
    sw_dump_kind kind;
    lines statements, privates, faults;
    double seconds; /* of the processor */
} said;

extern size_t passed, failed;
void check(bool holds, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Never fail: a test without memory ends. */
char *joined(const char *format, ...) __attribute__((format(printf, 1, 2)));
void add_line(lines *to, char *line); /* takes it */
void sort_lines(lines *of);
bool has_line(const lines *sorted, const char *line);
void free_lines(lines *of);
char *whole_file(size_t *length, const char *path);

/* What the bytes say, asked of the library. */
void ask(said *out, const char *bytes, size_t length, bool with_places);
void free_said(said *of);

void test_facts(const char *table, const char *folder);
void test_shapes(char *const *files, size_t count);
void test_mutations(char *const *files, size_t count);
void test_hostile(size_t megabytes);
void test_folders(const char *data);

#endif
