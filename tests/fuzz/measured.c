/* What was measured, and what the shop has learnt: two kinds of files. What is learnt is written
 * and read again the same. */
#include <stdlib.h>
#include <string.h>

#include "check/measurements.h"
#include "fuzz.h"
#include "read/json_text.h"
#include "render/calibration.h"

static void same_pairs(const sw_past_job *a, const sw_past_job *b) {
    fuzz_hold(a->pair_count == b->pair_count && strcmp(a->id, b->id) == 0, "job %s", a->id);
    for (size_t i = 0; i < a->pair_count; i++)
        fuzz_hold(a->pairs[i].foretold == b->pairs[i].foretold &&
                      a->pairs[i].measured == b->pairs[i].measured &&
                      strcmp(a->pairs[i].check, b->pairs[i].check) == 0 &&
                      sw_text_compare(a->pairs[i].use, b->pairs[i].use) == 0 &&
                      sw_text_compare(a->pairs[i].note, b->pairs[i].note) == 0,
                  "pair %zu of %s", i, a->id);
}

static void learnt(const char *bytes, size_t length) {
    sw_calibration *calibration = NULL, *again = NULL;
    sw_complaints *complaints = sw_complaints_new();
    char *text = NULL;
    sw_status status = sw_calibration_parse(&calibration, "in", bytes, length, complaints);
    fuzz_complaints(status, complaints);
    if (status == SW_OK) {
        fuzz_hold(sw_render_calibration(&text, calibration, NULL, complaints) == SW_OK, "written");
        fuzz_hold(sw_calibration_parse(&again, "", text, strlen(text), complaints) == SW_OK &&
                      again->job_count == calibration->job_count,
                  "read again it is another file");
#ifdef FUZZ_FAULT
        if (again->job_count > 0 && again->jobs[0].pair_count == 2)
            ((sw_past_job *)again->jobs)[0].id = "other";
#endif
        for (size_t i = 0; i < again->job_count; i++)
            same_pairs(&calibration->jobs[i], &again->jobs[i]);
    }
    free(text);
    sw_calibration_free(calibration);
    sw_calibration_free(again);
    sw_complaints_free(complaints);
}

static sw_status measure(const char *bytes, size_t length, const sw_catalog *catalog,
                         sw_complaints *complaints) {
    char *path = fuzz_path("measured.json");
    sw_measurements *found = NULL;
    fuzz_write("measured.json", bytes, length);
    sw_status status = sw_measurements_read(&found, path, catalog, complaints);
    fuzz_complaints(status, complaints);
    for (size_t i = 0; found != NULL && catalog != NULL && i < found->left_out_count; i++)
        fuzz_hold(found->left_out_tasks[i] >= 0 &&
                      (size_t)found->left_out_tasks[i] < catalog->task_count,
                  "a task that there is not");
    sw_measurements_free(found);
    free(path);
    return status;
}

static void measured(const char *bytes, size_t length) {
    sw_catalog *catalog = NULL;
    char *folder = fuzz_path("catalog"), *text = NULL;
    sw_complaints *with = sw_complaints_new(), *without = sw_complaints_new();
    sw_complaints *anew = sw_complaints_new();
    sw_arena *arena = sw_arena_new();
    const sw_json *json = NULL;
    fuzz_hold(sw_catalog_read(&catalog, folder, NULL) == SW_OK, "the shelf");
    sw_status all = measure(bytes, length, catalog, with);
    sw_status some = measure(bytes, length, NULL, without);
    fuzz_hold(all != SW_OK || some == SW_OK, "good with a catalog, and not without one");
    if (sw_json_read(&json, arena, "", bytes, length, NULL) == SW_OK) {
        fuzz_hold(sw_sketch_write(&text, sw_sketch_of(arena, json)) == SW_OK, "not written anew");
        fuzz_hold(measure(text, strlen(text), catalog, anew) == all &&
                      fuzz_same_complaints(with, anew),
                  "another layout says something else");
    }
    free(text);
    free(folder);
    sw_catalog_free(catalog);
    sw_complaints_free(with);
    sw_complaints_free(without);
    sw_complaints_free(anew);
    sw_arena_free(arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *bytes = fuzz_text(data, size);
    learnt(bytes, size);
    if (size > 0 && bytes[0] == '{')
        measured(bytes, size);
    free(bytes);
    return 0;
}
