/* Three options: the cheapest that ends the main complaint, the best there is for the budget, and
 * between them where the curve bends. */
#include "answer/options.h"

#define SW_CURVE_SHARE 0.75 /* of the time */

/* ---- the machine as it is ----------------------------------------------------------------- */

static const char *const condition_names[] = {"good", "worn", "failing", "unproven"};

static const char *copy(sw_options *out, const char *text, bool *failed) {
    const char *own = sw_arena_copy(out->plan->arena, text);
    *failed = *failed || own == NULL;
    return own;
}

static sw_status tell_present(sw_options *out, const sw_scenario *scenario) {
    const sw_catalog *catalog = scenario->catalog;
    bool failed = false;
    out->present = SW_NEW(out->plan->arena, sw_holding, catalog->role_count);
    if (out->present == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < catalog->role_count; r++) {
        size_t count = scenario->machine_count[r];
        if (count == 0)
            continue;
        sw_holding *holding = &out->present[out->present_count++];
        *holding = (sw_holding){.role = copy(out, catalog->roles[r].id, &failed),
                                .role_name = copy(out, catalog->roles[r].name, &failed),
                                .parts = SW_NEW(out->plan->arena, sw_answer_part, count)};
        if (holding->parts == NULL)
            return SW_NO_MEMORY;
        for (size_t i = 0; i < count; i++) {
            const sw_present *present = &scenario->machine[r][i];
            const sw_part *part = &scenario->parts[present->part];
            holding->parts[holding->count++] =
                (sw_answer_part){.id = copy(out, part->id, &failed),
                                 .name = copy(out, part->name, &failed),
                                 .count = present->count,
                                 .condition = condition_names[present->condition],
                                 .warranty_months = -1,
                                 .return_days = -1,
                                 .offer = present->offer * present->count,
                                 .hoped = present->hoped * present->count};
        }
    }
    return failed ? SW_NO_MEMORY : SW_OK;
}

static sw_status tell_troubles(sw_options *out, const sw_scenario *scenario) {
    const sw_catalog *catalog = scenario->catalog;
    bool failed = false;
    out->troubles = SW_NEW(out->plan->arena, sw_told_trouble, scenario->trouble_count);
    if (out->troubles == NULL)
        return SW_NO_MEMORY;
    for (size_t t = 0; t < scenario->trouble_count; t++) {
        const sw_stated_trouble *stated = &scenario->troubles[t];
        const sw_trouble *of = &catalog->troubles[stated->trouble];
        const sw_use *use =
            stated->use == SW_NONE ? NULL : &catalog->uses[scenario->uses[stated->use].use];
        out->troubles[t] =
            (sw_told_trouble){.id = copy(out, of->id, &failed),
                              .name = copy(out, of->name, &failed),
                              .goal = copy(out, of->goal, &failed),
                              .words = copy(out, stated->words, &failed),
                              .use = use == NULL ? NULL : copy(out, use->id, &failed),
                              .use_name = use == NULL ? NULL : copy(out, use->name, &failed),
                              .least = -1};
    }
    out->trouble_count = scenario->trouble_count;
    return failed ? SW_NO_MEMORY : SW_OK;
}

static sw_status start(sw_options **out, sw_answer *plan, const sw_scenario *scenario,
                       bool allow_unknown, sw_complaints *complaints) {
    sw_options *options = SW_NEW(plan->arena, sw_options, 1);
    if (options == NULL)
        return SW_NO_MEMORY;
    options->plan = plan;
    sw_status status = tell_present(options, scenario);
    if (status == SW_OK)
        status = tell_troubles(options, scenario);
    if (status == SW_OK)
        status = sw_terms_tell(options, scenario);
    if (status == SW_OK)
        status = sw_find_look(&options->look, scenario, allow_unknown, complaints);
    *out = options;
    return status;
}

/* ---- the options ---------------------------------------------------------------------------- */

static sw_status find_showing(sw_option_job *job) {
    const sw_setup *setup = job->setup;
    const sw_catalog *catalog = job->scenario->catalog;
    job->demands = SW_NEW(setup->program->arena, sw_demands, job->scenario->trouble_count);
    if (job->demands == NULL)
        return SW_NO_MEMORY;
    for (size_t t = 0; t < job->scenario->trouble_count; t++) {
        const sw_stated_trouble *stated = &job->scenario->troubles[t];
        sw_status status = sw_demands_make(&job->demands[t], setup->estimates, stated);
        if (status != SW_OK)
            return status;
        sw_told_trouble *told = &job->out->troubles[t];
        told->shows = !sw_demands_met(&job->demands[t], setup->estimates, setup->fitouts->present);
        const sw_trouble *of = &catalog->troubles[stated->trouble];
        for (size_t i = 0; i < of->end_count; i++)
            if (of->ends[i].how == SW_RELIEF_MUST) {
                told->shows = true;
                told->lacks_must = job->scenario->must_count == 0;
            }
    }
    return SW_OK;
}

static void free_demands(sw_option_job *job) {
    for (size_t t = 0; job->demands != NULL && t < job->scenario->trouble_count; t++)
        sw_demands_free(&job->demands[t]);
}

/* Up to where the curve is asked: a quarter over the budget, and a hundred at the least. */
static int64_t curve_end(const sw_answer *answer) {
    int64_t more = answer->budget / 4, hundred = sw_hundred(answer);
    more = more > hundred ? more : hundred;
    return answer->budget < INT64_MAX - more ? answer->budget + more : answer->budget;
}

static sw_status find_curve(sw_option_job *job) {
    sw_options *out = job->out;
    sw_status status = sw_answer_start(&out->curve, job->scenario);
    if (status == SW_OK)
        out->curve->learnt = out->plan->learnt;
    /* Where the time is short, some of it is left for the best bundle itself. */
    sw_inquiry inquiry = *job->inquiry;
    if (inquiry.allowance.now != NULL) {
        double now = inquiry.allowance.now();
        inquiry.allowance.ends = now + (inquiry.allowance.ends - now) * SW_CURVE_SHARE;
    }
    if (status == SW_OK)
        status = sw_find_steps(out->curve, &job->steps, &inquiry, 0, curve_end(out->plan));
    return status;
}

/* Where the curve is complete the best bundle is the last of its steps within the budget, and the
 * verdict stands on it; else both are asked for. */
static sw_status find_best(sw_option_job *job) {
    sw_answer *plan = job->out->plan, *curve = job->out->curve;
    sw_program *program = job->setup->program;
    size_t within = 0;
    while (within < curve->bundle_count && curve->bundles[within].cost <= plan->budget)
        within++;
    if (curve->status != SW_OPTIMAL || within == 0) {
        sw_status status = within == 0 ? SW_OK : sw_program_know(program, job->steps[within - 1]);
        if (status == SW_OK)
            status = sw_find_ranked(plan, job->inquiry, 1, 0, &job->best);
        return status == SW_OK && plan->status == SW_OPTIMAL
                   ? sw_find_verdict(plan, job->inquiry, job->best)
                   : status;
    }
    plan->bundles = SW_NEW(plan->arena, sw_answer_bundle, 1);
    if (plan->bundles == NULL)
        return SW_NO_MEMORY;
    job->best = job->steps[within - 1];
    plan->status = SW_OPTIMAL;
    sw_status status =
        sw_bundle_describe(plan->bundles, plan, program, job->best, job->inquiry->baseline);
    plan->bundle_count = status == SW_OK ? 1 : 0;
    return status == SW_OK ? sw_read_verdict(plan, job->inquiry, curve->bundles, within, job->best)
                           : status;
}

static void place_best(sw_option_job *job) {
    const sw_answer *curve = job->out->curve;
    while (job->best_step + 1 < curve->bundle_count &&
           curve->bundles[job->best_step + 1].cost <= job->out->plan->bundles[0].cost)
        job->best_step++;
}

static bool is_same(const sw_program *program, const int *a, const int *b) {
    for (size_t g = 0; g < program->group_count; g++)
        if (program->picks[a[g]].bundle_rank != program->picks[b[g]].bundle_rank)
            return false;
    return true;
}

static sw_status add(sw_option_job *job, sw_option option, const int *picks) {
    sw_options *out = job->out;
    size_t at = out->count++;
    job->picks[at] = picks;
    out->options[at] = option;
    return sw_bundle_describe(&out->options[at].bundle, out->plan, job->setup->program, picks,
                              job->inquiry->baseline);
}

static sw_status find_all(sw_option_job *job) {
    sw_options *out = job->out;
    sw_option first = {0}, middle = {0};
    sw_option full = {
        .place = SW_FULL, .rule = SW_OPTION_BEST, .proved = out->plan->status == SW_OPTIMAL};
    const int *first_picks = NULL, *middle_picks = NULL;
    sw_status status = sw_option_first(&first, &first_picks, job);
    if (status == SW_OK && first_picks != NULL &&
        is_same(job->setup->program, first_picks, job->best))
        first_picks = NULL;
    if (status == SW_OK && first_picks != NULL)
        status = add(job, first, first_picks);
    if (status == SW_OK)
        status = sw_option_middle(&middle, &middle_picks, job, first_picks, job->best);
    if (status == SW_OK && middle_picks != NULL)
        status = add(job, middle, middle_picks);
    if (status == SW_OK)
        status = add(job, full, job->best);
    for (size_t i = 0; i < out->count && status == SW_OK; i++)
        status = sw_option_tell(job, i);
    return status == SW_OK ? sw_option_troubles(job) : status;
}

static void settle(sw_options *out) {
    sw_answer *plan = out->plan;
    bool open = out->curve->status == SW_STOPPED_EARLY;
    for (size_t i = 0; i < out->count; i++)
        open = open || !out->options[i].proved;
    for (size_t t = 0; t < out->trouble_count; t++)
        open = open || (out->troubles[t].shows && !out->troubles[t].settled);
    plan->unsettled = plan->unsettled || open || out->curve->unsettled;
}

void sw_options_left_open(sw_options *options) {
    for (size_t i = 0; i < options->count; i++)
        options->options[i].proved = false;
    options->plan->status = SW_STOPPED_EARLY;
    options->plan->unsettled = true;
}

sw_status sw_find_options(sw_options **out, sw_answer *plan, const sw_setup *setup,
                          const sw_inquiry *inquiry) {
    const sw_scenario *scenario = setup->fitouts->scenario;
    sw_options *options = NULL;
    sw_status status =
        start(&options, plan, scenario, setup->book->allow_unknown, inquiry->complaints);
    sw_option_job job = {.out = options, .scenario = scenario, .setup = setup, .inquiry = inquiry};
    if (status == SW_OK)
        status = find_showing(&job);
    if (status == SW_OK)
        status = find_curve(&job);
    if (status == SW_OK)
        status = find_best(&job);
    if (status == SW_OK && job.best != NULL) {
        place_best(&job);
        status = find_all(&job);
    }
    free_demands(&job);
    if (status == SW_OK) {
        settle(options);
        *out = options;
    } else if (options != NULL) {
        sw_answer_free(options->curve);
        sw_look_free(options->look);
    }
    return status;
}

sw_status sw_find_no_options(sw_options **out, sw_answer *plan, const sw_setup *setup,
                             sw_complaints *complaints) {
    const sw_scenario *scenario = setup->fitouts->scenario;
    sw_status status = start(out, plan, scenario, setup->book->allow_unknown, complaints);
    sw_option_job job = {.out = *out, .scenario = scenario, .setup = setup};
    if (status == SW_OK)
        status = find_showing(&job);
    free_demands(&job);
    if (status != SW_OK && *out != NULL)
        sw_look_free((*out)->look);
    return status;
}

const sw_option *sw_option_signed(const sw_options *options, int number,
                                  sw_complaints *complaints) {
    if (options->count == 0)
        return NULL;
    if (number == 0 && options->count == 1)
        return &options->options[0];
    if (number >= 1 && (size_t)number <= options->count)
        return &options->options[number - 1];
    const char *why = options->count == 1   ? "this job has one option"
                      : options->count == 2 ? "this job has two options"
                                            : "this job has three options";
    const char *mend = options->count == 1   ? "write --option 1, or leave it out"
                       : options->count == 2 ? "write --option 1 or 2, as the client signed it"
                                             : "write --option 1, 2 or 3, as the client signed it";
    if (number == 0)
        sw_complain(complaints, "--option", "", why, mend, "is missing");
    else
        sw_complain(complaints, "--option", "", why, mend, "is %d", number);
    return NULL;
}

void sw_options_free(sw_options *options) {
    if (options == NULL)
        return;
    sw_answer_free(options->curve);
    sw_look_free(options->look);
    sw_answer_free(options->plan);
}

sw_answer_status sw_options_get_status(const sw_options *options) { return options->plan->status; }

bool sw_options_are_settled(const sw_options *options) { return !options->plan->unsettled; }
