/* Power: the wall, energy, switching. Each value names where it is published. What the
 * 80 PLUS levels ask and what plugs carry are tables of the catalog: tests/trade. */
#include "near.h"

#include "swapworth.h"

/* What is drawn is what is given over the efficiency, by definition; 400 W at 80 % drawing
 * 500 W is read in a note of theglobalinside.com. */
Test(power, wall) {
    static const double rows[][4] = {/* output, percent, wall, loss */
                                     {300, 90, 333.33, 33.33},
                                     {450, 87, 517.24, 67.24},
                                     {400, 80, 500, 100},
                                     {0, 90, 0, 0},
                                     {250, 100, 250, 0}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        double wall = sw_wall_w(rows[i][0], rows[i][1]);
        NEAR(wall, rows[i][2], 0.01, "%g W at %g %%", rows[i][0], rows[i][1]);
        NEAR(wall - rows[i][0], rows[i][3], 0.01, "loss of %g W at %g %%", rows[i][0], rows[i][1]);
    }
    NONE(sw_wall_w(300, 0));
    NONE(sw_wall_w(300, -10));
    NONE(sw_wall_w(300, 101));
    NONE(sw_wall_w(-1, 90));
    NONE(sw_wall_w(300, NAN));
}

/* kW x hours a day x 365, arithmetic. */
Test(power, energy_a_year) {
    EXACT(sw_energy_kwh_a_year(100, 8), 292, "100 W, 8 h");
    NEAR(sw_energy_kwh_a_year(100, 8) * 0.15, 43.80, 0.005, "at 0.15");
    double mixed =
        sw_energy_kwh_a_year(60, 4) + sw_energy_kwh_a_year(350, 2) + sw_energy_kwh_a_year(1.5, 18);
    NEAR(mixed, 352.955, 0.0005, "60 W 4 h, 350 W 2 h, 1.5 W 18 h");
    NEAR(mixed * 0.20, 70.59, 0.005, "at 0.20");
    EXACT(sw_energy_kwh_a_year(100, 0), 0, "never on");
    EXACT(sw_energy_kwh_a_year(100, 24), 876, "always on");
    NONE(sw_energy_kwh_a_year(100, -1));
    NONE(sw_energy_kwh_a_year(100, 24.5));
}

/* C f V^2: Rabaey; Weste and Harris; cited from memory. */
Test(power, switching) {
    EXACT(sw_switching_w(1, 3, 1.0), 3.0, "1 nF, 3 GHz, 1 V");
    NEAR(sw_switching_w(20, 3.5, 1.2), 100.8, 1e-9, "20 nF, 3.5 GHz, 1.2 V");
}

/* Its scaling, (f2/f1)(V2/V1)^2, from the same books. */
Test(power, raised_clock) {
    NEAR(sw_raised_heat_w(1, 0, 1.1, 1.05), 1.21275, 1e-9, "clock x 1.1, voltage x 1.05");
    NEAR(sw_raised_heat_w(1, 0, 0.9, 0.9), 0.729, 1e-9, "both x 0.9");
    NEAR(sw_raised_heat_w(65, 0, 4.0 / 3.6, 1.20 / 1.10), 85.95, 0.01, "65 W, 3.6 to 4.0 GHz");
    NEAR(sw_switching_w(20, 3.5 * 1.1, 1.2 * 1.05), sw_raised_heat_w(100.8, 0, 1.1, 1.05), 1e-9,
         "the scaling is that of C f V^2");
    /* Leakage does not know the clock; that it goes with V^2: common practice, no source. */
    NEAR(sw_raised_heat_w(100, 1, 1.5, 1.1), 121, 1e-9, "leakage alone");
    NEAR(sw_raised_heat_w(100, 0.3, 1.1, 1.05), 0.7 * 121.275 + 0.3 * 110.25, 1e-9,
         "three tenths leakage");
    NEAR(sw_raised_heat_w(65, 0.3, 1, 1), 65, 1e-9, "nothing raised");
    NONE(sw_raised_heat_w(65, -0.1, 1, 1));
    NONE(sw_raised_heat_w(65, 1.1, 1, 1));
    NONE(sw_raised_heat_w(65, 0.2, 0, 1));
    NONE(sw_raised_heat_w(65, 0.2, 1, -1));
}
