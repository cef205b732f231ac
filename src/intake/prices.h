/* A supplier's price list and what became of each of its rows: catalog/FORMATS.md section 30.
 * Owner: sw_prices' arena. */
#ifndef SW_INTAKE_PRICES_H
#define SW_INTAKE_PRICES_H

#include "check/profiles.h"

typedef enum sw_price_fate {
    SW_ROW_LEAD,
    SW_ROW_HEADER,
    SW_ROW_BLANK,
    SW_ROW_SKIPPED,
    SW_ROW_REFUSED,
    SW_ROW_NO_PRICE,
    SW_ROW_GONE,
    SW_ROW_NOT_OURS,
    SW_ROW_NEW,
    SW_ROW_WAITING,
    SW_ROW_UNMATCHED,
    SW_ROW_TWICE,
    SW_ROW_LISTED,
    SW_ROW_FATES
} sw_price_fate;

/* A fact that the row's text states. */
typedef struct sw_told_fact {
    int fact;
    sw_value value;
} sw_told_fact;

typedef struct sw_proposal_of {
    int part, score; /* percent */
} sw_proposal_of;

#define SW_PROPOSALS 3

typedef struct sw_price_row {
    sw_price_fate fate;
    size_t row, line;                         /* from 1 */
    const char *number, *maker, *name, *text; /* "" where there is none */
    int64_t price;
    int whole[SW_COL_WHOLE_COUNT]; /* stock, days, warranty, return */
    int part;                      /* listed, or one of those of a part: SW_NONE else */
    bool confirmed;
    int pack;    /* pieces in it, as its text says; 1 */
    size_t kept; /* twice: the row that was taken instead; else 0 */
    sw_proposal_of proposals[SW_PROPOSALS];
    size_t proposal_count;
    const sw_told_fact *told; /* waiting: facts that the text states of the proposal's role */
    size_t told_count;
    const sw_told_fact *doubts; /* facts that differ from the part's */
    size_t doubt_count;
    /* refused, unpriced, gone */
    const char *column, *cell, *what, *why, *mend;
} sw_price_row;

/* One part of this seller, before and after; either may be missing. */
typedef struct sw_price_change {
    int part;
    const sw_listing *before;
    const sw_price_row *after;
} sw_price_change;

typedef struct sw_new_part {
    const sw_price_row *row;
    const char *id, *maker;
    int role;
    const sw_told_fact *facts;
    size_t fact_count;
} sw_new_part;

/* What a person has said of a row. */
typedef struct sw_confirmed {
    const char *number, *name;
    int part; /* SW_NONE: none of ours, or new */
    bool is_new;
    int role;
    const char *id;   /* new; NULL: not said */
    const char *note; /* NULL: none */
    bool used;
} sw_confirmed;

struct sw_prices {
    sw_arena *arena;
    sw_catalog *catalog; /* owned */
    const sw_profile *profile;
    const char *file;
    sw_price_row *rows;
    size_t row_count;
    size_t fates[SW_ROW_FATES];
    const sw_price_change *changes; /* in byte order of part */
    size_t change_count;
    const sw_new_part *news;
    size_t new_count;
    sw_confirmed *confirmed;
    size_t confirmed_count, confirmed_room;
    size_t unused; /* confirmed, and in no row */
    const char *confirmed_note;
    const char *const *const *others; /* cells of other sellers' rows of listings.csv */
    size_t other_count;
};

/* The row that waits, counted from 0; NULL beyond them. */
const sw_price_row *sw_prices_waiting_row(const sw_prices *prices, size_t index);

#endif
