/* The whole of the shopping: what was agreed, or what is left of it today. */
#include "answer/shopping.h"

#include <string.h>

static void note_allowances(sw_shopping *out, const sw_scenario *agreed) {
    const sw_paper *paper = &agreed->catalog->paper;
    if (agreed->surprise == SW_NONE)
        return;
    const sw_surprise *surprise = &paper->surprises[agreed->surprise];
    out->allows_seller = surprise->allows_seller;
    out->allows_as_good = surprise->allows_as_good;
    out->allows_part = surprise->allows_part;
}

/* Days that went by between the two jobs, where both have a date. */
static int days_between(const sw_scenario *agreed, const sw_scenario *today) {
    return agreed->day < 0 || today->day < 0 ? 0 : (int)(today->day - agreed->day);
}

/* The frame that bundles of today's job are told in. */
static sw_status start_today(sw_shopping_job *job) {
    sw_shopping *out = job->out;
    const sw_estimates *estimates = job->setup->estimates;
    sw_status status = sw_answer_start(&out->today, job->scenario);
    if (status != SW_OK)
        return status;
    sw_sound sound = sw_sound_of(estimates, job->setup->fitouts->present);
    out->today->has_sound = estimates->quiet != SW_NONE;
    out->today->level_now_dba = sound.level_dba;
    out->today->loudness_now_sone = sound.loudness_sone;
    out->today->status = SW_OPTIMAL;
    return SW_OK;
}

sw_status sw_find_shopping(sw_shopping_job *job) {
    sw_shopping *out = job->out;
    const sw_scenario *scenario = job->scenario;
    sw_status status = SW_OK;
    note_allowances(out, job->agreed);
    out->later_by = days_between(job->agreed, scenario);
    out->date = scenario->date[0] == '\0' ? NULL : sw_arena_copy(out->arena, scenario->date);
    if (out->date == NULL && scenario->date[0] != '\0')
        return SW_NO_MEMORY;
    if (job->setup == NULL) {
        out->taken = &out->option->bundle;
        return sw_shopping_orders(job);
    }
    status = start_today(job);
    if (status == SW_OK)
        status = sw_shopping_ways(job);
    if (status == SW_OK && out->taken != NULL)
        status = sw_shopping_changes(job);
    return status == SW_OK && out->taken != NULL ? sw_shopping_orders(job) : status;
}

void sw_shopping_free(sw_shopping *shopping) {
    if (shopping == NULL)
        return;
    sw_answer_free(shopping->today);
    sw_options_free(shopping->options);
    sw_arena_free(shopping->arena);
}

sw_answer_status sw_shopping_get_status(const sw_shopping *shopping) {
    const sw_answer *plan = shopping->options->plan;
    if (plan->status != SW_OPTIMAL || shopping->taken != NULL)
        return plan->status;
    return shopping->option == NULL || shopping->way_open ? SW_STOPPED_EARLY : SW_NOTHING_FITS;
}

bool sw_shopping_is_settled(const sw_shopping *shopping) {
    bool settled = !shopping->options->plan->unsettled && !shopping->way_open;
    for (size_t i = 0; i < shopping->way_count; i++)
        settled = settled && shopping->ways[i].proved;
    return settled;
}
