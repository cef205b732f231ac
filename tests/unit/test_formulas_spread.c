/* Student's distribution and the width in which one value more lies. Each value names where it is
 * published; what is told of a method was reckoned by it apart from this program. */
#include "near.h"

#include <string.h>

#include "formulas/formulas.h"

#define PI 3.14159265358979323846

/* ---- tables ----------------------------------------------------------------------------- */

/* NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, upper critical values, read in a
 * copy that names it; the row of 49 from memory. */
static const struct {
    double degrees, t[5];
} table[] = {
    {1, {3.078, 6.314, 12.706, 31.821, 63.657}}, {2, {1.886, 2.920, 4.303, 6.965, 9.925}},
    {3, {1.638, 2.353, 3.182, 4.541, 5.841}},    {4, {1.533, 2.132, 2.776, 3.747, 4.604}},
    {5, {1.476, 2.015, 2.571, 3.365, 4.032}},    {6, {1.440, 1.943, 2.447, 3.143, 3.707}},
    {7, {1.415, 1.895, 2.365, 2.998, 3.499}},    {8, {1.397, 1.860, 2.306, 2.896, 3.355}},
    {9, {1.383, 1.833, 2.262, 2.821, 3.250}},    {10, {1.372, 1.812, 2.228, 2.764, 3.169}},
    {11, {1.363, 1.796, 2.201, 2.718, 3.106}},   {12, {1.356, 1.782, 2.179, 2.681, 3.055}},
    {13, {1.350, 1.771, 2.160, 2.650, 3.012}},   {14, {1.345, 1.761, 2.145, 2.624, 2.977}},
    {15, {1.341, 1.753, 2.131, 2.602, 2.947}},   {16, {1.337, 1.746, 2.120, 2.583, 2.921}},
    {17, {1.333, 1.740, 2.110, 2.567, 2.898}},   {18, {1.330, 1.734, 2.101, 2.552, 2.878}},
    {19, {1.328, 1.729, 2.093, 2.539, 2.861}},   {20, {1.325, 1.725, 2.086, 2.528, 2.845}},
    {21, {1.323, 1.721, 2.080, 2.518, 2.831}},   {22, {1.321, 1.717, 2.074, 2.508, 2.819}},
    {23, {1.319, 1.714, 2.069, 2.500, 2.807}},   {24, {1.318, 1.711, 2.064, 2.492, 2.797}},
    {25, {1.316, 1.708, 2.060, 2.485, 2.787}},   {26, {1.315, 1.706, 2.056, 2.479, 2.779}},
    {27, {1.314, 1.703, 2.052, 2.473, 2.771}},   {28, {1.313, 1.701, 2.048, 2.467, 2.763}},
    {29, {1.311, 1.699, 2.045, 2.462, 2.756}},   {30, {1.310, 1.697, 2.042, 2.457, 2.750}},
    {40, {1.303, 1.684, 2.021, 2.423, 2.704}},   {49, {1.299, 1.677, 2.010, 2.405, 2.680}},
    {60, {1.296, 1.671, 2.000, 2.390, 2.660}},   {100, {1.290, 1.660, 1.984, 2.364, 2.626}},
    {1e7, {1.282, 1.645, 1.960, 2.326, 2.576}}}; /* printed for infinitely many */

Test(spread, table_of_student) {
    static const double below[] = {0.90, 0.95, 0.975, 0.99, 0.995};
    for (size_t i = 0; i < COUNT(table); i++)
        for (size_t k = 0; k < COUNT(below); k++)
            NEAR(sw_student_t(below[k], table[i].degrees), table[i].t[k], 0.000501,
                 "%g of it below, %g degrees", below[k], table[i].degrees);
}

/* Roots of the regularized incomplete beta function found with 40 digits by another program
 * (mpmath). */
Test(spread, sixteen_digits) {
    static const double rows[][3] = {
        {0.95, 4, 2.13184678632665},      {0.95, 11, 1.795884818704044},
        {0.95, 49, 1.676550892616854},    {0.95, 9999, 1.645006033311299},
        {0.975, 9999, 1.960201263621358}, {0.6, 7, 0.2631668613520228},
        {0.999, 3, 10.21453185240739},    {0.95, 10000, 1.645006018069243},
        {0.75, 30, 0.6827556933212926},   {0.50001, 6, 2.612789059315547e-5},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        NEAR(sw_student_t(rows[i][0], rows[i][1]), rows[i][2], 1e-10 * rows[i][2],
             "%g of it below, %g degrees", rows[i][0], rows[i][1]);
}

/* ---- closed forms ------------------------------------------------------------------------- */

static const double shares[] = {1e-12, 1e-6, 0.001, 0.05,  0.2,   0.4,      0.499999,
                                0.51,  0.6,  0.75,  0.875, 0.975, 0.999999, 1 - 1e-12};

/* With 1 degree it is Cauchy's distribution: its quantile is a tangent. */
Test(spread, one_degree) {
    for (size_t i = 0; i < COUNT(shares); i++) {
        /* the tangent by the tail, where the other would lose digits */
        double p = shares[i], tail = p < 0.5 ? p : 1 - p;
        double t = tail < 0.25 ? 1 / tan(PI * tail) : tan(PI * (0.5 - tail));
        NEAR(sw_student_t(p, 1), p < 0.5 ? -t : t, 1e-10 * t, "%g", p);
    }
}

/* With 2 and 4 degrees its distribution function is algebraic (W. T. Shaw, Journal of Computational
 * Finance 9, 2006, from memory; for 2 by solving A and S 26.7.4, which is t / sqrt(2 + t^2)). */
Test(spread, two_and_four_degrees) {
    for (size_t i = 0; i < COUNT(shares); i++) {
        double p = shares[i], alpha = 4 * p * (1 - p);
        double two = 2 * (p - 0.5) * sqrt(2 / alpha);
        NEAR(sw_student_t(p, 2), two, 1e-10 * fabs(two), "%g, 2 degrees", p);
        double q = cos(acos(sqrt(alpha)) / 3) / sqrt(alpha);
        double four = (p < 0.5 ? -2 : 2) * sqrt(q - 1);
        /* near the middle its own subtraction leaves few digits */
        NEAR(sw_student_t(p, 4), four, 1e-9 * fabs(four) + 1e-9, "%g, 4 degrees", p);
    }
}

/* Abramowitz and Stegun 26.7.3 and 26.7.4: P(-t < T < t) as finite sums, for whole degrees. */
static double share_between(double t, int degrees) {
    double angle = atan(t / sqrt(degrees)), cosine = cos(angle), term = 1, sum = 0;
    bool is_odd = degrees % 2 != 0;
    if (is_odd)
        term = cosine;
    for (int k = is_odd ? 1 : 0; k <= degrees - 2; k += 2) {
        sum += term;
        term *= cosine * cosine * (k + 1) / (k + 2);
    }
    return is_odd ? 2 / PI * (angle + sin(angle) * sum) : sin(angle) * sum;
}

Test(spread, finite_sums) {
    static const int degrees[] = {1,  2,  3,   4,   5,   6,    9,    10,
                                  49, 50, 121, 500, 999, 3000, 9999, 10000};
    static const double within[] = {0.00002, 0.1, 0.5, 0.8, 0.9, 0.95, 0.99, 0.999};
    for (size_t i = 0; i < COUNT(degrees); i++)
        for (size_t k = 0; k < COUNT(within); k++) {
            double t = sw_student_t((1 + within[k]) / 2, degrees[i]);
            NEAR(share_between(t, degrees[i]), within[k], 1e-11, "%g within, %d degrees", within[k],
                 degrees[i]);
        }
}

/* ---- shape ---------------------------------------------------------------------------------- */

Test(spread, shape_of_the_quantile) {
    static const double degrees[] = {1, 1.5, 4, 49, 1000.25, 10000};
    for (size_t i = 0; i < COUNT(degrees); i++) {
        double before = -INFINITY;
        cr_expect_eq(sw_student_t(0.5, degrees[i]), 0);
        for (int k = 1; k < 1000; k++) {
            double t = sw_student_t(k / 1000.0, degrees[i]);
            cr_expect(t > before, "rises, %d, %g", k, degrees[i]);
            NEAR(sw_student_t(1 - k / 1000.0, degrees[i]), -t, 1e-9 * (1 + fabs(t)), "mirrored");
            before = t;
        }
    }
    for (int k = 1; k < 300; k++)
        cr_expect(sw_student_t(0.95, k) > sw_student_t(0.95, k + 0.5), "falls with degrees, %d", k);
}

Test(spread, outside_of_what_it_is_for) {
    NONE(sw_student_t(0, 4));
    NONE(sw_student_t(1, 4));
    NONE(sw_student_t(-0.1, 4));
    NONE(sw_student_t(NAN, 4));
    NONE(sw_student_t(0.95, 0.5));
    NONE(sw_student_t(0.95, 0));
    NONE(sw_student_t(0.95, NAN));
    NONE(sw_student_t(0.95, INFINITY));
    NONE(sw_next_half_width(-1, 5, 0.9));
    NONE(sw_next_half_width(1, 1, 0.9));
    NONE(sw_next_half_width(1, 5, 0));
    NONE(sw_next_half_width(1, 5, 1));
    NONE(sw_next_half_width(NAN, 5, 0.9));
}

/* ---- one value more ---------------------------------------------------------------------------
 */

/* t s sqrt(1 + 1/n) with the printed t of the table above, in hand: 2.132 x 1.2 x 1.0954 and so on.
 */
Test(spread, one_value_more) {
    NEAR(sw_next_half_width(1.2, 5, 0.9), 2.132 * 1.2 * 1.095445, 0.002, "5 values");
    NEAR(sw_next_half_width(0.04, 12, 0.9), 1.796 * 0.04 * 1.040833, 0.00005, "12 values");
    NEAR(sw_next_half_width(3, 50, 0.9), 1.677 * 3 * 1.009950, 0.002, "50 values");
    NEAR(sw_next_half_width(3, 31, 0.95), 2.042 * 3 * 1.016001, 0.002, "31 values, 95 %%");
    cr_expect_eq(sw_next_half_width(0, 5, 0.9), 0);
}

/* Measures of a catalog call both by name. */
Test(spread, by_name) {
    static const double t_of[] = {0.95, 4}, width_of[] = {1.2, 5, 0.9};
    size_t found = 0;
    for (size_t i = 0; i < sw_formula_count(); i++) {
        const sw_formula *is = sw_formula_at(i);
        if (strcmp(is->name, "student_t") == 0 && ++found)
            NEAR(is->of(t_of), 2.132, 0.0005, "student_t, %d arguments", is->arguments);
        if (strcmp(is->name, "next_half_width") == 0 && ++found)
            NEAR(is->of(width_of), 2.802, 0.002, "next_half_width, %d arguments", is->arguments);
    }
    cr_expect_eq(found, 2);
}
