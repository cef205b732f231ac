/*
 * The machine as its dumps tell it: devices settled, pieces made of them by intake.json, and the
 * draft of a scenario. FORMATS.md section 29.
 */
#ifndef SW_INTAKE_SURVEY_H
#define SW_INTAKE_SURVEY_H

#include "check/scenario.h"
#include "intake/settle.h"

/* A fact of a piece, and the statements that it was made of. */
typedef struct sw_seen_fact {
    int fact;
    bool of_piece;
    sw_value value; /* a number, a token or a flag */
    const sw_statement *const *from;
    size_t from_count;
} sw_seen_fact;

typedef struct sw_seen_piece {
    int role;
    const sw_device *device; /* NULL: not looked at yet */
    const char *id, *name;   /* `id` is the catalog part's, or its own */
    int part;                /* of the catalog; SW_NONE: its own */
    bool copies;             /* its own part, but with all the facts of `part` */
    const int *choices;      /* catalog parts that its name could mean: several, none was taken */
    size_t choice_count;
    int nearest; /* of its own part: the catalog part with the likest name, or SW_NONE */
    const sw_statement *named; /* what named it; NULL: nothing */
    const sw_seen_fact *facts; /* in the order of intake.json */
    size_t fact_count;
    const sw_health_form *health; /* NULL: nothing told against it */
    int count;
    const char *const *doubts; /* sentences */
    size_t doubt_count;
} sw_seen_piece;

typedef struct sw_left_device {
    const sw_device *device;
    const char *why;              /* NULL: it is no part of a scenario */
    const sw_health_form *health; /* NULL: nothing told against it */
} sw_left_device;

struct sw_survey {
    sw_arena *arena;
    sw_catalog *catalog;
    sw_dumps dumps;
    sw_complaints *faults; /* what of the dumps could not be used */
    sw_devices devices;
    const sw_seen_piece *pieces; /* in the order of the devices, then those not looked at */
    size_t piece_count;
    const sw_left_device *left;
    size_t left_count;
    const sw_intake_question *const *questions;
    size_t question_count;
    const char *const *mixed; /* devices of which the dumps know more than one piece */
    size_t mixed_count;
    const char *draft, *card; /* as text */
};

/* The facts of a piece out of its device; doubts go to `say`. */
typedef struct sw_doubts {
    sw_arena *arena;
    const char **all;
    size_t count, room;
    bool no_memory;
} sw_doubts;

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void
sw_add_doubt(sw_doubts *doubts, const char *format, ...);

/* False when memory is out. */
bool sw_piece_facts(sw_seen_piece *out, sw_survey *survey, const sw_piece_form *form,
                    sw_doubts *doubts);
/* What a device's statements contradict each other in. */
void sw_device_doubts(sw_doubts *doubts, const sw_survey *survey, const sw_device *device);
/* Fills in `mixed`: by names of the board, and by serial numbers, which are not told. */
sw_status sw_find_mixture(sw_survey *survey);
/* Fills in pieces, what was left and the questions. */
sw_status sw_make_pieces(sw_survey *survey);
/* Fills in the draft. `catalog`: as the draft is to name it; `date` may be NULL. */
sw_status sw_make_draft(sw_survey *survey, const char *catalog, const char *date);
sw_status sw_make_card(sw_survey *survey);

/* A value as people read it: "3200", "DDR4", "yes". NULL when memory is out. */
const char *sw_value_shown(sw_arena *arena, const sw_fact *fact, const sw_value *value);

#endif
