/* Opens the markets of the phases: what there is to be had, and since when. */
#include "answer/markets.h"

#include <string.h>

#include "answer/best.h"

/* ---- listings -------------------------------------------------------------------------------- */

/* What is listed in `all` and `now` at the better terms of both. `counted` is the most: free
 * delivery is never reached later than in truth. */
static sw_listing *join(size_t *count, sw_arena *arena, const sw_listing *all, size_t all_count,
                        const sw_listing *now, size_t now_count) {
    sw_listing *joined = SW_NEW(arena, sw_listing, all_count + now_count);
    size_t a = 0, n = 0, used = 0;
    while (joined != NULL && (a < all_count || n < now_count)) {
        int by = a == all_count ? 1 : n == now_count ? -1 : 0;
        if (by == 0 && all[a].part != now[n].part)
            by = all[a].part < now[n].part ? -1 : 1;
        if (by == 0 && all[a].seller != now[n].seller)
            by = all[a].seller < now[n].seller ? -1 : 1;
        sw_listing *to = &joined[used++];
        *to = by <= 0 ? all[a] : now[n];
        if (by == 0) {
            const sw_listing *other = &now[n];
            to->price = other->price < to->price ? other->price : to->price;
            to->counted = other->counted > to->counted ? other->counted : to->counted;
            to->stock = other->stock > to->stock ? other->stock : to->stock;
            to->days = other->days < to->days ? other->days : to->days;
        }
        a += by <= 0;
        n += by >= 0;
    }
    *count = used;
    return joined;
}

/* ---- given parts ----------------------------------------------------------------------------- */

/* Those that come before the phase ends, with their days from its first. */
static sw_status take_given(sw_market *m, sw_arena *arena, const sw_scenario *scenario,
                            const sw_phase *phase) {
    sw_given *given = SW_NEW(arena, sw_given, scenario->given_count);
    if (given == NULL)
        return SW_NO_MEMORY;
    m->scenario.given_count = 0;
    for (size_t i = 0; i < scenario->given_count; i++) {
        sw_given one = scenario->given[i];
        int64_t day = scenario->day < 0 ? phase->day : scenario->day + one.days;
        if (day >= phase->day + phase->days)
            continue;
        one.days = day > phase->day ? (int)(day - phase->day) : 0;
        given[m->scenario.given_count++] = one;
    }
    m->scenario.given = given;
    return SW_OK;
}

/* ---- markets --------------------------------------------------------------------------------- */

static bool same_market(const sw_market *a, const sw_market *b) {
    if (a->catalog.listing_count != b->catalog.listing_count ||
        a->scenario.given_count != b->scenario.given_count)
        return false;
    for (size_t i = 0; i < a->catalog.listing_count; i++) {
        const sw_listing *x = &a->catalog.listings[i], *y = &b->catalog.listings[i];
        if (x->part != y->part || x->seller != y->seller || x->price != y->price ||
            x->counted != y->counted || x->stock != y->stock || x->days != y->days)
            return false;
    }
    for (size_t i = 0; i < a->scenario.given_count; i++)
        if (a->scenario.given[i].part != b->scenario.given[i].part ||
            a->scenario.given[i].days != b->scenario.given[i].days)
            return false;
    return true;
}

static sw_status open_market(sw_market **out, sw_markets *m, const sw_phase *phase,
                             sw_listing *listings, size_t count, bool allow_unknown,
                             sw_complaints *complaints) {
    sw_market *at = &m->owned[m->owned_count];
    *at = (sw_market){.scenario = *m->scenario, .catalog = *m->scenario->catalog};
    at->catalog.listings = listings;
    at->catalog.listing_count = count;
    sw_status status = take_given(at, m->arena, m->scenario, phase);
    for (size_t i = 0; i < m->owned_count && status == SW_OK; i++)
        if (same_market(at, &m->owned[i])) {
            *out = &m->owned[i];
            return SW_OK;
        }
    at->scenario.catalog = &at->catalog;
    if (status == SW_OK)
        status = sw_setup_make(&at->setup, &at->scenario, allow_unknown, NULL, complaints);
    if (status == SW_OK) {
        *out = at;
        m->owned_count++;
    }
    return status;
}

static sw_status open_phase(sw_markets *m, size_t k, sw_listing **all, size_t *all_count,
                            bool allow_unknown, sw_complaints *complaints) {
    const sw_phase *phase = &m->scenario->phases[k];
    size_t count = 0;
    /* The quotes of a phase hold those of the job and of the phases before: they go over the
     * catalog's listings as the job has them, which does no harm twice. */
    sw_listing *now = sw_quoted_listings(&count, m->arena, m->scenario->catalog, phase->quotes);
    if (now == NULL)
        return SW_NO_MEMORY;
    if (k == 0) {
        *all = now;
        *all_count = count;
    } else {
        *all = join(all_count, m->arena, *all, *all_count, now, count);
        if (*all == NULL)
            return SW_NO_MEMORY;
    }
    sw_status status = open_market(&m->shop[k], m, phase, now, count, allow_unknown, complaints);
    return status == SW_OK
               ? open_market(&m->there[k], m, phase, *all, *all_count, allow_unknown, complaints)
               : status;
}

/* ---- the same fit-outs in several markets ---------------------------------------------------- */

static sw_status link_phases(sw_markets *m) {
    for (size_t k = 0; k + 1 < m->count; k++) {
        const sw_fitouts *here = m->there[k]->setup.fitouts, *then = m->there[k + 1]->setup.fitouts;
        m->next[k] = SW_NEW(m->arena, int, here->fitout_count);
        if (m->next[k] == NULL)
            return SW_NO_MEMORY;
        for (size_t f = 0; f < here->fitout_count; f++)
            m->next[k][f] = here == then ? (int)f
                                         : sw_fitout_with_key(then, here->fitouts[f].role,
                                                              here->fitouts[f].key);
    }
    return SW_OK;
}

int sw_market_fitout(const sw_markets *m, size_t from, size_t to, int fitout) {
    const sw_fitouts *here = m->there[from]->setup.fitouts, *then = m->there[to]->setup.fitouts;
    if (here == then || fitout == SW_NONE)
        return fitout;
    if (to == from + 1)
        return m->next[from][fitout];
    return sw_fitout_with_key(then, here->fitouts[fitout].role, here->fitouts[fitout].key);
}

/* ---- the whole ----------------------------------------------------------------------------------
 */

static sw_status open_all(sw_markets *m, bool allow_unknown, sw_complaints *complaints) {
    const sw_scenario *scenario = m->scenario;
    sw_listing *all = NULL;
    size_t all_count = 0;
    int64_t sum = -scenario->reserve - scenario->sundries;
    m->there = SW_NEW(m->arena, sw_market *, m->count);
    m->shop = SW_NEW(m->arena, sw_market *, m->count);
    m->owned = SW_NEW(m->arena, sw_market, 2 * m->count);
    m->next = SW_NEW(m->arena, int *, m->count);
    m->money = SW_NEW(m->arena, int64_t, m->count);
    if (m->there == NULL || m->shop == NULL || m->owned == NULL || m->next == NULL ||
        m->money == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t k = 0; k < m->count && status == SW_OK; k++) {
        sum += scenario->phases[k].sum;
        m->money[k] = sum > 0 ? sum : 0;
        status = open_phase(m, k, &all, &all_count, allow_unknown, complaints);
    }
    return status == SW_OK ? link_phases(m) : status;
}

sw_status sw_markets_make(sw_markets *out, const sw_scenario *scenario, bool allow_unknown,
                          sw_complaints *complaints) {
    *out =
        (sw_markets){.arena = sw_arena_new(), .scenario = scenario, .count = scenario->phase_count};
    if (out->arena == NULL)
        return SW_NO_MEMORY;
    sw_status status = open_all(out, allow_unknown, complaints);
    if (status != SW_OK)
        sw_markets_free(out);
    return status;
}

sw_status sw_markets_score(sw_markets *m, const int *baseline) {
    sw_status status = SW_OK;
    for (size_t k = 0; k < m->count && status == SW_OK; k++) {
        sw_setup *setup = &m->there[k]->setup;
        int *machine = SW_NEW(m->arena, int, setup->program->group_count);
        if (machine == NULL)
            return SW_NO_MEMORY;
        for (size_t g = 0; g < setup->program->group_count; g++)
            machine[g] = sw_market_fitout(m, 0, k, baseline[g]);
        if (setup->program->scored)
            continue;
        status = sw_estimates_finish(setup->estimates, machine);
        if (status == SW_OK)
            status = sw_program_score(setup->program);
        if (status == SW_OK)
            status = sw_program_presolve(setup->program);
    }
    return status;
}

void sw_markets_free(sw_markets *m) {
    for (size_t i = 0; i < m->owned_count; i++)
        sw_setup_free(&m->owned[i].setup);
    sw_arena_free(m->arena);
    *m = (sw_markets){0};
}
