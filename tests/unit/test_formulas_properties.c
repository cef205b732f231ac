/* What must hold of the formulas whatever goes in, by random trial. No published values:
 * each property follows from what the formula is for. */
#include "near.h"

#include <stdint.h>

#include "swapworth.h"

#define TRIALS 20000
#define MOST 6

/* Marsaglia 2003, xorshift, with 64 bits: the same trials every time. */
typedef struct chance {
    uint64_t state;
} chance;

static uint64_t draw(chance *is) {
    is->state ^= is->state << 13;
    is->state ^= is->state >> 7;
    is->state ^= is->state << 17;
    return is->state;
}

static double between(chance *is, double least, double most) {
    return least + (most - least) * ((double)(draw(is) >> 11) * 0x1p-53);
}

static size_t below(chance *is, size_t most) { return (size_t)(draw(is) % most); }

/* ---- sound ------------------------------------------------------------------------------ */

/* One source more never lowers the level; the sum is no less than the loudest and no more
 * than if all were as loud; the order does not matter. */
Test(properties, levels) {
    chance is = {0x5EED0001};
    for (int trial = 0; trial < TRIALS; trial++) {
        sw_level levels[MOST + 1], turned[MOST + 1], sum, more, back;
        size_t count = 1 + below(&is, MOST);
        sw_level_kind kind = below(&is, 2) == 0 ? SW_SOUND_PRESSURE : SW_SOUND_POWER;
        double loudest = -INFINITY;
        for (size_t i = 0; i <= count; i++) {
            levels[i] = (sw_level){kind, between(&is, -20, 90), 0.5};
            turned[count - i] = levels[i];
            if (i < count)
                loudest = fmax(loudest, levels[i].db);
        }
        cr_assert_eq(sw_levels_add(&sum, levels, count), SW_OK);
        cr_assert_eq(sw_levels_add(&more, levels, count + 1), SW_OK);
        cr_assert_eq(sw_levels_add(&back, turned, count + 1), SW_OK);
        cr_assert(more.db >= sum.db, "trial %d: %.17g, then %.17g", trial, sum.db, more.db);
        cr_assert(more.db >= levels[count].db - 1e-9, "trial %d", trial);
        cr_assert(sum.db >= loudest - 1e-9, "trial %d", trial);
        cr_assert(sum.db <= loudest + 10 * log10((double)count) + 1e-9, "trial %d", trial);
        cr_assert(fabs(more.db - back.db) < 1e-9, "trial %d: turned", trial);
        /* Taken away again, what was there is left (unless it drowned in the other). */
        if (sum.db > levels[count].db - 40)
            cr_assert(fabs(sw_level_without_db(more.db, levels[count].db) - sum.db) < 1e-6,
                      "trial %d: taken away", trial);
    }
}

/* Farther away is never louder; there and back changes nothing; by two steps as by one. */
Test(properties, distances) {
    chance is = {0x5EED0002};
    for (int trial = 0; trial < TRIALS; trial++) {
        double a = between(&is, 0.05, 10), b = between(&is, 0.05, 10), c = between(&is, 0.05, 10);
        double near_m = fmin(a, b), far_m = fmax(a, b), db = between(&is, 0, 80);
        cr_assert(sw_half_sphere_db(db, far_m) <= sw_half_sphere_db(db, near_m));
        cr_assert(sw_whole_sphere_db(db, far_m) <= sw_whole_sphere_db(db, near_m));
        cr_assert(sw_distance_change_db(near_m, far_m) <= 0);
        cr_assert(fabs(sw_distance_change_db(a, b) + sw_distance_change_db(b, a)) < 1e-9);
        cr_assert(fabs(sw_distance_change_db(a, b) + sw_distance_change_db(b, c) -
                       sw_distance_change_db(a, c)) < 1e-9);
        sw_level source = {SW_SOUND_POWER, db, 0};
        sw_level straight = sw_level_at(source, c), round = sw_level_at(sw_level_at(source, a), c);
        cr_assert(fabs(straight.db - round.db) < 1e-9, "trial %d", trial);
    }
}

/* Faster and wider fans move, press, draw and sound more, never less. */
Test(properties, fan_laws) {
    static double (*const laws[])(double, double) = {sw_fan_flow_ratio, sw_fan_pressure_ratio,
                                                     sw_fan_power_ratio, sw_fan_size_change_db};
    chance is = {0x5EED0003};
    for (int trial = 0; trial < TRIALS; trial++) {
        double a = between(&is, 0.1, 3), b = between(&is, 0.1, 3), other = between(&is, 0.1, 3);
        double slow = fmin(a, b), fast = fmax(a, b);
        for (size_t i = 0; i < COUNT(laws); i++) {
            cr_assert(laws[i](slow, other) <= laws[i](fast, other), "law %zu", i);
            cr_assert(laws[i](other, slow) <= laws[i](other, fast), "law %zu", i);
        }
        cr_assert(sw_fan_level_change_db(slow) <= sw_fan_level_change_db(fast));
        cr_assert(fabs(sw_fan_level_change_db(a) + sw_fan_level_change_db(b) -
                       sw_fan_level_change_db(a * b)) < 1e-9);
        /* Power is flow times pressure. */
        double product = sw_fan_flow_ratio(a, other) * sw_fan_pressure_ratio(a, other);
        cr_assert(fabs(sw_fan_power_ratio(a, other) / product - 1) < 1e-12);
    }
}

/* Louder is never fewer sones; no step at 40 phon, where two lines meet; phons undo sones. */
Test(properties, sones) {
    chance is = {0x5EED0004};
    for (int trial = 0; trial < TRIALS; trial++) {
        double a = between(&is, 0.01, 100), b = between(&is, 0.01, 100);
        cr_assert(sw_sones(fmin(a, b)) <= sw_sones(fmax(a, b)), "%g and %g phon", a, b);
        cr_assert(sw_phons(fmin(a, b)) <= sw_phons(fmax(a, b)), "%g and %g sone", a, b);
        cr_assert(fabs(sw_phons(sw_sones(a)) - a) < 1e-9, "%g phon there and back", a);
    }
    for (double step = 1; step > 1e-9; step /= 2) {
        double under = sw_sones(40 - step), over = sw_sones(40 + step);
        cr_assert(under < 1 && over > 1, "%g phon about 40", step);
        cr_assert(over - under < 0.15 * step, "a step of %g sone at 40 phon", over - under);
    }
    cr_assert_eq(sw_sones(40), 1);
}

/* ---- heat -------------------------------------------------------------------------------- */

/* More heat is never cooler, never quieter, and never asks for less air. */
Test(properties, heat) {
    chance is = {0x5EED0005};
    for (int trial = 0; trial < TRIALS; trial++) {
        double a = between(&is, 5, 400), b = between(&is, 5, 400);
        double little = fmin(a, b), much = fmax(a, b);
        double full = between(&is, 0.05, 1), room = between(&is, 10, 35),
               rise = between(&is, 5, 60);
        /* The speed at which the cooler holds this rise. */
        double slow = sw_speed_share(full, rise / little), fast = sw_speed_share(full, rise / much);
        cr_assert(slow <= fast, "trial %d: %g W %g, %g W %g", trial, little, slow, much, fast);
        cr_assert(slow > 0 && fast <= 1, "trial %d", trial);
        cr_assert(sw_fan_level_change_db(slow) <= sw_fan_level_change_db(fast), "trial %d", trial);
        /* At that speed the rise is what was wanted, or all the fan can do is done. */
        double held = sw_temperature_c(room, much, sw_resistance_k_w(full, fast));
        if (fast < 1)
            cr_assert(fabs(held - room - rise) < 1e-6, "trial %d: %g, not %g", trial, held - room,
                      rise);
        else
            cr_assert(held - room >= rise - 1e-6, "trial %d", trial);
        double speed = between(&is, 0.1, 1), faster = between(&is, speed, 1);
        double resistance = sw_resistance_k_w(full, speed);
        cr_assert(sw_temperature_c(room, little, resistance) <=
                  sw_temperature_c(room, much, resistance));
        cr_assert(sw_resistance_k_w(full, faster) <= resistance);
        double flow = between(&is, 10, 300), more = between(&is, flow, 300);
        cr_assert(sw_air_rise_k(little, flow) <= sw_air_rise_k(much, flow));
        cr_assert(sw_air_rise_k(much, more) <= sw_air_rise_k(much, flow));
        cr_assert(sw_air_flow_m3_h(little, rise) <= sw_air_flow_m3_h(much, rise));
        cr_assert(fabs(sw_air_rise_k(much, sw_air_flow_m3_h(much, rise)) - rise) < 1e-9);
    }
}

/* Warmer or thinner air is lighter. A raised clock and voltage never give less heat. */
Test(properties, density_and_switching) {
    chance is = {0x5EED0006};
    for (int trial = 0; trial < TRIALS; trial++) {
        double warm = between(&is, 5, 45), warmer = between(&is, warm, 45);
        double thin = between(&is, 70000, 105000), thick = between(&is, thin, 105000);
        cr_assert(sw_air_density_kg_m3(thin, warmer) <= sw_air_density_kg_m3(thin, warm));
        cr_assert(sw_air_density_kg_m3(thin, warm) <= sw_air_density_kg_m3(thick, warm));
        double leak = between(&is, 0, 1), clock = between(&is, 0.5, 1.3);
        double faster = between(&is, clock, 1.4), volt = between(&is, 0.8, 1.2);
        double higher = between(&is, volt, 1.3), heat = between(&is, 10, 300);
        double now = sw_raised_heat_w(heat, leak, clock, volt);
        cr_assert(sw_raised_heat_w(heat, leak, faster, volt) >= now);
        cr_assert(sw_raised_heat_w(heat, leak, clock, higher) >= now);
        /* The more of it leaks, the less a faster clock alone adds. */
        double leakier = between(&is, leak, 1);
        cr_assert(sw_raised_heat_w(heat, leakier, 1.2, 1) <=
                  sw_raised_heat_w(heat, leak, 1.2, 1) + 1e-9);
        cr_assert(sw_switching_w(1, clock, volt) <= sw_switching_w(1, faster, higher));
    }
}

/* ---- power ------------------------------------------------------------------------------- */

/* What the wall gives is never less than what the unit gives; more load never draws less, a
 * better unit never more; energy grows with both. */
Test(properties, wall) {
    chance is = {0x5EED0007};
    for (int trial = 0; trial < TRIALS; trial++) {
        double load = between(&is, 1, 900), more = between(&is, load, 900);
        double percent = between(&is, 50, 99), better = between(&is, percent, 100);
        cr_assert(sw_wall_w(load, percent) >= load);
        cr_assert(sw_wall_w(load, percent) <= sw_wall_w(more, percent));
        cr_assert(sw_wall_w(load, better) <= sw_wall_w(load, percent));
        double hours = between(&is, 0, 24), longer = between(&is, hours, 24);
        cr_assert(sw_energy_kwh_a_year(load, hours) <= sw_energy_kwh_a_year(more, hours));
        cr_assert(sw_energy_kwh_a_year(load, hours) <= sw_energy_kwh_a_year(load, longer));
    }
}

/* ---- links ------------------------------------------------------------------------------- */

/* Faster lines, more lanes, later generations carry more. */
Test(properties, links) {
    chance is = {0x5EED0008};
    for (int trial = 0; trial < TRIALS; trial++) {
        double slow = between(&is, 0.4, 21), fast = between(&is, slow, 21);
        double few = (double)(1 + below(&is, 4)), many = few + (double)below(&is, 4);
        cr_assert(sw_sata_mb_s(slow) <= sw_sata_mb_s(fast));
        cr_assert(sw_frl_gbit_s(slow) <= sw_frl_gbit_s(fast));
        cr_assert(sw_tmds_gbit_s(slow) <= sw_tmds_gbit_s(fast));
        cr_assert(sw_displayport_gbit_s(slow, few) <= sw_displayport_gbit_s(slow, many));
        cr_assert(sw_displayport_gbit_s(slow, few) <= sw_displayport_gbit_s(fast, few));
        cr_assert(sw_displayport_gbit_s(slow, few) < slow * few, "coding takes its part");
        cr_assert(sw_memory_gb_s(slow, few) <= sw_memory_gb_s(fast, many));
        for (double generation = 1; generation < 6; generation++)
            cr_assert(sw_pcie_gb_s(generation, few) < sw_pcie_gb_s(generation + 1, few));
        cr_assert(sw_pcie_gb_s(1, few) <= sw_pcie_gb_s(1, many));
    }
}

/* More pictures a second never ask for a slower clock; the clock is a whole number of its
 * steps; the refresh it leaves is no more than was asked, and less by a step at the most; no
 * picture is larger than its total; less blanking never asks for a faster clock. */
Test(properties, timings) {
    static const double steps_mhz[] = {0.25, 0.25, 0.001};
    chance is = {0x5EED0009};
    for (int trial = 0; trial < TRIALS; trial++) {
        int width = 8 * (int)(40 + below(&is, 1000)), height = (int)(200 + below(&is, 4200));
        double hz = between(&is, 24, 360), faster = between(&is, hz, 360), clocks[3];
        for (int blanking = SW_CVT; blanking <= SW_CVT_REDUCED_2; blanking++) {
            sw_timing slow, fast;
            cr_assert_eq(sw_mode_timing(&slow, width, height, hz, (sw_blanking)blanking), SW_OK);
            cr_assert_eq(sw_mode_timing(&fast, width, height, faster, (sw_blanking)blanking),
                         SW_OK);
            cr_assert(slow.clock_mhz <= fast.clock_mhz, "%dx%d %g and %g Hz, %d", width, height, hz,
                      faster, blanking);
            cr_assert(slow.total_width > width && slow.total_height > height);
            double steps = slow.clock_mhz / steps_mhz[blanking];
            cr_assert(fabs(steps - nearbyint(steps)) < 1e-6, "%dx%d %g Hz: %.9g MHz", width, height,
                      hz, slow.clock_mhz);
            double area = (double)slow.total_width * slow.total_height;
            double step_hz = steps_mhz[blanking] * 1e6 / area;
            /* With full blanking lines are made whole before the clock: up to 16 more. */
            double slack = blanking == SW_CVT ? hz * 16 / height : 0;
            cr_assert(slow.refresh_hz <= hz + 1e-6, "%dx%d %g Hz, %d: %.9g", width, height, hz,
                      blanking, slow.refresh_hz);
            cr_assert(slow.refresh_hz > hz - slack - step_hz - 1e-6, "%dx%d %g Hz, %d: %.9g", width,
                      height, hz, blanking, slow.refresh_hz);
            clocks[blanking] = slow.clock_mhz;
        }
        /* Reduced blanking is 160 columns, full blanking a fifth of the line at the least. */
        if (width >= 720)
            cr_assert(clocks[SW_CVT_REDUCED] <= clocks[SW_CVT] + 0.25, "%dx%d %g Hz", width, height,
                      hz);
        cr_assert(sw_picture_gbit_s(width, height, hz) <= sw_picture_gbit_s(width, height, faster));
    }
}

/* A thicker card never covers fewer slots, and just as many as it needs. */
Test(properties, slots) {
    chance is = {0x5EED000A};
    for (int trial = 0; trial < TRIALS; trial++) {
        double thin = between(&is, 1, 120), thick = between(&is, thin, 120);
        double covered = sw_slots_covered(thin);
        cr_assert(covered <= sw_slots_covered(thick));
        cr_assert(covered * 20.32 >= thin && (covered - 1) * 20.32 < thin, "%g mm", thin);
    }
}

/* ---- the air through a case -------------------------------------------------------------- */

/* In through an orifice of this area, m3/h, at a pressure inside: 0.6 A sqrt(2 dp/rho). */
static double orifice_m3_h(double vents_cm2, double inside_pa) {
    double flow = 0.6 * vents_cm2 / 1e4 * sqrt(2 * fabs(inside_pa) / 1.204) * 3600;
    return inside_pa > 0 ? -flow : flow;
}

static double curve_pa(const sw_air_fan *fan, double flow_m3_h) {
    double share = flow_m3_h / fan->free_m3_h;
    return fan->stall_pa * (1 - share * fabs(share));
}

static sw_air_fan any_fan(chance *is) {
    return (sw_air_fan){between(is, 10, 200), between(is, 2, 60), below(is, 2) == 0};
}

/* Every fan stands on its curve, all flows add up to 0, and the totals are theirs. */
Test(properties, flows_balance) {
    chance is = {0x5EED000B};
    for (int trial = 0; trial < TRIALS; trial++) {
        sw_air_fan fans[MOST];
        double flows[MOST], vents = below(&is, 8) == 0 ? 0 : between(&is, 5, 900), scale = 1;
        size_t count = 1 + below(&is, MOST);
        for (size_t i = 0; i < count; i++) {
            fans[i] = any_fan(&is);
            scale += fans[i].free_m3_h;
        }
        sw_air air;
        cr_assert_eq(sw_air_through(&air, flows, fans, count, vents), SW_OK);
        double through_vents = orifice_m3_h(vents, air.inside_pa), in = 0, out = 0;
        double comes_in = fmax(through_vents, 0);
        for (size_t i = 0; i < count; i++) {
            double against = fans[i].blows_in ? air.inside_pa : -air.inside_pa;
            cr_assert(fabs(curve_pa(&fans[i], flows[i]) - against) < 1e-6 * (60 + fabs(against)),
                      "trial %d: fan %zu off its curve", trial, i);
            *(fans[i].blows_in ? &in : &out) += flows[i];
            comes_in += fmax(fans[i].blows_in ? flows[i] : -flows[i], 0);
        }
        cr_assert(fabs(in - out + through_vents) < 1e-5 * scale, "trial %d: %g m3/h are lost",
                  trial, in - out + through_vents);
        cr_assert(fabs(air.in_m3_h - in) < 1e-6 * scale, "trial %d", trial);
        cr_assert(fabs(air.out_m3_h - out) < 1e-6 * scale, "trial %d", trial);
        cr_assert(fabs(air.through_m3_h - comes_in) < 1e-5 * scale, "trial %d", trial);
    }
}

/* One more fan blowing in draws the pressure inside towards its own stall pressure: never
 * lower where it can hold that pressure, and never below its own where it cannot and air
 * comes back through it. One more blowing out: the same the other way. */
Test(properties, one_fan_more) {
    chance is = {0x5EED000C};
    for (int trial = 0; trial < TRIALS; trial++) {
        sw_air_fan fans[MOST + 1];
        size_t count = 1 + below(&is, MOST);
        for (size_t i = 0; i <= count; i++)
            fans[i] = any_fan(&is);
        double vents = below(&is, 8) == 0 ? 0 : between(&is, 5, 900);
        sw_air before, after;
        cr_assert_eq(sw_air_through(&before, NULL, fans, count, vents), SW_OK);
        cr_assert_eq(sw_air_through(&after, NULL, fans, count + 1, vents), SW_OK);
        double sign = fans[count].blows_in ? 1 : -1, stall = fans[count].stall_pa;
        double was = sign * before.inside_pa, is_now = sign * after.inside_pa;
        cr_assert(is_now >= fmin(was, stall) - 1e-9, "trial %d: %g Pa, then %g", trial, was,
                  is_now);
        cr_assert(is_now <= fmax(was, stall) + 1e-9, "trial %d: %g Pa, then %g", trial, was,
                  is_now);
    }
}

/* Larger openings move the pressure inside towards that of the room, never past it; what
 * comes in does not fall. */
Test(properties, larger_openings) {
    chance is = {0x5EED000D};
    for (int trial = 0; trial < TRIALS; trial++) {
        sw_air_fan fans[MOST];
        size_t count = 1 + below(&is, MOST);
        for (size_t i = 0; i < count; i++)
            fans[i] = any_fan(&is);
        double small = between(&is, 0, 600), large = between(&is, small, 1200);
        sw_air tight, open;
        cr_assert_eq(sw_air_through(&tight, NULL, fans, count, small), SW_OK);
        cr_assert_eq(sw_air_through(&open, NULL, fans, count, large), SW_OK);
        cr_assert(fabs(open.inside_pa) <= fabs(tight.inside_pa) + 1e-9, "trial %d: %g Pa, then %g",
                  trial, tight.inside_pa, open.inside_pa);
        cr_assert(open.inside_pa * tight.inside_pa >= -1e-9, "trial %d: %g Pa, then %g", trial,
                  tight.inside_pa, open.inside_pa);
        cr_assert(open.through_m3_h >= tight.through_m3_h - 1e-4, "trial %d: %g m3/h, then %g",
                  trial, tight.through_m3_h, open.through_m3_h);
    }
}

/* All fans turned round: the same pressure under instead of over the room's. */
Test(properties, turned_round) {
    chance is = {0x5EED000E};
    for (int trial = 0; trial < TRIALS; trial++) {
        sw_air_fan fans[MOST], turned[MOST];
        size_t count = 1 + below(&is, MOST);
        for (size_t i = 0; i < count; i++) {
            fans[i] = turned[i] = any_fan(&is);
            turned[i].blows_in = !fans[i].blows_in;
        }
        double vents = between(&is, 0, 900);
        sw_air one, other;
        cr_assert_eq(sw_air_through(&one, NULL, fans, count, vents), SW_OK);
        cr_assert_eq(sw_air_through(&other, NULL, turned, count, vents), SW_OK);
        cr_assert(fabs(one.inside_pa + other.inside_pa) < 1e-9, "trial %d", trial);
        cr_assert(fabs(one.in_m3_h - other.out_m3_h) < 1e-3, "trial %d", trial);
        cr_assert(fabs(one.through_m3_h - other.through_m3_h) < 1e-3, "trial %d", trial);
    }
}
