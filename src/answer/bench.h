/*
 * The work order of an option and what is measured when it is done, in facts and numbers: what
 * catalog/FORMATS.md section 26 tells. Owned by the options' arena.
 */
#ifndef SW_ANSWER_BENCH_H
#define SW_ANSWER_BENCH_H

#include "answer/options.h"
#include "answer/work.h"
#include "estimate/learnt.h"

typedef enum sw_cause {
    SW_CAUSE_CHANGES, /* id: a role */
    SW_CAUSE_TASK,
    SW_CAUSE_CHARGE,
    SW_CAUSE_STEP,
    SW_CAUSE_COVERS,  /* id: the role that lies under it */
    SW_CAUSE_CARRIED, /* id: the role that it hangs on */
    SW_CAUSE_SO,      /* id: what is so, as in the catalog */
    SW_CAUSE_ALWAYS   /* id NULL */
} sw_cause;

typedef struct sw_told_cause {
    sw_cause cause;
    const char *id, *name;
} sw_told_cause;

typedef struct sw_told_piece {
    const char *role, *role_name, *part, *name;
    int count;
} sw_told_piece;

typedef struct sw_told_action {
    size_t stage;
    sw_does does;
    const char *step;    /* NULL where it is none of bench.json */
    sw_told_piece piece; /* role NULL: a step */
    sw_told_piece *with; /* what leaves with it */
    size_t with_count;
    const char *words, *caution; /* "" when none */
    int64_t minutes, alone_minutes;
    bool billed;
    sw_told_cause *causes;
    size_t cause_count;
} sw_told_action;

/* Where things stand in the machine that is made. */
typedef struct sw_told_stand {
    const char *kind, *size;
    int count;
    bool new_there; /* it comes, or what it stands on does */
    const char *role, *part, *name, *on_role, *on_part, *on_name, *site;
    const char *side, *blows; /* NULL when not known */
} sw_told_stand;

typedef struct sw_told_amount {
    const char *role, *role_name;
    int64_t millionths;
} sw_told_amount;

typedef struct sw_told_lead {
    const char *rule, *name, *unit;
    int64_t need, there; /* millionths */
    sw_told_amount *takes, *gives;
    size_t take_count, give_count;
} sw_told_lead;

typedef struct sw_told_out {
    sw_told_piece piece;
    const char *condition;
    int64_t offer; /* for all pieces; 0: it is the client's */
    bool keeps_files;
} sw_told_out;

typedef struct sw_told_proof {
    const char *id, *name, *unit, *words, *fails; /* unit and fails "" when none */
    const char *use, *use_name;                   /* NULL where it is about no use */
    sw_proof_of of;
    int digits;
    bool ratio, more, bars;
    bool has_today, has_band; /* has_band: low and high are known (one of them, of an edge) */
    double today, foretold, low, high;
    double as_made; /* foretold without calibration, of the machine as it is handed over */
    bool as_today;  /* a rate that nothing changes: it was measured, and teaches nothing */
    bool calibrated;
    sw_learnt learnt;
    int64_t minutes, alone_minutes;
} sw_told_proof;

struct sw_bench {
    sw_options *options;     /* owned: frame and terms */
    const sw_option *option; /* NULL: there is none */
    size_t number;
    const char **stages, **stage_names;
    size_t stage_count;
    sw_told_piece *pieces; /* the machine that is made; `with` of tasks below */
    bool *added;           /* [piece] */
    size_t piece_count;
    const char **task_roles, **task_ids;
    size_t task_count;
    sw_told_action *actions;
    size_t action_count;
    int64_t billed, beside, alone; /* minutes */
    sw_told_stand *stands;
    size_t stand_count;
    sw_told_lead *leads;
    size_t lead_count;
    sw_told_out *out;
    size_t out_count;
    sw_told_proof *proofs;
    size_t proof_count;
    const char *wiping; /* "" when nothing is said */
    int call_after_days;
    const char **asks;
    size_t ask_count;
};

/* Of an option of the job; `options` goes over to `*out` when it succeeds. `left_out` [task]: work
 * that was not done (NULL: all was); `calibration` may be NULL. */
sw_status sw_find_bench(sw_bench **out, sw_options *options, const sw_option *option,
                        const sw_setup *setup, const bool *left_out,
                        const sw_calibration *calibration, sw_complaints *complaints);

/* ---- between its files --------------------------------------------------------------------- */

typedef struct sw_bench_job {
    sw_bench *bench;
    const sw_setup *setup;
    const int *machine, *sure; /* [role] as made; without what is luck */
    sw_measuring now, then;
    sw_work work;
    const sw_calibration *calibration;
    sw_arena *arena;
    bool failed; /* memory ran out */
} sw_bench_job;

const char *sw_bench_copy(sw_bench_job *job, const char *text);
sw_told_piece sw_bench_piece(sw_bench_job *job, int role, int part, int count);
sw_status sw_bench_tell_actions(sw_bench_job *job);
sw_status sw_bench_tell_places(sw_bench_job *job); /* stands, leads, what goes */
sw_status sw_bench_tell_proofs(sw_bench_job *job);

#endif
