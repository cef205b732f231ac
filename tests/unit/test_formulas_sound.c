/* Sound: levels, distances, fan laws, loudness. Each value names where it is published;
 * what a textbook's formula gives was computed from it apart from this program. */
#include "near.h"

#include "shelf.h"
#include "swapworth.h"

/* ---- levels add as powers ------------------------------------------------------------ */

static double sum_of(const double *db, size_t count, sw_level_kind kind) {
    sw_level levels[32], sum = {.db = NAN};
    for (size_t i = 0; i < count; i++)
        levels[i] = (sw_level){kind, db[i], 0.5};
    cr_expect_eq(sw_levels_add(&sum, levels, count), SW_OK);
    cr_expect_eq(sum.kind, kind);
    if (kind == SW_SOUND_PRESSURE)
        cr_expect_eq(sum.distance_m, 0.5);
    return sum.db;
}

/* 10 lg n for n equal sources, and the printed table 4.8, 6, 7, 10, 11.8, 13 beside it:
 * engineeringtoolbox.com, "Adding decibels", read; to a thousandth by the formula there. */
Test(sound, equal_sources) {
    static const struct {
        size_t count;
        double gain_db, printed_db;
    } rows[] = {{1, 0, 0},     {2, 3.0103, 3},   {3, 4.771, 4.8},    {4, 6.021, 6},
                {5, 6.990, 7}, {10, 10.000, 10}, {15, 11.761, 11.8}, {20, 13.010, 13}};
    static const double at_db[] = {-5, 22, 40, 90};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (size_t k = 0; k < COUNT(at_db); k++) {
            double db[20];
            for (size_t n = 0; n < rows[i].count; n++)
                db[n] = at_db[k];
            double gain = sum_of(db, rows[i].count, SW_SOUND_PRESSURE) - at_db[k];
            NEAR(gain, rows[i].gain_db, 0.001, "%zu sources of %g dB", rows[i].count, at_db[k]);
            NEAR(gain, rows[i].printed_db, 0.05, "printed: %zu sources", rows[i].count);
        }
}

/* Worked example of the same page: two fans of 1 W sound power are 123 dB. The level of
 * 1 W over 1e-12 W is 120 dB by the definition (ISO 3744, from memory). */
Test(sound, two_fans_of_one_watt) {
    static const double fans[] = {120, 120};
    NEAR(sum_of(fans, 2, SW_SOUND_POWER), 123.01, 0.01, "two fans of 1 W");
    NEAR(sum_of(fans, 2, SW_SOUND_POWER), 10 * log10(2 / 1e-12), 1e-9, "two fans of 1 W");
}

/* What the weaker of two sources adds, by their difference: 10 lg(1 + 10^(-d/10)), the
 * formula of the same page (it prints a graph). */
Test(sound, weaker_source_adds) {
    static const double rows[][2] = {{0, 3.010},  {1, 2.539},  {2, 2.124}, {3, 1.764},
                                     {4, 1.455},  {5, 1.193},  {6, 0.973}, {8, 0.639},
                                     {10, 0.414}, {15, 0.135}, {20, 0.043}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        double loud_first[] = {60, 60 - rows[i][0]}, weak_first[] = {60 - rows[i][0], 60};
        NEAR(sum_of(loud_first, 2, SW_SOUND_PRESSURE) - 60, rows[i][1], 0.001, "%g dB apart",
             rows[i][0]);
        NEAR(sum_of(weak_first, 2, SW_SOUND_POWER) - 60, rows[i][1], 0.001, "%g dB apart, turned",
             rows[i][0]);
    }
}

/* Unequal sources: 10 lg sum 10^(L/10), any acoustics handbook. */
Test(sound, unequal_sources) {
    static const struct {
        size_t count;
        double db[6], sum_db;
    } rows[] = {{2, {60, 57}, 61.764},
                {2, {70, 64}, 70.973},
                {2, {85, 88}, 89.764},
                {3, {30, 25, 20}, 31.511},
                {6, {80, 82, 84, 86, 88, 90}, 94.046},
                {6, {22, 22, 22, 25, 25, 28}, 32.402}};
    for (size_t i = 0; i < COUNT(rows); i++)
        NEAR(sum_of(rows[i].db, rows[i].count, SW_SOUND_PRESSURE), rows[i].sum_db, 0.001, "row %zu",
             i);
}

/* The background taken away: 10 lg(10^(L/10) - 10^(Lb/10)), any acoustics handbook; the
 * correction K1 of ISO 3744, from memory. */
Test(sound, background_taken_away) {
    static const double rows[][3] = {{60, 57, 56.979}, {35, 30, 33.349}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        double left = sw_level_without_db(rows[i][0], rows[i][1]);
        double back[] = {left, rows[i][1]};
        NEAR(left, rows[i][2], 0.001, "%g with %g", rows[i][0], rows[i][1]);
        NEAR(sum_of(back, 2, SW_SOUND_PRESSURE), rows[i][0], 1e-9, "and put back, row %zu", i);
    }
    NONE(sw_level_without_db(40, 40));
    NONE(sw_level_without_db(40, 41));
    NONE(sw_level_without_db(NAN, 20));
}

/* A sound power level and a sound pressure level are two things (ISO 7779 defines both),
 * and pressure levels at two distances are not levels at one: refused. That nobody may add
 * them is common practice, no source. */
Test(sound, unlike_levels_are_refused) {
    static const struct {
        const char *what;
        size_t count;
        sw_level levels[3];
    } rows[] = {
        {"pressure and power", 2, {{SW_SOUND_PRESSURE, 40, 1}, {SW_SOUND_POWER, 40, 0}}},
        {"power and pressure", 2, {{SW_SOUND_POWER, 40, 0}, {SW_SOUND_PRESSURE, 40, 1}}},
        {"the third is unlike",
         3,
         {{SW_SOUND_POWER, 40, 0}, {SW_SOUND_POWER, 40, 0}, {SW_SOUND_PRESSURE, 40, 1}}},
        {"0.5 m and 1 m", 2, {{SW_SOUND_PRESSURE, 40, 0.5}, {SW_SOUND_PRESSURE, 40, 1}}},
        {"at no distance", 2, {{SW_SOUND_PRESSURE, 40, 0}, {SW_SOUND_PRESSURE, 40, 0}}},
        {"infinitely far", 1, {{SW_SOUND_PRESSURE, 40, INFINITY}}},
        {"no level", 2, {{SW_SOUND_POWER, 40, 0}, {SW_SOUND_POWER, NAN, 0}}},
        {"none", 0, {{SW_SOUND_POWER, 40, 0}}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        sw_level sum = {SW_SOUND_PRESSURE, 7, 7};
        cr_expect_eq(sw_levels_add(&sum, rows[i].levels, rows[i].count), SW_BAD_DATA, "%s",
                     rows[i].what);
        cr_expect_eq(sum.db, 7, "%s: a failed call leaves the result alone", rows[i].what);
    }
    /* A power level has no distance that could differ. */
    sw_level sum = {0}, powers[] = {{SW_SOUND_POWER, 40, 0.5}, {SW_SOUND_POWER, 40, 1}};
    cr_expect_eq(sw_levels_add(&sum, powers, 2), SW_OK);
    NEAR(sum.db, 43.0103, 0.001, "two powers");
}

/* The same in a catalog: a criterion whose noise is sound power, a rule that loads one on the
 * other, are refused. */
Test(sound, unlike_facts_are_refused) {
    static const char plain[] =
        "{\"fact\":\"noise_dba\",\"type\":\"number\",\"roles\":[\"fans\",\"memory\"],";
    static const char declared[] =
        "{\"fact\":\"noise_dba\",\"type\":\"number\",\"roles\":[\"fans\",\"memory\"],"
        "\"quantity\":\"power\",";
    static const char besides[] =
        "{\"fact\":\"power_dba\",\"type\":\"number\",\"roles\":[\"fans\"],\"combine\":\"power\","
        "\"quantity\":\"%s\",\"least\":0,\"most\":90,\"absent\":\"silent\",\"meaning\":\"m\","
        "\"source\":\"s\"},"
        "{\"fact\":\"noise_dba\",\"type\":\"number\",\"roles\":[\"fans\",\"memory\"],";
    shelf is = shelf_make("catalog/facts.json", plain, declared);
    shelf_read(&is);
    cr_expect_eq(is.status, SW_BAD_DATA, "the criterion's noise is sound power: %s",
                 shelf_said(&is));
    shelf_free(&is);

    static const char *const quantities[] = {"power", "pressure"};
    for (size_t i = 0; i < COUNT(quantities); i++) {
        char facts[1024];
        snprintf(facts, sizeof facts, besides, quantities[i]);
        is = shelf_make("catalog/facts.json", plain, facts);
        for (size_t k = 0; k < COUNT(shelf_files); k++) {
            if (strcmp(shelf_files[k].name, "catalog/rules.json") != 0)
                continue;
            char *rules =
                shelf_changed(shelf_files[k].text, "{\"fixed\":-3}", "{\"fact\":\"*.power_dba\"}");
            cr_assert_not_null(rules);
            shelf_write(&is, shelf_files[k].name, rules, strlen(rules));
            free(rules);
        }
        shelf_read(&is);
        cr_expect_eq(is.status, i == 0 ? SW_BAD_DATA : SW_OK, "a load of both, %s: %s",
                     quantities[i], shelf_said(&is));
        shelf_free(&is);
    }
}

/* ---- distance and space -------------------------------------------------------------- */

/* -20 lg(r2/r1) in the open, any acoustics handbook. */
Test(sound, distance_law) {
    static const double rows[][2] = {{2, -6.0206}, {1.5, -3.5218}, {3, -9.5424},
                                     {10, -20},    {0.5, 6.0206},  {1, 0}};
    static const double from_m[] = {0.3, 0.5, 1, 2};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (size_t k = 0; k < COUNT(from_m); k++) {
            double to_m = from_m[k] * rows[i][0];
            NEAR(sw_distance_change_db(from_m[k], to_m), rows[i][1], 0.001, "%g m to %g m",
                 from_m[k], to_m);
            sw_level there = sw_level_at((sw_level){SW_SOUND_PRESSURE, 40, from_m[k]}, to_m);
            NEAR(there.db - 40, rows[i][1], 0.001, "a level, %g m to %g m", from_m[k], to_m);
            cr_expect_eq(there.kind, SW_SOUND_PRESSURE);
            cr_expect_eq(there.distance_m, to_m);
        }
    NONE(sw_distance_change_db(0, 1));
    NONE(sw_distance_change_db(1, 0));
    NONE(sw_distance_change_db(-1, 1));
    NONE(sw_level_at((sw_level){SW_SOUND_PRESSURE, 40, 1}, 0).db);
    NONE(sw_level_at((sw_level){SW_SOUND_PRESSURE, 40, 0}, 1).db);
    NONE(sw_level_at((sw_level){SW_SOUND_PRESSURE, 40, INFINITY}, 1).db);
    NONE(sw_level_at((sw_level){SW_SOUND_POWER, INFINITY, 0}, 1).db);
}

/* Sound power over a half sphere (the geometry of ISO 3744) and over a sphere (any
 * acoustics handbook). */
Test(sound, power_to_pressure) {
    static const double half[][2] = {{0.5, -1.961}, {1, -7.982}, {2, -14.002}};
    for (size_t i = 0; i < COUNT(half); i++) {
        NEAR(sw_half_sphere_db(50, half[i][0]) - 50, half[i][1], 0.001, "half sphere of %g m",
             half[i][0]);
        sw_level there = sw_level_at((sw_level){SW_SOUND_POWER, 50, 0}, half[i][0]);
        NEAR(there.db - 50, half[i][1], 0.001, "a power level, %g m away", half[i][0]);
        cr_expect_eq(there.kind, SW_SOUND_PRESSURE);
        cr_expect_eq(there.distance_m, half[i][0]);
    }
    NEAR(sw_whole_sphere_db(50, 1) - 50, -10.992, 0.001, "sphere of 1 m");
    /* A sphere has twice the face of its half. */
    NEAR(sw_half_sphere_db(50, 3) - sw_whole_sphere_db(50, 3), 3.0103, 0.001, "half and whole");
    NONE(sw_half_sphere_db(50, 0));
    NONE(sw_whole_sphere_db(50, 0));
    NONE(sw_whole_sphere_db(50, -1));
}

/* Declared levels. ISO 9296:1988 and ECMA-109, 4th edition: LWAd in bel is already the
 * statistical maximum, so that only the unit changes, 4.3 B to 43 dB. ISO 9296:2017 and
 * ECMA-109, 6th edition: the mean and the adder for verification stand apart, 4.0 B and
 * 0.3 B. Read in the abstracts of both. */
Test(sound, declared_levels) {
    NEAR(sw_declared_level_db(4.3, 0), 43, 1e-9, "4.3 B in all");
    NEAR(sw_declared_level_db(4.0, 0.3), 43, 1e-9, "4.0 B and 0.3 B");
}

/* ---- fan laws: ASHRAE HVAC Systems and Equipment, AMCA 201, from memory -------------- */

/* Flow, pressure and power against speed; read in engineeringtoolbox.com, "Fan affinity
 * laws", which prints a tenth more speed as 21 % more pressure, 33 % more power. */
Test(fan_laws, speed) {
    static const struct {
        double speed, flow, pressure, power, tolerance;
    } rows[] = {{1200.0 / 1000, 1.2, 1.44, 1.728, 1e-12},
                {1500.0 / 2000, 0.75, 0.5625, 0.421875, 1e-12},
                {0.5, 0.5, 0.25, 0.125, 1e-12},
                {1.1, 1.1, 1.21, 1.331, 1e-12},
                {1.1, 1.1, 1.21, 1.33, 0.005}, /* as printed */
                {1, 1, 1, 1, 1e-12}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        NEAR(sw_fan_flow_ratio(rows[i].speed, 1), rows[i].flow, rows[i].tolerance, "row %zu", i);
        NEAR(sw_fan_pressure_ratio(rows[i].speed, 1), rows[i].pressure, rows[i].tolerance,
             "row %zu", i);
        NEAR(sw_fan_power_ratio(rows[i].speed, 1), rows[i].power, rows[i].tolerance, "row %zu", i);
    }
}

/* Like fans of 120 and 140 mm at one speed: the cube, the square and the fifth power of
 * the diameter, read in the same page. */
Test(fan_laws, diameter) {
    double diameter = 140.0 / 120;
    NEAR(sw_fan_flow_ratio(1, diameter), 1.588, 0.001, "flow");
    NEAR(sw_fan_pressure_ratio(1, diameter), 1.361, 0.001, "pressure");
    NEAR(sw_fan_power_ratio(1, diameter), 2.161, 0.001, "power");
    /* Both at once are the product of each. */
    EXACT(sw_fan_flow_ratio(0.75, 2), 0.75 * 8, "flow, both");
    EXACT(sw_fan_pressure_ratio(0.75, 2), 0.5625 * 4, "pressure, both");
    EXACT(sw_fan_power_ratio(0.75, 2), 0.421875 * 32, "power, both");
    NONE(sw_fan_flow_ratio(0, 1));
    NONE(sw_fan_flow_ratio(1, -1));
    NONE(sw_fan_pressure_ratio(-1, 1));
    NONE(sw_fan_power_ratio(1, 0));
}

/* Sound power: 50 lg of the speed, 70 lg of the diameter, 20 lg of the density; the
 * formulas from memory. */
Test(fan_laws, level) {
    static const double rows[][3] = {{1000, 2000, 15.051}, {2000, 1000, -15.051},
                                     {1500, 1000, -8.805}, {1000, 800, -4.846},
                                     {1000, 1200, 3.959},  {2000, 1500, -6.247}};
    for (size_t i = 0; i < COUNT(rows); i++)
        NEAR(sw_fan_level_change_db(rows[i][1] / rows[i][0]), rows[i][2], 0.001, "%g to %g rpm",
             rows[i][0], rows[i][1]);
    NEAR(sw_fan_size_change_db(140.0 / 120, 1), 4.686, 0.001, "120 to 140 mm");
    NEAR(sw_fan_size_change_db(1, 2), 6.0206, 0.001, "twice the density");
    NEAR(sw_fan_size_change_db(140.0 / 120, 2), 4.686 + 6.0206, 0.001, "both");
    NONE(sw_fan_level_change_db(0));
    NONE(sw_fan_level_change_db(-1));
    NONE(sw_fan_size_change_db(0, 1));
    NONE(sw_fan_size_change_db(1, 0));
}

/* ---- loudness -------------------------------------------------------------------------- */

/* From 40 phon 2^((P - 40)/10): ISO 131:1979, ISO 532-1, Stevens; read in secondary sources,
 * the standards from memory. */
Test(loudness, sones_from_phons) {
    static const double rows[][2] = {{40, 1}, {50, 2}, {60, 4}, {70, 8}, {80, 16}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        EXACT(sw_sones(rows[i][0]), rows[i][1], "%g phon", rows[i][0]);
        EXACT(sw_phons(rows[i][1]), rows[i][0], "%g sone", rows[i][1]);
    }
    NEAR(sw_phons(3), 55.850, 0.001, "3 sone");
}

/* Below 40 phon (P/40)^2.642: ISO 532-1, DIN 45631, from memory. */
Test(loudness, low) {
    NEAR(sw_sones(20), 0.1602, 0.0005, "20 phon");
    NEAR(sw_sones(30), 0.4676, 0.0005, "30 phon");
    NEAR(sw_phons(0.1602), 20, 0.005, "0.1602 sone");
    NEAR(sw_phons(0.4676), 30, 0.005, "0.4676 sone");
    /* Next to nothing is as loud as 0.001 phon, so that its logarithm exists (our own bound). */
    double least = pow(0.001 / 40, 2.642);
    EXACT(sw_sones(0.001), least, "0.001 phon");
    EXACT(sw_sones(0), least, "0 phon");
    EXACT(sw_sones(-12), least, "-12 phon");
    /* The straight line of above does not go on below: half a sone is not 30 phon. */
    cr_expect_gt(sw_phons(0.5), 30.5);
    NONE(sw_phons(0));
    NONE(sw_phons(-1));
    NONE(sw_phons(NAN));
    NONE(sw_sones(NAN));
}
