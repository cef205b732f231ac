/* Which of the files that stand beside a catalog one is, by what it holds. */
#include <sys/stat.h>

#include "check/measurements.h"
#include "check/scenario.h"
#include "read/bytes.h"
#include "read/json.h"

typedef enum kind { A_SCENARIO, MEASURED, LEARNT } kind;

static kind kind_of(const sw_json *root) {
    if (sw_json_get(root, "machine") != NULL)
        return A_SCENARIO;
    if (sw_json_get(root, "jobs") != NULL)
        return LEARNT;
    return sw_json_get(root, "job") != NULL || sw_json_get(root, "after") != NULL ? MEASURED
                                                                                  : A_SCENARIO;
}

/* Only files can be read a second time; what cannot be read at all is complained of as a scenario.
 */
static kind look_into(const char *path) {
    struct stat about;
    sw_arena *arena = sw_arena_new();
    const sw_json *root = NULL;
    const char *bytes = NULL;
    size_t length = 0;
    kind found = A_SCENARIO;
    if (arena != NULL && stat(path, &about) == 0 && S_ISREG(about.st_mode) &&
        sw_bytes_read(&bytes, &length, arena, path, NULL) == SW_OK &&
        sw_json_read(&root, arena, path, bytes, length, NULL) == SW_OK)
        found = kind_of(root);
    sw_arena_free(arena);
    return found;
}

static sw_status check_measured(const char *path, const char *folder, sw_complaints *complaints) {
    sw_catalog *catalog = NULL;
    sw_measurements *measurements = NULL;
    sw_status status = folder == NULL ? SW_OK : sw_catalog_read(&catalog, folder, complaints);
    /* A catalog that is faulty does not hide what is wrong in the file. */
    sw_status other = sw_measurements_read(&measurements, path, catalog, complaints);
    sw_measurements_free(measurements);
    sw_catalog_free(catalog);
    return status > other ? status : other;
}

sw_status sw_file_check(const char *path, const char *catalog, sw_complaints *complaints) {
    sw_scenario *scenario = NULL;
    sw_calibration *calibration = NULL;
    sw_status status = SW_OK;
    switch (look_into(path)) {
    case MEASURED:
        return check_measured(path, catalog, complaints);
    case LEARNT:
        status = sw_calibration_read(&calibration, path, complaints);
        sw_calibration_free(calibration);
        return status;
    default:
        status = sw_scenario_read(&scenario, path, catalog, complaints);
        sw_scenario_free(scenario);
        return status;
    }
}
