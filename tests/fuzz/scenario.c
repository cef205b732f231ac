/* A client's job: read whole, as a draft, in another layout, and with a change that changes
 * nothing. */
#include <stdlib.h>
#include <string.h>

#include "check/scenario.h"
#include "fuzz.h"
#include "read/json_text.h"

static sw_status read_it(sw_scenario **out, const char *bytes, size_t length, bool draft,
                         sw_complaints *complaints) {
    char *path = fuzz_path("jobs/job.json"), *catalog = fuzz_path("catalog");
    sw_status status = sw_scenario_read_bytes(out, path, bytes, length, catalog, draft, complaints);
#ifdef FUZZ_FAULT
    if (status == SW_OK && !draft && (*out)->budget_total < 100000) {
        sw_scenario_free(*out);
        *out = NULL;
        status = SW_BAD_DATA;
    }
#endif
    free(path);
    free(catalog);
    return status;
}

/* Its title set anew to what it is. */
static void change_nothing(const sw_scenario *scenario) {
    const sw_json *title = sw_json_get(sw_scenario_json(scenario), "title");
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *changed = NULL;
    if (title != NULL && title->text[0] != '\0') {
        sw_change change = {"title", title->text};
        sw_status status = sw_scenario_change(&changed, scenario, &change, 1, complaints);
        fuzz_complaints(status, complaints);
        fuzz_hold(status == SW_OK && strcmp(changed->title, scenario->title) == 0 &&
                      changed->budget_total == scenario->budget_total &&
                      changed->part_count == scenario->part_count,
                  "a change that changes nothing made another job");
    }
    sw_scenario_free(changed);
    sw_complaints_free(complaints);
}

static void in_another_layout(const sw_json *json, sw_status status, const sw_complaints *before) {
    sw_arena *arena = sw_arena_new();
    sw_complaints *after = sw_complaints_new();
    sw_scenario *again = NULL;
    char *text = NULL;
    fuzz_hold(sw_sketch_write(&text, sw_sketch_of(arena, json)) == SW_OK, "not written anew");
    fuzz_hold(read_it(&again, text, strlen(text), false, after) == status &&
                  fuzz_same_complaints(before, after),
              "another layout says something else");
    sw_scenario_free(again);
    sw_complaints_free(after);
    free(text);
    sw_arena_free(arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    sw_arena *arena = sw_arena_new();
    sw_complaints *complaints = sw_complaints_new(), *of_draft = sw_complaints_new();
    sw_scenario *scenario = NULL, *draft = NULL;
    const sw_json *json = NULL;
    char *text = fuzz_text(data, size);
    sw_status status = read_it(&scenario, text, size, false, complaints);
    sw_status other = read_it(&draft, text, size, true, of_draft);
    fuzz_complaints(status, complaints);
    fuzz_complaints(other, of_draft);
    fuzz_hold(status != SW_OK || other == SW_OK, "a whole job is no draft");
    if (scenario != NULL)
        change_nothing(scenario);
    if (sw_json_read(&json, arena, "", text, size, NULL) == SW_OK)
        in_another_layout(json, status, complaints);
    sw_scenario_free(scenario);
    sw_scenario_free(draft);
    sw_complaints_free(complaints);
    sw_complaints_free(of_draft);
    sw_arena_free(arena);
    free(text);
    return 0;
}
