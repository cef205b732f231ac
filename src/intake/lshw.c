/* Nodes of lshw's tree. What it takes from firmware and kernel it mixes; where its own versions are
 * known to be wrong, the reason stands at the place. */
#include "intake/lshw.h"

#include <string.h>

static bool is_node(const sw_json *node) {
    return sw_dump_text(sw_dump_get(node, "id")) != NULL &&
           sw_dump_text(sw_dump_get(node, "class")) != NULL;
}

bool sw_lshw_is(const sw_json *root) {
    bool list = root->kind == SW_JSON_ARRAY && root->count > 0;
    return is_node(list ? &root->children[0] : root);
}

#define BANKS_LIMIT 512 /* memory slots of one machine */

typedef struct tree {
    const sw_dump *dump;
    size_t processors, arrays;
    const char *banks[BANKS_LIMIT]; /* their keys, so that each is another */
    size_t bank_count;
} tree;

static bool has_class(const sw_json *node, const char *class) {
    return sw_dump_is(sw_dump_get(node, "class"), class);
}

/* "cpu" or "cpu:1", not "cpufreq". */
static bool has_id(const sw_json *node, const char *id) {
    const char *is = sw_dump_text(sw_dump_get(node, "id"));
    size_t length = strlen(id);
    return is != NULL && strncmp(is, id, length) == 0 && (is[length] == '\0' || is[length] == ':');
}

static const char *text_of(const sw_json *node, const char *path) {
    const char *text = sw_dump_text(sw_dump_down(node, path));
    return text == NULL ? "" : text;
}

static bool in_unit(const sw_json *node, const char *unit) {
    return sw_dump_is(sw_dump_get(node, "units"), unit);
}

static void about_number(const sw_part *part, const char *property, const char *path,
                         int64_t number, int64_t each) {
    sw_about about = sw_part_about(part, path);
    if (number % each == 0)
        sw_state_whole(part->dump->list, &about, property, number / each);
    else
        sw_state_real(part->dump->list, &about, property, (double)number / (double)each);
}

/* ---- machine, board, firmware ------------------------------------------------------------- */

/* lshw writes "PRODUCT (SKU)": where one of the two is a filler, so that it says nothing. */
static void state_product(const sw_part *part) {
    sw_statements *list = part->dump->list;
    const char *text = text_of(part->object, "product");
    const char *open = strstr(text, " (");
    size_t length = strlen(text);
    sw_about about = sw_part_about(part, "product");
    if (open != NULL && length > 0 && text[length - 1] == ')') {
        size_t before = (size_t)(open - text);
        const char *sku = sw_statement_text(list, open + 2, length - before - 3);
        if (sku == NULL || sw_statement_text(list, text, before) == NULL)
            length = before;
    }
    sw_state_text(list, &about, "product", text, length);
}

static void state_machine(const sw_part *part) {
    sw_part_text(part, "maker", "vendor");
    state_product(part);
    sw_part_text(part, "version", "version");
    sw_part_private(part, "serial number", "serial");
}

/* The root's id is the machine's name in the network, but for a few words of lshw's own. */
static void state_system(const sw_part *part) {
    const char *id = text_of(part->object, "id");
    state_machine(part);
    sw_part_private(part, "UUID", "configuration.uuid");
    if (strcmp(id, "_none_") != 0 && strcmp(id, "computer") != 0)
        sw_part_private(part, "host name", "id");
}

static void state_firmware(const sw_part *part) {
    sw_part_text(part, "maker", "vendor");
    sw_part_text(part, "version", "version");
    sw_part_text(part, "date", "date");
}

/* ---- processors ---------------------------------------------------------------------------- */

static void state_hertz(const sw_part *part, const char *property, const char *path) {
    int64_t hertz = 0;
    if (in_unit(part->object, "Hz") && sw_dump_whole(&hertz, sw_dump_down(part->object, path)) &&
        hertz > 0)
        about_number(part, property, path, hertz, 1000000);
}

static void state_count(const sw_part *part, const char *property, const char *path) {
    int64_t count = 0;
    if (sw_dump_whole(&count, sw_dump_down(part->object, path)) && count > 0)
        sw_part_whole(part, property, path);
}

static void state_processor(const sw_part *part) {
    sw_part_text(part, "socket", "slot");
    if (strstr(text_of(part->object, "description"), "[empty]") != NULL) {
        sw_about about = sw_part_about(part, "description");
        sw_state_flag(part->dump->list, &about, "populated", false);
        return;
    }
    sw_part_text(part, "name", "product");
    sw_part_text(part, "maker", "vendor");
    state_count(part, "cores", "configuration.cores");
    state_count(part, "threads", "configuration.threads");
    state_hertz(part, "max_mhz", "capacity");
    state_hertz(part, "current_mhz", "size");
    sw_part_private(part, "serial number", "serial");
}

/* ---- memory --------------------------------------------------------------------------------- */

static bool is_bank(const sw_json *node) {
    return has_class(node, "memory") && has_id(node, "bank");
}

static bool is_array(const sw_json *node) {
    const char *is = text_of(node, "description");
    return has_class(node, "memory") && has_id(node, "memory") &&
           (strcmp(is, "System Memory") == 0 || strcmp(is, "System memory") == 0);
}

static int64_t banks_of(const sw_json *array) {
    const sw_json *children = sw_dump_get(array, "children");
    int64_t count = 0;
    for (size_t i = 0; children != NULL && children->kind == SW_JSON_ARRAY && i < children->count;
         i++)
        count += is_bank(&children->children[i]);
    return count;
}

/* A capacity below what is in it is one that overflowed; in a file that was cut, banks are missing.
 */
static void state_array(const sw_part *part) {
    int64_t most = 0, size = 0, slots = banks_of(part->object);
    sw_dump_whole(&size, sw_dump_get(part->object, "size"));
    if (in_unit(part->object, "bytes") &&
        sw_dump_whole(&most, sw_dump_get(part->object, "capacity")) && most > 0 && most >= size)
        about_number(part, "most_gb", "capacity", most, INT64_C(1) << 30);
    sw_about about = sw_part_about(part, "children");
    if (slots > 0 && part->dump->whole)
        sw_state_whole(part->dump->list, &about, "slots", slots);
}

/* A word of the description: "DIMM DDR4 Synchronous 3200 MHz (0.3 ns)". */
static void state_word(const sw_part *part, const char *property, const char *const *words) {
    const char *text = text_of(part->object, "description");
    sw_about about = sw_part_about(part, "description");
    while (*text != '\0') {
        size_t length = strcspn(text, " ");
        for (size_t i = 0; words[i] != NULL; i++)
            if (strlen(words[i]) == length && memcmp(words[i], text, length) == 0) {
                sw_state_text(part->dump->list, &about, property, text, length);
                return;
            }
        text += length;
        text += strspn(text, " ");
    }
}

/* The number before " MHz (". The clock beside it overflows at 4.3 GHz in versions up to 02.19,
 * this does not. It is the rated speed (DSP0134 7.18, offset 15h); 65535 stands for "see
 * elsewhere". */
static void state_speed(const sw_part *part) {
    const char *text = text_of(part->object, "description");
    const char *end = strstr(text, " MHz (");
    const char *at = end;
    int64_t number = 0;
    while (at != NULL && at > text && at[-1] >= '0' && at[-1] <= '9')
        at--;
    for (; at != NULL && at < end && number < 100000; at++)
        number = number * 10 + (*at - '0');
    sw_about about = sw_part_about(part, "description");
    if (number > 0 && number < 65535)
        sw_state_whole(part->dump->list, &about, "rated_mt_s", number);
}

static bool says(const sw_part *part, const char *path) {
    const char *text = text_of(part->object, path);
    return sw_statement_text(part->dump->list, text, strlen(text)) != NULL;
}

/* lshw calls a slot of unknown size empty too: one that has a maker or a speed is not. */
static bool is_empty(const sw_part *part) {
    const char *description = text_of(part->object, "description");
    return strstr(description, "[empty]") != NULL && strstr(description, "MHz") == NULL &&
           !says(part, "vendor") && !says(part, "product") && !says(part, "serial");
}

static void state_bank(const sw_part *part) {
    static const char *const types[] = {"DDR",   "DDR2",   "DDR3",   "DDR4",   "DDR5", "SDRAM",
                                        "LPDDR", "LPDDR2", "LPDDR3", "LPDDR4", "RAM",  NULL};
    static const char *const forms[] = {"DIMM", "SODIMM", "SIMM", "RIMM", NULL};
    int64_t bytes = 0;
    sw_about about = sw_part_about(part, "description");
    if (is_empty(part)) {
        sw_state_whole(part->dump->list, &about, "size_mb", 0);
        return;
    }
    if (in_unit(part->object, "bytes") &&
        sw_dump_whole(&bytes, sw_dump_get(part->object, "size")) && bytes > 0)
        about_number(part, "size_mb", "size", bytes, INT64_C(1) << 20);
    state_word(part, "type", types);
    state_word(part, "form", forms);
    state_speed(part);
    sw_part_text(part, "maker", "vendor");
    sw_part_text(part, "part_number", "product");
    sw_part_private(part, "serial number", "serial");
}

/* Slots of one name are told apart by their order; without a name only in a whole file, since the
 * name may have been cut. */
static const char *bank_key(tree *in, const sw_json *node) {
    sw_statements *list = in->dump->list;
    const char *slot = text_of(node, "slot");
    const char *key = sw_statement_clean(list, slot, strlen(slot));
    if (sw_json_get(node, "slot") == NULL && in->dump->whole)
        key = text_of(node, "id");
    /* Where one of them is in doubt, which is the second of a name is too. */
    if (key == NULL || in->bank_count == BANKS_LIMIT || in->dump->doubtful)
        return NULL;
    key = sw_statement_key_apart(list, key, in->banks, in->bank_count);
    in->banks[in->bank_count++] = key;
    return key;
}

/* ---- devices of PCI -------------------------------------------------------------------------- */

static void state_named(const sw_part *part, const char *name, const char *id, const char *path) {
    const char *text = text_of(part->object, path), *digits = NULL;
    size_t length = sw_dump_name(part->dump, text, strlen(text), &digits);
    sw_about about = sw_part_about(part, path);
    sw_state_text(part->dump->list, &about, name, text, length);
    if (digits != NULL)
        sw_state_text(part->dump->list, &about, id, digits, strlen(digits));
}

/* A device that lshw has no maker for is named after the kernel's frame buffer, not after itself.
 */
static void state_device(const sw_part *part) {
    if (text_of(part->object, "vendor")[0] == '\0')
        return;
    state_named(part, "maker", "maker_id", "vendor");
    state_named(part, "name", "device_id", "product");
}

static const char *kind_of(const sw_json *node) {
    if (has_class(node, "display"))
        return "graphics";
    if (has_class(node, "network"))
        return "network";
    const char *is = text_of(node, "description");
    bool audio = strcmp(is, "Audio device") == 0 || strcmp(is, "Multimedia audio controller") == 0;
    return has_class(node, "multimedia") && audio ? "sound" : NULL;
}

static void keep_network(const sw_part *part) {
    static const char *const kinds[][2] = {{"MAC address", "serial"},
                                           {"network name", "logicalname"},
                                           {"IP address", "configuration.ip"}};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        sw_part_private(part, kinds[i][0], kinds[i][1]);
}

/* ---- drives ------------------------------------------------------------------------------------
 */

static const char *drive_in(const sw_dump *dump, const sw_json *names) {
    const char *drive = names == NULL ? NULL : sw_dump_drive(dump, sw_dump_text(names), false);
    for (size_t i = 0;
         names != NULL && names->kind == SW_JSON_ARRAY && drive == NULL && i < names->count; i++)
        drive = sw_dump_drive(dump, sw_dump_text(&names->children[i]), false);
    return drive;
}

/* A motor: the capability "7200rpm". That there is none is not said. */
static void state_motor(const sw_part *part) {
    const sw_json *capabilities = sw_dump_get(part->object, "capabilities");
    for (size_t i = 0; capabilities != NULL && i < capabilities->count; i++) {
        const char *name = capabilities->children[i].name;
        size_t number = name == NULL ? 0 : strspn(name, "0123456789");
        if (number > 0 && strcmp(name + number, "rpm") == 0) {
            sw_about about = sw_part_about(part, "capabilities");
            sw_state_flag(part->dump->list, &about, "rotational", true);
            return;
        }
    }
}

static void state_drive(const sw_part *part, const sw_part *above) {
    int64_t bytes = 0;
    sw_part_private(part, "serial number", "serial");
    sw_part_private(part, "world wide name", "configuration.wwid");
    sw_part_private(part, "UUID", "configuration.guid");
    if (in_unit(part->object, "bytes") &&
        sw_dump_whole(&bytes, sw_dump_get(part->object, "size")) && bytes > 0)
        sw_part_whole(part, "size_bytes", "size");
    if (text_of(part->object, "product")[0] != '\0')
        sw_part_text(part, "model", "product");
    /* NVMe: the model stands at the controller above. */
    else if (above->object != NULL && has_class(above->object, "storage") &&
             has_id(above->object, "nvme")) {
        sw_part model = *above;
        model.device = part->device;
        model.key = part->key;
        sw_part_text(&model, "model", "product");
        sw_part_private(&model, "serial number", "serial");
        sw_part_private(&model, "world wide name", "configuration.nqn");
    }
    state_motor(part);
}

/* ---- the tree ----------------------------------------------------------------------------------
 */

/* NULL where things cannot be counted. */
static const char *number_key(const sw_dump *dump, size_t *next) {
    if (dump->doubtful)
        return NULL;
    const char *key = sw_arena_format(dump->scratch, "%zu", (*next)++);
    dump->list->failed |= key == NULL;
    return key;
}

static void state_node(tree *in, sw_part *part, const sw_part *above) {
    const sw_json *node = part->object;
    size_t taken = 0;
    const char *bus = text_of(node, "businfo");
    const char *address = strncmp(bus, "pci@", 4) == 0
                              ? sw_dump_pci(in->dump, bus + 4, strlen(bus + 4), &taken)
                              : NULL;
    if (above->object == NULL && has_class(node, "system") && strcmp(part->place, "$") == 0) {
        part->device = "system";
        state_system(part);
    } else if (has_class(node, "bus") && has_id(node, "core")) {
        part->device = "board";
        state_machine(part);
    } else if (has_class(node, "memory") && has_id(node, "firmware")) {
        part->device = "firmware";
        state_firmware(part);
    } else if (has_class(node, "processor") && has_id(node, "cpu")) {
        part->device = "processor";
        part->key = number_key(in->dump, &in->processors);
        if (part->key != NULL)
            state_processor(part);
    } else if (is_array(node)) {
        part->device = "memory-array";
        part->key = number_key(in->dump, &in->arrays);
        if (part->key != NULL)
            state_array(part);
    } else if (is_bank(node)) {
        part->device = "memory-module";
        part->key = bank_key(in, node);
        if (part->key != NULL)
            state_bank(part);
    } else if (has_class(node, "disk")) {
        part->device = "drive";
        part->key = drive_in(in->dump, sw_dump_get(node, "logicalname"));
        if (part->key != NULL)
            state_drive(part, above);
    } else if (kind_of(node) != NULL) {
        part->device = kind_of(node);
        part->key = address == NULL ? "" : address;
        if (address != NULL)
            state_device(part);
        if (has_class(node, "network"))
            keep_network(part);
    }
}

/* Recursion is bounded by the gate. */
static void walk(tree *in, const sw_json *node, const char *place, const sw_part *above) {
    sw_part part = {in->dump, node, "", "", place};
    if (is_node(node))
        state_node(in, &part, above);
    const sw_json *children = sw_dump_get(node, "children");
    const char *below = sw_dump_member(in->dump, place, "children");
    for (size_t i = 0; children != NULL && children->kind == SW_JSON_ARRAY && i < children->count;
         i++)
        walk(in, &children->children[i], sw_dump_element(in->dump, below, i), &part);
}

void sw_lshw_read(const sw_dump *dump, const sw_json *root) {
    tree in = {.dump = dump};
    sw_part nothing = {.dump = dump};
    if (root->kind != SW_JSON_ARRAY)
        walk(&in, root, "$", &nothing);
    for (size_t i = 0; root->kind == SW_JSON_ARRAY && i < root->count; i++)
        walk(&in, &root->children[i], sw_dump_element(dump, "$", i), &nothing);
}
