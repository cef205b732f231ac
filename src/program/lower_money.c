/* Charges and deliveries: paid once when any of their picks is taken. */
#include "program/stage.h"

static sw_status start_due(sw_program *program, sw_due *due) {
    *due = (sw_due){.charge = SW_NONE, .seller = SW_NONE};
    due->due = SW_NEW(program->due_arena, bool, program->pick_count);
    return due->due == NULL ? SW_NO_MEMORY : SW_OK;
}

static sw_status add_due(sw_program *program, const sw_due *due) {
    if (!SW_GROW(program->dues, program->due_room, program->due_count))
        return SW_NO_MEMORY;
    program->dues[program->due_count++] = *due;
    return SW_OK;
}

static sw_status add_charge(sw_program *program, int index) {
    const sw_fitouts *fitouts = program->fitouts;
    const sw_charge *charge = &fitouts->catalog->charges[index];
    sw_due due;
    sw_status status = start_due(program, &due);
    if (status != SW_OK)
        return status;
    due.charge = index;
    due.minutes = charge->minutes;
    due.amount = sw_landed(fitouts->scenario, charge->amount) +
                 sw_labour(fitouts->scenario, charge->minutes);
    for (size_t i = 0; i < charge->any_count; i++) {
        const sw_cond *cond = &charge->any[i];
        if (cond->role == SW_NONE)
            due.always = due.always || sw_cond_truth(fitouts, cond, NULL) != SW_FALSE;
        for (size_t p = 0; p < program->pick_count && cond->role != SW_NONE; p++) {
            int choice = sw_billed_choice(program, (int)p);
            const sw_fitout *fitout = &fitouts->fitouts[fitouts->choices[choice].fitout];
            if (fitout->role == cond->role && sw_cond_truth(fitouts, cond, fitout) != SW_FALSE)
                due.due[p] = true;
        }
    }
    return add_due(program, &due);
}

static sw_status add_seller(sw_program *program, int index) {
    const sw_fitouts *fitouts = program->fitouts;
    const sw_seller *seller = &fitouts->catalog->sellers[index];
    sw_due due;
    sw_status status = start_due(program, &due);
    if (status != SW_OK)
        return status;
    due.seller = index;
    due.minutes = seller->minutes;
    due.goods = SW_NEW(program->due_arena, int64_t, program->pick_count);
    if (due.goods == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++) {
        const sw_choice *choice = &fitouts->choices[sw_billed_choice(program, (int)p)];
        for (int l = 0; l < choice->line_count; l++)
            if (fitouts->sources[choice->lines[l].source].seller == index) {
                due.due[p] = true;
                due.goods[p] += choice->lines[l].counted;
            }
    }
    /* Two dues: the errand's minutes are never waived, the delivery may be. */
    if (seller->minutes > 0) {
        sw_due errand = due;
        errand.goods = NULL;
        status = add_due(program, &errand);
    }
    due.minutes = 0;
    due.amount = seller->has_delivery ? sw_landed(fitouts->scenario, seller->delivery) : 0;
    due.free_from = seller->free_from;
    if (!seller->has_free_from)
        due.goods = NULL;
    return status == SW_OK && due.amount > 0 ? add_due(program, &due) : status;
}

sw_status sw_lower_money(sw_program *program) {
    const sw_scenario *scenario = program->fitouts->scenario;
    program->budget = sw_bill_limit(scenario, sw_scenario_budget(scenario));
    program->minutes_limit = scenario->minutes_limit;
    sw_arena_free(program->due_arena);
    program->due_arena = sw_arena_new();
    program->due_count = 0;
    sw_status status = program->due_arena == NULL ? SW_NO_MEMORY : SW_OK;
    for (size_t c = 0; c < scenario->catalog->charge_count && status == SW_OK; c++)
        status = add_charge(program, (int)c);
    for (size_t s = 0; s < scenario->catalog->seller_count && status == SW_OK; s++)
        status = add_seller(program, (int)s);
    return status;
}
