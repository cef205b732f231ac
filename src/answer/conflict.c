/*
 * A conflict by halving (Junker, QuickXplain, AAAI 2004): of the clauses in doubt one
 * half is held while the other is searched for what is needed beside it. Of n clauses
 * with a conflict of k it takes some k log(n / k) questions.
 */
#include "answer/conflict.h"

#include <stdlib.h>
#include <string.h>

sw_status sw_quarrel_ask(bool *obeys, sw_quarrel *q, const bool *dropped) {
    sw_arena *scratch = sw_arena_new();
    sw_setup setup = {0};
    sw_solution found = {0};
    int64_t limit = 0;
    sw_status status = scratch == NULL ? SW_NO_MEMORY
                                       : sw_clauses_setup(&setup, &limit, &q->clauses, dropped,
                                                          scratch, q->complaints);
    if (status == SW_OK) {
        sw_request request = sw_request_for(setup.program, SW_AIM_CHEAPEST);
        request.limit = limit;
        request.any = true;
        if (q->part != NULL) {
            request.barred = sw_bar_holders(setup.program, q->role, q->part, false);
            status = request.barred == NULL ? SW_NO_MEMORY : SW_OK;
        }
        if (status == SW_OK)
            status = sw_solve(&found, setup.program, &request, q->allowance, q->complaints);
    }
    *obeys = found.found;
    q->early = q->early || (status == SW_OK && !found.found && found.end == SW_END_EARLY);
    sw_setup_free(&setup);
    sw_arena_free(scratch);
    return status;
}

/* The clauses in doubt, in order, and those held for the moment. */
typedef struct halving {
    sw_quarrel *quarrel;
    const size_t *doubt;
    bool *held; /* [clause] */
    bool *in;   /* [clause] the conflict */
    bool *drop; /* [clause] scratch */
} halving;

static sw_status holds(bool *obeys, halving *h) {
    for (size_t i = 0; i < h->quarrel->clauses.count; i++)
        h->drop[i] = !h->held[i];
    return sw_quarrel_ask(obeys, h->quarrel, h->drop);
}

static void hold(halving *h, size_t from, size_t to, bool held) {
    for (size_t i = from; i < to; i++)
        h->held[h->doubt[i]] = held;
}

/* Finds what of the clauses `from` to `to` is needed beside those held, which were just added
 * to when `added`. The depth is the logarithm of their number. */
static sw_status halve(halving *h, size_t from, size_t to, bool added) {
    bool obeys = true;
    sw_status status = added ? holds(&obeys, h) : SW_OK;
    if (status != SW_OK || !obeys || h->quarrel->early)
        return status;
    if (to - from == 1) {
        h->in[h->doubt[from]] = true;
        return SW_OK;
    }
    size_t middle = from + (to - from) / 2;
    hold(h, from, middle, true);
    status = halve(h, middle, to, true);
    hold(h, from, middle, false);
    bool any = false;
    for (size_t i = middle; i < to; i++) {
        h->held[h->doubt[i]] = h->in[h->doubt[i]];
        any = any || h->in[h->doubt[i]];
    }
    if (status == SW_OK && !h->quarrel->early)
        status = halve(h, from, middle, any);
    hold(h, middle, to, false);
    return status;
}

sw_status sw_quarrel_conflict(bool *in, sw_quarrel *quarrel, const bool *dropped) {
    size_t count = quarrel->clauses.count, doubted = 0;
    size_t *doubt = calloc(count + 1, sizeof *doubt);
    bool *held = calloc(count + 1, sizeof *held), *drop = calloc(count + 1, sizeof *drop);
    memset(in, 0, count * sizeof *in);
    for (size_t i = 0; doubt != NULL && i < count; i++)
        if (!dropped[i])
            doubt[doubted++] = i;
    halving h = {quarrel, doubt, held, in, drop};
    sw_status status = doubt == NULL || held == NULL || drop == NULL ? SW_NO_MEMORY : SW_OK;
    bool obeys = true;
    /* With everything dropped something may still not obey: then there is no conflict. */
    if (status == SW_OK)
        status = holds(&obeys, &h);
    if (status == SW_OK && obeys && doubted > 0 && !quarrel->early)
        status = halve(&h, 0, doubted, false);
    free(doubt);
    free(held);
    free(drop);
    return status;
}

static sw_status tell_conflict(sw_answer_conflict *out, sw_arena *arena, sw_quarrel *quarrel,
                               const bool *in) {
    sw_status status = SW_OK;
    *out = (sw_answer_conflict){.settled = !quarrel->early};
    out->clauses = SW_NEW(arena, sw_answer_clause, quarrel->clauses.count);
    if (out->clauses == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < quarrel->clauses.count && out->settled && status == SW_OK; i++)
        if (in[i])
            status =
                sw_clause_tell(&out->clauses[out->clause_count++], arena, &quarrel->clauses, i);
    return status;
}

sw_status sw_find_refusal(sw_answer_conflict *out, sw_arena *arena, const sw_why_job *job) {
    sw_quarrel quarrel = {.arena = arena,
                          .part = job->part,
                          .role = job->role,
                          .allowance = job->allowance,
                          .complaints = job->complaints};
    sw_status status = sw_clauses_make(&quarrel.clauses, arena, job->scenario, job->allow_unknown);
    size_t count = status == SW_OK ? quarrel.clauses.count : 0;
    bool *in = SW_NEW(arena, bool, count), *dropped = SW_NEW(arena, bool, count);
    if (status == SW_OK && (in == NULL || dropped == NULL))
        status = SW_NO_MEMORY;
    for (size_t i = 0; status == SW_OK && i < count; i++)
        dropped[i] = quarrel.clauses.list[i].kind == SW_CLAUSE_BUDGET;
    if (status == SW_OK)
        status = sw_quarrel_conflict(in, &quarrel, dropped);
    return status == SW_OK ? tell_conflict(out, arena, &quarrel, in) : status;
}

sw_status sw_find_conflict(sw_answer *answer, const sw_scenario *scenario, bool allow_unknown,
                           sw_allowance allowance, sw_complaints *complaints) {
    sw_arena *arena = answer->arena;
    sw_quarrel quarrel = {
        .arena = arena, .role = SW_NONE, .allowance = allowance, .complaints = complaints};
    sw_status status = sw_clauses_make(&quarrel.clauses, arena, scenario, allow_unknown);
    size_t count = status == SW_OK ? quarrel.clauses.count : 0;
    bool *in = SW_NEW(arena, bool, count), *dropped = SW_NEW(arena, bool, count);
    if (status == SW_OK && (in == NULL || dropped == NULL))
        status = SW_NO_MEMORY;
    if (status == SW_OK)
        status = sw_quarrel_conflict(in, &quarrel, dropped);
    if (status == SW_OK)
        status = tell_conflict(&answer->conflict, arena, &quarrel, in);
    if (status == SW_OK && answer->conflict.settled)
        status = sw_find_mends(answer, &quarrel, in);
    answer->unsettled = answer->unsettled || quarrel.early;
    return status;
}
