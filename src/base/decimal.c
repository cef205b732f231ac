/* Exact decimals: whole minor units and whole thousandths, checked arithmetic,
 * and the two roundings that money knows. */
#include "base/base.h"

#include <inttypes.h>
#include <math.h>

static const int64_t powers_of_ten[] = {1, 10, 100, 1000, 10000};

bool sw_milli_from_number(int64_t *out, double number) {
    if (!isfinite(number) || fabs(number) > 1e6)
        return false;
    double milli = round(number * 1000.0);
    /* A decimal of at most three places reads as the double nearest to it, and
     * so does the quotient here: they are equal exactly when it is one. */
    if (milli / 1000.0 != number)
        return false;
    *out = (int64_t)milli;
    return true;
}

bool sw_round(int64_t *out, double x) {
    if (!isfinite(x) || fabs(x) > 0x1p62)
        return false;
    *out = (int64_t)round(x);
    return true;
}

bool sw_round_to(int64_t *milli, double x, int decimals) {
    static const int64_t steps[] = {1000, 100, 10, 1}; /* in thousandths */
    static const double per_one[] = {1, 10, 100, 1000};
    int kept = decimals < 0 ? 0 : decimals > 3 ? 3 : decimals;
    int64_t step = steps[kept], whole = 0;
    if (!sw_round(&whole, x * per_one[kept]) || whole > INT64_MAX / step ||
        whole < INT64_MIN / step)
        return false;
    *milli = whole * step;
    return true;
}

int64_t sw_divide(int64_t numerator, int64_t denominator, sw_rounding rounding) {
    int64_t quotient = numerator / denominator;
    int64_t rest = numerator % denominator; /* has the numerator's sign */
    int64_t away = numerator < 0 ? -1 : 1;
    int64_t size = rest < 0 ? -rest : rest;
    int64_t other = denominator - size; /* rest against its complement: no doubling, no overflow */
    if (size > other || (size == other && (rounding == SW_HALF_UP || quotient % 2 != 0)))
        quotient += away;
    return quotient;
}

bool sw_add(int64_t *out, int64_t a, int64_t b) {
    if (b > 0 ? a > INT64_MAX - b : a < INT64_MIN - b)
        return false;
    *out = a + b;
    return true;
}

bool sw_multiply(int64_t *out, int64_t a, int64_t b) {
    int64_t product = 0;
    if (__builtin_mul_overflow(a, b, &product))
        return false;
    *out = product;
    return true;
}

static bool is_digit(char byte) { return byte >= '0' && byte <= '9'; }

bool sw_money_parse(int64_t *out, const char *text, int digits) {
    int64_t minor = 0;
    int decimals = -1; /* -1 until the point */
    if (!is_digit(text[0]))
        return false;
    for (const char *at = text; *at != '\0'; at++) {
        if (*at == '.' && decimals < 0 && is_digit(at[1])) {
            decimals = 0;
            continue;
        }
        if (!is_digit(*at) || (decimals >= 0 && ++decimals > digits))
            return false;
        minor = minor * 10 + (*at - '0');
        if (minor > SW_MONEY_LIMIT)
            return false;
    }
    for (int d = decimals < 0 ? 0 : decimals; d < digits; d++) {
        minor *= 10;
        if (minor > SW_MONEY_LIMIT)
            return false;
    }
    *out = minor;
    return true;
}

/* `units` with `digits` of them behind the point. */
static const char *decimal_text(sw_arena *arena, int64_t units, int digits) {
    uint64_t size = units < 0 ? 0 - (uint64_t)units : (uint64_t)units;
    uint64_t one = (uint64_t)powers_of_ten[digits];
    const char *sign = units < 0 ? "-" : "";
    if (digits == 0)
        return sw_arena_format(arena, "%s%" PRIu64, sign, size);
    return sw_arena_format(arena, "%s%" PRIu64 ".%0*" PRIu64, sign, size / one, digits, size % one);
}

const char *sw_money_text(sw_arena *arena, int64_t minor, int digits) {
    return decimal_text(arena, minor, digits);
}

const char *sw_milli_text(sw_arena *arena, int64_t milli, int decimals) {
    return decimal_text(arena, sw_divide(milli, powers_of_ten[3 - decimals], SW_HALF_UP), decimals);
}

const char *sw_milli_exact(sw_arena *arena, int64_t milli) {
    int decimals = milli % 1000 == 0 ? 0 : milli % 100 == 0 ? 1 : milli % 10 == 0 ? 2 : 3;
    return sw_milli_text(arena, milli, decimals);
}

void sw_text_add_millionths(sw_text *text, int64_t millionths) {
    int64_t milli = sw_divide(millionths, 1000, SW_HALF_UP);
    if (milli >= 10000 || milli <= -10000)
        milli = 100 * sw_divide(milli, 100, SW_HALF_UP);
    uint64_t size = milli < 0 ? (uint64_t)-milli : (uint64_t)milli;
    sw_text_addf(text, "%s%llu", milli < 0 ? "-" : "", (unsigned long long)(size / 1000));
    unsigned rest = (unsigned)(size % 1000);
    if (rest == 0)
        return;
    int digits = rest % 100 == 0 ? 1 : rest % 10 == 0 ? 2 : 3;
    sw_text_addf(text, ".%0*u", digits, digits == 1 ? rest / 100 : digits == 2 ? rest / 10 : rest);
}

void sw_text_add_figures(sw_text *text, int64_t number, int decimals) {
    uint64_t size = number < 0 ? 0 - (uint64_t)number : (uint64_t)number;
    uint64_t step = 1; /* what is rounded to: the third figure, at most one */
    /* The rounded number decides how many figures there are: 9.996 is 10.0. */
    for (; decimals > 0 && (size == 0 || (size + step / 2) / step >= 1000); step *= 10)
        decimals--;
    size = (size + step / 2) / step;
    uint64_t one = 1;
    for (int i = 0; i < decimals; i++)
        one *= 10;
    sw_text_addf(text, "%s%llu", number < 0 ? "-" : "", (unsigned long long)(size / one));
    if (decimals > 0)
        sw_text_addf(text, ".%0*llu", decimals, (unsigned long long)(size % one));
}

const char *sw_millionths_text(sw_arena *arena, int64_t millionths) {
    uint64_t size = millionths < 0 ? (uint64_t)-millionths : (uint64_t)millionths;
    uint64_t rest = size % 1000000;
    const char *sign = millionths < 0 ? "-" : "";
    int digits = 6;
    if (rest == 0)
        return sw_arena_format(arena, "%s%llu", sign, (unsigned long long)(size / 1000000));
    for (; rest % 10 == 0; rest /= 10)
        digits--;
    return sw_arena_format(arena, "%s%llu.%0*llu", sign, (unsigned long long)(size / 1000000),
                           digits, (unsigned long long)rest);
}
