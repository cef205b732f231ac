/* The gate of JSON: what comes through is written and read again the same, and what does not is
 * complained of once. */
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "read/json_text.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    sw_arena *arena = sw_arena_new();
    sw_complaints *complaints = sw_complaints_new();
    const sw_json *json = NULL, *again = NULL;
    char *bytes = fuzz_text(data, size), *text = NULL, *twice = NULL;
    sw_status status = sw_json_read(&json, arena, "in", bytes, size, complaints);
    fuzz_one_complaint(status, complaints);
    if (status == SW_OK) {
        fuzz_hold(sw_sketch_write(&text, sw_sketch_of(arena, json)) == SW_OK, "not written");
#ifdef FUZZ_FAULT
        char *digit = strstr(text, "7,");
        if (digit != NULL)
            *digit = '8';
#endif
        fuzz_hold(sw_json_read(&again, arena, "", text, strlen(text), NULL) == SW_OK &&
                      fuzz_same_json(json, again),
                  "written as %s", text);
        fuzz_hold(sw_sketch_write(&twice, sw_sketch_of(arena, again)) == SW_OK &&
                      strcmp(text, twice) == 0,
                  "written in two ways");
    }
    free(text);
    free(twice);
    free(bytes);
    sw_complaints_free(complaints);
    sw_arena_free(arena);
    return 0;
}
