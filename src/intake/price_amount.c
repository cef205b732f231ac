/* Prices: sign, digits in groups, decimal mark, in one way only. */
#include "intake/price_amount.h"

#include <string.h>

static bool is_digit(char byte) { return byte >= '0' && byte <= '9'; }

/* ---- the sign of the currency ------------------------------------------------------------ */

/* What is left of [from, end) without a sign in front or behind, and one blank beside it. */
typedef struct span {
    const char *from, *end;
} span;

static size_t blank_before(span in) {
    for (size_t length = 1; length <= 3 && (size_t)(in.end - in.from) >= length; length++)
        if (sw_blank_length(in.end - length) == length)
            return length;
    return 0;
}

static bool take_before(span *in, const char *sign) {
    size_t length = strlen(sign);
    if ((size_t)(in->end - in->from) < length || memcmp(in->from, sign, length) != 0)
        return false;
    in->from += length;
    in->from += sw_blank_length(in->from);
    return true;
}

static bool take_behind(span *in, const char *sign) {
    size_t length = strlen(sign);
    if ((size_t)(in->end - in->from) < length || memcmp(in->end - length, sign, length) != 0)
        return false;
    in->end -= length;
    in->end -= blank_before(*in);
    return true;
}

static bool take_sign(span *in, const sw_price_style *style) {
    for (size_t i = 0; i < style->sign_count; i++) {
        if (style->sign_place != SW_SIGN_BEHIND && take_before(in, style->signs[i]))
            return true;
        if (style->sign_place != SW_SIGN_BEFORE && take_behind(in, style->signs[i]))
            return true;
    }
    return false;
}

/* ---- digits --------------------------------------------------------------------------------- */

static const char *grouping_at(const sw_price_style *style, span in) {
    for (size_t i = 0; i < style->grouping_count; i++) {
        size_t length = strlen(style->grouping[i]);
        if ((size_t)(in.end - in.from) >= length &&
            memcmp(in.from, style->grouping[i], length) == 0)
            return style->grouping[i];
    }
    return NULL;
}

static size_t digits_at(span in) {
    size_t count = 0;
    while (in.from + count < in.end && is_digit(in.from[count]))
        count++;
    return count;
}

static bool add_digits(int64_t *number, span *in, size_t count) {
    for (size_t i = 0; i < count; i++, in->from++) {
        *number = *number * 10 + (*in->from - '0');
        if (*number > SW_MONEY_LIMIT)
            return false;
    }
    return true;
}

static bool take_whole(int64_t *number, span *in, const sw_price_style *style, const char **what) {
    size_t count = digits_at(*in);
    bool zero = in->from < in->end && *in->from == '0';
    *what = "is larger than any price";
    if (!add_digits(number, in, count))
        return false;
    const char *mark = grouping_at(style, *in);
    if (mark == NULL) {
        *what = "has a thousand or more without a mark between the groups";
        return !style->grouped_must || count <= 3;
    }
    *what = "has a mark between digits where no group of three begins";
    if (count > 3 || (zero && count > 0))
        return false;
    size_t length = strlen(mark);
    while ((size_t)(in->end - in->from) >= length && memcmp(in->from, mark, length) == 0) {
        in->from += length;
        if (digits_at(*in) != 3)
            return false;
        if (!add_digits(number, in, 3)) {
            *what = "is larger than any price";
            return false;
        }
    }
    return true;
}

static bool take_decimals(int64_t *number, span *in, const sw_price_style *style,
                          const char **what) {
    size_t count = 0, full = (size_t)style->digits;
    bool marked = in->from < in->end && *in->from == style->decimal;
    if (marked) {
        in->from++;
        count = digits_at(*in);
        *what = "has a decimal mark without a digit behind it";
        if (count == 0)
            return false;
    }
    *what = "has another number of digits behind the decimal mark than this list writes";
    bool good = style->decimals == SW_DECIMALS_FULL            ? count == full
                : style->decimals == SW_DECIMALS_WHOLE_OR_FULL ? count == 0 || count == full
                : style->decimals == SW_DECIMALS_UP_TO         ? count <= full
                                                               : count == 0;
    if (!good)
        return false;
    *what = "is larger than any price";
    if (!add_digits(number, in, count))
        return false;
    for (; count < full; count++)
        if ((*number *= 10) > SW_MONEY_LIMIT)
            return false;
    return true;
}

bool sw_amount_read(int64_t *out, const sw_price_style *style, const char *cell,
                    const char **what) {
    span in = {cell, cell + strlen(cell)};
    int64_t number = 0;
    *what = "is empty";
    if (cell[0] == '\0')
        return false;
    *what = "is a formula, not a price";
    if (strchr("=@", cell[0]) != NULL)
        return false;
    bool has_sign = take_sign(&in, style);
    *what = "has not the currency's sign where this list writes it";
    if (style->sign_must && !has_sign)
        return false;
    *what = "does not begin with a digit";
    if (digits_at(in) == 0)
        return false;
    if (!take_whole(&number, &in, style, what) || !take_decimals(&number, &in, style, what))
        return false;
    *what = "holds something that is no part of a price of this list";
    if (in.from != in.end)
        return false;
    *what = "is a price of nothing";
    if (number == 0)
        return false;
    *out = number;
    return true;
}

/* ---- tax --------------------------------------------------------------------------------------
 */

bool sw_amount_tax(int64_t *amount, const sw_price_style *style) {
    const int64_t whole = 100000; /* 100 % in thousandths */
    if (!style->has_tax || style->list_with == style->listings_with)
        return true;
    int64_t with = whole + style->tax_milli;
    /* Both factors are below 2^31. */
    *amount = style->listings_with ? sw_divide(*amount * with, whole, SW_HALF_UP)
                                   : sw_divide(*amount * whole, with, SW_HALF_UP);
    return *amount <= SW_MONEY_LIMIT;
}

const char *sw_amount_example(sw_arena *arena, const sw_price_style *style) {
    static const char digits[] = "5600";
    const char *mark = style->grouping_count > 0 ? style->grouping[0] : "";
    const char *sign = style->sign_count > 0 ? style->signs[0] : "";
    bool before = style->sign_place == SW_SIGN_BEFORE;
    int count = style->decimals == SW_DECIMALS_NONE ? 0 : style->digits;
    char point[2] = "";
    if (count > 0)
        point[0] = style->decimal;
    return sw_arena_format(arena, "%s1%s234%s%.*s%s%s", before ? sign : "", mark, point, count,
                           digits, before || sign[0] == '\0' ? "" : " ", before ? "" : sign);
}
