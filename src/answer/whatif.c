/*
 * Solves the job as it is, then each changed one, starting from the bundles found before. Where
 * only the budget changes the program stays: it is asked for its best at another limit.
 */
#include "answer/whatif.h"

#include <string.h>

#include "answer/best.h"
#include "answer/buying.h"

typedef struct asking {
    sw_whatif *out;
    const sw_scenario *scenario;
    const sw_setting *settings;
    size_t setting_count;
    size_t swept; /* of the settings; `setting_count`: none */
    sw_best now;
    bool allow_unknown;
    sw_allowance allowance;
    sw_complaints *complaints;
} asking;

/* ---- how the bundle of now stands ------------------------------------------------------------ */

static const char *name_of(const sw_program *program, int broken) {
    switch (broken) {
    case SW_OVER_TIME:
        return "the bench time";
    case SW_OVER_LOUD:
        return "the loudness";
    case SW_RUNS_OTHERWISE:
        return NULL;
    default:
        return program->book->rules[broken].name;
    }
}

static bool is_same(const sw_fitouts *fitouts, const int *machine, const sw_program *program,
                    const int *picks) {
    for (size_t g = 0; g < program->group_count; g++)
        if (strcmp(fitouts->fitouts[machine[g]].key,
                   program->fitouts->fitouts[program->picks[picks[g]].fitout].key) != 0)
            return false;
    return true;
}

static bool all_allowed(const sw_fitouts *fitouts, const int *machine, size_t count) {
    for (size_t g = 0; g < count; g++)
        if (!fitouts->fitouts[machine[g]].allowed)
            return false;
    return true;
}

/* `machine`: fit-outs of the changed job, all there. */
static sw_status judge(sw_whatif_case *one, asking *a, const sw_best *job, const int *machine,
                       int64_t budget) {
    const sw_program *program = job->setup.program;
    sw_purchase bought;
    sw_tally tally;
    int broken = SW_NONE;
    sw_status status = sw_buy(&bought, program, machine, program->minutes_limit, &a->allowance);
    if (status == SW_OK && !bought.found)
        status = sw_buy(&bought, program, machine, -1, &a->allowance);
    if (status != SW_OK || bought.early)
        return status;
    if (!bought.found) {
        one->stands = SW_STILL_GONE;
        return SW_OK;
    }
    one->stands = SW_STILL_REFUSED;
    int *picks = SW_NEW(program->arena, int, program->group_count);
    if (picks == NULL)
        return SW_NO_MEMORY;
    if (!all_allowed(program->fitouts, machine, program->group_count)) {
        one->in_the_way = "a must, a wish or a string";
        return SW_OK;
    }
    if (!sw_picks_of(picks, program, bought.choices))
        return SW_OK;
    status = sw_program_check(&tally, &broken, program, picks);
    if (status != SW_OK)
        return status;
    if (broken != SW_NONE) {
        const char *name = name_of(program, broken);
        one->in_the_way = name == NULL ? NULL : sw_arena_copy(a->out->arena, name);
        return name != NULL && one->in_the_way == NULL ? SW_NO_MEMORY : SW_OK;
    }
    one->has_points = program->scored;
    one->points = tally.points;
    one->cost = bought.total;
    one->stands = bought.total > budget ? SW_STILL_DEAR : SW_STILL_BEATEN;
    return SW_OK;
}

static sw_status stand(sw_whatif_case *one, asking *a, const sw_best *job, const sw_solution *best,
                       int64_t budget) {
    one->stands = SW_STILL_OPEN;
    if (!a->now.best.found || (!job->baseline.found && job->end == SW_END_EARLY))
        return SW_OK;
    int *machine = sw_machine_in(job->setup.fitouts, a->now.setup.program, a->now.best.picks);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < job->setup.program->group_count; g++)
        if (machine[g] == SW_NONE) {
            one->stands = SW_STILL_GONE;
            return SW_OK;
        }
    sw_status status = judge(one, a, job, machine, budget);
    if (status == SW_OK && one->stands == SW_STILL_BEATEN && best->found &&
        is_same(job->setup.fitouts, machine, job->setup.program, best->picks))
        one->stands = SW_STILL_BEST;
    return status;
}

/* ---- one case ----------------------------------------------------------------------------------
 */

/* Do all changes concern the budget alone? */
static bool budget_alone(const asking *a) {
    for (size_t i = 0; i < a->setting_count; i++)
        if (strncmp(a->settings[i].path, "budget.", 7) != 0)
            return false;
    return true;
}

static sw_status tell(sw_whatif_case *one, asking *a, const sw_best *job,
                      const sw_scenario *scenario, const sw_solution *best) {
    sw_status status = sw_best_tell(&one->answer, job, scenario, best);
    if (status == SW_OK)
        status = stand(one, a, job, best, sw_scenario_budget(scenario));
    if (status == SW_OK && one->answer->status == SW_STOPPED_EARLY)
        one->answer->asked_to_stop =
            a->allowance.halt != NULL && a->allowance.halt(a->allowance.context);
    return status;
}

static sw_status solve_anew(sw_whatif_case *one, asking *a, const sw_scenario *scenario) {
    sw_best job;
    sw_status status = sw_best_find(&job, scenario, a->allow_unknown || scenario->allow_unknown,
                                    &a->now, a->allowance, a->complaints);
    if (status != SW_OK)
        return status;
    status = tell(one, a, &job, scenario, &job.best);
    sw_best_free(&job);
    return status;
}

static sw_status solve_at(sw_whatif_case *one, asking *a, const sw_scenario *scenario) {
    sw_solution best;
    sw_status status =
        sw_best_at(&best, &a->now, sw_scenario_budget(scenario), a->allowance, a->complaints);
    return status == SW_OK ? tell(one, a, &a->now, scenario, &best) : status;
}

/* The baseline of now is the one of the changed job too while it can be paid. */
static bool may_stay(const asking *a, const sw_scenario *scenario) {
    const sw_program *program = a->now.setup.program;
    return budget_alone(a) && a->now.end == SW_END_PROVED && a->now.baseline.found &&
           sw_total(program, &a->now.baseline.tally) <= sw_scenario_budget(scenario);
}

static sw_status leave_open(sw_whatif_case *one, asking *a) {
    sw_status status = sw_answer_start(&one->answer, a->scenario);
    if (status != SW_OK)
        return status;
    one->answer->status = SW_STOPPED_EARLY;
    one->answer->bound = INT64_MAX;
    one->stands = SW_STILL_OPEN;
    return SW_OK;
}

static sw_status solve_case(asking *a, size_t value) {
    sw_whatif *out = a->out;
    sw_whatif_case *one = &out->cases[out->case_count];
    sw_change *changes = SW_NEW(out->arena, sw_change, a->setting_count);
    sw_scenario *scenario = NULL;
    if (changes == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < a->setting_count; i++)
        changes[i] =
            (sw_change){a->settings[i].path, a->settings[i].values[i == a->swept ? value : 0]};
    if (a->swept < a->setting_count) {
        one->value = sw_arena_copy(out->arena, a->settings[a->swept].values[value]);
        if (one->value == NULL)
            return SW_NO_MEMORY;
    }
    /* The first is always looked at, so that a change that is wrong is told. */
    bool late = value > 0 && sw_time_is_up(&a->allowance);
    sw_status status =
        late ? leave_open(one, a)
             : sw_scenario_change(&scenario, a->scenario, changes, a->setting_count, a->complaints);
    if (status == SW_OK && !late)
        status = may_stay(a, scenario) ? solve_at(one, a, scenario) : solve_anew(one, a, scenario);
    out->case_count += one->answer != NULL;
    sw_scenario_free(scenario);
    return status;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static sw_status take_settings(asking *a) {
    sw_whatif *out = a->out;
    size_t values = 1;
    a->swept = a->setting_count;
    out->changes = SW_NEW(out->arena, sw_whatif_change, a->setting_count);
    if (out->changes == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < a->setting_count; i++) {
        const sw_setting *setting = &a->settings[i];
        bool many = setting->count > 1;
        if (many && a->swept < a->setting_count) {
            sw_complain(a->complaints, "--set", setting->path,
                        "a sweep changes one thing, so that it can be told what did it",
                        "give one value to all but one", "is the second with many values");
            return SW_BAD_DATA;
        }
        sw_whatif_change *to = many ? &out->swept : &out->changes[out->change_count++];
        sw_status status = sw_change_tell(to, out->arena, a->scenario, setting->path,
                                          many ? NULL : setting->values[0]);
        if (status != SW_OK)
            return status;
        if (many) {
            a->swept = i;
            values = setting->count;
        }
    }
    out->cases = SW_NEW(out->arena, sw_whatif_case, values);
    return out->cases == NULL ? SW_NO_MEMORY : SW_OK;
}

static sw_status find(asking *a) {
    sw_status status = take_settings(a);
    if (status == SW_OK)
        status = sw_best_find(&a->now, a->scenario, a->allow_unknown || a->scenario->allow_unknown,
                              NULL, a->allowance, a->complaints);
    if (status == SW_OK)
        status = sw_best_tell(&a->out->present, &a->now, a->scenario, &a->now.best);
    size_t values = a->swept < a->setting_count ? a->settings[a->swept].count : 1;
    for (size_t v = 0; v < values && status == SW_OK; v++)
        status = solve_case(a, v);
    return status;
}

sw_status sw_find_whatif(sw_whatif **out, const sw_scenario *scenario, const sw_setting *settings,
                         size_t count, bool allow_unknown, sw_allowance allowance,
                         sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    asking a = {.scenario = scenario,
                .settings = settings,
                .setting_count = count,
                .allow_unknown = allow_unknown,
                .allowance = allowance,
                .complaints = complaints};
    a.out = arena == NULL ? NULL : SW_NEW(arena, sw_whatif, 1);
    if (a.out == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    a.out->arena = arena;
    sw_status status = find(&a);
    sw_best_free(&a.now);
    if (status == SW_OK)
        *out = a.out;
    else
        sw_whatif_free(a.out);
    return status;
}

void sw_whatif_free(sw_whatif *whatif) {
    if (whatif == NULL)
        return;
    sw_answer_free(whatif->present);
    for (size_t i = 0; i < whatif->case_count; i++)
        sw_answer_free(whatif->cases[i].answer);
    sw_arena_free(whatif->arena);
}

/* One case: its status. Many: nothing fits only where nothing fits in any. */
sw_answer_status sw_whatif_get_status(const sw_whatif *whatif) {
    sw_answer_status all =
        whatif->present->status == SW_STOPPED_EARLY ? SW_STOPPED_EARLY : SW_OPTIMAL;
    size_t none = 0;
    for (size_t i = 0; i < whatif->case_count; i++) {
        sw_answer_status status = whatif->cases[i].answer->status;
        none += status == SW_NOTHING_FITS;
        if (status == SW_STOPPED_EARLY)
            all = SW_STOPPED_EARLY;
    }
    return all == SW_OPTIMAL && none == whatif->case_count ? SW_NOTHING_FITS : all;
}
