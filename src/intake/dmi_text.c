/* Lines of dmidecode's text to structures. */
#include "intake/dmi_text.h"

#include <stddef.h>
#include <string.h>

#include "intake/dmi.h"
#include "read/utf8.h"

/* ---- slices of the text --------------------------------------------------------------- */

typedef struct slice {
    const char *from;
    size_t length;
} slice;

static bool is_space(char at) { return (unsigned char)at <= ' '; }

static slice trimmed(slice in) {
    while (in.length > 0 && is_space(in.from[0])) {
        in.from++;
        in.length--;
    }
    while (in.length > 0 && is_space(in.from[in.length - 1]))
        in.length--;
    return in;
}

static bool equals(slice in, const char *text) {
    return in.length == strlen(text) && memcmp(in.from, text, in.length) == 0;
}

static bool take(slice *in, const char *text) {
    size_t length = strlen(text);
    if (in->length < length || memcmp(in->from, text, length) != 0)
        return false;
    in->from += length;
    in->length -= length;
    return true;
}

static bool find(slice *in, const char *text) {
    for (; in->length > 0; in->from++, in->length--)
        if (take(in, text))
            return true;
    return false;
}

static int digit_of(char at, int base) {
    int digit = at >= '0' && at <= '9'   ? at - '0'
                : at >= 'a' && at <= 'f' ? at - 'a' + 10
                : at >= 'A' && at <= 'F' ? at - 'A' + 10
                                         : 99;
    return digit < base ? digit : -1;
}

/* A whole number at the front; false when there is none or it is beyond 2^53. */
static bool take_number(int64_t *out, slice *in, int base) {
    size_t digits = 0;
    int64_t number = 0;
    for (int digit; in->length > 0 && (digit = digit_of(in->from[0], base)) >= 0; digits++) {
        number = number * base + digit;
        if (number > INT64_C(1) << 53)
            return false;
        in->from++;
        in->length--;
    }
    *out = number;
    return digits > 0;
}

/* The next line without its end; false when there is none. What is left without an end of line is
 * none: a text that was cut short must not tell half a number. */
static bool take_line(slice *out, slice *rest) {
    size_t length = 0;
    while (length < rest->length && rest->from[length] != '\n' && rest->from[length] != '\r')
        length++;
    if (length == rest->length)
        return false;
    *out = (slice){rest->from, length};
    size_t step = length;
    if (step < rest->length && rest->from[step] == '\r')
        step++;
    if (step < rest->length && rest->from[step] == '\n')
        step++;
    rest->from += step;
    rest->length -= step;
    return true;
}

/* ---- what begins a structure ---------------------------------------------------------- */

typedef struct title {
    const char *words;
    sw_dmi_type type;
} title;

static const title titles[] = {
    {"BIOS Information", SW_DMI_FIRMWARE},    {"Platform Firmware Information", SW_DMI_FIRMWARE},
    {"System Information", SW_DMI_SYSTEM},    {"Base Board Information", SW_DMI_BOARD},
    {"Chassis Information", SW_DMI_CHASSIS},  {"Processor Information", SW_DMI_PROCESSOR},
    {"System Slot Information", SW_DMI_SLOT}, {"System Slots Information", SW_DMI_SLOT},
    {"Physical Memory Array", SW_DMI_ARRAY},  {"Memory Device", SW_DMI_MODULE},
};

static const title *title_of(slice line) {
    slice words = trimmed(line);
    for (size_t i = 0; i < sizeof titles / sizeof *titles; i++)
        if (equals(words, titles[i].words))
            return &titles[i];
    return NULL;
}

/* "Handle 0x0011, DMI type 17, 40 bytes" */
static bool is_handle(int64_t *handle, int64_t *type, slice line) {
    slice at = trimmed(line);
    return take(&at, "Handle 0x") && take_number(handle, &at, 16) && find(&at, "DMI type ") &&
           take_number(type, &at, 10);
}

static bool is_indented(slice line) {
    return line.length > 0 && (line.from[0] == '\t' || line.from[0] == ' ');
}

/* ---- values --------------------------------------------------------------------------- */

typedef struct reading {
    sw_statements *list;
    const char *file;
    sw_complaints *complaints;
    sw_dmi_structure *kept;
    size_t kept_count;
    sw_dmi_structure *open; /* the structure that lines belong to, NULL: none that is read */
    bool has_handle;        /* it began with a handle */
    bool has_title;         /* its title was met */
    bool met;               /* some structure was met, read or not */
    bool full;
    size_t line;
} reading;

static const char *copy(reading *in, slice value) {
    const char *text = sw_arena_text(in->list->arena, value.from, value.length);
    in->list->failed |= text == NULL;
    return text;
}

/* "3200 MT/s": a number, a blank, one of the units between '|'. */
static int64_t with_unit(slice value, const char *units) {
    int64_t number = 0;
    if (!take_number(&number, &value, 10) || !take(&value, " "))
        return SW_DMI_NONE;
    for (const char *unit = units; *unit != '\0';) {
        size_t length = strcspn(unit, "|");
        if (value.length == length && memcmp(value.from, unit, length) == 0)
            return number;
        unit += length + (unit[length] == '|');
    }
    return SW_DMI_NONE;
}

/* 65,535 is the standard's word of all ones: reserved. */
static int64_t plain(slice value) {
    int64_t number = 0;
    bool is_number = take_number(&number, &value, 10) && value.length == 0;
    return is_number && number != 0xFFFF ? number : SW_DMI_NONE;
}

/* Units count in 1,024s, as dmidecode writes them. 0 of any says nothing. */
static int64_t size_bytes(slice value) {
    static const char *const units[] = {"bytes", "kB", "MB", "GB", "TB", "PB"};
    int64_t scale = 1;
    for (size_t i = 0; i < sizeof units / sizeof *units; i++, scale *= 1024) {
        int64_t number = with_unit(value, units[i]), bytes = 0;
        if (number != SW_DMI_NONE)
            return number > 0 && sw_multiply(&bytes, number, scale) ? bytes : SW_DMI_NONE;
    }
    return SW_DMI_NONE;
}

/* 32,767 MB is the standard's "see the field further on", told where that field is missing. */
static int64_t module_milli_mb(slice value) {
    if (equals(value, "No Module Installed") || equals(value, "Not Installed"))
        return 0;
    int64_t bytes = size_bytes(value), milli = 0;
    bool is_escape = bytes == INT64_C(32767) * 1024 * 1024;
    if (bytes == SW_DMI_NONE || is_escape || !sw_multiply(&milli, bytes >> 10, 1000))
        return SW_DMI_NONE;
    return milli / 1024;
}

static int64_t array_milli_gb(slice value) {
    int64_t bytes = size_bytes(value);
    return bytes == SW_DMI_NONE ? SW_DMI_NONE : sw_dmi_milli_gb(bytes >> 10);
}

static int64_t populated(slice value) {
    if (take(&value, "Populated"))
        return 1;
    return take(&value, "Unpopulated") ? 0 : SW_DMI_NONE;
}

static int64_t handle_value(slice value) {
    int64_t handle = 0;
    return take(&value, "0x") && take_number(&handle, &value, 16) ? handle : SW_DMI_NONE;
}

/* "x16 Other" and "x16 <OUT OF SPEC>" know the width alone; "<OUT OF SPEC> PCI" knows the type. */
static const char *slot_type(reading *in, slice value) {
    static const char *const nothing[] = {"Other", "Unknown", "<OUT OF SPEC>"};
    take(&value, "<OUT OF SPEC> ");
    for (size_t i = 0; i < sizeof nothing / sizeof *nothing; i++) {
        size_t length = strlen(nothing[i]);
        if (value.length >= length &&
            memcmp(value.from + value.length - length, nothing[i], length) == 0)
            return NULL;
    }
    return copy(in, value);
}

/* dmidecode kept the name that version 2.8 of the standard corrected. */
static const char *upgrade(reading *in, slice value) {
    return equals(value, "Socket BGA1155") ? "Socket LGA1155" : copy(in, value);
}

/* ---- fields --------------------------------------------------------------------------- */

typedef enum holds {
    TEXT,
    SLOT_TYPE,
    UPGRADE,
    COUNT,
    MHZ,
    SPEED,
    SIZE,
    MOST,
    STATUS,
    HANDLE
} holds;

typedef struct field {
    sw_dmi_type type;
    holds holds;
    const char *name;
    size_t offset; /* of a `const char *` or an `int64_t` of sw_dmi_structure */
} field;

#define AT(member) offsetof(sw_dmi_structure, member)

static const field fields[] = {
    {SW_DMI_FIRMWARE, TEXT, "Vendor", AT(maker)},
    {SW_DMI_FIRMWARE, TEXT, "Version", AT(version)},
    {SW_DMI_FIRMWARE, TEXT, "Release Date", AT(date)},
    {SW_DMI_SYSTEM, TEXT, "Manufacturer", AT(maker)},
    {SW_DMI_SYSTEM, TEXT, "Product Name", AT(product)},
    {SW_DMI_SYSTEM, TEXT, "Version", AT(version)},
    {SW_DMI_SYSTEM, TEXT, "Serial Number", AT(serial)},
    {SW_DMI_SYSTEM, TEXT, "UUID", AT(uuid)},
    {SW_DMI_BOARD, TEXT, "Manufacturer", AT(maker)},
    {SW_DMI_BOARD, TEXT, "Product Name", AT(product)},
    {SW_DMI_BOARD, TEXT, "Version", AT(version)},
    {SW_DMI_BOARD, TEXT, "Serial Number", AT(serial)},
    {SW_DMI_BOARD, TEXT, "Asset Tag", AT(asset)},
    {SW_DMI_BOARD, TEXT, "Type", AT(kind)},
    {SW_DMI_CHASSIS, TEXT, "Manufacturer", AT(maker)},
    {SW_DMI_CHASSIS, TEXT, "Type", AT(kind)},
    {SW_DMI_CHASSIS, TEXT, "Serial Number", AT(serial)},
    {SW_DMI_CHASSIS, TEXT, "Asset Tag", AT(asset)},
    {SW_DMI_PROCESSOR, TEXT, "Socket Designation", AT(name)},
    {SW_DMI_PROCESSOR, TEXT, "Type", AT(kind)},
    {SW_DMI_PROCESSOR, TEXT, "Manufacturer", AT(maker)},
    {SW_DMI_PROCESSOR, TEXT, "Version", AT(version)},
    {SW_DMI_PROCESSOR, MHZ, "Max Speed", AT(max_mhz)},
    {SW_DMI_PROCESSOR, MHZ, "Current Speed", AT(current_mhz)},
    {SW_DMI_PROCESSOR, STATUS, "Status", AT(populated)},
    {SW_DMI_PROCESSOR, UPGRADE, "Upgrade", AT(upgrade)},
    {SW_DMI_PROCESSOR, TEXT, "Serial Number", AT(serial)},
    {SW_DMI_PROCESSOR, TEXT, "Asset Tag", AT(asset)},
    {SW_DMI_PROCESSOR, COUNT, "Core Count", AT(cores)},
    {SW_DMI_PROCESSOR, COUNT, "Thread Count", AT(threads)},
    {SW_DMI_SLOT, TEXT, "Designation", AT(name)},
    {SW_DMI_SLOT, SLOT_TYPE, "Type", AT(kind)},
    {SW_DMI_SLOT, TEXT, "Current Usage", AT(usage)},
    {SW_DMI_ARRAY, TEXT, "Use", AT(use)},
    {SW_DMI_ARRAY, MOST, "Maximum Capacity", AT(most_milli_gb)},
    {SW_DMI_ARRAY, COUNT, "Number Of Devices", AT(slots)},
    {SW_DMI_MODULE, HANDLE, "Array Handle", AT(array)},
    {SW_DMI_MODULE, SIZE, "Size", AT(size_milli_mb)},
    {SW_DMI_MODULE, TEXT, "Form Factor", AT(form)},
    {SW_DMI_MODULE, TEXT, "Locator", AT(name)},
    {SW_DMI_MODULE, TEXT, "Bank Locator", AT(bank)},
    {SW_DMI_MODULE, TEXT, "Type", AT(kind)},
    {SW_DMI_MODULE, SPEED, "Speed", AT(rated_mt_s)},
    {SW_DMI_MODULE, TEXT, "Manufacturer", AT(maker)},
    {SW_DMI_MODULE, TEXT, "Serial Number", AT(serial)},
    {SW_DMI_MODULE, TEXT, "Asset Tag", AT(asset)},
    {SW_DMI_MODULE, TEXT, "Part Number", AT(part_number)},
    {SW_DMI_MODULE, SPEED, "Configured Memory Speed", AT(configured_mt_s)},
    {SW_DMI_MODULE, SPEED, "Configured Clock Speed", AT(configured_mt_s)}, /* until 3.1 */
};

static int64_t number_of(holds kind, slice value) {
    switch (kind) {
    case COUNT:
        return plain(value);
    case MHZ:
        return with_unit(value, "MHz");
    case SPEED:
        return with_unit(value, "MT/s|MHz");
    case SIZE:
        return module_milli_mb(value);
    case MOST:
        return array_milli_gb(value);
    case STATUS:
        return populated(value);
    default:
        return handle_value(value);
    }
}

static void set_field(reading *in, const field *is, slice value) {
    char *into = (char *)in->open + is->offset;
    if (is->holds > UPGRADE) {
        int64_t *number = (int64_t *)(void *)into;
        *number = *number == SW_DMI_NONE ? number_of(is->holds, value) : *number;
        return;
    }
    const char **text = (const char **)(void *)into;
    if (*text != NULL || value.length == 0)
        return;
    *text = is->holds == SLOT_TYPE ? slot_type(in, value)
            : is->holds == UPGRADE ? upgrade(in, value)
                                   : copy(in, value);
}

/* "Name: value". The first of a name counts. */
static void read_field(reading *in, slice line) {
    const char *colon = line.length == 0 ? NULL : memchr(line.from, ':', line.length);
    if (colon == NULL)
        return;
    slice name = trimmed((slice){line.from, (size_t)(colon - line.from)});
    slice value = trimmed((slice){colon + 1, line.length - (size_t)(colon - line.from) - 1});
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
        if (fields[i].type == in->open->type && equals(name, fields[i].name))
            set_field(in, &fields[i], value);
}

/* ---- structures ----------------------------------------------------------------------- */

static void open_structure(reading *in, int64_t type, int64_t handle) {
    in->met = true;
    in->open = NULL;
    if (!sw_dmi_is_read((uint64_t)type))
        return;
    in->full |= in->kept_count == SW_DMI_LIMIT;
    if (in->full)
        return;
    in->open = &in->kept[in->kept_count++];
    *in->open = sw_dmi_unknown((sw_dmi_type)type);
    in->open->handle = handle;
    in->open->place = sw_arena_format(in->list->arena, "line %zu", in->line);
    in->list->failed |= in->open->place == NULL;
}

static void read_line(reading *in, slice line) {
    int64_t handle = 0, type = 0;
    if (is_handle(&handle, &type, line)) {
        open_structure(in, type, handle);
        in->has_handle = true;
        in->has_title = false;
        return;
    }
    const title *named = is_indented(line) ? NULL : title_of(line);
    if (named != NULL) {
        if (!in->has_handle || in->has_title) {
            open_structure(in, named->type, SW_DMI_NONE);
            in->has_handle = false;
        }
        in->has_title = true;
        return;
    }
    /* Without handles, a line at the margin that is no field is another structure's title. */
    if (!in->has_handle && !is_indented(line) && trimmed(line).length > 0 &&
        memchr(line.from, ':', line.length) == NULL)
        in->open = NULL;
    if (in->open != NULL)
        read_field(in, line);
}

/* ---- encodings ------------------------------------------------------------------------ */

/* UTF-16 with its mark, as some shells write what is sent to a file; broken pairs become U+FFFD. */
static void from_utf16(sw_text *out, slice in, bool big) {
    const unsigned char *bytes = (const unsigned char *)in.from;
    uint32_t high = 0;
    for (size_t i = 2; i + 1 < in.length; i += 2) {
        uint32_t unit =
            big ? (uint32_t)bytes[i] << 8 | bytes[i + 1] : (uint32_t)bytes[i + 1] << 8 | bytes[i];
        bool is_low = unit >= 0xDC00 && unit <= 0xDFFF;
        if (high != 0)
            sw_utf8_add(out, is_low ? 0x10000 + ((high - 0xD800) << 10) + (unit - 0xDC00) : 0xFFFD);
        if (high != 0 && is_low) {
            high = 0;
            continue;
        }
        high = unit >= 0xD800 && unit <= 0xDBFF ? unit : 0;
        if (high == 0)
            sw_utf8_add(out, is_low ? 0xFFFD : unit);
    }
}

/* The text as bytes in which ASCII is ASCII; `made` holds it where it had to be made. */
static slice plain_text(sw_text *made, const char *bytes, size_t length) {
    slice in = {bytes, length};
    bool little = length >= 2 && memcmp(bytes, "\xFF\xFE", 2) == 0;
    bool big = length >= 2 && memcmp(bytes, "\xFE\xFF", 2) == 0;
    if (little || big) {
        from_utf16(made, in, big);
        return (slice){made->bytes, made->length};
    }
    take(&in, "\xEF\xBB\xBF");
    return in;
}

/* ---- the text ------------------------------------------------------------------------- */

bool sw_dmi_text_is(const char *bytes, size_t length) {
    sw_text made = {0};
    slice rest = plain_text(&made, bytes, length), line;
    static const char name[] = "# dmidecode ";
    bool is = rest.length >= sizeof name - 1 && memcmp(rest.from, name, sizeof name - 1) == 0;
    bool titled = false;
    while (!is && take_line(&line, &rest)) {
        int64_t handle, type;
        bool has_colon = line.length > 0 && memchr(line.from, ':', line.length) != NULL;
        is = is_handle(&handle, &type, line) || (titled && is_indented(line) && has_colon);
        titled =
            (!is_indented(line) && title_of(line) != NULL) || (titled && trimmed(line).length == 0);
    }
    sw_text_free(&made);
    return is;
}

static sw_status complain(reading *in, const char *what, const char *why, const char *mend) {
    sw_complain(in->complaints, in->file, "", why, mend, "%s", what);
    return SW_BAD_DATA;
}

/* The last module or slot before the line that names it: who knows which it was? */
static bool drop_nameless(reading *in) {
    bool is_nameless = in->open != NULL && in->open->name == NULL &&
                       (in->open->type == SW_DMI_MODULE || in->open->type == SW_DMI_SLOT);
    in->kept_count -= is_nameless;
    return is_nameless;
}

static sw_status finish(reading *in) {
    bool is_cut = drop_nameless(in);
    if (!in->list->failed)
        sw_dmi_state(in->list, in->file, in->kept, in->kept_count);
    if (in->list->failed)
        return SW_NO_MEMORY;
    if (!in->met)
        return complain(in, "holds no structure as dmidecode prints them",
                        "each begins with a line like \"Handle 0x0011, DMI type 17, 40 bytes\"",
                        "write it again with \"dmidecode > FILE\", as root");
    if (in->full)
        return complain(in, "has over 512 structures that matter",
                        "no desktop computer has so many", "give the dumps of one machine");
    if (is_cut)
        return complain(in, "ends within a structure", "its last one has no name yet",
                        "what stood before it was read; for the rest give the whole text");
    return SW_OK;
}

sw_status sw_dmi_text_read(sw_statements *list, const char *file, const char *bytes, size_t length,
                           sw_complaints *complaints) {
    sw_text made = {0};
    slice rest = plain_text(&made, bytes, length), line;
    reading in = {.list = list, .file = file, .complaints = complaints};
    in.kept = SW_NEW(list->arena, sw_dmi_structure, SW_DMI_LIMIT);
    list->failed |= in.kept == NULL || made.failed;
    while (!list->failed && take_line(&line, &rest)) {
        in.line++;
        read_line(&in, line);
    }
    sw_status status = finish(&in);
    sw_text_free(&made);
    return status;
}
