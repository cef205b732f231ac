/* Sets of picks, the scope of a rule's conditions, and the one kind of logical
 * row: not all of these at once. */
#include "program/stage.h"

sw_status sw_set_make(sw_set *out, sw_program *program, int group, const bool *marked) {
    const sw_group *of = &program->groups[group];
    int *picks = SW_NEW(program->arena, int, (size_t)of->count);
    if (picks == NULL)
        return SW_NO_MEMORY;
    *out = (sw_set){group, picks, 0};
    for (int p = of->first; p < of->first + of->count; p++)
        if (marked[program->picks[p].fitout])
            picks[out->count++] = p;
    return SW_OK;
}

sw_status sw_set_both(sw_set *out, sw_program *program, const sw_set *a, const sw_set *b) {
    int *picks = SW_NEW(program->arena, int, a->count);
    if (picks == NULL)
        return SW_NO_MEMORY;
    size_t count = 0, k = 0;
    for (size_t i = 0; i < a->count; i++) {
        while (k < b->count && b->picks[k] < a->picks[i])
            k++;
        if (k < b->count && b->picks[k] == a->picks[i])
            picks[count++] = a->picks[i];
    }
    *out = (sw_set){a->group, picks, count};
    return SW_OK;
}

sw_status sw_not_all_add(sw_program *program, int rule, const sw_set *sets, size_t count) {
    sw_not_all row = {.rule = rule, .sets = SW_NEW(program->arena, sw_set, count)};
    if (row.sets == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < count; i++) {
        size_t at = 0;
        while (at < row.count && row.sets[at].group != sets[i].group)
            at++;
        if (at == row.count)
            row.sets[row.count++] = sets[i];
        else if (sw_set_both(&row.sets[at], program, &row.sets[at], &sets[i]) != SW_OK)
            return SW_NO_MEMORY;
    }
    for (size_t i = 0; i < row.count; i++)
        if (row.sets[i].count == 0)
            return SW_OK;
    if (row.count == 1) {
        for (size_t i = 0; i < row.sets[0].count; i++)
            program->picks[row.sets[0].picks[i]].dropped = true;
        return SW_OK;
    }
    if (row.count == 0)
        return SW_OK;
    if (!SW_GROW(program->not_alls, program->not_all_room, program->not_all_count))
        return SW_NO_MEMORY;
    program->not_alls[program->not_all_count++] = row;
    return SW_OK;
}

static sw_status narrow(sw_scope *scope, sw_program *program, const sw_cond *cond, bool unless) {
    const sw_fitouts *fitouts = program->fitouts;
    if (cond->role == SW_NONE) {
        sw_truth truth = sw_cond_truth(fitouts, cond, NULL);
        scope->never = scope->never || (unless ? truth == SW_TRUE : truth == SW_FALSE);
        return SW_OK;
    }
    bool *applies = scope->applies[cond->role];
    int first = fitouts->first_fitout[cond->role], end = fitouts->first_fitout[cond->role + 1];
    if (applies == NULL) {
        applies = SW_NEW(program->arena, bool, fitouts->fitout_count);
        if (applies == NULL)
            return SW_NO_MEMORY;
        scope->applies[cond->role] = applies;
        for (int f = first; f < end; f++)
            applies[f] = true;
    }
    for (int f = first; f < end; f++) {
        sw_truth truth = sw_cond_truth(fitouts, cond, &fitouts->fitouts[f]);
        if (unless ? truth == SW_TRUE : truth == SW_FALSE)
            applies[f] = false;
    }
    return SW_OK;
}

sw_status sw_scope_make(sw_scope *out, sw_program *program, const sw_rule *rule) {
    *out = (sw_scope){SW_NEW(program->arena, bool *, program->group_count), false};
    if (out->applies == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t i = 0; i < rule->when_count && status == SW_OK; i++)
        status = narrow(out, program, &rule->when[i], false);
    for (size_t i = 0; i < rule->unless_count && status == SW_OK; i++)
        status = narrow(out, program, &rule->unless[i], true);
    return status;
}

sw_status sw_scope_sets(sw_set *sets, size_t *count, sw_program *program, const sw_scope *scope,
                        const bool *but) {
    for (size_t g = 0; g < program->group_count; g++) {
        if (scope->applies[g] == NULL || (but != NULL && but[g]))
            continue;
        sw_status status = sw_set_make(&sets[*count], program, (int)g, scope->applies[g]);
        if (status != SW_OK)
            return status;
        (*count)++;
    }
    return SW_OK;
}
