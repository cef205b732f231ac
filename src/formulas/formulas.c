/* The table of formulas. */
#include "formulas/formulas.h"

static double of_half_sphere_db(const double *x) { return sw_half_sphere_db(x[0], x[1]); }
static double of_whole_sphere_db(const double *x) { return sw_whole_sphere_db(x[0], x[1]); }
static double of_distance_change_db(const double *x) { return sw_distance_change_db(x[0], x[1]); }
static double of_level_without_db(const double *x) { return sw_level_without_db(x[0], x[1]); }
static double of_declared_level_db(const double *x) { return sw_declared_level_db(x[0], x[1]); }
static double of_fan_flow_ratio(const double *x) { return sw_fan_flow_ratio(x[0], x[1]); }
static double of_fan_pressure_ratio(const double *x) { return sw_fan_pressure_ratio(x[0], x[1]); }
static double of_fan_power_ratio(const double *x) { return sw_fan_power_ratio(x[0], x[1]); }
static double of_fan_level_change_db(const double *x) { return sw_fan_level_change_db(x[0]); }
static double of_fan_size_change_db(const double *x) { return sw_fan_size_change_db(x[0], x[1]); }
static double of_sones(const double *x) { return sw_sones(x[0]); }
static double of_phons(const double *x) { return sw_phons(x[0]); }
static double of_air_density_kg_m3(const double *x) { return sw_air_density_kg_m3(x[0], x[1]); }
static double of_air_flow_m3_h(const double *x) { return sw_air_flow_m3_h(x[0], x[1]); }
static double of_air_rise_k(const double *x) { return sw_air_rise_k(x[0], x[1]); }
static double of_cfm_from_m3_h(const double *x) { return sw_cfm_from_m3_h(x[0]); }
static double of_m3_h_from_cfm(const double *x) { return sw_m3_h_from_cfm(x[0]); }
static double of_pa_from_mm_water(const double *x) { return sw_pa_from_mm_water(x[0]); }
static double of_btu_h_from_w(const double *x) { return sw_btu_h_from_w(x[0]); }
static double of_temperature_c(const double *x) { return sw_temperature_c(x[0], x[1], x[2]); }
static double of_resistance_k_w(const double *x) { return sw_resistance_k_w(x[0], x[1]); }
static double of_speed_share(const double *x) { return sw_speed_share(x[0], x[1]); }
static double of_wall_w(const double *x) { return sw_wall_w(x[0], x[1]); }
static double of_energy_kwh_a_year(const double *x) { return sw_energy_kwh_a_year(x[0], x[1]); }
static double of_switching_w(const double *x) { return sw_switching_w(x[0], x[1], x[2]); }
static double of_raised_heat_w(const double *x) { return sw_raised_heat_w(x[0], x[1], x[2], x[3]); }
static double of_memory_gb_s(const double *x) { return sw_memory_gb_s(x[0], x[1]); }
static double of_pcie_gb_s(const double *x) { return sw_pcie_gb_s(x[0], x[1]); }
static double of_sata_mb_s(const double *x) { return sw_sata_mb_s(x[0]); }
static double of_usb_mb_s(const double *x) { return sw_usb_mb_s(x[0]); }
static double of_tmds_gbit_s(const double *x) { return sw_tmds_gbit_s(x[0]); }
static double of_frl_gbit_s(const double *x) { return sw_frl_gbit_s(x[0]); }
static double of_displayport_gbit_s(const double *x) { return sw_displayport_gbit_s(x[0], x[1]); }
static double of_pixels_per_inch(const double *x) { return sw_pixels_per_inch(x[0], x[1], x[2]); }
static double of_frame_ms(const double *x) { return sw_frame_ms(x[0]); }
static double of_slots_covered(const double *x) { return sw_slots_covered(x[0]); }
static double of_mode_gbit_s(const double *x) { return sw_mode_gbit_s(x[0], x[1]); }
static double of_picture_gbit_s(const double *x) { return sw_picture_gbit_s(x[0], x[1], x[2]); }
static double of_student_t(const double *x) { return sw_student_t(x[0], x[1]); }
static double of_next_half_width(const double *x) { return sw_next_half_width(x[0], x[1], x[2]); }

static const sw_formula formulas[] = {
    {"half_sphere_db", 2, of_half_sphere_db, "Lw - 10 lg(2 pi r^2), Lw = {1}, r = {2}",
     "geometry of ISO 3744"},
    {"whole_sphere_db", 2, of_whole_sphere_db, "Lw - 10 lg(4 pi r^2), Lw = {1}, r = {2}",
     "textbook"},
    {"distance_change_db", 2, of_distance_change_db, "-20 lg({2} / {1})", "distance law, textbook"},
    {"level_without_db", 2, of_level_without_db, "10 lg(10^({1}/10) - 10^({2}/10))",
     "background correction, any acoustics handbook"},
    {"declared_level_db", 2, of_declared_level_db, "10 ({1} + {2})", "ISO 9296, ECMA-109"},
    {"fan_flow_ratio", 2, of_fan_flow_ratio, "{1} x {2}^3", "fan laws, ASHRAE, AMCA 201"},
    {"fan_pressure_ratio", 2, of_fan_pressure_ratio, "({1} x {2})^2", "fan laws, ASHRAE, AMCA 201"},
    {"fan_power_ratio", 2, of_fan_power_ratio, "{1}^3 x {2}^5", "fan laws, ASHRAE, AMCA 201"},
    {"fan_level_change_db", 1, of_fan_level_change_db, "50 lg({1})",
     "fan laws, ASHRAE, AMCA 201, from memory"},
    {"fan_size_change_db", 2, of_fan_size_change_db, "70 lg({1}) + 20 lg({2})",
     "fan laws, ASHRAE, AMCA 201, from memory"},
    {"sones", 1, of_sones, "2^((L - 40)/10) from 40 up, (L/40)^2.642 below, L = {1}", "ISO 532-1"},
    {"phons", 1, of_phons, "40 + 10 log2(N) from 1 up, 40 N^(1/2.642) below, N = {1}", "ISO 532-1"},
    {"air_density_kg_m3", 2, of_air_density_kg_m3, "{1} / (287.058 ({2} + 273.15))", "ideal gas"},
    {"air_flow_m3_h", 2, of_air_flow_m3_h, "{1} / (1.204 x 1006 x {2}) x 3600", "heat balance"},
    {"air_rise_k", 2, of_air_rise_k, "{1} / (1.204 x 1006 x {2}) x 3600", "heat balance"},
    {"cfm_from_m3_h", 1, of_cfm_from_m3_h, "{1} / 1.69901", "the foot is 0.3048 m"},
    {"m3_h_from_cfm", 1, of_m3_h_from_cfm, "{1} x 1.69901", "the foot is 0.3048 m"},
    {"pa_from_mm_water", 1, of_pa_from_mm_water, "{1} x 9.80665",
     "conventional millimetre of water"},
    {"btu_h_from_w", 1, of_btu_h_from_w, "{1} x 3.412142", "SI"},
    {"temperature_c", 3, of_temperature_c, "{1} + {2} x {3}", "thermal resistance, textbook"},
    {"resistance_k_w", 2, of_resistance_k_w, "{1} x {2}^-0.8",
     "turbulent air over fins, Dittus and Boelter 1930"},
    {"speed_share", 2, of_speed_share, "({1} / {2})^1.25, at most 1",
     "turbulent air over fins, Dittus and Boelter 1930"},
    {"wall_w", 2, of_wall_w, "{1} / ({2} / 100)", "definition of efficiency"},
    {"energy_kwh_a_year", 2, of_energy_kwh_a_year, "{1} x {2} x 365 / 1000", "arithmetic"},
    {"switching_w", 3, of_switching_w, "{1} x {2} x {3}^2",
     "CMOS switching power, Rabaey, from memory"},
    {"raised_heat_w", 4, of_raised_heat_w, "{1} x ((1 - {2}) x {3} x {4}^2 + {2} x {4}^2)",
     "CMOS switching power and leakage, Rabaey, from memory"},
    {"memory_gb_s", 2, of_memory_gb_s, "{1} x 8 x {2} / 1000", "JEDEC JESD79-4, JESD79-5"},
    {"pcie_gb_s", 2, of_pcie_gb_s, "line rate of generation {1} x coding / 8 x {2}",
     "PCI-SIG base specifications"},
    {"sata_mb_s", 1, of_sata_mb_s, "{1} x 1000 x 8/10 / 8", "SATA-IO"},
    {"usb_mb_s", 1, of_usb_mb_s, "{1} x 1000 x coding / 8", "USB 2.0, 3.2"},
    {"tmds_gbit_s", 1, of_tmds_gbit_s, "{1} x 24 / 1000", "HDMI"},
    {"frl_gbit_s", 1, of_frl_gbit_s, "{1} x 16 / 18", "HDMI 2.1"},
    {"displayport_gbit_s", 2, of_displayport_gbit_s, "{1} x {2} x coding", "VESA DisplayPort"},
    {"pixels_per_inch", 3, of_pixels_per_inch, "sqrt({1}^2 + {2}^2) / {3}", "arithmetic"},
    {"frame_ms", 1, of_frame_ms, "1000 / {1}", "arithmetic"},
    {"slots_covered", 1, of_slots_covered, "{1} / 20.32, rounded up", "PCI-SIG CEM, from memory"},
    {"mode_gbit_s", 2, of_mode_gbit_s, "{1} x {2} / 1000", "arithmetic"},
    {"picture_gbit_s", 3, of_picture_gbit_s,
     "clock of {1} x {2} at {3} Hz with reduced blanking x 24 bit", "VESA CVT 1.1"},
    {"student_t", 2, of_student_t, "Student's t, {1} of it below, {2} degrees of freedom",
     "Abramowitz and Stegun 26.7"},
    {"next_half_width", 3, of_next_half_width,
     "t((1 + {3}) / 2, {2} - 1) x {1} x sqrt(1 + 1 / {2})",
     "prediction interval, ISO 16269-8, from memory"},
};

size_t sw_formula_count(void) { return sizeof formulas / sizeof *formulas; }

const sw_formula *sw_formula_at(size_t index) { return &formulas[index]; }
