/* The stage as a whole: sources, then role by role the fit-outs and the ways
 * to buy them. */
#include "fitouts/stage.h"

#include <stdlib.h>

static sw_status make_slots(sw_fitouts *fitouts) {
    const sw_catalog *catalog = fitouts->catalog;
    fitouts->slot = SW_NEW(fitouts->arena, int *, catalog->role_count);
    fitouts->slot_count = SW_NEW(fitouts->arena, int, catalog->role_count);
    fitouts->first_fitout = SW_NEW(fitouts->arena, int, catalog->role_count + 1);
    fitouts->present = SW_NEW(fitouts->arena, int, catalog->role_count);
    if (fitouts->slot == NULL || fitouts->slot_count == NULL || fitouts->first_fitout == NULL ||
        fitouts->present == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < catalog->role_count; r++) {
        fitouts->slot[r] = SW_NEW(fitouts->arena, int, catalog->fact_count);
        if (fitouts->slot[r] == NULL)
            return SW_NO_MEMORY;
        for (size_t f = 0; f < catalog->fact_count; f++) {
            const sw_fact *fact = &catalog->facts[f];
            bool here =
                fact->derived_role == SW_NONE ? fact->on_role[r] : fact->derived_role == (int)r;
            fitouts->slot[r][f] = here ? fitouts->slot_count[r]++ : SW_NONE;
        }
    }
    return SW_OK;
}

static sw_status make_role(sw_fitouts *fitouts, int role, sw_complaints *complaints) {
    fitouts->first_fitout[role] = (int)fitouts->fitout_count;
    sw_status status = sw_role_fitouts_make(fitouts, role, complaints);
    fitouts->first_fitout[role + 1] = (int)fitouts->fitout_count;
    for (int f = fitouts->first_fitout[role];
         f < fitouts->first_fitout[role + 1] && status == SW_OK; f++)
        status = sw_choices_make(fitouts, f, complaints);
    return status;
}

sw_status sw_fitouts_make(sw_fitouts **out, const sw_scenario *scenario,
                          sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_fitouts *fitouts = arena == NULL ? NULL : SW_NEW(arena, sw_fitouts, 1);
    if (fitouts == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    fitouts->arena = arena;
    fitouts->scenario = scenario;
    fitouts->catalog = scenario->catalog;
    sw_status status = make_slots(fitouts);
    if (status == SW_OK)
        status = sw_sources_make(fitouts);
    for (size_t r = 0; r < scenario->catalog->role_count && status == SW_OK; r++)
        status = make_role(fitouts, (int)r, complaints);
    if (status == SW_OK)
        *out = fitouts;
    else
        sw_fitouts_free(fitouts);
    return status;
}

void sw_fitouts_free(sw_fitouts *fitouts) {
    if (fitouts == NULL)
        return;
    free(fitouts->left_out);
    free(fitouts->fitouts);
    free(fitouts->choices);
    sw_arena_free(fitouts->arena);
}
