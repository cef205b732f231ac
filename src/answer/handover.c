/* Promised against measured: each value held against what was foretold of it. */
#include "answer/handover.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct handing {
    sw_handover *out;
    const sw_scenario *scenario;
    const sw_measurements *measured;
    sw_complaints *complaints;
    sw_arena *arena;
    bool failed, bad;
} handing;

static const char *copy(handing *h, const char *text) {
    const char *out = text == NULL ? NULL : sw_arena_copy(h->arena, text);
    h->failed = h->failed || (text != NULL && out == NULL);
    return out;
}

/* ---- which check a value is of ------------------------------------------------------------------
 */

static bool is_of(const sw_told_proof *proof, const sw_measurement *value) {
    if (strcmp(proof->id, value->check) != 0)
        return false;
    return proof->use == NULL ? value->use == NULL
                              : value->use != NULL && strcmp(proof->use, value->use) == 0;
}

static size_t proof_of(const handing *h, const sw_measurement *value) {
    const sw_bench *bench = h->out->bench;
    size_t at = 0;
    while (at < bench->proof_count && !is_of(&bench->proofs[at], value))
        at++;
    return at;
}

static void complain(handing *h, const sw_measurement *value, const char *why, const char *mend,
                     const char *what) {
    h->bad = true;
    sw_complain(h->complaints, h->measured->file, value->place, why, mend, "%s", what);
}

static void complain_unknown(handing *h, const sw_measurement *value) {
    const sw_bench *bench = h->out->bench;
    bool known = false, by_use = false;
    for (size_t i = 0; i < bench->proof_count; i++)
        if (strcmp(bench->proofs[i].id, value->check) == 0) {
            known = true;
            by_use = bench->proofs[i].use != NULL;
        }
    const char *about =
        !known ? sw_arena_format(h->arena, "is about the check \"%s\", which this job has not",
                                 value->check)
        : value->use == NULL
            ? sw_arena_format(h->arena, "does not say of which use \"%s\" is", value->check)
            : sw_arena_format(h->arena, "is about \"%s\" of the use \"%s\", which is not measured",
                              value->check, value->use);
    complain(h, value, "what was measured is held against the checks of the work order",
             !known   ? "take one that `swapworth bench` lists for this option, or take it away"
             : by_use ? "name a use of the client's whose rate today is known"
                      : "take \"use\" away",
             about == NULL ? "is about no check of this job" : about);
}

/* The proof that the value fills in; `proof_count` after a complaint. */
static size_t find(handing *h, const sw_measurement *value) {
    const sw_bench *bench = h->out->bench;
    size_t at = proof_of(h, value);
    if (at == bench->proof_count) {
        complain_unknown(h, value);
        return at;
    }
    bool done = bench->proofs[at].of == SW_PROOF_DONE;
    if (done == value->says_done && (value->value >= 0 || bench->proofs[at].of == SW_PROOF_MEASURE))
        return at;
    if (done == value->says_done) {
        complain(h, value, "this check counts from 0 up",
                 "write how much it is, or how far it is off, without a sign", "is below 0");
        return bench->proof_count;
    }
    complain(h, value, done ? "this check is looked at, not measured" : "this check is measured",
             done ? "write \"done\": true or false"
                  : "write \"value\" with the number that was read",
             done ? "gives a value" : "says that it was done");
    return bench->proof_count;
}

/* ---- outcomes
 * -------------------------------------------------------------------------------------- */

static sw_outcome outcome_of(const sw_told_proof *proof, const sw_told_result *result) {
    double value = result->value;
    if (!result->measured)
        return SW_NOT_MEASURED;
    if (proof->of == SW_PROOF_DONE)
        return value > 0 ? SW_AS_FORETOLD : SW_FAILS;
    if (!proof->has_band)
        return SW_NOT_FORETOLD;
    bool low = value<proof->low, high = value> proof->high;
    if (!low && !high)
        return SW_AS_FORETOLD;
    if (proof->of == SW_PROOF_MOST || proof->of == SW_PROOF_LEAST)
        return SW_FAILS;
    return high == proof->more ? SW_BETTER : SW_WORSE;
}

/* The promise is the option's own, whatever the shop has learnt since and whatever was left out. */
static bool is_below_promise(const handing *h, const sw_told_proof *proof, double value) {
    const sw_option *option = h->out->bench->option;
    for (size_t i = 0; i < option->promised_count; i++)
        if (proof->of == SW_PROOF_RATES && strcmp(option->promised[i].use, proof->use) == 0)
            return value < option->promised[i].rate_low;
    return false;
}

static sw_status hold_results(handing *h) {
    sw_bench *bench = h->out->bench;
    sw_told_result *results = SW_NEW(h->arena, sw_told_result, bench->proof_count);
    const char **again = SW_NEW(h->arena, const char *, bench->proof_count);
    if (results == NULL || again == NULL)
        return SW_NO_MEMORY;
    h->out->results = results;
    h->out->look_again = again;
    for (size_t i = 0; i < h->measured->before_count; i++) {
        const sw_measurement *value = &h->measured->before[i];
        size_t at = find(h, value);
        if (at == bench->proof_count)
            continue;
        results[at].has_before = true;
        results[at].before = value->says_done ? value->done : value->value;
    }
    for (size_t i = 0; i < h->measured->after_count; i++) {
        const sw_measurement *value = &h->measured->after[i];
        size_t at = find(h, value);
        if (at == bench->proof_count)
            continue;
        results[at].measured = true;
        results[at].value = value->says_done ? value->done : value->value;
    }
    for (size_t i = 0; i < bench->proof_count; i++) {
        const sw_told_proof *proof = &bench->proofs[i];
        results[i].outcome = outcome_of(proof, &results[i]);
        results[i].below_promise =
            results[i].measured && is_below_promise(h, proof, results[i].value);
        if (results[i].below_promise)
            again[h->out->look_again_count++] = proof->use_name;
    }
    return SW_OK;
}

/* ---- what the shop learns
 * ----------------------------------------------------------------------------- */

static sw_status make_record(handing *h) {
    const sw_bench *bench = h->out->bench;
    sw_pair *pairs = SW_NEW(h->arena, sw_pair, bench->proof_count);
    size_t count = 0;
    if (pairs == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < bench->proof_count; i++) {
        const sw_told_proof *proof = &bench->proofs[i];
        const sw_told_result *result = &h->out->results[i];
        bool foretold = proof->of == SW_PROOF_MEASURE || proof->of == SW_PROOF_RATES;
        if (!foretold || !result->measured || !proof->has_band || proof->as_today ||
            (proof->ratio && (proof->as_made <= 0 || result->value <= 0)))
            continue;
        pairs[count++] = (sw_pair){.check = proof->id,
                                   .use = proof->use,
                                   .foretold = proof->as_made,
                                   .measured = result->value};
    }
    h->out->record =
        (sw_past_job){.id = h->out->job, .date = h->out->date, .pairs = pairs, .pair_count = count};
    return SW_OK;
}

/* ---- warranty
 * -------------------------------------------------------------------------------------------- */

static const char *day_text(handing *h, int64_t day) {
    const char *out = sw_date_text(h->arena, day);
    h->failed = h->failed || out == NULL;
    return out;
}

static void tell_cover(handing *h, const sw_answer_swap *swap, const sw_answer_part *part) {
    sw_told_cover *out = &h->out->covers[h->out->cover_count++];
    bool dated = h->scenario->day >= 0;
    int64_t here = h->scenario->day + part->days;
    *out = (sw_told_cover){.role_name = swap->role_name,
                           .part = part->id,
                           .name = part->name,
                           .seller_name = part->seller_name,
                           .count = part->count,
                           .warranty_months = part->warranty_months,
                           .return_days = part->return_days};
    if (!dated)
        return;
    out->here_on = day_text(h, here);
    if (part->warranty_months > 0)
        out->warranty_until = day_text(h, sw_months_after(here, part->warranty_months));
    if (part->return_days > 0)
        out->return_until = day_text(h, here + part->return_days);
}

static sw_status tell_covers(handing *h) {
    const sw_answer_bundle *bundle = &h->out->bench->option->bundle;
    size_t count = 0;
    for (size_t s = 0; s < bundle->swap_count; s++)
        count += bundle->swaps[s].in_count;
    h->out->covers = SW_NEW(h->arena, sw_told_cover, count);
    if (h->out->covers == NULL)
        return SW_NO_MEMORY;
    for (size_t s = 0; s < bundle->swap_count; s++)
        for (size_t i = 0; i < bundle->swaps[s].in_count; i++)
            tell_cover(h, &bundle->swaps[s], &bundle->swaps[s].in[i]);
    return SW_OK;
}

/* ---- the rest
 * ---------------------------------------------------------------------------------------------- */

static sw_status tell_rest(handing *h) {
    sw_handover *out = h->out;
    const sw_measurements *m = h->measured;
    out->job = copy(h, m->job);
    out->date = copy(h, m->date);
    if (m->day >= 0)
        out->call_on = day_text(h, m->day + out->bench->call_after_days);
    out->left_out = SW_NEW(h->arena, const char *, m->left_out_count);
    out->notes = SW_NEW(h->arena, const char *, m->note_count);
    if (out->left_out == NULL || out->notes == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < m->left_out_count; i++)
        out->left_out[out->left_out_count++] =
            copy(h, h->scenario->catalog->tasks[m->left_out_tasks[i]].name);
    for (size_t i = 0; i < m->note_count; i++)
        out->notes[out->note_count++] = copy(h, m->notes[i]);
    return SW_OK;
}

sw_status sw_find_handover(sw_handover **out, sw_bench *bench, const sw_scenario *scenario,
                           const sw_measurements *measured, sw_complaints *complaints) {
    handing h = {.scenario = scenario,
                 .measured = measured,
                 .complaints = complaints,
                 .arena = bench->options->plan->arena};
    h.out = SW_NEW(h.arena, sw_handover, 1);
    if (h.out == NULL)
        return SW_NO_MEMORY;
    h.out->bench = bench;
    sw_status status = tell_rest(&h);
    if (status == SW_OK && bench->option != NULL)
        status = hold_results(&h);
    if (status == SW_OK && bench->option != NULL)
        status = make_record(&h);
    if (status == SW_OK && bench->option != NULL)
        status = tell_covers(&h);
    if (status == SW_OK)
        status = h.failed ? SW_NO_MEMORY : h.bad ? SW_BAD_DATA : SW_OK;
    if (status == SW_OK)
        *out = h.out;
    return status;
}

void sw_handover_free(sw_handover *handover) {
    if (handover == NULL)
        return;
    sw_calibration_free(handover->past);
    sw_bench_free(handover->bench);
}

sw_answer_status sw_handover_get_status(const sw_handover *handover) {
    return sw_bench_get_status(handover->bench);
}

bool sw_handover_is_settled(const sw_handover *handover) {
    return sw_bench_is_settled(handover->bench);
}
