/* The calendar of ISO 8601, a day at a time: slow, and written without sight of the program's. */
#include "shopping.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int length_of(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return days[month - 1] + (month == 2 && leap);
}

Date read_date(const char *text) {
    return (Date){(int)strtol(text, NULL, 10), (int)strtol(text + 5, NULL, 10),
                  (int)strtol(text + 8, NULL, 10)};
}

Date days_later(Date d, long days) {
    while (days-- > 0)
        if (++d.day > length_of(d.year, d.month)) {
            d.day = 1;
            d.year += d.month == 12;
            d.month = d.month % 12 + 1;
        }
    return d;
}

Date months_later(Date d, long months) {
    while (months-- > 0) {
        d.year += d.month == 12;
        d.month = d.month % 12 + 1;
    }
    int last = length_of(d.year, d.month);
    d.day = d.day > last ? last : d.day;
    return d;
}

static bool before(Date a, Date b) {
    return a.year != b.year     ? a.year < b.year
           : a.month != b.month ? a.month < b.month
                                : a.day < b.day;
}

long days_to(Date from, Date to) {
    long days = 0;
    for (; before(from, to); days++)
        from = days_later(from, 1);
    return days;
}

bool is_date(const cJSON *told, Date want) {
    char text[32];
    snprintf(text, sizeof text, "%04d-%02d-%02d", want.year, want.month, want.day);
    return cJSON_IsString(told) && !strcmp(told->valuestring, text);
}
