/* Heat and air: what a flow of air carries, units, and the air through a case. Each value
 * names where it is published. */
#include "near.h"

#include "swapworth.h"

/* ---- air ------------------------------------------------------------------------------- */

/* Dry air as an ideal gas, p/(287.058 T), at 101,325 Pa: 1.2041 kg/m3 at 20 degC, 1.1839 at
 * 25 (International Standard Atmosphere). */
Test(air, density) {
    NEAR(sw_air_density_kg_m3(101325, 20), 1.2041, 0.0005, "20 degC");
    NEAR(sw_air_density_kg_m3(101325, 25), 1.1839, 0.0005, "25 degC");
    NONE(sw_air_density_kg_m3(0, 20));
    NONE(sw_air_density_kg_m3(101325, -273.15));
    NONE(sw_air_density_kg_m3(101325, NAN));
}

/* The balance V = P/(rho cp dT) with 1.204 kg/m3 and 1006 J/(kg K): a heat balance, computed
 * apart from this program; that cp is 1005 to 1007 by handbook tables, from memory. */
Test(air, flow_for_heat) {
    static const double rows[][3] = {{100, 29.722, 17.494},
                                     {300, 89.166, 52.481},
                                     {500, 148.610, 87.469},
                                     {1000, 297.220, 174.937}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        double flow = sw_air_flow_m3_h(rows[i][0], 10);
        NEAR(flow, rows[i][1], 0.01, "%g W at 10 K", rows[i][0]);
        NEAR(sw_cfm_from_m3_h(flow), rows[i][2], 0.01, "%g W at 10 K in CFM", rows[i][0]);
        NEAR(sw_air_rise_k(rows[i][0], rows[i][1]), 10, 0.001, "%g W back", rows[i][0]);
        NEAR(sw_air_flow_m3_h(rows[i][0], 20), rows[i][1] / 2, 0.01, "%g W at 20 K", rows[i][0]);
    }
    EXACT(sw_air_flow_m3_h(0, 10), 0, "no heat");
    NONE(sw_air_flow_m3_h(100, 0));
    NONE(sw_air_flow_m3_h(100, -1));
    NONE(sw_air_flow_m3_h(-1, 10));
    NONE(sw_air_rise_k(100, 0));
    NONE(sw_air_rise_k(-1, 100));
}

/* Fan makers' rules: CFM = 1.76 W/K (common practice, no source; 1.7569 at 1.20 kg/m3 and
 * 1005 J/(kg K), 1.7494 with ours); CFM = 3160 kW/degF, a note of Comair Rotron, read in
 * adaptivecomponents.com.au; 0.569 W min/(degC ft3), read in a maker's note at nidec.com. */
Test(air, makers_rules) {
    double cfm = sw_cfm_from_m3_h(sw_air_flow_m3_h(1, 1));
    NEAR(cfm, 1.7494, 0.0001, "our constants");
    NEAR(cfm, 1.755, 0.01, "1.75 to 1.76 a watt and kelvin, as rounded");
    NEAR(cfm * 1.8, 3.16, 0.015, "3.15 to 3.17 a watt and degF, as rounded");
    NEAR(cfm / 1.7494 * 1.7569, 1 / 0.569, 0.001, "0.569 at that maker's density");
    NEAR(cfm, 1 / 0.569, 0.01, "0.569, at ours");
}

/* 800 W at 3 K take 0.265 kg/s: worked example, read in industrialmonitordirect.com (it has
 * cp 1005). */
Test(air, published_example) {
    NEAR(sw_air_flow_m3_h(800, 3) / 3600 * 1.204, 0.2653, 0.0005, "kg/s");
}

/* ---- units ----------------------------------------------------------------------------- */

/* The foot is 0.3048 m exactly (international yard and pound, 1959, from memory). */
Test(units, cubic_feet_a_minute) {
    NEAR(sw_m3_h_from_cfm(1), 1.69901, 1e-5, "1 CFM");
    NEAR(sw_cfm_from_m3_h(1), 0.588578, 1e-6, "1 m3/h");
    NEAR(sw_cfm_from_m3_h(sw_m3_h_from_cfm(57.3)), 57.3, 1e-9, "there and back");
}

/* 1 W is 3.412142 Btu/h (international table). */
Test(units, btu) { NEAR(sw_btu_h_from_w(500), 1706.07, 0.01, "500 W"); }

/* Conventional water column: 9.80665 Pa a millimetre, 249.089 Pa an inch, from memory. */
Test(units, water_column) {
    EXACT(sw_pa_from_mm_water(1), 9.80665, "1 mm");
    NEAR(sw_pa_from_mm_water(2.0), 19.613, 0.001, "2 mm");
    NEAR(sw_pa_from_mm_water(25.4), 249.089, 0.001, "an inch");
}

/* ---- heat and speed of a cooler -------------------------------------------------------- */

/* T = Ta + P R, textbook. */
Test(cooler, temperature) {
    EXACT(sw_temperature_c(25, 50, 0.30), 40, "50 W over 0.30 K/W");
    EXACT(sw_temperature_c(22, 0, 0.30), 22, "no heat");
}

/* R n^-0.8: turbulent flow, where heat transfer goes as the flow to the power of 0.8
 * (Dittus and Boelter 1930, from memory); 2^0.8 = 1.7411, 0.75^0.8 = 0.79445. */
Test(cooler, resistance_and_speed) {
    NEAR(sw_resistance_k_w(0.2, 1), 0.2, 1e-12, "full speed");
    NEAR(sw_resistance_k_w(0.2, 0.5), 0.2 * 1.7411, 1e-4, "half speed");
    NEAR(sw_resistance_k_w(0.2, 0.75), 0.2 / 0.79445, 1e-4, "three quarters");
    NEAR(sw_speed_share(0.2, 0.2 * 1.7411), 0.5, 1e-4, "what half speed gives");
    EXACT(sw_speed_share(0.2, 0.2), 1, "what full speed gives");
    EXACT(sw_speed_share(0.2, 0.1), 1, "more than there is");
    NONE(sw_resistance_k_w(0, 1));
    NONE(sw_resistance_k_w(0.2, 0));
    NONE(sw_speed_share(0, 0.2));
    NONE(sw_speed_share(0.2, 0));
    NONE(sw_speed_share(0.2, -1));
}

/* ---- the air through a case ------------------------------------------------------------ */

/* Openings of this area ask k q^2 of a flow q, in Pa and m3/h: the orifice's
 * q = 0.6 A sqrt(2 dp/rho), textbook, turned round. */
static double vents_for(double k) { return 1e4 * sqrt(1.204 / (2 * k)) / (0.6 * 3600); }

static sw_air through(double *flows, const sw_air_fan *fans, size_t count, double vents_cm2) {
    sw_air air = {NAN, NAN, NAN, NAN};
    cr_expect_eq(sw_air_through(&air, flows, fans, count, vents_cm2), SW_OK);
    return air;
}

#define FREE 90.0
#define STALL 16.0
static const sw_air_fan in_fan = {FREE, STALL, true}, out_fan = {FREE, STALL, false};

/* The operating point of n like fans side by side against openings k q^2, with
 * K = k Q0^2/p0: n/sqrt(1 + n^2 K) of one fan's free flow. Derived from the two curves and
 * computed apart from this program; no published value. */
Test(case_air, operating_point) {
    static const double rows[][3] = {/* K, one fan, two */
                                     {1, 0.7071, 0.8944},
                                     {4, 0.4472, 0.4851},
                                     {0.25, 0.8944, 1.4142}};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (size_t count = 1; count <= 2; count++)
            for (int inward = 0; inward <= 1; inward++) {
                sw_air_fan one = inward ? in_fan : out_fan, fans[] = {one, one};
                double flows[2], vents = vents_for(rows[i][0] * STALL / FREE / FREE);
                sw_air air = through(flows, fans, count, vents);
                double flow = inward ? air.in_m3_h : air.out_m3_h;
                NEAR(flow / FREE, rows[i][count], 1e-4, "K %g, %zu fans, in %d", rows[i][0], count,
                     inward);
                NEAR(air.through_m3_h, flow, 1e-6 * FREE, "all that comes in, K %g", rows[i][0]);
                NEAR(flows[0], flow / (double)count, 1e-6 * FREE, "each, K %g", rows[i][0]);
                NEAR(inward ? air.out_m3_h : air.in_m3_h, 0, 0, "the other way");
                double pressure = rows[i][0] * STALL * flow * flow / FREE / FREE;
                NEAR(air.inside_pa, inward ? pressure : -pressure, 1e-3, "Pa, K %g", rows[i][0]);
            }
}

/* Side by side with nothing in the way flows add, and at no flow the pressure is that of
 * one; behind each other the flow stays, and each bears a part. Handbook knowledge; common
 * practice, no source. */
Test(case_air, side_by_side_and_behind) {
    sw_air_fan beside[] = {in_fan, in_fan}, behind[] = {in_fan, out_fan};
    double flows[2];
    sw_air open = through(flows, beside, 2, 1e7);
    NEAR(open.in_m3_h, 2 * FREE, 1e-3, "side by side, open");
    sw_air shut = through(flows, beside, 2, 0);
    NEAR(shut.inside_pa, STALL, 1e-6, "side by side, shut");
    NEAR(shut.in_m3_h, 0, 0.01, "side by side, shut");
    sw_air chain = through(flows, behind, 2, 0);
    NEAR(chain.through_m3_h, FREE, 1e-6 * FREE, "behind each other");
    NEAR(chain.inside_pa, 0, 1e-6, "behind each other");
    NEAR(flows[0], FREE, 1e-6 * FREE, "the one that blows in");
    NEAR(flows[1], FREE, 1e-6 * FREE, "the one that blows out");
    /* Unlike ones: the sum of their pressures is 0, so
     * q^2 = (p1 + p2)/(p1/Q1^2 + p2/Q2^2). */
    sw_air_fan unlike[] = {{60, 12, true}, {100, 20, false}};
    sw_air drawn = through(flows, unlike, 2, 0);
    double both = sqrt((12 + 20) / (12.0 / 60 / 60 + 20.0 / 100 / 100));
    NEAR(drawn.through_m3_h, both, 1e-4, "unlike ones");
    NEAR(drawn.inside_pa, 12 * (1 - both * both / 60 / 60), 1e-4, "unlike ones, Pa");
}

/* A strong fan out drives a weak one back: air goes in through it. */
Test(case_air, a_fan_driven_back) {
    sw_air_fan fans[] = {{100, 20, true}, {5, 1, true}};
    double flows[2];
    sw_air air = through(flows, fans, 2, 20);
    cr_expect_gt(air.inside_pa, 1);
    cr_expect_lt(flows[1], 0);
    NEAR(flows[1], -5 * sqrt(air.inside_pa - 1), 1e-6, "driven back");
    NEAR(air.in_m3_h, flows[0] + flows[1], 1e-9, "what the fans blowing in move");
    NEAR(air.through_m3_h, flows[0], 1e-9, "what comes in");
}

Test(case_air, no_fans) {
    sw_air air = through(NULL, NULL, 0, 100);
    cr_expect(air.inside_pa == 0 && air.through_m3_h == 0 && air.in_m3_h == 0 && air.out_m3_h == 0);
}

Test(case_air, refused) {
    static const struct {
        sw_air_fan fan;
        double vents_cm2;
    } rows[] = {{{0, 16, true}, 100},     {{-1, 16, true}, 100}, {{90, 0, true}, 100},
                {{90, -1, false}, 100},   {{NAN, 16, true}, 1},  {{90, INFINITY, true}, 1},
                {{90, 16, true}, -1},     {{90, 16, true}, NAN}, {{90, 16, true}, INFINITY},
                {{INFINITY, 16, true}, 1}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        sw_air air = {.inside_pa = 7};
        sw_air_fan last[] = {in_fan, rows[i].fan}, first[] = {rows[i].fan, in_fan};
        cr_expect_eq(sw_air_through(&air, NULL, last, 2, rows[i].vents_cm2), SW_BAD_DATA, "row %zu",
                     i);
        cr_expect_eq(sw_air_through(&air, NULL, first, 2, rows[i].vents_cm2), SW_BAD_DATA,
                     "row %zu, turned", i);
        cr_expect_eq(air.inside_pa, 7, "row %zu: a failed call leaves the result alone", i);
    }
}
