/*
 * What the checks of the sweep share. They look into the library: the frontier, the bounds by
 * lane, single labels; and hold the curve against trying every bundle of a small part of a job.
 */
#ifndef TEST_SWEEP_H
#define TEST_SWEEP_H

#include "program/sweep.h"
#include "run.h"

/* ---- counting -------------------------------------------------------------------------- */

/* One more of the named check held, or did not; says the first few that did not. */
void held(const char *name, bool good, const char *detail, ...);
/* A check must have been put to the test so often. */
void put_to_the_test(const char *name, long least);
/* How often each check held, then "N passed, N failed" checks; 0 when none failed. */
int tell_counts(void);

/* ---- chance ------------------------------------------------------------------------------ */

void chance_start(uint64_t seed);
uint64_t draw(uint64_t below);

/* ---- jobs ------------------------------------------------------------------------------- */

typedef struct job {
    const char *file;
    sw_complaints *complaints;
    sw_scenario *scenario;
    sw_run run;
    sw_program *program;
    const int *cheapest; /* NULL: nothing fits */
    size_t groups;
} job;

/* Scored and presolved, as the curve is asked. Earlier finds are forgotten. */
bool job_open(job *out, const char *file);
void job_close(job *job);

sw_allowance long_enough(void);
bool obeys(const job *job, sw_tally *tally, const int *picks);

/* Bundles that obey, with what they come to. */
typedef struct bundles {
    sw_tally *tally;
    int *picks; /* [bundle * groups] */
    size_t count, room, groups;
} bundles;

bool bundles_add(bundles *to, const sw_tally *tally, const int *picks);
const int *bundle_at(const bundles *all, size_t i);
void bundles_free(bundles *all);
/* The best of them at every cost, by sorting: costs from `from` (cheaper ones count as if they
 * cost that much) to `to`. */
bool staircase(bundles *out, const job *job, const bundles *all, int64_t from, int64_t to);
/* Is the frontier that staircase, to the last pick? */
bool same_steps(const sw_frontier *frontier, const bundles *steps, size_t groups);

/* The whole curve of the job; the caller frees it. */
bool whole_curve(sw_frontier *out, bool *given_up, const job *job);
/* Random bundles that obey: near the treads and anywhere. */
bool sample(bundles *out, const job *job, const sw_frontier *near, size_t count);

/* ---- the checks -------------------------------------------------------------------------- */

void check_frontier(long count);
void check_boxes(const job *job, long count);
void check_samples(const job *job, const sw_frontier *curve, const bundles *samples);
void check_labels(const job *job, const sw_frontier *curve, const bundles *samples);
void check_halts(const job *job, const sw_frontier *curve);
void check_pieces(const job *job, long count);
void check_memory(const char *file, double most_mb);

#endif
