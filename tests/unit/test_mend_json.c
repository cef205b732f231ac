/* What is mended of JSON as tools write it, by what mend_json.h says, and that nothing else is
 * changed. What is sound: RFC 8259. */
#include <criterion/criterion.h>
#include <string.h>

#include "intake/mend_json.h"
#include "swapworth.h"

#define BAD "\xEF\xBF\xBD" /* U+FFFD */

typedef struct mending {
    const char *from, *wanted; /* NULL: nothing of it can be used */
    bool whole;
} mending;

static void becomes(const mending *one) {
    sw_arena *arena = sw_arena_new();
    sw_complaints *faults = sw_complaints_new();
    cr_assert(arena != NULL && faults != NULL);
    sw_mended got = {0};
    sw_status status = sw_mend_json(&got, arena, "dump", one->from, strlen(one->from), faults);
    if (one->wanted == NULL) {
        cr_expect_eq(status, SW_BAD_DATA, "%s: should be of no use", one->from);
    } else if (status != SW_OK) {
        cr_expect(false, "%s: refused", one->from);
    } else {
        cr_expect(got.length == strlen(one->wanted) &&
                      memcmp(got.bytes, one->wanted, got.length) == 0,
                  "%s: became %.*s, not %s", one->from, (int)got.length, got.bytes, one->wanted);
        cr_expect_eq(got.whole, one->whole, "%s: whole", one->from);
        bool same = strcmp(one->from, one->wanted) == 0;
        cr_expect_eq(sw_complaints_count(faults) == 0, same, "%s: faults told", one->from);
    }
    sw_complaints_free(faults);
    sw_arena_free(arena);
}

static void become(const mending *all, size_t count) {
    for (size_t i = 0; i < count; i++)
        becomes(&all[i]);
}
#define BECOME(...)                                                                                \
    do {                                                                                           \
        const mending all[] = {__VA_ARGS__};                                                       \
        become(all, sizeof all / sizeof *all);                                                     \
    } while (0)
#define STAYS(text)                                                                                \
    { text, text, true }

Test(mend_json, what_is_sound_stays) {
    BECOME(STAYS("{}"), STAYS("[]"), STAYS("[1,-2.5e+3,0,true,false,null]"),
           STAYS("{\"a\" : [ {\"b\":\"c\"} , [] ] }"), STAYS("[\"\\\"\\\\\\/\\b\\f\\n\\r\\t\"]"),
           STAYS("[\"\\u00e9\\u00FF\\uaBcD\"]"), STAYS("[\"\\ud83d\\ude00\"]"),
           STAYS("[\"\xC3\xA9\xE2\x82\xAC\xF0\x9F\x98\x80\"]"));
}

Test(mend_json, escapes) {
    BECOME({"[\"a\\qb\"]", "[\"a\\\\qb\"]", true}, {"[\"\\u12g4\"]", "[\"\\\\u12g4\"]", true},
           {"[\"\\u123\"]", "[\"\\\\u123\"]", true}, {"[\"\\u:000\"]", "[\"\\\\u:000\"]", true},
           {"[\"\\u0000\"]", "[\"" BAD "\"]", true}, {"[\"\\ud83d\"]", "[\"" BAD "\"]", true},
           {"[\"\\ude00x\"]", "[\"" BAD "x\"]", true},
           {"[\"\\ud83d\\u0041\"]", "[\"" BAD "\\u0041\"]", true},
           {"[\"\\ud83dxxxxxxx\"]", "[\"" BAD "xxxxxxx\"]", true},
           {"[\"\\ud83d\\n\\n\\n\"]", "[\"" BAD "\\n\\n\\n\"]", true},
           {"[\"\\ud83d\\ud83d\\ude00\"]", "[\"" BAD "\\ud83d\\ude00\"]", true});
}

Test(mend_json, bytes_that_are_no_text) {
    BECOME({"[\"a\x80z\"]", "[\"a" BAD "z\"]", true}, {"[\"\xC3\"]", "[\"" BAD "\"]", true},
           {"[\"\xC0\xAF\"]", "[\"" BAD BAD "\"]", true},
           {"[\"\xED\xA0\x80\"]", "[\"" BAD BAD BAD "\"]", true},
           {"[\"a\tb\"]", "[\"a" BAD "b\"]", true}, {"{\"\x01\":1}", "{\"" BAD "\":1}", true});
}

Test(mend_json, words) {
    BECOME({"[NaN]", "[null]", true}, {"[nan,-Inf,+Infinity]", "[null,null,null]", true},
           {"[007]", "[null]", true}, {"[1e999]", "[null]", true}, {"[-]", "[]", false},
           {"[+5]", "[null]", true}, {"[1.]", "[null]", true}, {"[.5]", "[null]", true},
           {"{\"a\":,\"b\":1}", "{\"a\":null,\"b\":1}", true}, {"{\"a\":}", "{\"a\":null}", true},
           {"[1,2,True]", "[1]", false}, {"[1,2,nul]", "[1]", false}, {"[1,2,nulls]", "[1]", false},
           {"[1,2,infinit]", "[1]", false}, {"[1,2,@]", "[1]", false});
}

Test(mend_json, names_again) {
    BECOME({"{\"a\":1,\"a\":2}", "{\"a\":1,\"a #2\":2}", true},
           {"{\"a\":1,\"a\":2,\"a\":3,\"b\":4,\"b\":5}",
            "{\"a\":1,\"a #2\":2,\"a #3\":3,\"b\":4,\"b #2\":5}", true},
           {"{\"a\":1,\"a #2\":0,\"a\":2}", "{\"a\":1,\"a #2\":0,\"a #3\":2}", true},
           {"{\"a\":{\"a\":1},\"b\":{\"a\":2}}", "{\"a\":{\"a\":1},\"b\":{\"a\":2}}", true},
           {"{\"a\":1,\"\\u0061\":2}", "{\"a\":1,\"\\u0061 #2\":2}", true},
           {"{\"\\ud83d\\ude00\":1,\"\xF0\x9F\x98\x80\":2}",
            "{\"\\ud83d\\ude00\":1,\"\xF0\x9F\x98\x80 #2\":2}", true},
           {"{\"\\n\":1,\"n\":2,\"\\t\":3,\"t\":4,\"\\\"\":5}",
            "{\"\\n\":1,\"n\":2,\"\\t\":3,\"t\":4,\"\\\"\":5}", true},
           {"{\"x\":[{\"a\":1,\"a\":2}", "{\"x\":[{\"a\":1,\"a #2\":2}]}", false},
           {"{\"a\":1,\"a\":2,\"a", "{\"a\":1,\"a #2\":2}", false});
}

Test(mend_json, commas) {
    BECOME({"[1,2,]", "[1,2]", true}, {"[,1]", "[1]", true}, {"[1,,2]", "[1,2]", true},
           {"{\"a\":1,}", "{\"a\":1}", true}, {"{,\"a\":1}", "{\"a\":1}", true},
           {"[{}{}]", "[{},{}]", true}, {"{\"a\":{}\"b\":1}", "{\"a\":{},\"b\":1}", true},
           {"{\"a\":[] \"b\":1}", "{\"a\":[] ,\"b\":1}", true}, {"[1 2]", "[]", false},
           {"[[] []]", "[[]]", false}, {"{\"a\":1 \"b\":2}", "{}", false},
           {"[[],\"a\"\"b\"]", "[[]]", false}, {"[,]", "[]", true});
}

Test(mend_json, several_texts) {
    BECOME({"{}{}", "[{},{}]", true}, {"{},[1]", "[{},[1]]", true},
           {"{}\n{}\n{}", "[{}\n,{}\n,{}]", true}, {"{},", "{}", true}, {"{},{},", "[{},{}]", true},
           {"{},,{}", "{}", false}, {"{}x", "{}", false}, {"{} [1", "[{} ,[]]", false},
           {"{} [1,2,", "[{} ,[1]]", false});
}

/* A value counts once the next one, or the end of its list, has been seen: until then nobody knows
 * whether it is whole. */
Test(mend_json, what_is_cut) {
    BECOME({"{\"a\":[1,{\"b\":2", "{\"a\":[1,{}]}", false},
           {"{\"a\":[1,{\"b\":2}", "{\"a\":[1,{\"b\":2}]}", false}, {"[1,2", "[1]", false},
           {"[\"a\",\"b", "[]", false}, {"[\"a\",\"b\",\"c\nd\"]", "[\"a\"]", false},
           {"{\"a\":1]", "{}", false}, {"[1}", "[]", false}, {"{\"a\"", "{}", false},
           {"{\"a\":1,\"b\":}", "{\"a\":1,\"b\":null}", true}, {"{\"a\" 1}", "{}", false},
           {"{1:2}", "{}", false}, {"", NULL, false}, {"nothing here", NULL, false},
           {"7", NULL, false}, {"  ", NULL, false});
}

/* Lists one in another: 63 are let through, the 64th is cut away. */
Test(mend_json, depth) {
    for (int depth = 62; depth <= 65; depth++) {
        char from[131] = {0}, wanted[131] = {0};
        memset(from, '[', (size_t)depth);
        memset(from + depth, ']', (size_t)depth);
        int kept = depth > 63 ? 63 : depth;
        memset(wanted, '[', (size_t)kept);
        memset(wanted + kept, ']', (size_t)kept);
        becomes(&(mending){from, wanted, depth <= 63});
    }
}
