/* Where things stand, which leads they take, and what goes and whose it is. */
#include "answer/bench.h"

#include <string.h>

#include "answer/stands.h"

static const char *const condition_names[] = {"good", "worn", "failing", "unproven"};

/* ---- where things stand -------------------------------------------------------------------------
 */

static bool is_new(const sw_bench_job *job, int role, int part) {
    for (size_t i = 0; i < job->work.item_count; i++) {
        const sw_item *item = &job->work.items[i];
        if (item->role == role && item->part == part && item->way == SW_COMES)
            return true;
    }
    return false;
}

static void tell_stand(sw_bench_job *job, const sw_stand *stand) {
    static const char *const ways[] = {NULL, "in", "out"};
    const sw_catalog *catalog = job->setup->fitouts->catalog;
    sw_told_piece thing = sw_bench_piece(job, stand->role, stand->thing->part, stand->count);
    sw_told_piece on = sw_bench_piece(job, stand->site_role, stand->site->part, 1);
    bool moves_air = stand->thing->air_milli >= 0;
    sw_blows blows = !moves_air                                 ? SW_BLOWS_UNSTATED
                     : stand->thing->blows != SW_BLOWS_UNSTATED ? stand->thing->blows
                                                                : sw_blows_at(catalog, stand->site);
    job->bench->stands[job->bench->stand_count++] =
        (sw_told_stand){.kind = sw_bench_copy(job, stand->thing->kind),
                        .size = sw_bench_copy(job, stand->thing->size),
                        .count = stand->count,
                        .new_there = is_new(job, stand->role, stand->thing->part) ||
                                     is_new(job, stand->site_role, stand->site->part),
                        .role = thing.role,
                        .part = thing.part,
                        .name = thing.name,
                        .on_role = on.role,
                        .on_part = on.part,
                        .on_name = on.name,
                        .site = sw_bench_copy(job, stand->site->site),
                        .side = sw_bench_copy(job, stand->site->side),
                        .blows = ways[blows]};
}

static sw_status tell_stands(sw_bench_job *job) {
    sw_placement placement;
    sw_status status = sw_place_things(&placement, job->arena, job->setup->book, job->machine);
    if (status != SW_OK)
        return status;
    job->bench->stands = SW_NEW(job->arena, sw_told_stand, placement.stand_count);
    if (job->bench->stands == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < placement.stand_count; i++)
        tell_stand(job, &placement.stands[i]);
    return SW_OK;
}

/* ---- leads
 * ---------------------------------------------------------------------------------------- */

/* A load of one role; 0 where it has none, or it is not known. */
static int64_t amount_of(const sw_bench_job *job, const sw_load *load, size_t role) {
    int64_t amount = 0;
    const sw_fitouts *fitouts = job->setup->fitouts;
    if (load->term.fact == SW_NONE ||
        (load->term.role != SW_EVERY_ROLE && (size_t)load->term.role != role) ||
        !fitouts->catalog->facts[load->term.fact].on_role[role])
        return 0;
    return sw_term_amount(fitouts, &fitouts->fitouts[job->machine[role]],
                          &(sw_term){(int)role, load->term.fact}, load->factor_milli, &amount)
               ? amount
               : 0;
}

static sw_status tell_amounts(sw_bench_job *job, sw_told_amount **out, size_t *count,
                              const sw_load *loads, size_t load_count) {
    const sw_catalog *catalog = job->setup->fitouts->catalog;
    *out = SW_NEW(job->arena, sw_told_amount, catalog->role_count);
    if (*out == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < catalog->role_count; r++) {
        int64_t sum = 0;
        for (size_t i = 0; i < load_count; i++)
            sum += amount_of(job, &loads[i], r);
        if (sum != 0)
            (*out)[(*count)++] = (sw_told_amount){sw_bench_copy(job, catalog->roles[r].id),
                                                  sw_bench_copy(job, catalog->roles[r].name), sum};
    }
    return SW_OK;
}

static const sw_rule *rule_of(const sw_rulebook *book, const char *id, size_t *index) {
    for (size_t i = 0; i < book->count; i++)
        if (strcmp(book->rules[i].id, id) == 0) {
            *index = i;
            return &book->rules[i];
        }
    return NULL;
}

static sw_status tell_lead(sw_bench_job *job, const char *id) {
    size_t index = 0;
    sw_judgement judged;
    const sw_rulebook *book = job->setup->book;
    const sw_rule *rule = rule_of(book, id, &index);
    if (rule == NULL)
        return SW_INTERNAL;
    sw_status status = sw_rule_judge(&judged, book, index, job->machine);
    if (status != SW_OK || (judged.verdict != SW_HOLDS && judged.verdict != SW_BROKEN) ||
        judged.need <= 0)
        return status;
    sw_told_lead *out = &job->bench->leads[job->bench->lead_count++];
    *out = (sw_told_lead){.rule = sw_bench_copy(job, rule->id),
                          .name = sw_bench_copy(job, rule->name),
                          .unit = sw_bench_copy(job, rule->unit),
                          .need = judged.need,
                          .there = judged.room};
    bool within = rule->shape == SW_WITHIN;
    sw_load need = {.term = rule->left, .factor_milli = 1000};
    sw_load room = {.term = rule->right, .factor_milli = 1000};
    status = tell_amounts(job, &out->takes, &out->take_count, within ? &need : rule->loads,
                          within ? 1 : rule->load_count);
    return status == SW_OK
               ? tell_amounts(job, &out->gives, &out->give_count, within ? &room : rule->supplies,
                              within ? 1 : rule->supply_count)
               : status;
}

static sw_status tell_leads(sw_bench_job *job) {
    const sw_bench_form *form = job->work.form;
    sw_status status = SW_OK;
    job->bench->leads = SW_NEW(job->arena, sw_told_lead, form->lead_count);
    if (job->bench->leads == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < form->lead_count && status == SW_OK; i++)
        status = tell_lead(job, job->setup->fitouts->catalog->rules[form->leads[i]].id);
    return status;
}

/* ---- what goes
 * -------------------------------------------------------------------------------------- */

static sw_status tell_out(sw_bench_job *job) {
    const sw_scenario *scenario = job->setup->fitouts->scenario;
    job->bench->out = SW_NEW(job->arena, sw_told_out, job->work.item_count);
    if (job->bench->out == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < job->work.item_count; i++) {
        const sw_item *item = &job->work.items[i];
        if (item->way != SW_GOES)
            continue;
        const sw_present *there = &scenario->machine[item->role][item->present];
        job->bench->out[job->bench->out_count++] =
            (sw_told_out){.piece = sw_bench_piece(job, item->role, item->part, item->count),
                          .condition = condition_names[there->condition],
                          .offer = there->offer * item->count,
                          .keeps_files = job->work.form->files[item->role]};
    }
    return SW_OK;
}

sw_status sw_bench_tell_places(sw_bench_job *job) {
    sw_status status = tell_stands(job);
    if (status == SW_OK)
        status = tell_leads(job);
    return status == SW_OK ? tell_out(job) : status;
}
