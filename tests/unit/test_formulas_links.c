/* Links and displays: what is left of a line after its coding, timings, slots. Each value
 * names where it is published; rates were computed apart from this program from the coding
 * that the named paper lays down. tests/links asks two other programs for more timings. */
#include "near.h"

#include "swapworth.h"

/* ---- links ------------------------------------------------------------------------------ */

/* 8 bytes a transfer and channel: JESD79-4 (DDR4) and JESD79-5 (DDR5, two halves of 4 bytes
 * to a module), from memory. */
Test(links, memory) {
    static const double rows[][3] = {/* MT/s, one channel, two */
                                     {2400, 19.2, 38.4},
                                     {3200, 25.6, 51.2},
                                     {4800, 38.4, 76.8},
                                     {5600, 44.8, 89.6},
                                     {6400, 51.2, 102.4}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        NEAR(sw_memory_gb_s(rows[i][0], 1), rows[i][1], 1e-9, "%g MT/s", rows[i][0]);
        NEAR(sw_memory_gb_s(rows[i][0], 2), rows[i][2], 1e-9, "%g MT/s, two", rows[i][0]);
    }
    /* 2133 stands for 2133.33: JEDEC prints 17066 or 17064 MB/s. */
    NEAR(sw_memory_gb_s(2133.333333, 1), 17.0667, 0.0001, "2133.33 MT/s");
    NEAR(sw_memory_gb_s(2133, 1), 17.0667, 17.0667 * 0.0002, "2133 MT/s");
}

/* PCI-SIG's base specifications: 2.5 and 5 GT/s with 8b/10b, 8 to 32 with 128b/130b (both
 * read in copies of an encyclopedia and in hpc-notes, which print 4, 8 and 15.7 GB/s for 16
 * lanes), 64 with 242B/256B (read in such a copy). */
Test(links, pcie) {
    static const double rows[][3] = {/* generation, MB/s a lane, GB/s of 16 */
                                     {1, 250, 4.0},         {2, 500, 8.0},
                                     {3, 984.615, 15.754},  {4, 1969.231, 31.508},
                                     {5, 3938.462, 63.015}, {6, 7562.5, 121.0}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        NEAR(sw_pcie_gb_s(rows[i][0], 1) * 1000, rows[i][1], 0.001, "generation %g, a lane",
             rows[i][0]);
        NEAR(sw_pcie_gb_s(rows[i][0], 16), rows[i][2], 0.001, "generation %g, 16 lanes",
             rows[i][0]);
    }
    NEAR(sw_pcie_gb_s(3, 4), 3.938, 0.001, "generation 3, 4 lanes");
    NEAR(sw_pcie_gb_s(3, 16), 15.7, 0.06, "as printed");
    /* A card of generation 4 with 16 lanes in a slot of 3 with 8: the link trains to the
     * lower of both (base specification, from memory). */
    NEAR(sw_pcie_gb_s(fmin(4, 3), fmin(16, 8)), 7.877, 0.001, "generation 3, 8 lanes");
    NONE(sw_pcie_gb_s(0, 16));
    NONE(sw_pcie_gb_s(7, 16));
    NONE(sw_pcie_gb_s(3.5, 16));
    NONE(sw_pcie_gb_s(3, 0));
    NONE(sw_pcie_gb_s(NAN, 1));
}

/* 8b/10b: Serial ATA revision 3, from memory. */
Test(links, sata) {
    static const double rows[][2] = {{1.5, 150}, {3, 300}, {6, 600}};
    for (size_t i = 0; i < COUNT(rows); i++)
        EXACT(sw_sata_mb_s(rows[i][0]), rows[i][1], "%g Gb/s", rows[i][0]);
    NONE(sw_sata_mb_s(0));
}

/* USB 2.0 and 3.2; 5 Gb/s is 8b/10b, 10 and 20 Gb/s 128b/132b, from memory. */
Test(links, usb) {
    static const double rows[][2] = {{0.48, 60}, {5, 500}, {10, 1212.12}, {20, 2424.24}};
    for (size_t i = 0; i < COUNT(rows); i++)
        NEAR(sw_usb_mb_s(rows[i][0]), rows[i][1], 0.01, "%g Gb/s", rows[i][0]);
    NONE(sw_usb_mb_s(0));
    NONE(sw_usb_mb_s(-5));
}

/* ---- picture links ---------------------------------------------------------------------- */

/* HDMI 1.4 (340 MHz), 2.0 (600 MHz): 24 of 30 bits a clock; 2.1: 16b/18b of 48 Gb/s; the
 * rates from memory. */
#define HDMI_1_4 sw_tmds_gbit_s(340)
#define HDMI_2_0 sw_tmds_gbit_s(600)
#define HDMI_2_1 sw_frl_gbit_s(48)
/* Lines of DisplayPort 1.4 and 2.x, Gb/s a lane. */
#define RBR 1.62
#define HBR 2.7
#define HBR2 5.4
#define HBR3 8.1

Test(picture_links, hdmi) {
    NEAR(HDMI_1_4, 8.16, 1e-9, "340 MHz");
    NEAR(HDMI_2_0, 14.4, 1e-9, "600 MHz");
    NEAR(HDMI_2_1, 42.667, 0.001, "48 Gb/s");
    NONE(sw_tmds_gbit_s(0));
    NONE(sw_frl_gbit_s(-1));
}

/* Four lanes: 8b/10b up to 8.1 Gb/s (5.18, 8.64, 17.28 and 25.92 read in
 * thunderboltlaptop.com, multimonitorcomputer.com, somme2016.org), 128b/132b above (what is
 * usable is about 0.25 % less by the standard, from memory). */
Test(picture_links, displayport) {
    static const double rows[][2] = {{RBR, 5.184}, {HBR, 8.64},    {HBR2, 17.28}, {HBR3, 25.92},
                                     {10, 38.788}, {13.5, 52.364}, {20, 77.576}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        NEAR(sw_displayport_gbit_s(rows[i][0], 4), rows[i][1], 0.001, "%g Gb/s", rows[i][0]);
        NEAR(sw_displayport_gbit_s(rows[i][0], 2), rows[i][1] / 2, 0.001, "%g Gb/s, two lanes",
             rows[i][0]);
    }
    NONE(sw_displayport_gbit_s(0, 4));
    NONE(sw_displayport_gbit_s(HBR, 0));
}

/* ---- timings ---------------------------------------------------------------------------- */

static sw_timing timing(int width, int height, double hz, sw_blanking blanking) {
    sw_timing is = {NAN, 0, 0, NAN};
    cr_expect_eq(sw_mode_timing(&is, width, height, hz, blanking), SW_OK, "%dx%d %g Hz", width,
                 height, hz);
    return is;
}

/* VESA CVT 1.1, as computed by cvt (libxcvt 0.1.2); with reduced blanking as computed by
 * cvt -r and by edid-decode of March 2022, which agree. */
Test(timings, cvt) {
    static const struct {
        int width, height;
        double hz;
        sw_blanking blanking;
        double clock_mhz;
        int total_width, total_height;
        double refresh_hz;
    } rows[] = {
        {1920, 1080, 60, SW_CVT, 173.00, 2576, 1120, 59.96},
        {1920, 1080, 144, SW_CVT, 452.50, 2672, 1177, 143.88},
        {2560, 1440, 60, SW_CVT, 312.25, 3488, 1493, 59.96},
        {2560, 1440, 144, SW_CVT, 808.75, 3584, 1568, 143.91},
        {1920, 1080, 60, SW_CVT_REDUCED, 138.50, 2080, 1111, 59.93},
        {2560, 1440, 60, SW_CVT_REDUCED, 241.50, 2720, 1481, 59.95},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        sw_timing is = timing(rows[i].width, rows[i].height, rows[i].hz, rows[i].blanking);
        EXACT(is.clock_mhz, rows[i].clock_mhz, "clock, row %zu", i);
        cr_expect_eq(is.total_width, rows[i].total_width, "row %zu: %d", i, is.total_width);
        cr_expect_eq(is.total_height, rows[i].total_height, "row %zu: %d", i, is.total_height);
        NEAR(is.refresh_hz, rows[i].refresh_hz, 0.005, "refresh, row %zu", i);
        NEAR(is.refresh_hz, is.clock_mhz * 1e6 / is.total_width / is.total_height, 1e-9,
             "what the clock leaves, row %zu", i);
    }
    /* 241.5 MHz over 2720x1481, by the detailed timing of VESA E-EDID 3.10.2, as computed
     * by edid-decode. */
    NEAR(timing(2560, 1440, 60, SW_CVT_REDUCED).refresh_hz, 59.950550, 1e-6, "59.95 Hz");
}

/* As computed by edid-decode alone: VESA CVT 1.1 with reduced blanking at 144 Hz (cvt -r
 * knows multiples of 60 Hz only), VESA CVT 1.2 with its second version. */
Test(timings, reduced) {
    static const double rows[][5] = {/* width, height, Hz, version, MHz */
                                     {1920, 1080, 144, 1, 346.50},  {2560, 1440, 144, 1, 604.25},
                                     {3840, 2160, 144, 1, 1332.75}, {1920, 1080, 60, 2, 133.320},
                                     {1920, 1080, 144, 2, 333.216}, {2560, 1440, 60, 2, 234.590},
                                     {2560, 1440, 144, 2, 586.586}, {3840, 2160, 60, 2, 522.614},
                                     {3840, 2160, 144, 2, 1306.206}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        sw_timing is = timing((int)rows[i][0], (int)rows[i][1], rows[i][2],
                              rows[i][3] == 1 ? SW_CVT_REDUCED : SW_CVT_REDUCED_2);
        NEAR(is.clock_mhz, rows[i][4], 1e-9, "row %zu", i);
        cr_expect_eq(is.total_width, (int)rows[i][0] + (rows[i][3] == 1 ? 160 : 80), "row %zu", i);
    }
}

/* Pictures of few lines, where the least vertical blanking decides: front porch, sync by the
 * aspect, back porch. Totals as computed by cvt -r (the least back porch is 6 lines, CVT 1.1; for
 * edid-decode it is 7) and, of the second version, by edid-decode. */
Test(timings, few_lines) {
    static const int rows[][4] = {                      /* width, height, Hz, lines in all */
                                  {512, 384, 60, 397},  /* 4:3 */
                                  {640, 360, 60, 374},  /* 16:9 */
                                  {640, 400, 60, 415},  /* 16:10 */
                                  {400, 320, 60, 336},  /* 5:4 */
                                  {480, 288, 60, 304},  /* 15:9 */
                                  {640, 200, 60, 219}}; /* none of them */
    for (size_t i = 0; i < COUNT(rows); i++) {
        sw_timing is = timing(rows[i][0], rows[i][1], rows[i][2], SW_CVT_REDUCED);
        cr_expect_eq(is.total_height, rows[i][3], "%dx%d: %d", rows[i][0], rows[i][1],
                     is.total_height);
    }
    static const double second[][4] = {/* width, height, MHz, lines in all, at 24 Hz */
                                       {1920, 1080, 52.560, 1095},
                                       {640, 480, 8.553, 495},
                                       {1280, 720, 23.990, 735}};
    for (size_t i = 0; i < COUNT(second); i++) {
        sw_timing is = timing((int)second[i][0], (int)second[i][1], 24, SW_CVT_REDUCED_2);
        cr_expect_eq(is.total_height, (int)second[i][3], "row %zu: %d", i, is.total_height);
        NEAR(is.clock_mhz, second[i][2], 1e-9, "row %zu", i);
    }
}

/* Where cvt and edid-decode differ by a step or two of 0.25 MHz: 0.1 % from each. */
Test(timings, where_the_two_programs_disagree) {
    static const double rows[][5] = {/* width, height, Hz, cvt, edid-decode */
                                     {3840, 2160, 60, 533.00, 533.25},
                                     {2560, 1440, 120, 497.25, 497.75},
                                     {1920, 1080, 120, 285.25, 285.50},
                                     {3840, 2160, 120, 1097.25, 1097.75}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        double mhz = timing((int)rows[i][0], (int)rows[i][1], rows[i][2], SW_CVT_REDUCED).clock_mhz;
        NEAR(mhz, (rows[i][3] + rows[i][4]) / 2, 0.001 * rows[i][3], "row %zu", i);
        NEAR(mhz * 4, nearbyint(mhz * 4), 1e-9, "a whole step, row %zu", i);
    }
}

Test(timings, refused) {
    static const struct {
        int width, height;
        double hz;
    } rows[] = {{63, 1080, 60},    {32769, 1080, 60},  {1920, 63, 60},
                {1920, 32769, 60}, {1920, 1080, 9.99}, {1920, 1080, 1001},
                {1920, 1080, NAN}, {-1920, 1080, 60},  {1920, 0, 60}};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (int blanking = SW_CVT; blanking <= SW_CVT_REDUCED_2; blanking++) {
            sw_timing is = {.clock_mhz = 7};
            cr_expect_eq(sw_mode_timing(&is, rows[i].width, rows[i].height, rows[i].hz,
                                        (sw_blanking)blanking),
                         SW_BAD_DATA, "row %zu", i);
            cr_expect_eq(is.clock_mhz, 7, "row %zu: a failed call leaves the result alone", i);
        }
    sw_timing is;
    cr_expect_eq(sw_mode_timing(&is, 64, 64, 10, SW_CVT), SW_OK);
    cr_expect_eq(sw_mode_timing(&is, 32768, 32768, 10, SW_CVT_REDUCED_2), SW_OK);
}

/* Which link carries which picture, 8 or 10 bits a colour: clock times bits against the
 * payloads above; computed apart from this program. The clock of 594 MHz is that of CTA-861
 * for 3840x2160 at 60 Hz, from memory. */
Test(picture_links, what_they_carry) {
    double hbr = sw_displayport_gbit_s(HBR, 4), hbr2 = sw_displayport_gbit_s(HBR2, 4);
    double hbr3 = sw_displayport_gbit_s(HBR3, 4), uhbr10 = sw_displayport_gbit_s(10, 4);
    double rbr = sw_displayport_gbit_s(RBR, 4);
    struct {
        const char *what;
        double clock_mhz, bits, gbit_s, link_gbit_s;
        bool carried;
    } rows[] = {
        {"1080p60 by RBR", 138.50, 24, 3.324, rbr, true},
        {"1080p60 by HDMI 1.4", 138.50, 24, 3.324, HDMI_1_4, true},
        {"1080p144 by HDMI 1.4", 346.50, 24, 8.316, HDMI_1_4, false},
        {"1080p144 by HBR", 346.50, 24, 8.316, hbr, true},
        {"1080p144, second version, by HDMI 1.4", 333.216, 24, 7.997, HDMI_1_4, true},
        {"1440p60 by HDMI 1.4", 241.50, 24, 5.796, HDMI_1_4, true},
        {"1440p144 by HDMI 2.0", 604.25, 24, 14.502, HDMI_2_0, false},
        {"1440p144 by HBR2", 604.25, 24, 14.502, hbr2, true},
        {"1440p144, second version, by HDMI 2.0", 586.586, 24, 14.078, HDMI_2_0, true},
        {"2160p60 by HDMI 2.0", 533.25, 24, 12.798, HDMI_2_0, true},
        {"2160p60 by HBR", 533.25, 24, 12.798, hbr, false},
        {"2160p60 by HBR2", 533.25, 24, 12.798, hbr2, true},
        {"2160p60, CTA-861, by HDMI 2.0", 594, 24, 14.256, HDMI_2_0, true},
        {"2160p60, CTA-861, 10 bits, by HDMI 2.0", 594, 30, 17.82, HDMI_2_0, false},
        {"2160p60, CTA-861, 10 bits, by HBR2", 594, 30, 17.82, hbr2, false},
        {"2160p60, CTA-861, 10 bits, by HBR3", 594, 30, 17.82, hbr3, true},
        {"2160p120 by HBR3", 1097.75, 24, 26.346, hbr3, false},
        {"2160p120 by HDMI 2.1", 1097.75, 24, 26.346, HDMI_2_1, true},
        {"2160p144, second version, by HBR3", 1306.206, 24, 31.349, hbr3, false},
        {"2160p144, second version, by UHBR10", 1306.206, 24, 31.349, uhbr10, true},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        double needed = sw_mode_gbit_s(rows[i].clock_mhz, rows[i].bits);
        NEAR(needed, rows[i].gbit_s, 0.0005, "%s", rows[i].what);
        cr_expect_eq(needed <= rows[i].link_gbit_s, rows[i].carried, "%s: %g against %g",
                     rows[i].what, needed, rows[i].link_gbit_s);
    }
    NONE(sw_mode_gbit_s(0, 24));
    NONE(sw_mode_gbit_s(100, 0));
}

/* The same from width, height and refresh; 0.1 % where the two programs disagree. */
Test(picture_links, picture) {
    static const double rows[][4] = {{1920, 1080, 60, 3.324},  {1920, 1080, 144, 8.316},
                                     {2560, 1440, 60, 5.796},  {2560, 1440, 144, 14.502},
                                     {3840, 2160, 60, 12.798}, {3840, 2160, 120, 26.346}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        bool disagree = rows[i][0] == 3840;
        NEAR(sw_picture_gbit_s(rows[i][0], rows[i][1], rows[i][2]), rows[i][3],
             disagree ? 0.001 * rows[i][3] : 0.0005, "row %zu", i);
    }
    cr_expect_gt(sw_picture_gbit_s(64, 64, 60), 0, "the smallest");
    NONE(sw_picture_gbit_s(0, 1080, 60));
    NONE(sw_picture_gbit_s(63, 64, 60));
    NONE(sw_picture_gbit_s(1920, NAN, 60));
    NONE(sw_picture_gbit_s(1e12, 1080, 60));
    NONE(sw_picture_gbit_s(1920, 1080, 0));
}

/* ---- displays and slots ------------------------------------------------------------------ */

/* hypot(width, height) over the diagonal, arithmetic. */
Test(displays, pixels_per_inch) {
    static const double rows[][4] = {{1920, 1080, 24, 91.788},  {1920, 1080, 27, 81.589},
                                     {2560, 1440, 27, 108.786}, {2560, 1440, 32, 91.788},
                                     {3840, 2160, 27, 163.178}, {3840, 2160, 32, 137.682},
                                     {3440, 1440, 34, 109.683}};
    for (size_t i = 0; i < COUNT(rows); i++)
        NEAR(sw_pixels_per_inch(rows[i][0], rows[i][1], rows[i][2]), rows[i][3], 0.001, "row %zu",
             i);
    NONE(sw_pixels_per_inch(1920, 1080, 0));
    NONE(sw_pixels_per_inch(0, 1080, 24));
    NONE(sw_pixels_per_inch(1920, -1, 24));
}

/* 1000 over the rate, arithmetic. */
Test(displays, frame_time) {
    static const double rows[][2] = {{30, 33.3333}, {60, 16.6667}, {75, 13.3333}, {120, 8.3333},
                                     {144, 6.9444}, {165, 6.0606}, {240, 4.1667}};
    for (size_t i = 0; i < COUNT(rows); i++)
        NEAR(sw_frame_ms(rows[i][0]), rows[i][1], 1e-4, "%g Hz", rows[i][0]);
    NONE(sw_frame_ms(0));
    NONE(sw_frame_ms(-60));
}

/* Slots lie 0.8 in = 20.32 mm apart: PCI-SIG and the ATX papers, from memory. */
Test(slots, covered) {
    static const double rows[][2] = {{40, 2},    {41, 3},    {61, 4},    {20, 1}, {20.32, 1},
                                     {20.33, 2}, {40.64, 2}, {60.96, 3}, {1, 1}};
    for (size_t i = 0; i < COUNT(rows); i++)
        EXACT(sw_slots_covered(rows[i][0]), rows[i][1], "%g mm", rows[i][0]);
    NONE(sw_slots_covered(0));
    NONE(sw_slots_covered(-20));
}
