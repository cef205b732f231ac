/* What the shop has learnt of one check by its jobs: catalog/FORMATS.md section 28. Pure. */
#ifndef SW_LEARNT_H
#define SW_LEARNT_H

#include "check/calibration.h"

#define SW_PAIRS_LEAST 5 /* fewer say nothing */

/* Of errors: measured - foretold, or (on a ratio) the logarithm of measured / foretold. */
typedef struct sw_learnt {
    size_t pairs;                    /* that count */
    size_t left_out;                 /* on a ratio, with a number that is not above 0 */
    bool of_use;                     /* the pairs are those of the use; else all of the check */
    double bias, spread, half_width; /* half_width: of the band that holds 9 in 10 */
} sw_learnt;

/* False where fewer than SW_PAIRS_LEAST pairs are there: then `pairs`, `left_out` and `of_use`
 * alone are said. `calibration` and `use` may be NULL. */
bool sw_calibration_of(sw_learnt *out, const sw_calibration *calibration, const char *check,
                       const char *use, bool ratio);

/* What is foretold with what was learnt, and the ends of its band. */
typedef struct sw_band {
    double low, mid, high;
} sw_band;
sw_band sw_learnt_band(const sw_learnt *learnt, double foretold, bool ratio);

#endif
