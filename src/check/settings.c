/* What stands behind --set: a path, and one value or many. */
#include "check/settings.h"

#include <string.h>

#define DECIMALS_MOST 6

static bool wrong(sw_complaints *complaints, const char *place, const char *why, const char *mend,
                  const char *what) {
    sw_complain(complaints, "--set", place, why, mend, "%s", what);
    return false;
}

/* ---- from A to B by STEP ------------------------------------------------------------------------
 */

/* A decimal number: a sign, digits, and at most six behind a point. */
static bool is_decimal(const char *text, size_t length, int *decimals) {
    size_t at = length > 0 && text[0] == '-' ? 1 : 0, digits = 0;
    *decimals = 0;
    for (; at < length && text[at] >= '0' && text[at] <= '9'; at++)
        digits++;
    if (digits == 0 || digits > 9)
        return false;
    if (at == length)
        return true;
    if (text[at++] != '.')
        return false;
    for (; at < length && text[at] >= '0' && text[at] <= '9'; at++)
        (*decimals)++;
    return at == length && *decimals > 0 && *decimals <= DECIMALS_MOST;
}

/* In units of the last of `decimals`. */
static int64_t value_of(const char *text, size_t length, int decimals) {
    int64_t value = 0;
    int behind = -1;
    for (size_t i = 0; i < length; i++) {
        if (text[i] == '.')
            behind = 0;
        else if (text[i] != '-') {
            value = value * 10 + (text[i] - '0');
            behind += behind >= 0 ? 1 : 0;
        }
    }
    for (int i = behind < 0 ? 0 : behind; i < decimals; i++)
        value *= 10;
    return text[0] == '-' ? -value : value;
}

static const char *text_of(sw_arena *arena, int64_t value, int decimals) {
    const char *text = sw_money_text(arena, value < 0 ? -value : value, decimals);
    return text != NULL && value < 0 ? sw_arena_format(arena, "-%s", text) : text;
}

typedef struct ladder {
    int64_t from, to, step;
    int decimals;
} ladder;

/* "A:B:STEP"? */
static bool read_ladder(ladder *out, const char *text) {
    int64_t *const ends[] = {&out->from, &out->to, &out->step};
    const char *starts[3];
    size_t lengths[3];
    out->decimals = 0;
    for (int i = 0; i < 3; i++) {
        int decimals;
        starts[i] = text;
        lengths[i] = strcspn(text, ":");
        bool last = text[lengths[i]] == '\0';
        if (last != (i == 2) || !is_decimal(text, lengths[i], &decimals))
            return false;
        out->decimals = decimals > out->decimals ? decimals : out->decimals;
        text += lengths[i] + 1;
    }
    for (int i = 0; i < 3; i++)
        *ends[i] = value_of(starts[i], lengths[i], out->decimals);
    return true;
}

static bool climb(sw_setting *out, sw_arena *arena, const ladder *by, sw_complaints *complaints) {
    int64_t way = by->to - by->from;
    if (by->step == 0 || (way != 0 && (way < 0) != (by->step < 0)))
        return wrong(complaints, out->path, "the step leads from the first value to the last",
                     "write it like 300:900:50, or 900:300:-50", "has a step that never arrives");
    int64_t count = way / by->step + 1;
    if (count > SW_VALUES_MOST)
        return wrong(complaints, out->path, "a sweep has at most 200 values", "take a larger step",
                     "has too many values");
    for (int64_t i = 0; i < count; i++) {
        out->values[i] = text_of(arena, by->from + i * by->step, by->decimals);
        if (out->values[i] == NULL)
            return false;
        out->count++;
    }
    return true;
}

/* ---- one value, or those between the commas -------------------------------------------------- */

static bool split(sw_setting *out, sw_arena *arena, const char *text, sw_complaints *complaints) {
    for (;;) {
        size_t length = strcspn(text, ",");
        if (out->count == SW_VALUES_MOST)
            return wrong(complaints, out->path, "a sweep has at most 200 values", "give fewer",
                         "has too many values");
        out->values[out->count] = sw_arena_text(arena, text, length);
        if (out->values[out->count++] == NULL)
            return false;
        if (text[length] == '\0')
            return true;
        text += length + 1;
    }
}

sw_status sw_setting_read(sw_setting *out, sw_arena *arena, const char *text,
                          sw_complaints *complaints) {
    const char *equals = strchr(text, '=');
    size_t before = sw_complaints_count(complaints);
    ladder by;
    *out = (sw_setting){.values = SW_NEW(arena, const char *, SW_VALUES_MOST)};
    out->path = sw_arena_text(arena, text, equals == NULL ? strlen(text) : (size_t)(equals - text));
    if (out->values == NULL || out->path == NULL)
        return SW_NO_MEMORY;
    bool good;
    if (equals == NULL || equals == text || equals[1] == '\0')
        good = wrong(complaints, "", "a change is a place in the scenario and what to put there",
                     "write it like budget.total=700", "is no PATH=VALUE");
    else if (strchr("{[\"", equals[1]) != NULL) {
        out->values[out->count++] = equals + 1;
        good = true;
    } else if (read_ladder(&by, equals + 1))
        good = climb(out, arena, &by, complaints);
    else
        good = split(out, arena, equals + 1, complaints);
    return good ? SW_OK : sw_complaints_count(complaints) > before ? SW_BAD_DATA : SW_NO_MEMORY;
}
