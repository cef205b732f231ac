/* Files of parts, roles, sellers and what else of a catalog is plain data. */
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const char *const names[] = {
        "catalog/parts/all.json",    "catalog/roles.json",    "catalog/sellers.json",
        "catalog/observations.json", "catalog/tasks.json",    "catalog/charges.json",
        "catalog/patterns.json",     "catalog/hazards.json",  "catalog/profiles/list.json",
        "catalog/complaints.json",   "catalog/proposal.json", "catalog/bench.json",
        "catalog/interview.json",    "catalog/intake.json"};
    fuzz_shelf_file(data, size, names, sizeof names / sizeof *names);
    return 0;
}
