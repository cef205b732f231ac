/* Rates as they are told: each stage by itself, and a prediction with its spread. In plain
 * numbers, not in points, so they do not depend on what the client weighs. FORMATS section 16. */
#include <math.h>

#include "estimate/products.h"
#include "estimate/stage.h"

/* log2 of a factor's value; 0 where it is void, or where nobody knows it. */
static double log_of(const sw_estimates *estimates, const sw_factor *factor, const int *machine) {
    const sw_fitouts *fitouts = estimates->fitouts;
    if (factor->role == SW_NONE)
        return 0;
    sw_number value =
        sw_expr_value(fitouts, factor->expr, &fitouts->fitouts[machine[factor->role]]);
    return value.state == SW_KNOWN && value.value > 0 ? log2(value.value) : 0;
}

static double log_of_product(const sw_estimates *estimates, const sw_product *product,
                             const int *machine) {
    double sum = product->log2_constant;
    for (size_t f = 0; f < product->count; f++)
        sum += product->factors[f].exponent * log_of(estimates, &product->factors[f], machine);
    return sum;
}

static const sw_use *use_of(const sw_estimates *estimates, int use) {
    const sw_scenario *scenario = estimates->fitouts->scenario;
    return &scenario->catalog->uses[scenario->uses[use].use];
}

sw_status sw_stage_rates(double *rates, sw_arena *arena, const sw_estimates *estimates, int use,
                         const int *machine) {
    const sw_use *of = use_of(estimates, use);
    for (size_t s = 0; s < of->stage_count; s++) {
        sw_products all;
        double least = INFINITY;
        sw_status status = sw_products_make(&all, arena, of->stages[s].rate);
        if (status != SW_OK)
            return status;
        for (size_t p = 0; p < all.count; p++)
            least = fmin(least, log_of_product(estimates, &all.list[p], machine));
        rates[s] = exp2(least);
    }
    return SW_OK;
}

/* The role whose fact the expression names first: the one that the stage is about. */
static int first_role(const sw_expr *expr) {
    int role = SW_NONE;
    if (expr->op == SW_EXPR_FACT || expr->op == SW_EXPR_PICK)
        return expr->role;
    for (size_t i = 0; i < expr->count && role == SW_NONE; i++)
        role = first_role(&expr->operands[i]);
    return role;
}

/* What each role holds the use back by, where that is more than `out` says. */
static sw_status held_back_in(double *out, sw_arena *arena, const sw_estimates *estimates, int use,
                              const int *machine) {
    const sw_use *of = use_of(estimates, use);
    const sw_wanted_use *wanted = &estimates->fitouts->scenario->uses[use];
    double *rates = SW_NEW(arena, double, of->stage_count);
    double all = INFINITY, most = INFINITY;
    if (rates == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_stage_rates(rates, arena, estimates, use, machine);
    if (wanted->rate_now_milli > 0 && wanted->rate_wanted_milli > 0)
        most = fmax(1, (double)wanted->rate_wanted_milli / (double)wanted->rate_now_milli);
    for (size_t s = 0; s < of->stage_count; s++)
        all = fmin(all, rates[s]);
    for (size_t r = 0; r < estimates->fitouts->catalog->role_count; r++) {
        double others = INFINITY;
        for (size_t s = 0; s < of->stage_count; s++)
            if (first_role(of->stages[s].rate) != (int)r)
                others = fmin(others, rates[s]);
        double by = isfinite(others) ? others / all : 1;
        out[r] = fmax(out[r], fmin(by, most));
    }
    return status;
}

sw_status sw_held_back_by(double *out, sw_arena *arena, const sw_estimates *estimates,
                          const int *machine) {
    const sw_scenario *scenario = estimates->fitouts->scenario;
    int64_t shares = 0;
    sw_status status = SW_OK;
    for (size_t r = 0; r < estimates->fitouts->catalog->role_count; r++)
        out[r] = 1;
    for (size_t u = 0; u < scenario->use_count; u++)
        shares += scenario->uses[u].share_milli;
    for (size_t u = 0; u < scenario->use_count && status == SW_OK; u++)
        if (scenario->uses[u].share_milli * 5 >= shares)
            status = held_back_in(out, arena, estimates, (int)u, machine);
    return status;
}

typedef struct leasts {
    double now, low, then, high;
    int stage_now, stage_then;
} leasts;

/* Exponents count with their ends for the change alone: what is now was measured, or stands as
 * it is. */
static void take_in(leasts *l, const sw_estimates *estimates, const sw_product *product, int stage,
                    const int *machine) {
    const int *present = estimates->fitouts->present;
    double now = log_of_product(estimates, product, present), low = now, high = now;
    double then = log_of_product(estimates, product, machine);
    for (size_t f = 0; f < product->count; f++) {
        const sw_factor *factor = &product->factors[f];
        double change = log_of(estimates, factor, machine) - log_of(estimates, factor, present);
        low += fmin(factor->least * change, factor->most * change);
        high += fmax(factor->least * change, factor->most * change);
    }
    if (now < l->now)
        l->stage_now = stage;
    if (then < l->then)
        l->stage_then = stage;
    l->now = fmin(l->now, now);
    l->then = fmin(l->then, then);
    l->low = fmin(l->low, low);
    l->high = fmin(l->high, high);
}

/* Beyond a factor of a million the estimate says nothing. */
static double ratio_of(double doublings) { return exp2(fmax(-20, fmin(20, doublings))); }

sw_status sw_predict(sw_prediction *out, sw_arena *arena, const sw_estimates *estimates, int use,
                     const int *machine) {
    const sw_use *of = use_of(estimates, use);
    leasts l = {INFINITY, INFINITY, INFINITY, INFINITY, SW_NONE, SW_NONE};
    for (size_t s = 0; s < of->stage_count; s++) {
        sw_products all;
        sw_status status = sw_products_make(&all, arena, of->stages[s].rate);
        if (status != SW_OK)
            return status;
        for (size_t p = 0; p < all.count; p++)
            take_in(&l, estimates, &all.list[p], (int)s, machine);
    }
    *out = (sw_prediction){.low = ratio_of(l.low - l.now),
                           .ratio = ratio_of(l.then - l.now),
                           .high = ratio_of(l.high - l.now),
                           .now = exp2(l.now),
                           .stage_now = l.stage_now,
                           .stage_then = l.stage_then};
    return SW_OK;
}
