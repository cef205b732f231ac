/* What is measured when the work is done, and what is foretold of it. */
#include "answer/bench.h"

#include <math.h>

/* ---- the band
 * ------------------------------------------------------------------------------------- */

/* Where something is foretold: by the estimate and how far off it may be, or by what the shop's
 * own jobs taught. */
static void set_band(sw_told_proof *out, const sw_bench_job *job, const sw_proof *form,
                     sw_interval of) {
    out->has_band = true;
    out->foretold = of.mid;
    out->low = form->ratio ? of.low / (1 + form->within) : of.low - form->within;
    out->high = form->ratio ? of.high * (1 + form->within) : of.high + form->within;
    out->calibrated =
        !out->as_today && (!form->ratio || of.mid > 0) &&
        sw_calibration_of(&out->learnt, job->calibration, out->id, out->use, form->ratio);
    if (!out->calibrated)
        return;
    sw_band band = sw_learnt_band(&out->learnt, of.mid, form->ratio);
    out->foretold = band.mid;
    out->low = band.low;
    out->high = band.high;
}

static sw_told_proof *start(sw_bench_job *job, const sw_proof *form) {
    sw_told_proof *out = &job->bench->proofs[job->bench->proof_count++];
    const char *words = sw_finding_sentence(job->arena, &job->then, form->words);
    const char *fails =
        form->fails[0] == '\0' ? "" : sw_finding_sentence(job->arena, &job->then, form->fails);
    job->failed = job->failed || words == NULL || fails == NULL;
    *out = (sw_told_proof){.id = sw_bench_copy(job, form->id),
                           .name = sw_bench_copy(job, form->name),
                           .unit = sw_bench_copy(job, form->unit),
                           .words = words,
                           .fails = fails,
                           .of = form->of,
                           .digits = form->digits,
                           .ratio = form->ratio,
                           .more = form->more,
                           .bars = form->bars,
                           .minutes = form->minutes,
                           .alone_minutes = form->alone_minutes};
    return out;
}

static void tell_measure(sw_bench_job *job, const sw_proof *form) {
    sw_told_proof *out = start(job, form);
    const sw_measure *measure = &job->setup->fitouts->catalog->measures[form->measure];
    sw_interval now = job->now.values[form->measure], then = job->then.values[form->measure];
    out->unit = sw_bench_copy(job, measure->unit);
    out->digits = measure->digits;
    out->has_today = now.state == SW_KNOWN;
    out->today = now.mid;
    out->as_made = then.mid;
    if (then.state == SW_KNOWN)
        set_band(out, job, form, then);
}

/* A check of each use: the promise is without luck, what the shop learns from is with it. */
static void tell_rates(sw_bench_job *job, const sw_proof *form, const sw_answer_rate *promised,
                       const sw_answer_rate *made, size_t count) {
    for (size_t u = 0; u < count; u++) {
        const sw_answer_rate *rate = &promised[u];
        if (rate->rate_now <= 0)
            continue;
        sw_told_proof *out = start(job, form);
        out->use = rate->use;
        out->use_name = rate->use_name;
        out->unit = rate->unit;
        out->digits = rate->rate_then < 10 ? 1 : 0;
        out->has_today = true;
        out->today = rate->rate_now;
        out->as_made = made[u].rate_then;
        out->as_today = rate->low == 1 && rate->ratio == 1 && rate->high == 1;
        set_band(out, job, form,
                 (sw_interval){.state = SW_KNOWN,
                               .low = rate->rate_low,
                               .mid = rate->rate_then,
                               .high = rate->rate_high});
    }
}

static void tell_edge(sw_bench_job *job, const sw_proof *form) {
    sw_told_proof *out = start(job, form);
    sw_interval edge = sw_measured(&job->then, form->edge);
    out->has_band = edge.state == SW_KNOWN;
    out->low = form->of == SW_PROOF_LEAST ? edge.high : -INFINITY;
    out->high = form->of == SW_PROOF_MOST ? edge.low : INFINITY;
}

sw_status sw_bench_tell_proofs(sw_bench_job *job) {
    const sw_fitouts *fitouts = job->setup->fitouts;
    const sw_bench_form *form = job->work.form;
    sw_answer_rate *promised = NULL, *made = NULL;
    size_t promised_count = 0, made_count = 0;
    sw_status status =
        sw_rates_describe(&promised, &promised_count, job->arena, job->setup->estimates, job->sure);
    if (status == SW_OK)
        status =
            sw_rates_describe(&made, &made_count, job->arena, job->setup->estimates, job->machine);
    if (status == SW_OK && made_count != promised_count)
        status = SW_INTERNAL;
    job->bench->proofs =
        SW_NEW(job->arena, sw_told_proof, form->proof_count * (promised_count + 1));
    if (status == SW_OK && job->bench->proofs == NULL)
        status = SW_NO_MEMORY;
    for (size_t i = 0; i < form->proof_count && status == SW_OK && job->work.changes; i++) {
        const sw_proof *proof = &form->proofs[i];
        if (!sw_work_any(fitouts, job->machine, proof->any, proof->any_count))
            continue;
        if (proof->of == SW_PROOF_MEASURE)
            tell_measure(job, proof);
        else if (proof->of == SW_PROOF_RATES)
            tell_rates(job, proof, promised, made, promised_count);
        else if (proof->of == SW_PROOF_DONE)
            start(job, proof);
        else
            tell_edge(job, proof);
    }
    return status;
}
