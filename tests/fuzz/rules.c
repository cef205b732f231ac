/* Rules, facts and whatever holds expressions and conditions. */
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const char *const names[] = {"catalog/rules.json",    "catalog/facts.json",
                                        "catalog/uses.json",     "catalog/criteria.json",
                                        "catalog/measures.json", "catalog/findings.json"};
    fuzz_shelf_file(data, size, names, sizeof names / sizeof *names);
    return 0;
}
