/* Timings of a display: the detailed, the standard's own, and those of CTA-861 and DisplayID. */
#include "intake/edid_rates.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* ---- one timing ----------------------------------------------------------------------- */

static int64_t milli_hz(int64_t clock_hz, int64_t across, int64_t down) {
    return across == 0 || down == 0 ? 0 : sw_divide(clock_hz * 1000, across * down, SW_HALF_UP);
}

bool sw_edid_detailed(sw_edid_timing *out, sw_edid_bytes in) {
    const unsigned char *b = in.from;
    if (in.length < 18 || (b[0] == 0 && b[1] == 0))
        return false;
    int64_t clock_hz = (b[0] | b[1] << 8) * INT64_C(10000);
    unsigned across = b[2] | (b[4] & 0xF0u) << 4, across_blank = b[3] | (b[4] & 0x0Fu) << 8;
    unsigned down = b[5] | (b[7] & 0xF0u) << 4, down_blank = b[6] | (b[7] & 0x0Fu) << 8;
    bool is_interlaced = (b[17] & 0x80) != 0;
    if (across == 0 || down == 0)
        return false;
    out->width = across;
    out->height = is_interlaced ? 2 * down : down;
    out->milli_hz =
        is_interlaced ? 0 : milli_hz(clock_hz, across + across_blank, down + down_blank);
    return true;
}

void sw_edid_add_timing(sw_edid_rates *rates, const sw_edid_timing *timing) {
    if (timing->width == rates->width && timing->height == rates->height &&
        timing->milli_hz > rates->exact)
        rates->exact = timing->milli_hz;
}

static void add(sw_edid_rates *rates, unsigned width, unsigned height, int64_t milli) {
    sw_edid_add_timing(rates, &(sw_edid_timing){width, height, milli});
}

static void add_nominal(sw_edid_rates *rates, unsigned width, unsigned height, unsigned hz) {
    if (width == rates->width && height == rates->height && hz * INT64_C(1000) > rates->nominal)
        rates->nominal = hz * INT64_C(1000);
}

int64_t sw_edid_top(const sw_edid_rates *rates) {
    return rates->nominal >= rates->exact + 1000 ? rates->nominal : rates->exact;
}

/* ---- the standard's own timings ------------------------------------------------------- */

typedef struct bit_timing {
    unsigned byte, bit, width, height;
    int64_t milli_hz;
} bit_timing;

/* E-EDID 3.8 (established timings I and II: bytes of the block) and 3.10.3.9 (III: bytes of the
 * descriptor), with the rates of VESA DMT as edid-decode prints them; 0: interlaced. */
static const bit_timing established[] = {
    {35, 7, 720, 400, 70082},   {35, 6, 720, 400, 87850},  {35, 5, 640, 480, 59940},
    {35, 4, 640, 480, 66667},   {35, 3, 640, 480, 72809},  {35, 2, 640, 480, 75000},
    {35, 1, 800, 600, 56250},   {35, 0, 800, 600, 60317},  {36, 7, 800, 600, 72188},
    {36, 6, 800, 600, 75000},   {36, 5, 832, 624, 74551},  {36, 4, 1024, 768, 0},
    {36, 3, 1024, 768, 60004},  {36, 2, 1024, 768, 70069}, {36, 1, 1024, 768, 75029},
    {36, 0, 1280, 1024, 75025}, {37, 7, 1152, 870, 75062},
};
static const bit_timing established_three[] = {
    {6, 7, 640, 350, 85080},    {6, 6, 640, 400, 85080},    {6, 5, 720, 400, 85039},
    {6, 4, 640, 480, 85008},    {6, 3, 848, 480, 60000},    {6, 2, 800, 600, 85061},
    {6, 1, 1024, 768, 84997},   {6, 0, 1152, 864, 75000},   {7, 7, 1280, 768, 59995},
    {7, 6, 1280, 768, 59870},   {7, 5, 1280, 768, 74893},   {7, 4, 1280, 768, 84837},
    {7, 3, 1280, 960, 60000},   {7, 2, 1280, 960, 85002},   {7, 1, 1280, 1024, 60020},
    {7, 0, 1280, 1024, 85024},  {8, 7, 1360, 768, 60015},   {8, 6, 1440, 900, 59901},
    {8, 5, 1440, 900, 59887},   {8, 4, 1440, 900, 74984},   {8, 3, 1440, 900, 84842},
    {8, 2, 1400, 1050, 59948},  {8, 1, 1400, 1050, 59978},  {8, 0, 1400, 1050, 74867},
    {9, 7, 1400, 1050, 84960},  {9, 6, 1680, 1050, 59883},  {9, 5, 1680, 1050, 59954},
    {9, 4, 1680, 1050, 74892},  {9, 3, 1680, 1050, 84941},  {9, 2, 1600, 1200, 60000},
    {9, 1, 1600, 1200, 65000},  {9, 0, 1600, 1200, 70000},  {10, 7, 1600, 1200, 75000},
    {10, 6, 1600, 1200, 85000}, {10, 5, 1792, 1344, 60000}, {10, 4, 1792, 1344, 74997},
    {10, 3, 1856, 1392, 59995}, {10, 2, 1856, 1392, 75000}, {10, 1, 1920, 1200, 59950},
    {10, 0, 1920, 1200, 59885}, {11, 7, 1920, 1200, 74930}, {11, 6, 1920, 1200, 84932},
    {11, 5, 1920, 1440, 60000}, {11, 4, 1920, 1440, 75000},
};

static void add_bits(sw_edid_rates *rates, const unsigned char *from, const bit_timing *all,
                     size_t count) {
    for (size_t i = 0; i < count; i++)
        if (from[all[i].byte] >> all[i].bit & 1)
            add(rates, all[i].width, all[i].height, all[i].milli_hz);
}

typedef struct two_bytes {
    unsigned first, second, width, height;
    int64_t milli_hz;
} two_bytes;

/* The standard timings that VESA DMT tells in full, as edid-decode prints them. */
static const two_bytes monitor_timings[] = {
    {0x31, 0x19, 640, 400, 85080},   {0x31, 0x40, 640, 480, 59940},
    {0x31, 0x4c, 640, 480, 72809},   {0x31, 0x4f, 640, 480, 75000},
    {0x31, 0x59, 640, 480, 85008},   {0x45, 0x40, 800, 600, 60317},
    {0x45, 0x4c, 800, 600, 72188},   {0x45, 0x4f, 800, 600, 75000},
    {0x45, 0x59, 800, 600, 85061},   {0x61, 0x40, 1024, 768, 60004},
    {0x61, 0x4c, 1024, 768, 70069},  {0x61, 0x4f, 1024, 768, 75029},
    {0x61, 0x59, 1024, 768, 84997},  {0x71, 0x4f, 1152, 864, 75000},
    {0x81, 0xc0, 1280, 720, 60000},  {0x81, 0x00, 1280, 800, 59810},
    {0x81, 0x0f, 1280, 800, 74934},  {0x81, 0x19, 1280, 800, 84880},
    {0x81, 0x40, 1280, 960, 60000},  {0x81, 0x59, 1280, 960, 85002},
    {0x81, 0x80, 1280, 1024, 60020}, {0x81, 0x8f, 1280, 1024, 75025},
    {0x81, 0x99, 1280, 1024, 85024}, {0x90, 0x40, 1400, 1050, 59978},
    {0x90, 0x4f, 1400, 1050, 74867}, {0x90, 0x59, 1400, 1050, 84960},
    {0x95, 0x00, 1440, 900, 59887},  {0x95, 0x0f, 1440, 900, 74984},
    {0x95, 0x19, 1440, 900, 84842},  {0xa9, 0xc0, 1600, 900, 60000},
    {0xa9, 0x40, 1600, 1200, 60000}, {0xa9, 0x45, 1600, 1200, 65000},
    {0xa9, 0x4a, 1600, 1200, 70000}, {0xa9, 0x4f, 1600, 1200, 75000},
    {0xa9, 0x59, 1600, 1200, 85000}, {0xb3, 0x00, 1680, 1050, 59954},
    {0xb3, 0x0f, 1680, 1050, 74892}, {0xb3, 0x19, 1680, 1050, 84941},
    {0xc1, 0x40, 1792, 1344, 60000}, {0xc1, 0x4f, 1792, 1344, 74997},
    {0xc9, 0x40, 1856, 1392, 59995}, {0xc9, 0x4f, 1856, 1392, 75000},
    {0xd1, 0xc0, 1920, 1080, 60000}, {0xd1, 0x00, 1920, 1200, 59885},
    {0xd1, 0x0f, 1920, 1200, 74930}, {0xd1, 0x19, 1920, 1200, 84932},
    {0xd1, 0x40, 1920, 1440, 60000}, {0xd1, 0x4f, 1920, 1440, 75000},
    {0xe1, 0xc0, 2048, 1152, 60000},
};

/* E-EDID 3.9: a width, a shape and a rate in whole Hz. */
static void add_standard(sw_edid_rates *rates, const unsigned char *b, int revision) {
    static const unsigned shapes[][2] = {{16, 10}, {4, 3}, {5, 4}, {16, 9}};
    if (b[0] == 0 || (b[0] == 1 && b[1] == 1))
        return; /* unused */
    for (size_t i = 0; i < COUNT(monitor_timings); i++) {
        const two_bytes *at = &monitor_timings[i];
        if (at->first == b[0] && at->second == b[1]) {
            add(rates, at->width, at->height, at->milli_hz);
            return;
        }
    }
    unsigned width = (b[0] + 31u) * 8, shape = b[1] >> 6;
    unsigned height =
        shape == 0 && revision < 3 ? width : width * shapes[shape][1] / shapes[shape][0];
    add_nominal(rates, width, height, (b[1] & 63u) + 60);
}

/* E-EDID 3.10.3.8: lines, shape and rates of a CVT timing in three bytes; unused ones have no rate.
 */
static void add_three_bytes(sw_edid_rates *rates, const unsigned char *b) {
    static const unsigned shapes[][2] = {{4, 3}, {16, 9}, {16, 10}, {15, 9}};
    static const unsigned rates_hz[] = {60, 85, 75, 60, 50}; /* bits 0 to 4 */
    unsigned lines = ((b[0] | (b[1] & 0xF0u) << 4) + 1) * 2, shape = b[1] >> 2 & 3;
    unsigned width = lines * shapes[shape][0] / shapes[shape][1] / 8 * 8;
    for (size_t bit = 0; bit < COUNT(rates_hz); bit++)
        if (b[2] >> bit & 1)
            add_nominal(rates, width, lines, rates_hz[bit]);
}

static void add_descriptor(sw_edid_rates *rates, const unsigned char *b, int revision) {
    sw_edid_timing timing;
    if (sw_edid_detailed(&timing, (sw_edid_bytes){b, 18})) {
        sw_edid_add_timing(rates, &timing);
        return;
    }
    if (b[0] != 0 || b[1] != 0)
        return;
    if (b[3] == 0xF7)
        add_bits(rates, b, established_three, COUNT(established_three));
    for (size_t i = 0; b[3] == 0xF8 && i < 4; i++)
        add_three_bytes(rates, b + 6 + 3 * i);
    for (size_t i = 0; b[3] == 0xFA && i < 6; i++)
        add_standard(rates, b + 5 + 2 * i, revision);
}

void sw_edid_add_base(sw_edid_rates *rates, const unsigned char *block, int revision) {
    add_bits(rates, block, established, COUNT(established));
    for (size_t at = 38; at < 54; at += 2)
        add_standard(rates, block + at, revision);
    for (size_t at = 54; at < 126; at += 18)
        add_descriptor(rates, block + at, revision);
}

/* ---- CTA-861
 * ------------------------------------------------------------------------------------------------
 */

typedef struct coded {
    unsigned vic, width, height;
    int64_t milli_hz;
} coded;

/* CTA-861-H table 1, the timings that are not interlaced, as edid-decode prints them. Those of
 * 60 Hz may run at 59.94 as well. */
static const coded vics[] = {
    {1, 640, 480, 59940},       {2, 720, 480, 59940},       {3, 720, 480, 59940},
    {4, 1280, 720, 60000},      {8, 1440, 240, 60054},      {9, 1440, 240, 60054},
    {12, 2880, 240, 60054},     {13, 2880, 240, 60054},     {14, 1440, 480, 59940},
    {15, 1440, 480, 59940},     {16, 1920, 1080, 60000},    {17, 720, 576, 50000},
    {18, 720, 576, 50000},      {19, 1280, 720, 50000},     {23, 1440, 288, 50080},
    {24, 1440, 288, 50080},     {27, 2880, 288, 50080},     {28, 2880, 288, 50080},
    {29, 1440, 576, 50000},     {30, 1440, 576, 50000},     {31, 1920, 1080, 50000},
    {32, 1920, 1080, 24000},    {33, 1920, 1080, 25000},    {34, 1920, 1080, 30000},
    {35, 2880, 480, 59940},     {36, 2880, 480, 59940},     {37, 2880, 576, 50000},
    {38, 2880, 576, 50000},     {41, 1280, 720, 100000},    {42, 720, 576, 100000},
    {43, 720, 576, 100000},     {47, 1280, 720, 120000},    {48, 720, 480, 119880},
    {49, 720, 480, 119880},     {52, 720, 576, 200000},     {53, 720, 576, 200000},
    {56, 720, 480, 239760},     {57, 720, 480, 239760},     {60, 1280, 720, 24000},
    {61, 1280, 720, 25000},     {62, 1280, 720, 30000},     {63, 1920, 1080, 120000},
    {64, 1920, 1080, 100000},   {65, 1280, 720, 24000},     {66, 1280, 720, 25000},
    {67, 1280, 720, 30000},     {68, 1280, 720, 50000},     {69, 1280, 720, 60000},
    {70, 1280, 720, 100000},    {71, 1280, 720, 120000},    {72, 1920, 1080, 24000},
    {73, 1920, 1080, 25000},    {74, 1920, 1080, 30000},    {75, 1920, 1080, 50000},
    {76, 1920, 1080, 60000},    {77, 1920, 1080, 100000},   {78, 1920, 1080, 120000},
    {79, 1680, 720, 24000},     {80, 1680, 720, 25000},     {81, 1680, 720, 30000},
    {82, 1680, 720, 50000},     {83, 1680, 720, 60000},     {84, 1680, 720, 100000},
    {85, 1680, 720, 120000},    {86, 2560, 1080, 24000},    {87, 2560, 1080, 25000},
    {88, 2560, 1080, 30000},    {89, 2560, 1080, 50000},    {90, 2560, 1080, 60000},
    {91, 2560, 1080, 100000},   {92, 2560, 1080, 120000},   {93, 3840, 2160, 24000},
    {94, 3840, 2160, 25000},    {95, 3840, 2160, 30000},    {96, 3840, 2160, 50000},
    {97, 3840, 2160, 60000},    {98, 4096, 2160, 24000},    {99, 4096, 2160, 25000},
    {100, 4096, 2160, 30000},   {101, 4096, 2160, 50000},   {102, 4096, 2160, 60000},
    {103, 3840, 2160, 24000},   {104, 3840, 2160, 25000},   {105, 3840, 2160, 30000},
    {106, 3840, 2160, 50000},   {107, 3840, 2160, 60000},   {108, 1280, 720, 48000},
    {109, 1280, 720, 48000},    {110, 1680, 720, 48000},    {111, 1920, 1080, 48000},
    {112, 1920, 1080, 48000},   {113, 2560, 1080, 48000},   {114, 3840, 2160, 48000},
    {115, 4096, 2160, 48000},   {116, 3840, 2160, 48000},   {117, 3840, 2160, 100000},
    {118, 3840, 2160, 120000},  {119, 3840, 2160, 100000},  {120, 3840, 2160, 120000},
    {121, 5120, 2160, 24000},   {122, 5120, 2160, 25000},   {123, 5120, 2160, 30000},
    {124, 5120, 2160, 48000},   {125, 5120, 2160, 50000},   {126, 5120, 2160, 60000},
    {127, 5120, 2160, 100000},  {193, 5120, 2160, 120000},  {194, 7680, 4320, 24000},
    {195, 7680, 4320, 25000},   {196, 7680, 4320, 30000},   {197, 7680, 4320, 48000},
    {198, 7680, 4320, 50000},   {199, 7680, 4320, 60000},   {200, 7680, 4320, 100000},
    {201, 7680, 4320, 120000},  {202, 7680, 4320, 24000},   {203, 7680, 4320, 25000},
    {204, 7680, 4320, 30000},   {205, 7680, 4320, 48000},   {206, 7680, 4320, 50000},
    {207, 7680, 4320, 60000},   {208, 7680, 4320, 100000},  {209, 7680, 4320, 120000},
    {210, 10240, 4320, 24000},  {211, 10240, 4320, 25000},  {212, 10240, 4320, 30000},
    {213, 10240, 4320, 48000},  {214, 10240, 4320, 50000},  {215, 10240, 4320, 60000},
    {216, 10240, 4320, 100000}, {217, 10240, 4320, 120000}, {218, 4096, 2160, 100000},
    {219, 4096, 2160, 120000},
};

/* 7.5.1: bit 7 marks the first 64 codes as native. */
void sw_edid_add_vic(sw_edid_rates *rates, unsigned descriptor) {
    unsigned vic = descriptor >= 129 && descriptor <= 192 ? descriptor - 128 : descriptor;
    for (size_t i = 0; i < COUNT(vics); i++)
        if (vics[i].vic == vic)
            add(rates, vics[i].width, vics[i].height, vics[i].milli_hz);
}
