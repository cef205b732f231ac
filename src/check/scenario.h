/*
 * One client's job, every name resolved against its catalog. The scenario has
 * its own part list: the catalog's parts, then the parts it brings itself
 * (present, given) or changes by facts in line. Meanings: catalog/FORMATS.md.
 */
#ifndef SW_CHECK_SCENARIO_H
#define SW_CHECK_SCENARIO_H

#include "check/catalog.h"

typedef enum sw_condition { SW_GOOD, SW_WORN, SW_FAILING, SW_UNPROVEN } sw_condition;

typedef struct sw_present {
    int part; /* index into the scenario's parts */
    int count;
    sw_condition condition;
    int64_t offer, hoped; /* minor units per piece; 0 when none */
} sw_present;

typedef struct sw_given {
    int part;
    int count;
    bool must_use, must_show, no_resale;
    int days; /* from the scenario's date; 0 when here already */
} sw_given;

typedef struct sw_must {
    const char *id, *why;
    int part; /* a present part that must go, else SW_NONE */
    int task; /* a task that must be done, else SW_NONE */
} sw_must;

typedef struct sw_wanted_use {
    int use;
    int64_t share_milli;
    int64_t rate_now_milli, rate_wanted_milli; /* 0: not stated */
} sw_wanted_use;

typedef struct sw_taste {
    int fact; /* a token fact */
    const char *const *tokens;
    size_t token_count;
} sw_taste;

typedef enum sw_tax_prices { SW_PRICES_WITH_TAX, SW_PRICES_WITHOUT_TAX } sw_tax_prices;

typedef struct sw_tax {
    int64_t percent_milli; /* 8.25 % is 8250 */
    sw_tax_prices prices;
    sw_rounding rounding;
    bool per_invoice;
} sw_tax;

/* What a seller told for this job alone: FORMATS.md section 10. */
typedef struct sw_quote {
    int part;
    int seller; /* SW_NONE: all who list the part */
    bool has_price, has_stock, has_days;
    int64_t price;
    int stock, days;
} sw_quote;

typedef struct sw_quotes {
    const sw_quote *list;
    size_t count;
} sw_quotes;

/* Money that comes on a day: FORMATS.md section 20. */
typedef struct sw_phase {
    const char *on, *until;
    int64_t day, days; /* its first day, counted like sw_scenario's; how many it lasts */
    int64_t sum;
    sw_quotes quotes;
} sw_phase;

/* What the client complains of, in what use, in which words. */
typedef struct sw_stated_trouble {
    int trouble;
    int use;           /* index into the scenario's uses; SW_NONE where it is about none */
    const char *words; /* "" when not said */
} sw_stated_trouble;

/* Which weightings may be right: FORMATS.md section 33. */
typedef enum sw_doubt_how { SW_DOUBT_SWINGS, SW_DOUBT_RANKS, SW_DOUBT_ANY } sw_doubt_how;

typedef struct sw_weight_doubt {
    sw_doubt_how how;
    int measure;         /* SW_DOUBT_SWINGS: the criterion with the largest swing */
    int64_t *swing;      /* [criterion] as given, in thousandths; all 0 where ranks stand */
    int64_t *low, *high; /* [criterion] what it may be; both 0 where it has none */
    int *ranked;         /* SW_DOUBT_RANKS: criteria, the most wanted first */
    size_t ranked_count;
} sw_weight_doubt;

/* What nobody has looked at yet. */
typedef struct sw_open_question {
    int role;
    const char *ask;
} sw_open_question;

typedef struct sw_reading sw_reading;

struct sw_scenario {
    sw_arena *arena;
    const sw_catalog *catalog;       /* with the quotes of this job */
    sw_catalog *own_catalog;         /* owned; NULL: another scenario's */
    sw_reading *reading;             /* how it was read, so that it can be read again, changed */
    int64_t day;                     /* of its date, from 0001-01-01; -1: none */
    const char *file, *title, *date; /* date may be "" */
    sw_part *parts; /* the catalog's part_count first (values may be replaced), then its own */
    size_t part_count;
    /* machine[role] -> present pieces, in byte order of part id */
    const sw_present **machine;
    size_t *machine_count;
    sw_given *given; /* in byte order of part id */
    size_t given_count;
    bool *observed; /* [observation] */
    sw_must *musts;
    size_t must_count;
    double *weights; /* [criterion], sum 1 */
    sw_weight_doubt doubt;
    sw_wanted_use *uses;
    size_t use_count;
    sw_taste *tastes;
    size_t taste_count;
    bool *keep_role, *replace_role; /* [role] */
    bool *keep_part, *replace_part; /* [part] present parts */
    bool *avoid_part;               /* [part], makers already spread */
    const char **avoid;             /* as written: part ids and makers */
    size_t avoid_count;
    int64_t loudness_limit_milli; /* sone; -1: none */
    int days_limit;               /* -1: none */
    int64_t minutes_limit;        /* -1: none */
    int64_t worth_at_least_milli; /* points per 100 of the currency; -1: not said */
    int64_t room_milli;           /* dB(A) */
    int64_t machine_milli;        /* dB(A) measured at the seat; -1: not measured */
    int64_t distance_milli;       /* m; -1: as the levels are stated */
    int64_t room_c_milli;         /* deg C */
    int64_t kwh_minor;            /* minor units x 1000 a kWh; -1: not stated */
    int64_t mains_v, work_hours_milli, idle_hours_milli; /* hours -1: not stated */
    int64_t budget_total, reserve, sundries;             /* minor units */
    int64_t labour_per_hour;                             /* minor units */
    sw_tax tax;
    bool allow_unknown;
    sw_quotes quotes;
    const sw_phase *phases;
    size_t phase_count;
    const sw_stated_trouble *troubles; /* the main one first */
    size_t trouble_count;
    const sw_open_question *to_ask; /* what is still to be looked at */
    size_t to_ask_count;
    const char *const *assumed; /* sentences: what nobody said */
    size_t assumed_count;
    const char *const *beware; /* sentences: what can hurt in this very machine */
    size_t beware_count;
    int surprise; /* of the catalog's paper; SW_NONE: it names none */
};

struct sw_json;

/* Reads the scenario that `bytes` hold as if it stood at `path`. Of a draft, wishes and budget may
 * be missing. */
sw_status sw_scenario_read_bytes(sw_scenario **out, const char *path, const char *bytes,
                                 size_t length, const char *catalog, bool draft,
                                 sw_complaints *complaints);
/* The same of a tree that is there already, and that outlives what is read. */
sw_status sw_scenario_read_tree(sw_scenario **out, const char *path, const struct sw_json *json,
                                const char *catalog, bool draft, sw_complaints *complaints);
/* What was read; lives as long as the scenario. */
const struct sw_json *sw_scenario_json(const sw_scenario *scenario);

/* The listings of `catalog` with quotes of it, in the order of the catalog's; NULL when memory is
 * out. Every quote was checked against that catalog and the quotes before it. */
sw_listing *sw_quoted_listings(size_t *count, sw_arena *arena, const sw_catalog *catalog,
                               sw_quotes quotes);

/* Is the part one that the wish to avoid `name` (a part id or a maker) is about? */
bool sw_is_avoided(const sw_part *part, const char *name);

/* The date of a day counted like sw_scenario's; NULL when memory is out. */
const char *sw_date_text(sw_arena *arena, int64_t day);
/* So many calendar months later; the last day of that month where it has no such day. */
int64_t sw_months_after(int64_t day, int months);

/* What the bundle may cost: total - reserve - sundries, at least 0. */
int64_t sw_scenario_budget(const sw_scenario *scenario);

#endif
