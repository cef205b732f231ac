/* What drives say of themselves. */
#include "intake/smartctl.h"

#include <string.h>

static bool is_one(const sw_json *root) {
    return sw_dump_get(root, "smartctl") != NULL ||
           sw_dump_get(root, "json_format_version") != NULL;
}

bool sw_smartctl_is(const sw_json *root) {
    bool list = root->kind == SW_JSON_ARRAY && root->count > 0;
    return is_one(list ? &root->children[0] : root);
}

static void aside(const sw_dump *dump, const char *place, const char *what, const char *why,
                  const char *mend) {
    sw_complain(dump->faults, dump->file, place, why, mend, "%s", what);
}

/* ---- may it be used, and whose is it? -------------------------------------------------- */

/* Of the exit status only bit 0 (the command line) and bit 1 (the drive could not be opened or did
 * not say what it is) mean that nothing was learnt; the others tell of the drive's health. */
static bool was_opened(const sw_dump *dump, const sw_json *root, const char *place) {
    int64_t status = 0;
    if (!sw_dump_whole(&status, sw_dump_down(root, "smartctl.exit_status")) || (status & 3) == 0)
        return true;
    aside(dump, sw_dump_member(dump, place, "smartctl.exit_status"),
          "says that the drive could not be read", "bits 0 and 1 of the exit status tell this",
          "run smartctl as root, and wake the drive if it sleeps");
    return false;
}

/* Behind such controllers one name stands for many drives. */
static bool is_behind_raid(const sw_json *root) {
    static const char *const kinds[] = {"megaraid", "3ware",   "cciss",  "areca",
                                        "aacraid",  "sssraid", "jms56x", "jmb39x"};
    const char *type = sw_dump_text(sw_dump_down(root, "device.type"));
    const char *info = sw_dump_text(sw_dump_down(root, "device.info_name"));
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if ((type != NULL && strstr(type, kinds[i]) != NULL) ||
            (info != NULL && strstr(info, kinds[i]) != NULL))
            return true;
    return false;
}

static const char *drive_of(const sw_dump *dump, const sw_json *root, const char *place) {
    const sw_json *name = sw_dump_down(root, "device.name");
    const char *drive = sw_dump_drive(dump, sw_dump_text(name), true);
    if (name == NULL) {
        if (dump->whole)
            aside(dump, place, "names no drive", "it is not known what it speaks of",
                  "give smartctl one drive, as in smartctl -j -a /dev/sda");
    } else if (drive == NULL) {
        aside(dump, sw_dump_member(dump, place, "device.name"),
              "names the drive by no name of the kernel",
              "what it says could not be put to what other dumps say",
              "give smartctl the name that lsblk prints, as in /dev/sda");
    } else if (is_behind_raid(root)) {
        drive = NULL;
        aside(dump, sw_dump_member(dump, place, "device.type"),
              "speaks of a drive behind a RAID controller",
              "many drives stand behind one name there", "look at that drive by eye");
    }
    return drive;
}

/* ---- facts ----------------------------------------------------------------------------- */

static void state_number(const sw_part *part, const char *property, const char *path,
                         int64_t number) {
    sw_about about = sw_part_about(part, path);
    sw_state_whole(part->dump->list, &about, property, number);
}

/* 0 stands for no motor; a drive that does not say has no such member. */
static void state_rotation(const sw_part *part) {
    int64_t rate = 0;
    if (!sw_dump_whole(&rate, sw_dump_get(part->object, "rotation_rate")))
        return;
    sw_about about = sw_part_about(part, "rotation_rate");
    sw_state_flag(part->dump->list, &about, "rotational", rate > 1);
}

/* A drive behind USB talks ATA too: what lies between is then told by its name. */
static void state_transport(const sw_part *part) {
    const char *info = sw_dump_text(sw_dump_down(part->object, "device.info_name"));
    const char *type = sw_dump_text(sw_dump_down(part->object, "device.type"));
    const char *said = NULL, *path = "device.protocol";
    if ((info != NULL && strstr(info, "USB") != NULL) ||
        (type != NULL && strstr(type, "usb") != NULL) ||
        (type != NULL && strncmp(type, "snt", 3) == 0))
        return;
    if (sw_dump_is(sw_dump_down(part->object, path), "NVMe"))
        said = "nvme";
    else if (sw_dump_get(part->object, "sata_version") != NULL)
        said = "sata", path = "sata_version";
    sw_about about = sw_part_about(part, path);
    if (said != NULL)
        sw_state_text(part->dump->list, &about, "transport", said, strlen(said));
}

/* 0 Kelvin and below is what drives say that do not measure. */
static void state_temperature(const sw_part *part) {
    double degrees = 0;
    if (!sw_dump_real(&degrees, sw_dump_down(part->object, "temperature.current")) ||
        degrees <= -273)
        return;
    sw_about about = sw_part_about(part, "temperature.current");
    sw_state_real(part->dump->list, &about, "temperature_c", degrees);
}

/* Makers pack several numbers into the raw bytes; how smartctl prints them tells the first apart:
 * "0", "31 (Min/Max 31/31)", but not "0/123". */
static bool raw_count(int64_t *out, const sw_json *raw, bool whole) {
    const char *text = sw_dump_text(sw_dump_get(raw, "string"));
    if (text == NULL)
        return whole && sw_json_get(raw, "string") == NULL &&
               sw_dump_whole(out, sw_dump_get(raw, "value"));
    int64_t number = 0;
    const char *at = text;
    for (; *at >= '0' && *at <= '9'; at++) {
        number = number * 10 + (*at - '0');
        if (number > INT64_C(281474976710655)) /* 48 bits */
            return false;
    }
    *out = number;
    return at > text && (*at == '\0' || *at == ' ');
}

/* What an attribute means is its maker's word; one that smartctl has no name for is not counted. */
static void state_attribute(const sw_part *part, const sw_json *entry, size_t number) {
    static const struct {
        int64_t id;
        const char *property;
    } wanted[] = {{5, "reallocated_sectors"}, {197, "pending_sectors"}, {199, "link_errors"}};
    int64_t id = 0, count = 0;
    const char *name = sw_dump_text(sw_dump_get(entry, "name"));
    const char *place =
        sw_arena_format(part->dump->scratch, "ata_smart_attributes.table[%zu].raw", number);
    part->dump->list->failed |= place == NULL;
    if (place == NULL || !sw_dump_whole(&id, sw_dump_get(entry, "id")) || name == NULL ||
        strstr(name, "Unknown") != NULL)
        return;
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        if (wanted[i].id == id && raw_count(&count, sw_dump_get(entry, "raw"), part->dump->whole))
            state_number(part, wanted[i].property, place, count);
}

static void state_attributes(const sw_part *part) {
    const sw_json *table = sw_dump_down(part->object, "ata_smart_attributes.table");
    for (size_t i = 0; table != NULL && table->kind == SW_JSON_ARRAY && i < table->count; i++)
        state_attribute(part, &table->children[i], i);
}

static void state_first(const sw_part *part, const char *property, const char *path,
                        const char *otherwise) {
    bool there = sw_dump_down(part->object, path) != NULL;
    sw_part_whole(part, property, there ? path : otherwise);
}

#define LOG "nvme_smart_health_information_log."

static void state_wear(const sw_part *part) {
    state_first(part, "hours_on", "power_on_time.hours", LOG "power_on_hours");
    state_first(part, "wear_percent", LOG "percentage_used", "endurance_used.current_percent");
    sw_part_whole(part, "media_errors", LOG "media_errors");
}

/* ---- what is private --------------------------------------------------------------------- */

static void keep_name(const sw_part *part) {
    int64_t naa = 0, oui = 0, id = 0;
    const sw_json *wwn = sw_dump_get(part->object, "wwn");
    if (!sw_dump_whole(&naa, sw_dump_get(wwn, "naa")) ||
        !sw_dump_whole(&oui, sw_dump_get(wwn, "oui")) ||
        !sw_dump_whole(&id, sw_dump_get(wwn, "id")))
        return;
    const char *text =
        sw_arena_format(part->dump->scratch, "%llx%06llx%09llx", (unsigned long long)naa,
                        (unsigned long long)oui, (unsigned long long)id);
    sw_about about = sw_part_about(part, "wwn");
    part->dump->list->failed |= text == NULL;
    if (text != NULL)
        sw_state_private(part->dump->list, &about, "world wide name", text, strlen(text));
}

static void one(const sw_dump *dump, const sw_json *root, const char *place) {
    if (!was_opened(dump, root, place))
        return;
    const char *drive = drive_of(dump, root, place);
    sw_part part = {dump, root, "drive", drive == NULL ? "" : drive, place};
    sw_part_private(&part, "serial number", "serial_number");
    sw_part_private(&part, "world wide name", "logical_unit_id");
    keep_name(&part);
    if (drive == NULL)
        return;
    int64_t bytes = 0;
    sw_part_text(&part, "model", "model_name");
    if (sw_dump_whole(&bytes, sw_dump_down(root, "user_capacity.bytes")) && bytes > 0)
        sw_part_whole(&part, "size_bytes", "user_capacity.bytes");
    state_rotation(&part);
    state_transport(&part);
    sw_part_flag(&part, "healthy", "smart_status.passed");
    state_wear(&part);
    state_attributes(&part);
    state_temperature(&part);
}

void sw_smartctl_read(const sw_dump *dump, const sw_json *root) {
    if (root->kind != SW_JSON_ARRAY)
        one(dump, root, "$");
    for (size_t i = 0; root->kind == SW_JSON_ARRAY && i < root->count; i++)
        one(dump, &root->children[i], sw_dump_element(dump, "$", i));
}
