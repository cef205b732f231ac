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

/* A fact that the row's text states; in a clash name and remarks, or one of them twice, state two
 * values. */
typedef struct sw_told_fact {
    int fact;
    sw_value value, other;          /* other: of a clash */
    bool in_remarks, other_remarks; /* else in the name */
    bool clash;
} sw_told_fact;

/* What a piece of a part costs until now: of this seller, else of the others; 0: nobody lists it.
 */
typedef struct sw_usual_price {
    int64_t low, high;
    bool others;
} sw_usual_price;

typedef struct sw_proposal_of {
    int part, score; /* percent */
    sw_usual_price usual;
    bool far; /* the row's price is not near it */
} sw_proposal_of;

/* Why a row waits, as a set. */
typedef enum sw_price_wait {
    SW_WAITS_LIKE = 1, /* no number says which part it is */
    SW_WAITS_NAME = 2, /* its name is another part's */
    SW_WAITS_PACK = 4,
    SW_WAITS_PRICE = 8
} sw_price_wait;

#define SW_PROPOSALS 3

typedef struct sw_price_row {
    sw_price_fate fate;
    size_t row, line;                         /* from 1 */
    const char *number, *maker, *name, *text; /* "" where there is none */
    int64_t price;                            /* of a piece, as it is listed */
    int64_t stated;                           /* of all that the row sells, with its tax */
    int whole[SW_COL_WHOLE_COUNT];            /* stock, days, warranty, return */
    int part;                                 /* listed, or one of those of a part: SW_NONE else */
    bool confirmed;
    int held;            /* waiting: the part all the same; SW_NONE else */
    unsigned waits;      /* of sw_price_wait */
    int64_t other_price; /* that was confirmed in place of this one; 0: none */
    int pack;            /* pieces in it, as its text says; 1; 0: nobody says how many */
    int pieces;          /* as a person says; 0: nothing said */
    size_t kept;         /* twice: the row that was taken instead; else 0 */
    sw_proposal_of proposals[SW_PROPOSALS];
    size_t proposal_count;
    const sw_told_fact *told; /* waiting: facts that the text states of the proposal's role */
    size_t told_count;
    const sw_told_fact *doubts; /* facts that differ from the part's */
    size_t doubt_count;
    const sw_told_fact *clashes;
    size_t clash_count;
    /* refused, unpriced, gone */
    const char *column, *cell, *what, *why, *mend;
} sw_price_row;

/* One part of this seller, before and after; either may be missing. */
typedef struct sw_price_change {
    int part;
    const sw_listing *before;
    const sw_price_row *after;
    const sw_price_row *held; /* the row that waits, where no other is listed */
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
    const char *number, *maker, *name;
    int part; /* SW_NONE: none of ours, or new */
    bool is_new;
    int role;
    const char *id;   /* new; NULL: not said */
    const char *note; /* NULL: none */
    int64_t price;    /* 0: not said */
    int pieces;       /* 0: not said */
    bool used, just_said;
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
    size_t listed_before, taken_away; /* parts of this seller; on hold counts as taken away */
    bool empty;                       /* no rows but headings and blank ones */
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
