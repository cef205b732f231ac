/*
 * What the checks carry with them: where kept things go, what is known so far,
 * and how to say at which place of which file something is wrong.
 */
#ifndef SW_CHECK_CONTEXT_H
#define SW_CHECK_CONTEXT_H

#include "check/catalog.h"
#include "check/names.h"
#include "read/json.h"

typedef struct sw_check {
    sw_arena *arena;   /* what outlives the check */
    sw_arena *scratch; /* the file at hand */
    sw_complaints *complaints;
    const char *file;
    bool bad, unreadable, no_memory;
    size_t wrong_count;
    sw_catalog *catalog;
    sw_names roles, facts, observations, tasks, parts, makers, uses, criteria, sellers;
    sw_names tables, measures, findings, troubles, surprises, numbers;
    bool *fact_doubt;    /* [fact] it was complained of: judge nothing by its type */
    bool draft;          /* wishes and budget may be missing still */
    bool currency_doubt; /* the currency is not known: judge no decimals of money */
} sw_check;

/* One value in its file: enough to write the path when there is a complaint. */
typedef struct sw_node {
    const struct sw_node *up;
    const sw_json *json; /* NULL: not there */
    const char *name;    /* NULL: an element, number `index` */
    size_t index;
} sw_node;

sw_check sw_check_start(sw_complaints *complaints);
/* Frees what the check alone needs; what it made stays. */
void sw_check_end(sw_check *check);
sw_status sw_check_status(const sw_check *check);

/* Reads `path`, checks that it is an object of schema 1, and gives its root.
 * The nodes live until the next file is opened. */
bool sw_check_open(sw_check *check, const char *path, sw_node *root);
/* The same of a tree that is there already. */
bool sw_check_root(sw_check *check, const sw_json *json, sw_node *root);

sw_node sw_member(const sw_node *object, const char *name);
sw_node sw_element(const sw_node *array, size_t index);

/* The place is the node's path, or a line. */
#if defined(__GNUC__)
__attribute__((format(printf, 5, 6)))
#endif
void
sw_wrong(sw_check *check, const sw_node *at, const char *why, const char *mend, const char *what,
         ...);
#if defined(__GNUC__)
__attribute__((format(printf, 5, 6)))
#endif
void
sw_wrong_line(sw_check *check, size_t line, const char *why, const char *mend, const char *what,
              ...);

/* `text` as it may be shown; never NULL. */
const char *sw_shown(sw_check *check, const char *text);
/* "did you mean ...?" when a known name is near, else `otherwise`. */
const char *sw_mend_name(sw_check *check, const char *name, const char *const *known, size_t count,
                         const char *otherwise);

/* The index of `name`; SW_NONE after a complaint ("names the role ..., which is
 * not known"), which is not made where the list is not whole. */
int sw_find(sw_check *check, const sw_node *at, const sw_names *names, const char *name,
            const char *kind, const char *home);

/* `count` zeroed objects in the kept arena; NULL after setting no_memory. */
void *sw_keep(sw_check *check, size_t count, size_t size);
#define SW_KEEP(check, type, count) ((type *)sw_keep((check), (count), sizeof(type)))
const char *sw_keep_text(sw_check *check, const char *text);

/* Adds a name that is not there yet; false after a complaint at `at`. */
bool sw_register(sw_check *check, const sw_node *at, sw_names *names, const char *name, int index);

#endif
