/* Bytes of an SMBIOS dump to structures; every byte is looked for before it is looked at. */
#include "intake/smbios.h"

#include <stdio.h>
#include <string.h>

#include "intake/dmi.h"

#define OLD_BYTES 31 /* "_SM_" */
#define NEW_BYTES 24 /* "_SM3_" */

typedef struct view {
    const unsigned char *bytes;
    size_t length;
} view;

static bool is_new(view in) { return in.length >= 5 && memcmp(in.bytes, "_SM3_", 5) == 0; }

bool sw_smbios_is(const char *bytes, size_t length) {
    view in = {(const unsigned char *)bytes, length};
    return is_new(in) || (length >= 4 && memcmp(bytes, "_SM_", 4) == 0);
}

/* ---- numbers: little end first; SW_DMI_NONE beyond the end ---------------------------- */

static int64_t number_at(view in, size_t at, size_t bytes) {
    if (bytes > in.length || at > in.length - bytes)
        return SW_DMI_NONE;
    uint64_t number = 0;
    for (size_t i = bytes; i > 0; i--)
        number = number << 8 | in.bytes[at + i - 1];
    return number > INT64_MAX ? SW_DMI_NONE : (int64_t)number;
}

static int64_t byte_at(view in, size_t at) { return number_at(in, at, 1); }
static int64_t word_at(view in, size_t at) { return number_at(in, at, 2); }
static int64_t dword_at(view in, size_t at) { return number_at(in, at, 4); }
static int64_t qword_at(view in, size_t at) { return number_at(in, at, 8); }

static bool sums_to_zero(view in, size_t from, size_t to) {
    unsigned sum = 0;
    for (size_t i = from; i < to; i++)
        sum += in.bytes[i];
    return sum % 256 == 0;
}

/* ---- the entry point ------------------------------------------------------------------ */

typedef struct entry {
    size_t at, length;  /* the table's */
    int64_t structures; /* SW_DMI_NONE: not told */
    bool ends_at_127;
} entry;

static bool refuse(sw_complaints *complaints, const char *file, const char *place, const char *what,
                   const char *why) {
    sw_complain(complaints, file, place, why,
                "write it again with \"dmidecode --dump-bin FILE\", as root", "%s", what);
    return false;
}

/* DSP0134 5.2.1: both parts of the old entry point have a sum of their own. */
static bool read_old(entry *out, view in, const char *file, sw_complaints *complaints) {
    if (in.length < OLD_BYTES)
        return refuse(complaints, file, "bytes 0-30", "ends within the entry point",
                      "an SMBIOS entry point \"_SM_\" has 31 bytes");
    int64_t length = byte_at(in, 5);
    if (length != 31 && length != 30) /* 30: a slip in version 2.1 of the standard */
        return refuse(complaints, file, "byte 5", "has an entry point of another length",
                      "an SMBIOS entry point \"_SM_\" has 31 bytes");
    if (!sums_to_zero(in, 0, (size_t)length))
        return refuse(complaints, file, "bytes 0-30", "the entry point's checksum is wrong",
                      "its bytes must sum to 0 modulo 256, so some byte was changed");
    if (memcmp(in.bytes + 16, "_DMI_", 5) != 0 || !sums_to_zero(in, 16, OLD_BYTES))
        return refuse(complaints, file, "bytes 16-30", "the checksum of its part _DMI_ is wrong",
                      "its bytes must sum to 0 modulo 256, so some byte was changed");
    *out = (entry){(size_t)dword_at(in, 24), (size_t)word_at(in, 22), word_at(in, 28), false};
    return true;
}

/* DSP0134 5.2.2. */
static bool read_new(entry *out, view in, const char *file, sw_complaints *complaints) {
    if (in.length < NEW_BYTES)
        return refuse(complaints, file, "bytes 0-23", "ends within the entry point",
                      "an SMBIOS entry point \"_SM3_\" has 24 bytes");
    if (byte_at(in, 6) != NEW_BYTES)
        return refuse(complaints, file, "byte 6", "has an entry point of another length",
                      "an SMBIOS entry point \"_SM3_\" has 24 bytes");
    if (!sums_to_zero(in, 0, NEW_BYTES))
        return refuse(complaints, file, "bytes 0-23", "the entry point's checksum is wrong",
                      "its bytes must sum to 0 modulo 256, so some byte was changed");
    int64_t at = qword_at(in, 16);
    *out = (entry){at < 0 ? in.length : (size_t)at, (size_t)dword_at(in, 12), SW_DMI_NONE, true};
    return true;
}

/* A raw copy of the entry point still has the address in the machine's memory. */
static bool read_entry(entry *out, view in, const char *file, sw_complaints *complaints) {
    bool newer = is_new(in);
    if (!(newer ? read_new(out, in, file, complaints) : read_old(out, in, file, complaints)))
        return false;
    if (out->at < (size_t)(newer ? NEW_BYTES : OLD_BYTES) || out->at >= in.length)
        return refuse(complaints, file, newer ? "bytes 16-23" : "bytes 24-27",
                      "the table does not stand where the entry point says",
                      "a dump holds the table behind the entry point, at the byte told there");
    return true;
}

/* ---- strings: DSP0134 6.1.3 ----------------------------------------------------------- */

/* One structure: `in` is its formatted part, `strings` what follows, the last NUL left out. */
typedef struct structure {
    view in, strings;
} structure;

/* The text whose number stands at `at`; NULL for number 0, a number that is not there, or a field
 * beyond the structure's end. */
static const char *text_at(sw_arena *arena, const structure *is, size_t at, bool *failed) {
    int64_t number = byte_at(is->in, at);
    if (number <= 0)
        return NULL;
    const char *from = (const char *)is->strings.bytes;
    size_t left = is->strings.length;
    for (; left > 0; number--) {
        size_t length = strnlen(from, left);
        if (length == 0)
            return NULL;
        if (number == 1) {
            const char *text = sw_arena_text(arena, from, length);
            *failed |= text == NULL;
            return text;
        }
        size_t step = length < left ? length + 1 : left;
        from += step;
        left -= step;
    }
    return NULL;
}

/* ---- fields --------------------------------------------------------------------------- */

typedef struct reading {
    sw_statements *list;
    const structure *is;
    sw_dmi_structure *out;
} reading;

static const char *text(const reading *at, size_t offset) {
    return text_at(at->list->arena, at->is, offset, &at->list->failed);
}

typedef const char *words(unsigned code);

static const char *word(const reading *at, size_t offset, words *of) {
    int64_t code = byte_at(at->is->in, offset);
    return code < 0 ? NULL : of((unsigned)code);
}

/* 7.2.1. All bytes 00h or FFh: none. */
static const char *uuid(const reading *at, size_t offset) {
    static const unsigned char order[] = {3, 2, 1, 0, 5, 4, 7, 6, 8, 9, 10, 11, 12, 13, 14, 15};
    view in = at->is->in;
    if (in.length < offset + 16)
        return NULL;
    const unsigned char *bytes = in.bytes + offset;
    size_t zeros = 0, ones = 0;
    char text[37] = "", *next = text;
    for (size_t i = 0; i < 16; i++) {
        zeros += bytes[i] == 0;
        ones += bytes[i] == 0xFF;
        bool dash = i == 4 || i == 6 || i == 8 || i == 10;
        next += snprintf(next, (size_t)(text + sizeof text - next), "%s%02x", dash ? "-" : "",
                         bytes[order[i]]);
    }
    if (zeros == 16 || ones == 16)
        return NULL;
    const char *kept = sw_arena_copy(at->list->arena, text);
    at->list->failed |= kept == NULL;
    return kept;
}

static void read_firmware(const reading *at) {
    at->out->maker = text(at, 0x04);
    at->out->version = text(at, 0x05);
    at->out->date = text(at, 0x08);
}

static void read_system(const reading *at) {
    at->out->maker = text(at, 0x04);
    at->out->product = text(at, 0x05);
    at->out->version = text(at, 0x06);
    at->out->serial = text(at, 0x07);
    at->out->uuid = uuid(at, 0x08);
}

static void read_board(const reading *at) {
    at->out->maker = text(at, 0x04);
    at->out->product = text(at, 0x05);
    at->out->version = text(at, 0x06);
    at->out->serial = text(at, 0x07);
    at->out->asset = text(at, 0x08);
    at->out->kind = word(at, 0x0D, sw_dmi_board);
}

static void read_chassis(const reading *at) {
    at->out->maker = text(at, 0x04);
    at->out->kind = word(at, 0x05, sw_dmi_chassis);
    at->out->serial = text(at, 0x07);
    at->out->asset = text(at, 0x08);
}

/* 7.5.6, 7.5.8: FFh means that the word further on holds the count. */
static int64_t count_at(view in, size_t small, size_t large) {
    int64_t count = byte_at(in, small), many = word_at(in, large);
    if (count != 0xFF || many == SW_DMI_NONE)
        return count;
    return many == 0xFFFF ? SW_DMI_NONE : many;
}

static void read_processor(const reading *at) {
    view in = at->is->in;
    at->out->name = text(at, 0x04);
    at->out->kind = word(at, 0x05, sw_dmi_processor);
    at->out->maker = text(at, 0x07);
    at->out->version = text(at, 0x10);
    at->out->max_mhz = word_at(in, 0x14);
    at->out->current_mhz = word_at(in, 0x16);
    int64_t status = byte_at(in, 0x18);
    at->out->populated = status < 0 ? SW_DMI_NONE : (status >> 6 & 1);
    at->out->upgrade = word(at, 0x19, sw_dmi_upgrade);
    at->out->serial = text(at, 0x20);
    at->out->asset = text(at, 0x21);
    at->out->cores = count_at(in, 0x23, 0x2A);
    at->out->threads = count_at(in, 0x25, 0x2E);
}

/* The width stands before the type, as people write it: "x16 PCI Express 4". */
static const char *slot_type(const reading *at) {
    const char *type = word(at, 0x05, sw_dmi_slot), *width = word(at, 0x06, sw_dmi_slot_width);
    if (type == NULL || width == NULL)
        return type;
    const char *both = sw_arena_format(at->list->arena, "%s %s", width, type);
    at->list->failed |= both == NULL;
    return both;
}

static void read_slot(const reading *at) {
    at->out->name = text(at, 0x04);
    at->out->kind = slot_type(at);
    at->out->usage = word(at, 0x07, sw_dmi_slot_usage);
}

/* 7.17: kB, or with 80000000h bytes further on. */
static int64_t most_milli_gb(view in) {
    int64_t kib = dword_at(in, 0x07), bytes = qword_at(in, 0x0F);
    if (kib == INT64_C(0x80000000))
        return bytes < 0 ? SW_DMI_NONE : sw_dmi_milli_gb(bytes >> 10);
    return sw_dmi_milli_gb(kib);
}

static void read_array(const reading *at) {
    at->out->use = word(at, 0x05, sw_dmi_array_use);
    at->out->most_milli_gb = most_milli_gb(at->is->in);
    at->out->slots = word_at(at->is->in, 0x0D);
}

/* 7.18.4, 7.18.5: MB, with bit 15 kB; FFFFh unknown; 7FFFh: the dword further on, in MB. */
static int64_t size_milli_mb(view in) {
    int64_t size = word_at(in, 0x0C), extended = dword_at(in, 0x1C);
    if (size < 0 || size == 0xFFFF)
        return SW_DMI_NONE;
    if (size == 0x7FFF) {
        int64_t large = extended < 0 ? 0 : extended & 0x7FFFFFFF;
        return large == 0 ? SW_DMI_NONE : large * 1000;
    }
    if (size & 0x8000)
        return (size & 0x7FFF) == 0 ? SW_DMI_NONE : (size & 0x7FFF) * 1000 / 1024;
    return size * 1000;
}

/* 7.18: MT/s; 0 unknown; FFFFh: the dword further on, both of which came with version 3.3. */
static int64_t speed_at(view in, size_t small, size_t large) {
    int64_t speed = word_at(in, small), extended = in.length < 0x5C ? 0 : dword_at(in, large);
    return speed == 0xFFFF ? extended & 0x7FFFFFFF : speed;
}

static void read_module(const reading *at) {
    view in = at->is->in;
    at->out->array = word_at(in, 0x04);
    at->out->size_milli_mb = size_milli_mb(in);
    at->out->form = word(at, 0x0E, sw_dmi_memory_form);
    at->out->name = text(at, 0x10);
    at->out->bank = text(at, 0x11);
    at->out->kind = word(at, 0x12, sw_dmi_memory);
    at->out->rated_mt_s = speed_at(in, 0x15, 0x54);
    at->out->maker = text(at, 0x17);
    at->out->serial = text(at, 0x18);
    at->out->asset = text(at, 0x19);
    at->out->part_number = text(at, 0x1A);
    at->out->configured_mt_s = speed_at(in, 0x20, 0x58);
}

static void read_fields(const reading *at) {
    switch (at->out->type) {
    case SW_DMI_FIRMWARE:
        read_firmware(at);
        break;
    case SW_DMI_SYSTEM:
        read_system(at);
        break;
    case SW_DMI_BOARD:
        read_board(at);
        break;
    case SW_DMI_CHASSIS:
        read_chassis(at);
        break;
    case SW_DMI_PROCESSOR:
        read_processor(at);
        break;
    case SW_DMI_SLOT:
        read_slot(at);
        break;
    case SW_DMI_ARRAY:
        read_array(at);
        break;
    case SW_DMI_MODULE:
        read_module(at);
        break;
    }
}

/* ---- the table ------------------------------------------------------------------------ */

typedef struct walk {
    sw_statements *list;
    const char *file;
    sw_complaints *complaints;
    view table;
    size_t base; /* where the table begins in the file */
    sw_dmi_structure *kept;
    size_t kept_count;
    bool faulty;
    bool ended; /* the structure that ends a table was met */
} walk;

static void fault(walk *in, size_t at, const char *what, const char *why) {
    char place[48];
    snprintf(place, sizeof place, "byte %zu", in->base + at);
    sw_complain(in->complaints, in->file, place, why,
                "what stood before it was read; for the rest dump the table again", "%s", what);
    in->faulty = true;
}

/* Bytes of the structure at `at` with its strings; 0 when it is cut short or broken. */
static size_t structure_bytes(structure *out, walk *in, size_t at) {
    size_t left = in->table.length - at;
    const unsigned char *from = in->table.bytes + at;
    size_t formatted = left >= 4 ? from[1] : 0;
    if (left >= 4 && formatted < 4) {
        fault(in, at, "a structure has a length that cannot be",
              "every SMBIOS structure has a header of 4 bytes");
        return 0;
    }
    size_t end = formatted;
    while (left >= 4 && end + 1 < left && (from[end] != 0 || from[end + 1] != 0))
        end++;
    if (left < 4 || end + 1 >= left) {
        fault(in, at, "ends within a structure",
              "the strings of an SMBIOS structure end with two NUL bytes");
        return 0;
    }
    *out = (structure){{from, formatted}, {from + formatted, end - formatted}};
    return end + 2;
}

static void keep(walk *in, size_t at, const structure *is) {
    if (!sw_dmi_is_read(is->in.bytes[0]))
        return;
    if (in->kept_count == SW_DMI_LIMIT) {
        if (!in->faulty)
            fault(in, at, "has over 512 structures that matter", "no desktop computer has so many");
        return;
    }
    sw_dmi_structure *out = &in->kept[in->kept_count];
    *out = sw_dmi_unknown((sw_dmi_type)is->in.bytes[0]);
    out->handle = word_at(is->in, 2);
    out->place = sw_arena_format(in->list->arena, "handle %04Xh", (unsigned)out->handle);
    in->list->failed |= out->place == NULL;
    read_fields(&(reading){in->list, is, out});
    in->kept_count++;
}

static void walk_table(walk *in, const entry *told) {
    size_t at = 0;
    int64_t met = 0;
    while (at < in->table.length && !in->list->failed &&
           (told->structures <= 0 || met < told->structures)) {
        if (told->ends_at_127 && in->table.length - at < 4)
            break; /* the new entry point tells the most that the table may fill */
        structure is;
        size_t step = structure_bytes(&is, in, at);
        if (step == 0)
            return;
        keep(in, at, &is);
        met++;
        at += step;
        in->ended |= is.in.bytes[0] == 127;
        if (told->ends_at_127 && in->ended)
            return;
    }
    if (told->structures > 0 && met < told->structures)
        fault(in, at, "has fewer structures than its entry point tells",
              "the entry point counts the structures of the table");
}

sw_status sw_smbios_read(sw_statements *list, const char *file, const char *bytes, size_t length,
                         sw_complaints *complaints) {
    view in = {(const unsigned char *)bytes, length};
    entry told;
    if (!sw_smbios_is(bytes, length)) {
        refuse(complaints, file, "", "is no SMBIOS dump", "one begins with \"_SM_\" or \"_SM3_\"");
        return SW_BAD_DATA;
    }
    if (!read_entry(&told, in, file, complaints))
        return SW_BAD_DATA;
    size_t there = length - told.at;
    bool cut = told.length > there;
    walk at = {.list = list, .file = file, .complaints = complaints, .base = told.at};
    at.table = (view){in.bytes + told.at, cut ? there : told.length};
    at.kept = SW_NEW(list->arena, sw_dmi_structure, SW_DMI_LIMIT);
    if (at.kept == NULL)
        list->failed = true;
    else
        walk_table(&at, &told);
    if (list->failed)
        return SW_NO_MEMORY;
    if (cut && !(told.ends_at_127 && at.ended) && !at.faulty)
        fault(&at, there, "ends before its table does", "the entry point tells a longer table");
    sw_dmi_state(list, file, at.kept, at.kept_count);
    return list->failed ? SW_NO_MEMORY : at.faulty ? SW_BAD_DATA : SW_OK;
}
