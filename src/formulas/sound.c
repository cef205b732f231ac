/* Formulas of sound. Sources: swapworth.h and any acoustics handbook. */
#include "swapworth.h"

#include <math.h>

#define PI 3.14159265358979323846

static bool is_level(sw_level level) {
    return isfinite(level.db) &&
           (level.kind == SW_SOUND_POWER || (isfinite(level.distance_m) && level.distance_m > 0));
}

sw_status sw_levels_add(sw_level *out, const sw_level *levels, size_t count) {
    double power = 0;
    if (count == 0)
        return SW_BAD_DATA;
    for (size_t i = 0; i < count; i++) {
        bool like =
            levels[i].kind == levels[0].kind &&
            (levels[i].kind == SW_SOUND_POWER || levels[i].distance_m == levels[0].distance_m);
        if (!is_level(levels[i]) || !like)
            return SW_BAD_DATA;
        power += pow(10, levels[i].db / 10);
    }
    *out = levels[0];
    out->db = 10 * log10(power);
    return SW_OK;
}

sw_level sw_level_at(sw_level level, double distance_m) {
    sw_level there = {SW_SOUND_PRESSURE, NAN, distance_m};
    if (!is_level(level) || !(distance_m > 0))
        return there;
    there.db = level.kind == SW_SOUND_POWER
                   ? sw_half_sphere_db(level.db, distance_m)
                   : level.db + sw_distance_change_db(level.distance_m, distance_m);
    return there;
}

double sw_level_without_db(double level_db, double background_db) {
    double rest = pow(10, level_db / 10) - pow(10, background_db / 10);
    return rest > 0 ? 10 * log10(rest) : NAN;
}

double sw_distance_change_db(double from_m, double to_m) {
    return from_m > 0 && to_m > 0 ? -20 * log10(to_m / from_m) : NAN;
}

double sw_half_sphere_db(double power_level_db, double distance_m) {
    return distance_m > 0 ? power_level_db - 10 * log10(2 * PI * distance_m * distance_m) : NAN;
}

double sw_whole_sphere_db(double power_level_db, double distance_m) {
    return distance_m > 0 ? power_level_db - 10 * log10(4 * PI * distance_m * distance_m) : NAN;
}

double sw_declared_level_db(double mean_bel, double adder_bel) {
    return 10 * (mean_bel + adder_bel);
}

/* Fan laws for fans of one design: ASHRAE and AMCA 201. */
static bool are_ratios(double a, double b) { return a > 0 && b > 0; }

double sw_fan_flow_ratio(double speed_ratio, double diameter_ratio) {
    return are_ratios(speed_ratio, diameter_ratio) ? speed_ratio * pow(diameter_ratio, 3) : NAN;
}

double sw_fan_pressure_ratio(double speed_ratio, double diameter_ratio) {
    return are_ratios(speed_ratio, diameter_ratio) ? pow(speed_ratio * diameter_ratio, 2) : NAN;
}

double sw_fan_power_ratio(double speed_ratio, double diameter_ratio) {
    return are_ratios(speed_ratio, diameter_ratio) ? pow(speed_ratio, 3) * pow(diameter_ratio, 5)
                                                   : NAN;
}

double sw_fan_level_change_db(double speed_ratio) {
    return speed_ratio > 0 ? 50 * log10(speed_ratio) : NAN;
}

double sw_fan_size_change_db(double diameter_ratio, double density_ratio) {
    return are_ratios(diameter_ratio, density_ratio)
               ? 70 * log10(diameter_ratio) + 20 * log10(density_ratio)
               : NAN;
}

/* Levels next to nothing are as loud as 0.001 phon, so that their logarithm exists. */
double sw_sones(double level_phon) {
    double level = level_phon < 0.001 ? 0.001 : level_phon;
    return level >= 40 ? exp2((level - 40) / 10) : pow(level / 40, 2.642);
}

double sw_phons(double sones) {
    if (!(sones > 0))
        return NAN;
    return sones >= 1 ? 40 + 10 * log2(sones) : 40 * pow(sones, 1 / 2.642);
}
