/* Lines of lspci: an address, then texts in quotes in which \ stands before " and \. */
#include "intake/lspci.h"

#include <stdio.h>
#include <string.h>

#define TEXTS 3 /* class, maker, device; what follows is of the card's maker */

typedef struct line {
    const char *bytes;
    size_t length, at;
} line;

static size_t blanks(line *in) {
    size_t begin = in->at;
    while (in->at < in->length && (in->bytes[in->at] == ' ' || in->bytes[in->at] == '\t'))
        in->at++;
    return in->at - begin;
}

/* ---- is it that? ------------------------------------------------------------------------ */

static size_t line_length(const char *bytes, size_t left) {
    const char *end = memchr(bytes, '\n', left);
    return end == NULL ? left : (size_t)(end - bytes);
}

static bool is_hex(char byte) {
    return (byte >= '0' && byte <= '9') || (byte >= 'a' && byte <= 'f') ||
           (byte >= 'A' && byte <= 'F');
}

/* Digits, colons and one point, then a blank and a quote. */
static bool begins_well(const char *bytes, size_t length) {
    size_t at = 0;
    while (at < length && at < 20 && (is_hex(bytes[at]) || bytes[at] == ':' || bytes[at] == '.'))
        at++;
    return at >= 7 && at + 1 < length && bytes[at - 2] == '.' && bytes[at] == ' ' &&
           bytes[at + 1] == '"';
}

bool sw_lspci_is(const char *bytes, size_t length) {
    for (size_t at = 0; at < length;) {
        size_t here = line_length(bytes + at, length - at);
        if (begins_well(bytes + at, here))
            return true;
        at += here + 1;
    }
    return false;
}

/* ---- texts -------------------------------------------------------------------------------- */

typedef struct text {
    const char *bytes; /* in scratch, without the quotes and escapes */
    size_t length;
} text;

static bool quoted(text *out, const sw_dump *dump, line *in) {
    if (blanks(in) == 0 || in->at >= in->length || in->bytes[in->at] != '"')
        return false;
    size_t begin = ++in->at, end = begin;
    while (end < in->length && in->bytes[end] != '"')
        end += in->bytes[end] == '\\' && end + 1 < in->length ? 2 : 1;
    if (end >= in->length)
        return false;
    in->at = end + 1;
    char *kept = sw_arena_alloc(dump->scratch, end - begin + 1, 1);
    if (kept == NULL) {
        dump->list->failed = true;
        return false;
    }
    size_t length = 0;
    for (size_t at = begin; at < end; at++) {
        at += in->bytes[at] == '\\' && at + 1 < end;
        kept[length++] = in->bytes[at];
    }
    *out = (text){kept, length};
    return true;
}

/* ---- classes ------------------------------------------------------------------------------ */

/* Of the PCI-SIG's class codes, "PCI Code and ID Assignment Specification": the classes that are
 * read, and those of multimedia that make sound. Without numbers the names that lspci has for them
 * tell (those of its list of identifiers; from memory). */
typedef struct kind {
    const char *device, *code; /* the code's beginning */
    const char *const *names;
} kind;

static const char *const graphics[] = {"VGA compatible controller", "XGA compatible controller",
                                       "3D controller", "Display controller", NULL};
static const char *const audio[] = {"Audio device", "Multimedia audio controller", NULL};
static const char *const network[] = {"Ethernet controller",
                                      "Token ring network controller",
                                      "FDDI network controller",
                                      "ATM network controller",
                                      "ISDN controller",
                                      "Infiniband controller",
                                      "Fabric controller",
                                      "Network controller",
                                      NULL};
static const char *const storage[] = {"SCSI storage controller",
                                      "IDE interface",
                                      "RAID bus controller",
                                      "ATA controller",
                                      "SATA controller",
                                      "Serial Attached SCSI controller",
                                      "Non-Volatile memory controller",
                                      "Universal Flash Storage controller",
                                      "Mass storage controller",
                                      NULL};

static const kind kinds[] = {{"graphics", "03", graphics},
                             {"sound", "0401", audio},
                             {"sound", "0403", audio},
                             {"network", "02", network},
                             {"storage-port", "01", storage}};

static bool is_one_of(const text *name, const char *const *names) {
    for (; *names != NULL; names++)
        if (strlen(*names) == name->length && memcmp(*names, name->bytes, name->length) == 0)
            return true;
    return false;
}

static bool is_code(const text *of) {
    if (of->length != 4)
        return false;
    for (size_t i = 0; i < 4; i++)
        if (!is_hex(of->bytes[i]))
            return false;
    return true;
}

static const char *device_of(const sw_dump *dump, const text *class) {
    const char *id = NULL;
    text name = *class;
    name.length = sw_dump_name(dump, class->bytes, class->length, &id);
    if (id == NULL && is_code(class))
        id = class->bytes;
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (id != NULL ? strncmp(id, kinds[i].code, strlen(kinds[i].code)) == 0
                       : is_one_of(&name, kinds[i].names))
            return kinds[i].device;
    return NULL;
}

/* ---- lines -------------------------------------------------------------------------------- */

/* "Device", "Device 1111", "Vendor 1234": lspci knows the number, not the name. */
static bool is_name(const text *of, size_t length, const char *without) {
    size_t word = strlen(without);
    if (length < word || memcmp(of->bytes, without, word) != 0)
        return true;
    text rest = {of->bytes + word + 1, length > word ? length - word - 1 : 0};
    return length > word && !(of->bytes[word] == ' ' && is_code(&rest));
}

static void state(const sw_dump *dump, const sw_about *about, const text *of, const char *name,
                  const char *identifier, const char *without) {
    const char *id = NULL;
    size_t length = sw_dump_name(dump, of->bytes, of->length, &id);
    if (id == NULL && is_code(of))
        id = sw_dump_code(dump, of->bytes);
    else if (is_name(of, length, without))
        sw_state_text(dump->list, about, name, of->bytes, length);
    if (id != NULL)
        sw_state_text(dump->list, about, identifier, id, 4);
}

static void tell_broken(const sw_dump *dump, size_t count, size_t first) {
    const char *place = sw_arena_format(dump->scratch, "line %zu", first);
    dump->list->failed |= place == NULL;
    if (place != NULL)
        sw_complain(dump->faults, dump->file, place,
                    "an address and at least three texts in quotes make one",
                    "take the dump again with lspci -mm -nn if something is missing",
                    "lines that lspci -mm does not write: %zu, here the first", count);
}

/* False when the line is broken. */
static bool one(const sw_dump *dump, line *in, const char *place) {
    size_t length = 0;
    const char *address = sw_dump_pci(dump, in->bytes, in->length, &length);
    text texts[TEXTS];
    in->at = length;
    for (size_t i = 0; i < TEXTS; i++)
        if (address == NULL || !quoted(&texts[i], dump, in))
            return false;
    sw_about about = {device_of(dump, &texts[0]), address, dump->file, place};
    if (about.device == NULL)
        return true;
    state(dump, &about, &texts[1], "maker", "maker_id", "Vendor");
    state(dump, &about, &texts[2], "name", "device_id", "Device");
    return true;
}

void sw_lspci_read(const sw_dump *dump, const char *bytes, size_t length) {
    size_t number = 0, broken = 0, first = 0;
    for (size_t at = 0; at < length && !dump->list->failed; number++) {
        line in = {bytes + at, line_length(bytes + at, length - at), 0};
        at += in.length + 1;
        while (in.length > 0 && in.bytes[in.length - 1] == '\r')
            in.length--;
        char place[40];
        snprintf(place, sizeof place, "line %zu", number + 1);
        blanks(&in);
        if (in.at < in.length) {
            in.at = 0;
            bool sound = one(dump, &in, place);
            broken += !sound;
            first = !sound && broken == 1 ? number + 1 : first;
        }
    }
    if (broken > 0)
        tell_broken(dump, broken, first);
    if (length > 0 && bytes[length - 1] != '\n')
        sw_complain(dump->faults, dump->file, "", "lspci ends each line",
                    "take the dump again if it was cut off", "ends within a line");
}
