/* Speed: per use the slowest stage governs, so a use is worth the least over
 * its stages of a sum of logarithms, one term per role. */
#include "estimate/products.h"
#include "estimate/stage.h"

#include <math.h>
#include <stdlib.h>

/* The first fact of the role that the expression reads: what to look up. */
static int fact_of(const sw_fitouts *fitouts, const sw_expr *expr, const sw_fitout *fitout) {
    if (expr->op == SW_EXPR_FACT || expr->op == SW_EXPR_PICK)
        return expr->fact;
    int first = SW_NONE;
    for (size_t i = 0; i < expr->count; i++) {
        int fact = fact_of(fitouts, &expr->operands[i], fitout);
        if (fact != SW_NONE && sw_fitout_value(fitouts, fitout, fact)->state == SW_UNKNOWN)
            return fact;
        first = first == SW_NONE ? fact : first;
    }
    return first;
}

static sw_status cannot_serve(sw_estimates *estimates, const sw_factor *factor, int fitout,
                              bool unknown, sw_complaints *complaints) {
    sw_fitouts *fitouts = estimates->fitouts;
    const sw_fitout *of = &fitouts->fitouts[fitout];
    int fact = fact_of(fitouts, factor->expr, of);
    estimates->serves[fitout] = false;
    if (fitouts->present[of->role] == fitout)
        sw_complain_of_fact(fitouts, of->role, fact,
                            "the speed of a use the client named depends on it, and it must be "
                            "known and above 0",
                            complaints);
    return unknown && fact != SW_NONE ? sw_leave_out(fitouts, of, fact) : SW_OK;
}

/* Adds exponent x log2(value) of each factor of `role` to one fit-out's sum. */
static sw_status sum_of_logs(sw_estimates *estimates, const sw_product *product, int fitout,
                             double *sum, sw_complaints *complaints) {
    const sw_fitout *of = &estimates->fitouts->fitouts[fitout];
    for (size_t i = 0; i < product->count; i++) {
        const sw_factor *factor = &product->factors[i];
        if (factor->role != of->role)
            continue;
        sw_number value = sw_expr_value(estimates->fitouts, factor->expr, of);
        if (value.state == SW_VOID)
            continue;
        if (value.state == SW_UNKNOWN || value.value <= 0) {
            sw_status status =
                cannot_serve(estimates, factor, fitout, value.state == SW_UNKNOWN, complaints);
            if (status != SW_OK)
                return status;
            continue;
        }
        *sum += factor->exponent * log2(value.value);
    }
    return SW_OK;
}

static sw_status add_alternative(sw_estimates *estimates, int use, int stage, double scale,
                                 const sw_product *product, sw_complaints *complaints) {
    const sw_fitouts *fitouts = estimates->fitouts;
    sw_alternative alternative = {.use = use, .stage = stage};
    alternative.offset = sw_thousandths(scale * product->log2_constant);
    alternative.terms = SW_NEW(estimates->arena, int64_t, fitouts->fitout_count);
    if (alternative.terms == NULL)
        return SW_NO_MEMORY;
    for (size_t f = 0; f < fitouts->fitout_count; f++) {
        double sum = 0;
        sw_status status = sum_of_logs(estimates, product, (int)f, &sum, complaints);
        if (status != SW_OK)
            return status;
        alternative.terms[f] = sw_thousandths(scale * sum);
    }
    if (!SW_GROW(estimates->alternatives, estimates->alternative_room,
                 estimates->alternative_count))
        return SW_NO_MEMORY;
    estimates->alternatives[estimates->alternative_count++] = alternative;
    return SW_OK;
}

static double scale_of(const sw_estimates *estimates, size_t use) {
    const sw_scenario *scenario = estimates->fitouts->scenario;
    int64_t shares = 0;
    for (size_t u = 0; u < scenario->use_count; u++)
        shares += scenario->uses[u].share_milli;
    return 100.0 * scenario->weights[estimates->speed] *
           ((double)scenario->uses[use].share_milli / (double)shares);
}

static int64_t cap_of(const sw_wanted_use *wanted, double scale) {
    if (wanted->rate_now_milli <= 0 || wanted->rate_wanted_milli <= 0)
        return INT64_MAX;
    int64_t cap = sw_thousandths(
        scale * log2((double)wanted->rate_wanted_milli / (double)wanted->rate_now_milli));
    return cap > 0 ? cap : 0;
}

static sw_status add_use(sw_estimates *estimates, size_t use, sw_complaints *complaints) {
    const sw_scenario *scenario = estimates->fitouts->scenario;
    const sw_use *what = &scenario->catalog->uses[scenario->uses[use].use];
    double scale = scale_of(estimates, use);
    estimates->cap[use] = cap_of(&scenario->uses[use], scale);
    for (size_t s = 0; s < what->stage_count; s++) {
        sw_products all;
        sw_status status = sw_products_make(&all, estimates->arena, what->stages[s].rate);
        for (size_t p = 0; p < all.count && status == SW_OK; p++)
            status = add_alternative(estimates, (int)use, (int)s, scale, &all.list[p], complaints);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}

sw_status sw_speed_make(sw_estimates *estimates, sw_complaints *complaints) {
    const sw_scenario *scenario = estimates->fitouts->scenario;
    size_t count = scenario->use_count;
    estimates->first_alternative = SW_NEW(estimates->arena, size_t, count + 1);
    estimates->cap = SW_NEW(estimates->arena, int64_t, count);
    estimates->speed_base = SW_NEW(estimates->arena, int64_t, count);
    if (estimates->first_alternative == NULL || estimates->cap == NULL ||
        estimates->speed_base == NULL)
        return SW_NO_MEMORY;
    for (size_t u = 0; u < count && estimates->speed != SW_NONE; u++) {
        estimates->first_alternative[u] = estimates->alternative_count;
        sw_status status = add_use(estimates, u, complaints);
        if (status != SW_OK)
            return status;
        estimates->first_alternative[u + 1] = estimates->alternative_count;
    }
    return SW_OK;
}

/* The least alternative of one use; INT64_MAX when it has none. */
static int64_t least_of(const sw_estimates *estimates, size_t use, const int *machine,
                        size_t *which) {
    size_t roles = estimates->fitouts->catalog->role_count;
    int64_t least = INT64_MAX;
    for (size_t a = estimates->first_alternative[use]; a < estimates->first_alternative[use + 1];
         a++) {
        int64_t sum = estimates->alternatives[a].offset;
        for (size_t r = 0; r < roles; r++)
            sum += estimates->alternatives[a].terms[machine[r]];
        if (sum < least) {
            least = sum;
            *which = a;
        }
    }
    return least;
}

sw_status sw_speed_finish(sw_estimates *estimates, const int *baseline) {
    size_t which = 0;
    for (size_t u = 0; u < estimates->fitouts->scenario->use_count; u++)
        estimates->speed_base[u] = least_of(estimates, u, baseline, &which);
    return SW_OK;
}

int64_t sw_speed_points(const sw_estimates *estimates, const int *machine) {
    int64_t points = 0;
    size_t which = 0;
    for (size_t u = 0; u < estimates->fitouts->scenario->use_count; u++) {
        int64_t base = estimates->speed_base[u];
        if (base == INT64_MAX)
            continue;
        int64_t more = least_of(estimates, u, machine, &which) - base;
        points += more < estimates->cap[u] ? more : estimates->cap[u];
    }
    return points;
}
