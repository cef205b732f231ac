/* What the reading of a price list is made of. */
#ifndef SW_INTAKE_PRICE_STAGE_H
#define SW_INTAKE_PRICE_STAGE_H

#include "check/names.h"
#include "intake/prices.h"
#include "read/csv.h"

/* A maker's number and the part that has it. */
typedef struct sw_numbered {
    const char *key;
    int part;
} sw_numbered;

/* The words of the parts, and the parts of a word. */
typedef struct sw_lexicon {
    sw_names words;
    int *offsets;                 /* [words + 1] into `parts_of` */
    int *parts_of;                /* rising for each word */
    int *part_first, *part_words; /* [parts + 1] into the words of each part, rising */
    int *part_weight, *word_weight;
    int *shared;          /* [part] scratch: weight shared with the row at hand; zeros between */
    sw_proposal_of *near; /* [part] scratch */
} sw_lexicon;

typedef struct sw_pricing {
    sw_prices *prices;
    sw_arena *arena; /* the report's */
    const sw_catalog *catalog;
    const sw_profile *profile;
    int places[SW_COL_COUNT]; /* of columns; -1: none */
    size_t width;
    sw_arena *scratch; /* ends with the reading */
    sw_numbered *numbered;
    size_t numbered_count;
    sw_numbered *named; /* by the key of the name */
    size_t named_count;
    sw_usual_price *usual; /* [part] */
    sw_names makers;       /* in capitals */
    int *maker_of;         /* [part] SW_NONE: none */
    sw_lexicon lexicon;
    sw_names confirmed;  /* "NUMBER\nMAKER\nNAME" */
    const char *example; /* of a price */
    sw_text key;         /* scratch */
    sw_complaints *complaints;
    bool no_memory, bad;
    bool cut; /* the last row stands without the line end that it should have */
} sw_pricing;

/* Which cell is which; false after a complaint about the header. */
bool sw_price_columns(sw_pricing *in, const sw_csv_record *header);
/* Number, maker, name and text; false when the row is refused. */
bool sw_price_identity(sw_pricing *in, const sw_csv_record *record, sw_price_row *row);
/* Price and whole numbers; false when the row has another fate now. */
bool sw_price_values(sw_pricing *in, const sw_csv_record *record, sw_price_row *row);
bool sw_price_is_blank(const sw_csv_record *record);
bool sw_price_is_skipped(const sw_pricing *in, const sw_csv_record *record);
void sw_price_refuse(sw_price_row *row, const char *column, const char *cell, const char *what,
                     const char *why, const char *mend);

/* The makers' numbers and the words of all parts. */
void sw_price_index(sw_pricing *in);
void sw_price_index_free(sw_pricing *in);
void sw_lexicon_make(sw_pricing *in);
/* The maker's number among those of the catalog; SW_NONE. */
int sw_price_maker(sw_pricing *in, const char *maker);
/* Sorted by key, then part; the first of that key, or behind it. */
void sw_numbered_sort(sw_numbered *list, size_t count);
size_t sw_numbered_find(const sw_numbered *list, size_t count, const char *key);
/* The one part of that number; SW_NONE. */
int sw_price_by_number(sw_pricing *in, const sw_price_row *row);
void sw_price_propose(sw_pricing *in, sw_price_row *row);

#define SW_FACTS_MOST 64
/* What a row's text states of a role: facts, behind them those that clash. */
typedef struct sw_price_reading {
    sw_told_fact facts[SW_FACTS_MOST];
    size_t count, clash_count;
    int pack; /* as in the row */
} sw_price_reading;
void sw_price_facts(sw_pricing *in, const sw_price_row *row, int role, sw_price_reading *out);
/* A copy in the report's arena; NULL where there are none. */
const sw_told_fact *sw_price_keep_facts(sw_pricing *in, const sw_told_fact *facts, size_t count);
bool sw_price_contradicts(const sw_part *part, const sw_told_fact *fact);

/* The key of a part's name and what parts cost until now. */
void sw_price_doubts_index(sw_pricing *in);
/* Lists the row, whose part is known, or lets it wait. */
void sw_price_settle(sw_pricing *in, sw_price_row *row, const sw_confirmed *said);
/* What the proposed part costs until now. */
void sw_price_weigh(const sw_pricing *in, sw_price_row *row, sw_proposal_of *proposal);

sw_status sw_confirmed_read(sw_pricing *in, const char *path, bool may_miss);
/* What a person said of the row; NULL. */
sw_confirmed *sw_confirmed_find(sw_pricing *in, const sw_price_row *row);

void sw_price_twice(sw_pricing *in);
void sw_price_changes(sw_pricing *in);
sw_status sw_price_others(sw_pricing *in, sw_complaints *complaints);
void sw_price_news(sw_pricing *in);

#endif
