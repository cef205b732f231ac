/* A copied job in memory: its JSON files, its listings, and money in whole numbers. */
#ifndef METAMORPHIC_JOB_H
#define METAMORPHIC_JOB_H

#include <cjson/cJSON.h>
#include <stddef.h>
#include <stdint.h>

typedef struct {
    char *path;
    cJSON *root;
} Doc;

typedef struct {
    char ***rows; /* each a list of fields, NULL at its end; the header is the first */
    size_t count;
} Table;

typedef struct {
    char *folder;
    Doc *docs;
    size_t count;
    Table listings; /* part, seller and price are the first fields */
} Job;

_Noreturn void die(const char *form, ...);
void *grown(void *old, size_t size);
char *joined(const char *a, const char *b, const char *c);

/* Money is held in thousandths of the currency's unit: no currency here has finer coins. */
int64_t thousandths(const char *text);
char *amount(int64_t sum);

void open_job(Job *job, const char *folder);
void write_job(const Job *job);
void close_job(Job *job);
void append_row(Table *table, char **row);

cJSON *json_file(const char *path);
cJSON *member(const cJSON *in, const char *name);
const char *text_of(const cJSON *in, const char *name); /* "" when there is none */

/* The whole of one file of the job when list is NULL, else that list of it. */
cJSON *in_job(const Job *job, const char *name, const char *list);

#endif
