/* Calendar dates of ISO 8601, as a count of days. */
#include "check/stage.h"

#include <string.h>

static bool is_leap(int year) { return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0); }

/* `count` digits; -1 when they are none. */
static int number(const char *digits, size_t count) {
    int value = 0;
    for (size_t i = 0; i < count; i++) {
        if (digits[i] < '0' || digits[i] > '9')
            return -1;
        value = value * 10 + (digits[i] - '0');
    }
    return value;
}

bool sw_date_parse(int64_t *out, const char *text) {
    static const int days_of[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    if (strlen(text) != 10 || text[4] != '-' || text[7] != '-')
        return false;
    int year = number(text, 4), month = number(text + 5, 2), day = number(text + 8, 2);
    if (year < 1 || month < 1 || month > 12 || day < 1)
        return false;
    if (day > days_of[month - 1] + (month == 2 && is_leap(year)))
        return false;
    int64_t before = year - 1;
    int64_t days = before * 365 + before / 4 - before / 100 + before / 400;
    for (int m = 1; m < month; m++)
        days += days_of[m - 1] + (m == 2 && is_leap(year));
    *out = days + day - 1;
    return true;
}
