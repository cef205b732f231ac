/* Plans a job and prints the answer: plan SCENARIO [--json]
 *
 *     cc plan.c $(pkg-config --cflags --libs swapworth) -o plan
 */
#include <swapworth.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void say(const sw_complaints *complaints) {
    const sw_complaint *complaint;
    for (size_t i = 0; (complaint = sw_complaints_get(complaints, i)) != NULL; i++)
        fprintf(stderr, "%s: %s: %s. %s. %s.\n", complaint->file, complaint->place, complaint->what,
                complaint->why, complaint->mend);
}

static sw_status plan(const char *path, bool json, sw_complaints *complaints) {
    sw_scenario *scenario = NULL;
    sw_answer *answer = NULL;
    char *text = NULL;
    sw_plan_options options = sw_plan_options_default();
    sw_status status = sw_scenario_read(&scenario, path, NULL, complaints);
    if (status == SW_OK)
        status = sw_plan(&answer, scenario, &options, complaints);
    if (status == SW_OK)
        status = json ? sw_render_plan_json(&text, answer)
                      : sw_render_plan_text(&text, answer, (sw_text_style){.width = 80});
    if (status == SW_OK)
        fputs(text, stdout);
    free(text);
    sw_answer_free(answer);
    sw_scenario_free(scenario);
    return status;
}

int main(int argc, char **argv) {
    if (argc < 2) {
        fputs("plan SCENARIO [--json]\n", stderr);
        return 64;
    }
    sw_complaints *complaints = sw_complaints_new();
    if (complaints == NULL)
        return 70;
    sw_status status = plan(argv[1], argc > 2 && strcmp(argv[2], "--json") == 0, complaints);
    say(complaints);
    sw_complaints_free(complaints);
    return status == SW_OK ? 0 : 65;
}
