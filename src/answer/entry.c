/*
 * The prices at which the best bundle holds the part. The best bundle without it does
 * not change with its price, so a price is in when some bundle with the part comes
 * before that one in the order. As the price rises such a bundle only gets dearer, but
 * for the moment when its goods reach a sum from which delivery is free: hence
 * intervals. A range of prices is asked at once: the part costs the least price of the
 * range and counts towards free delivery with the greatest. If no bundle gets in like
 * that, none does at any price of the range; if one does, the prices at which it truly
 * does are in, and the rest of the range is asked in halves.
 */
#include "answer/why.h"

#include <stdlib.h>
#include <string.h>

#define SW_RANGES_MOST 10000 /* far above what any job needs: an end to the list */

typedef struct entry {
    const sw_why_job *job;
    sw_scenario scenario; /* as the job's, but for that price */
    sw_catalog catalog;
    sw_listing *listings;
    int asked;          /* the listing whose price is asked about */
    sw_tally rival;     /* the best bundle without the part */
    const int *without; /* its picks, in the setup of the job; NULL: there is none */
    const int *machine; /* fit-outs that points are measured against */
    const sw_setup *job_setup;
    sw_range *in;
    size_t in_count, in_room;
    bool open; /* the time ran out */
} entry;

/* ---- the job with a range of prices --------------------------------------------------- */

static bool is_part(const entry *e, int part) {
    return strcmp(e->job->scenario->parts[part].id, e->job->part) == 0;
}

/* The first source of the part with enough of it; NULL when the client gives it. */
static const sw_source *seller_of(const entry *e) {
    const sw_fitouts *fitouts = e->job_setup->fitouts;
    int least = fitouts->catalog->roles[e->job->role].counts[0];
    const sw_source *first = NULL;
    for (size_t g = 0; g < e->job->scenario->given_count; g++)
        if (is_part(e, e->job->scenario->given[g].part))
            return NULL;
    for (size_t i = 0; i < fitouts->source_count; i++) {
        const sw_source *source = &fitouts->sources[i];
        if (!is_part(e, source->part))
            continue;
        if (first == NULL && source->stock >= least)
            first = source;
    }
    return first;
}

static sw_status make_job(entry *e, sw_arena *arena, const sw_source *source) {
    const sw_catalog *catalog = e->job->scenario->catalog;
    e->scenario = *e->job->scenario;
    e->catalog = *catalog;
    e->asked = source->listing;
    e->listings = SW_NEW(arena, sw_listing, catalog->listing_count);
    if (e->listings == NULL)
        return SW_NO_MEMORY;
    memcpy(e->listings, catalog->listings, catalog->listing_count * sizeof *e->listings);
    e->catalog.listings = e->listings;
    e->scenario.catalog = &e->catalog;
    return SW_OK;
}

/* Bars what does not hold the part, and what others than the seller asked sell of it. */
static bool *bar_others(const entry *e, const sw_setup *setup) {
    const sw_program *program = setup->program;
    bool *barred = sw_bar_holders(program, e->job->role, e->job->part, false);
    for (size_t p = 0; barred != NULL && p < program->pick_count; p++) {
        const sw_choice *choice = &setup->fitouts->choices[program->picks[p].choice];
        for (int l = 0; l < choice->line_count; l++) {
            const sw_source *source = &setup->fitouts->sources[choice->lines[l].source];
            barred[p] = barred[p] || (is_part(e, source->part) && source->listing != e->asked);
        }
    }
    return barred;
}

/* ---- what one bundle costs as the price rises ------------------------------------------- */

/* A bundle with the part: its bill is `rest` + what the role's change costs + delivery. */
typedef struct priced {
    const sw_scenario *scenario;
    int count;         /* pieces of the part bought */
    int64_t rest;      /* all else of the bill */
    int64_t beside;    /* the other kind in the role */
    int64_t offers;    /* for what the role gives up */
    int64_t goods;     /* others' from the same seller */
    int64_t delivery;  /* landed; 0 when there is none */
    int64_t free_from; /* -1: never free */
    int64_t limit;     /* the dearest bill that still comes first */
} priced;

static int64_t change_at(const priced *p, int64_t price) {
    int64_t lines = sw_landed(p->scenario, price * p->count) + p->beside;
    return lines > p->offers ? lines - p->offers : 0;
}

static bool is_free(const priced *p, int64_t price) {
    return p->free_from >= 0 && p->goods + price * p->count >= p->free_from;
}

static bool is_in(const priced *p, int64_t price) {
    return p->rest + change_at(p, price) + (is_free(p, price) ? 0 : p->delivery) <= p->limit;
}

/* The last price from `from` to `to` that is in, where all before it are in too; from - 1:
 * none. Over a stretch in which delivery stays as it is. */
static int64_t last_in(const priced *p, int64_t from, int64_t to) {
    int64_t low = from - 1, high = to;
    while (low < high) {
        int64_t middle = low + (high - low + 1) / 2;
        if (is_in(p, middle))
            low = middle;
        else
            high = middle - 1;
    }
    return low;
}

/* The first price at which delivery is free; INT64_MAX: never. */
static int64_t first_free(const priced *p) {
    if (p->free_from < 0)
        return INT64_MAX;
    if (p->goods >= p->free_from)
        return 0;
    return (p->free_from - p->goods + p->count - 1) / p->count;
}

static sw_status add_range(entry *e, int64_t from, int64_t to) {
    if (from > to)
        return SW_OK;
    if (!SW_GROW(e->in, e->in_room, e->in_count))
        return SW_NO_MEMORY;
    e->in[e->in_count++] = (sw_range){from, to};
    return SW_OK;
}

/* ---- asking ------------------------------------------------------------------------------- */

/* A line of the part from the seller asked, in this fit-out's choice? */
static const sw_line *line_of(const entry *e, const sw_setup *setup, const int *picks) {
    const sw_program *program = setup->program;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_choice *choice = &setup->fitouts->choices[program->picks[picks[g]].choice];
        for (int l = 0; l < choice->line_count; l++) {
            const sw_source *source = &setup->fitouts->sources[choice->lines[l].source];
            if (source->listing == e->asked)
                return &choice->lines[l];
        }
    }
    return NULL;
}

/* What the bundle costs beside the part, so that any price can be put in. */
static priced price_of(const entry *e, const sw_setup *setup, const int *picks,
                       const sw_tally *tally, int64_t limit) {
    const sw_fitouts *fitouts = setup->fitouts;
    const sw_program *program = setup->program;
    const sw_line *line = line_of(e, setup, picks);
    const sw_listing *listing = &e->listings[e->asked];
    const sw_seller *seller = &e->catalog.sellers[listing->seller];
    priced p = {.scenario = &e->scenario, .free_from = -1, .limit = limit, .rest = tally->cost};
    if (line == NULL)
        return p;
    p.count = line->count;
    int64_t counted = 0;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_choice *choice = &fitouts->choices[program->picks[picks[g]].choice];
        for (int l = 0; l < choice->line_count; l++) {
            if (fitouts->sources[choice->lines[l].source].seller == listing->seller)
                counted += choice->lines[l].counted;
            if (program->groups[g].role == e->job->role && &choice->lines[l] != line)
                p.beside += choice->lines[l].landed;
        }
        if (program->groups[g].role == e->job->role)
            p.offers = fitouts->fitouts[choice->fitout].offers;
    }
    p.goods = counted - line->counted;
    p.delivery = seller->has_delivery ? sw_landed(&e->scenario, seller->delivery) : 0;
    if (seller->has_delivery && seller->has_free_from)
        p.free_from = seller->free_from;
    bool was_free = p.free_from >= 0 && counted >= p.free_from;
    int64_t lines = line->landed + p.beside;
    p.rest -= (lines > p.offers ? lines - p.offers : 0) + (was_free ? 0 : p.delivery);
    return p;
}

/* Does the bundle come before the rival when both cost and points are equal? */
static bool wins_tie(const entry *e, const sw_setup *setup, const sw_tally *tally,
                     const int *picks) {
    if (tally->order != e->rival.order)
        return tally->order < e->rival.order;
    const sw_program *program = setup->program, *job = e->job_setup->program;
    for (size_t g = 0; g < program->group_count; g++) {
        const char *own = setup->fitouts->fitouts[program->picks[picks[g]].fitout].key;
        const char *its = e->job_setup->fitouts->fitouts[job->picks[e->without[g]].fitout].key;
        if (strcmp(own, its) != 0)
            return strcmp(own, its) < 0;
    }
    return false;
}

/* The dearest bill with which the bundle comes before the rival. */
static int64_t limit_of(const entry *e, const sw_setup *setup, const sw_tally *tally,
                        const int *picks) {
    if (e->without == NULL || tally->points > e->rival.points)
        return setup->program->budget;
    return wins_tie(e, setup, tally, picks) ? e->rival.cost : e->rival.cost - 1;
}

/* The cheapest bundle with the part, bought from the seller asked, of so many points. */
static sw_status ask_cheapest(sw_solution *out, entry *e, const sw_setup *setup, const bool *barred,
                              int64_t points_least) {
    sw_request request = sw_request_for(setup->program, SW_AIM_CHEAPEST);
    request.barred = barred;
    request.points_least = points_least;
    sw_status status =
        sw_solve(out, setup->program, &request, e->job->allowance, e->job->complaints);
    e->open = e->open || (status == SW_OK && out->end == SW_END_EARLY);
    return status;
}

/* A bundle that comes before the rival at the setup's price: with more points, or with as many
 * for less. */
static sw_status ask_before(sw_solution *out, entry *e, const sw_setup *setup, const bool *barred) {
    int64_t points = e->without == NULL ? INT64_MIN : e->rival.points;
    sw_status status =
        ask_cheapest(out, e, setup, barred, e->without == NULL ? points : points + 1);
    if (status != SW_OK || out->found || e->open || e->without == NULL)
        return status;
    status = ask_cheapest(out, e, setup, barred, points);
    if (status == SW_OK && out->found)
        out->found = out->tally.cost <= limit_of(e, setup, &out->tally, out->picks);
    return status;
}

/* Finds a bundle that gets in by the easiest terms of the range; `p` tells at which prices it
 * truly does. */
static sw_status ask_range(entry *e, sw_range range, bool *found, priced *p) {
    sw_setup setup;
    sw_solution solution = {0};
    e->listings[e->asked].price = range.from;
    e->listings[e->asked].counted = range.to;
    sw_status status =
        sw_setup_make(&setup, &e->scenario, e->job->allow_unknown, NULL, e->job->complaints);
    if (status != SW_OK)
        return status;
    status = sw_estimates_finish(setup.estimates, e->machine);
    if (status == SW_OK)
        status = sw_program_score(setup.program);
    if (status == SW_OK)
        status = sw_program_presolve(setup.program);
    bool *barred = status == SW_OK ? bar_others(e, &setup) : NULL;
    if (status == SW_OK)
        status = barred == NULL ? SW_NO_MEMORY : ask_before(&solution, e, &setup, barred);
    *found = status == SW_OK && solution.found;
    if (*found)
        *p = price_of(e, &setup, solution.picks, &solution.tally,
                      limit_of(e, &setup, &solution.tally, solution.picks));
    sw_setup_free(&setup);
    return status;
}

/* Both stretches of the bundle, before delivery is free and from there on, within the range:
 * notes what is in, and what is left to be asked (at most three ranges). */
static sw_status note(entry *e, const priced *p, sw_range range, sw_range *left,
                      size_t *left_count) {
    int64_t free = first_free(p), at = range.from;
    sw_range stretch[2] = {{range.from, free - 1 < range.to ? free - 1 : range.to},
                           {free > range.from ? free : range.from, range.to}};
    *left_count = 0;
    for (int i = 0; i < 2; i++) {
        if (stretch[i].from > stretch[i].to)
            continue;
        int64_t last = last_in(p, stretch[i].from, stretch[i].to);
        if (last < stretch[i].from)
            continue;
        sw_status status = add_range(e, stretch[i].from, last);
        if (status != SW_OK)
            return status;
        if (stretch[i].from > at)
            left[(*left_count)++] = (sw_range){at, stretch[i].from - 1};
        at = last + 1;
    }
    if (at <= range.to)
        left[(*left_count)++] = (sw_range){at, range.to};
    return SW_OK;
}

/* Ranges are asked from a stack of their own, so that no bundle can make it deep. */
static sw_status ask_all(entry *e, int64_t most) {
    sw_range *stack = NULL;
    size_t room = 0, count = 0;
    if (!SW_GROW(stack, room, 0))
        return SW_NO_MEMORY;
    stack[count++] = (sw_range){0, most};
    sw_status status = SW_OK;
    while (count > 0 && status == SW_OK && !e->open && e->in_count < SW_RANGES_MOST) {
        sw_range range = stack[--count], left[3];
        size_t left_count = 0;
        bool found = false;
        priced p;
        status = ask_range(e, range, &found, &p);
        if (status != SW_OK || !found)
            continue;
        if (p.count == 0) { /* kept, not bought: whatever is asked */
            e->in_count = 0;
            count = 0;
            status = add_range(e, 0, SW_MONEY_LIMIT);
            continue;
        }
        status = note(e, &p, range, left, &left_count);
        bool none = left_count == 1 && left[0].from == range.from && left[0].to == range.to;
        if (none && range.from < range.to) {
            int64_t middle = range.from + (range.to - range.from) / 2;
            left[0].to = middle;
            left[left_count++] = (sw_range){middle + 1, range.to};
        } else if (none) {
            left_count = 0;
        }
        for (size_t i = left_count; i-- > 0 && status == SW_OK;) {
            if (!SW_GROW(stack, room, count))
                status = SW_NO_MEMORY;
            else
                stack[count++] = left[i];
        }
    }
    free(stack);
    e->open = e->open || e->in_count >= SW_RANGES_MOST;
    return status;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static int by_from(const void *left, const void *right) {
    const sw_range *a = left, *b = right;
    return (a->from > b->from) - (a->from < b->from);
}

static sw_status tell(sw_why_entry *out, sw_arena *arena, entry *e) {
    if (e->in_count > 0)
        qsort(e->in, e->in_count, sizeof *e->in, by_from);
    out->intervals = SW_NEW(arena, sw_range, e->in_count);
    if (out->intervals == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < e->in_count; i++) {
        sw_range *last = out->interval_count > 0 ? &out->intervals[out->interval_count - 1] : NULL;
        if (last != NULL && e->in[i].from <= last->to + 1)
            last->to = e->in[i].to > last->to ? e->in[i].to : last->to;
        else
            out->intervals[out->interval_count++] = e->in[i];
    }
    return SW_OK;
}

/* Beyond this price the part alone is dearer than the budget and the offers together. */
static int64_t most_price(const entry *e) {
    const sw_scenario *scenario = e->job->scenario;
    int64_t most = e->job_setup->program->budget;
    for (size_t i = 0; i < scenario->machine_count[e->job->role]; i++) {
        const sw_present *present = &scenario->machine[e->job->role][i];
        most += present->offer * present->count;
    }
    return most < SW_MONEY_LIMIT ? most : SW_MONEY_LIMIT;
}

sw_status sw_find_entry(sw_why_entry *out, sw_arena *arena, const sw_why_job *job,
                        const sw_setup *setup, const int *without, const int *baseline,
                        bool never) {
    entry e = {.job = job, .job_setup = setup, .without = without};
    const sw_source *source = seller_of(&e);
    *out = (sw_why_entry){.settled = true};
    if (source == NULL)
        return SW_OK;
    const sw_seller *seller = &job->scenario->catalog->sellers[source->seller];
    out->seller = sw_arena_copy(arena, seller->id);
    out->seller_name = sw_arena_copy(arena, seller->name);
    out->price = source->price;
    int *machine = SW_NEW(arena, int, setup->program->group_count), broken;
    if (out->seller == NULL || out->seller_name == NULL || machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < setup->program->group_count; g++)
        machine[g] = setup->program->picks[baseline[g]].fitout;
    e.machine = machine;
    sw_status status = make_job(&e, arena, source);
    if (status == SW_OK && without != NULL)
        status = sw_program_check(&e.rival, &broken, setup->program, without);
    if (status == SW_OK && !never)
        status = ask_all(&e, most_price(&e));
    if (status == SW_OK)
        status = tell(out, arena, &e);
    out->settled = !e.open;
    free(e.in);
    return status;
}
