/* Published values, and every fact of the sample dumps (data/binary/: made up, as README.md there
 * says).
 */
#include "binary.h"

#include <string.h>

static void load(told *out, reader *read, const char *data, const char *name) {
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", data, name);
    blob bytes = {0};
    if (!blob_read(&bytes, path))
        printf("FAILED %s cannot be read\n", path);
    tell(out, read, bytes.bytes == NULL ? "" : bytes.bytes, bytes.length);
    blob_free(&bytes);
}

/* All of `facts`, and nothing else. */
static void expect_all(tally *count, const told *is, const char *name, const char *const *facts,
                       size_t facts_count) {
    for (size_t i = 0; i < facts_count; i++)
        check(count, tells(is, facts[i]), "%s: not told: %s", name, facts[i]);
    for (size_t i = 0; i < is->list.count; i++) {
        char text[4096];
        as_text(text, sizeof text, &is->list.all[i]);
        bool listed = false;
        for (size_t f = 0; f < facts_count; f++)
            listed |= strcmp(facts[f], text) == 0;
        check(count, listed, "%s: told beside: %s", name, text);
        check(count, is->list.all[i].place[0] != '\0', "%s: no place: %s", name, text);
    }
    check(count, is->list.count == facts_count, "%s: %zu statements, expected %zu", name,
          is->list.count, facts_count);
    check(count, is->status == SW_OK && sw_complaints_count(is->complaints) == 0,
          "%s: complained of", name);
    check(count, sw_statements_end(&is->list, is->complaints) == SW_OK, "%s: list not sound", name);
}

#define EXPECT(count, is, name, facts)                                                             \
    expect_all(count, is, name, facts, sizeof(facts) / sizeof *(facts))

/* Offsets and codes: DMTF DSP0134 7.1 to 7.5, 7.17, 7.18; each value as dmidecode 3.4 prints it. */
static const char *const synth[] = {
    "firmware maker EXAMPLE BIOS", /* DSP0134 7.1 */
    "firmware version 1.00",
    "firmware date 01/02/2024",
    "system maker EXAMPLE", /* 7.2 */
    "system product DESKTOP",
    "system version 1",
    "board maker EXAMPLE", /* 7.3 */
    "board product BOARD-ATX",
    "board version A",
    "chassis maker EXAMPLE", /* 7.4.1: 07h */
    "chassis form Tower",
    "processor:0 name CPU 8-core", /* 7.5 */
    "processor:0 maker EXAMPLE",
    "processor:0 socket SOCKET0",
    "processor:0 cores 8",
    "processor:0 threads 16",
    "processor:0 max_mhz 5000",
    "processor:0 current_mhz 4200",
    "processor:0 populated true",
    "memory-array:0 slots 4", /* 7.17: 08000000h kB */
    "memory-array:0 most_gb 128",
    "memory-module:DIMM A1 size_mb 16384", /* 7.18: 4000h */
    "memory-module:DIMM A1 type DDR4",
    "memory-module:DIMM A1 form DIMM",
    "memory-module:DIMM A1 rated_mt_s 3200",
    "memory-module:DIMM A1 configured_mt_s 2666",
    "memory-module:DIMM A1 maker EXAMPLE",
    "memory-module:DIMM A1 part_number PN",
    "memory-module:DIMM A2 size_mb 0", /* 7.18: 0, an empty slot */
    "memory-module:DIMM A2 form DIMM",
    "memory-module:DIMM B1 size_mb 32768", /* 7.18: 7FFFh, then 8000h further on */
    "memory-module:DIMM B1 type DDR4",
    "memory-module:DIMM B1 form DIMM",
    "memory-module:DIMM B1 rated_mt_s 3200",
    "memory-module:DIMM B1 configured_mt_s 2666",
    "memory-module:DIMM B1 maker EXAMPLE",
    "memory-module:DIMM B1 part_number PN",
    "memory-module:DIMM B2 form DIMM", /* 7.18: FFFFh, unknown */
    "memory-module:DIMM B2 maker EXAMPLE",
    "memory-module:DIMM B2 part_number PN",
};

#define BOARD(version, processor)                                                                  \
    "firmware maker SynthBIOS", "firmware version 1.2", "firmware date 03/14/2017",                \
        "system maker SynthCo", "system product Tower-9", "system version " version,               \
        "board maker SynthCo", "board product SB-100", "board version " version,                   \
        "chassis maker SynthCo", "processor:0 name " version, "processor:0 maker " processor,      \
        "processor:0 socket CPU 0", "processor:0 cores 2", "processor:0 threads 2",                \
        "processor:0 max_mhz 2000", "processor:0 current_mhz 2000", "processor:0 populated true",  \
        "memory-array:0 slots 1", "memory-array:0 most_gb 2", "memory-module:DIMM 0 size_mb 2048", \
        "memory-module:DIMM 0 type RAM", "memory-module:DIMM 0 form DIMM",                         \
        "memory-module:DIMM 0 rated_mt_s 2400", "memory-module:DIMM 0 configured_mt_s 2400",       \
        "memory-module:DIMM 0 maker SynMem", "memory-module:DIMM 0 part_number SM-2400-8G"

static const char *const board[] = {BOARD("rev-A.0007", "EXMP")};
static const char *const board_text[] = {BOARD("rev-A", "EXAMPLE")};

/* VESA E-EDID 1.4, 3.4 to 3.10, each value as edid-decode prints it. */
static const char *const synth_edid[] = {
    "display:file maker_id TST",      /* 3.4.1: 52h 74h */
    "display:file product_code 4660", /* 3.4.2: 34h 12h */
    "display:file year 2024",
    "display:file name TEST 2560", /* 3.10.3.4 */
    "display:file bits_per_colour 8",
    "display:file interface DisplayPort",
    "display:file width_px 2560", /* 3.10.2: 241.5 MHz / (2720 x 1481) */
    "display:file height_px 1440",
    "display:file refresh_hz 59.951",
    "display:file top_refresh_hz 59.951",
    "display:file width_mm 597",
    "display:file height_mm 336",
};

static const char *const display[] = {
    "display:file maker_id TST",      "display:file product_code 4660",
    "display:file year 2014",         "display:file name EXMP Monitor",
    "display:file bits_per_colour 8", "display:file interface DisplayPort",
    "display:file width_px 1920",     "display:file height_px 1080",
    "display:file refresh_hz 74.998", "display:file top_refresh_hz 74.998",
    "display:file width_mm 487",      "display:file height_mm 274",
};

static bool has_private(const told *is, const char *device, const char *kind, const char *value) {
    for (size_t i = 0; i < is->list.private_count; i++) {
        const sw_private *at = &is->list.privates[i];
        if (strcmp(at->device, device) == 0 && strcmp(at->kind, kind) == 0 &&
            strcmp(at->value, value) == 0)
            return true;
    }
    return false;
}

/* DSP0134 7.2.1: the first three fields of a UUID have their little end first. */
static void test_private(tally *count, const char *data) {
    told is;
    load(&is, sw_smbios_read, data, "synth.dmi");
    check(count, has_private(&is, "system", "UUID", "03020100-0504-0706-0809-0a0b0c0d0e0f"),
          "the UUID of synth.dmi");
    check(count, has_private(&is, "system", "serial number", "SN"), "the serial of synth.dmi");
    check(count, is.list.private_count == 2, "%zu private values", is.list.private_count);
    forget(&is);
    load(&is, sw_edid_read, data, "synth.edid");
    check(count, has_private(&is, "display:file", "serial number", "42"), "serial of synth.edid");
    forget(&is);
}

/* DSP0134 5.2.1 (any byte of the entry point), E-EDID 3.3 and 3.1 (any byte of the block). */
static void refuse_each_byte(tally *count, reader *read, const char *data, const char *name,
                             size_t bytes) {
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", data, name);
    blob all = {0};
    if (!blob_read(&all, path))
        check(count, false, "%s cannot be read", path);
    for (size_t i = 0; i < bytes && i < all.length; i++) {
        told is;
        all.bytes[i] ^= 0x11;
        tell(&is, read, all.bytes, all.length);
        check(count,
              is.status == SW_BAD_DATA && is.list.count == 0 && is.list.private_count == 0 &&
                  sw_complaints_count(is.complaints) == 1,
              "%s with byte %zu changed is read", name, i);
        forget(&is);
        all.bytes[i] ^= 0x11;
    }
    blob_free(&all);
}

static unsigned char sum_of(const char *bytes, size_t from, size_t to) {
    unsigned sum = 0;
    for (size_t i = from; i < to; i++)
        sum += (unsigned char)bytes[i];
    return (unsigned char)sum;
}

/* DSP0134 5.2.1: a change whose own balance is restored in byte 4 leaves the part _DMI_ wrong. */
static void refuse_inner_sum(tally *count, const blob *is) {
    told of;
    is->bytes[30] ^= 0x11;
    is->bytes[4] = (char)(is->bytes[4] - sum_of(is->bytes, 0, 31));
    tell(&of, sw_smbios_read, is->bytes, is->length);
    check(count, of.status == SW_BAD_DATA && of.list.count == 0, "a wrong sum of the part _DMI_");
    forget(&of);
}

/* The table of synth.dmi behind the entry point of version 3 (5.2.2), which tells no count. */
static void test_entry_points(tally *count, const char *data, const char *work) {
    char path[4096];
    snprintf(path, sizeof path, "%s/synth.dmi", data);
    blob is = {0}, newer = {0};
    told of;
    check(count, blob_read(&is, path) && is.length == 572, "%s cannot be read", path);
    char entry[32] = "_SM3_\0\x18\3\2\0\1\0\x1c\2\0\0\x20";
    entry[5] = (char)(256 - sum_of(entry, 0, 24));
    blob_add(&newer, entry, sizeof entry);
    blob_add(&newer, is.bytes + 32, is.length - 32);
    tell(&of, sw_smbios_read, newer.bytes, newer.length);
    EXPECT(count, &of, "synth.dmi with the entry point of version 3", synth);
    forget(&of);
    blob_write(&newer, (snprintf(path, sizeof path, "%s/newer.dmi", work), path));
    refuse_each_byte(count, sw_smbios_read, work, "newer.dmi", 24);
    refuse_inner_sum(count, &is);
    blob_free(&is);
    blob_free(&newer);
}

/* A processor whose structure ends within the word at 14h, and within its strings' numbers. */
static void test_half_fields(tally *count) {
    static const char *const facts[] = {"processor:0 socket P1"};
    char entry[32] = "_SM3_\0\x18\3\2\0\1\0\x1f\0\0\0\x20";
    char table[] = "\4\x15\1\0\1\3\0\0\0\0\0\0\0\0\0\0\0\0\0\0\x88P1\0\0\x7f\4\2\0\0";
    blob is = {0};
    told of;
    entry[5] = (char)(256 - sum_of(entry, 0, 24));
    blob_add(&is, entry, sizeof entry);
    blob_add(&is, table, sizeof table);
    tell(&of, sw_smbios_read, is.bytes, is.length);
    EXPECT(count, &of, "a structure that ends within a word", facts);
    forget(&of);
    blob_free(&is);
}

static void test_kinds(tally *count, const char *data) {
    static const char *const names[] = {"synth.dmi", "board.dmi", "dmi.txt", "synth.edid",
                                        "display.edid"};
    static const char kinds[] = {'b', 'b', 't', 'e', 'e'};
    for (size_t i = 0; i < 5; i++) {
        char path[4096];
        snprintf(path, sizeof path, "%s/%s", data, names[i]);
        blob all = {0};
        bool read = blob_read(&all, path);
        check(count, read && sw_smbios_is(all.bytes, all.length) == (kinds[i] == 'b'), "%s: SMBIOS",
              names[i]);
        check(count, read && sw_dmi_text_is(all.bytes, all.length) == (kinds[i] == 't'), "%s: text",
              names[i]);
        check(count, read && sw_edid_is(all.bytes, all.length) == (kinds[i] == 'e'), "%s: EDID",
              names[i]);
        blob_free(&all);
    }
}

/* The words that the versions of dmidecode since 2.12 and those who copy its text make of it. */
typedef struct wording {
    const char *name, *text, *facts[6];
} wording;

static const wording wordings[] = {
    {"3.x",
     "Handle 0x0040, DMI type 17, 84 bytes\nMemory Device\n\tSize: 16 GB\n\tLocator: A1\n"
     "\tSpeed: 3200 MT/s\n\tConfigured Memory Speed: 2666 MT/s\n",
     {"memory-module:A1 size_mb 16384", "memory-module:A1 rated_mt_s 3200",
      "memory-module:A1 configured_mt_s 2666"}},
    {"2.12",
     "Handle 0x0040, DMI type 17, 34 bytes\nMemory Device\n\tSize: 16384 MB\n\tLocator: A1\n"
     "\tSpeed: 1600 MHz\n\tConfigured Clock Speed: 1333 MHz\n",
     {"memory-module:A1 size_mb 16384", "memory-module:A1 rated_mt_s 1600",
      "memory-module:A1 configured_mt_s 1333"}},
    {"no handles, CRLF, no tabs",
     "Memory Device\r\n        Size: No Module Installed\r\n        Locator: A1\r\n"
     "        Speed: Unknown\r\nCache Information\r\n        Size: 5 MB\r\n",
     {"memory-module:A1 size_mb 0"}},
    {"nothing known",
     "Handle 0x0040, DMI type 17, 40 bytes\nMemory Device\n\tSize: Unknown\n\tLocator: A1\n"
     "\tForm Factor: <OUT OF SPEC>\n\tType: <OUT OF SPEC>\n\tManufacturer: <BAD INDEX>\n"
     "\tPart Number: To Be Filled By O.E.M.\n\tSpeed: 0 MT/s\n",
     {NULL}},
    {"numbers that are none",
     "Handle 0x0040, DMI type 17, 40 bytes\nMemory Device\n\tSize: 16GB\n\tLocator: A1\n"
     "\tSpeed: -3200 MT/s\n\tConfigured Memory Speed: 99999999999999999999 MT/s\n",
     {NULL}},
    {"one name for all",
     "Handle 0x0040, DMI type 17, 40 bytes\nMemory Device\n\tSize: 8 GB\n\tLocator: DIMM 0\n"
     "\tBank Locator: P0 A\n\nHandle 0x0041, DMI type 17, 40 bytes\nMemory Device\n\tSize: 4 GB\n"
     "\tLocator: DIMM 0\n\tBank Locator: P0 B\n",
     {"memory-module:DIMM 0, P0 A size_mb 8192", "memory-module:DIMM 0, P0 B size_mb 4096"}},
    {"memory of firmware",
     "Handle 0x0030, DMI type 16, 23 bytes\nPhysical Memory Array\n\tUse: Flash Memory\n"
     "\tMaximum Capacity: 8 MB\n\nHandle 0x0040, DMI type 17, 40 bytes\nMemory Device\n"
     "\tArray Handle: 0x0030\n\tSize: 8 MB\n\tLocator: ROM\n",
     {NULL}},
    {"a riser beside the board",
     "Handle 0x0001, DMI type 2, 15 bytes\nBase Board Information\n\tProduct Name: Riser\n"
     "\tType: Daughter Board\n\nHandle 0x0002, DMI type 2, 15 bytes\nBase Board Information\n"
     "\tProduct Name: Main\n\tType: Motherboard\n",
     {"board product Main"}},
    {"cut within a number",
     "Handle 0x0040, DMI type 17, 40 bytes\nMemory Device\n\tLocator: A1\n\tSize: 16 GB\n"
     "\tSpeed: 3200 MT/s",
     {"memory-module:A1 size_mb 16384"}},
    {"empty and full sockets",
     "Handle 0x0004, DMI type 4, 48 bytes\nProcessor Information\n\tSocket Designation: P1\n"
     "\tStatus: Unpopulated\n\tUpgrade: Socket BGA1155\n\tMax Speed: Unknown\n",
     {"processor:0 socket P1", "processor:0 populated false",
      "processor:0 upgrade Socket LGA1155"}},
    {"bytes of no encoding, controls, marks of direction",
     "Handle 0x0001, DMI type 1, 27 bytes\nSystem Information\n\tManufacturer: A\xFF"
     "B\x01\x7F\n"
     "\tProduct Name:  \xE2\x80\xAE"
     "C\xC2\x85 \n",
     {"system maker A\xEF\xBF\xBD"
      "B",
      "system product C"}},
};

static void test_wordings(tally *count) {
    for (size_t i = 0; i < sizeof wordings / sizeof *wordings; i++) {
        const wording *at = &wordings[i];
        size_t facts = 0;
        while (facts < 6 && at->facts[facts] != NULL)
            facts++;
        told is;
        tell(&is, sw_dmi_text_read, at->text, strlen(at->text));
        expect_all(count, &is, at->name, at->facts, facts);
        check(count, sw_dmi_text_is(at->text, strlen(at->text)), "%s: not known as dmidecode's",
              at->name);
        forget(&is);
    }
}

/* UTF-16 as some shells write it must say what the bytes said. */
static void test_utf16(tally *count, const char *data) {
    char path[4096];
    snprintf(path, sizeof path, "%s/dmi.txt", data);
    blob all = {0}, wide = {0};
    check(count, blob_read(&all, path), "%s cannot be read", path);
    blob_add(&wide, "\xFF\xFE", 2);
    for (size_t i = 0; i < all.length; i++)
        blob_add(&wide, (char[]){all.bytes[i], 0}, 2);
    told is;
    tell(&is, sw_dmi_text_read, wide.bytes, wide.length);
    EXPECT(count, &is, "UTF-16", board_text);
    forget(&is);
    blob_free(&all);
    blob_free(&wide);
}

void test_facts(tally *count, const char *data, const char *work) {
    told is;
    load(&is, sw_smbios_read, data, "synth.dmi");
    EXPECT(count, &is, "synth.dmi", synth);
    forget(&is);
    load(&is, sw_smbios_read, data, "board.dmi");
    EXPECT(count, &is, "board.dmi", board);
    forget(&is);
    load(&is, sw_dmi_text_read, data, "dmi.txt");
    EXPECT(count, &is, "dmi.txt", board_text);
    forget(&is);
    load(&is, sw_edid_read, data, "synth.edid");
    EXPECT(count, &is, "synth.edid", synth_edid);
    forget(&is);
    load(&is, sw_edid_read, data, "display.edid");
    EXPECT(count, &is, "display.edid", display);
    forget(&is);
    test_private(count, data);
    test_entry_points(count, data, work);
    test_half_fields(count);
    test_kinds(count, data);
    test_wordings(count);
    test_utf16(count, data);
    refuse_each_byte(count, sw_smbios_read, data, "synth.dmi", 31);
    refuse_each_byte(count, sw_edid_read, data, "synth.edid", 128);
}
