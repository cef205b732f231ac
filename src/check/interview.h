/* What is asked of a client, and how: catalog/FORMATS.md section 31. Owner: the catalog's arena. */
#ifndef SW_CHECK_INTERVIEW_H
#define SW_CHECK_INTERVIEW_H

#include "check/catalog.h"

/* In the order in which they are asked. */
typedef enum sw_topic {
    SW_TOPIC_COMPLAINT,
    SW_TOPIC_USES,
    SW_TOPIC_RATES,
    SW_TOPIC_ORDER,
    SW_TOPIC_WORTH,
    SW_TOPIC_TASTE,
    SW_TOPIC_BUDGET,
    SW_TOPIC_LATER,
    SW_TOPIC_KEEP,
    SW_TOPIC_AVOID,
    SW_TOPIC_LIMITS,
    SW_TOPIC_SURPRISE,
    SW_TOPIC_COUNT
} sw_topic;

/* What is held against what. */
typedef enum sw_doubt {
    SW_DOUBT_SHARES,
    SW_DOUBT_RATE_DOWN,
    SW_DOUBT_RANK,
    SW_DOUBT_TRADE,
    SW_DOUBT_WEIGHT,
    SW_DOUBT_TASTE,
    SW_DOUBT_RESERVE,
    SW_DOUBT_LATER,
    SW_DOUBT_KEPT,
    SW_DOUBT_COUNT
} sw_doubt;

typedef struct sw_topic_form {
    const char *id; /* NULL: it is not asked */
    const char *name, *ask, *why, *write, *assumed;
    const char *scale; /* what its numbers compare with; "" */
} sw_topic_form;

typedef struct sw_swing_form {
    int criterion;
    const char *gain, *loss;
} sw_swing_form;

/* What each wish is worth by its place in the client's order; the last holds for all behind it. */
typedef struct sw_preset {
    const char *id, *name;
    const int64_t *worth_milli;
    size_t worth_count;
} sw_preset;

typedef struct sw_taste_side {
    const char *name;
    const char *const *tokens;
    size_t token_count;
} sw_taste_side;

typedef struct sw_taste_pair {
    int fact;
    sw_taste_side sides[2];
} sw_taste_pair;

typedef enum sw_phrase_kind {
    SW_PHRASE_TELLS,
    SW_PHRASE_NOT, /* what follows is not so */
    SW_PHRASE_FINE /* what went before is no complaint */
} sw_phrase_kind;

/* Words in small letters with single blanks between; a "*" at the end stands for any ending. */
typedef struct sw_phrase {
    const char *words;
    sw_phrase_kind kind;
    int trouble; /* of SW_PHRASE_TELLS */
} sw_phrase;

/* What is told at once where one of its phrases is heard. */
typedef struct sw_danger {
    const char *id, *says;
    const sw_phrase *phrases;
    size_t phrase_count;
} sw_danger;

typedef struct sw_doubt_form {
    sw_doubt doubt;
    int trouble, criterion; /* of SW_DOUBT_WEIGHT */
    const char *id, *says;
} sw_doubt_form;

typedef struct sw_assumed_use {
    int use;
    int64_t share_milli;
} sw_assumed_use;

typedef struct sw_interview_form {
    sw_topic_form topics[SW_TOPIC_COUNT];
    const sw_swing_form *swings;
    size_t swing_count;
    const sw_preset *presets;
    size_t preset_count;
    const sw_taste_pair *pairs;
    size_t pair_count;
    const sw_phrase *phrases;
    size_t phrase_count;
    const sw_danger *dangers;
    size_t danger_count;
    const sw_doubt_form *doubts;
    size_t doubt_count;
    const sw_assumed_use *uses;
    size_t use_count;
    const int *order; /* places in `swings` */
    size_t order_count;
} sw_interview_form;

extern const char *const sw_topic_ids[SW_TOPIC_COUNT];
extern const char *const sw_doubt_ids[SW_DOUBT_COUNT];

#endif
