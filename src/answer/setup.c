/* From a scenario to its program. */
#include "answer/setup.h"

/* The stages before the program. */
static sw_status make(sw_setup *out, const sw_scenario *scenario, bool allow_unknown,
                      sw_complaints *complaints) {
    *out = (sw_setup){0};
    sw_status status = sw_fitouts_make(&out->fitouts, scenario, complaints);
    if (status == SW_OK)
        status = sw_estimates_make(&out->estimates, out->fitouts, complaints);
    return status == SW_OK ? sw_rulebook_make(&out->book, out->fitouts, allow_unknown) : status;
}

sw_status sw_setup_make(sw_setup *out, const sw_scenario *scenario, bool allow_unknown,
                        const bool *aside, sw_complaints *complaints) {
    sw_status status = make(out, scenario, allow_unknown, complaints);
    for (size_t r = 0; status == SW_OK && aside != NULL && r < scenario->catalog->rule_count; r++)
        if (aside[r])
            sw_rulebook_set_aside(out->book, scenario->catalog->rules[r].id);
    if (status == SW_OK)
        status = sw_program_make(&out->program, out->fitouts, out->book, out->estimates, NULL);
    if (status != SW_OK)
        sw_setup_free(out);
    return status;
}

sw_status sw_setup_make_ending(sw_setup *out, const sw_scenario *scenario, bool allow_unknown,
                               const sw_stated_trouble *trouble, sw_complaints *complaints) {
    sw_status status = make(out, scenario, allow_unknown, complaints);
    if (status == SW_OK) {
        sw_demands *demands = SW_NEW(out->estimates->arena, sw_demands, 1);
        status = demands == NULL ? SW_NO_MEMORY : sw_demands_make(demands, out->estimates, trouble);
        out->demands = status == SW_OK ? demands : NULL;
    }
    if (status == SW_OK && out->demands->has_sones)
        sw_quieten(out->estimates, out->demands->sones_most);
    if (status == SW_OK)
        status =
            sw_program_make(&out->program, out->fitouts, out->book, out->estimates, out->demands);
    if (status != SW_OK)
        sw_setup_free(out);
    return status;
}

sw_status sw_setup_score_by(sw_setup *setup, const int *machine) {
    sw_status status = sw_estimates_finish(setup->estimates, machine);
    return status == SW_OK ? sw_program_score(setup->program) : status;
}

sw_status sw_setup_score(sw_setup *setup, const int *picks) {
    const sw_program *program = setup->program;
    int *machine = SW_NEW(program->arena, int, program->group_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] = picks != NULL ? program->picks[picks[g]].fitout : setup->fitouts->present[g];
    return sw_setup_score_by(setup, machine);
}

void sw_setup_free(sw_setup *setup) {
    sw_program_free(setup->program);
    if (setup->demands != NULL)
        sw_demands_free(setup->demands);
    sw_rulebook_free(setup->book);
    sw_estimates_free(setup->estimates);
    sw_fitouts_free(setup->fitouts);
    *setup = (sw_setup){0};
}
