/* Formulas of links and displays: what is left of a line's rate after its coding, and
 * the timing of a picture (VESA CVT 1.1 and 1.2). */
#include "swapworth.h"

#include <math.h>

double sw_memory_gb_s(double mt_s, double channels) { return mt_s * 8 * channels / 1000; }

/* GT/s and coding of PCI-SIG's base specifications: 8b/10b, 128b/130b, 242B/256B. */
double sw_pcie_gb_s(double generation, double lanes) {
    static const double line[] = {2.5, 5, 8, 16, 32, 64};
    if (!(lanes > 0) || !(generation >= 1) || generation > 6 || generation != floor(generation))
        return NAN;
    double coding = generation <= 2 ? 8.0 / 10 : generation <= 5 ? 128.0 / 130 : 242.0 / 256;
    return line[(int)generation - 1] * coding / 8 * lanes;
}

double sw_sata_mb_s(double line_gbit_s) {
    return line_gbit_s > 0 ? line_gbit_s * 1000 * 8 / 10 / 8 : NAN;
}

/* USB 2.0 without coding; 5 Gb/s 8b/10b; 10 and 20 Gb/s 128b/132b. */
double sw_usb_mb_s(double line_gbit_s) {
    if (!(line_gbit_s > 0))
        return NAN;
    double coding = line_gbit_s < 1 ? 1 : line_gbit_s < 10 ? 8.0 / 10 : 128.0 / 132;
    return line_gbit_s * 1000 * coding / 8;
}

double sw_tmds_gbit_s(double clock_mhz) { return clock_mhz > 0 ? clock_mhz * 24 / 1000 : NAN; }

double sw_frl_gbit_s(double line_gbit_s) { return line_gbit_s > 0 ? line_gbit_s * 16 / 18 : NAN; }

double sw_displayport_gbit_s(double lane_gbit_s, double lanes) {
    if (!(lane_gbit_s > 0) || !(lanes > 0))
        return NAN;
    return lane_gbit_s * lanes * (lane_gbit_s < 10 ? 8.0 / 10 : 128.0 / 132);
}

double sw_pixels_per_inch(double width_px, double height_px, double diagonal_in) {
    return width_px > 0 && height_px > 0 && diagonal_in > 0
               ? hypot(width_px, height_px) / diagonal_in
               : NAN;
}

double sw_frame_ms(double rate_hz) { return rate_hz > 0 ? 1000 / rate_hz : NAN; }

double sw_slots_covered(double thickness_mm) {
    return thickness_mm > 0 ? ceil(thickness_mm / 20.32) : NAN;
}

/* ---- timing ------------------------------------------------------------------------ */

#define CELL_PX 8
#define FRONT_PORCH_LINES 3
#define BACK_PORCH_LEAST 6
#define STEP_MHZ 0.25

/* Lines of the vertical sync: they tell the aspect (CVT 1.1, table 3-2). */
static int sync_lines(int width, int height) {
    if (height % 3 == 0 && height * 4 / 3 == width)
        return 4;
    if (height % 9 == 0 && height * 16 / 9 == width)
        return 5;
    if (height % 10 == 0 && height * 16 / 10 == width)
        return 6;
    if (height % 4 == 0 && height * 5 / 4 == width)
        return 7;
    if (height % 9 == 0 && height * 15 / 9 == width)
        return 7;
    return 10;
}

static double clock_down(double mhz, double step) { return floor(mhz / step + 1e-9) * step; }

static void time_reduced(sw_timing *out, int width, int height, double hz, bool second) {
    double blank_us = 460;
    int sync = second ? 8 : sync_lines(width, height);
    int front = second ? 1 : FRONT_PORCH_LINES;
    double line_us = (1e6 / hz - blank_us) / height;
    int lines = (int)floor(blank_us / line_us) + 1;
    int least = front + sync + BACK_PORCH_LEAST;
    lines = lines < least ? least : lines;
    out->total_width = width + (second ? 80 : 160);
    out->total_height = height + lines;
    double mhz = hz * out->total_width * out->total_height / 1e6;
    out->clock_mhz = clock_down(mhz, second ? 0.001 : STEP_MHZ);
}

static void time_full(sw_timing *out, int width, int height, double hz) {
    double line_us = (1e6 / hz - 550) / (height + FRONT_PORCH_LINES);
    int sync = sync_lines(width, height);
    int sync_back = (int)floor(550 / line_us) + 1;
    int least = sync + BACK_PORCH_LEAST;
    sync_back = sync_back < least ? least : sync_back;
    /* C' = 30 %, M' = 300 % per ms: the blanking formula of CVT 1.1. */
    double duty = 30 - 300 * line_us / 1000;
    duty = duty < 20 ? 20 : duty;
    int blank = (int)(floor(width * duty / (100 - duty) / (2 * CELL_PX)) * (2 * CELL_PX));
    out->total_width = width + blank;
    out->total_height = height + sync_back + FRONT_PORCH_LINES;
    out->clock_mhz = clock_down(out->total_width / line_us, STEP_MHZ);
}

sw_status sw_mode_timing(sw_timing *out, int width_px, int height_px, double refresh_hz,
                         sw_blanking blanking) {
    bool fits = width_px >= 64 && width_px <= 32768 && height_px >= 64 && height_px <= 32768 &&
                refresh_hz >= 10 && refresh_hz <= 1000;
    if (!fits)
        return SW_BAD_DATA;
    sw_timing timing = {0};
    int width = blanking == SW_CVT_REDUCED_2 ? width_px : width_px / CELL_PX * CELL_PX;
    if (blanking == SW_CVT)
        time_full(&timing, width, height_px, refresh_hz);
    else
        time_reduced(&timing, width, height_px, refresh_hz, blanking == SW_CVT_REDUCED_2);
    timing.refresh_hz = timing.clock_mhz * 1e6 / timing.total_width / timing.total_height;
    *out = timing;
    return SW_OK;
}

double sw_mode_gbit_s(double clock_mhz, double bits_a_pixel) {
    return clock_mhz > 0 && bits_a_pixel > 0 ? clock_mhz * bits_a_pixel / 1000 : NAN;
}

double sw_picture_gbit_s(double width_px, double height_px, double refresh_hz) {
    sw_timing timing;
    if (!(width_px >= 64 && width_px <= 32768 && height_px >= 64 && height_px <= 32768) ||
        sw_mode_timing(&timing, (int)width_px, (int)height_px, refresh_hz, SW_CVT_REDUCED) != SW_OK)
        return NAN;
    return sw_mode_gbit_s(timing.clock_mhz, 24);
}
