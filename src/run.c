/*
 * The whole story: what each role may hold, what goes with what, what it does
 * for this client; from these an integer program; solved first for the machine
 * that only does what it must, then for the best one; and the answer told.
 */
#include "run.h"

#include <stdlib.h>
#include <string.h>

#include "answer/bench.h"
#include "answer/conflict.h"
#include "answer/explain.h"
#include "answer/first.h"
#include "answer/handover.h"
#include "answer/look.h"
#include "answer/next.h"
#include "answer/map.h"
#include "answer/options.h"
#include "answer/phases.h"
#include "answer/ranges.h"
#include "answer/shopping.h"
#include "answer/sure.h"
#include "answer/whatif.h"
#include "answer/why.h"

static sw_allowance allowance_of(const sw_plan_options *options) {
    double now = options->now != NULL ? options->now() : 0;
    return (sw_allowance){.seconds = options->seconds,
                          .now = options->now,
                          .ends = now + options->seconds,
                          .tell = options->tell,
                          .halt = options->halt,
                          .context = options->context};
}

/* A job is not judged by its own pairs. */
static sw_status forget_job(sw_calibration *learnt, const char *id) {
    sw_past_job *jobs = SW_NEW(learnt->arena, sw_past_job, learnt->job_count);
    size_t count = 0;
    if (jobs == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < learnt->job_count; i++)
        if (id == NULL || strcmp(learnt->jobs[i].id, id) != 0)
            jobs[count++] = learnt->jobs[i];
    learnt->jobs = jobs;
    learnt->job_count = count;
    return SW_OK;
}

static sw_status read_learnt(sw_run *job, const sw_plan_options *options,
                             sw_complaints *complaints) {
    if (options->calibration == NULL)
        return SW_OK;
    sw_status status = sw_calibration_read(&job->learnt, options->calibration, complaints);
    return status == SW_OK ? forget_job(job->learnt, options->not_of_job) : status;
}

/* An answer on which what was learnt is put. */
static sw_status start_answer(sw_answer **out, const sw_run *job, const sw_scenario *scenario) {
    sw_status status = sw_answer_start(out, scenario);
    if (status == SW_OK && job->learnt != NULL) {
        (*out)->learnt = job->learnt;
        (*out)->learnt_jobs = job->learnt->job_count;
    }
    return status;
}

static bool is_halted(const sw_plan_options *options) {
    return options->halt != NULL && options->halt(options->context);
}

/* The cheapest bundle does what must be done and nothing else. */
static sw_status find_baseline(sw_run *job, bool whatever_it_costs) {
    sw_request request = sw_request_for(job->setup.program, SW_AIM_CHEAPEST);
    if (whatever_it_costs)
        request.limit = SW_NO_LIMIT;
    return sw_solve(&job->baseline, job->setup.program, &request, job->allowance, job->complaints);
}

sw_status sw_run_make(sw_run *job, const sw_scenario *scenario, const sw_plan_options *options,
                      bool whatever_it_costs, sw_complaints *complaints) {
    *job = (sw_run){.allowance = allowance_of(options), .complaints = complaints};
    bool allow_unknown = options->allow_unknown || scenario->allow_unknown;
    sw_status status = read_learnt(job, options, complaints);
    if (status == SW_OK)
        status = sw_setup_make(&job->setup, scenario, allow_unknown, NULL, complaints);
    if (status == SW_OK)
        status = find_baseline(job, whatever_it_costs);
    if (status == SW_OK && job->baseline.found)
        status = sw_setup_score(&job->setup, job->baseline.picks);
    return status;
}

/* What was left out, beside the machine of `picks` or (NULL) the present one. */
static sw_status finish(sw_answer *answer, const sw_run *job, const int *picks) {
    const sw_program *program = job->setup.program;
    int *machine = SW_NEW(program->arena, int, program->group_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] =
            picks != NULL ? program->picks[picks[g]].fitout : job->setup.fitouts->present[g];
    return sw_answer_finish(answer, job->setup.fitouts, job->setup.book, job->setup.estimates,
                            machine);
}

/* What the money is worth, what each part of the best bundle is, and what more money would bring.
 */
static sw_status tell_worth(sw_answer *answer, const sw_inquiry *inquiry, const int *best) {
    sw_status status = sw_find_verdict(answer, inquiry, best);
    if (status == SW_OK && answer->status == SW_OPTIMAL)
        status = sw_find_groups(answer, inquiry, best);
    if (status == SW_OK && answer->status == SW_OPTIMAL)
        status = sw_find_next(answer, inquiry, best);
    return status;
}

/* The bundles, then what the best one is worth. */
static sw_status tell_best(sw_answer *answer, const sw_run *job, const sw_plan_options *options) {
    sw_inquiry inquiry = {job->setup.program, job->baseline.picks, job->allowance, job->complaints,
                          options->verify};
    const int *best = NULL;
    sw_status status = sw_program_presolve(job->setup.program);
    if (status == SW_OK)
        status = sw_bundle_describe(&answer->baseline, answer, job->setup.program,
                                    job->baseline.picks, job->baseline.picks);
    answer->has_baseline = true;
    if (status == SW_OK)
        status = sw_find_ranked(answer, &inquiry, options->best, options->apart, &best);
    answer->brief = options->brief;
    if (status == SW_OK && answer->status == SW_OPTIMAL && !options->brief)
        status = tell_worth(answer, &inquiry, best);
    return status == SW_OK ? finish(answer, job, best) : status;
}

/* How much the cheapest bundle takes when money is no object. */
static sw_status find_needed(sw_answer *answer, const sw_run *job) {
    sw_solution richer;
    sw_request request = sw_request_for(job->setup.program, SW_AIM_CHEAPEST);
    request.limit = SW_NO_LIMIT;
    sw_status status =
        sw_solve(&richer, job->setup.program, &request, job->allowance, job->complaints);
    if (status == SW_OK && richer.end == SW_END_PROVED)
        answer->needed = sw_total(job->setup.program, &richer.tally);
    return status;
}

/* Nothing fits: what is in the way, and what mends it. */
static sw_status tell_nothing(sw_answer *answer, const sw_run *job, bool whole_curve) {
    answer->status = job->baseline.end == SW_END_EARLY ? SW_STOPPED_EARLY : SW_NOTHING_FITS;
    answer->bound = INT64_MAX;
    sw_status status = SW_OK;
    if (answer->status == SW_NOTHING_FITS && !whole_curve) {
        status = find_needed(answer, job);
        if (status == SW_OK)
            status =
                sw_find_conflict(answer, job->setup.fitouts->scenario,
                                 job->setup.book->allow_unknown, job->allowance, job->complaints);
    }
    return status == SW_OK ? finish(answer, job, NULL) : status;
}

static sw_status tell_curve(sw_answer *answer, const sw_run *job, const sw_plan_options *options) {
    sw_inquiry inquiry = {job->setup.program, job->baseline.picks, job->allowance, job->complaints,
                          options->verify};
    sw_status status = sw_program_presolve(job->setup.program);
    if (status == SW_OK)
        status = sw_find_steps(answer, NULL, &inquiry, options->curve_from, options->curve_to);
    if (status == SW_OK && answer->status == SW_NOTHING_FITS && job->baseline.end == SW_END_PROVED)
        answer->needed = sw_total(job->setup.program, &job->baseline.tally);
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
        status = start_answer(&answer, job, scenario);
    if (status == SW_OK && !job->baseline.found)
        status = tell_nothing(answer, job, whole_curve);
    else if (status == SW_OK)
        status = whole_curve ? tell_curve(answer, job, options) : tell_best(answer, job, options);
    /* Points count from the baseline: while that is open, so are all of them. */
    if (status == SW_OK && job->baseline.end == SW_END_EARLY)
        answer->status = SW_STOPPED_EARLY;
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(scenario, complaints);
    sw_run_free(job);
    if (status == SW_OK)
        answer->asked_to_stop = is_halted(options);
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

static sw_status tell_options(sw_options **out, sw_answer *answer, const sw_run *job) {
    sw_inquiry inquiry = {job->setup.program, job->baseline.picks, job->allowance, job->complaints,
                          false};
    sw_status status = sw_program_presolve(job->setup.program);
    if (status == SW_OK)
        status = sw_bundle_describe(&answer->baseline, answer, job->setup.program,
                                    job->baseline.picks, job->baseline.picks);
    answer->has_baseline = true;
    if (status == SW_OK)
        status = finish(answer, job, NULL);
    if (status == SW_OK)
        status = sw_find_options(out, answer, &job->setup, &inquiry);
    if (status == SW_OK && job->baseline.end == SW_END_EARLY)
        sw_options_left_open(*out);
    return status;
}

sw_status sw_run_options(sw_options **out, sw_run *job, const sw_scenario *scenario,
                         const sw_plan_options *options, sw_complaints *complaints) {
    sw_answer *answer = NULL;
    size_t before = sw_complaints_count(complaints);
    sw_status status = sw_run_make(job, scenario, options, false, complaints);
    if (status == SW_OK)
        status = start_answer(&answer, job, scenario);
    if (status == SW_OK && job->baseline.found) {
        status = tell_options(out, answer, job);
    } else if (status == SW_OK) {
        status = tell_nothing(answer, job, false);
        if (status == SW_OK)
            status = sw_find_no_options(out, answer, &job->setup, complaints);
    }
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(scenario, complaints);
    if (status == SW_OK)
        answer->asked_to_stop = is_halted(options);
    else
        sw_answer_free(answer);
    return status;
}

sw_status sw_ask_options(sw_options **out, const sw_scenario *scenario,
                         const sw_plan_options *options, sw_complaints *complaints) {
    sw_run job;
    sw_status status = sw_run_options(out, &job, scenario, options, complaints);
    sw_run_free(&job);
    return status;
}

/* ---- the papers of an option ---------------------------------------------------------------- */

/* The options, of which one was signed; NULL where there are none. */
static sw_status find_signed(sw_options **three, const sw_option **option, sw_run *job,
                             const sw_scenario *scenario, int number,
                             const sw_plan_options *options, sw_complaints *complaints) {
    sw_status status = sw_run_options(three, job, scenario, options, complaints);
    *option = NULL;
    /* Where the time ran out the options may be others than those that were signed. */
    bool open = status == SW_OK && !sw_options_are_settled(*three);
    if (status == SW_OK && (*three)->count > 0 && !(open && number > (int)(*three)->count)) {
        *option = sw_option_signed(*three, number, complaints);
        status = *option == NULL ? SW_BAD_DATA : SW_OK;
    }
    return status;
}

sw_status sw_ask_bench(sw_bench **out, const sw_scenario *scenario, int number,
                       const sw_plan_options *options, sw_complaints *complaints) {
    sw_run job = {0};
    sw_options *three = NULL;
    const sw_option *option = NULL;
    sw_status status = find_signed(&three, &option, &job, scenario, number, options, complaints);
    if (status == SW_OK)
        status = sw_find_bench(out, three, option, &job.setup, NULL, job.learnt, complaints);
    if (status != SW_OK)
        sw_options_free(three);
    sw_run_free(&job);
    return status;
}

/* Tasks that were left out, as [task]; each must be one of the option's. */
static sw_status find_left_out(const bool **out, const sw_measurements *measured,
                               const sw_option *option, const sw_run *job,
                               sw_complaints *complaints) {
    const sw_fitouts *fitouts = job->setup.fitouts;
    bool *left = SW_NEW(fitouts->arena, bool, fitouts->catalog->task_count);
    sw_status status = left == NULL ? SW_NO_MEMORY : SW_OK;
    for (size_t i = 0; i < measured->left_out_count && left != NULL && option != NULL; i++) {
        int task = measured->left_out_tasks[i];
        const sw_fitout *fitout =
            &fitouts->fitouts[option->machine[fitouts->catalog->tasks[task].role]];
        for (int t = 0; t < fitout->task_count; t++)
            left[task] = left[task] || fitout->tasks[t] == task;
        if (left[task])
            continue;
        sw_complain(complaints, measured->file, "$.left_out",
                    "only work of the option that was signed can have been left out",
                    "name tasks that `swapworth bench` lists for this option",
                    "names \"%s\", which this option does not ask for", measured->left_out[i]);
        status = SW_BAD_DATA;
    }
    *out = left;
    return status;
}

static sw_status hand_over(sw_handover **out, const sw_scenario *scenario,
                           const sw_measurements *measured, int number,
                           const sw_plan_options *options, sw_complaints *complaints) {
    sw_run job = {0};
    sw_options *three = NULL;
    const sw_option *option = NULL;
    const bool *left_out = NULL;
    sw_bench *bench = NULL;
    sw_status status = find_signed(&three, &option, &job, scenario, number, options, complaints);
    if (status == SW_OK)
        status = find_left_out(&left_out, measured, option, &job, complaints);
    if (status == SW_OK)
        status = sw_find_bench(&bench, three, option, &job.setup, left_out, job.learnt, complaints);
    if (status == SW_OK)
        status = sw_find_handover(out, bench, scenario, measured, complaints);
    if (status != SW_OK)
        sw_options_free(three);
    sw_run_free(&job);
    return status;
}

sw_status sw_ask_handover(sw_handover **out, const sw_scenario *scenario, const sw_handing *handing,
                          const sw_plan_options *options, sw_complaints *complaints) {
    sw_calibration *past = NULL;
    sw_measurements *measured = NULL;
    sw_status status =
        sw_measurements_read(&measured, handing->measured, scenario->catalog, complaints);
    if (status == SW_OK && handing->record != NULL)
        status = sw_calibration_begin(&past, handing->record, complaints);
    sw_plan_options own = *options;
    if (status == SW_OK)
        own.not_of_job = measured->job;
    if (status == SW_OK)
        status = hand_over(out, scenario, measured, handing->option, &own, complaints);
    if (status == SW_OK)
        (*out)->past = past;
    else
        sw_calibration_free(past);
    sw_measurements_free(measured);
    return status;
}

/* Today's job, for as long as is left of the time. */
static sw_status make_today(sw_run *today, const sw_run *agreed, const sw_scenario *scenario,
                            const sw_plan_options *options, sw_complaints *complaints) {
    sw_plan_options rest = *options;
    size_t before = sw_complaints_count(complaints);
    if (rest.now != NULL)
        rest.seconds = agreed->allowance.ends - rest.now();
    sw_status status = sw_run_make(today, scenario, &rest, false, complaints);
    if (status == SW_OK && today->baseline.found)
        status = sw_program_presolve(today->setup.program);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(scenario, complaints);
    return status;
}

/* `today`: the changed scenario, or NULL. */
static sw_status find_shopping(sw_shopping *out, sw_run *job, const sw_scenario *scenario,
                               const sw_scenario *today, sw_way asked,
                               const sw_plan_options *options, sw_complaints *complaints) {
    sw_run then = {0};
    sw_shopping_job shopping = {.out = out,
                                .agreed = scenario,
                                .scenario = today != NULL ? today : scenario,
                                .agreed_setup = &job->setup,
                                .asked = asked,
                                .allowance = job->allowance,
                                .complaints = complaints};
    sw_status status = SW_OK;
    if (today != NULL) {
        status = make_today(&then, job, today, options, complaints);
        shopping.setup = &then.setup;
        shopping.baseline = then.baseline.found ? then.baseline.picks : NULL;
        shopping.end = then.baseline.end;
    }
    if (status == SW_OK)
        status = sw_find_shopping(&shopping);
    sw_run_free(&then);
    return status;
}

/* Is there no such option yet, and the time ran out before all were known? */
static bool may_come(const sw_options *options, int number) {
    return !sw_options_are_settled(options) && number > 0 && (size_t)number > options->count;
}

sw_status sw_ask_shopping(sw_shopping **out, const sw_scenario *scenario, const sw_errands *errands,
                          const sw_plan_options *options, sw_complaints *complaints) {
    sw_run job = {0};
    sw_scenario *today = NULL;
    sw_shopping *shopping = NULL;
    sw_way asked;
    sw_status status = sw_shopping_start(&shopping, &today, &asked, scenario, errands, complaints);
    if (status != SW_OK)
        return status;
    size_t before = sw_complaints_count(complaints);
    status = sw_run_options(&shopping->options, &job, scenario, options, complaints);
    if (status != SW_OK)
        shopping->options = NULL;
    else if (!may_come(shopping->options, errands->option))
        shopping->option = sw_option_signed(shopping->options, errands->option, complaints);
    if (status == SW_OK && sw_complaints_count(complaints) > before)
        status = SW_BAD_DATA;
    shopping->number = (size_t)errands->option;
    if (status == SW_OK && shopping->option != NULL) {
        shopping->number = (size_t)(shopping->option - shopping->options->options) + 1;
        status = find_shopping(shopping, &job, scenario, today, asked, options, complaints);
    }
    sw_run_free(&job);
    sw_scenario_free(today);
    shopping->asked_to_stop = is_halted(options);
    if (status == SW_OK)
        *out = shopping;
    else
        sw_shopping_free(shopping);
    return status;
}

sw_status sw_export(char **out, const sw_scenario *scenario, const sw_plan_options *options,
                    sw_export_form form, sw_complaints *complaints) {
    sw_run job;
    sw_text text = {0};
    size_t before = sw_complaints_count(complaints);
    sw_status status = sw_run_make(&job, scenario, options, false, complaints);
    if (status == SW_OK)
        status = sw_program_write(&text, job.setup.program, form);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(scenario, complaints);
    sw_run_free(&job);
    if (status == SW_OK)
        *out = text.bytes;
    else
        sw_text_free(&text);
    return status;
}

/* The parts by their ids, each once, in byte order. */
static sw_status read_asked(sw_asked *asked, size_t *count, const sw_scenario *scenario,
                            const char *const *parts, size_t part_count,
                            sw_complaints *complaints) {
    sw_status status = SW_OK;
    *count = 0;
    for (size_t i = 0; i < part_count; i++) {
        int part = sw_part_named(scenario, parts[i], complaints);
        if (part == SW_NONE) {
            status = SW_BAD_DATA;
            continue;
        }
        size_t at = 0;
        while (at < *count &&
               strcmp(scenario->parts[asked[at].part].id, scenario->parts[part].id) < 0)
            at++;
        bool again = at < *count && asked[at].part == part;
        for (size_t k = (*count)++; !again && k > at; k--)
            asked[k] = asked[k - 1];
        if (again)
            (*count)--;
        asked[at] = (sw_asked){part, again ? asked[at].count + 1 : 1};
    }
    return status;
}

sw_status sw_ask_fits(sw_fits **out, const sw_scenario *scenario, const char *const *parts,
                      size_t count, const sw_plan_options *options, sw_complaints *complaints) {
    sw_asked *asked = calloc(count + 1, sizeof *asked);
    size_t asked_count = 0;
    sw_status status = asked == NULL
                           ? SW_NO_MEMORY
                           : read_asked(asked, &asked_count, scenario, parts, count, complaints);
    if (status == SW_OK)
        status = sw_find_fits(out, scenario, asked, asked_count,
                              options->allow_unknown || scenario->allow_unknown,
                              allowance_of(options), complaints);
    if (status == SW_OK)
        (*out)->asked_to_stop = is_halted(options);
    free(asked);
    return status;
}

sw_status sw_ask_why(sw_why **out, const sw_scenario *scenario, const char *part, const char *over,
                     const sw_plan_options *options, sw_complaints *complaints) {
    int index = sw_part_named(scenario, part, complaints), other = SW_NONE;
    if (over != NULL)
        other = sw_part_named(scenario, over, complaints);
    if (index == SW_NONE || (over != NULL && other == SW_NONE))
        return SW_BAD_DATA;
    sw_status status =
        sw_find_why(out, scenario, index, other, options->allow_unknown || scenario->allow_unknown,
                    allowance_of(options), complaints);
    bool halted = status == SW_OK && is_halted(options);
    if (halted)
        (*out)->answer->asked_to_stop = true;
    if (halted && (*out)->trial != NULL)
        (*out)->trial->asked_to_stop = true;
    return status;
}

sw_status sw_ask_look(sw_look **out, const sw_scenario *scenario, const sw_plan_options *options,
                      sw_complaints *complaints) {
    return sw_find_look(out, scenario, options->allow_unknown || scenario->allow_unknown,
                        complaints);
}

sw_status sw_ask_explain(sw_explain **out, const sw_scenario *scenario, const char *part,
                         const sw_plan_options *options, sw_complaints *complaints) {
    int index = part == NULL ? SW_NONE : sw_part_named(scenario, part, complaints);
    if (part != NULL && index == SW_NONE)
        return SW_BAD_DATA;
    return sw_find_explain(out, scenario, index, options->allow_unknown || scenario->allow_unknown,
                           complaints);
}

sw_status sw_ask_whatif(sw_whatif **out, const sw_scenario *scenario, const char *const *settings,
                        size_t count, const sw_plan_options *options, sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_setting *read = arena == NULL ? NULL : SW_NEW(arena, sw_setting, count);
    sw_status status = read == NULL ? SW_NO_MEMORY : SW_OK;
    for (size_t i = 0; i < count && read != NULL; i++) {
        sw_status one = sw_setting_read(&read[i], arena, settings[i], complaints);
        status = status == SW_OK ? one : status;
    }
    if (status == SW_OK)
        status = sw_find_whatif(out, scenario, read, count, options->allow_unknown,
                                allowance_of(options), complaints);
    if (status == SW_OK)
        (*out)->asked_to_stop = is_halted(options);
    sw_arena_free(arena);
    return status;
}

sw_status sw_ask_first(sw_first **out, const sw_scenario *scenario, const sw_plan_options *options,
                       sw_complaints *complaints) {
    sw_status status =
        sw_find_first(out, scenario, options->allow_unknown || scenario->allow_unknown,
                      allowance_of(options), complaints);
    if (status == SW_OK)
        (*out)->answer->asked_to_stop = is_halted(options);
    return status;
}

sw_status sw_ask_phases(sw_phases **out, const sw_scenario *scenario,
                        const sw_plan_options *options, sw_complaints *complaints) {
    sw_status status =
        sw_find_phases(out, scenario, options->allow_unknown || scenario->allow_unknown,
                       allowance_of(options), complaints);
    if (status == SW_OK)
        (*out)->answer->asked_to_stop = is_halted(options);
    return status;
}

sw_status sw_ask_ranges(sw_ranges **out, const sw_scenario *scenario, const char *const *parts,
                        size_t count, const sw_plan_options *options, sw_complaints *complaints) {
    int *named = calloc(count + 1, sizeof *named);
    sw_status status = named == NULL ? SW_NO_MEMORY : SW_OK;
    for (size_t i = 0; i < count && named != NULL; i++) {
        named[i] = sw_part_named(scenario, parts[i], complaints);
        if (named[i] == SW_NONE)
            status = SW_BAD_DATA;
    }
    if (status == SW_OK)
        status = sw_find_ranges(out, scenario, named, count,
                                options->allow_unknown || scenario->allow_unknown,
                                allowance_of(options), complaints);
    if (status == SW_OK)
        (*out)->answer->asked_to_stop = is_halted(options);
    free(named);
    return status;
}

/* The options as `sure` takes them: by the keys of their fit-outs, which hang on no weights. */
static sw_status take_options(sw_sure_option **out, size_t *count, bool *settled, sw_run *job,
                              sw_options **three, const sw_scenario *scenario,
                              const sw_plan_options *options, sw_complaints *complaints) {
    static const char *const places[] = {"first", "middle", "full"};
    sw_status status = sw_run_options(three, job, scenario, options, complaints);
    if (status != SW_OK)
        return status;
    size_t roles = scenario->catalog->role_count;
    sw_arena *arena = (*three)->plan->arena;
    sw_sure_option *made = SW_NEW(arena, sw_sure_option, (*three)->count);
    for (size_t o = 0; o < (*three)->count && made != NULL; o++) {
        const sw_option *option = &(*three)->options[o];
        const char **keys = SW_NEW(arena, const char *, roles);
        if (keys == NULL)
            return SW_NO_MEMORY;
        for (size_t r = 0; r < roles; r++) {
            keys[r] = sw_arena_copy(arena, job->setup.fitouts->fitouts[option->machine[r]].key);
            if (keys[r] == NULL)
                return SW_NO_MEMORY;
        }
        made[o] = (sw_sure_option){.number = o + 1,
                                   .place = places[option->place],
                                   .keys = keys,
                                   .cost = option->bundle.cost,
                                   .stays = -1};
    }
    *out = made;
    *count = made == NULL ? 0 : (*three)->count;
    *settled = sw_options_are_settled(*three);
    return made == NULL ? SW_NO_MEMORY : SW_OK;
}

sw_status sw_ask_sure(sw_sure **out, const sw_scenario *scenario, const sw_sure_job *job,
                      const sw_plan_options *options, sw_complaints *complaints) {
    sw_run run = {0};
    sw_options *three = NULL;
    sw_sure_option *offered = NULL;
    size_t count = 0;
    bool settled = true;
    sw_allowance allowance = allowance_of(options);
    sw_status status = SW_OK;
    if (job->options)
        status =
            take_options(&offered, &count, &settled, &run, &three, scenario, options, complaints);
    if (status == SW_OK)
        status =
            sw_find_sure(out, scenario, job, offered, count,
                         options->allow_unknown || scenario->allow_unknown, allowance, complaints);
    if (status == SW_OK) {
        (*out)->answer->asked_to_stop = is_halted(options);
        (*out)->options_known = settled;
    }
    sw_options_free(three);
    sw_run_free(&run);
    return status;
}

sw_status sw_ask_next(sw_next **out, const sw_scenario *scenario, const sw_plan_options *options,
                      sw_complaints *complaints) {
    sw_status status =
        sw_find_question(out, scenario, options->allow_unknown || scenario->allow_unknown,
                         allowance_of(options), complaints);
    if (status == SW_OK)
        (*out)->answer->asked_to_stop = is_halted(options);
    return status;
}

sw_status sw_ask_map(sw_map **out, const sw_scenario *scenario, const sw_plan_options *options,
                     sw_complaints *complaints) {
    sw_status status = sw_find_map(out, scenario, options->allow_unknown || scenario->allow_unknown,
                                   allowance_of(options), complaints);
    if (status == SW_OK)
        (*out)->answer->asked_to_stop = is_halted(options);
    return status;
}

sw_plan_options sw_plan_options_default(void) {
    return (sw_plan_options){.seconds = 60, .best = 1, .curve_to = -1};
}

void sw_run_free(sw_run *job) {
    sw_setup_free(&job->setup);
    sw_calibration_free(job->learnt);
    *job = (sw_run){0};
}
