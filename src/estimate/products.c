/* Spreads the rate of a stage into products. */
#include "estimate/products.h"

#include <math.h>

typedef struct raised {
    double exponent, least, most;
} raised;

/* The role whose facts an expression without least, product or power on top
 * reads; SW_NONE for a plain number. The checks made sure there is one. */
static int role_of(const sw_expr *expr) {
    if (expr->op == SW_EXPR_FACT || expr->op == SW_EXPR_PICK)
        return expr->role;
    for (size_t i = 0; i < expr->count; i++) {
        int role = role_of(&expr->operands[i]);
        if (role != SW_NONE)
            return role;
    }
    return SW_NONE;
}

static sw_status times(sw_arena *arena, const sw_products *a, const sw_products *b,
                       sw_products *out) {
    out->list = SW_NEW(arena, sw_product, a->count * b->count);
    if (out->list == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < a->count; i++)
        for (size_t k = 0; k < b->count; k++) {
            const sw_product *x = &a->list[i], *y = &b->list[k];
            sw_product *both = &out->list[out->count++];
            both->factors = SW_NEW(arena, sw_factor, x->count + y->count);
            if (both->factors == NULL)
                return SW_NO_MEMORY;
            for (size_t f = 0; f < x->count; f++)
                both->factors[both->count++] = x->factors[f];
            for (size_t f = 0; f < y->count; f++)
                both->factors[both->count++] = y->factors[f];
            both->log2_constant = x->log2_constant + y->log2_constant;
        }
    return SW_OK;
}

static sw_status joined(sw_arena *arena, const sw_products *a, const sw_products *b,
                        sw_products *out) {
    out->list = SW_NEW(arena, sw_product, a->count + b->count);
    if (out->list == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < a->count; i++)
        out->list[out->count++] = a->list[i];
    for (size_t i = 0; i < b->count; i++)
        out->list[out->count++] = b->list[i];
    return SW_OK;
}

static sw_status single(sw_arena *arena, const sw_expr *expr, raised to, sw_products *out) {
    out->list = SW_NEW(arena, sw_product, 1);
    sw_factor *factors = SW_NEW(arena, sw_factor, 1);
    if (out->list == NULL || factors == NULL)
        return SW_NO_MEMORY;
    out->count = 1;
    if (expr->op == SW_EXPR_NUMBER) {
        out->list[0].log2_constant = to.exponent * log2(expr->number);
        return SW_OK;
    }
    factors[0] = (sw_factor){expr, to.exponent, to.least, to.most, role_of(expr)};
    out->list[0].factors = factors;
    out->list[0].count = 1;
    return SW_OK;
}

/* The exponent that stands over an expression, and its ends. */
static raised raise(raised to, const sw_expr *power) {
    return (raised){to.exponent * power->number, to.least * power->least, to.most * power->most};
}

/* Spreads products over leasts. Recursion is bounded by the file's nesting. */
static sw_status expand(sw_arena *arena, const sw_expr *expr, raised to, sw_products *out) {
    *out = (sw_products){0};
    if (expr->op == SW_EXPR_POWER)
        return expand(arena, &expr->operands[0], raise(to, expr), out);
    if (expr->op != SW_EXPR_LEAST && expr->op != SW_EXPR_PRODUCT)
        return single(arena, expr, to, out);
    sw_status status = expand(arena, &expr->operands[0], to, out);
    for (size_t i = 1; i < expr->count && status == SW_OK; i++) {
        sw_products more, both = {0};
        status = expand(arena, &expr->operands[i], to, &more);
        if (status != SW_OK)
            return status;
        status = expr->op == SW_EXPR_LEAST ? joined(arena, out, &more, &both)
                                           : times(arena, out, &more, &both);
        *out = both;
    }
    return status;
}

sw_status sw_products_make(sw_products *out, sw_arena *arena, const sw_expr *rate) {
    return expand(arena, rate, (raised){1, 1, 1}, out);
}
