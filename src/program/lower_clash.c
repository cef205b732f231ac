/* Clashes as rows. Where a condition is unknown, or the clash is there today,
 * the machine may keep what it has but may not be given a new part. */
#include "program/stage.h"

typedef struct clash_marks {
    bool *body;                         /* [group] */
    bool *certain;                      /* [fitout] true on all conditions of its role */
    bool *possible;                     /* [fitout] not false on any */
    bool *certain_adds, *possible_adds; /* and touches the rule */
    bool never;                         /* an observation makes it false */
} clash_marks;

static sw_status make_marks(sw_program *program, int index, clash_marks *marks) {
    const sw_rule *rule = &program->book->rules[index];
    const bool *touches = program->book->touches[index];
    const sw_fitouts *fitouts = program->fitouts;
    size_t count = fitouts->fitout_count;
    *marks = (clash_marks){SW_NEW(program->arena, bool, program->group_count),
                           SW_NEW(program->arena, bool, count),
                           SW_NEW(program->arena, bool, count),
                           SW_NEW(program->arena, bool, count),
                           SW_NEW(program->arena, bool, count),
                           false};
    if (marks->body == NULL || marks->certain == NULL || marks->possible == NULL ||
        marks->certain_adds == NULL || marks->possible_adds == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < rule->cond_count; i++) {
        const sw_cond *cond = &rule->conds[i];
        if (cond->role != SW_NONE)
            marks->body[cond->role] = true;
        else if (sw_cond_truth(fitouts, cond, NULL) == SW_FALSE)
            marks->never = true;
    }
    for (size_t f = 0; f < count; f++) {
        const sw_fitout *fitout = &fitouts->fitouts[f];
        sw_truth all = SW_TRUE;
        for (size_t i = 0; i < rule->cond_count; i++)
            if (rule->conds[i].role == fitout->role)
                all = sw_truth_and(all, sw_cond_truth(fitouts, &rule->conds[i], fitout));
        marks->certain[f] = all == SW_TRUE;
        marks->possible[f] = all != SW_FALSE;
        marks->certain_adds[f] = marks->certain[f] && touches[f];
        marks->possible_adds[f] = marks->possible[f] && touches[f];
    }
    return SW_OK;
}

/* One row: every body group within `marked`, the group `special` within
 * `special_marked`, and the conditions around the rule. */
static sw_status add_row(sw_program *program, int rule, const sw_scope *scope,
                         const clash_marks *marks, const bool *marked, int special,
                         const bool *special_marked) {
    sw_set *sets = SW_NEW(program->arena, sw_set, program->group_count * 2);
    if (sets == NULL)
        return SW_NO_MEMORY;
    size_t count = 0;
    sw_status status = SW_OK;
    for (size_t g = 0; g < program->group_count && status == SW_OK; g++)
        if (marks->body[g])
            status = sw_set_make(&sets[count++], program, (int)g,
                                 (int)g == special ? special_marked : marked);
    if (status == SW_OK)
        status = sw_scope_sets(sets, &count, program, scope, NULL);
    return status == SW_OK ? sw_not_all_add(program, rule, sets, count) : status;
}

static sw_status add_rows_with_new_part(sw_program *program, int rule, const sw_scope *scope,
                                        const clash_marks *marks, const bool *marked,
                                        const bool *marked_adds) {
    sw_status status = SW_OK;
    for (size_t g = 0; g < program->group_count && status == SW_OK; g++)
        if (marks->body[g])
            status = add_row(program, rule, scope, marks, marked, (int)g, marked_adds);
    return status;
}

sw_status sw_lower_clash(sw_program *program, int rule) {
    const sw_rule *of = &program->book->rules[rule];
    sw_scope scope;
    clash_marks marks = {0};
    sw_status status = sw_scope_make(&scope, program, of);
    if (status == SW_OK)
        status = make_marks(program, rule, &marks);
    if (status != SW_OK || scope.never || marks.never)
        return status;
    bool broken_now = program->book->now[rule].verdict == SW_BROKEN;
    bool any_body = false;
    for (size_t g = 0; g < program->group_count; g++)
        any_body = any_body || marks.body[g];
    if (!broken_now && any_body)
        status = add_row(program, rule, &scope, &marks, marks.certain, SW_NONE, NULL);
    if (broken_now && status == SW_OK)
        status = add_rows_with_new_part(program, rule, &scope, &marks, marks.certain,
                                        marks.certain_adds);
    if (!program->book->allow_unknown && status == SW_OK)
        status = add_rows_with_new_part(program, rule, &scope, &marks, marks.possible,
                                        marks.possible_adds);
    return status;
}
