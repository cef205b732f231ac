/*
 * What is wrong with the machine as it stands, in facts and numbers. Meanings:
 * catalog/FORMATS.md section 16. Owned by its arena.
 */
#ifndef SW_ANSWER_LOOK_H
#define SW_ANSWER_LOOK_H

#include "answer/answer.h"
#include "answer/setup.h"
#include "estimate/measures.h"

/* A part that a mend brings in. */
typedef struct sw_look_new_part {
    const char *part, *name;
    int count;
    const char *seller, *seller_name; /* ids; "client" when given */
} sw_look_new_part;

typedef struct sw_look_mend {
    sw_mend_how how;
    const char *task, *name; /* SW_MEND_TASK: id and name */
    sw_look_new_part *parts; /* SW_MEND_REPLACE: what comes in */
    size_t part_count;
    bool some_stay;        /* SW_MEND_REPLACE: present pieces of the role stay */
    const char *role_name; /* SW_MEND_REPLACE */
    const char *text;      /* SW_MEND_DO */
    const char *caution;   /* of the task, or NULL */
    bool offered;          /* points, cost and minutes are told */
    int64_t points, cost, minutes;
    bool first; /* the finding's own mend: most points a minute */
} sw_look_mend;

typedef struct sw_look_finding {
    const char *id;
    sw_finding_kind kind;
    bool must;
    const char *about, *about_name;
    const char *evidence, *means, *caution; /* caution NULL when none */
    sw_look_mend *mends;
    size_t mend_count;
    const sw_look_mend *own; /* the first one, or NULL when none has numbers */
} sw_look_finding;

/* A finding that hangs on what nobody stated. */
typedef struct sw_look_unknown {
    const char *finding, *about, *about_name;
    const char *role, *role_name, *fact; /* NULL where it is not a fact */
    const char *measure;                 /* id, NULL where it is a fact */
    const char *meaning;
} sw_look_unknown;

typedef struct sw_look_stage {
    const char *id, *name;
    double rate, behind; /* behind: over the governing rate */
} sw_look_stage;

typedef struct sw_look_use {
    const char *id, *name, *unit;
    double share;    /* of all uses */
    double rate_now; /* as measured; 0: not measured */
    size_t governs;  /* stage */
    sw_look_stage *stages;
    size_t stage_count;
} sw_look_use;

typedef struct sw_look_source {
    const char *role, *role_name;
    double level_db, share, speed;
} sw_look_source;

typedef struct sw_look_show {
    const char *role, *role_name;
    double weight, match; /* weight: of all that shows */
} sw_look_show;

typedef struct sw_look_measure {
    const char *id, *name, *unit;
    int digits;
    sw_state state;
    double low, value, high;
    /* SW_UNKNOWN: the name of what nobody stated, its role ("" when of none), and in words */
    const char *lacks, *lacks_role_name, *lacks_about;
} sw_look_measure;

struct sw_look {
    sw_arena *arena;
    sw_answer *answer; /* title, currency, musts */
    sw_look_finding *findings;
    size_t finding_count;
    bool has_forms; /* the catalog has findings to look for */
    sw_look_unknown *unknowns;
    size_t unknown_count;
    sw_look_use *uses;
    size_t use_count;
    double seat_dba, seat_sone, machine_dba, room_dba, calibration_db;
    sw_look_source *sources;
    size_t source_count;
    sw_look_show *shows;
    size_t show_count;
    sw_look_measure *measures;
    size_t measure_count;
};

sw_status sw_find_look(sw_look **out, const sw_scenario *scenario, bool allow_unknown,
                       sw_complaints *complaints);

/* ---- between its files ------------------------------------------------------------ */

/* What the findings are found with: the present machine, scored against itself. */
typedef struct sw_look_job {
    sw_look *look;
    const sw_setup *setup;
    const sw_measuring *measuring;
} sw_look_job;

/* Is the finding made on these measures' machine? */
sw_truth sw_finding_made(const sw_measuring *measuring, const sw_finding_form *form);
/* Numbers of a mend of the present machine. */
sw_status sw_find_mend(sw_look_mend *out, const sw_look_job *job, const sw_finding_form *finding,
                       const sw_mend_form *form);
/* {measure-id} and {role.fact} filled in; NULL when memory is out. */
const char *sw_finding_sentence(sw_arena *arena, const sw_measuring *measuring,
                                const char *sentence);
/* A fact's value as text: "3200", "black or white", "yes". */
const char *sw_value_text(sw_arena *arena, const sw_fact *fact, const sw_value *value);

#endif
