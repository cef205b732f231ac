/* Numbers, counts and money in JSON, and lists of tokens. */
#include "check/fields.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *sw_milli_shown(sw_check *check, int64_t milli) {
    const char *text = sw_milli_exact(check->scratch, milli);
    if (text == NULL)
        check->no_memory = true;
    return text == NULL ? "" : text;
}

bool sw_check_milli(sw_check *check, const sw_node *at, int64_t least, int64_t most, int64_t *out) {
    int64_t milli = 0;
    if (!sw_is_kind(check, at, SW_JSON_NUMBER))
        return false;
    if (!sw_milli_from_number(&milli, at->json->number)) {
        bool large = fabs(at->json->number) > 1e6;
        sw_wrong(check, at, "numbers have three decimals at most, and lie within a million",
                 large ? "use a larger unit" : "round it to three decimals",
                 large ? "is too large" : "has more than three decimals");
        return false;
    }
    if (milli < least || milli > most) {
        const char *why =
            sw_arena_format(check->scratch, "it lies between %s and %s",
                            sw_milli_shown(check, least), sw_milli_shown(check, most));
        sw_wrong(check, at, why, "correct the number, or its unit", "is %s",
                 sw_milli_shown(check, milli));
        return false;
    }
    *out = milli;
    return true;
}

bool sw_get_milli(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  int64_t least, int64_t most, int64_t *out) {
    sw_node found;
    return sw_get(check, object, name, need, SW_JSON_NUMBER, &found) &&
           sw_check_milli(check, &found, least, most, out);
}

bool sw_get_number(sw_check *check, const sw_node *object, const char *name, sw_need need,
                   double most, double *out) {
    sw_node found;
    if (!sw_get(check, object, name, need, SW_JSON_NUMBER, &found))
        return false;
    if (fabs(found.json->number) > most) {
        const char *why = sw_arena_format(check->scratch, "it lies within %.0f either way", most);
        sw_wrong(check, &found, why, "correct the number, or use a larger unit", "is too large");
        return false;
    }
    *out = found.json->number;
    return true;
}

bool sw_get_whole(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  int64_t least, int64_t most, int64_t *out) {
    sw_node found;
    if (!sw_get(check, object, name, need, SW_JSON_NUMBER, &found))
        return false;
    double number = found.json->number;
    if (number != floor(number) || number < (double)least || number > (double)most) {
        const char *why = sw_arena_format(
            check->scratch, "it is a whole number from %" PRId64 " to %" PRId64, least, most);
        bool beyond = number < (double)least || number > (double)most;
        sw_wrong(check, &found, why, "correct the number",
                 beyond ? "is out of range" : "is not a whole number");
        return false;
    }
    *out = (int64_t)number;
    return true;
}

bool sw_get_count(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  int64_t least, int64_t most, int *out) {
    int64_t whole = 0;
    if (!sw_get_whole(check, object, name, need, least, most, &whole))
        return false;
    *out = (int)whole;
    return true;
}

bool sw_get_money(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  int64_t *out) {
    sw_node found;
    if (!sw_get(check, object, name, need, SW_JSON_TEXT, &found))
        return false;
    int digits = check->currency_doubt ? 4 : check->catalog->currency_digits;
    if (sw_money_parse(out, found.json->text, digits))
        return true;
    if (check->currency_doubt) /* what is wrong may be the currency alone */
        return false;
    const char *most = sw_money_text(check->scratch, SW_MONEY_LIMIT, digits);
    const char *why =
        most == NULL ? NULL
                     : sw_arena_format(check->scratch,
                                       "money is digits, with at most %d behind a point, up to %s",
                                       digits, most);
    sw_wrong(check, &found, why, "write it like \"210\" or \"210.00\", without a currency sign",
             "is no amount: \"%s\"", sw_shown(check, found.json->text));
    return false;
}

/* ---- lists of tokens --------------------------------------------------------------- */

static int by_text(const void *left, const void *right) {
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

/* `tokens` is sorted: complain of the first of them that is there twice. */
static bool check_distinct(sw_check *check, const sw_node *list, const char *const *tokens,
                           size_t count) {
    for (size_t i = 1; i < count; i++)
        if (strcmp(tokens[i - 1], tokens[i]) == 0) {
            sw_wrong(check, list, "its texts are distinct", "take one of the two away",
                     "holds \"%s\" twice", sw_shown(check, tokens[i]));
            return false;
        }
    return true;
}

bool sw_check_tokens(sw_check *check, const sw_node *list, const char *const **out, size_t *count) {
    size_t length = list->json->count;
    const char **tokens = SW_KEEP(check, const char *, length);
    bool good = tokens != NULL;
    for (size_t i = 0; tokens != NULL && i < length; i++) {
        sw_node at = sw_element(list, i);
        good &= sw_check_token(check, &at, &tokens[i]);
    }
    if (!good)
        return false;
    qsort(tokens, length, sizeof *tokens, by_text);
    if (!check_distinct(check, list, tokens, length))
        return false;
    *out = tokens;
    *count = length;
    return true;
}
