/*
 * May these parts go with what stays? One machine, every rule on it, and where each
 * thing stands. Meanings: catalog/FORMATS.md section 12. Owned by its arena; holds no
 * pointer into the scenario.
 */
#ifndef SW_ANSWER_FITS_H
#define SW_ANSWER_FITS_H

#include "answer/setup.h"

typedef enum sw_fits_says {
    SW_SAYS_MOOT,
    SW_SAYS_HOLDS,
    SW_SAYS_TODAY,
    SW_SAYS_REFUSED,
    SW_SAYS_MIND,
    SW_SAYS_UNKNOWN
} sw_fits_says;

typedef struct sw_fits_piece {
    const char *role, *role_name, *part, *name;
    int count;
    bool kept;
} sw_fits_piece;

typedef struct sw_fits_task {
    const char *id, *name, *role, *role_name;
} sw_fits_task;

typedef struct sw_fits_rule {
    const char *rule, *name, *unit;
    sw_shape shape;
    bool hard;
    sw_fits_says says;
    int64_t need, room;         /* within, supply, place when not moot; millionths */
    const char *left, *right;   /* same and among, when known: "N5 or N6"; else NULL */
    const char *client, *bench; /* when broken, else NULL */
    const char *kept;           /* "the Board and the Case": present parts that the rule reads and
                                   that stay; NULL: none */
    const char *unknown_role, *unknown_role_name; /* when a fact is unknown, else NULL */
    const char *unknown_fact, *unknown_meaning;
} sw_fits_rule;

typedef struct sw_fits_stand {
    const char *kind, *size;
    int count;
    const char *part, *name, *role;
    const char *on_part, *on_name, *on_role, *site;
    const char *caution; /* of the site, or NULL */
} sw_fits_stand;

struct sw_fits {
    sw_arena *arena;
    const char *title;
    sw_fits_verdict verdict;
    bool asked;         /* parts were named; else the present machine is looked at */
    bool unsettled;     /* the time ran out */
    bool asked_to_stop; /* unsettled by `halt`, not by the time */
    sw_fits_piece *pieces, *out;
    size_t piece_count, out_count;
    sw_fits_task *tasks;
    size_t task_count;
    sw_fits_rule *rules;
    size_t rule_count;
    int64_t places_asked, places_left, places_spare;
    sw_fits_stand *stands;
    size_t stand_count;
};

/* A part of the scenario by id, as new ones are bought; SW_NONE after a complaint. */
int sw_part_named(const sw_scenario *scenario, const char *id, sw_complaints *complaints);

/* One part asked about, and how many pieces. */
typedef struct sw_asked {
    int part, count;
} sw_asked;

/* Complaints about what was asked name the file SW_ASKED. */
#define SW_ASKED "PART"

sw_status sw_find_fits(sw_fits **out, const sw_scenario *scenario, const sw_asked *asked,
                       size_t asked_count, bool allow_unknown, sw_allowance allowance,
                       sw_complaints *complaints);
/* ---- between its files ------------------------------------------------------------ */

/* The machine to be judged, a fit-out per role, by the trials of FORMATS.md section 12;
 * `*early` when the time ran out before a trial was settled. */
sw_status sw_trial_machine(int *machine, bool *early, sw_setup *setup, const sw_asked *asked,
                           size_t asked_count, sw_allowance allowance, sw_complaints *complaints);

#endif
