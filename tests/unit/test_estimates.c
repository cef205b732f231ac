/* Loudness and the points of small machines against published formulas. */
#include "check/scenario.h"
#include "estimate/estimates.h"
#include "fitouts/fitouts.h"

#include <criterion/criterion.h>
#include <math.h>

/* N = 2^((P - 40) / 10) sone: ISO 131:1979; 40 to 80 phon give 1, 2, 4, 8, 16
 * (exact). From memory of the standard; read in secondary sources. */
Test(loudness, sone_from_phon_above_40) {
    const double phon[] = {40, 50, 60, 70, 80}, sone[] = {1, 2, 4, 8, 16};
    for (int i = 0; i < 5; i++)
        cr_expect_float_eq(sw_sones(phon[i]), sone[i], 1e-12, "%g phon", phon[i]);
}

/* 3 sone are 55.850 phon by P = 40 + 10 log2 N, same standard. */
Test(loudness, phon_of_three_sone) { cr_expect_float_eq(sw_sones(55.850), 3, 0.001); }

/* N = (P / 40)^2.642 below 40 phon: ISO 532-1 / DIN 45631, from memory. */
Test(loudness, low_levels) {
    cr_expect_float_eq(sw_sones(20), 0.1602, 0.0005);
    cr_expect_float_eq(sw_sones(30), 0.4676, 0.0005);
}

Test(loudness, rises_with_the_level_and_joins_at_40) {
    double before = 0;
    for (int i = 1; i <= 1200; i++) {
        double now = sw_sones(i / 10.0);
        cr_assert(now > before, "at %d tenths of a phon", i);
        before = now;
    }
    cr_expect_float_eq(sw_sones(39.999999), sw_sones(40), 1e-6);
}

/* Money of a job without a file: only what the functions read. */
static sw_scenario job(int64_t percent_milli, bool invoice, sw_rounding rounding) {
    return (sw_scenario){
        .labour_per_hour = 3600,
        .tax = {percent_milli, SW_PRICES_WITHOUT_TAX, rounding, invoice},
    };
}

/* 19.99 at 8.25 % is 1.649175, so 1.65; 2.30 at 7.5 % is 0.1725, so 0.17 both
 * ways; 1005 at 10 % is a tie, 100 to even and 101 away. Computed by decimal
 * arithmetic. */
Test(job_money, tax_on_a_line) {
    sw_scenario up = job(8250, false, SW_HALF_UP);
    cr_expect_eq(sw_landed(&up, 1999), 1999 + 165);
    sw_scenario even = job(7500, false, SW_HALF_EVEN);
    cr_expect_eq(sw_landed(&even, 230), 230 + 17);
    sw_scenario ten_up = job(10000, false, SW_HALF_UP), ten_even = job(10000, false, SW_HALF_EVEN);
    cr_expect_eq(sw_landed(&ten_up, 1005), 1005 + 101);
    cr_expect_eq(sw_landed(&ten_even, 1005), 1005 + 100);
}

/* Three lines of 10.30 at 7.5 %: 0.77 each, 2.31 in all, rounded per line; 2.32
 * on the invoice of 30.90. Which is lawful depends on the place. */
Test(job_money, per_line_is_not_per_invoice) {
    sw_scenario line = job(7500, false, SW_HALF_UP), invoice = job(7500, true, SW_HALF_UP);
    cr_expect_eq(3 * sw_landed(&line, 1030), 3090 + 231);
    cr_expect_eq(3 * sw_landed(&invoice, 1030) + sw_invoice_tax(&invoice, 3090), 3090 + 232);
}

Test(job_money, the_bill_limit_is_the_largest_bill_within_the_budget) {
    const int64_t percents[] = {0, 1, 7500, 8250, 19000, 25500, 100000};
    for (int p = 0; p < 7; p++)
        for (int rounding = 0; rounding < 2; rounding++) {
            sw_scenario invoice = job(percents[p], true, (sw_rounding)rounding);
            for (int64_t budget = 0; budget < 700; budget++) {
                int64_t bill = sw_bill_limit(&invoice, budget);
                cr_assert(bill + sw_invoice_tax(&invoice, bill) <= budget);
                cr_assert(bill + 1 + sw_invoice_tax(&invoice, bill + 1) > budget);
            }
        }
}

Test(job_money, labour_by_the_minute) {
    sw_scenario plain = job(0, false, SW_HALF_UP);
    cr_expect_eq(sw_labour(&plain, 60), 3600);
    cr_expect_eq(sw_labour(&plain, 25), 1500);
    plain.labour_per_hour = 1000;
    cr_expect_eq(sw_labour(&plain, 5), 83, "10.00 an hour: 5 minutes are 0.8333");
}
