/* Solves one job for its best bundle, from the scenario to the picks. */
#include "answer/best.h"

#include <string.h>

int sw_fitout_with_key(const sw_fitouts *fitouts, int role, const char *key) {
    int low = fitouts->first_fitout[role], high = fitouts->first_fitout[role + 1] - 1;
    while (low <= high) {
        int middle = low + (high - low) / 2;
        int by = strcmp(fitouts->fitouts[middle].key, key);
        if (by == 0)
            return middle;
        if (by < 0)
            low = middle + 1;
        else
            high = middle - 1;
    }
    return SW_NONE;
}

/* The same parts without those tasks; SW_NONE when memory is out. */
static int without(const sw_fitouts *fitouts, sw_arena *arena, int fitout, const bool *tasks) {
    const sw_fitout *of = &fitouts->fitouts[fitout];
    const char *key = sw_arena_text(arena, of->key, strcspn(of->key, "\t"));
    bool any = false;
    for (int i = 0; i < of->task_count; i++)
        any = any || tasks[of->tasks[i]];
    if (!any)
        return fitout;
    for (int i = 0; i < of->task_count && key != NULL; i++)
        if (!tasks[of->tasks[i]])
            key = sw_arena_format(arena, "%s\t%s\n", key, fitouts->catalog->tasks[of->tasks[i]].id);
    return key == NULL ? SW_NONE : sw_fitout_with_key(fitouts, of->role, key);
}

sw_status sw_machine_without(int *out, const sw_fitouts *fitouts, sw_arena *arena,
                             const int *machine, const bool *tasks) {
    for (size_t r = 0; r < fitouts->catalog->role_count; r++) {
        out[r] = without(fitouts, arena, machine[r], tasks);
        if (out[r] == SW_NONE)
            return SW_INTERNAL;
    }
    return SW_OK;
}

int *sw_machine_in(const sw_fitouts *to, const sw_program *from, const int *picks) {
    int *machine = SW_NEW(to->arena, int, from->group_count);
    for (size_t g = 0; machine != NULL && g < from->group_count; g++)
        machine[g] = sw_fitout_with_key(to, from->groups[g].role,
                                        from->fitouts->fitouts[from->picks[picks[g]].fitout].key);
    return machine;
}

bool sw_picks_of(int *picks, const sw_program *program, const int *choices) {
    int *machine = program->scratch_machine;
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] = program->fitouts->choices[choices[g]].fitout;
    for (size_t g = 0; g < program->group_count; g++) {
        picks[g] = sw_pick_in(program, choices[g], machine);
        if (picks[g] == SW_NONE)
            return false;
    }
    return true;
}

int sw_choice_like(const sw_fitouts *fitouts, int fitout, const char *seller_key) {
    const sw_fitout *of = &fitouts->fitouts[fitout];
    for (int c = of->first_choice; c < of->first_choice + of->choice_count; c++)
        if (strcmp(fitouts->choices[c].seller_key, seller_key) == 0)
            return c;
    return of->first_choice;
}

/* Lets the search start from a bundle of another job; one that is none here does no harm. */
static sw_status know(sw_program *to, const sw_program *from, const int *of) {
    int *machine = sw_machine_in(to->fitouts, from, of);
    int *choices = SW_NEW(to->arena, int, to->group_count);
    int *picks = SW_NEW(to->arena, int, to->group_count);
    if (machine == NULL || choices == NULL || picks == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < to->group_count; g++) {
        const sw_choice *choice = &from->fitouts->choices[from->picks[of[g]].choice];
        if (machine[g] == SW_NONE || to->fitouts->fitouts[machine[g]].choice_count == 0)
            return SW_OK;
        choices[g] = sw_choice_like(to->fitouts, machine[g], choice->seller_key);
    }
    return sw_picks_of(picks, to, choices) ? sw_program_know(to, picks) : SW_OK;
}

/* Its prices bound well here too where the programs are of one shape. */
static sw_status take_prices(sw_program *to, const sw_program *from) {
    for (int aim = 0; aim < SW_AIMS; aim++) {
        size_t count = (size_t)from->price_count[aim];
        if (from->prices[aim] == NULL)
            continue;
        to->prices[aim] = SW_NEW(to->arena, double, count);
        if (to->prices[aim] == NULL)
            return SW_NO_MEMORY;
        memcpy(to->prices[aim], from->prices[aim], count * sizeof(double));
        to->price_count[aim] = from->price_count[aim];
    }
    return SW_OK;
}

static sw_status solve(sw_solution *out, sw_program *program, sw_aim aim, sw_allowance allowance,
                       sw_complaints *complaints) {
    sw_request request = sw_request_for(program, aim);
    return sw_solve(out, program, &request, allowance, complaints);
}

sw_status sw_best_find(sw_best *out, const sw_scenario *scenario, bool allow_unknown,
                       const sw_best *like, sw_allowance allowance, sw_complaints *complaints) {
    *out = (sw_best){.end = SW_END_NOTHING};
    sw_status status = sw_setup_make(&out->setup, scenario, allow_unknown, NULL, complaints);
    sw_program *program = out->setup.program;
    if (status == SW_OK)
        status = solve(&out->baseline, program, SW_AIM_CHEAPEST, allowance, complaints);
    if (status == SW_OK)
        out->end = out->baseline.end;
    bool found = status == SW_OK && out->baseline.found;
    if (found)
        status = sw_setup_score(&out->setup, out->baseline.picks);
    if (status == SW_OK && found)
        status = sw_program_presolve(program);
    if (status == SW_OK && found && like != NULL && like->best.found)
        status = know(program, like->setup.program, like->best.picks);
    if (status == SW_OK && found && like != NULL)
        status = take_prices(program, like->setup.program);
    if (status == SW_OK && found)
        status = solve(&out->best, program, SW_AIM_BEST, allowance, complaints);
    /* Points are against the baseline: where that is not proved, nothing is. */
    if (status == SW_OK && found && out->end == SW_END_PROVED)
        out->end = out->best.end;
    if (status != SW_OK)
        sw_best_free(out);
    return status;
}

sw_status sw_best_at(sw_solution *out, const sw_best *of, int64_t budget, sw_allowance allowance,
                     sw_complaints *complaints) {
    sw_program *program = of->setup.program;
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    request.limit = sw_bill_limit(program->fitouts->scenario, budget);
    return sw_solve(out, program, &request, allowance, complaints);
}

sw_status sw_best_tell(sw_answer **out, const sw_best *of, const sw_scenario *scenario,
                       const sw_solution *solution) {
    sw_answer *answer = NULL;
    sw_status status = sw_answer_start(&answer, scenario);
    if (status != SW_OK)
        return status;
    sw_end end = of->end == SW_END_PROVED ? solution->end : of->end;
    answer->status = end == SW_END_PROVED    ? SW_OPTIMAL
                     : end == SW_END_NOTHING ? SW_NOTHING_FITS
                                             : SW_STOPPED_EARLY;
    answer->bound = solution->bound;
    const sw_estimates *estimates = of->setup.estimates;
    answer->has_sound = estimates->quiet != SW_NONE;
    sw_sound sound = sw_sound_of(estimates, of->setup.fitouts->present);
    answer->level_now_dba = sound.level_dba;
    answer->loudness_now_sone = sound.loudness_sone;
    if (solution->found) {
        answer->bundles = SW_NEW(answer->arena, sw_answer_bundle, 1);
        status = answer->bundles == NULL
                     ? SW_NO_MEMORY
                     : sw_bundle_describe(answer->bundles, answer, of->setup.program,
                                          solution->picks, of->baseline.picks);
        answer->bundle_count = status == SW_OK ? 1 : 0;
    }
    if (status == SW_OK && solution->found)
        answer->bundles[0].rank = 1;
    if (status == SW_OK)
        *out = answer;
    else
        sw_answer_free(answer);
    return status;
}

void sw_best_free(sw_best *best) {
    sw_setup_free(&best->setup);
    *best = (sw_best){.end = SW_END_NOTHING};
}
