/* Rules between two roles (same, among, within with nothing taken) as rows:
 * fit-outs with equal values fall into classes, and every class of one role
 * may not stand beside the classes of the other that it does not go with.
 * Classes that are refused at least as much join the row: for lengths these
 * are the thresholds "needs t or more" against "gives less than t". */
#include "program/stage.h"

#include <stdlib.h>
#include <string.h>

typedef struct pair_side {
    int role, fact;
    int *class_of; /* [fitout], SW_NONE when the rule does not apply there */
    int *one_of;   /* [class] a fit-out of it */
    size_t count;
} pair_side;

static bool equal_values(const sw_value *a, const sw_value *b) {
    if (a->state != b->state || a->milli != b->milli || a->token_count != b->token_count)
        return false;
    for (size_t i = 0; i < a->token_count; i++)
        if (strcmp(a->tokens[i], b->tokens[i]) != 0)
            return false;
    return true;
}

static sw_status classify(sw_program *program, const sw_scope *scope, const bool *touches,
                          pair_side *side) {
    const sw_fitouts *fitouts = program->fitouts;
    int first = fitouts->first_fitout[side->role], end = fitouts->first_fitout[side->role + 1];
    side->class_of = SW_NEW(program->arena, int, fitouts->fitout_count);
    side->one_of = SW_NEW(program->arena, int, (size_t)(end - first));
    if (side->class_of == NULL || side->one_of == NULL)
        return SW_NO_MEMORY;
    for (int f = first; f < end; f++) {
        const bool *applies = scope->applies[side->role];
        const sw_fitout *fitout = &fitouts->fitouts[f];
        side->class_of[f] = SW_NONE;
        if (applies != NULL && !applies[f])
            continue;
        const sw_value *value = sw_fitout_value(fitouts, fitout, side->fact);
        size_t c = 0;
        while (c < side->count) {
            const sw_fitout *other = &fitouts->fitouts[side->one_of[c]];
            if (touches[side->one_of[c]] == touches[f] &&
                equal_values(value, sw_fitout_value(fitouts, other, side->fact)))
                break;
            c++;
        }
        if (c == side->count)
            side->one_of[side->count++] = f;
        side->class_of[f] = (int)c;
    }
    return SW_OK;
}

static bool agree(const sw_program *program, const sw_rule *rule, const sw_value *left,
                  const sw_value *right, int64_t shortfall) {
    if (rule->shape == SW_WITHIN)
        return (left->milli - right->milli) * 1000 <= shortfall;
    bool list = program->fitouts->catalog->facts[rule->left.fact].type == SW_LIST;
    return rule->shape == SW_SAME ? sw_tokens_same(left, right)
                                  : sw_tokens_among(left, list, right);
}

/* Is the pair of fit-outs refused by the rule, where it applies? */
static bool refused(const sw_program *program, int rule_index, const sw_fitout *a,
                    const sw_fitout *b) {
    const sw_rule *rule = &program->book->rules[rule_index];
    const sw_judgement *now = &program->book->now[rule_index];
    const sw_value *left = sw_fitout_value(program->fitouts, a, rule->left.fact);
    const sw_value *right = sw_fitout_value(program->fitouts, b, rule->right.fact);
    const bool *touches = program->book->touches[rule_index];
    bool adds = touches[a - program->fitouts->fitouts] || touches[b - program->fitouts->fitouts];
    if (left->state == SW_VOID || right->state == SW_VOID)
        return false;
    if (left->state == SW_UNKNOWN || right->state == SW_UNKNOWN)
        return adds && !program->book->allow_unknown;
    bool broken_now = now->verdict == SW_BROKEN;
    if (agree(program, rule, left, right, broken_now ? now->excess : 0))
        return false;
    return rule->shape == SW_WITHIN || adds || !broken_now;
}

/* One role on both sides: nothing to pair, fit-outs fall alone. */
static sw_status lower_alone(sw_program *program, int rule, const sw_scope *scope) {
    const sw_rule *of = &program->book->rules[rule];
    const sw_fitouts *fitouts = program->fitouts;
    bool *bad = SW_NEW(program->arena, bool, fitouts->fitout_count);
    sw_set *sets = SW_NEW(program->arena, sw_set, program->group_count + 1);
    if (bad == NULL || sets == NULL)
        return SW_NO_MEMORY;
    for (int f = fitouts->first_fitout[of->left.role]; f < fitouts->first_fitout[of->left.role + 1];
         f++)
        bad[f] = refused(program, rule, &fitouts->fitouts[f], &fitouts->fitouts[f]);
    size_t count = 1;
    sw_status status = sw_set_make(&sets[0], program, of->left.role, bad);
    if (status == SW_OK)
        status = sw_scope_sets(sets, &count, program, scope, NULL);
    return status == SW_OK ? sw_not_all_add(program, rule, sets, count) : status;
}

/* Does class `i` refuse at least every class that class `k` refuses? */
static bool covers(const bool *bad, size_t width, size_t i, size_t k) {
    for (size_t c = 0; c < width; c++)
        if (bad[k * width + c] && !bad[i * width + c])
            return false;
    return true;
}

static sw_status set_of_classes(sw_set *out, sw_program *program, const pair_side *side,
                                const bool *wanted) {
    const sw_fitouts *fitouts = program->fitouts;
    bool *marked = SW_NEW(program->arena, bool, fitouts->fitout_count);
    if (marked == NULL)
        return SW_NO_MEMORY;
    for (int f = fitouts->first_fitout[side->role]; f < fitouts->first_fitout[side->role + 1]; f++)
        marked[f] = side->class_of[f] != SW_NONE && wanted[side->class_of[f]];
    return sw_set_make(out, program, side->role, marked);
}

static sw_status add_row(sw_program *program, int rule, const pair_side *left,
                         const pair_side *right, const bool *bad, size_t which,
                         const sw_scope *scope) {
    bool *joined = SW_NEW(program->arena, bool, left->count);
    bool *but = SW_NEW(program->arena, bool, program->group_count);
    sw_set *sets = SW_NEW(program->arena, sw_set, program->group_count + 2);
    if (joined == NULL || but == NULL || sets == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < left->count; i++)
        joined[i] = covers(bad, right->count, i, which);
    but[left->role] = but[right->role] = true;
    size_t count = 2;
    sw_status status = set_of_classes(&sets[0], program, left, joined);
    if (status == SW_OK)
        status = set_of_classes(&sets[1], program, right, &bad[which * right->count]);
    if (status == SW_OK)
        status = sw_scope_sets(sets, &count, program, scope, but);
    return status == SW_OK ? sw_not_all_add(program, rule, sets, count) : status;
}

/* Rows for refusal patterns already written are not written again. */
static bool worth_a_row(const bool *bad, size_t width, size_t which) {
    bool any = false;
    for (size_t c = 0; c < width; c++)
        any = any || bad[which * width + c];
    for (size_t k = 0; k < which && any; k++)
        if (covers(bad, width, which, k) && covers(bad, width, k, which))
            return false;
    return any;
}

sw_status sw_lower_pair(sw_program *program, int rule) {
    const sw_rule *of = &program->book->rules[rule];
    const sw_fitouts *fitouts = program->fitouts;
    sw_scope scope;
    sw_status status = sw_scope_make(&scope, program, of);
    if (status != SW_OK || scope.never)
        return status;
    if (of->left.role == of->right.role)
        return lower_alone(program, rule, &scope);
    pair_side left = {.role = of->left.role, .fact = of->left.fact};
    pair_side right = {.role = of->right.role, .fact = of->right.fact};
    status = classify(program, &scope, program->book->touches[rule], &left);
    if (status == SW_OK)
        status = classify(program, &scope, program->book->touches[rule], &right);
    if (status != SW_OK)
        return status;
    bool *bad = SW_NEW(program->arena, bool, left.count *right.count);
    if (bad == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < left.count; i++)
        for (size_t k = 0; k < right.count; k++)
            bad[i * right.count + k] = refused(program, rule, &fitouts->fitouts[left.one_of[i]],
                                               &fitouts->fitouts[right.one_of[k]]);
    for (size_t i = 0; i < left.count && status == SW_OK; i++)
        if (worth_a_row(bad, right.count, i))
            status = add_row(program, rule, &left, &right, bad, i, &scope);
    return status;
}
