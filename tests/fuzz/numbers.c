/* Money, decimals, dates and cleaned texts: what is read and written again reads the same. */
#include <stdlib.h>
#include <string.h>

#include "check/scenario.h"
#include "check/stage.h"
#include "fuzz.h"
#include "intake/price_amount.h"
#include "intake/statements.h"
#include "read/json_text.h"

static bool parse_money(int64_t *out, const char *text, int digits) {
    bool good = sw_money_parse(out, text, digits);
#ifdef FUZZ_FAULT
    if (good && *out % 1000 == 707)
        *out += 1;
#endif
    return good;
}

static void money(sw_arena *arena, const char *text) {
    for (int digits = 0; digits <= 3; digits++) {
        int64_t minor = -1, again = -1, plain = 0;
        if (!parse_money(&minor, text, digits))
            continue;
        /* Digits and one point are all that it may hold; told again without this parser. */
        const char *point = strchr(text, '.');
        fuzz_hold(strspn(text, "0123456789.") == strlen(text), "\"%s\" is money", text);
        int behind = point == NULL ? 0 : (int)strlen(point + 1);
        for (const char *at = text; *at != '\0'; at++)
            plain = *at == '.' || plain > SW_MONEY_LIMIT ? plain : plain * 10 + (*at - '0');
        for (; behind < digits; behind++)
            plain *= 10;
        fuzz_hold(plain == minor && minor <= SW_MONEY_LIMIT, "\"%s\" is %lld", text,
                  (long long)minor);
        const char *shown = sw_money_text(arena, minor, digits);
        fuzz_hold(parse_money(&again, shown, digits) && again == minor, "\"%s\" became \"%s\"",
                  text, shown);
    }
}

/* As a JSON number: written with the fewest digits it reads back equal; thousandths are exact. */
static void number(sw_arena *arena, const char *text, size_t length) {
    const sw_json *json = NULL, *again = NULL;
    if (sw_json_read(&json, arena, "", text, length, NULL) != SW_OK || json->kind != SW_JSON_NUMBER)
        return;
    const char *shown = sw_json_number_text(arena, json->number);
    fuzz_hold(shown != NULL &&
                  sw_json_read(&again, arena, "", shown, strlen(shown), NULL) == SW_OK &&
                  again->number == json->number,
              "%s became %s", text, shown == NULL ? "nothing" : shown);
    int64_t milli = 0, back = 0;
    if (!sw_milli_from_number(&milli, json->number))
        return;
    shown = sw_milli_exact(arena, milli);
    fuzz_hold(sw_json_read(&again, arena, "", shown, strlen(shown), NULL) == SW_OK &&
                  sw_milli_from_number(&back, again->number) && back == milli,
              "%s became %s", text, shown);
    for (int decimals = 0; decimals <= 3; decimals++)
        fuzz_hold(sw_round_to(&back, json->number, decimals), "%s is not rounded", text);
}

static void prices(sw_arena *arena, const char *text) {
    static const char *const points[] = {"."}, *const euro[] = {"\xE2\x82\xAC"};
    static const sw_price_style styles[] = {
        {.decimal = ',', .digits = 2, .grouping = points, .grouping_count = 1},
        {.decimal = '.',
         .digits = 2,
         .decimals = SW_DECIMALS_UP_TO,
         .signs = euro,
         .sign_count = 1},
        {.decimal = ',',
         .digits = 3,
         .grouped_must = true,
         .grouping = points,
         .grouping_count = 1}};
    for (size_t i = 0; i < sizeof styles / sizeof *styles; i++) {
        int64_t minor = -1, again = -1;
        const char *what = NULL;
        bool good = sw_amount_read(&minor, &styles[i], text, &what);
        fuzz_hold(good == (what == NULL) || good, "refused without a word");
        if (!good) {
            fuzz_hold(what != NULL && fuzz_is_readable(what), "refused without a word");
            continue;
        }
        fuzz_hold(minor > 0 && minor <= SW_MONEY_LIMIT, "\"%s\" is %lld", text, (long long)minor);
        char *plain = sw_arena_copy(arena, sw_money_text(arena, minor, styles[i].digits));
        for (char *at = plain; *at != '\0'; at++)
            *at = *at == '.' ? styles[i].decimal : *at;
        if (!styles[i].grouped_must)
            fuzz_hold(sw_amount_read(&again, &styles[i], plain, &what) && again == minor,
                      "\"%s\" is not \"%s\"", text, plain);
    }
}

static void date(sw_arena *arena, const char *text) {
    int64_t day = -1;
    if (sw_date_parse(&day, text))
        fuzz_hold(strcmp(sw_date_text(arena, day), text) == 0, "the day \"%s\" is %lld", text,
                  (long long)day);
}

static void clean(sw_arena *arena, const uint8_t *data, size_t size) {
    sw_statements list;
    sw_statements_begin(&list, arena);
    const char *once = sw_statement_clean(&list, (const char *)data, size);
    if (once == NULL)
        return;
    const char *twice = sw_statement_clean(&list, once, strlen(once));
    fuzz_hold(fuzz_is_readable(once) && once[0] != '\0', "cleaned text is not clean");
    /* Bytes that are no UTF-8 become longer, so that the limit may be passed the second time. */
    fuzz_hold(twice == NULL ? strlen(once) > SW_STATEMENT_TEXT_LIMIT : strcmp(once, twice) == 0,
              "cleaned twice is another text");
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    sw_arena *arena = sw_arena_new();
    char *text = fuzz_text(data, size);
    money(arena, text);
    number(arena, text, size);
    prices(arena, text);
    date(arena, text);
    clean(arena, data, size);
    free(text);
    sw_arena_free(arena);
    return 0;
}
