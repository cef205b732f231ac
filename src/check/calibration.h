/* What was foretold of the shop's jobs beside what was measured when they were done:
 * catalog/FORMATS.md section 28. */
#ifndef SW_CALIBRATION_H
#define SW_CALIBRATION_H

#include "base/base.h"

/* No number of a measurement is larger, so that errors, and powers of e of them, stay finite. */
#define SW_MEASURED_LIMIT 1e12

typedef struct sw_pair {
    const char *check, *use; /* use NULL: it is about none */
    const char *note;        /* NULL: none */
    double foretold, measured;
} sw_pair;

typedef struct sw_past_job {
    const char *id;
    const char *date, *note; /* NULL: none */
    const sw_pair *pairs;
    size_t pair_count;
} sw_past_job;

typedef struct sw_calibration {
    sw_arena *arena;
    const char *file;
    const char *note;        /* NULL: none */
    const sw_past_job *jobs; /* in file order */
    size_t job_count;
} sw_calibration;

/* Reads and checks the file at `path` ("-" is standard input). */
sw_status sw_calibration_read(sw_calibration **out, const char *path, sw_complaints *complaints);
/* The same; a file that is not there yet has no jobs. */
sw_status sw_calibration_begin(sw_calibration **out, const char *path, sw_complaints *complaints);
/* The same of bytes that are there already; complaints name `file`. */
sw_status sw_calibration_parse(sw_calibration **out, const char *file, const char *bytes,
                               size_t length, sw_complaints *complaints);
void sw_calibration_free(sw_calibration *calibration);

#endif
