/* A complaint's ends as sums over the roles and as marks on their fit-outs, so that the integer
 * program can hold them like its rules. */
#include "estimate/demands.h"

#include <math.h>
#include <stdlib.h>

#include "estimate/products.h"

#define SW_MILLIONTHS 1e6
#define SW_NEVER (-INT64_C(1000000000000)) /* a term that no others make good */
#define SW_RATE_SLACK 10                   /* millionths: what rounding the terms may lose */
#define SW_SONE_SLACK 1e-9

static int64_t millionths(double x) {
    int64_t out = 0;
    return sw_round(&out, SW_MILLIONTHS * x) && out > SW_NEVER ? out : SW_NEVER;
}

static sw_demand_sum *add_sum(sw_demands *out, const sw_estimates *estimates) {
    int64_t *terms = SW_NEW(estimates->arena, int64_t, estimates->fitouts->fitout_count);
    if (terms == NULL || !SW_GROW(out->sums, out->sum_room, out->sum_count))
        return NULL;
    out->sums[out->sum_count] = (sw_demand_sum){.terms = terms};
    return &out->sums[out->sum_count++];
}

static int64_t sum_of(const sw_demand_sum *sum, const sw_fitouts *fitouts, const int *machine) {
    int64_t total = 0;
    for (size_t r = 0; r < fitouts->catalog->role_count; r++)
        total += sum->terms[machine[r]];
    return total;
}

/* Nothing meets it. */
static sw_status never(sw_demands *out, const sw_estimates *estimates) {
    sw_demand_sum *sum = add_sum(out, estimates);
    if (sum != NULL)
        sum->least = 1;
    return sum == NULL ? SW_NO_MEMORY : SW_OK;
}

/* ---- rate ------------------------------------------------------------------------------- */

static int64_t pace_of(const sw_fitouts *fitouts, const sw_product *product,
                       const sw_fitout *fitout) {
    double sum = 0;
    for (size_t i = 0; i < product->count; i++) {
        const sw_factor *factor = &product->factors[i];
        if (factor->role != fitout->role)
            continue;
        sw_number value = sw_expr_value(fitouts, factor->expr, fitout);
        if (value.state == SW_VOID)
            continue;
        if (value.state == SW_UNKNOWN || value.value <= 0)
            return SW_NEVER;
        sum += factor->exponent * log2(value.value);
    }
    return millionths(sum);
}

/* One sum for each product of a stage; `least` holds what the plain numbers take away. */
static sw_status add_stage(sw_demands *out, const sw_estimates *estimates, const sw_stage *stage) {
    const sw_fitouts *fitouts = estimates->fitouts;
    sw_products all;
    sw_status status = sw_products_make(&all, estimates->arena, stage->rate);
    for (size_t p = 0; p < all.count && status == SW_OK; p++) {
        sw_demand_sum *sum = add_sum(out, estimates);
        if (sum == NULL)
            return SW_NO_MEMORY;
        for (size_t f = 0; f < fitouts->fitout_count; f++)
            sum->terms[f] = pace_of(fitouts, &all.list[p], &fitouts->fitouts[f]);
        sum->least = -millionths(all.list[p].log2_constant);
    }
    return status;
}

static sw_status add_rate(sw_demands *out, const sw_estimates *estimates, int64_t milli, int use) {
    const sw_fitouts *fitouts = estimates->fitouts;
    const sw_wanted_use *wanted = &fitouts->scenario->uses[use];
    const sw_use *what = &fitouts->catalog->uses[wanted->use];
    size_t first = out->sum_count;
    sw_status status = SW_OK;
    for (size_t s = 0; s < what->stage_count && status == SW_OK; s++)
        status = add_stage(out, estimates, &what->stages[s]);
    if (status != SW_OK)
        return status;
    double times = (double)milli / 1000;
    if (wanted->rate_now_milli > 0 && wanted->rate_wanted_milli > 0)
        times = fmin(times, (double)wanted->rate_wanted_milli / (double)wanted->rate_now_milli);
    int64_t now = INT64_MAX;
    for (size_t i = first; i < out->sum_count; i++) {
        int64_t pace = sum_of(&out->sums[i], fitouts, fitouts->present) - out->sums[i].least;
        now = pace < now ? pace : now;
    }
    int64_t more = (int64_t)floor(SW_MILLIONTHS * log2(times)) - SW_RATE_SLACK;
    for (size_t i = first; i < out->sum_count; i++)
        out->sums[i].least += now + more;
    return SW_OK;
}

/* ---- looks -------------------------------------------------------------------------------- */

static sw_status add_looks(sw_demands *out, const sw_estimates *estimates, int64_t milli) {
    const sw_fitouts *fitouts = estimates->fitouts;
    size_t at = 0;
    while (at < fitouts->catalog->criterion_count &&
           fitouts->catalog->criteria[at].kind != SW_LOOKS)
        at++;
    if (at == fitouts->catalog->criterion_count)
        return never(out, estimates);
    const sw_criterion *looks = &fitouts->catalog->criteria[at];
    sw_demand_sum *sum = add_sum(out, estimates);
    if (sum == NULL)
        return SW_NO_MEMORY;
    double all = 0;
    for (size_t s = 0; s < looks->shows_count; s++)
        all += (double)looks->shows[s].weight_milli / 1000;
    for (size_t s = 0; s < looks->shows_count; s++) {
        int role = looks->shows[s].role;
        double share = (double)looks->shows[s].weight_milli / 1000 / all;
        for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++)
            sum->terms[f] += millionths(share * sw_looks_match(estimates, (int)at, f));
    }
    int64_t now = sum_of(sum, fitouts, fitouts->present);
    sum->least = now + (int64_t)ceil((double)milli / 1000 * (SW_MILLIONTHS - (double)now));
    return SW_OK;
}

/* ---- any of these --------------------------------------------------------------------------- */

static bool holds(const sw_fitouts *fitouts, const sw_relief_need *need, const sw_fitout *fitout) {
    if (!need->by_today)
        return sw_cond_truth(fitouts, &need->cond, fitout) == SW_TRUE;
    const sw_fitout *today = &fitouts->fitouts[fitouts->present[need->role]];
    const sw_value *then = sw_fitout_value(fitouts, fitout, need->fact);
    const sw_value *now = sw_fitout_value(fitouts, today, need->of);
    if (then->state != SW_KNOWN || now->state != SW_KNOWN)
        return false;
    return (double)then->milli * 1000 >=
           (double)now->milli * (double)need->times_milli + (double)need->plus_milli * 1000;
}

static sw_status add_any(sw_demands *out, const sw_estimates *estimates, const sw_relief *relief) {
    const sw_fitouts *fitouts = estimates->fitouts;
    sw_demand_any any = {SW_NEW(estimates->arena, bool, fitouts->fitout_count),
                         SW_NEW(estimates->arena, bool, fitouts->catalog->role_count)};
    if (any.holds == NULL || any.reads == NULL ||
        !SW_GROW(out->anys, out->any_room, out->any_count))
        return SW_NO_MEMORY;
    for (size_t n = 0; n < relief->need_count; n++) {
        const sw_relief_need *need = &relief->needs[n];
        int role = need->by_today ? need->role : need->cond.role;
        any.reads[role] = true;
        for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++)
            any.holds[f] = any.holds[f] || holds(fitouts, need, &fitouts->fitouts[f]);
    }
    out->anys[out->any_count++] = any;
    return SW_OK;
}

/* ---- the whole --------------------------------------------------------------------------------
 */

static sw_status add_relief(sw_demands *out, const sw_estimates *estimates,
                            const sw_stated_trouble *trouble, const sw_relief *relief) {
    const sw_fitouts *fitouts = estimates->fitouts;
    switch (relief->how) {
    case SW_RELIEF_MUST:
        return fitouts->scenario->must_count > 0 ? SW_OK : never(out, estimates);
    case SW_RELIEF_LOUDNESS: {
        double now = sw_sound_of(estimates, fitouts->present).loudness_sone;
        double most = (double)relief->milli / 1000 * now + SW_SONE_SLACK;
        if (estimates->quiet == SW_NONE)
            return never(out, estimates);
        out->sones_most = out->has_sones ? fmin(out->sones_most, most) : most;
        out->has_sones = true;
        return SW_OK;
    }
    case SW_RELIEF_RATE:
        return add_rate(out, estimates, relief->milli, trouble->use);
    case SW_RELIEF_LOOKS:
        return add_looks(out, estimates, relief->milli);
    default:
        return add_any(out, estimates, relief);
    }
}

sw_status sw_demands_make(sw_demands *out, const sw_estimates *estimates,
                          const sw_stated_trouble *trouble) {
    const sw_trouble *of = &estimates->fitouts->catalog->troubles[trouble->trouble];
    *out = (sw_demands){0};
    sw_status status = SW_OK;
    for (size_t i = 0; i < of->end_count && status == SW_OK; i++)
        status = add_relief(out, estimates, trouble, &of->ends[i]);
    if (status != SW_OK)
        sw_demands_free(out);
    return status;
}

bool sw_demands_met(const sw_demands *demands, const sw_estimates *estimates, const int *machine) {
    const sw_fitouts *fitouts = estimates->fitouts;
    if (demands->has_sones && sw_sound_of(estimates, machine).loudness_sone > demands->sones_most)
        return false;
    for (size_t i = 0; i < demands->sum_count; i++)
        if (sum_of(&demands->sums[i], fitouts, machine) < demands->sums[i].least)
            return false;
    for (size_t i = 0; i < demands->any_count; i++) {
        bool met = false;
        for (size_t r = 0; r < fitouts->catalog->role_count; r++)
            met = met || demands->anys[i].holds[machine[r]];
        if (!met)
            return false;
    }
    return true;
}

void sw_demands_free(sw_demands *demands) {
    free(demands->sums);
    free(demands->anys);
    *demands = (sw_demands){0};
}
