/* Answers as people type them, to pieces and numbers. */
#include <stdio.h>
#include <string.h>

#include "intake/ask_stage.h"
#include "base/letters.h"
#include "read/plain.h"

bool sw_ask_refuse(sw_interview *interview, const char *format, ...) {
    va_list arguments;
    char *made = NULL;
    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    if (length >= 0)
        made = sw_arena_alloc(interview->arena, (size_t)length + 1, 1);
    if (made != NULL) {
        va_start(arguments, format);
        vsnprintf(made, (size_t)length + 1, format, arguments);
        va_end(arguments);
    }
    interview->failed |= made == NULL;
    interview->refusal = made == NULL ? "" : made;
    return false;
}

void sw_ask_notice(sw_interview *interview, const char *text) {
    const char *before = interview->notice;
    const char *made =
        sw_arena_format(interview->arena, "%s%s%s", before, before[0] != '\0' ? "\n" : "", text);
    interview->failed |= made == NULL;
    interview->notice = made == NULL ? "" : made;
}

void *sw_ask_room(sw_interview *interview, size_t count, size_t size) {
    void *room = sw_arena_alloc(interview->turn, count, size);
    interview->failed |= room == NULL;
    return room;
}

const char *sw_ask_format(sw_interview *interview, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    char *made = length < 0 ? NULL : sw_ask_room(interview, (size_t)length + 1, 1);
    if (made == NULL)
        return "";
    va_start(arguments, format);
    vsnprintf(made, (size_t)length + 1, format, arguments);
    va_end(arguments);
    return made;
}

const char *sw_ask_keep(sw_interview *interview, sw_text *text) {
    const char *kept = text->failed
                           ? NULL
                           : sw_arena_copy(interview->turn, text->bytes == NULL ? "" : text->bytes);
    interview->failed |= kept == NULL;
    sw_text_free(text);
    return kept == NULL ? "" : kept;
}

const char *sw_ask_shown(sw_interview *interview, const char *text) {
    sw_text shown = {0};
    sw_plain_add(&shown, text);
    return sw_ask_keep(interview, &shown);
}

/* ---- pieces --------------------------------------------------------------------------------- */

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

/* Adds what stands from `from` to `to`, without blanks around it; nothing when nothing is left. */
static void add_piece(sw_interview *interview, sw_pieces *out, const char *from, const char *to) {
    while (from < to && *from == ' ')
        from++;
    while (to > from && to[-1] == ' ')
        to--;
    if (from == to)
        return;
    const char *piece = sw_arena_text(interview->turn, from, (size_t)(to - from));
    interview->failed |= piece == NULL;
    if (piece != NULL)
        out->list[out->count++] = piece;
}

bool sw_ask_words(sw_interview *interview, const char *text, const char *parts, sw_pieces *out) {
    *out = (sw_pieces){SW_ASK_NEW(interview, const char *, strlen(text) + 1), 0};
    if (out->list == NULL)
        return false;
    const char *from = text;
    for (const char *at = text;; at++) {
        if (*at != '\0' && *at != ' ' && strchr(parts, *at) == NULL)
            continue;
        add_piece(interview, out, from, at);
        from = at + 1;
        if (*at == '\0')
            break;
    }
    return !interview->failed;
}

/* In some countries "1,5" is a number, in others two: it is asked, not guessed. */
static bool is_decimal_comma(const char *text, const char *at) {
    return *at == ',' && at > text && is_digit(at[-1]) && is_digit(at[1]);
}

static bool no_decimal_comma(sw_interview *interview, const char *text) {
    for (const char *at = text; *at != '\0'; at++)
        if (is_decimal_comma(text, at))
            return sw_ask_refuse(interview,
                                 "a comma between two digits can be read in two ways: write "
                                 "decimals with a point (1.5), and a blank behind a comma between "
                                 "two things (1, 5)");
    return true;
}

bool sw_ask_things(sw_interview *interview, const char *text, sw_pieces *out) {
    *out = (sw_pieces){SW_ASK_NEW(interview, const char *, strlen(text) + 1), 0};
    if (out->list == NULL || !no_decimal_comma(interview, text))
        return false;
    const char *from = text;
    for (const char *at = text;; at++) {
        if (*at != '\0' && *at != ',' && *at != ';')
            continue;
        add_piece(interview, out, from, at);
        from = at + 1;
        if (*at == '\0')
            break;
    }
    return !interview->failed;
}

/* ---- numbers --------------------------------------------------------------------------------- */

bool sw_ask_is_whole(const char *text) {
    size_t length = strlen(text);
    return length > 0 && strspn(text, "0123456789") == length;
}

bool sw_ask_whole(const char *text, int64_t least, int64_t most, int64_t *out) {
    int64_t number = 0;
    if (!sw_ask_is_whole(text) || strlen(text) > 12)
        return false;
    for (; *text != '\0'; text++)
        number = number * 10 + (*text - '0');
    *out = number;
    return number >= least && number <= most;
}

/* Money of three decimals is just that. */
bool sw_ask_milli(const char *text, int64_t *out) { return sw_money_parse(out, text, 3); }

bool sw_ask_same(const char *a, const char *b) {
    for (; *a != '\0' && sw_small_letter(*a) == sw_small_letter(*b); a++)
        b++;
    return *a == '\0' && *b == '\0';
}

bool sw_ask_numbers(sw_interview *interview, const char *text, size_t most, int **out,
                    size_t *count) {
    sw_pieces words;
    if (!no_decimal_comma(interview, text) || !sw_ask_words(interview, text, ",;", &words))
        return false;
    int *list = SW_ASK_NEW(interview, int, words.count);
    for (size_t i = 0; list != NULL && i < words.count; i++) {
        int64_t number = 0;
        if (!sw_ask_whole(words.list[i], 1, (int64_t)most, &number))
            return sw_ask_refuse(interview,
                                 "\"%s\" is no number of the list: write numbers from 1 "
                                 "to %zu with blanks between",
                                 sw_ask_shown(interview, words.list[i]), most);
        for (size_t k = 0; k < i; k++)
            if (list[k] == (int)number - 1)
                return sw_ask_refuse(interview, "%d stands there twice: write it once",
                                     (int)number);
        list[i] = (int)number - 1;
    }
    *out = list;
    *count = words.count;
    if (words.count == 0)
        return sw_ask_refuse(interview, "no number stands there: write numbers of the list");
    return list != NULL;
}

bool sw_ask_money(sw_interview *interview, const char *text, int64_t *out) {
    const sw_catalog *catalog = interview->draft->catalog;
    if (sw_money_parse(out, text, catalog->currency_digits))
        return true;
    if (catalog->currency_digits == 0)
        return sw_ask_refuse(interview,
                             "\"%s\" is no sum in %s that can be counted with: write digits "
                             "alone, as in 650",
                             sw_ask_shown(interview, text), catalog->currency);
    return sw_ask_refuse(interview,
                         "\"%s\" is no sum in %s that can be counted with: write digits, and at "
                         "most %d behind a point, as in 650 or 649.50",
                         sw_ask_shown(interview, text), catalog->currency,
                         catalog->currency_digits);
}

const char *sw_ask_money_text(sw_interview *interview, int64_t minor) {
    const sw_catalog *catalog = interview->draft->catalog;
    const char *text = sw_money_text(interview->turn, minor, catalog->currency_digits);
    interview->failed |= text == NULL;
    return text == NULL ? "" : text;
}

const char *sw_ask_milli_text(sw_interview *interview, int64_t milli) {
    const char *text = sw_milli_exact(interview->turn, milli);
    interview->failed |= text == NULL;
    return text == NULL ? "" : text;
}
