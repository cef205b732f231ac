/* A stage's rate as the least of some products: what its expression spreads into. */
#ifndef SW_PRODUCTS_H
#define SW_PRODUCTS_H

#include "fitouts/fitouts.h"

/* One factor of a product: what a role brings, to a power that lies between two ends. */
typedef struct sw_factor {
    const sw_expr *expr;
    double exponent, least, most;
    int role;
} sw_factor;

typedef struct sw_product {
    sw_factor *factors;
    size_t count;
    double log2_constant;
} sw_product;

typedef struct sw_products {
    sw_product *list;
    size_t count;
} sw_products;

sw_status sw_products_make(sw_products *out, sw_arena *arena, const sw_expr *rate);

#endif
