/*
 * speaker LOCALE SCENARIO CATALOG: plan --json, plan and export --mps of a job, said by
 * a program that sets the locale before it calls the library, as a host program may.
 */
#include "swapworth.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int say(sw_status status, char *text) {
    if (status == SW_OK)
        fputs(text, stdout);
    else
        printf("the call ended with %d\n", (int)status);
    free(text);
    return status == SW_OK ? 0 : 1;
}

static int speak(const sw_scenario *scenario, sw_complaints *complaints) {
    sw_plan_options options = sw_plan_options_default();
    options.seconds = 600;
    sw_answer *answer = NULL;
    char *json = NULL, *page = NULL, *program = NULL;
    sw_status status = sw_plan(&answer, scenario, &options, complaints);
    if (status != SW_OK)
        return say(status, NULL);
    status = sw_render_plan_json(&json, answer);
    int bad = say(status, json);
    status = sw_render_plan_text(&page, answer, (sw_text_style){.width = 80});
    bad += say(status, page);
    status = sw_export(&program, scenario, &options, SW_EXPORT_MPS, complaints);
    bad += say(status, program);
    sw_answer_free(answer);
    return bad;
}

int main(int argc, char **argv) {
    if (argc != 4)
        return 2;
    const char *set = setlocale(LC_ALL, argv[1]);
    if (set == NULL || strcmp(set, argv[1]) != 0) {
        printf("there is no locale %s\n", argv[1]);
        return 2;
    }
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_status status = complaints == NULL
                           ? SW_NO_MEMORY
                           : sw_scenario_read(&scenario, argv[2], argv[3], complaints);
    int code = status == SW_OK ? speak(scenario, complaints) : say(status, NULL);
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
    return code;
}
