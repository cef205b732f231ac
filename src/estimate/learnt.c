/* Bias and spread of a check's errors, and the band that they make. */
#include "estimate/learnt.h"

#include <math.h>
#include <string.h>

#define SHARE_WITHIN 0.9
/* A ratio of nothing is none; the least that counts is as far from 1 as the largest number, so that
 * powers of e stay finite. */
#define RATIO_LEAST (1 / SW_MEASURED_LIMIT)

/* Which pairs are asked for. */
typedef struct wanted {
    const sw_calibration *of;
    const char *check, *use; /* use NULL: all of the check */
    bool ratio;
} wanted;

static bool is_wanted(const wanted *is, const sw_pair *pair) {
    return strcmp(pair->check, is->check) == 0 &&
           (is->use == NULL || (pair->use != NULL && strcmp(pair->use, is->use) == 0));
}

static bool counts(const wanted *is, const sw_pair *pair) {
    return !is->ratio || (pair->foretold >= RATIO_LEAST && pair->measured >= RATIO_LEAST);
}

static double error_of(const wanted *is, const sw_pair *pair) {
    return is->ratio ? log(pair->measured / pair->foretold) : pair->measured - pair->foretold;
}

/* Calls for every pair that is asked for, in file order. */
typedef void add_pair(sw_learnt *out, const wanted *is, const sw_pair *pair);

static void each(sw_learnt *out, const wanted *is, add_pair *add) {
    for (size_t j = 0; j < is->of->job_count; j++)
        for (size_t p = 0; p < is->of->jobs[j].pair_count; p++)
            if (is_wanted(is, &is->of->jobs[j].pairs[p]))
                add(out, is, &is->of->jobs[j].pairs[p]);
}

static void add_count(sw_learnt *out, const wanted *is, const sw_pair *pair) {
    if (counts(is, pair))
        out->pairs++;
    else
        out->left_out++;
}

static void add_error(sw_learnt *out, const wanted *is, const sw_pair *pair) {
    if (counts(is, pair))
        out->bias += error_of(is, pair) / (double)out->pairs;
}

static void add_square(sw_learnt *out, const wanted *is, const sw_pair *pair) {
    double off = counts(is, pair) ? error_of(is, pair) - out->bias : 0;
    out->spread += off * off;
}

static void count_pairs(sw_learnt *out, const wanted *is) {
    *out = (sw_learnt){.of_use = is->use != NULL};
    each(out, is, add_count);
}

bool sw_calibration_of(sw_learnt *out, const sw_calibration *calibration, const char *check,
                       const char *use, bool ratio) {
    wanted is = {.of = calibration, .check = check, .use = use, .ratio = ratio};
    *out = (sw_learnt){0};
    if (calibration == NULL)
        return false;
    count_pairs(out, &is);
    if (out->pairs < SW_PAIRS_LEAST && use != NULL) {
        is.use = NULL;
        count_pairs(out, &is);
    }
    if (out->pairs < SW_PAIRS_LEAST)
        return false;
    each(out, &is, add_error);
    each(out, &is, add_square);
    out->spread = sqrt(out->spread / (double)(out->pairs - 1));
    out->half_width = sw_next_half_width(out->spread, (double)out->pairs, SHARE_WITHIN);
    return true;
}

sw_band sw_learnt_band(const sw_learnt *learnt, double foretold, bool ratio) {
    double low = learnt->bias - learnt->half_width, high = learnt->bias + learnt->half_width;
    if (ratio)
        return (sw_band){foretold * exp(low), foretold * exp(learnt->bias), foretold * exp(high)};
    return (sw_band){foretold + low, foretold + learnt->bias, foretold + high};
}
