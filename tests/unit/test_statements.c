/* The list of statements: what becomes of texts, numbers and names (FORMATS.md section 29). */
#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

#include "intake/statements.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const sw_about board = {"board", NULL, "dump", "line 1"};

static const char *said(sw_arena *arena, const char *bytes, size_t length) {
    sw_statements list;
    sw_statements_begin(&list, arena);
    sw_state_text(&list, &board, "product", bytes, length);
    cr_expect_eq(sw_statements_end(&list, NULL), SW_OK);
    return list.count == 0 ? NULL : list.all[0].text;
}

Test(statements, texts_are_cleaned) {
    static const struct {
        const char *bytes, *text;
    } rows[] = {
        {"Board-7", "Board-7"},
        {"  Board 7\t ", "Board 7"},
        {"Bo\x01"
         "ard\x7F",
         "Board"},
        {"\xC2\xA0"
         "Zo\xC3\xAB\xC2\x85",
         "Zo\xC3\xAB"},
        {"A\xFF\xC3", "A\xEF\xBF\xBD\xEF\xBF\xBD"},
        {"\xE2\x80\xAE"
         "A\xEF\xBB\xBF",
         "A"},
        {"", NULL},
        {" \t\n", NULL},
        {"Unknown", NULL},
        {" unKNOWN ", NULL},
        {"To be filled by O.E.M.", NULL},
        {"To Be Filled By O.E.M.", NULL},
        {"Array1_PartNumber0", NULL},
        {"Array_PartNumber0", "Array_PartNumber0"},
        {"PartNum12", NULL},
        {"00000000", NULL},
        {"0x0000", NULL},
        {"----", NULL},
        {"FFFFFFFF", NULL},
        {"FFF", "FFF"},
        {"Unknown Peak", "Unknown Peak"},
        {"<BAD INDEX>", NULL},
    };
    sw_arena *arena = sw_arena_new();
    for (size_t i = 0; i < COUNT(rows); i++) {
        const char *text = said(arena, rows[i].bytes, strlen(rows[i].bytes));
        cr_expect((text == NULL) == (rows[i].text == NULL) &&
                      (text == NULL || strcmp(text, rows[i].text) == 0),
                  "row %zu: \"%s\"", i, text == NULL ? "(none)" : text);
    }
    cr_expect_str_eq(said(arena, "A\0B", 3), "AB");
    sw_arena_free(arena);
}

Test(statements, texts_over_the_limit_are_none) {
    sw_arena *arena = sw_arena_new();
    char *text = sw_arena_alloc(arena, SW_STATEMENT_TEXT_LIMIT + 2, 1);
    memset(text, 'a', SW_STATEMENT_TEXT_LIMIT + 1);
    cr_expect_null(said(arena, text, SW_STATEMENT_TEXT_LIMIT + 1));
    cr_expect_not_null(said(arena, text, SW_STATEMENT_TEXT_LIMIT));
    sw_arena_free(arena);
}

Test(statements, numbers_are_thousandths) {
    static const sw_about sensor = {"sensor", "chip/cpu", "dump", "line 1"};
    static const sw_about drive = {"drive", "sda", "dump", "line 1"};
    sw_arena *arena = sw_arena_new();
    sw_statements list;
    sw_statements_begin(&list, arena);
    sw_state_real(&list, &sensor, "volts", 1.2345);
    sw_state_real(&list, &sensor, "volts", NAN);
    sw_state_real(&list, &sensor, "volts", 1e300);
    sw_state_whole(&list, &drive, "size_bytes", INT64_C(4000787030016));
    sw_state_whole(&list, &drive, "size_bytes", INT64_MAX);
    cr_assert_eq(list.count, 2);
    cr_expect_eq(list.all[0].milli, 1235);
    cr_expect_str_eq(list.all[0].key, "chip/cpu");
    cr_expect_eq(list.all[1].milli, INT64_C(4000787030016000));
    sw_arena_free(arena);
}

Test(statements, what_is_not_listed_is_misuse) {
    sw_arena *arena = sw_arena_new();
    sw_statements list;
    sw_statements_begin(&list, arena);
    sw_state_text(&list, &board, "colour", "red", 3);
    sw_complaints *complaints = sw_complaints_new();
    cr_expect_eq(sw_statements_end(&list, complaints), SW_INTERNAL);
    cr_expect_eq(sw_complaints_count(complaints), 1);
    cr_expect_not(sw_statement_known("board", "maker", SW_SAYS_NUMBER));
    cr_expect_not(sw_statement_known("board", "maker product", SW_SAYS_TEXT));
    cr_expect_not(sw_statement_known("board", "", SW_SAYS_TEXT));
    cr_expect(sw_statement_known("drive", "link_errors", SW_SAYS_NUMBER));
    sw_complaints_free(complaints);
    sw_arena_free(arena);
}

Test(statements, private_values_stand_apart) {
    static const sw_about drive = {"drive", "sda", "dump", "line 1"};
    sw_arena *arena = sw_arena_new();
    sw_statements list;
    sw_statements_begin(&list, arena);
    sw_state_private(&list, &drive, "serial number", " S-17 ", 6);
    sw_state_private(&list, &board, "serial number", "Default string", 14);
    cr_expect_eq(list.count, 0);
    cr_assert_eq(list.private_count, 1);
    cr_expect_str_eq(list.privates[0].device, "drive:sda");
    cr_expect_str_eq(list.privates[0].value, "S-17");
    sw_arena_free(arena);
}

Test(statements, the_list_ends_somewhere) {
    sw_arena *arena = sw_arena_new();
    sw_statements list;
    sw_statements_begin(&list, arena);
    for (long i = 0; i < SW_STATEMENTS_LIMIT + 5; i++)
        sw_state_text(&list, &board, "product", "Board-7", 7);
    sw_complaints *complaints = sw_complaints_new();
    cr_expect_eq(list.count, SW_STATEMENTS_LIMIT);
    cr_expect_eq(sw_statements_end(&list, complaints), SW_BAD_DATA);
    sw_complaints_free(complaints);
    sw_arena_free(arena);
}

Test(statements, keys_are_kept_apart) {
    static const char *const taken[] = {"A", NULL, "A #2", "B"};
    sw_arena *arena = sw_arena_new();
    sw_statements list;
    sw_statements_begin(&list, arena);
    cr_expect_str_eq(sw_statement_key_apart(&list, "A", taken, 4), "A #3");
    cr_expect_str_eq(sw_statement_key_apart(&list, "C", taken, 4), "C");
    sw_arena_free(arena);
}
