/* How a supplier writes a price list, and how texts state facts: catalog/FORMATS.md section 30.
 * Owner: the catalog's arena. */
#ifndef SW_CHECK_PROFILES_H
#define SW_CHECK_PROFILES_H

#include "check/catalog.h"
#include "read/encoding.h"
#include "read/like.h"

typedef enum sw_list_column {
    SW_COL_NUMBER,
    SW_COL_MAKER,
    SW_COL_NAME,
    SW_COL_TEXT,
    SW_COL_PRICE,
    SW_COL_STOCK,
    SW_COL_DAYS,
    SW_COL_WARRANTY,
    SW_COL_RETURN,
    SW_COL_COUNT
} sw_list_column;

extern const char *const sw_list_column_names[SW_COL_COUNT];

/* Columns of whole numbers begin here. */
#define SW_COL_FIRST_WHOLE SW_COL_STOCK
#define SW_COL_WHOLE_COUNT (SW_COL_COUNT - SW_COL_FIRST_WHOLE)

/* One way to write a whole number. */
typedef struct sw_list_form {
    sw_like like;
    int n, days_slot; /* slots; -1: none */
    int times, is;    /* is -1: not said */
    int days;         /* -1: not said */
    bool gone;
} sw_list_form;

typedef struct sw_list_forms {
    const sw_list_form *forms;
    size_t count;
} sw_list_forms;

typedef enum sw_sign_place { SW_SIGN_EITHER, SW_SIGN_BEFORE, SW_SIGN_BEHIND } sw_sign_place;
typedef enum sw_decimals {
    SW_DECIMALS_FULL,
    SW_DECIMALS_WHOLE_OR_FULL,
    SW_DECIMALS_UP_TO,
    SW_DECIMALS_NONE
} sw_decimals;

/* How a price is written. */
typedef struct sw_price_style {
    const char *const *signs;
    size_t sign_count;
    sw_sign_place sign_place;
    bool sign_must, grouped_must;
    char decimal;
    sw_decimals decimals;
    int digits; /* of the currency */
    const char *const *grouping;
    size_t grouping_count;
    bool has_tax, list_with, listings_with;
    int64_t tax_milli; /* percent */
} sw_price_style;

typedef struct sw_list_skip {
    size_t cell; /* from 0 */
    sw_like like;
} sw_list_skip;

typedef struct sw_list_maker {
    const char *list, *maker;
} sw_list_maker;

typedef struct sw_profile {
    const char *id, *name;
    int seller;
    sw_encoding encoding;
    sw_mark mark;
    char delimiter;
    bool quotes, header;
    size_t lead, width;              /* width 0: the header's */
    const char *heads[SW_COL_COUNT]; /* with a header; NULL: no such column */
    int places[SW_COL_COUNT];        /* without: from 0; -1: no such column */
    sw_price_style price;
    const char *const *no_price;
    size_t no_price_count;
    sw_list_forms forms[SW_COL_WHOLE_COUNT];
    int otherwise[SW_COL_WHOLE_COUNT];
    const sw_list_maker *makers;
    size_t maker_count;
    const sw_list_skip *skips;
    size_t skip_count;
    bool takes_cheapest;
    int64_t step_milli; /* so many times dearer or cheaper needs no question */
    bool ends_open;     /* the last row may stand without a line end */
} sw_profile;

typedef struct sw_pattern_fact {
    int fact;
    int slot; /* -1: `value` */
    int64_t times_milli;
    sw_value value;
} sw_pattern_fact;

typedef struct sw_pattern {
    int role;
    sw_like like;
    int pack; /* slot; -1: none */
    const sw_pattern_fact *facts;
    size_t fact_count;
} sw_pattern;

/* Words that say that it is a pack. */
typedef struct sw_pack_word {
    sw_like like;
    int slot; /* -1: `is` */
    int is;   /* 0: nobody says how many */
} sw_pack_word;

/* A maker's part number without blanks and hyphens, in capitals; behind `text`, which is not
 * emptied before. */
void sw_number_key(sw_text *text, const char *number);
/* Texts of makers are the same but for ASCII case. */
bool sw_same_maker(const char *a, const char *b);

#endif
