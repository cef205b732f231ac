/* Dumps of two machines in one folder: their boards differ by name, or their pieces by serial
 * number.
 */
#include "intake/survey.h"

#include <string.h>

/* The tools cut serial numbers, or put something before them: of one piece they hold each other. */
static bool same_serial(const char *a, const char *b) {
    return strstr(a, b) != NULL || strstr(b, a) != NULL;
}

static bool is_serial(const sw_private *at) { return strcmp(at->kind, "serial number") == 0; }

static bool is_other_piece(const sw_private *privates, size_t at) {
    for (size_t before = 0; before < at; before++)
        if (is_serial(&privates[before]) &&
            strcmp(privates[before].device, privates[at].device) == 0 &&
            strcmp(privates[before].file, privates[at].file) != 0 &&
            !same_serial(privates[before].value, privates[at].value))
            return true;
    return false;
}

static void add(sw_survey *survey, const char **mixed, const char *device) {
    for (size_t i = 0; i < survey->mixed_count; i++)
        if (strcmp(mixed[i], device) == 0)
            return;
    mixed[survey->mixed_count++] = device;
}

sw_status sw_find_mixture(sw_survey *survey) {
    const sw_statements *list = &survey->dumps.statements;
    const char **mixed =
        SW_NEW(survey->arena, const char *, list->private_count + survey->devices.count);
    if (mixed == NULL)
        return SW_NO_MEMORY;
    for (size_t d = 0; d < survey->devices.count; d++) {
        const sw_settled *product = sw_device_says(&survey->devices.all[d], "product");
        if (strcmp(survey->devices.all[d].kind, "board") == 0 && product != NULL &&
            product->doubtful)
            add(survey, mixed, "board");
    }
    for (size_t p = 0; p < list->private_count; p++)
        if (is_serial(&list->privates[p]) && is_other_piece(list->privates, p))
            add(survey, mixed, list->privates[p].device);
    survey->mixed = mixed;
    return SW_OK;
}
