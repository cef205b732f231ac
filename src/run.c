/*
 * The whole story: what each role may hold, what goes with what, what it does
 * for this client; from these an integer program; solved first for the machine
 * that only does what it must, then for the best one; and the answer told.
 */
#include "run.h"

static sw_allowance allowance_of(const sw_plan_options *options) {
    double now = options->now != NULL ? options->now() : 0;
    return (sw_allowance){options->seconds, options->now, now + options->seconds};
}

sw_status sw_run_make(sw_run *job, const sw_scenario *scenario, const sw_plan_options *options,
                      sw_complaints *complaints) {
    *job = (sw_run){.allowance = allowance_of(options)};
    bool allow_unknown = options->allow_unknown || scenario->allow_unknown;
    sw_status status = sw_fitouts_make(&job->fitouts, scenario, complaints);
    if (status == SW_OK)
        status = sw_estimates_make(&job->estimates, job->fitouts, complaints);
    if (status == SW_OK)
        status = sw_rulebook_make(&job->book, job->fitouts, allow_unknown);
    if (status == SW_OK)
        status = sw_program_make(&job->program, job->fitouts, job->book, job->estimates);
    if (status == SW_OK)
        status = sw_solve(&job->baseline, job->program->arena, job->program, SW_AIM_CHEAPEST, NULL,
                          job->allowance, complaints);
    if (status != SW_OK || !job->baseline.found)
        return status;
    int *machine = SW_NEW(job->program->arena, int, job->program->group_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < job->program->group_count; g++)
        machine[g] = job->program->picks[job->baseline.picks[g]].fitout;
    status = sw_estimates_finish(job->estimates, machine);
    return status == SW_OK ? sw_program_score(job->program) : status;
}

/* What was left out, beside the machine of `picks` or (NULL) the present one. */
static sw_status finish(sw_answer *answer, const sw_run *job, const int *picks) {
    const sw_program *program = job->program;
    int *machine = SW_NEW(program->arena, int, program->group_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] = picks != NULL ? program->picks[picks[g]].fitout : job->fitouts->present[g];
    return sw_answer_finish(answer, job->fitouts, job->book, job->estimates, machine);
}

static sw_status tell_best(sw_answer *answer, const sw_run *job, sw_complaints *complaints) {
    sw_program *program = job->program;
    sw_solution best;
    sw_status status = sw_program_presolve(program, job->baseline.picks);
    if (status == SW_OK)
        status = sw_solve(&best, program->arena, program, SW_AIM_BEST, job->baseline.picks,
                          job->allowance, complaints);
    if (status != SW_OK)
        return status;
    status = sw_bundle_describe(&answer->baseline, answer, program, job->baseline.picks,
                                job->baseline.picks);
    answer->has_baseline = true;
    answer->bundles = SW_NEW(answer->arena, sw_answer_bundle, 1);
    if (status != SW_OK || answer->bundles == NULL)
        return status != SW_OK ? status : SW_NO_MEMORY;
    answer->bundle_count = 1;
    answer->bound = best.bound;
    bool early = best.end == SW_END_EARLY || job->baseline.end == SW_END_EARLY;
    answer->status = early ? SW_STOPPED_EARLY : SW_OPTIMAL;
    status =
        sw_bundle_describe(&answer->bundles[0], answer, program, best.picks, job->baseline.picks);
    return status == SW_OK ? finish(answer, job, best.picks) : status;
}

/* Nothing fits: would it with more money? Then say how much it takes. */
static sw_status tell_needed(sw_answer *answer, const sw_run *job, sw_complaints *complaints) {
    answer->status = job->baseline.end == SW_END_EARLY ? SW_STOPPED_EARLY : SW_NOTHING_FITS;
    answer->bound = INT64_MAX;
    if (answer->status == SW_STOPPED_EARLY)
        return finish(answer, job, NULL);
    sw_solution richer;
    sw_status status =
        sw_solve_richer(&richer, job->program->arena, job->program, job->allowance, complaints);
    answer->needed_open = status == SW_OK && richer.end == SW_END_EARLY;
    if (status == SW_OK && richer.end == SW_END_PROVED)
        answer->needed =
            richer.tally.cost + sw_invoice_tax(job->fitouts->scenario, richer.tally.cost);
    return status == SW_OK ? finish(answer, job, NULL) : status;
}

sw_status sw_plan(sw_answer **out, const sw_scenario *scenario, const sw_plan_options *options,
                  sw_complaints *complaints) {
    sw_run job;
    sw_answer *answer = NULL;
    size_t before = sw_complaints_count(complaints);
    sw_status status = sw_run_make(&job, scenario, options, complaints);
    if (status == SW_OK)
        status = sw_answer_start(&answer, scenario);
    if (status == SW_OK)
        status = job.baseline.found ? tell_best(answer, &job, complaints)
                                    : tell_needed(answer, &job, complaints);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(job.fitouts, complaints);
    sw_run_free(&job);
    if (status == SW_OK)
        *out = answer;
    else
        sw_answer_free(answer);
    return status;
}

sw_status sw_export(char **out, const sw_scenario *scenario, const sw_plan_options *options,
                    sw_export_form form, sw_complaints *complaints) {
    sw_run job;
    sw_text text = {0};
    size_t before = sw_complaints_count(complaints);
    sw_status status = sw_run_make(&job, scenario, options, complaints);
    if (status == SW_OK)
        status = sw_program_write(&text, job.program, form);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(job.fitouts, complaints);
    sw_run_free(&job);
    if (status == SW_OK)
        *out = text.bytes;
    else
        sw_text_free(&text);
    return status;
}

sw_plan_options sw_plan_options_default(void) {
    return (sw_plan_options){.seconds = 60, .now = NULL, .allow_unknown = false};
}

void sw_run_free(sw_run *job) {
    sw_program_free(job->program);
    sw_rulebook_free(job->book);
    sw_estimates_free(job->estimates);
    sw_fitouts_free(job->fitouts);
    *job = (sw_run){0};
}
