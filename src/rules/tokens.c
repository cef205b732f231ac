/* The shapes `same` and `among`: sockets, forms, types. */
#include "rules/stage.h"

#include <string.h>

static bool holds(const sw_value *value, const char *token) {
    for (size_t i = 0; i < value->token_count; i++)
        if (strcmp(value->tokens[i], token) == 0)
            return true;
    return false;
}

static const char *first_missing(const sw_value *from, const sw_value *in) {
    for (size_t i = 0; i < from->token_count; i++)
        if (!holds(in, from->tokens[i]))
            return from->tokens[i];
    return NULL;
}

bool sw_tokens_same(const sw_value *left, const sw_value *right) {
    return first_missing(left, right) == NULL && first_missing(right, left) == NULL;
}

bool sw_tokens_among(const sw_value *left, bool left_is_list, const sw_value *right) {
    if (!left_is_list)
        return first_missing(left, right) == NULL;
    for (size_t i = 0; i < left->token_count; i++)
        if (holds(right, left->tokens[i]))
            return true;
    return false;
}

void sw_judge_tokens(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine,
                     sw_judgement *out) {
    const sw_value *left =
        sw_fitout_value(fitouts, &fitouts->fitouts[machine[rule->left.role]], rule->left.fact);
    const sw_value *right =
        sw_fitout_value(fitouts, &fitouts->fitouts[machine[rule->right.role]], rule->right.fact);
    if (left->state == SW_VOID || right->state == SW_VOID)
        return;
    if (left->state == SW_UNKNOWN || right->state == SW_UNKNOWN) {
        const sw_term *term = left->state == SW_UNKNOWN ? &rule->left : &rule->right;
        out->verdict = SW_UNJUDGED;
        out->unknown_role = term->role;
        out->unknown_fact = term->fact;
        return;
    }
    bool list = fitouts->catalog->facts[rule->left.fact].type == SW_LIST;
    bool good =
        rule->shape == SW_SAME ? sw_tokens_same(left, right) : sw_tokens_among(left, list, right);
    out->verdict = good ? SW_HOLDS : SW_BROKEN;
    out->left = left;
    out->right = right;
}
