/*
 * The catalog as the rest of the program sees it: every name resolved to an
 * index, every number in range, nothing left to doubt. Constant once checked.
 * Meanings: catalog/FORMATS.md. Owner: sw_catalog's arena.
 */
#ifndef SW_CHECK_CATALOG_H
#define SW_CHECK_CATALOG_H

#include "base/base.h"

#define SW_NONE (-1)       /* an index that names nothing */
#define SW_EVERY_ROLE (-2) /* the "*" of a term */

/* ---- roles --------------------------------------------------------------- */

typedef struct sw_role {
    const char *id, *name;
    int least, most;   /* pieces */
    bool all_or_none;  /* present pieces stay together or go together */
    int new_kinds;     /* different new parts in one fit-out, 1 or 2 */
    const int *counts; /* allowed pieces of one new part, rising */
    size_t count_count;
    int64_t minutes; /* bench time of a change */
} sw_role;

/* ---- facts and their values ---------------------------------------------- */

typedef enum sw_fact_type {
    SW_NUMBER,
    SW_TOKEN,
    SW_LIST,
    SW_FLAG,
    SW_SITES,
    SW_THINGS
} sw_fact_type;

typedef enum sw_combine {
    SW_SUM,
    SW_LEAST,
    SW_MOST,
    SW_POWER,  /* number: levels in dB added as powers */
    SW_EACH,   /* token: the set of all */
    SW_COMMON, /* list: in every piece */
    SW_EITHER, /* list: in any piece */
    SW_ALL,    /* flag */
    SW_ANY,    /* flag */
    SW_JOINED  /* sites, things */
} sw_combine;

typedef struct sw_site_takes {
    const char *site; /* a site of the same piece */
    int index;        /* its place in the piece's list */
    int count;
} sw_site_takes;

typedef struct sw_site {
    const char *site, *kind;
    const char *const *sizes;
    size_t size_count;
    int count;
    int64_t depth_milli; /* -1: not stated */
    int64_t reach_milli; /* how far tubes must reach; -1: not stated */
    const char *side;    /* NULL: not stated */
    const sw_site_takes *takes;
    size_t takes_count;
    const char *caution; /* said when something stands there; NULL: none */
    int part;            /* of a fit-out's site: the part it is on */
} sw_site;

typedef enum sw_blows { SW_BLOWS_UNSTATED, SW_BLOWS_IN, SW_BLOWS_OUT } sw_blows;

typedef struct sw_thing {
    const char *kind, *size;
    int count;
    int64_t depth_milli; /* -1: not stated */
    int64_t reach_milli; /* how far its tubes reach; -1: not stated */
    const char *side;    /* NULL: any */
    int64_t air_milli;   /* m3/h that one moves with nothing in its way; -1: not stated */
    int64_t stall_milli; /* Pa where nothing moves; -1: not stated */
    sw_blows blows;
    int part; /* of a fit-out's thing: the part it comes with */
} sw_thing;

typedef enum sw_state {
    SW_UNKNOWN, /* nobody stated it */
    SW_VOID,    /* there is nothing it could be about; a silent level */
    SW_KNOWN
} sw_state;

/* A value of any fact. For one piece, and (in src/fitouts) for a fit-out. */
typedef struct sw_value {
    sw_state state;
    bool some;     /* unknown, but some pieces state it: `milli` is the most or least of theirs */
    int64_t milli; /* number; flag: 0 or 1000 */
    int64_t power; /* fit-out of a `power` fact: sum of round(10 x 10^(L/10)) */
    const char *const *tokens; /* token (one for a piece) and list, sorted by bytes, distinct */
    size_t token_count;
    const sw_site *sites; /* SW_SITES */
    size_t site_count;
    const sw_thing *things; /* SW_THINGS */
    size_t thing_count;
} sw_value;

typedef struct sw_expr sw_expr;

typedef struct sw_fact {
    const char *name;
    sw_fact_type type;
    sw_combine combine;
    bool sound_power;    /* a `power` fact of sound power levels, not of pressure */
    const bool *on_role; /* [role] may stand on it */
    bool built_in;       /* `pieces`: every piece counts one */
    int derived_role;    /* the role of a derived fact, else SW_NONE */
    const sw_expr *is;   /* derived facts only (they are SW_NUMBER) */
    int64_t least_milli, most_milli;
    const char *const *tokens; /* allowed ones, sorted; NULL: any */
    size_t token_count;
    sw_value absent; /* state SW_UNKNOWN when the file gives none */
    const char *meaning, *source;
} sw_fact;

/* "role.fact": role SW_EVERY_ROLE for "*". */
typedef struct sw_term {
    int role, fact;
} sw_term;

/* ---- expressions ------------------------------------------------------------- */

typedef enum sw_expr_op {
    SW_EXPR_NUMBER,
    SW_EXPR_FACT, /* role, fact */
    SW_EXPR_SUM,
    SW_EXPR_PRODUCT,
    SW_EXPR_LEAST,
    SW_EXPR_MOST,
    SW_EXPR_POWER, /* operands[0] ^ number */
    SW_EXPR_LOG2,
    SW_EXPR_TABLE, /* operands[0], xs, ys */
    SW_EXPR_PICK,  /* role, fact (token), tokens -> ys, else number */
    /* of measures alone */
    SW_EXPR_EVERY,      /* fact: the sum over the roles */
    SW_EXPR_MEASURE,    /* index */
    SW_EXPR_ABOUT,      /* number, between least and most */
    SW_EXPR_DIFFERENCE, /* operands[0] - operands[1] */
    SW_EXPR_QUOTIENT,
    SW_EXPR_FORMULA,        /* index, operands */
    SW_EXPR_ROW,            /* index: the table; role, fact (token); operands[0] */
    SW_EXPR_BUSY,           /* role */
    SW_EXPR_SOUND,          /* index: sw_sound_word */
    SW_EXPR_SHARE_OF_SOUND, /* role */
    SW_EXPR_SPEED_OF,       /* role */
    SW_EXPR_HELD_BACK_BY,   /* role */
    SW_EXPR_AIR,            /* index: sw_air_word */
    SW_EXPR_CLIENT          /* index: sw_client_word */
} sw_expr_op;

typedef enum sw_sound_word {
    SW_SEAT_DBA,
    SW_SEAT_SONE,
    SW_MACHINE_DBA,
    SW_CALIBRATION_DB
} sw_sound_word;

typedef enum sw_air_word {
    SW_THROUGH_M3_H,
    SW_IN_M3_H,
    SW_OUT_M3_H,
    SW_INSIDE_PA,
    SW_RADIATOR_HEAT_OUT
} sw_air_word;

typedef enum sw_client_word {
    SW_ROOM_C,
    SW_ROOM_DBA,
    SW_DISTANCE_M,
    SW_PRICE_PER_KWH,
    SW_MAINS_V,
    SW_WORK_HOURS,
    SW_IDLE_HOURS
} sw_client_word;

struct sw_expr {
    sw_expr_op op;
    double number;
    double least, most; /* power: the ends of its exponent; about: its ends */
    int role, fact, index;
    const sw_expr *operands;
    size_t count;
    const double *xs, *ys;
    const char *const *tokens;
    size_t point_count; /* of xs/ys or tokens/ys */
};

/* ---- conditions ---------------------------------------------------------------- */

typedef enum sw_cond_op {
    SW_COND_IS,     /* flag, number, token */
    SW_COND_LEAST,  /* number >= milli */
    SW_COND_MOST,   /* number <= milli */
    SW_COND_HAS,    /* tokens[0] in the set */
    SW_COND_ONE_OF, /* shares one of tokens */
    SW_COND_TASK,
    SW_COND_CHANGES,
    SW_COND_HOLDS,
    SW_COND_EMPTY,
    SW_COND_OBSERVED
} sw_cond_op;

typedef struct sw_cond {
    sw_cond_op op;
    bool negated;  /* an odd number of `not` around it */
    int role;      /* the role it is about; SW_NONE for observed */
    int fact;      /* IS, LEAST, MOST, HAS, ONE_OF */
    int index;     /* task, part or observation */
    int64_t milli; /* number or flag (0/1000) */
    const char *const *tokens;
    size_t token_count;
} sw_cond;

/* ---- rules ------------------------------------------------------------------------ */

typedef enum sw_shape {
    SW_SAME,
    SW_AMONG,
    SW_WITHIN,
    SW_SUPPLY,
    SW_UNLOCK,
    SW_CLASH,
    SW_PLACE
} sw_shape;

typedef struct sw_load {
    sw_term term; /* fact SW_NONE: a fixed amount */
    bool today;   /* of the present machine, whatever is chosen */
    int64_t factor_milli;
    int64_t fixed_milli;
} sw_load;

typedef struct sw_rule {
    const char *id;
    const char *name; /* what it is about */
    const char *unit; /* of its numbers; "" when they count things */
    sw_shape shape;
    bool hard;  /* else a caution */
    bool bends; /* may be set aside by agreement */
    const sw_cond *when, *unless;
    size_t when_count, unless_count;
    sw_term left, right;  /* same, among; within: left = need, right = room */
    const sw_term *taken; /* within */
    size_t taken_count;
    const sw_load *loads, *supplies; /* supply */
    size_t load_count, supply_count;
    sw_cond to;           /* unlock */
    const sw_cond *conds; /* unlock: needs; clash: of */
    size_t cond_count;
    const char *kind; /* place */
    const sw_term *things, *sites;
    size_t thing_count, site_count;
    const char *client, *bench, *source;
} sw_rule;

/* ---- tasks, charges ----------------------------------------------------------------- */

typedef enum sw_effect_op {
    SW_EFFECT_SET,
    SW_EFFECT_SET_FROM,
    SW_EFFECT_ADD,
    SW_EFFECT_TIMES
} sw_effect_op;

typedef struct sw_effect {
    sw_effect_op op;
    int fact;
    int from;      /* SET_FROM */
    sw_value set;  /* SET */
    int64_t milli; /* ADD, TIMES */
} sw_effect;

typedef struct sw_task {
    const char *id, *name;
    int role;
    bool any_piece;     /* applies_to "any"; else kept pieces only */
    bool chance;        /* what it brings is luck: never promised */
    const char *family; /* NULL: none */
    int64_t minutes;
    int64_t price; /* minor units */
    const sw_cond *needs;
    size_t need_count;
    const sw_effect *effects;
    size_t effect_count;
    const char *caution, *source; /* may be NULL */
} sw_task;

typedef struct sw_observation {
    const char *id, *meaning;
} sw_observation;

typedef struct sw_charge {
    const char *id, *name;
    int64_t amount; /* minor units */
    int64_t minutes;
    const sw_cond *any;
    size_t any_count;
} sw_charge;

/* ---- what the client may want ---------------------------------------------------------- */

typedef struct sw_stage {
    const char *id, *name;
    const sw_expr *rate;
} sw_stage;

typedef struct sw_use {
    const char *id, *name, *unit;
    const sw_stage *stages;
    size_t stage_count;
    const int64_t *busy_milli; /* [role] share of its full work */
} sw_use;

typedef enum sw_criterion_kind { SW_SPEED, SW_QUIET, SW_LOOKS, SW_RATED } sw_criterion_kind;

typedef struct sw_shows {
    int role;
    int64_t weight_milli;
} sw_shows;

typedef struct sw_aspect {
    int fact;
    int64_t weight_milli;
    int64_t scale_milli; /* 0: a token fact */
} sw_aspect;

/* A role whose fans turn as fast as the heat asks. */
typedef struct sw_runs {
    int role, busy;          /* roles */
    sw_term by, full, least; /* least.fact SW_NONE: none */
} sw_runs;

typedef struct sw_criterion {
    const char *id, *name;
    sw_criterion_kind kind;
    /* quiet; facts SW_NONE where not named */
    int noise_fact, declared_fact, steady_fact, tone_fact;
    int64_t at_milli; /* metres */
    sw_term loss;
    const sw_runs *runs;
    size_t runs_count;
    const sw_shows *shows;
    size_t shows_count;
    const sw_aspect *aspects;
    size_t aspect_count;
    const sw_term *facts; /* rated */
    size_t fact_count;
    int64_t scale_milli;
} sw_criterion;

/* ---- parts and where to get them ------------------------------------------------------- */

typedef struct sw_part {
    const char *id, *name, *maker; /* maker "" when not stated */
    int role;
    const sw_value *values;     /* [fact], `absent` already filled in */
    const char *const *numbers; /* the maker's, as written */
    size_t number_count;
} sw_part;

typedef struct sw_seller {
    const char *id, *name;
    bool has_delivery;
    int64_t delivery; /* minor units */
    bool has_free_from;
    int64_t free_from;
    int delivery_days;
    int64_t minutes;
} sw_seller;

typedef struct sw_listing {
    int part, seller;
    int64_t price;
    int64_t counted; /* towards free delivery: the price, but where a range of prices is asked */
    int stock, days, warranty_months, return_days;
} sw_listing;

/* ---- what is told and never scored ------------------------------------------------------ */

typedef struct sw_table_row {
    const char *id;
    const double *xs, *ys;
    size_t count;
} sw_table_row;

typedef struct sw_table {
    const char *id, *source;
    bool ends_stay; /* beyond a row's ends; else unknown there */
    const sw_table_row *rows;
    size_t row_count;
} sw_table;

typedef struct sw_measure {
    const char *id, *name, *unit, *source;
    int digits;
    bool plan; /* told before and after in plan */
    const sw_expr *is;
    /* Said of a bundle whose value is below `least_milli` and below today's; NULL: nothing is. */
    const char *client, *bench;
    int64_t least_milli;
} sw_measure;

/* Which way a new fan blows by the side it stands on. */
typedef struct sw_air_way {
    const char *side;
    sw_blows blows;
} sw_air_way;

/* A condition of a finding: on the machine, or on a measure. */
typedef struct sw_finding_cond {
    bool on_measure, negated, at_least; /* negated, at_least: of a measure */
    sw_cond cond;
    int measure;
    double bound;
} sw_finding_cond;

typedef enum sw_mend_how { SW_MEND_TASK, SW_MEND_REPLACE, SW_MEND_DO } sw_mend_how;

typedef struct sw_mend_form {
    sw_mend_how how;
    int task, role;
    const char *text; /* SW_MEND_DO */
    int64_t minutes, price;
} sw_mend_form;

typedef enum sw_finding_kind {
    SW_LIMITS,
    SW_LOUD,
    SW_NEAR_ITS_LIMIT,
    SW_SET_WRONGLY,
    SW_WORN_OUT
} sw_finding_kind;

typedef struct sw_finding_form {
    const char *id;
    sw_finding_kind kind;
    bool must;
    int about; /* role */
    const sw_finding_cond *when;
    size_t when_count;
    const sw_mend_form *mends;
    size_t mend_count;
    const char *evidence, *means, *caution, *source; /* caution "" when none */
} sw_finding_form;

/* ---- what the client complains of, and what the paper says ------------------------------- */

/* What holds of a machine: a condition, or a number against one of the present machine. */
typedef struct sw_relief_need {
    bool by_today;
    sw_cond cond;
    int role, fact, of; /* by_today: fact >= times x of (today's) + plus */
    int64_t times_milli, plus_milli;
} sw_relief_need;

typedef enum sw_relief_how {
    SW_RELIEF_MUST,
    SW_RELIEF_LOUDNESS, /* share of today's loudness, at most */
    SW_RELIEF_RATE,     /* times today's rate, at least, or what is wanted */
    SW_RELIEF_LOOKS,    /* share of what is missing, at least */
    SW_RELIEF_ANY
} sw_relief_how;

typedef struct sw_relief {
    sw_relief_how how;
    int64_t milli;
    const sw_relief_need *needs;
    size_t need_count;
} sw_relief;

/* A complaint of the client's: FORMATS.md section 22. (A sw_complaint is about a file.) */
typedef struct sw_trouble {
    const char *id, *name, *goal, *source;
    const sw_relief *ends; /* all must hold */
    size_t end_count;
} sw_trouble;

typedef struct sw_hazard {
    const char *id;
    const sw_cond *any;
    size_t any_count;
    const char *danger, *habit, *limit, *source;
} sw_hazard;

typedef struct sw_surprise {
    const char *id, *name;
    const char *const *free_to, *const *word; /* sentences */
    size_t free_count, word_count;
    bool allows_seller, allows_as_good, allows_part; /* FORMATS.md section 25 */
} sw_surprise;

typedef enum sw_ask_how { SW_ASK_COND, SW_ASK_WARRANTY, SW_ASK_RETURN, SW_ASK_GIVEN } sw_ask_how;

typedef struct sw_ask_when {
    sw_ask_how how;
    sw_cond cond;
    int most; /* months, days */
} sw_ask_when;

typedef struct sw_ask {
    const char *id, *words;
    const sw_ask_when *any;
    size_t any_count;
} sw_ask;

#define SW_DRAWN_WIDTH 1000
#define SW_DRAWN_HEIGHT 800

/* Where a role stands in the picture of the machine. */
typedef struct sw_drawn {
    int role;
    const char *label;
    int64_t x, y, width, height;
} sw_drawn;

/* FORMATS.md section 24; as it says there where the file is missing. */
typedef struct sw_paper {
    const char *shop; /* "" when not named */
    int valid_days, test_days;
    int64_t bench_minutes_a_day, nest_share_milli;
    const sw_surprise *surprises;
    size_t surprise_count;
    const sw_ask *asks;
    size_t ask_count;
    const char *const *promises;
    size_t promise_count;
    const sw_drawn *drawing;
    size_t drawn_count;
} sw_paper;

typedef struct sw_catalog {
    sw_arena *arena;
    const char *folder;
    char currency[4];
    int currency_digits;
    sw_role *roles; /* in byte order of id */
    size_t role_count;
    const bool *renews; /* [role] counts when the machine is judged to be at its end; or NULL */
    int64_t renewal_share_milli;
    sw_fact *facts;
    size_t fact_count;
    sw_observation *observations;
    size_t observation_count;
    sw_task *tasks; /* in byte order of id */
    size_t task_count;
    sw_part *parts; /* in byte order of id */
    size_t part_count;
    sw_rule *rules; /* in file order */
    size_t rule_count;
    sw_charge *charges;
    size_t charge_count;
    sw_use *uses;
    size_t use_count;
    sw_criterion *criteria; /* in file order */
    size_t criterion_count;
    sw_seller *sellers; /* in byte order of id */
    size_t seller_count;
    sw_listing *listings; /* by part, then seller */
    size_t listing_count;
    sw_table *tables;
    size_t table_count;
    sw_measure *measures; /* in file order: each uses those before it */
    size_t measure_count;
    const sw_term *air_things; /* lists of things that may move air */
    size_t air_thing_count;
    const sw_air_way *air_ways;
    size_t air_way_count;
    sw_term vents_cm2;         /* fact SW_NONE: not said */
    int radiator_role;         /* whose radiator carries the processor heat out, or SW_NONE */
    sw_finding_form *findings; /* in file order */
    size_t finding_count;
    sw_trouble *troubles; /* in file order */
    size_t trouble_count;
    sw_hazard *hazards;
    size_t hazard_count;
    sw_paper paper;
    const struct sw_bench_form *bench;         /* check/bench.h */
    const struct sw_intake_form *intake;       /* check/intake.h; NULL: the file is missing */
    const struct sw_interview_form *interview; /* check/interview.h; NULL: the file is missing */
    const struct sw_profile *profiles;         /* check/profiles.h; in byte order of id */
    size_t profile_count;
    const struct sw_pattern *patterns; /* in file order */
    size_t pattern_count;
    const struct sw_pack_word *packs;
    size_t pack_count;
} sw_catalog;

sw_status sw_catalog_read(sw_catalog **out, const char *folder, sw_complaints *complaints);
void sw_catalog_free(sw_catalog *catalog);

#endif
