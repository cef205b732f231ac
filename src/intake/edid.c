/* The base block of an EDID to statements. */
#include "intake/edid.h"

#include <stdio.h>
#include <string.h>

#include "intake/edid_rates.h"

static const unsigned char header[8] = {0x00, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0x00};

bool sw_edid_is(const char *bytes, size_t length) {
    return length >= sizeof header && memcmp(bytes, header, sizeof header) == 0;
}

static bool sums_to_zero(const unsigned char *block) {
    unsigned sum = 0;
    for (size_t i = 0; i < SW_EDID_BLOCK; i++)
        sum += block[i];
    return sum % 256 == 0;
}

/* ---- one property each ---------------------------------------------------------------- */

typedef struct reading {
    sw_statements *list;
    const char *file;
    const unsigned char *block; /* 128 bytes */
    int revision;
} reading;

static sw_about at(const reading *in, const char *place) {
    return (sw_about){"display", in->file, in->file, place};
}

/* 3.4.1: three letters in five bits each, 1 is A. */
static void state_maker(const reading *in) {
    unsigned packed = (unsigned)in->block[8] << 8 | in->block[9];
    char letters[3];
    for (size_t i = 0; i < 3; i++) {
        unsigned letter = packed >> (10 - 5 * i) & 31;
        if (letter < 1 || letter > 26)
            return;
        letters[i] = (char)('A' + letter - 1);
    }
    sw_about about = at(in, "bytes 8-9");
    sw_state_text(in->list, &about, "maker_id", letters, sizeof letters);
}

static void state_product(const reading *in) {
    sw_about about = at(in, "bytes 10-11");
    sw_state_whole(in->list, &about, "product_code", in->block[10] | in->block[11] << 8);
}

/* 3.4.4: the year that it was made, or with week FFh the model's. Both 0: never filled in. */
static void state_year(const reading *in) {
    sw_about about = at(in, "byte 17");
    if (in->block[16] != 0 || in->block[17] != 0)
        sw_state_whole(in->list, &about, "year", 1990 + in->block[17]);
}

/* 3.6.1. Before 1.4 a digital input does not say which. */
static void state_input(const reading *in) {
    static const char *const interfaces[] = {NULL,     "DVI",  "HDMI-a",
                                             "HDMI-b", "MDDI", "DisplayPort"};
    unsigned input = in->block[20], which = input & 15, depth = input >> 4 & 7;
    sw_about about = at(in, "byte 20");
    if ((input & 0x80) == 0) {
        sw_state_text(in->list, &about, "interface", "analog", 6);
        return;
    }
    if (in->revision < 4)
        return;
    if (depth >= 1 && depth <= 6)
        sw_state_whole(in->list, &about, "bits_per_colour", 4 + 2 * (int64_t)depth);
    if (which < sizeof interfaces / sizeof *interfaces && interfaces[which] != NULL)
        sw_state_text(in->list, &about, "interface", interfaces[which], strlen(interfaces[which]));
}

/* 3.10.3: descriptors of a tag; the text ends with 0Ah. */
static bool descriptor_text(sw_edid_bytes *out, const reading *in, unsigned tag) {
    for (size_t from = 54; from < 126; from += 18) {
        const unsigned char *text = in->block + from + 5;
        if (in->block[from] != 0 || in->block[from + 1] != 0 || in->block[from + 3] != tag)
            continue;
        const unsigned char *end = memchr(text, 0x0A, 13);
        *out = (sw_edid_bytes){text, end == NULL ? 13 : (size_t)(end - text)};
        return true;
    }
    return false;
}

static void state_name(const reading *in) {
    sw_edid_bytes text;
    sw_about about = at(in, "descriptor FCh");
    if (descriptor_text(&text, in, 0xFC))
        sw_state_text(in->list, &about, "name", (const char *)text.from, text.length);
}

static void hide_serial(const reading *in) {
    sw_edid_bytes text;
    sw_about about = at(in, "bytes 12-15");
    const unsigned char *b = in->block + 12;
    uint32_t number = b[0] | (uint32_t)b[1] << 8 | (uint32_t)b[2] << 16 | (uint32_t)b[3] << 24;
    char digits[16];
    int length = snprintf(digits, sizeof digits, "%lu", (unsigned long)number);
    if (number != 0 && number != 0x01010101 && length > 0)
        sw_state_private(in->list, &about, "serial number", digits, (size_t)length);
    if (descriptor_text(&text, in, 0xFF))
        sw_state_private(in->list, &about, "serial number", (const char *)text.from, text.length);
}

/* ---- sizes ---------------------------------------------------------------------------- */

/* A length from the first detailed timing in mm and from the block in cm, 0 where not told. Two
 * that are further apart than the rounding to cm are both told: some makers write cm, or the shape
 * of the picture, where mm belong. */
static void state_length(const reading *in, const char *property, const char *fine_place, int fine,
                         const char *coarse_place, int coarse) {
    sw_about about = at(in, fine_place);
    int apart = fine > coarse * 10 ? fine - coarse * 10 : coarse * 10 - fine;
    if (fine > 0)
        sw_state_whole(in->list, &about, property, fine);
    about.place = coarse_place;
    if (coarse > 0 && (fine == 0 || apart > 10))
        sw_state_whole(in->list, &about, property, (int64_t)coarse * 10);
}

/* 3.6.2: one of the two 0 makes the other a shape, not a size. */
static void state_size(const reading *in, bool has_timing) {
    const unsigned char *b = in->block;
    int width = has_timing ? b[66] | (b[68] & 0xF0) << 4 : 0;
    int height = has_timing ? b[67] | (b[68] & 0x0F) << 8 : 0;
    bool is_fine = width > 0 && height > 0, is_coarse = b[21] > 0 && b[22] > 0;
    state_length(in, "width_mm", "bytes 66-68", is_fine ? width : 0, "byte 21",
                 is_coarse ? b[21] : 0);
    state_length(in, "height_mm", "bytes 66-68", is_fine ? height : 0, "byte 22",
                 is_coarse ? b[22] : 0);
}

/* ---- timings -------------------------------------------------------------------------- */

/* 3.6.4, 3.10: the first detailed timing is the preferred one, which before 1.3 had to be said. */
static bool preferred(sw_edid_timing *out, const reading *in) {
    bool is_first = in->revision >= 3 || (in->block[24] & 2) != 0;
    return is_first && sw_edid_detailed(out, (sw_edid_bytes){in->block + 54, 18});
}

static void state_preferred(const reading *in, const sw_edid_timing *timing) {
    sw_about about = at(in, "bytes 54-71");
    sw_state_whole(in->list, &about, "width_px", timing->width);
    sw_state_whole(in->list, &about, "height_px", timing->height);
    if (timing->milli_hz > 0)
        sw_state_milli(in->list, &about, "refresh_hz", timing->milli_hz);
}

static bool complain(const reading *in, sw_complaints *complaints, size_t block, const char *what,
                     const char *why) {
    char place[64];
    snprintf(place, sizeof place, "block %zu", block);
    sw_complain(complaints, in->file, place, why,
                "what stands in the other blocks was read; for the rest read the EDID out again",
                "%s", what);
    return false;
}

/* All extensions that the base block counts; false when one of them is missing or broken. */
static bool add_extensions(sw_edid_rates *rates, const reading *in, size_t length,
                           sw_complaints *complaints) {
    size_t told = in->block[126];
    bool whole = true;
    for (size_t i = 1; i <= told; i++) {
        const unsigned char *block = in->block + i * SW_EDID_BLOCK;
        if (length / SW_EDID_BLOCK <= i)
            return complain(in, complaints, i, "is missing",
                            "the base block counts more blocks than the file holds");
        if (!sums_to_zero(block) || !sw_edid_section_sound(block))
            whole = complain(
                in, complaints, i, "has a wrong checksum",
                "the bytes of a block, and of a DisplayID section, must sum to 0 modulo 256, "
                "so some byte was changed");
        else
            sw_edid_add_extension(rates, block, told);
    }
    rates->unread |= length >= (told + 2) * SW_EDID_BLOCK;
    return whole;
}

static bool state_timings(const reading *in, size_t length, sw_complaints *complaints) {
    sw_edid_timing timing = {0};
    sw_edid_rates rates = {0};
    bool has_timing = preferred(&timing, in);
    if (has_timing)
        state_preferred(in, &timing);
    rates.width = timing.width;
    rates.height = timing.height;
    sw_edid_add_base(&rates, in->block, in->revision);
    bool whole = add_extensions(&rates, in, length, complaints);
    sw_about about = at(in, "all timings");
    if (has_timing && whole && !rates.unread && sw_edid_top(&rates) > 0)
        sw_state_milli(in->list, &about, "top_refresh_hz", sw_edid_top(&rates));
    state_size(in, has_timing);
    return whole;
}

/* ---- the whole ------------------------------------------------------------------------ */

static sw_status refuse(sw_complaints *complaints, const char *file, const char *place,
                        const char *what, const char *why) {
    sw_complain(complaints, file, place, why,
                "read it out again, with the display switched on and plugged in directly", "%s",
                what);
    return SW_BAD_DATA;
}

sw_status sw_edid_read(sw_statements *list, const char *file, const char *bytes, size_t length,
                       sw_complaints *complaints) {
    const unsigned char *block = (const unsigned char *)bytes;
    if (!sw_edid_is(bytes, length))
        return refuse(complaints, file, "bytes 0-7", "is no EDID",
                      "one begins with 00h, six times FFh, 00h");
    if (length < SW_EDID_BLOCK)
        return refuse(complaints, file, "", "ends within the base block",
                      "the base block of an EDID has 128 bytes");
    if (!sums_to_zero(block))
        return refuse(complaints, file, "block 0", "has a wrong checksum",
                      "its 128 bytes must sum to 0 modulo 256, so some byte was changed");
    if (block[18] != 1)
        return refuse(complaints, file, "byte 18", "is an EDID of another version",
                      "versions 1.0 to 1.4 are read");
    reading in = {list, file, block, block[19]};
    state_maker(&in);
    state_product(&in);
    state_year(&in);
    state_name(&in);
    state_input(&in);
    bool whole = state_timings(&in, length, complaints);
    hide_serial(&in);
    return list->failed ? SW_NO_MEMORY : whole ? SW_OK : SW_BAD_DATA;
}
