/* What ends a complaint, as rows: a sum that must be reached, turned round; and "not all of the
 * roles without it at once". */
#include "program/stage.h"

static sw_status lower_sum(sw_program *program, const sw_demand_sum *demand) {
    sw_sum sum = {.rule = SW_NONE,
                  .amount = SW_NEW(program->arena, int64_t, program->pick_count),
                  .in = SW_NEW(program->arena, bool, program->group_count),
                  .limit = -demand->least};
    if (sum.amount == NULL || sum.in == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++) {
        sum.amount[p] = -demand->terms[program->picks[p].fitout];
        sum.in[program->picks[p].group] = sum.in[program->picks[p].group] || sum.amount[p] != 0;
    }
    if (!SW_GROW(program->sums, program->sum_room, program->sum_count))
        return SW_NO_MEMORY;
    program->sums[program->sum_count++] = sum;
    return SW_OK;
}

static sw_status lower_any(sw_program *program, const sw_demand_any *demand) {
    sw_set *sets = SW_NEW(program->arena, sw_set, program->group_count);
    bool *lacks = SW_NEW(program->arena, bool, program->fitouts->fitout_count);
    if (sets == NULL || lacks == NULL)
        return SW_NO_MEMORY;
    for (size_t f = 0; f < program->fitouts->fitout_count; f++)
        lacks[f] = !demand->holds[f];
    size_t count = 0;
    for (size_t g = 0; g < program->group_count; g++) {
        if (!demand->reads[g])
            continue;
        sw_status status = sw_set_make(&sets[count++], program, (int)g, lacks);
        if (status != SW_OK)
            return status;
    }
    return sw_not_all_add(program, SW_NONE, sets, count);
}

sw_status sw_lower_demands(sw_program *program) {
    const sw_demands *demands = program->demands;
    sw_status status = SW_OK;
    for (size_t i = 0; i < demands->sum_count && status == SW_OK; i++)
        status = lower_sum(program, &demands->sums[i]);
    for (size_t i = 0; i < demands->any_count && status == SW_OK; i++)
        status = lower_any(program, &demands->anys[i]);
    return status;
}
