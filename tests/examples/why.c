/* Why a part is in the best bundle, or is not, as JSON: why SCENARIO PART
 *
 *     cc why.c $(pkg-config --cflags --libs swapworth) -o why
 */
#include <swapworth.h>

#include <stdio.h>
#include <stdlib.h>

int main(int argc, char **argv) {
    if (argc != 3) {
        fputs("why SCENARIO PART\n", stderr);
        return 64;
    }
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_why *why = NULL;
    char *text = NULL;
    sw_plan_options options = sw_plan_options_default();
    sw_status status = complaints == NULL ? SW_NO_MEMORY : SW_OK;
    if (status == SW_OK)
        status = sw_scenario_read(&scenario, argv[1], NULL, complaints);
    if (status == SW_OK)
        status = sw_ask_why(&why, scenario, argv[2], NULL, &options, complaints);
    if (status == SW_OK)
        status = sw_render_why_json(&text, why);
    if (status == SW_OK)
        fputs(text, stdout);
    else if (complaints != NULL && sw_complaints_count(complaints) > 0)
        fprintf(stderr, "%s\n", sw_complaints_get(complaints, 0)->what);
    free(text);
    sw_why_free(why);
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
    return status == SW_OK ? 0 : 65;
}
