/* From the job to the plan in phases, and the plan told phase by phase. */
#include "answer/phases.h"

#include <string.h>

#include "answer/best.h"
#include "answer/buying.h"
#include "answer/phasing.h"

typedef struct telling {
    sw_phases *out;
    const sw_markets *markets;
    const sw_phasing *phasing;
    const int *baseline; /* [role] fit-outs of the first phase */
    int *choices;        /* [role] as bought so far, of the phase at hand */
    int *picks, *base;
} telling;

static size_t roles_of(const sw_markets *m) { return m->there[0]->setup.program->group_count; }

/* ---- telling --------------------------------------------------------------------------------- */

/* Picks of the baseline in this phase's program; NULL where it is not there. */
static const int *base_in(const telling *t, size_t phase) {
    const sw_setup *setup = &t->markets->there[phase]->setup;
    int *choices = setup->program->scratch_choices;
    for (size_t r = 0; r < roles_of(t->markets); r++) {
        int fitout = sw_market_fitout(t->markets, 0, phase, t->baseline[r]);
        if (fitout == SW_NONE || setup->fitouts->fitouts[fitout].choice_count == 0)
            return NULL;
        choices[r] = setup->fitouts->fitouts[fitout].first_choice;
    }
    return sw_picks_of(t->base, setup->program, choices) ? t->base : NULL;
}

static sw_status describe(sw_answer_bundle *out, telling *t, size_t phase, const int *choices) {
    const sw_setup *setup = &t->markets->there[phase]->setup;
    sw_status status = sw_program_hold(setup->program, NULL);
    if (status == SW_OK && !sw_picks_of(t->picks, setup->program, choices))
        status = SW_INTERNAL;
    if (status != SW_OK)
        return status;
    const int *base = base_in(t, phase);
    return sw_bundle_describe(out, t->out->answer, setup->program, t->picks, base);
}

/* Moves the choices made so far on to this phase, and puts in what is bought in it. */
static void choose(telling *t, size_t phase) {
    const sw_fitouts *there = t->markets->there[phase]->setup.fitouts;
    const sw_fitouts *shop = t->markets->shop[phase]->setup.fitouts;
    const sw_phased *plan = &t->phasing->best;
    for (size_t r = 0; r < roles_of(t->markets); r++) {
        int now = plan->machine[phase][r];
        int was = phase == 0
                      ? there->present[r]
                      : sw_market_fitout(t->markets, phase - 1, phase, plan->machine[phase - 1][r]);
        const char *seller = "";
        if (now != was)
            seller = shop->choices[plan->choices[phase][r]].seller_key;
        else if (phase > 0)
            seller = t->markets->there[phase - 1]->setup.fitouts->choices[t->choices[r]].seller_key;
        t->choices[r] = sw_choice_like(there, now, seller);
    }
}

static sw_status tell_roles(telling *t, sw_phase_told *told, size_t phase) {
    const sw_fitouts *there = t->markets->there[phase]->setup.fitouts;
    const sw_fitouts *shop = t->markets->shop[phase]->setup.fitouts;
    const sw_phased *plan = &t->phasing->best;
    told->roles = SW_NEW(t->out->answer->arena, const char *, roles_of(t->markets));
    if (told->roles == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < roles_of(t->markets); r++) {
        int was = phase == 0
                      ? there->present[r]
                      : sw_market_fitout(t->markets, phase - 1, phase, plan->machine[phase - 1][r]);
        if (was == plan->machine[phase][r])
            continue;
        const char *id = sw_arena_copy(t->out->answer->arena, there->catalog->roles[r].id);
        if (id == NULL)
            return SW_NO_MEMORY;
        told->roles[told->role_count++] = id;
        told->here_in = sw_days_of(shop, &shop->choices[plan->choices[phase][r]], told->here_in);
    }
    return SW_OK;
}

static sw_status tell_phase(telling *t, size_t phase, int64_t *spent) {
    const sw_phase *of = &t->markets->scenario->phases[phase];
    sw_phase_told *told = &t->out->phases[t->out->phase_count++];
    sw_arena *arena = t->out->answer->arena;
    *told = (sw_phase_told){.on = sw_arena_copy(arena, of->on),
                            .until = sw_arena_copy(arena, of->until),
                            .days = of->days,
                            .money = t->markets->money[phase],
                            .cost = t->phasing->best.cost[phase]};
    if (told->on == NULL || told->until == NULL)
        return SW_NO_MEMORY;
    told->spent = *spent += told->cost;
    sw_status status = tell_roles(t, told, phase);
    choose(t, phase);
    return status == SW_OK ? describe(&told->stage, t, phase, t->choices) : status;
}

static sw_status tell_greedy(telling *t) {
    const sw_phasing *p = t->phasing;
    const sw_fitouts *there = t->markets->there[0]->setup.fitouts;
    if (!p->have_greedy)
        return SW_OK;
    t->out->greedy = SW_NEW(t->out->answer->arena, sw_answer_bundle, 1);
    if (t->out->greedy == NULL)
        return SW_NO_MEMORY;
    sw_purchase bought;
    const sw_program *program = t->markets->there[0]->setup.program;
    sw_status status = sw_program_hold(t->markets->there[0]->setup.program, NULL);
    if (status == SW_OK)
        status = sw_buy(&bought, program, p->greedy, p->minutes_limit, &p->allowance);
    if (status != SW_OK)
        return status;
    for (size_t r = 0; r < roles_of(t->markets); r++)
        t->choices[r] =
            bought.found ? bought.choices[r] : there->fitouts[p->greedy[r]].first_choice;
    t->out->greedy_too =
        p->have && memcmp(p->greedy, p->best.machine[0], roles_of(t->markets) * sizeof(int)) == 0;
    t->out->greedy_value = p->greedy_value;
    return describe(t->out->greedy, t, 0, t->choices);
}

static sw_status tell(sw_phases *out, const sw_phasing *phasing, const int *baseline) {
    sw_arena *arena = phasing->arena;
    const sw_markets *m = phasing->markets;
    telling t = {.out = out,
                 .markets = m,
                 .phasing = phasing,
                 .baseline = baseline,
                 .choices = SW_NEW(arena, int, roles_of(m)),
                 .picks = SW_NEW(arena, int, roles_of(m)),
                 .base = SW_NEW(arena, int, roles_of(m))};
    out->phases = SW_NEW(out->answer->arena, sw_phase_told, m->count);
    if (t.choices == NULL || t.picks == NULL || t.base == NULL || out->phases == NULL)
        return SW_NO_MEMORY;
    sw_status status = tell_greedy(&t);
    out->value = phasing->best.value;
    int64_t spent = 0;
    for (size_t k = 0; k < m->count && status == SW_OK && phasing->have; k++)
        status = tell_phase(&t, k, &spent);
    return status;
}

/* ---- the whole ------------------------------------------------------------------------------- */

static int64_t untouched_of(const sw_markets *m) {
    const sw_program *program = m->there[0]->setup.program;
    sw_tally tally;
    for (size_t r = 0; r < program->group_count; r++)
        program->scratch_choices[r] =
            program->fitouts->fitouts[program->fitouts->present[r]].first_choice;
    sw_bill(&tally, program, program->scratch_choices);
    return sw_total(program, &tally);
}

static sw_status plan(sw_phases *out, sw_markets *m, sw_allowance allowance,
                      sw_complaints *complaints) {
    sw_program *program = m->there[0]->setup.program;
    sw_phasing phasing = {.markets = m,
                          .arena = m->arena,
                          .allowance = allowance,
                          .complaints = complaints,
                          .minutes_limit = m->scenario->minutes_limit,
                          .untouched = untouched_of(m)};
    sw_solution baseline;
    sw_request request = sw_request_for(program, SW_AIM_CHEAPEST);
    request.limit = sw_bill_limit(m->scenario, m->money[0] + phasing.untouched);
    sw_status status = sw_solve(&baseline, program, &request, allowance, complaints);
    if (status != SW_OK)
        return status;
    out->bound = INT64_MAX;
    out->answer->status = baseline.end == SW_END_EARLY ? SW_STOPPED_EARLY : SW_NOTHING_FITS;
    if (!baseline.found || baseline.end == SW_END_EARLY)
        return SW_OK;
    int *machine = SW_NEW(m->arena, int, roles_of(m));
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < roles_of(m); r++)
        machine[r] = program->picks[baseline.picks[r]].fitout;
    status = sw_markets_score(m, machine);
    if (status == SW_OK)
        status = sw_phasing_run(&phasing);
    if (status != SW_OK)
        return status;
    out->answer->status = phasing.early  ? SW_STOPPED_EARLY
                          : phasing.have ? SW_OPTIMAL
                                         : SW_NOTHING_FITS;
    out->bound = phasing.open > phasing.best.value ? phasing.open : phasing.best.value;
    if (!phasing.have)
        out->bound = INT64_MAX;
    const sw_estimates *estimates = m->there[0]->setup.estimates;
    out->answer->has_sound = estimates->quiet != SW_NONE;
    sw_sound sound = sw_sound_of(estimates, m->there[0]->setup.fitouts->present);
    out->answer->level_now_dba = sound.level_dba;
    out->answer->loudness_now_sone = sound.loudness_sone;
    return tell(out, &phasing, machine);
}

static sw_status complain(const sw_scenario *scenario, sw_complaints *complaints) {
    sw_complain(complaints, scenario->file, "$",
                "without sums and their days nothing can be planned",
                "add \"phases\": {\"until\": \"2027-03-02\", \"sums\": [{\"on\": \"2026-03-02\", "
                "\"sum\": \"300.00\"}]}",
                "has no \"phases\"");
    return SW_BAD_DATA;
}

sw_status sw_find_phases(sw_phases **out, const sw_scenario *scenario, bool allow_unknown,
                         sw_allowance allowance, sw_complaints *complaints) {
    sw_answer *answer = NULL;
    sw_markets markets = {0};
    if (scenario->phase_count == 0)
        return complain(scenario, complaints);
    sw_status status = sw_markets_make(&markets, scenario, allow_unknown, complaints);
    if (status != SW_OK)
        return status;
    status = sw_answer_start(&answer, scenario);
    sw_phases *phases = status == SW_OK ? SW_NEW(answer->arena, sw_phases, 1) : NULL;
    if (status == SW_OK && phases == NULL)
        status = SW_NO_MEMORY;
    if (status == SW_OK) {
        phases->answer = answer;
        phases->greedy_value = -1;
        answer->budget = markets.money[markets.count - 1];
        answer->budget_total = answer->budget + answer->reserve + answer->sundries;
        status = plan(phases, &markets, allowance, complaints);
    }
    sw_markets_free(&markets);
    if (status == SW_OK)
        *out = phases;
    else
        sw_answer_free(answer);
    return status;
}

void sw_phases_free(sw_phases *phases) {
    if (phases != NULL)
        sw_answer_free(phases->answer);
}

sw_answer_status sw_phases_get_status(const sw_phases *phases) { return phases->answer->status; }
