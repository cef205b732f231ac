/* Values of expressions over one role's fit-out: the closed grammar of
 * derived facts and of the stages of a use. */
#include "fitouts/fitouts.h"

#include <math.h>

#define SW_EXPR_LIMIT 1e6

static const sw_number unknown = {SW_UNKNOWN, 0};
static const sw_number nothing = {SW_VOID, 0};

static sw_number known(double value) {
    if (!isfinite(value) || fabs(value) > SW_EXPR_LIMIT)
        return unknown;
    return (sw_number){SW_KNOWN, value};
}

static sw_number fact_number(const sw_fitouts *fitouts, const sw_expr *expr,
                             const sw_fitout *fitout) {
    const sw_value *value = sw_fitout_value(fitouts, fitout, expr->fact);
    if (value->state != SW_KNOWN)
        return (sw_number){value->state, 0};
    if (fitouts->catalog->facts[expr->fact].combine == SW_POWER)
        return known(10.0 * log10((double)value->power / 10.0));
    if (fitouts->catalog->facts[expr->fact].type == SW_FLAG)
        return known(value->milli != 0 ? 1.0 : 0.0);
    return known((double)value->milli / 1000.0);
}

static double join(sw_expr_op op, double a, double b) {
    switch (op) {
    case SW_EXPR_SUM:
        return a + b;
    case SW_EXPR_PRODUCT:
        return a * b;
    case SW_EXPR_LEAST:
        return a < b ? a : b;
    default:
        return a > b ? a : b;
    }
}

static sw_number joined(const sw_fitouts *fitouts, const sw_expr *expr, const sw_fitout *fitout) {
    sw_number all = nothing;
    bool any_unknown = false;
    for (size_t i = 0; i < expr->count; i++) {
        sw_number one = sw_expr_value(fitouts, &expr->operands[i], fitout);
        if (one.state == SW_UNKNOWN)
            any_unknown = true;
        else if (one.state == SW_KNOWN && all.state == SW_KNOWN)
            all.value = join(expr->op, all.value, one.value);
        else if (one.state == SW_KNOWN)
            all = one;
    }
    if (any_unknown)
        return unknown;
    return all.state == SW_KNOWN ? known(all.value) : all;
}

double sw_line_at(const double *xs, const double *ys, size_t count, double x) {
    if (x <= xs[0])
        return ys[0];
    for (size_t i = 1; i < count; i++)
        if (x <= xs[i])
            return ys[i - 1] + (ys[i] - ys[i - 1]) * (x - xs[i - 1]) / (xs[i] - xs[i - 1]);
    return ys[count - 1];
}

static sw_number picked(const sw_fitouts *fitouts, const sw_expr *expr, const sw_fitout *fitout) {
    const sw_value *value = sw_fitout_value(fitouts, fitout, expr->fact);
    if (value->state != SW_KNOWN)
        return (sw_number){value->state, 0};
    if (value->token_count == 0)
        return nothing;
    double least = INFINITY;
    for (size_t t = 0; t < value->token_count; t++) {
        double gives = expr->number;
        for (size_t i = 0; i < expr->point_count; i++)
            if (sw_text_compare(expr->tokens[i], value->tokens[t]) == 0)
                gives = expr->ys[i];
        least = gives < least ? gives : least;
    }
    return known(least);
}

/* Recursion is bounded: the file's nesting is at most 64. */
sw_number sw_expr_value(const sw_fitouts *fitouts, const sw_expr *expr, const sw_fitout *fitout) {
    if (expr->op == SW_EXPR_NUMBER)
        return known(expr->number);
    if (expr->op == SW_EXPR_FACT)
        return fact_number(fitouts, expr, fitout);
    if (expr->op == SW_EXPR_PICK)
        return picked(fitouts, expr, fitout);
    if (expr->op == SW_EXPR_SUM || expr->op == SW_EXPR_PRODUCT || expr->op == SW_EXPR_LEAST ||
        expr->op == SW_EXPR_MOST)
        return joined(fitouts, expr, fitout);
    sw_number x = sw_expr_value(fitouts, &expr->operands[0], fitout);
    if (x.state != SW_KNOWN)
        return x;
    switch (expr->op) {
    case SW_EXPR_POWER:
        if (x.value <= 0 && expr->number != floor(expr->number))
            return unknown;
        return known(pow(x.value, expr->number));
    case SW_EXPR_LOG2:
        return x.value > 0 ? known(log2(x.value)) : unknown;
    default:
        return known(sw_line_at(expr->xs, expr->ys, expr->point_count, x.value));
    }
}
