/* The blocks behind the base block: CTA-861 and DisplayID. */
#include "intake/edid_rates.h"

/* ---- DisplayID's detailed timings ----------------------------------------------------- */

/* DisplayID 1.3, 4.4.1 (type I: clock in 10 kHz) and 2.0, 4.3.1 (type VII: in kHz), from memory: 20
 * bytes, every number less one. */
static void add_long(sw_edid_rates *rates, const unsigned char *b, int64_t clock_unit_hz) {
    int64_t clock_hz = (b[0] + ((int64_t)b[1] << 8) + ((int64_t)b[2] << 16) + 1) * clock_unit_hz;
    unsigned across = (b[4] | (unsigned)b[5] << 8) + 1,
             across_blank = (b[6] | (unsigned)b[7] << 8) + 1;
    unsigned down = (b[12] | (unsigned)b[13] << 8) + 1,
             down_blank = (b[14] | (unsigned)b[15] << 8) + 1;
    bool is_interlaced = (b[3] & 0x10) != 0;
    int64_t total = (int64_t)(across + across_blank) * (down + down_blank);
    sw_edid_timing timing = {across, down, 0};
    if (!is_interlaced)
        timing.milli_hz = sw_divide(clock_hz * 1000, total, SW_HALF_UP);
    sw_edid_add_timing(rates, &timing);
}

/* ---- CTA-861
 * -----------------------------------------------------------------------------------------------
 */

/* 7.5: data blocks with an extended tag. `in` begins behind that tag. */
static void add_extended(sw_edid_rates *rates, unsigned tag, sw_edid_bytes in, size_t extensions) {
    switch (tag) {
    case 0x0E: /* timings for 4:2:0 alone */
        for (size_t i = 0; i < in.length; i++)
            sw_edid_add_vic(rates, in.from[i]);
        break;
    case 0x22: /* DisplayID type VII */
        if (in.length >= 21)
            add_long(rates, in.from + 1, 1000);
        break;
    case 0x23: /* DisplayID types VIII and X */
    case 0x2A:
        rates->unread = true;
        break;
    case 0x78: /* more blocks than the base block tells */
        rates->unread |= in.length >= 1 && in.from[0] > extensions;
        break;
    default:
        break;
    }
}

static void add_collection(sw_edid_rates *rates, sw_edid_bytes in, size_t extensions) {
    for (size_t at = 0; at < in.length;) {
        unsigned tag = in.from[at] >> 5;
        size_t length = in.from[at] & 31u;
        const unsigned char *from = in.from + at + 1;
        if (length > in.length - at - 1) {
            rates->unread = true;
            return;
        }
        for (size_t i = 0; tag == 2 && i < length; i++)
            sw_edid_add_vic(rates, from[i]);
        if (tag == 7 && length >= 1)
            add_extended(rates, from[0], (sw_edid_bytes){from + 1, length - 1}, extensions);
        at += 1 + length;
    }
}

/* 7.3: data blocks from byte 4 to where byte 2 says that detailed timings begin. */
static void add_cta(sw_edid_rates *rates, const unsigned char *block, size_t extensions) {
    size_t detailed = block[2], last = SW_EDID_BLOCK - 1;
    if (detailed == 0)
        return; /* neither */
    if (detailed < 4 || detailed > last) {
        rates->unread = true;
        return;
    }
    if (block[1] >= 3)
        add_collection(rates, (sw_edid_bytes){block + 4, detailed - 4}, extensions);
    sw_edid_timing timing;
    for (size_t at = detailed; at + 18 <= last; at += 18)
        if (sw_edid_detailed(&timing, (sw_edid_bytes){block + at, 18}))
            sw_edid_add_timing(rates, &timing);
}

/* ---- DisplayID
 * -----------------------------------------------------------------------------------------------
 */

/* Data blocks of DisplayID 1.3 and 2.0 that tell timings in other forms: types II to VI, VIII to X,
 * and those by the codes of other standards; from memory. */
static bool tells_otherwise(unsigned tag) {
    return (tag >= 0x04 && tag <= 0x08) || tag == 0x11 || tag == 0x13 || tag == 0x23 ||
           tag == 0x24 || tag == 0x2A;
}

static void add_section_block(sw_edid_rates *rates, unsigned tag, unsigned revision,
                              sw_edid_bytes in, size_t extensions) {
    size_t step = tag == 0x22 ? 20 + (revision >> 4 & 7) : 20;
    for (size_t at = 0; (tag == 0x03 || tag == 0x22) && at + step <= in.length; at += step)
        add_long(rates, in.from + at, tag == 0x03 ? 10000 : 1000);
    if (tag == 0x81)
        add_collection(rates, in, extensions);
    rates->unread |= tells_otherwise(tag);
}

/* A section has a checksum of its own, over all but the block's tag. */
bool sw_edid_section_sound(const unsigned char *block) {
    size_t length = block[2], from = 5, last = SW_EDID_BLOCK - 2;
    unsigned sum = 0;
    if (block[0] != 0x70)
        return true;
    for (size_t i = 1; i <= from + length && length <= last - from; i++)
        sum += block[i];
    return length <= last - from && sum % 256 == 0;
}

/* The section is sound. */
static void add_displayid(sw_edid_rates *rates, const unsigned char *block, size_t extensions) {
    size_t length = block[2], from = 5;
    for (size_t at = from; at + 3 <= from + length;) {
        size_t payload = block[at + 2];
        if (payload > from + length - at - 3) {
            rates->unread = true;
            return;
        }
        add_section_block(rates, block[at], block[at + 1], (sw_edid_bytes){block + at + 3, payload},
                          extensions);
        at += 3 + payload;
    }
}

void sw_edid_add_extension(sw_edid_rates *rates, const unsigned char *block, size_t extensions) {
    switch (block[0]) {
    case 0x02:
        add_cta(rates, block, extensions);
        break;
    case 0x70:
        add_displayid(rates, block, extensions);
        break;
    case 0xF0: /* a map of blocks */
    case 0x40: /* what the panel is made of */
    case 0x50: /* names in other languages */
        break;
    default:
        rates->unread = true;
    }
}
