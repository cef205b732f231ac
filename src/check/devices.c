/* The properties of section 29. */
#include "check/devices.h"

#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

typedef struct listed {
    const char *device, *texts, *numbers, *flags; /* names between blanks */
} listed;

static const listed properties[] = {
    {"firmware", " maker version date ", "", ""},
    {"system", " maker product version ", "", ""},
    {"board", " maker product version ", "", ""},
    {"chassis", " maker form ", "", ""},
    {"processor", " name maker socket upgrade ", " cores threads max_mhz current_mhz ",
     " populated "},
    {"memory-array", "", " slots most_gb ", ""},
    {"memory-module", " type form maker part_number ", " size_mb rated_mt_s configured_mt_s ", ""},
    {"slot", " type usage ", "", ""},
    {"graphics", " maker name maker_id device_id ", "", ""},
    {"sound", " maker name maker_id device_id ", "", ""},
    {"network", " maker name maker_id device_id ", "", ""},
    {"storage-port", " maker name maker_id device_id ", "", ""},
    {"drive", " model transport ",
     " size_bytes rounded_bytes hours_on wear_percent reallocated_sectors pending_sectors "
     "link_errors"
     " temperature_c media_errors ",
     " rotational healthy "},
    {"display", " maker_id name interface ",
     " product_code width_px height_px refresh_hz top_refresh_hz width_mm height_mm"
     " bits_per_colour year ",
     ""},
    {"sensor", "", " temperature_c fan_rpm volts watts ", ""},
};

static const char *const readers[SW_READERS] = {"smbios", "dmidecode", "lscpu", "lsblk",
                                                "lspci",  "lshw",      "edid",  "sensors",
                                                "nvme",   "smartctl"};

const char *sw_reader_name(size_t index) { return readers[index]; }

static bool is_among(const char *name, const char *names) {
    size_t length = strlen(name);
    for (const char *at = names; (at = strstr(at, name)) != NULL; at++)
        if (at > names && at[-1] == ' ' && at[length] == ' ')
            return true;
    return false;
}

static const listed *find(const char *device) {
    for (size_t i = 0; i < COUNT(properties); i++)
        if (strcmp(properties[i].device, device) == 0)
            return &properties[i];
    return NULL;
}

bool sw_device_known(const char *device) { return find(device) != NULL; }

bool sw_property_says(sw_says *out, const char *device, const char *property) {
    const listed *at = find(device);
    if (at == NULL || property[0] == '\0' || strchr(property, ' ') != NULL)
        return false;
    const char *const names[] = {at->texts, at->numbers, at->flags};
    for (size_t says = 0; says < COUNT(names); says++)
        if (is_among(property, names[says])) {
            *out = (sw_says)says;
            return true;
        }
    return false;
}

bool sw_statement_known(const char *device, const char *property, sw_says says) {
    sw_says listed_as;
    return sw_property_says(&listed_as, device, property) && listed_as == says;
}
