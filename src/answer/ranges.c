/* Asks for the ranges one after another, each with its share of the time. */
#include "answer/ranges.h"

#include <string.h>

sw_allowance sw_slice(const sw_allowance *allowance, int parts) {
    sw_allowance slice = *allowance;
    if (allowance->now == NULL)
        return slice;
    double now = allowance->now();
    if (allowance->ends > now)
        slice.ends = now + (allowance->ends - now) / parts;
    return slice;
}

/* ---- the budget ------------------------------------------------------------------------------ */

/* Up to where the next step of the curve begins. */
static sw_status find_budget(sw_ranges *out, const sw_staying *job) {
    const sw_scenario *scenario = job->scenario;
    sw_program *program = job->job->setup.program;
    int64_t aside = scenario->reserve + scenario->sundries;
    int64_t cost = sw_total(program, &job->job->best.tally);
    sw_solution next;
    sw_request request = sw_request_for(program, SW_AIM_CHEAPEST);
    request.limit = SW_NO_LIMIT;
    request.points_least = job->job->best.tally.points + 1;
    sw_status status =
        sw_solve(&next, program, &request, sw_slice(&job->allowance, 3), job->complaints);
    if (status != SW_OK)
        return status;
    out->budget_settled = next.end != SW_END_EARLY;
    out->budget_from = cost > 0 ? cost + aside : 0;
    out->budget_to = next.found ? sw_total(program, &next.tally) + aside - 1 : SW_NO_END;
    return SW_OK;
}

/* ---- prices ---------------------------------------------------------------------------------- */

static sw_status add_price(sw_ranges *out, const sw_staying *job, int listing, int left) {
    const sw_catalog *catalog = job->job->setup.fitouts->catalog;
    const sw_listing *of = &catalog->listings[listing];
    const sw_part *part = &job->scenario->parts[of->part];
    sw_arena *arena = out->answer->arena;
    for (size_t i = 0; i < out->price_count; i++)
        if (strcmp(out->prices[i].part, part->id) == 0 &&
            strcmp(out->prices[i].seller, catalog->sellers[of->seller].id) == 0)
            return SW_OK;
    sw_range_price *price = &out->prices[out->price_count++];
    *price =
        (sw_range_price){.part = sw_arena_copy(arena, part->id),
                         .name = sw_arena_copy(arena, part->name),
                         .seller = sw_arena_copy(arena, catalog->sellers[of->seller].id),
                         .seller_name = sw_arena_copy(arena, catalog->sellers[of->seller].name),
                         .now = of->price};
    if (price->part == NULL || price->name == NULL || price->seller == NULL ||
        price->seller_name == NULL)
        return SW_NO_MEMORY;
    const int *picks = job->job->best.picks;
    const sw_program *program = job->job->setup.program;
    const sw_choice *choice = &program->fitouts->choices[program->picks[picks[part->role]].choice];
    for (int l = 0; l < choice->line_count; l++)
        price->bought =
            price->bought || program->fitouts->sources[choice->lines[l].source].listing == listing;
    sw_staying own = *job;
    own.allowance = sw_slice(&job->allowance, left > 0 ? left : 1);
    return sw_find_price_range(price, &own, listing, part->role);
}

/* Whom to ask for a part that the bundle does not buy: the lowest price of those who can send
 * enough of it in time. SW_NONE: nobody. */
static int listing_of(const sw_staying *job, int part) {
    const sw_fitouts *fitouts = job->job->setup.fitouts;
    const sw_part *parts = job->scenario->parts;
    int enough = fitouts->catalog->roles[parts[part].role].counts[0];
    for (size_t i = 0; i < job->scenario->given_count; i++)
        if (strcmp(parts[job->scenario->given[i].part].id, parts[part].id) == 0)
            return SW_NONE;
    for (size_t i = 0; i < fitouts->source_count; i++) {
        const sw_source *source = &fitouts->sources[i];
        if (strcmp(parts[source->part].id, parts[part].id) == 0 && source->listing != SW_NONE &&
            source->stock >= enough)
            return source->listing;
    }
    return SW_NONE;
}

/* Is it bought for the bundle, and by which listing? */
static int bought_by(const sw_staying *job, int part) {
    const sw_program *program = job->job->setup.program;
    const char *id = job->scenario->parts[part].id;
    int role = job->scenario->parts[part].role;
    const sw_choice *choice =
        &program->fitouts->choices[program->picks[job->job->best.picks[role]].choice];
    for (int l = 0; l < choice->line_count; l++) {
        const sw_source *source = &program->fitouts->sources[choice->lines[l].source];
        if (strcmp(job->scenario->parts[source->part].id, id) == 0)
            return source->listing;
    }
    return SW_NONE;
}

/* The listings to ask about: those of the bundle's lines, then those of the parts named. */
static int list_prices(int *out, const sw_staying *job, const int *parts, size_t count) {
    const sw_program *program = job->job->setup.program;
    int used = 0;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_choice *choice =
            &program->fitouts->choices[program->picks[job->job->best.picks[g]].choice];
        for (int l = 0; l < choice->line_count; l++) {
            int listing = program->fitouts->sources[choice->lines[l].source].listing;
            if (listing != SW_NONE)
                out[used++] = listing;
        }
    }
    for (size_t i = 0; i < count; i++) {
        int listing = bought_by(job, parts[i]);
        listing = listing != SW_NONE ? listing : listing_of(job, parts[i]);
        if (listing != SW_NONE)
            out[used++] = listing;
    }
    return used;
}

static sw_status find_prices(sw_ranges *out, const sw_staying *job, const int *parts, size_t count,
                             int later) {
    const sw_program *program = job->job->setup.program;
    size_t room = program->group_count * SW_KINDS_MOST + count;
    int *listings = SW_NEW(program->arena, int, room);
    out->prices = SW_NEW(out->answer->arena, sw_range_price, room);
    if (listings == NULL || out->prices == NULL)
        return SW_NO_MEMORY;
    int used = list_prices(listings, job, parts, count);
    sw_status status = SW_OK;
    for (int i = 0; i < used && status == SW_OK; i++)
        status = add_price(out, job, listings[i], used - i + later);
    return status;
}

/* What was left open, with the time that others left. */
static sw_status try_again(sw_ranges *out, const sw_staying *job) {
    const sw_catalog *catalog = job->job->setup.fitouts->catalog;
    sw_status status = SW_OK;
    int open = 0;
    for (size_t i = 0; i < out->price_count; i++)
        open += !out->prices[i].settled;
    for (size_t i = 0; i < out->price_count && status == SW_OK; i++) {
        sw_range_price *price = &out->prices[i];
        sw_staying own = *job;
        if (price->settled || job->allowance.now == NULL || sw_time_is_up(&job->allowance))
            continue;
        own.allowance = sw_slice(&job->allowance, open--);
        for (size_t l = 0; l < catalog->listing_count; l++) {
            const sw_listing *of = &catalog->listings[l];
            const sw_part *part = &job->scenario->parts[of->part];
            if (strcmp(part->id, price->part) == 0 &&
                strcmp(catalog->sellers[of->seller].id, price->seller) == 0)
                status = sw_find_price_range(price, &own, (int)l, part->role);
        }
    }
    return status;
}

/* ---- weights --------------------------------------------------------------------------------- */

static sw_status find_weights(sw_ranges *out, const sw_staying *job, int weighed) {
    const sw_catalog *catalog = job->scenario->catalog;
    out->weights = SW_NEW(out->answer->arena, sw_range_weight, catalog->criterion_count);
    if (out->weights == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t c = 0; c < catalog->criterion_count && weighed > 1 && status == SW_OK; c++) {
        if (job->scenario->weights[c] <= 0)
            continue;
        sw_range_weight *weight = &out->weights[out->weight_count++];
        weight->criterion = sw_arena_copy(out->answer->arena, catalog->criteria[c].id);
        weight->name = sw_arena_copy(out->answer->arena, catalog->criteria[c].name);
        if (weight->criterion == NULL || weight->name == NULL)
            return SW_NO_MEMORY;
        sw_round(&weight->now_milli, job->scenario->weights[c] * 100 * 1000);
        sw_staying own = *job;
        own.allowance = sw_slice(&job->allowance, weighed - (int)out->weight_count + 1);
        status = sw_find_weight_range(weight, &own, c);
    }
    return status;
}

/* ---- the whole ------------------------------------------------------------------------------- */

static sw_status find_all(sw_ranges *out, const sw_staying *job, const int *parts, size_t count) {
    int weighed = 0;
    for (size_t c = 0; c < job->scenario->catalog->criterion_count; c++)
        weighed += job->scenario->weights[c] > 0;
    sw_status status = find_budget(out, job);
    if (status == SW_OK)
        status = find_prices(out, job, parts, count, weighed);
    if (status == SW_OK)
        status = find_weights(out, job, weighed);
    return status == SW_OK ? try_again(out, job) : status;
}

sw_status sw_find_ranges(sw_ranges **out, const sw_scenario *scenario, const int *parts,
                         size_t count, bool allow_unknown, sw_allowance allowance,
                         sw_complaints *complaints) {
    sw_best best;
    sw_answer *answer = NULL;
    sw_status status = sw_best_find(&best, scenario, allow_unknown, NULL, allowance, complaints);
    if (status != SW_OK)
        return status;
    status = sw_best_tell(&answer, &best, scenario, &best.best);
    sw_ranges *ranges = status == SW_OK ? SW_NEW(answer->arena, sw_ranges, 1) : NULL;
    if (status == SW_OK && ranges == NULL)
        status = SW_NO_MEMORY;
    if (status == SW_OK) {
        sw_staying job = {scenario, &best, allow_unknown, allowance, complaints};
        ranges->answer = answer;
        if (answer->status == SW_OPTIMAL)
            status = find_all(ranges, &job, parts, count);
    }
    sw_best_free(&best);
    if (status == SW_OK)
        *out = ranges;
    else
        sw_answer_free(answer);
    return status;
}

void sw_ranges_free(sw_ranges *ranges) {
    if (ranges != NULL)
        sw_answer_free(ranges->answer);
}

sw_answer_status sw_ranges_get_status(const sw_ranges *ranges) { return ranges->answer->status; }

bool sw_ranges_is_settled(const sw_ranges *ranges) {
    bool settled = ranges->budget_settled;
    for (size_t i = 0; i < ranges->price_count; i++)
        settled = settled && ranges->prices[i].settled;
    for (size_t i = 0; i < ranges->weight_count; i++)
        settled = settled && ranges->weights[i].settled;
    return settled;
}
