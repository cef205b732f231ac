/*
 * Typed access to the members of a JSON object. Each function gives true when
 * the member is there and good; false after a complaint, or when an optional
 * member is not there. `out` keeps its value unless true is given.
 */
#ifndef SW_CHECK_FIELDS_H
#define SW_CHECK_FIELDS_H

#include "check/context.h"

typedef enum sw_need { SW_OPTIONAL, SW_REQUIRED } sw_need;

#define SW_TOKEN_BYTES 64
#define SW_TEXT_BYTES 2000
#define SW_MINUTES_LIMIT 100000
#define SW_COUNT_LIMIT 16
#define SW_DAYS_LIMIT 1000000
#define SW_LIST_LIMIT 10000
#define SW_SHORT_LIST_LIMIT 1000

/* That `at` is an object with no names but these and "note". */
#define SW_CHECK_NAMES(check, at, ...)                                                             \
    sw_check_names((check), (at), (const char *const[]){__VA_ARGS__},                              \
                   sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *))
bool sw_check_names(sw_check *check, const sw_node *at, const char *const *names, size_t count);

/* The member of that kind, still to be looked into. */
bool sw_get(sw_check *check, const sw_node *object, const char *name, sw_need need,
            sw_json_kind kind, sw_node *out);
/* A list of `least` to `most` entries. */
bool sw_get_list(sw_check *check, const sw_node *object, const char *name, sw_need need,
                 size_t least, size_t most, sw_node *out);

bool sw_get_text(sw_check *check, const sw_node *object, const char *name, sw_need need,
                 const char **out);
bool sw_get_id(sw_check *check, const sw_node *object, const char *name, sw_need need,
               const char **out);
bool sw_get_token(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  const char **out);
bool sw_get_flag(sw_check *check, const sw_node *object, const char *name, sw_need need, bool *out);
/* Thousandths between `least` and `most`. */
bool sw_get_milli(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  int64_t least, int64_t most, int64_t *out);
/* Any number of binary64, at most `most` either way: what was measured is not rounded. */
bool sw_get_number(sw_check *check, const sw_node *object, const char *name, sw_need need,
                   double most, double *out);
/* A whole number between `least` and `most`. */
bool sw_get_whole(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  int64_t least, int64_t most, int64_t *out);
bool sw_get_count(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  int64_t least, int64_t most, int *out);
/* Minor units of the catalog's currency. */
bool sw_get_money(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  int64_t *out);
/* The place of the text among `words`. */
#define SW_GET_CHOICE(check, object, name, need, out, ...)                                         \
    sw_get_choice((check), (object), (name), (need), (out), (const char *const[]){__VA_ARGS__},    \
                  sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *))
bool sw_get_choice(sw_check *check, const sw_node *object, const char *name, sw_need need, int *out,
                   const char *const *words, size_t count);
/* The index of the thing that the text names: sw_find of the member. */
bool sw_get_index(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  const sw_names *names, const char *kind, const char *home, int *out);

/* One value, not a member: the same checks. */
bool sw_is_kind(sw_check *check, const sw_node *at, sw_json_kind kind);
bool sw_is_id(const char *text);
bool sw_is_fact_name(const char *text);
bool sw_check_text(sw_check *check, const sw_node *at, const char **out);
bool sw_check_id(sw_check *check, const sw_node *at, const char **out);
bool sw_check_token(sw_check *check, const sw_node *at, const char **out);
bool sw_check_milli(sw_check *check, const sw_node *at, int64_t least, int64_t most, int64_t *out);
/* Distinct tokens, sorted by bytes. */
bool sw_check_tokens(sw_check *check, const sw_node *list, const char *const **out, size_t *count);

/* "12.5": thousandths without needless zeros. */
const char *sw_milli_shown(sw_check *check, int64_t milli);

#endif
