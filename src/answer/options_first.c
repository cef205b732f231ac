/* The cheapest bundle that ends what the client complains of, by a job of its own in which only
 * such bundles count. */
#include "answer/best.h"
#include "answer/options.h"

bool sw_option_ends(const sw_option_job *job, size_t trouble, const int *picks) {
    const sw_program *program = job->setup->program;
    for (size_t g = 0; g < program->group_count; g++)
        program->scratch_machine[g] = program->picks[picks[g]].fitout;
    return sw_demands_met(&job->demands[trouble], job->setup->estimates, program->scratch_machine);
}

/* Points are against the baseline of the job itself. */
static sw_status score(sw_setup *setup, const sw_option_job *job) {
    const sw_program *program = job->setup->program;
    int *machine = SW_NEW(setup->program->arena, int, program->group_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] = program->picks[job->inquiry->baseline[g]].fitout;
    sw_status status = sw_setup_score_by(setup, machine);
    return status == SW_OK ? sw_program_presolve(setup->program) : status;
}

static sw_status ask(sw_solution *out, sw_setup *ending, const sw_option_job *job, sw_aim aim,
                     int64_t limit) {
    sw_request request = sw_request_for(ending->program, aim);
    request.limit = limit;
    request.points_least = 0;
    return sw_solve(out, ending->program, &request, job->inquiry->allowance,
                    job->inquiry->complaints);
}

/* The cheapest step that ends it is a good start. */
static sw_status know_step(const sw_option_job *job, size_t trouble, sw_setup *ending) {
    const sw_answer *curve = job->out->curve;
    const sw_program *from = job->setup->program;
    sw_program *to = ending->program;
    size_t at = 0;
    while (at < curve->bundle_count &&
           (curve->bundles[at].points < 0 || !sw_option_ends(job, trouble, job->steps[at])))
        at++;
    if (at == curve->bundle_count)
        return SW_OK;
    int *picks = SW_NEW(to->arena, int, to->group_count);
    int *choices = SW_NEW(to->arena, int, to->group_count);
    if (picks == NULL || choices == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < to->group_count; g++)
        choices[g] = from->picks[job->steps[at][g]].choice;
    return sw_picks_of(picks, to, choices) ? sw_program_know(to, picks) : SW_OK;
}

/* The same bundle in the job's own program. */
static sw_status carry_over(const int **picks, const sw_option_job *job, const sw_setup *ending,
                            const int *from) {
    const sw_program *to = job->setup->program;
    int *out = SW_NEW(to->arena, int, to->group_count);
    int *choices = SW_NEW(to->arena, int, to->group_count);
    if (out == NULL || choices == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < to->group_count; g++)
        choices[g] = ending->program->picks[from[g]].choice;
    if (!sw_picks_of(out, to, choices))
        return SW_INTERNAL;
    *picks = out;
    return SW_OK;
}

/* The first in the order of those that cost no more than the cheapest. */
static sw_status find_best_of_cheapest(sw_option *out, const int **picks, const sw_option_job *job,
                                       sw_setup *ending, const sw_solution *cheapest) {
    sw_solution best;
    int64_t total = sw_total(ending->program, &cheapest->tally);
    sw_status status = ask(&best, ending, job, SW_AIM_BEST, sw_bill_limit(job->scenario, total));
    if (status != SW_OK)
        return status;
    out->proved = cheapest->end == SW_END_PROVED && best.end == SW_END_PROVED;
    return carry_over(picks, job, ending, best.found ? best.picks : cheapest->picks);
}

/* Is there a bundle within the budget that ends it; if not, what does the cheapest cost? */
static sw_status try_trouble(sw_option *out, const int **picks, sw_option_job *job,
                             size_t trouble) {
    sw_told_trouble *told = &job->out->troubles[trouble];
    sw_setup ending;
    sw_solution cheapest = {.end = SW_END_EARLY};
    sw_status status =
        sw_setup_make_ending(&ending, job->scenario, job->setup->book->allow_unknown,
                             &job->scenario->troubles[trouble], job->inquiry->complaints);
    if (status != SW_OK)
        return status;
    status = score(&ending, job);
    if (status == SW_OK)
        status = know_step(job, trouble, &ending);
    if (status == SW_OK)
        status = ask(&cheapest, &ending, job, SW_AIM_CHEAPEST, ending.program->budget);
    bool none = status == SW_OK && cheapest.end == SW_END_NOTHING;
    if (status == SW_OK) {
        told->settled = cheapest.found || none;
        told->ended = cheapest.found;
    }
    if (status == SW_OK && cheapest.found && out != NULL)
        status = find_best_of_cheapest(out, picks, job, &ending, &cheapest);
    if (none)
        status = ask(&cheapest, &ending, job, SW_AIM_CHEAPEST, SW_NO_LIMIT);
    if (status == SW_OK && none) {
        told->settled = cheapest.end != SW_END_EARLY;
        told->least = cheapest.found ? sw_total(ending.program, &cheapest.tally) : -1;
    }
    sw_setup_free(&ending);
    return status;
}

/* Where money is better kept: what can be done without any. */
static void find_nothing_bought(sw_option *out, const int **picks, const sw_option_job *job) {
    const sw_answer *curve = job->out->curve;
    out->rule = SW_OPTION_KEEPS_MONEY;
    out->proved = curve->status == SW_OPTIMAL;
    if (curve->bundle_count > 0 && curve->bundles[job->first_step].points > 0)
        *picks = job->steps[job->first_step];
}

/* Of the steps above the cheapest, up to the best: the one with most points for its money. */
static void find_best_rate(sw_option *out, const int **picks, const sw_option_job *job) {
    const sw_answer *curve = job->out->curve;
    const sw_answer_bundle *first = &curve->bundles[job->first_step], *best = NULL;
    for (size_t i = job->first_step + 1; curve->bundle_count > 0 && i <= job->best_step; i++) {
        const sw_answer_bundle *step = &curve->bundles[i];
        int64_t own = 0, its = 0;
        if (best != NULL &&
            (!sw_multiply(&own, step->points - first->points, best->cost - first->cost) ||
             !sw_multiply(&its, best->points - first->points, step->cost - first->cost) ||
             own <= its))
            continue;
        best = step;
        *picks = job->steps[i];
    }
    out->rule = SW_OPTION_BEST_RATE;
    out->proved = curve->status == SW_OPTIMAL;
}

sw_status sw_option_first(sw_option *out, const int **picks, sw_option_job *job) {
    const sw_options *options = job->out;
    *out = (sw_option){.place = SW_FIRST, .rule = SW_OPTION_ENDS_COMPLAINT};
    *picks = NULL;
    for (size_t t = 0; t < options->trouble_count; t++) {
        if (!options->troubles[t].shows)
            continue;
        sw_status status = try_trouble(out, picks, job, t);
        if (status != SW_OK)
            return status;
        /* Where one is not settled, a later one would not be the first that can be ended. */
        if (*picks != NULL || !options->troubles[t].settled) {
            out->trouble = t;
            return SW_OK;
        }
    }
    if (options->plan->advice == SW_ADVICE_KEEP)
        find_nothing_bought(out, picks, job);
    else
        find_best_rate(out, picks, job);
    return SW_OK;
}

sw_status sw_option_troubles(sw_option_job *job) {
    sw_options *options = job->out;
    for (size_t t = 0; t < options->trouble_count; t++) {
        sw_told_trouble *told = &options->troubles[t];
        if (!told->shows || told->settled)
            continue;
        for (size_t o = 0; o < options->count; o++)
            told->ended =
                told->ended || (job->picks[o] != NULL && options->options[o].bundle.points >= 0 &&
                                sw_option_ends(job, t, job->picks[o]));
        const sw_answer *curve = options->curve;
        for (size_t i = 0; i < curve->bundle_count && !told->ended; i++)
            told->ended = curve->bundles[i].cost <= options->plan->budget &&
                          curve->bundles[i].points >= 0 && sw_option_ends(job, t, job->steps[i]);
        told->settled = told->ended;
        sw_status status = told->ended ? SW_OK : try_trouble(NULL, NULL, job, t);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}
