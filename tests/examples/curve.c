/* Best points against money, as JSON: curve SCENARIO [TO]
 *
 *     cc curve.c $(pkg-config --cflags --libs swapworth) -o curve
 */
#include <swapworth.h>

#include <stdio.h>
#include <stdlib.h>

/* Told while it works. */
static void tell(void *context, const sw_progress *progress) {
    size_t *told = context;
    if (progress->steps > 0)
        *told = (size_t)progress->steps;
}

int main(int argc, char **argv) {
    if (argc < 2) {
        fputs("curve SCENARIO [TO]\n", stderr);
        return 64;
    }
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_answer *answer = NULL;
    char *text = NULL;
    size_t steps = 0;
    sw_plan_options options = sw_plan_options_default();
    options.tell = tell;
    options.context = &steps;
    sw_status status = complaints == NULL ? SW_NO_MEMORY : SW_OK;
    if (status == SW_OK)
        status = sw_scenario_read(&scenario, argv[1], NULL, complaints);
    if (status == SW_OK && argc > 2)
        status = sw_scenario_money(&options.curve_to, scenario, "TO", argv[2], complaints);
    if (status == SW_OK)
        status = sw_curve(&answer, scenario, &options, complaints);
    if (status == SW_OK)
        status = sw_render_curve_json(&text, answer);
    if (status == SW_OK)
        fputs(text, stdout);
    for (size_t i = 0; complaints != NULL && i < sw_complaints_count(complaints) && i < 1; i++)
        fprintf(stderr, "%s: %s\n", sw_complaints_get(complaints, i)->place,
                sw_complaints_get(complaints, i)->what);
    free(text);
    sw_answer_free(answer);
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
    return status == SW_OK ? 0 : 65;
}
