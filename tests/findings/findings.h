/* What the files of the findings' driver share; texts and tables: tests/rules/edge.h. */
#ifndef FINDINGS_H
#define FINDINGS_H

#include "edge.h"

/* FINDING | KIND | CHANGES | EXPECTED: the fields of table_line under their names here. */
#define FINDING field[0]

/* Kinds of line that ask the program something. */
bool is_made(const table_line *line);  /* the finding appears */
bool is_far(const table_line *line);   /* it appears, far from any bound */
bool is_below(const table_line *line); /* one bound of its `when` is just not reached */

/* DIR/LINE.json for every case of the table. */
void write_cases(const table *t, const char *healthy_path, const char *folder);
/* `PROGRAM look DIR/LINE.json --json --catalog CATALOG` for each: DIR/LINE.out. */
void ask_cases(const table *t, const char *program, const char *catalog, const char *folder);
/* DIR/LINE.out against the table; one line "good .." or "FAILED .." a case. */
int check_cases(const table *t, const char *findings_path, const char *folder);
/* With all bounds moved, is the own finding of every made or below line turned round? */
int check_moved(const table *t, const char *findings_path, const char *folder, bool tighter);
/* Has every finding the lines that it needs? */
int check_needs(const table *t, const char *findings_path, const char *facts_path);
/* A copy of findings.json with every bound moved a little. */
int move_bounds(const char *findings_path, bool tighter);

char *case_path(const char *folder, const table_line *line, const char *end);
/* The conditions of a finding, without the `not`s around them. */
const cJSON *bare(const cJSON *condition, bool *negated);
bool has_bound(const cJSON *condition);

#endif
