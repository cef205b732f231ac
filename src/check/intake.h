/* What becomes of the dumps of a machine: catalog/FORMATS.md section 29, intake.json. Owner: the
 * catalog's arena. */
#ifndef SW_CHECK_INTAKE_H
#define SW_CHECK_INTAKE_H

#include "check/devices.h"
#include "check/scenario.h"

typedef enum sw_test_how {
    SW_TEST_IS,
    SW_TEST_LEAST,
    SW_TEST_BELOW, /* property < milli x of */
    SW_TEST_STATED,
    SW_TEST_KEY
} sw_test_how;

typedef struct sw_device_test {
    sw_test_how how;
    bool negated;
    const char *property; /* all but SW_TEST_KEY */
    sw_says says;
    const char *text; /* SW_TEST_IS of a text; SW_TEST_KEY: how the key begins */
    int64_t milli;    /* SW_TEST_IS of a number, SW_TEST_LEAST, SW_TEST_BELOW */
    const char *of;   /* SW_TEST_BELOW: another number of the device */
    bool flag;        /* SW_TEST_IS of a flag */
} sw_device_test;

typedef struct sw_device_tests {
    const sw_device_test *all;
    size_t count;
} sw_device_tests;

typedef enum sw_fact_made {
    SW_MADE_STATED,   /* `value` */
    SW_MADE_AS_IT_IS, /* a number or a flag */
    SW_MADE_PRODUCT,
    SW_MADE_DIAGONAL,
    SW_MADE_WORD
} sw_fact_made;

typedef struct sw_word_pair {
    const char *from, *to;
} sw_word_pair;

typedef struct sw_piece_fact {
    int fact;
    sw_fact_made made;
    sw_value value;
    const char *device; /* whose properties; NULL: the piece's own */
    const char *const *from;
    size_t from_count;
    const int64_t *per; /* thousandths */
    size_t per_count;
    int decimals;
    const sw_word_pair *words;
    size_t word_count;
    bool of_piece;
    sw_device_tests when;
} sw_piece_fact;

typedef struct sw_piece_form {
    const char *device;
    int role;
    sw_device_tests when;
    const char *const *names; /* properties */
    size_t name_count;
    const char *maker; /* a property, or NULL */
    const sw_piece_fact *facts;
    size_t fact_count;
} sw_piece_form;

typedef struct sw_left_out_form {
    const char *device, *why;
    sw_device_tests when;
} sw_left_out_form;

/* What is told of a piece as doubtful. */
typedef struct sw_piece_doubt_form {
    const char *device, *says;
    sw_device_tests when;
} sw_piece_doubt_form;

typedef struct sw_health_form {
    const char *device;
    sw_device_tests when;
    int condition; /* sw_condition, scenario.h */
    bool must;
    const char *why, *do_first, *source; /* do_first "" when not said */
} sw_health_form;

typedef struct sw_intake_question {
    int role;
    bool unseen;
    const char *ask;
} sw_intake_question;

/* The order of readers for one property. */
typedef struct sw_reader_order {
    const char *device, *property;
    int rank[SW_READERS]; /* [reader], 0 is first */
} sw_reader_order;

typedef struct sw_near_form {
    const char *device, *property;
    int64_t percent_milli;
} sw_near_form;

/* What every draft of this shop begins with. */
typedef struct sw_beginning {
    bool has_labour, has_tax;
    int64_t labour_per_hour; /* minor units */
    sw_tax tax;
} sw_beginning;

typedef struct sw_intake_form {
    int rank[SW_READERS];
    sw_beginning begins;
    const int *of_pieces; /* facts that are of the very piece, whoever told them */
    size_t of_piece_count;
    const sw_reader_order *first;
    size_t first_count;
    const sw_near_form *near;
    size_t near_count;
    const sw_piece_form *pieces;
    size_t piece_count;
    const sw_left_out_form *left_out;
    size_t left_out_count;
    const sw_piece_doubt_form *doubts;
    size_t doubt_count;
    const sw_health_form *health;
    size_t health_count;
    const sw_intake_question *questions;
    size_t question_count;
} sw_intake_form;

#endif
