/* From a scenario to its program. */
#include "answer/setup.h"

sw_status sw_setup_make(sw_setup *out, const sw_scenario *scenario, bool allow_unknown,
                        const bool *aside, sw_complaints *complaints) {
    *out = (sw_setup){0};
    sw_status status = sw_fitouts_make(&out->fitouts, scenario, complaints);
    if (status == SW_OK)
        status = sw_estimates_make(&out->estimates, out->fitouts, complaints);
    if (status == SW_OK)
        status = sw_rulebook_make(&out->book, out->fitouts, allow_unknown);
    for (size_t r = 0; status == SW_OK && aside != NULL && r < scenario->catalog->rule_count; r++)
        if (aside[r])
            sw_rulebook_set_aside(out->book, scenario->catalog->rules[r].id);
    if (status == SW_OK)
        status = sw_program_make(&out->program, out->fitouts, out->book, out->estimates);
    if (status != SW_OK)
        sw_setup_free(out);
    return status;
}

sw_status sw_setup_score(sw_setup *setup, const int *picks) {
    sw_program *program = setup->program;
    int *machine = SW_NEW(program->arena, int, program->group_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] = picks != NULL ? program->picks[picks[g]].fitout : setup->fitouts->present[g];
    sw_status status = sw_estimates_finish(setup->estimates, machine);
    return status == SW_OK ? sw_program_score(program) : status;
}

void sw_setup_free(sw_setup *setup) {
    sw_program_free(setup->program);
    sw_rulebook_free(setup->book);
    sw_estimates_free(setup->estimates);
    sw_fitouts_free(setup->fitouts);
    *setup = (sw_setup){0};
}
