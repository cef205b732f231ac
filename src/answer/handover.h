/*
 * Promised against measured, when the work is done: catalog/FORMATS.md section 27. Owned by the
 * options' arena of its bench.
 */
#ifndef SW_ANSWER_HANDOVER_H
#define SW_ANSWER_HANDOVER_H

#include "answer/bench.h"
#include "check/measurements.h"

typedef enum sw_outcome {
    SW_AS_FORETOLD, /* within the band; within the edge; done */
    SW_BETTER,
    SW_WORSE,
    SW_FAILS, /* over the edge; not done, or with a fault */
    SW_NOT_MEASURED,
    SW_NOT_FORETOLD /* measured, but nothing was foretold of it */
} sw_outcome;
#define SW_OUTCOMES 6

/* Of the proof of the same index. */
typedef struct sw_told_result {
    bool has_before, measured;
    double before, value; /* value: of a check that is done 1 or 0 */
    sw_outcome outcome;
    bool below_promise; /* a rate below the least that was promised */
} sw_told_result;

/* A part that is now in the machine, and until when it can be complained of or given back. */
typedef struct sw_told_cover {
    const char *role_name, *part, *name, *seller_name;
    int count, warranty_months, return_days;             /* -1: what the client brought */
    const char *here_on, *warranty_until, *return_until; /* NULL when the day is not known, or 0 */
} sw_told_cover;

struct sw_handover {
    sw_bench *bench; /* owned; of the machine as it is handed over */
    const char *job;
    const char *date, *call_on; /* NULL when no date is stated */
    sw_told_result *results;    /* [proof] */
    const char **left_out;      /* names of tasks */
    size_t left_out_count;
    const char **notes;
    size_t note_count;
    sw_told_cover *covers;
    size_t cover_count;
    const char **look_again; /* uses whose rate is below the least promised */
    size_t look_again_count;
    sw_past_job record;   /* the pairs of this job */
    sw_calibration *past; /* where they go; owned, NULL: nowhere */
};

/* `bench` goes over to `*out` when it succeeds. */
sw_status sw_find_handover(sw_handover **out, sw_bench *bench, const sw_scenario *scenario,
                           const sw_measurements *measured, sw_complaints *complaints);

#endif
