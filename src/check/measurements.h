/* What was measured when the work was done: catalog/FORMATS.md section 27. */
#ifndef SW_MEASUREMENTS_H
#define SW_MEASUREMENTS_H

#include "check/calibration.h"
#include "check/catalog.h"

typedef struct sw_measurement {
    const char *place;       /* "$.after[2]", for complaints of those who know the job's checks */
    const char *check, *use; /* use NULL: it is about none */
    int use_index;           /* of the catalog; SW_NONE: none */
    bool says_done;          /* by `done`; else by `value` */
    bool done;
    double value;
} sw_measurement;

typedef struct sw_measurements {
    sw_arena *arena;
    const char *file, *job;
    const char *date;            /* NULL: none */
    int64_t day;                 /* of the date, counted like sw_scenario's; -1: none */
    const char *const *left_out; /* task ids, in file order */
    const int *left_out_tasks;   /* the same as indexes of the catalog */
    size_t left_out_count;
    const sw_measurement *before, *after; /* in file order */
    size_t before_count, after_count;
    const char *const *notes;
    size_t note_count;
} sw_measurements;

/* Reads and checks the file at `path` ("-" is standard input) against the tasks and uses of
 * `catalog`; NULL: names are not looked up, and the indexes are SW_NONE. Whether the job has
 * the checks is not known here. */
sw_status sw_measurements_read(sw_measurements **out, const char *path, const sw_catalog *catalog,
                               sw_complaints *complaints);
void sw_measurements_free(sw_measurements *measurements);

#endif
