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

static int days_in(int year, int month) {
    static const int days_of[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days_of[month - 1] + (month == 2 && is_leap(year) ? 1 : 0);
}

static int64_t first_day(int64_t year) {
    int64_t before = year - 1;
    return before * 365 + before / 4 - before / 100 + before / 400;
}

typedef struct date {
    int year, month, day; /* from 1 */
} date;

static date date_of(int64_t day) {
    date out = {.year = (int)(day / 366) + 1, .month = 1};
    while (first_day(out.year + 1) <= day)
        out.year++;
    int64_t left = day - first_day(out.year);
    for (; left >= days_in(out.year, out.month); out.month++)
        left -= days_in(out.year, out.month);
    out.day = (int)left + 1;
    return out;
}

static int64_t day_of(date of) {
    int64_t days = first_day(of.year);
    for (int month = 1; month < of.month; month++)
        days += days_in(of.year, month);
    return days + of.day - 1;
}

const char *sw_date_text(sw_arena *arena, int64_t day) {
    date of = date_of(day);
    return sw_arena_format(arena, "%04d-%02d-%02d", of.year, of.month, of.day);
}

int64_t sw_months_after(int64_t day, int months) {
    date of = date_of(day);
    int64_t month = of.month - 1 + (int64_t)months;
    of.year += (int)(month / 12);
    of.month = (int)(month % 12) + 1;
    int last = days_in(of.year, of.month);
    of.day = of.day < last ? of.day : last;
    return day_of(of);
}

bool sw_date_parse(int64_t *out, const char *text) {
    if (strlen(text) != 10 || text[4] != '-' || text[7] != '-')
        return false;
    int year = number(text, 4), month = number(text + 5, 2), day = number(text + 8, 2);
    if (year < 1 || month < 1 || month > 12 || day < 1)
        return false;
    if (day > days_in(year, month))
        return false;
    *out = day_of((date){year, month, day});
    return true;
}

bool sw_get_date(sw_check *check, const sw_node *object, const char *name, sw_need need,
                 const char **text, int64_t *day) {
    sw_node found;
    if (!sw_get(check, object, name, need, SW_JSON_TEXT, &found))
        return false;
    if (!sw_date_parse(day, found.json->text)) {
        sw_wrong(check, &found, "dates are days of the calendar, like 2026-03-02 (ISO 8601)",
                 "write year-month-day", "is no date: \"%s\"", sw_shown(check, found.json->text));
        return false;
    }
    *text = sw_keep_text(check, found.json->text);
    return !check->no_memory;
}
