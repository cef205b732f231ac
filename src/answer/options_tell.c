/* What is told of an option beside its bundle: what it promises, what stays, what comes next. */
#include <string.h>

#include "answer/best.h"
#include "answer/learning.h"
#include "answer/options.h"

static const char *copy(const sw_option_job *job, const char *text, bool *failed) {
    const char *out = sw_arena_copy(job->out->plan->arena, text);
    *failed = *failed || out == NULL;
    return out;
}

/* ---- what is promised ------------------------------------------------------------------- */

static sw_status tell_promise(sw_option *option, const sw_option_job *job, const int *machine) {
    const sw_setup *setup = job->setup;
    const sw_catalog *catalog = setup->fitouts->catalog;
    sw_arena *arena = job->out->plan->arena;
    bool *luck = SW_NEW(arena, bool, catalog->task_count);
    int *sure = SW_NEW(arena, int, catalog->role_count);
    if (luck == NULL || sure == NULL)
        return SW_NO_MEMORY;
    for (size_t t = 0; t < catalog->task_count; t++)
        luck[t] = catalog->tasks[t].chance;
    sw_status status = sw_machine_without(sure, setup->fitouts, arena, machine, luck);
    for (size_t r = 0; r < catalog->role_count && status == SW_OK; r++)
        option->has_chance = option->has_chance || sure[r] != machine[r];
    option->sure = sure;
    if (status == SW_OK)
        status = sw_rates_describe(&option->promised, &option->promised_count, arena,
                                   setup->estimates, sure);
    if (status == SW_OK)
        sw_learn_rates(option->promised, option->promised_count, catalog, job->out->plan->learnt);
    return status;
}

/* ---- what stays ---------------------------------------------------------------------------- */

static const sw_answer_swap *swap_of(const sw_answer_bundle *bundle, const char *role) {
    for (size_t i = 0; i < bundle->swap_count; i++)
        if (strcmp(bundle->swaps[i].role, role) == 0)
            return &bundle->swaps[i];
    return NULL;
}

static sw_status tell_stays(sw_option *option, const sw_option_job *job) {
    const sw_options *out = job->out;
    option->stays = SW_NEW(out->plan->arena, sw_holding, out->present_count);
    if (option->stays == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < out->present_count; i++) {
        sw_holding holding = out->present[i];
        const sw_answer_swap *swap = swap_of(&option->bundle, holding.role);
        if (swap != NULL) {
            holding.parts = swap->stays;
            holding.count = swap->stay_count;
        }
        if (holding.count > 0)
            option->stays[option->stay_count++] = holding;
    }
    return SW_OK;
}

/* ---- what is given up later ------------------------------------------------------------------ */

static int held_in(const sw_answer_bundle *bundle, const char *role, const char *part) {
    const sw_answer_swap *swap = swap_of(bundle, role);
    int count = 0;
    for (size_t i = 0; swap != NULL && i < swap->in_count; i++)
        count += strcmp(swap->in[i].id, part) == 0 ? swap->in[i].count : 0;
    return count;
}

static size_t bought_count(const sw_answer_bundle *bundle) {
    size_t count = 0;
    for (size_t i = 0; i < bundle->swap_count; i++)
        count += bundle->swaps[i].in_count;
    return count;
}

static sw_status tell_given_up(sw_option *option, const sw_option_job *job, size_t to) {
    const sw_answer_bundle *from = &option->bundle, *dearer = &job->out->options[to].bundle;
    sw_given_up *out = &option->given_up[option->given_up_count++];
    out->to = to;
    out->parts = SW_NEW(job->out->plan->arena, sw_answer_part, bought_count(from));
    if (out->parts == NULL)
        return SW_NO_MEMORY;
    for (size_t s = 0; s < from->swap_count; s++)
        for (size_t i = 0; i < from->swaps[s].in_count; i++) {
            sw_answer_part part = from->swaps[s].in[i];
            int gone = part.count - held_in(dearer, from->swaps[s].role, part.id);
            if (gone <= 0 || strcmp(part.seller, "client") == 0)
                continue;
            part.price = part.price / part.count * gone;
            part.count = gone;
            out->price += part.price;
            out->parts[out->count++] = part;
        }
    return SW_OK;
}

/* ---- the curve from here -----------------------------------------------------------------------
 */

static bool still_ends(const sw_option *option, const sw_option_job *job, size_t step) {
    return option->rule != SW_OPTION_ENDS_COMPLAINT ||
           sw_option_ends(job, option->trouble, job->steps[step]);
}

/* Nothing where the curve is not complete: what is not known may not look like nothing. */
static void tell_next(sw_option *option, const sw_option_job *job) {
    const sw_answer *curve = job->out->curve;
    int64_t sum = option->bundle.cost + sw_hundred(curve);
    for (size_t i = 0; i < curve->bundle_count && curve->status == SW_OPTIMAL; i++) {
        const sw_answer_bundle *step = &curve->bundles[i];
        bool more = step->points > option->bundle.points;
        if (more && step->cost <= option->bundle.cost && !still_ends(option, job, i))
            option->instead = step;
        if (option->next == NULL && step->cost > option->bundle.cost && more) {
            option->next = step;
            option->next_ends = still_ends(option, job, i);
        }
        if (sum <= curve->curve_to && step->cost <= sum)
            option->hundred = step;
    }
}

/* ---- looks --------------------------------------------------------------------------------------
 */

static double match_of(const sw_option_job *job, const sw_criterion *looks, size_t criterion,
                       const int *machine) {
    double all = 0, sum = 0;
    for (size_t s = 0; s < looks->shows_count; s++) {
        double weight = (double)looks->shows[s].weight_milli;
        all += weight;
        sum += weight *
               sw_looks_match(job->setup->estimates, (int)criterion, machine[looks->shows[s].role]);
    }
    return all > 0 ? sum / all : 1;
}

/* Of the first criterion of looks, as complaints are judged by it. */
static void tell_looks(sw_option *option, const sw_option_job *job, const int *machine) {
    const sw_catalog *catalog = job->scenario->catalog;
    for (size_t c = 0; c < catalog->criterion_count && !option->has_looks; c++) {
        if (catalog->criteria[c].kind != SW_LOOKS || job->scenario->weights[c] <= 0)
            continue;
        double now = match_of(job, &catalog->criteria[c], c, job->setup->fitouts->present);
        double then = match_of(job, &catalog->criteria[c], c, machine);
        option->has_looks = true;
        option->looks_nearer = now < 1 ? (then - now) / (1 - now) : 0;
    }
}

/* ---- days, hazards, questions -------------------------------------------------------------------
 */

static int days_without(const sw_answer_bundle *bundle, const sw_paper *paper) {
    int64_t minutes = bundle->minutes;
    if (bundle->swap_count == 0 && bundle->task_count == 0)
        return 0;
    for (size_t i = 0; i < bundle->due_count; i++)
        minutes -= bundle->dues[i].errand ? bundle->dues[i].minutes : 0;
    int64_t days = (minutes + paper->bench_minutes_a_day - 1) / paper->bench_minutes_a_day;
    return (int)(days + paper->test_days);
}

static sw_truth truth_in(const sw_option_job *job, const sw_cond *cond, const int *machine) {
    const sw_fitouts *fitouts = job->setup->fitouts;
    return sw_cond_truth(fitouts, cond,
                         cond->role == SW_NONE ? NULL : &fitouts->fitouts[machine[cond->role]]);
}

static bool bought_with(const sw_answer_bundle *bundle, const sw_ask_when *when) {
    for (size_t s = 0; s < bundle->swap_count; s++)
        for (size_t i = 0; i < bundle->swaps[s].in_count; i++) {
            const sw_answer_part *part = &bundle->swaps[s].in[i];
            bool given = part->warranty_months < 0;
            bool so = when->how == SW_ASK_GIVEN      ? given
                      : when->how == SW_ASK_WARRANTY ? !given && part->warranty_months <= when->most
                                                     : !given && part->return_days <= when->most;
            if (so)
                return true;
        }
    return false;
}

static bool is_asked(const sw_option_job *job, const sw_answer_bundle *bundle, const sw_ask *ask,
                     const int *machine) {
    for (size_t i = 0; i < ask->any_count; i++) {
        const sw_ask_when *when = &ask->any[i];
        if (when->how == SW_ASK_COND ? truth_in(job, &when->cond, machine) == SW_TRUE
                                     : bought_with(bundle, when))
            return true;
    }
    return false;
}

static sw_status tell_paper(sw_option *option, const sw_option_job *job, const int *machine) {
    const sw_catalog *catalog = job->setup->fitouts->catalog;
    sw_arena *arena = job->out->plan->arena;
    option->hazards = SW_NEW(arena, bool, catalog->hazard_count);
    option->asks = SW_NEW(arena, bool, catalog->paper.ask_count);
    if (option->hazards == NULL || option->asks == NULL)
        return SW_NO_MEMORY;
    for (size_t h = 0; h < catalog->hazard_count; h++)
        for (size_t i = 0; i < catalog->hazards[h].any_count; i++)
            option->hazards[h] = option->hazards[h] ||
                                 truth_in(job, &catalog->hazards[h].any[i], machine) != SW_FALSE;
    for (size_t a = 0; a < catalog->paper.ask_count; a++)
        option->asks[a] = is_asked(job, &option->bundle, &catalog->paper.asks[a], machine);
    option->days_without = days_without(&option->bundle, &catalog->paper);
    return SW_OK;
}

sw_status sw_option_tell(sw_option_job *job, size_t index) {
    sw_options *out = job->out;
    sw_option *option = &out->options[index];
    const sw_program *program = job->setup->program;
    int *machine = SW_NEW(out->plan->arena, int, program->group_count);
    option->ends = SW_NEW(out->plan->arena, bool, out->trouble_count);
    if (machine == NULL || option->ends == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] = program->picks[job->picks[index][g]].fitout;
    option->machine = machine;
    for (size_t t = 0; t < out->trouble_count; t++)
        option->ends[t] = sw_demands_met(&job->demands[t], job->setup->estimates, machine);
    sw_status status = tell_promise(option, job, machine);
    if (status == SW_OK)
        status = tell_stays(option, job);
    if (status == SW_OK)
        status = tell_paper(option, job, machine);
    for (size_t to = 0; to < out->count && status == SW_OK; to++)
        if (out->options[to].bundle.cost > option->bundle.cost)
            status = tell_given_up(option, job, to);
    tell_next(option, job);
    tell_looks(option, job, machine);
    return status;
}

/* ---- the shop's terms
 * ------------------------------------------------------------------------------ */

static const char **sentences(const sw_option_job *job, const char *const *list, size_t count,
                              bool *failed) {
    const char **out = SW_NEW(job->out->plan->arena, const char *, count);
    *failed = *failed || out == NULL;
    for (size_t i = 0; out != NULL && i < count; i++)
        out[i] = copy(job, list[i], failed);
    return out;
}

static void tell_hazards(sw_terms *terms, const sw_option_job *job, bool *failed) {
    const sw_catalog *catalog = job->scenario->catalog;
    terms->hazards = SW_NEW(job->out->plan->arena, sw_told_hazard, catalog->hazard_count);
    *failed = *failed || terms->hazards == NULL;
    for (size_t h = 0; h < catalog->hazard_count && !*failed; h++) {
        const sw_hazard *of = &catalog->hazards[h];
        terms->hazards[terms->hazard_count++] =
            (sw_told_hazard){copy(job, of->id, failed), copy(job, of->danger, failed),
                             copy(job, of->habit, failed), copy(job, of->limit, failed)};
    }
}

static void tell_drawing(sw_terms *terms, const sw_option_job *job, bool *failed) {
    const sw_catalog *catalog = job->scenario->catalog;
    terms->drawing = SW_NEW(job->out->plan->arena, sw_told_place, catalog->paper.drawn_count);
    *failed = *failed || terms->drawing == NULL;
    for (size_t i = 0; i < catalog->paper.drawn_count && !*failed; i++) {
        const sw_drawn *of = &catalog->paper.drawing[i];
        terms->drawing[terms->drawn_count++] =
            (sw_told_place){copy(job, catalog->roles[of->role].id, failed),
                            copy(job, of->label, failed),
                            of->x,
                            of->y,
                            of->width,
                            of->height};
    }
}

sw_status sw_terms_tell(sw_options *out, const sw_scenario *scenario) {
    const sw_option_job job = {.out = out, .scenario = scenario};
    const sw_paper *paper = &scenario->catalog->paper;
    sw_terms *terms = &out->terms;
    bool failed = false;
    terms->shop = copy(&job, paper->shop, &failed);
    terms->date = copy(&job, scenario->date, &failed);
    terms->valid_days = paper->valid_days;
    terms->valid_until =
        scenario->day < 0 ? "" : sw_date_text(out->plan->arena, scenario->day + paper->valid_days);
    if (scenario->surprise != SW_NONE) {
        const sw_surprise *surprise = &paper->surprises[scenario->surprise];
        terms->surprise_name = copy(&job, surprise->name, &failed);
        terms->free_to = sentences(&job, surprise->free_to, surprise->free_count, &failed);
        terms->word = sentences(&job, surprise->word, surprise->word_count, &failed);
        terms->free_count = surprise->free_count;
        terms->word_count = surprise->word_count;
    }
    terms->ask_ids = SW_NEW(out->plan->arena, const char *, paper->ask_count);
    terms->asks = SW_NEW(out->plan->arena, const char *, paper->ask_count);
    if (terms->ask_ids == NULL || terms->asks == NULL || terms->valid_until == NULL)
        return SW_NO_MEMORY;
    for (size_t a = 0; a < paper->ask_count; a++) {
        terms->ask_ids[a] = copy(&job, paper->asks[a].id, &failed);
        terms->asks[a] = copy(&job, paper->asks[a].words, &failed);
    }
    terms->ask_count = paper->ask_count;
    terms->promises = sentences(&job, paper->promises, paper->promise_count, &failed);
    terms->promise_count = paper->promise_count;
    tell_hazards(terms, &job, &failed);
    tell_drawing(terms, &job, &failed);
    return failed ? SW_NO_MEMORY : SW_OK;
}
