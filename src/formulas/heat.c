/* Formulas of heat, air and power. Sources: swapworth.h. */
#include "swapworth.h"

#include <math.h>

#define AIR_KG_M3 1.204
#define AIR_J_KG_K 1006.0
#define SECONDS_AN_HOUR 3600.0
#define M3_H_A_CFM (0.3048 * 0.3048 * 0.3048 * 60) /* the foot is 0.3048 m exactly */
/* How fast the resistance of a cooler falls with its fan's speed: turbulent air over fins,
 * Nusselt by Reynolds to the power of 0.8 (Dittus & Boelter 1930; Incropera & DeWitt). */
#define COOLING_EXPONENT 0.8

double sw_air_density_kg_m3(double pressure_pa, double temperature_c) {
    double kelvin = temperature_c + 273.15;
    return pressure_pa > 0 && kelvin > 0 ? pressure_pa / (287.058 * kelvin) : NAN;
}

double sw_air_flow_m3_h(double heat_w, double rise_k) {
    return heat_w >= 0 && rise_k > 0 ? heat_w / (AIR_KG_M3 * AIR_J_KG_K * rise_k) * SECONDS_AN_HOUR
                                     : NAN;
}

double sw_air_rise_k(double heat_w, double flow_m3_h) {
    return heat_w >= 0 && flow_m3_h > 0
               ? heat_w / (AIR_KG_M3 * AIR_J_KG_K * flow_m3_h) * SECONDS_AN_HOUR
               : NAN;
}

double sw_cfm_from_m3_h(double flow_m3_h) { return flow_m3_h / M3_H_A_CFM; }
double sw_m3_h_from_cfm(double flow_cfm) { return flow_cfm * M3_H_A_CFM; }
double sw_pa_from_mm_water(double mm_water) { return mm_water * 9.80665; }
double sw_btu_h_from_w(double watts) { return watts * 3.412142; }

double sw_temperature_c(double ambient_c, double heat_w, double resistance_k_w) {
    return resistance_k_w >= 0 ? ambient_c + heat_w * resistance_k_w : NAN;
}

double sw_resistance_k_w(double full_k_w, double speed_share) {
    return full_k_w > 0 && speed_share > 0 ? full_k_w * pow(speed_share, -COOLING_EXPONENT) : NAN;
}

double sw_speed_share(double full_k_w, double wanted_k_w) {
    if (!(full_k_w > 0) || !(wanted_k_w > 0))
        return NAN;
    double share = pow(full_k_w / wanted_k_w, 1 / COOLING_EXPONENT);
    return share < 1 ? share : 1;
}

double sw_wall_w(double output_w, double efficiency_percent) {
    return output_w >= 0 && efficiency_percent > 0 && efficiency_percent <= 100
               ? output_w / (efficiency_percent / 100)
               : NAN;
}

double sw_energy_kwh_a_year(double watts, double hours_a_day) {
    return hours_a_day >= 0 && hours_a_day <= 24 ? watts * hours_a_day * 365 / 1000 : NAN;
}

/* Nanofarads, gigahertz: their powers of ten cancel. */
double sw_switching_w(double capacitance_nf, double clock_ghz, double volts) {
    return capacitance_nf * clock_ghz * volts * volts;
}

double sw_raised_heat_w(double heat_w, double leak_share, double clock_ratio, double volt_ratio) {
    if (!(leak_share >= 0 && leak_share <= 1) || !(clock_ratio > 0) || !(volt_ratio > 0))
        return NAN;
    double square = volt_ratio * volt_ratio;
    return heat_w * ((1 - leak_share) * clock_ratio * square + leak_share * square);
}
