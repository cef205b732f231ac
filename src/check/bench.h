/* What the shop knows of its own work: catalog/FORMATS.md section 26. Owner: the catalog's arena.
 */
#ifndef SW_CHECK_BENCH_H
#define SW_CHECK_BENCH_H

#include "check/catalog.h"

typedef struct sw_work_stage {
    const char *id, *name;
    bool machine; /* where parts come off and go on */
} sw_work_stage;

/* A kind of thing, and the role on whose sites it stands. */
typedef struct sw_mount_site {
    const char *kind;
    int of;
} sw_mount_site;

/* What the pieces of a role hang on. */
typedef struct sw_mount {
    int role;
    const int *on; /* roles */
    size_t on_count;
    const sw_mount_site *sites;
    size_t site_count;
    bool rides;                   /* stays on what it hangs on when that is moved */
    const char *take, *fit, *lay; /* sentences with slots; "" when not said */
} sw_mount;

typedef struct sw_cover {
    int role, over;
    const sw_cond *when;
    size_t when_count;
} sw_cover;

typedef enum sw_step_ref_kind { SW_REF_STEP, SW_REF_OFF, SW_REF_ON } sw_step_ref_kind;

/* What a step comes after or before. */
typedef struct sw_step_ref {
    sw_step_ref_kind kind;
    int index; /* step; role, or SW_EVERY_ROLE */
} sw_step_ref;

typedef struct sw_step {
    const char *id;
    int stage, task, charge; /* task, charge: SW_NONE where it is of none */
    const sw_cond *any, *all, *was;
    size_t any_count, all_count, was_count;
    const char *words, *caution, *source; /* caution "" when none */
    int64_t minutes, alone_minutes;
    const int *lifts, *reaches; /* roles */
    size_t lift_count, reach_count;
    const sw_step_ref *after, *before;
    size_t after_count, before_count;
} sw_step;

typedef enum sw_proof_of {
    SW_PROOF_MEASURE,
    SW_PROOF_RATES,
    SW_PROOF_MOST,
    SW_PROOF_LEAST,
    SW_PROOF_DONE
} sw_proof_of;

/* What is measured or looked at when the work is done. */
typedef struct sw_proof {
    const char *id, *name;
    sw_proof_of of;
    int measure;         /* SW_PROOF_MEASURE */
    const sw_expr *edge; /* SW_PROOF_MOST, SW_PROOF_LEAST */
    const char *unit;    /* of the edge; "" when none */
    int digits;
    bool ratio; /* else difference */
    bool more;  /* more is better; else less */
    bool bars;  /* a machine that fails it is not handed over, whoever accepts it */
    double within;
    const sw_cond *any;
    size_t any_count;
    const char *words, *fails, *source; /* fails "" when not said */
    int64_t minutes, alone_minutes;
} sw_proof;

/* What the client is asked some days later. */
typedef struct sw_call_ask {
    const sw_cond *any;
    size_t any_count;
    const char *words;
} sw_call_ask;

typedef struct sw_bench_form {
    const sw_work_stage *stages;
    size_t stage_count;
    int machine_stage;
    const sw_mount *mounts;
    size_t mount_count;
    const int *mount_of; /* [role] its mount, or SW_NONE */
    const sw_cover *covers;
    size_t cover_count;
    const sw_step *steps;
    size_t step_count;
    const int *leads; /* rules */
    size_t lead_count;
    const bool *files;  /* [role] its pieces keep the client's files */
    const char *wiping; /* "" when not said */
    const sw_proof *proofs;
    size_t proof_count;
    int call_after_days;
    const sw_call_ask *asks;
    size_t ask_count;
} sw_bench_form;

#endif
