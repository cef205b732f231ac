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

/* The cheapest bundle does what must be done and nothing else. */
static sw_status find_baseline(sw_run *job, bool whatever_it_costs) {
    sw_request request = sw_request_for(job->program, SW_AIM_CHEAPEST);
    if (whatever_it_costs)
        request.limit = SW_NO_LIMIT;
    return sw_solve(&job->baseline, job->program, &request, job->allowance, job->complaints);
}

sw_status sw_run_make(sw_run *job, const sw_scenario *scenario, const sw_plan_options *options,
                      bool whatever_it_costs, sw_complaints *complaints) {
    *job = (sw_run){.allowance = allowance_of(options), .complaints = complaints};
    bool allow_unknown = options->allow_unknown || scenario->allow_unknown;
    sw_status status = sw_fitouts_make(&job->fitouts, scenario, complaints);
    if (status == SW_OK)
        status = sw_estimates_make(&job->estimates, job->fitouts, complaints);
    if (status == SW_OK)
        status = sw_rulebook_make(&job->book, job->fitouts, allow_unknown);
    if (status == SW_OK)
        status = sw_program_make(&job->program, job->fitouts, job->book, job->estimates);
    if (status == SW_OK)
        status = find_baseline(job, whatever_it_costs);
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

/* The bundles, then what each part of the best one is worth, then what the
 * money is worth. */
static sw_status tell_best(sw_answer *answer, const sw_run *job, const sw_plan_options *options) {
    sw_inquiry inquiry = {job->program, job->baseline.picks, job->allowance, job->complaints};
    const int *best = NULL;
    sw_status status = sw_program_presolve(job->program);
    if (status == SW_OK)
        status = sw_bundle_describe(&answer->baseline, answer, job->program, job->baseline.picks,
                                    job->baseline.picks);
    answer->has_baseline = true;
    if (status == SW_OK)
        status = sw_find_ranked(answer, &inquiry, options->best, options->apart, &best);
    if (status == SW_OK && answer->status == SW_OPTIMAL)
        status = sw_find_verdict(answer, &inquiry, best);
    if (status == SW_OK && answer->status == SW_OPTIMAL)
        status = sw_find_groups(answer, &inquiry, best);
    if (status == SW_OK && answer->status == SW_OPTIMAL)
        status = sw_find_next(answer, &inquiry, best);
    if (job->baseline.end == SW_END_EARLY)
        answer->status = SW_STOPPED_EARLY;
    return status == SW_OK ? finish(answer, job, best) : status;
}

/* Nothing fits: would it with more money? Then say how much it takes. */
static sw_status tell_needed(sw_answer *answer, const sw_run *job) {
    answer->status = job->baseline.end == SW_END_EARLY ? SW_STOPPED_EARLY : SW_NOTHING_FITS;
    answer->bound = INT64_MAX;
    if (answer->status == SW_STOPPED_EARLY)
        return finish(answer, job, NULL);
    sw_solution richer;
    sw_request request = sw_request_for(job->program, SW_AIM_CHEAPEST);
    request.limit = SW_NO_LIMIT;
    sw_status status = sw_solve(&richer, job->program, &request, job->allowance, job->complaints);
    answer->needed_open = status == SW_OK && richer.end == SW_END_EARLY;
    if (status == SW_OK && richer.end == SW_END_PROVED)
        answer->needed =
            richer.tally.cost + sw_invoice_tax(job->fitouts->scenario, richer.tally.cost);
    return status == SW_OK ? finish(answer, job, NULL) : status;
}

static sw_status tell_curve(sw_answer *answer, const sw_run *job, const sw_plan_options *options) {
    sw_inquiry inquiry = {job->program, job->baseline.picks, job->allowance, job->complaints};
    sw_status status = sw_program_presolve(job->program);
    if (status == SW_OK)
        status = sw_find_steps(answer, &inquiry, options->curve_from, options->curve_to);
    return status == SW_OK ? finish(answer, job, NULL) : status;
}

/* The shared frame of the answers: makes the job, lets `tell` fill the answer. */
static sw_status answer_job(sw_answer **out, sw_run *job, const sw_scenario *scenario,
                            const sw_plan_options *options, sw_complaints *complaints,
                            bool whole_curve) {
    sw_answer *answer = NULL;
    size_t before = sw_complaints_count(complaints);
    sw_status status = sw_run_make(job, scenario, options, whole_curve, complaints);
    if (status == SW_OK)
        status = sw_answer_start(&answer, scenario);
    if (status == SW_OK && !job->baseline.found)
        status = tell_needed(answer, job);
    else if (status == SW_OK)
        status = whole_curve ? tell_curve(answer, job, options) : tell_best(answer, job, options);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(job->fitouts, complaints);
    sw_run_free(job);
    if (status == SW_OK)
        *out = answer;
    else
        sw_answer_free(answer);
    return status;
}

sw_status sw_plan(sw_answer **out, const sw_scenario *scenario, const sw_plan_options *options,
                  sw_complaints *complaints) {
    sw_run job;
    return answer_job(out, &job, scenario, options, complaints, false);
}

sw_status sw_curve(sw_answer **out, const sw_scenario *scenario, const sw_plan_options *options,
                   sw_complaints *complaints) {
    sw_run job;
    return answer_job(out, &job, scenario, options, complaints, true);
}

sw_status sw_export(char **out, const sw_scenario *scenario, const sw_plan_options *options,
                    sw_export_form form, sw_complaints *complaints) {
    sw_run job;
    sw_text text = {0};
    size_t before = sw_complaints_count(complaints);
    sw_status status = sw_run_make(&job, scenario, options, false, complaints);
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
    return (sw_plan_options){.seconds = 60, .best = 1, .curve_to = -1};
}

void sw_run_free(sw_run *job) {
    sw_program_free(job->program);
    sw_rulebook_free(job->book);
    sw_estimates_free(job->estimates);
    sw_fitouts_free(job->fitouts);
    *job = (sw_run){0};
}
