/* Puts the questions about one part, one after another. */
#include "answer/why.h"

#include <string.h>

#include "answer/conflict.h"
#include "answer/stage.h"

bool sw_holds(const sw_fitouts *fitouts, int fitout, const char *part) {
    const sw_fitout *of = &fitouts->fitouts[fitout];
    const sw_scenario *scenario = fitouts->scenario;
    for (int i = 0; i < of->added_count; i++)
        if (strcmp(scenario->parts[of->added[i].part].id, part) == 0)
            return true;
    for (size_t i = 0; i < scenario->machine_count[of->role]; i++)
        if (of->kept[i] > 0 &&
            strcmp(scenario->parts[scenario->machine[of->role][i].part].id, part) == 0)
            return true;
    return false;
}

bool *sw_bar_holders(const sw_program *program, int role, const char *part, bool holding) {
    bool *barred = SW_NEW(program->arena, bool, program->pick_count);
    for (size_t p = 0; barred != NULL && p < program->pick_count; p++)
        barred[p] = program->groups[program->picks[p].group].role == role &&
                    sw_holds(program->fitouts, program->picks[p].fitout, part) == holding;
    return barred;
}

/* ---- what stands in its way ---------------------------------------------------------- */

static sw_status add_left_out(sw_why *why, const char *reason, const char *fact,
                              const char *meaning) {
    sw_why_left_out *out = &why->left_out[why->left_out_count++];
    out->why = reason;
    out->fact = fact == NULL ? NULL : sw_arena_copy(why->arena, fact);
    out->meaning = meaning == NULL ? NULL : sw_arena_copy(why->arena, meaning);
    return fact != NULL && (out->fact == NULL || out->meaning == NULL) ? SW_NO_MEMORY : SW_OK;
}

static sw_status find_left_out(sw_why *why, const sw_why_job *job, const sw_fitouts *fitouts) {
    static const char *const words[] = {[SW_OUT_TOO_LATE] = "too-late",
                                        [SW_OUT_NO_STOCK] = "no-stock",
                                        [SW_OUT_AVOIDED] = "avoided",
                                        [SW_OUT_UNKNOWN] = "unknown"};
    const sw_part *parts = job->scenario->parts;
    bool sold = why->present;
    why->left_out = SW_NEW(why->arena, sw_why_left_out, fitouts->left_out_count + 2);
    if (why->left_out == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t i = 0; i < fitouts->left_out_count && status == SW_OK; i++) {
        const sw_left_out *out = &fitouts->left_out[i];
        if (strcmp(parts[out->part].id, job->part) != 0)
            continue;
        sold = true;
        const sw_fact *fact = out->fact == SW_NONE ? NULL : &fitouts->catalog->facts[out->fact];
        status = add_left_out(why, words[out->why], fact == NULL ? NULL : fact->name,
                              fact == NULL ? NULL : fact->meaning);
    }
    int stock = 0, least = job->scenario->catalog->roles[job->role].counts[0];
    for (size_t i = 0; i < fitouts->source_count; i++)
        if (strcmp(parts[fitouts->sources[i].part].id, job->part) == 0)
            stock = fitouts->sources[i].stock > stock ? fitouts->sources[i].stock : stock;
    /* Fewer than a role takes at once are no help. */
    if (status == SW_OK && stock > 0 && stock < least && !why->present)
        return add_left_out(why, words[SW_OUT_NO_STOCK], NULL, NULL);
    sold = sold || stock > 0;
    return status == SW_OK && !sold ? add_left_out(why, "not-sold", NULL, NULL) : status;
}

/* ---- bundles with it and without it ----------------------------------------------------- */

static sw_status ask(sw_answer_other *out, const int **picks, sw_why *why,
                     const sw_inquiry *inquiry, sw_request request, const bool *barred) {
    request.barred = barred;
    if (barred == NULL)
        return SW_NO_MEMORY;
    return sw_ask_other(out, picks, why->answer, inquiry, &request);
}

static bool changes_parts(const sw_program *program, int pick, int base) {
    return program->picks[pick].parts_rank != program->picks[base].parts_rank;
}

/* The other roles that must change so that it can be in at all. */
static sw_status find_along(sw_why *why, const sw_why_job *job, const sw_inquiry *inquiry,
                            const int *cheapest) {
    const sw_program *program = inquiry->program;
    const sw_role *roles = program->fitouts->catalog->roles;
    why->along = SW_NEW(why->arena, const char *, program->group_count);
    why->along_names = SW_NEW(why->arena, const char *, program->group_count);
    if (why->along == NULL || why->along_names == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++) {
        if (program->groups[g].role == job->role ||
            !changes_parts(program, cheapest[g], inquiry->baseline[g]))
            continue;
        const char *id = sw_arena_copy(why->arena, roles[program->groups[g].role].id);
        const char *name = sw_arena_copy(why->arena, roles[program->groups[g].role].name);
        if (id == NULL || name == NULL)
            return SW_NO_MEMORY;
        why->along[why->along_count] = id;
        why->along_names[why->along_count++] = name;
    }
    return SW_OK;
}

static sw_status find_cheapest(sw_why *why, const sw_why_job *job, const sw_inquiry *inquiry) {
    const int *picks;
    sw_request request = sw_request_for(inquiry->program, SW_AIM_CHEAPEST);
    request.limit = SW_NO_LIMIT;
    sw_status status = ask(&why->cheapest, &picks, why, inquiry, request,
                           sw_bar_holders(inquiry->program, job->role, job->part, false));
    return status == SW_OK && picks != NULL ? find_along(why, job, inquiry, picks) : status;
}

/* The best bundle is one of the two: with it or without it. */
static sw_status find_sides(sw_why *why, const sw_why_job *job, const sw_inquiry *inquiry,
                            const int *best, const int **without) {
    const int role = job->role, *picks;
    const sw_program *program = inquiry->program;
    sw_request request = sw_request_for(program, SW_AIM_BEST);
    bool in = false;
    for (size_t g = 0; g < program->group_count; g++)
        in = in || (program->groups[g].role == role &&
                    sw_holds(program->fitouts, program->picks[best[g]].fitout, job->part));
    sw_answer_other same = {&why->answer->bundles[0], false};
    *without = best;
    if (in) {
        why->standing = SW_STANDS_IN;
        why->with = same;
        return ask(&why->without, without, why, inquiry, request,
                   sw_bar_holders(program, role, job->part, true));
    }
    why->without = same;
    sw_status status = ask(&why->with, &picks, why, inquiry, request,
                           sw_bar_holders(program, role, job->part, false));
    why->standing = why->with.bundle != NULL       ? SW_STANDS_BEATEN
                    : why->cheapest.bundle != NULL ? SW_STANDS_DEAR
                                                   : SW_STANDS_NEVER;
    return status;
}

/* Holders of `out` are barred, and so is all of `in`'s role that does not hold it. */
static sw_status ask_one_over(sw_answer_other *out, sw_why *why, const sw_inquiry *inquiry,
                              const sw_part *in, const sw_part *not_in) {
    const int *picks;
    const sw_program *program = inquiry->program;
    bool *barred = sw_bar_holders(program, in->role, in->id, false);
    bool *other = sw_bar_holders(program, not_in->role, not_in->id, true);
    for (size_t p = 0; barred != NULL && other != NULL && p < program->pick_count; p++)
        barred[p] = barred[p] || other[p];
    return ask(out, &picks, why, inquiry, sw_request_for(program, SW_AIM_BEST),
               other == NULL ? NULL : barred);
}

static sw_status find_over(sw_why *why, const sw_inquiry *inquiry, const sw_part *part,
                           const sw_part *over) {
    why->over.part = sw_arena_copy(why->arena, over->id);
    why->over.name = sw_arena_copy(why->arena, over->name);
    if (why->over.part == NULL || why->over.name == NULL)
        return SW_NO_MEMORY;
    sw_status status = ask_one_over(&why->over.this, why, inquiry, part, over);
    return status == SW_OK ? ask_one_over(&why->over.other, why, inquiry, over, part) : status;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static sw_status find_trial(sw_why *why, const sw_why_job *job, int part) {
    const sw_role *role = &job->scenario->catalog->roles[job->role];
    sw_asked asked = {part, role->counts[0]};
    if (why->present)
        return SW_OK;
    /* What is wrong with a trial is no matter of this question: then there is none. */
    sw_complaints *aside = sw_complaints_new();
    if (aside == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_find_fits(&why->trial, job->scenario, &asked, 1, job->allow_unknown,
                                    job->allowance, aside);
    sw_complaints_free(aside);
    return status == SW_BAD_DATA ? SW_OK : status;
}

static sw_status tell_part(sw_why *why, const sw_why_job *job, int part) {
    const sw_scenario *scenario = job->scenario;
    const sw_role *role = &scenario->catalog->roles[job->role];
    why->part = sw_arena_copy(why->arena, scenario->parts[part].id);
    why->name = sw_arena_copy(why->arena, scenario->parts[part].name);
    why->role = sw_arena_copy(why->arena, role->id);
    why->role_name = sw_arena_copy(why->arena, role->name);
    for (size_t i = 0; i < scenario->machine_count[job->role]; i++)
        why->present =
            why->present ||
            strcmp(scenario->parts[scenario->machine[job->role][i].part].id, job->part) == 0;
    bool all =
        why->part != NULL && why->name != NULL && why->role != NULL && why->role_name != NULL;
    return all ? SW_OK : SW_NO_MEMORY;
}

/* All that is asked of the job as it is; `without` for the entry prices. */
static sw_status tell_bundles(sw_why *why, const sw_why_job *job, sw_setup *setup, int over,
                              const int *baseline, int part, const int **without) {
    sw_inquiry inquiry = {setup->program, baseline, job->allowance, job->complaints, false};
    const sw_part *parts = job->scenario->parts;
    const int *best = NULL;
    sw_status status = sw_setup_score(setup, baseline);
    if (status == SW_OK)
        status = sw_program_presolve(setup->program);
    if (status == SW_OK)
        status = sw_find_ranked(why->answer, &inquiry, 1, 0, &best);
    if (status != SW_OK || why->answer->status != SW_OPTIMAL)
        return status;
    status = find_cheapest(why, job, &inquiry);
    if (status == SW_OK)
        status = find_sides(why, job, &inquiry, best, without);
    if (status == SW_OK && over != SW_NONE)
        status = find_over(why, &inquiry, &parts[part], &parts[over]);
    int *machine = SW_NEW(why->arena, int, setup->program->group_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < setup->program->group_count; g++)
        machine[g] = setup->program->picks[best[g]].fitout;
    return status == SW_OK ? sw_answer_finish(why->answer, setup->fitouts, setup->book,
                                              setup->estimates, machine)
                           : status;
}

/* Weights change nothing of what obeys. */
static bool keeps_out(const sw_why *why) {
    return (why->standing == SW_STANDS_NEVER && !why->cheapest.open) ||
           (why->standing == SW_STANDS_DEAR && !why->with.open);
}

static sw_status tell(sw_why *why, const sw_why_job *job, sw_setup *setup, int part, int over) {
    sw_solution baseline;
    sw_request request = sw_request_for(setup->program, SW_AIM_CHEAPEST);
    sw_status status =
        sw_solve(&baseline, setup->program, &request, job->allowance, job->complaints);
    if (status != SW_OK || !baseline.found) {
        why->answer->status =
            status == SW_OK && baseline.end == SW_END_EARLY ? SW_STOPPED_EARLY : SW_NOTHING_FITS;
        return status;
    }
    const int *without = NULL;
    status = tell_bundles(why, job, setup, over, baseline.picks, part, &without);
    if (status == SW_OK)
        status = find_left_out(why, job, setup->fitouts);
    if (status != SW_OK || why->answer->status != SW_OPTIMAL)
        return status;
    status = find_trial(why, job, part);
    why->kept_out = keeps_out(why);
    bool never = why->kept_out && why->standing == SW_STANDS_NEVER;
    if (status == SW_OK && !why->without.open)
        status = sw_find_entry(&why->entry, why->arena, job, setup, without, baseline.picks, never);
    if (status == SW_OK && why->standing == SW_STANDS_NEVER && !why->cheapest.open)
        status = sw_find_refusal(&why->refusal, why->arena, job);
    return status == SW_OK ? sw_find_weights(why, job) : status;
}

static bool open_somewhere(const sw_why *why) {
    bool open = why->answer->unsettled || !why->entry.settled || !why->refusal.settled ||
                (why->trial != NULL && why->trial->unsettled);
    for (size_t i = 0; i < why->weight_count; i++)
        open = open || why->weights[i].open_count > 0;
    return open;
}

sw_status sw_find_why(sw_why **out, const sw_scenario *scenario, int part, int over,
                      bool allow_unknown, sw_allowance allowance, sw_complaints *complaints) {
    sw_answer *answer = NULL;
    sw_setup setup = {0};
    sw_why_job job = {
        scenario,  scenario->parts[part].id, scenario->parts[part].role, allow_unknown, allowance,
        complaints};
    sw_status status = sw_answer_start(&answer, scenario);
    sw_why *why = status == SW_OK ? SW_NEW(answer->arena, sw_why, 1) : NULL;
    if (why == NULL) {
        sw_answer_free(answer);
        return status == SW_OK ? SW_NO_MEMORY : status;
    }
    why->answer = answer;
    why->arena = answer->arena;
    why->entry.settled = why->refusal.settled = true;
    status = tell_part(why, &job, part);
    if (status == SW_OK)
        status = sw_setup_make(&setup, scenario, allow_unknown, NULL, complaints);
    if (status == SW_OK)
        status = tell(why, &job, &setup, part, over);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == 0)
        sw_complain_of_sites(scenario, complaints);
    sw_setup_free(&setup);
    answer->unsettled = open_somewhere(why);
    if (status == SW_OK)
        *out = why;
    else
        sw_why_free(why);
    return status;
}

sw_answer_status sw_why_get_status(const sw_why *why) { return why->answer->status; }

bool sw_why_is_settled(const sw_why *why) { return !why->answer->unsettled; }

void sw_why_free(sw_why *why) {
    if (why == NULL)
        return;
    sw_fits_free(why->trial);
    sw_answer_free(why->answer); /* the arena holds `why` itself */
}
