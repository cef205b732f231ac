/* Numbers against published ones. */
#ifndef NEAR_H
#define NEAR_H

#include <criterion/criterion.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* `got` lies within `tolerance` of `expected`; NAN never does. The rest names the row. */
#define NEAR(got, expected, tolerance, ...)                                                        \
    do {                                                                                           \
        double near_got = (got), near_expected = (expected);                                       \
        cr_expect(fabs(near_got - near_expected) <= (tolerance), "%s: %.9g, not %.9g",             \
                  near_row(__VA_ARGS__), near_got, near_expected);                                 \
    } while (0)

/* The same to the last bits but a few: for what is exact in the source. */
#define EXACT(got, expected, ...) NEAR(got, expected, 1e-12 * fabs((double)(expected)), __VA_ARGS__)

/* Outside what the formula is for. */
#define NONE(got) cr_expect(isnan(got), "%s: %.9g, not NAN", #got, (double)(got))

__attribute__((format(printf, 1, 2))) static inline const char *near_row(const char *format, ...) {
    static char row[128];
    va_list rest;
    va_start(rest, format);
    vsnprintf(row, sizeof row, format, rest);
    va_end(rest);
    return row;
}

#endif
