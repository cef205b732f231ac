/* How far apart measured values lie. Sources: swapworth.h. */
#include "swapworth.h"

#include <math.h>

#define PI 3.14159265358979323846
#define DEGREES_MOST 1e7
#define STEPS_MOST 2000
#define TINY 1e-300
#define RELATIVE 1e-15

/* Gamma(a + 1/2) / Gamma(a). Its series in 1/a (the quotient of two Stirling series) is good to the
 * last bits from 40 up; below, Gamma(x + 1) = x Gamma(x) leads there. lgamma would keep a sign in
 * a variable of the whole program. */
static double gamma_step(double a) {
    double factor = 1;
    while (a < 40) {
        factor *= a / (a + 0.5);
        a++;
    }
    double x = 1 / a;
    double series = 1 - x / 8 + x * x / 128 + 5 * pow(x, 3) / 1024 - 21 * pow(x, 4) / 32768 -
                    399 * pow(x, 5) / 262144 + 869 * pow(x, 6) / 4194304 +
                    39325 * pow(x, 7) / 33554432;
    return factor * sqrt(a) * series;
}

static double not_zero(double x) { return fabs(x) < TINY ? TINY : x; }

/* The part of the incomplete beta function that is a continued fraction (Abramowitz and Stegun
 * 26.5.8), from the top down by Lentz's method: `c` and `d` are the quotients of two numerators and
 * of two denominators that follow each other. */
static double fraction(double a, double b, double x) {
    double c = 1, d = 1 / not_zero(1 - (a + b) * x / (a + 1)), value = d;
    for (int k = 2; k <= STEPS_MOST; k++) {
        int m = k / 2;
        double numerator = k % 2 == 0
                               ? m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
                               : -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
        d = 1 / not_zero(1 + numerator * d);
        c = not_zero(1 + numerator / c);
        value *= c * d;
        if (fabs(c * d - 1) < RELATIVE)
            return value;
    }
    return value;
}

static double density(double t, double degrees) {
    return gamma_step(degrees / 2) / sqrt(degrees * PI) *
           exp(-(degrees + 1) / 2 * log1p(t * t / degrees));
}

/* P(T > t) and P(0 < T < t) for t > 0: half of I_x(n/2, 1/2) with x = n / (n + t^2), and half of
 * I_y(1/2, n/2) with y = 1 - x (Abramowitz and Stegun 26.7.1). One is reckoned, by whichever
 * fraction ends soon; the other is what is left of a half. */
static void shares(double *beyond, double *within, double t, double degrees) {
    double a = degrees / 2, x = degrees / (degrees + t * t), y = t * t / (degrees + t * t);
    /* x^a y^(1/2) / B(a, 1/2), both being the same for I_x and I_y */
    double front = exp(-a * log1p(t * t / degrees)) * sqrt(y) * gamma_step(a) / sqrt(PI);
    if (x < (a + 1) / (a + 2.5)) {
        *beyond = front / a * fraction(a, 0.5, x) / 2;
        *within = 0.5 - *beyond;
    } else {
        *within = front / 0.5 * fraction(0.5, a, y) / 2;
        *beyond = 0.5 - *within;
    }
}

/* How far the share up to t > 0 is above 1/2 + `centre`; `tail` is 1/2 - `centre`. By the smaller
 * of the two, so that nothing cancels out. */
static double excess(double t, double degrees, double centre, double tail) {
    double beyond = 0, within = 0;
    shares(&beyond, &within, t, degrees);
    return tail < centre ? tail - beyond : within - centre;
}

/* Newton's steps, kept between a t that is too small and one that is not. */
static double quantile(double degrees, double centre, double tail) {
    double low = 0, high = 1;
    while (excess(high, degrees, centre, tail) < 0) {
        low = high;
        if (high > 1e150)
            return NAN;
        high *= 2;
    }
    double t = high / 2;
    for (int i = 0; i < STEPS_MOST; i++) {
        double over = excess(t, degrees, centre, tail);
        if (over < 0)
            low = t;
        else
            high = t;
        double next = t - over / density(t, degrees);
        if (!(next > low && next < high))
            next = low + (high - low) / 2;
        if (fabs(next - t) <= 4 * RELATIVE * t)
            return next;
        t = next;
    }
    return t;
}

double sw_student_t(double probability, double degrees) {
    if (!(probability > 0 && probability < 1 && degrees >= 1 && degrees <= DEGREES_MOST))
        return NAN;
    /* Exact: of numbers within a factor of two the difference is. */
    double centre = fabs(probability - 0.5);
    double tail = probability < 0.5 ? probability : 1 - probability;
    if (centre == 0)
        return 0;
    double t = quantile(degrees, centre, tail);
    return probability < 0.5 ? -t : t;
}

double sw_next_half_width(double deviation, double count, double share) {
    return deviation >= 0 && count >= 2 && share > 0 && share < 1
               ? sw_student_t((1 + share) / 2, count - 1) * deviation * sqrt(1 + 1 / count)
               : NAN;
}
