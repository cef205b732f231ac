/* What is learnt from a calibration file: bias, spread and band, against arithmetic by hand and
 * against jobs drawn with a known bias and spread (catalog/FORMATS.md section 28). */
#include "near.h"

#include <string.h>

#include "estimate/learnt.h"

/* ---- by hand --------------------------------------------------------------------------------- */

static sw_calibration of_jobs(const sw_past_job *jobs, size_t count) {
    return (sw_calibration){.file = "c.json", .jobs = jobs, .job_count = count};
}

/* Errors 1, 2, 3, 4, 5: mean 3, standard deviation sqrt(2.5); t of 4 degrees 2.131847
 * (NIST/SEMATECH e-Handbook 1.3.6.7.2: 2.132); half width 2.131847 x 1.581139 x sqrt(1.2)
 * = 3.692467. */
Test(learnt, differences_by_hand) {
    static const sw_pair pairs[][1] = {{{.check = "seat", .foretold = 30, .measured = 31}},
                                       {{.check = "seat", .foretold = 41, .measured = 43}},
                                       {{.check = "seat", .foretold = 25, .measured = 28}},
                                       {{.check = "seat", .foretold = 33, .measured = 37}},
                                       {{.check = "seat", .foretold = -1, .measured = 4}}};
    sw_past_job jobs[5] = {{.id = "a"}, {.id = "b"}, {.id = "c"}, {.id = "d"}, {.id = "e"}};
    for (size_t i = 0; i < 5; i++) {
        jobs[i].pairs = pairs[i];
        jobs[i].pair_count = 1;
    }
    sw_calibration of = of_jobs(jobs, 5);
    sw_learnt learnt;
    cr_assert(sw_calibration_of(&learnt, &of, "seat", NULL, false));
    cr_expect(learnt.pairs == 5 && learnt.left_out == 0 && !learnt.of_use);
    NEAR(learnt.bias, 3, 1e-12, "bias");
    NEAR(learnt.spread, sqrt(2.5), 1e-12, "spread");
    NEAR(learnt.half_width, 3.692467, 1e-5, "half width");
    sw_band band = sw_learnt_band(&learnt, 36, false);
    NEAR(band.mid, 39, 1e-12, "middle");
    NEAR(band.low, 39 - 3.692467, 1e-5, "low");
    NEAR(band.high, 39 + 3.692467, 1e-5, "high");
}

/* Measured over foretold 1.1 twice, 1 once, 1 / 1.1 twice: logarithms that add up to 0; deviation
 * ln 1.1 x sqrt(4 / 4). */
Test(learnt, ratios_by_hand) {
    static const sw_pair pairs[] = {
        {.check = "rates", .use = "a", .foretold = 100, .measured = 110},
        {.check = "rates", .use = "b", .foretold = 20, .measured = 22},
        {.check = "rates", .use = "c", .foretold = 7, .measured = 7},
        {.check = "rates", .use = "d", .foretold = 110, .measured = 100},
        {.check = "rates", .use = "e", .foretold = 1.1, .measured = 1}};
    sw_past_job job = {.id = "a", .pairs = pairs, .pair_count = 5};
    sw_calibration of = of_jobs(&job, 1);
    sw_learnt learnt;
    cr_assert(sw_calibration_of(&learnt, &of, "rates", "a", true));
    cr_expect(learnt.pairs == 5 && !learnt.of_use, "one of the use, so all of the check");
    NEAR(learnt.bias, 0, 1e-12, "bias");
    NEAR(learnt.spread, log(1.1), 1e-12, "spread");
    sw_band band = sw_learnt_band(&learnt, 50, true);
    NEAR(band.mid, 50, 1e-9, "middle");
    NEAR(band.high / band.mid, band.mid / band.low, 1e-12, "as far up as down, as a ratio");
    NEAR(log(band.high / band.mid), 2.131847 * log(1.1) * sqrt(1.2), 1e-6, "half width");
}

/* ---- which pairs count --------------------------------------------------------------------------
 */

enum { MOST = 40 };

typedef struct book {
    sw_pair pairs[MOST];
    size_t count;
    sw_past_job job;
} book;

static void add(book *is, size_t times, const char *check, const char *use, double foretold,
                double measured) {
    for (size_t i = 0; i < times; i++)
        is->pairs[is->count++] =
            (sw_pair){.check = check, .use = use, .foretold = foretold, .measured = measured};
}

static bool learn(sw_learnt *out, book *is, const char *check, const char *use, bool ratio) {
    is->job = (sw_past_job){.id = "a", .pairs = is->pairs, .pair_count = is->count};
    sw_calibration of = of_jobs(&is->job, 1);
    return sw_calibration_of(out, &of, check, use, ratio);
}

Test(learnt, five_of_a_use_and_else_all) {
    sw_learnt learnt;
    book is = {.count = 0};
    add(&is, 4, "rates", "play", 10, 12);
    cr_expect(!learn(&learnt, &is, "rates", "play", false));
    cr_expect_eq(learnt.pairs, 4, "what is missing can be said");
    add(&is, 1, "rates", NULL, 10, 10);
    cr_expect(learn(&learnt, &is, "rates", "play", false), "five of the check");
    cr_expect(learnt.pairs == 5 && !learnt.of_use);
    NEAR(learnt.bias, 8.0 / 5, 1e-12, "all of the check");
    add(&is, 10, "rates", "photos", 10, 20);
    add(&is, 10, "seat", "play", 10, 99);
    add(&is, 1, "rates", "play", 10, 12);
    cr_expect(learn(&learnt, &is, "rates", "play", false));
    cr_expect(learnt.pairs == 5 && learnt.of_use);
    NEAR(learnt.bias, 2, 1e-12, "the use's own");
    cr_expect(learn(&learnt, &is, "rates", "music", false));
    cr_expect(learnt.pairs == 16 && !learnt.of_use, "a use that was never measured");
    cr_expect(learn(&learnt, &is, "rates", NULL, false));
    cr_expect_eq(learnt.pairs, 16);
    cr_expect(!learn(&learnt, &is, "case-air", NULL, false));
    cr_expect_eq(learnt.pairs, 0);
    cr_expect(!sw_calibration_of(&learnt, NULL, "rates", NULL, false), "no file");
    cr_expect_eq(learnt.pairs, 0);
}

/* A ratio of what is not above 0 is none: such pairs are not counted, here or among the five. */
Test(learnt, ratios_of_nothing_are_left_out) {
    sw_learnt learnt;
    book is = {.count = 0};
    add(&is, 4, "rates", "play", 10, 11);
    add(&is, 1, "rates", "play", 10, 0);
    add(&is, 1, "rates", "play", -10, 11);
    add(&is, 1, "rates", "play", 0, 0);
    cr_expect(!learn(&learnt, &is, "rates", "play", true));
    cr_expect(learnt.pairs == 4 && learnt.left_out == 3);
    cr_expect(learn(&learnt, &is, "rates", "play", false), "as differences they count");
    cr_expect(learnt.pairs == 7 && learnt.left_out == 0);
    add(&is, 1, "rates", "photos", 10, 11);
    cr_expect(learn(&learnt, &is, "rates", "play", true));
    cr_expect(learnt.pairs == 5 && learnt.left_out == 3 && !learnt.of_use);
    NEAR(learnt.bias, log(1.1), 1e-12, "bias");
}

/* The widest numbers that are read make no infinities. */
Test(learnt, widest_numbers) {
    sw_learnt learnt;
    book is = {.count = 0};
    add(&is, 3, "c", NULL, -SW_MEASURED_LIMIT, SW_MEASURED_LIMIT);
    add(&is, 3, "c", NULL, SW_MEASURED_LIMIT, -SW_MEASURED_LIMIT);
    add(&is, 3, "r", NULL, 1 / SW_MEASURED_LIMIT, SW_MEASURED_LIMIT);
    add(&is, 3, "r", NULL, SW_MEASURED_LIMIT, 1 / SW_MEASURED_LIMIT);
    add(&is, 3, "r", NULL, 5e-324, SW_MEASURED_LIMIT);
    cr_expect(learn(&learnt, &is, "c", NULL, false));
    cr_expect(isfinite(learnt.bias) && isfinite(learnt.half_width));
    cr_expect(learn(&learnt, &is, "r", NULL, true));
    cr_expect_eq(learnt.left_out, 3);
    sw_band band = sw_learnt_band(&learnt, SW_MEASURED_LIMIT, true);
    cr_expect(isfinite(band.high) && band.low > 0, "%g to %g", band.low, band.high);
}

/* ---- jobs drawn with a known bias and spread
 * -------------------------------------------------------- */

/* SplitMix64 (S. Vigna) and the transform of Box and Muller (1958): every run has the same numbers.
 */
static double next_share(uint64_t *state) {
    uint64_t z = *state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ z >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ z >> 27) * UINT64_C(0x94D049BB133111EB);
    return ((double)((z ^ z >> 31) >> 11) + 0.5) / 0x1p53;
}

static double next_normal(uint64_t *state) {
    double radius = sqrt(-2 * log(next_share(state)));
    return radius * cos(2 * 3.14159265358979323846 * next_share(state));
}

typedef struct world {
    bool ratio;
    double bias, spread;      /* of a ratio: of its logarithm */
    double foretold_from, to; /* what is foretold lies between */
} world;

/* Levels come out 3 dB louder than foretold, give or take 1.2 dB; rates 8 % higher, give or take 4
 * %. */
static const world louder = {false, 3, 1.2, 25, 50}, faster = {true, 0.0769610411, 0.04, 5, 500};

static double next_foretold(const world *is, uint64_t *state) {
    return is->foretold_from + (is->to - is->foretold_from) * next_share(state);
}

static double measured_after(const world *is, double foretold, uint64_t *state) {
    double error = is->bias + is->spread * next_normal(state);
    return is->ratio ? foretold * exp(error) : foretold + error;
}

/* The file of so many jobs, as text that is read. */
static sw_calibration *draw(const world *is, size_t jobs, uint64_t *state) {
    sw_calibration *made = NULL;
    sw_text text = {0};
    sw_text_add(&text, "{\"schema\":1,\"jobs\":[");
    for (size_t i = 0; i < jobs; i++) {
        double foretold = next_foretold(is, state), after = measured_after(is, foretold, state);
        sw_text_addf(&text,
                     "%s{\"job\":\"job-%zu\",\"pairs\":[{\"check\":\"other\",\"foretold\":1,"
                     "\"measured\":9},{\"check\":\"c\",\"foretold\":%.17g,\"measured\":%.17g}]}",
                     i == 0 ? "" : ",", i, foretold, after);
    }
    sw_text_add(&text, "]}");
    cr_assert_eq(sw_calibration_parse(&made, "c.json", text.bytes, text.length, NULL), SW_OK);
    sw_text_free(&text);
    return made;
}

/* Fifty jobs leave a standard error of 1.2 / sqrt(50) = 0.17 dB and 4 % / sqrt(50) = 0.6 %: within
 * 0.5 dB and 1.5 % for the first seed, and for nearly all of a hundred. */
Test(learnt, planted_bias_is_found_in_fifty_jobs) {
    size_t near_db = 0, near_ratio = 0;
    for (uint64_t seed = 1; seed <= 100; seed++) {
        uint64_t state = seed;
        sw_learnt level, rate;
        sw_calibration *levels = draw(&louder, 50, &state), *rates = draw(&faster, 50, &state);
        cr_assert(sw_calibration_of(&level, levels, "c", NULL, false));
        cr_assert(sw_calibration_of(&rate, rates, "c", NULL, true));
        cr_expect(level.pairs == 50 && rate.pairs == 50);
        if (seed == 1) {
            NEAR(level.bias, 3, 0.5, "dB");
            NEAR(exp(rate.bias), 1.08, 0.015, "ratio");
        }
        near_db += fabs(level.bias - 3) <= 0.5;
        near_ratio += fabs(exp(rate.bias) - 1.08) <= 0.015;
        /* the standard deviation of 50 lies within 4.5 of its own standard errors, s / sqrt(98) */
        NEAR(level.spread, 1.2, 1.2 * 4.5 / sqrt(98), "spread, seed %d", (int)seed);
        NEAR(rate.spread, 0.04, 0.04 * 4.5 / sqrt(98), "spread, seed %d", (int)seed);
        sw_calibration_free(levels);
        sw_calibration_free(rates);
    }
    cr_log_info("of 100 calibrations %zu within 0.5 dB, %zu within 1.5 %%", near_db, near_ratio);
    cr_expect_geq(near_db, 98);
    cr_expect_geq(near_ratio, 97);
}

/* The share of next jobs that lie within the band, over many calibrations; and without calibration,
 * for comparison, within a band as wide about what was foretold. */
static double share_within(const world *is, size_t jobs, uint64_t seed, double *uncalibrated) {
    size_t within = 0, plain = 0, all = 0;
    for (int c = 0; c < 400; c++) {
        sw_learnt learnt;
        sw_calibration *made = draw(is, jobs, &seed);
        cr_assert(sw_calibration_of(&learnt, made, "c", NULL, is->ratio));
        sw_learnt unbiased = learnt;
        unbiased.bias = 0;
        for (int next = 0; next < 50; next++, all++) {
            double foretold = next_foretold(is, &seed);
            double after = measured_after(is, foretold, &seed);
            sw_band band = sw_learnt_band(&learnt, foretold, is->ratio);
            sw_band about = sw_learnt_band(&unbiased, foretold, is->ratio);
            within += after >= band.low && after <= band.high;
            plain += after >= about.low && after <= about.high;
        }
        sw_calibration_free(made);
    }
    cr_assert_eq(all, 20000);
    *uncalibrated = (double)plain / (double)all;
    return (double)within / (double)all;
}

Test(learnt, nine_in_ten_next_jobs_lie_within) {
    static const size_t jobs[] = {5, 12, 50};
    const world *worlds[] = {&louder, &faster};
    for (size_t w = 0; w < COUNT(worlds); w++)
        for (size_t j = 0; j < COUNT(jobs); j++) {
            double plain = 0;
            double share = share_within(worlds[w], jobs[j], 100 * jobs[j] + w, &plain);
            cr_log_info("%s, %zu jobs: %.2f %% within, %.2f %% without the bias",
                        w == 0 ? "differences" : "ratios", jobs[j], 100 * share, 100 * plain);
            NEAR(share, 0.9, 0.02, "%zu jobs, scale %zu", jobs[j], w);
            cr_expect_lt(plain, 0.8, "the bias matters: %g", plain);
        }
}
