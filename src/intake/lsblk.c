/* Block devices of lsblk. */
#include "intake/lsblk.h"

#include <string.h>

bool sw_lsblk_is(const sw_json *root) {
    const sw_json *devices = sw_dump_get(root, "blockdevices");
    return devices != NULL && devices->kind == SW_JSON_ARRAY;
}

/* ---- sizes ---------------------------------------------------------------------------- */

/* What lsblk writes without -b: a number with at most two decimals, in powers of 1024. */
typedef struct rounded {
    int64_t hundredths;
    int power; /* of 1024 */
    int decimals;
} rounded;

static bool digits(rounded *out, const char **at) {
    const char *begin = *at;
    int decimals = -1;
    for (; (**at >= '0' && **at <= '9') || (decimals < 0 && (**at == '.' || **at == ',')); ++*at) {
        if (**at == '.' || **at == ',') {
            decimals = 0;
            continue;
        }
        out->hundredths = out->hundredths * 10 + (**at - '0');
        decimals += decimals >= 0;
        if (decimals > 2 || out->hundredths > 100000)
            return false;
    }
    for (int i = decimals < 0 ? 0 : decimals; i < 2; i++)
        out->hundredths *= 10;
    out->decimals = decimals < 0 ? 0 : decimals;
    return *at > begin && *begin >= '0' && *begin <= '9' && decimals != 0;
}

static bool rounded_size(rounded *out, const char *text) {
    static const char units[] = "BKMGTPE";
    *out = (rounded){0};
    if (!digits(out, &text))
        return false;
    const char *unit = *text == '\0' ? NULL : strchr(units, *text);
    if (unit == NULL || text[1] != '\0')
        return false;
    out->power = (int)(unit - units);
    return true;
}

/* The bytes that the rounded text stands for; the place says how far it was rounded. */
static void state_rounded(const sw_part *part, const char *text) {
    rounded size;
    int64_t bytes = 0;
    if (!rounded_size(&size, text) || size.hundredths == 0)
        return;
    bytes = size.hundredths;
    for (int i = 0; i < size.power; i++)
        if (!sw_multiply(&bytes, bytes, 1024))
            return;
    static const char *const steps[] = {"1", "0.1", "0.01"};
    sw_about about = sw_part_about(part, "size");
    if (size.power > 0) {
        about.place = sw_arena_format(part->dump->scratch, "%s, rounded to %s %ciB", about.place,
                                      steps[size.decimals], "BKMGTPE"[size.power]);
        part->dump->list->failed |= about.place == NULL;
    }
    if (about.place != NULL)
        sw_state_whole(part->dump->list, &about, "rounded_bytes",
                       sw_divide(bytes, 100, SW_HALF_UP));
}

/* 0 is a drive without a medium, or none at all. */
static void state_size(const sw_part *part) {
    const sw_json *size = sw_dump_get(part->object, "size");
    int64_t bytes = 0;
    if (!sw_dump_whole(&bytes, size)) {
        if (sw_dump_text(size) != NULL)
            state_rounded(part, size->text);
    } else if (bytes > 0) {
        sw_part_whole(part, "size_bytes", "size");
    }
}

/* ---- devices -------------------------------------------------------------------------- */

/* The kernel calls every drive rotating that does not say otherwise, so that "true" means something
 * only where drives are asked: not behind USB, and not for virtual ones. */
static void state_rotational(const sw_part *part) {
    static const char *const asked[] = {"sata", "ata", "sas", "nvme"};
    bool rotates = false, said = false, has_column = false;
    if (!sw_dump_flag(&rotates, sw_dump_get(part->object, "rota")))
        return;
    for (size_t i = 0; i < part->object->count; i++)
        has_column |= strcmp(part->object->children[i].name, "tran") == 0;
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++)
        said |= sw_dump_is(sw_dump_get(part->object, "tran"), asked[i]);
    if (!rotates || said || (!has_column && part->dump->whole))
        sw_part_flag(part, "rotational", "rota");
}

/* "anna" of "/home/anna", "/media/anna/DISK", "/run/media/anna/DISK". */
static void keep_user(const sw_part *part, const char *path) {
    static const char *const before[] = {"/home/", "/media/", "/run/media/"};
    sw_about about = sw_part_about(part, "mountpoints");
    for (size_t i = 0; path != NULL && i < sizeof before / sizeof *before; i++) {
        size_t length = strlen(before[i]);
        if (strncmp(path, before[i], length) == 0)
            sw_state_private(part->dump->list, &about, "user name", path + length,
                             strcspn(path + length, "/"));
    }
}

static void keep_private(const sw_part *part) {
    static const char *const kinds[][2] = {
        {"serial number", "serial"}, {"world wide name", "wwn"}, {"UUID", "uuid"},
        {"UUID", "ptuuid"},          {"UUID", "partuuid"},       {"label", "label"},
        {"label", "partlabel"},
    };
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        sw_part_private(part, kinds[i][0], kinds[i][1]);
    keep_user(part, sw_dump_text(sw_dump_get(part->object, "mountpoint")));
    const sw_json *points = sw_dump_get(part->object, "mountpoints");
    for (size_t i = 0; points != NULL && points->kind == SW_JSON_ARRAY && i < points->count; i++)
        keep_user(part, sw_dump_text(&points->children[i]));
}

static void one(const sw_dump *dump, const sw_json *device, const char *place) {
    const sw_json *name = sw_dump_get(device, "kname");
    const char *given = sw_dump_text(name != NULL ? name : sw_dump_get(device, "name"));
    const char *drive = sw_dump_drive(dump, given, false);
    sw_part part = {dump, device, "drive", given, place};
    if (given != NULL)
        keep_private(&part);
    if (drive == NULL || !sw_dump_is(sw_dump_get(device, "type"), "disk"))
        return;
    part.key = drive;
    state_size(&part);
    sw_part_text(&part, "model", "model");
    sw_part_text(&part, "transport", "tran");
    state_rotational(&part);
}

/* Recursion is bounded by the gate. */
static void all(const sw_dump *dump, const sw_json *devices, const char *place) {
    for (size_t i = 0; devices != NULL && devices->kind == SW_JSON_ARRAY && i < devices->count;
         i++) {
        const sw_json *device = &devices->children[i];
        const char *here = sw_dump_element(dump, place, i);
        one(dump, device, here);
        const sw_json *below = sw_dump_get(device, "children");
        if (below != NULL)
            all(dump, below, sw_dump_member(dump, here, "children"));
    }
}

void sw_lsblk_read(const sw_dump *dump, const sw_json *root) {
    all(dump, sw_dump_get(root, "blockdevices"), "$.blockdevices");
}
