/* Where the curve bends: the step that lies farthest from the chord, of a kind of its own; and
 * the bundle beside it that the other options can be reached from without giving a part up. */
#include "answer/options.h"

/* A bundle is of the same kind when the same roles get other parts. */
static bool same_kind(const sw_program *program, const int *a, const int *b) {
    for (size_t g = 0; g < program->group_count; g++)
        if ((program->picks[a[g]].swaps > 0) != (program->picks[b[g]].swaps > 0))
            return false;
    return true;
}

/* How far a step lies from the chord, but for a factor that all steps share; below 0 where
 * the numbers are beyond telling. */
static int64_t bend_of(const sw_answer_bundle *from, const sw_answer_bundle *to,
                       const sw_answer_bundle *step) {
    int64_t rise, run;
    if (!sw_multiply(&rise, step->points - from->points, to->cost - from->cost) ||
        !sw_multiply(&run, step->cost - from->cost, to->points - from->points))
        return -1;
    return rise - run;
}

/* What the first option ends, the dearer ones of the way end too. */
static bool ends_as_first(const sw_option_job *job, const int *first, const int *picks) {
    const sw_option *option = &job->out->options[0];
    return first == NULL || option->rule != SW_OPTION_ENDS_COMPLAINT ||
           sw_option_ends(job, option->trouble, picks);
}

typedef struct bend_search {
    const sw_option_job *job;
    const int *first, *full; /* picks; first may be NULL */
    const sw_answer_bundle *from, *to, *above;
} bend_search;

static bool is_candidate(const bend_search *s, size_t i) {
    const sw_answer_bundle *step = &s->job->out->curve->bundles[i];
    const sw_program *program = s->job->setup->program;
    const int *picks = s->job->steps[i];
    return step->cost > s->above->cost && step->points > s->above->points &&
           step->cost < s->to->cost && !same_kind(program, picks, s->full) &&
           (s->first == NULL || !same_kind(program, picks, s->first)) &&
           ends_as_first(s->job, s->first, picks);
}

/* The step with the largest bend; SIZE_MAX: none. */
static size_t find_bend(const bend_search *s, bool any) {
    size_t found = SIZE_MAX;
    int64_t most = 0;
    for (size_t i = s->job->first_step; i <= s->job->best_step; i++) {
        int64_t bend = bend_of(s->from, s->to, &s->job->out->curve->bundles[i]);
        if (bend <= most || !(any || is_candidate(s, i)))
            continue;
        most = bend;
        found = i;
    }
    return found;
}

static bool *bar_all_but_nested(const bend_search *s) {
    const sw_program *program = s->job->setup->program;
    bool *barred = SW_NEW(program->arena, bool, program->pick_count);
    for (size_t g = 0; barred != NULL && g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        bool held = s->first != NULL && program->picks[s->first[g]].swaps > 0;
        int first = s->first == NULL ? SW_NONE : program->picks[s->first[g]].parts_rank;
        int full = program->picks[s->full[g]].parts_rank;
        for (int p = group->first; p < group->first + group->count; p++) {
            const sw_pick *pick = &program->picks[p];
            barred[p] =
                held ? pick->parts_rank != first : pick->swaps > 0 && pick->parts_rank != full;
        }
    }
    return barred;
}

static sw_status find_nested(sw_option *out, const int **picks, const bend_search *s,
                             const sw_answer_bundle *middle) {
    sw_options *options = s->job->out;
    sw_program *program = s->job->setup->program;
    sw_solution found;
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    request.limit = sw_bill_limit(s->job->scenario, middle->cost);
    request.barred = bar_all_but_nested(s);
    if (request.barred == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_solve(&found, program, &request, s->job->inquiry->allowance,
                                s->job->inquiry->complaints);
    /* One that was not looked for to its end might have been it. */
    out->proved = out->proved && (status != SW_OK || found.end != SW_END_EARLY);
    if (status != SW_OK || !found.found)
        return status;
    status = sw_bundle_describe(&options->nested, options->plan, program, found.picks,
                                s->job->inquiry->baseline);
    if (status != SW_OK)
        return status;
    int64_t least = 0;
    options->has_nested = true;
    options->nested_loss = middle->points - options->nested.points;
    bool small =
        sw_multiply(&least, s->to->points, s->job->scenario->catalog->paper.nest_share_milli) &&
        options->nested_loss * 1000 <= least;
    options->nested_taken = small && options->nested.points > s->above->points &&
                            !same_kind(program, found.picks, s->full) &&
                            (s->first == NULL || !same_kind(program, found.picks, s->first)) &&
                            ends_as_first(s->job, s->first, found.picks);
    if (!options->nested_taken)
        return SW_OK;
    out->rule = SW_OPTION_NESTED_BEND;
    *picks = found.picks;
    return SW_OK;
}

sw_status sw_option_middle(sw_option *out, const int **picks, sw_option_job *job, const int *first,
                           const int *full) {
    const sw_answer *curve = job->out->curve;
    *picks = NULL;
    *out = (sw_option){
        .place = SW_MIDDLE, .rule = SW_OPTION_BEND, .proved = curve->status == SW_OPTIMAL};
    if (curve->bundle_count == 0)
        return SW_OK;
    const sw_answer_bundle *from = &curve->bundles[job->first_step];
    bend_search search = {.job = job,
                          .first = first,
                          .full = full,
                          .from = from,
                          .to = &job->out->plan->bundles[0],
                          .above = first == NULL ? from : &job->out->options[0].bundle};
    size_t knee = find_bend(&search, true), middle = find_bend(&search, false);
    job->out->knee = knee == SIZE_MAX ? NULL : &curve->bundles[knee];
    if (middle == SIZE_MAX)
        return SW_OK;
    *picks = job->steps[middle];
    return find_nested(out, picks, &search, &curve->bundles[middle]);
}
