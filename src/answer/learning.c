/* What the shop's own jobs taught, by the checks of bench.json that name a rate or a measure. */
#include "answer/learning.h"

#include <string.h>

#include "check/bench.h"
#include "estimate/learnt.h"

static bool is_as_today(const sw_answer_rate *rate) {
    return rate->low == 1 && rate->ratio == 1 && rate->high == 1;
}

static void learn_rate(sw_answer_rate *rate, const sw_proof *proof,
                       const sw_calibration *calibration) {
    sw_learnt learnt;
    if (is_as_today(rate) ||
        !sw_calibration_of(&learnt, calibration, proof->id, rate->use, proof->ratio))
        return;
    /* On a difference the rate itself counts, and there is none where today's was not measured. */
    if (!proof->ratio && rate->rate_now <= 0)
        return;
    sw_band band =
        sw_learnt_band(&learnt, proof->ratio ? rate->ratio : rate->rate_then, proof->ratio);
    double now = proof->ratio ? 1 : rate->rate_now;
    rate->low = band.low / now;
    rate->ratio = band.mid / now;
    rate->high = band.high / now;
    rate->rate_low = rate->rate_now * rate->low;
    rate->rate_then = rate->rate_now * rate->ratio;
    rate->rate_high = rate->rate_now * rate->high;
}

void sw_learn_rates(sw_answer_rate *rates, size_t count, const sw_catalog *catalog,
                    const sw_calibration *calibration) {
    for (size_t p = 0; calibration != NULL && p < catalog->bench->proof_count; p++)
        for (size_t i = 0; catalog->bench->proofs[p].of == SW_PROOF_RATES && i < count; i++)
            learn_rate(&rates[i], &catalog->bench->proofs[p], calibration);
}

static void learn_measure(sw_answer_bundle *bundle, const sw_catalog *catalog,
                          const sw_proof *proof, const sw_calibration *calibration) {
    sw_learnt learnt;
    const sw_measure *measure = &catalog->measures[proof->measure];
    if (!sw_calibration_of(&learnt, calibration, proof->id, NULL, proof->ratio))
        return;
    for (size_t i = 0; i < bundle->measure_count; i++) {
        sw_interval *then = &bundle->measures[i].then;
        if (strcmp(bundle->measures[i].id, measure->id) != 0 || (proof->ratio && then->mid <= 0))
            continue;
        sw_band band = sw_learnt_band(&learnt, then->mid, proof->ratio);
        then->low = band.low;
        then->mid = band.mid;
        then->high = band.high;
    }
    if (measure->is->op != SW_EXPR_SOUND || measure->is->index != SW_SEAT_DBA ||
        (proof->ratio && bundle->level_dba <= 0))
        return;
    bundle->level_dba = sw_learnt_band(&learnt, bundle->level_dba, proof->ratio).mid;
    bundle->loudness_sone = sw_sones(bundle->level_dba);
}

void sw_learn_bundle(sw_answer_bundle *bundle, const sw_catalog *catalog,
                     const sw_calibration *calibration) {
    /* A machine that stays as it is was measured, not estimated. */
    if (calibration == NULL || bundle->swap_count + bundle->task_count == 0)
        return;
    sw_learn_rates(bundle->rates, bundle->rate_count, catalog, calibration);
    for (size_t p = 0; p < catalog->bench->proof_count; p++)
        if (catalog->bench->proofs[p].of == SW_PROOF_MEASURE)
            learn_measure(bundle, catalog, &catalog->bench->proofs[p], calibration);
}
