/* Readings of sensors. */
#include "intake/sensors.h"

#include <string.h>

#define READINGS_LIMIT 256 /* of one feature; drivers know some twenty */

typedef struct reading {
    const char *begins, *ends, *property;
} reading;

static const reading readings[] = {{"temp", "_input", "temperature_c"},
                                   {"fan", "_input", "fan_rpm"},
                                   {"in", "_input", "volts"},
                                   {"power", "_input", "watts"},
                                   {"power", "_average", "watts"}};

/* "temp1_input": the number between beginning and end. */
static bool is_named(const char *name, const char *begins, const char *ends) {
    size_t length = strlen(begins);
    if (strncmp(name, begins, length) != 0)
        return false;
    const char *at = name + length;
    while (*at >= '0' && *at <= '9')
        at++;
    return at > name + length && strcmp(at, ends) == 0;
}

static bool is_reading(const char *name) {
    for (size_t i = 0; i < sizeof readings / sizeof *readings; i++)
        if (is_named(name, readings[i].begins, readings[i].ends))
            return true;
    return false;
}

static bool is_chip(const sw_json *chip) {
    if (chip->kind != SW_JSON_OBJECT)
        return false;
    for (size_t i = 0; i < chip->count; i++) {
        const sw_json *feature = &chip->children[i];
        if (strcmp(feature->name, "Adapter") == 0 && feature->kind == SW_JSON_TEXT)
            return true;
        for (size_t j = 0; feature->kind == SW_JSON_OBJECT && j < feature->count; j++)
            if (is_reading(feature->children[j].name))
                return true;
    }
    return false;
}

bool sw_sensors_is(const sw_json *root) {
    bool any = false;
    if (root->kind != SW_JSON_OBJECT)
        return false;
    for (size_t i = 0; i < root->count; i++) {
        if (root->children[i].kind != SW_JSON_OBJECT)
            return false;
        any |= is_chip(&root->children[i]);
    }
    return any;
}

/* What drivers give where nothing is connected: absolute zero, and 65535 read as Kelvin. */
static bool says_nothing(const reading *of, double number) {
    return strcmp(of->property, "temperature_c") == 0 && (number <= -273 || number >= 65261);
}

static bool is_faulty(const sw_json *feature) {
    for (size_t i = 0; i < feature->count; i++) {
        const sw_json *entry = &feature->children[i];
        if ((is_named(entry->name, "temp", "_fault") || is_named(entry->name, "fan", "_fault")) &&
            entry->kind == SW_JSON_NUMBER && entry->number != 0)
            return true;
    }
    return false;
}

static void state(const sw_dump *dump, const char *key, const sw_json *entry, const char *place,
                  const reading *of) {
    double number = 0;
    if (!sw_dump_real(&number, entry) || says_nothing(of, number))
        return;
    sw_about about = {"sensor", key, dump->file, sw_dump_member(dump, place, entry->name)};
    sw_state_real(dump->list, &about, of->property, number);
}

/* How many members of the feature, under names of their own, say that of it: one is a reading, of
 * more none is known to be it. */
static size_t readings_of(const sw_json *feature, const reading *of) {
    size_t count = 0;
    for (size_t i = 0; i < feature->count; i++)
        count += is_named(feature->children[i].name, of->begins, of->ends);
    return count;
}

/* An average counts where there is no reading of the moment. */
static void state_feature(const sw_dump *dump, const char *key, const sw_json *feature,
                          const char *place) {
    bool instant = false;
    for (size_t of = 0; of < sizeof readings / sizeof *readings; of++) {
        bool power = strcmp(readings[of].begins, "power") == 0;
        size_t count = readings_of(feature, &readings[of]);
        for (size_t i = 0; i < feature->count && count == 1 && !(power && instant); i++) {
            const sw_json *entry = &feature->children[i];
            if (is_named(entry->name, readings[of].begins, readings[of].ends) &&
                sw_dump_get(feature, entry->name) == entry)
                state(dump, key, entry, place, &readings[of]);
        }
        instant |= power && count > 0;
    }
}

static void features(const sw_dump *dump, const sw_json *chip, const char *place, size_t count) {
    for (size_t i = 0; i < count; i++) {
        const sw_json *feature = &chip->children[i];
        if (feature->kind != SW_JSON_OBJECT || feature->count > READINGS_LIMIT ||
            is_faulty(feature))
            continue;
        const char *key = sw_arena_format(dump->scratch, "%s/%s", chip->name, feature->name);
        dump->list->failed |= key == NULL;
        if (key != NULL)
            state_feature(dump, key, feature, sw_dump_member(dump, place, feature->name));
    }
}

/* Where the file was cut, the last feature may lack the word that it is faulty. */
void sw_sensors_read(const sw_dump *dump, const sw_json *root) {
    for (size_t i = 0; i < root->count; i++) {
        const sw_json *chip = &root->children[i];
        bool cut = !dump->whole && i + 1 == root->count && chip->count > 0;
        if (chip->kind == SW_JSON_OBJECT)
            features(dump, chip, sw_dump_member(dump, "$", chip->name), chip->count - cut);
    }
}
