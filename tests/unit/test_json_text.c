/* The writer of JSON in the style of the shipped files. */
#include "read/json_text.h"

#include "read/bytes.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

static sw_arena *arena;
static sw_complaints *complaints;
static void begin(void) {
    arena = sw_arena_new();
    complaints = sw_complaints_new();
}
static void end(void) {
    sw_arena_free(arena);
    sw_complaints_free(complaints);
}
TestSuite(json_text, .init = begin, .fini = end);

static const sw_json *read_text(const char *text) {
    const sw_json *json = NULL;
    sw_status status = sw_json_read(&json, arena, "test", text, strlen(text), complaints);
    return status == SW_OK ? json : NULL;
}

static void cr_expect_written(const char *from, const char *wanted) {
    const sw_json *json = read_text(from);
    cr_assert(json != NULL, "%s", from);
    char *text = NULL;
    cr_assert_eq(sw_sketch_write(&text, sw_sketch_of(arena, json)), SW_OK);
    cr_expect_str_eq(text, wanted);
    free(text);
}

Test(json_text, what_fits_stands_on_one_line) {
    cr_expect_written("{\"a\":1,\"b\":[1,2,{\"c\":null}],\"d\":{}}",
                      "{\n  \"a\": 1,\n  \"b\": [1, 2, {\"c\": null}],\n  \"d\": {}\n}\n");
    cr_expect_written("{}", "{}\n");
    cr_expect_written("{\"t\":\"a\\u001f\\n\\\"\\\\\\u00e4\"}",
                      "{\n  \"t\": \"a\\u001f\\n\\\"\\\\\xc3\xa4\"\n}\n");
}

Test(json_text, numbers_read_back_equal) {
    static const char *const numbers[] = {
        "0", "-1", "0.1", "12.125", "1e21", "1.5e-07", "9007199254740991", "0.3333333333333333"};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        const char *from = sw_arena_format(arena, "{\"n\":%s}", numbers[i]);
        char *text = NULL;
        cr_assert_eq(sw_sketch_write(&text, sw_sketch_of(arena, read_text(from))), SW_OK);
        const sw_json *again = read_text(text);
        cr_assert(again != NULL, "%s", text);
        cr_expect(sw_json_get(again, "n")->number == sw_json_get(read_text(from), "n")->number,
                  "%s became %s", numbers[i], text);
        free(text);
    }
}

static bool equal(const sw_json *a, const sw_json *b) {
    bool same = a->kind == b->kind && a->count == b->count && a->truth == b->truth &&
                a->number == b->number && sw_text_compare(a->name, b->name) == 0 &&
                sw_text_compare(a->text, b->text) == 0;
    for (size_t i = 0; same && i < a->count; i++)
        same = equal(&a->children[i], &b->children[i]);
    return same;
}

/* Written and read again they are the same value, and written again the same bytes. */
Test(json_text, shipped_scenarios_keep_their_values) {
    const char *const *names;
    size_t count;
    cr_assert_eq(sw_folder_list(&names, &count, arena, "scenarios", ".json", complaints), SW_OK);
    for (size_t i = 0; i < count; i++) {
        const char *path = sw_arena_format(arena, "scenarios/%s", names[i]), *bytes;
        size_t length;
        cr_assert_eq(sw_bytes_read(&bytes, &length, arena, path, complaints), SW_OK);
        const sw_json *json = NULL;
        cr_assert_eq(sw_json_read(&json, arena, path, bytes, length, complaints), SW_OK);
        char *text = NULL, *again = NULL;
        cr_assert_eq(sw_sketch_write(&text, sw_sketch_of(arena, json)), SW_OK);
        const sw_json *back = read_text(text);
        cr_assert(back != NULL, "%s", path);
        cr_expect(equal(json, back), "%s changed its values", path);
        cr_assert_eq(sw_sketch_write(&again, sw_sketch_of(arena, back)), SW_OK);
        cr_expect_str_eq(text, again, "%s: another text the second time", path);
        free(text);
        free(again);
    }
    cr_expect(count >= 7);
}

Test(json_text, members_are_replaced_in_place_taken_out_and_moved) {
    sw_sketch *root = sw_sketch_of(arena, read_text("{\"a\":1,\"b\":2,\"c\":3}"));
    sw_sketch_text(root, "b", "two");
    sw_sketch_remove(root, "a");
    sw_sketch_milli(root, "d", -1250);
    sw_sketch_move(root, "d", NULL);
    sw_sketch_move(root, "b", "c");
    sw_sketch *list = sw_sketch_array(root, "c");
    sw_sketch_truth(list, NULL, true);
    sw_sketch_whole(list, NULL, 7);
    sw_sketch_text(sw_sketch_object(list, NULL), "e", "f");
    cr_expect_eq(sw_sketch_count(list), 3);
    sw_sketch_text(sw_sketch_element(list, 2), "g", "h");
    char *text = NULL;
    cr_assert_eq(sw_sketch_write(&text, root), SW_OK);
    cr_expect_str_eq(text, "{\n  \"d\": -1.25,\n  \"c\": [true, 7, {\"e\": \"f\", \"g\": \"h\"}],\n"
                           "  \"b\": \"two\"\n}\n");
    free(text);
}

Test(json_text, what_json_cannot_say_is_refused) {
    char *text = NULL;
    sw_sketch *root = sw_sketch_new(arena);
    sw_sketch_text(root, "a", "\xff");
    cr_expect_eq(sw_sketch_write(&text, root), SW_BAD_DATA);
    cr_expect(text == NULL);
    root = sw_sketch_new(arena);
    sw_sketch_whole(root, "a", INT64_C(9007199254740992));
    cr_expect_eq(sw_sketch_write(&text, root), SW_BAD_DATA);
}
