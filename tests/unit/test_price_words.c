/* Proposals: scores worked by hand as FORMATS.md section 30 says. */
#include <criterion/criterion.h>
#include <string.h>

#include "intake/price_stage.h"

/* Four parts: "otter" in four (weight 1), "black" in two (2), each other word in one (3). */
static sw_part parts[] = {
    {.id = "a", .maker = "Otter", .name = "Reed 120 black", .role = 0},
    {.id = "b", .maker = "Otter", .name = "Moss 140 black", .role = 0},
    {.id = "c", .maker = "Otter", .name = "Fern", .role = 0},
    {.id = "d", .maker = "Otter", .name = "Sedge", .role = 0},
};

static sw_price_row propose(const char *maker, const char *name) {
    sw_catalog catalog = {.parts = parts, .part_count = 4};
    sw_pricing in = {.catalog = &catalog, .arena = sw_arena_new(), .scratch = sw_arena_new()};
    sw_price_row row = {.number = "", .maker = maker, .name = name, .text = ""};
    sw_price_index(&in);
    sw_price_propose(&in, &row);
    cr_expect_not(in.no_memory);
    sw_price_index_free(&in);
    sw_arena_free(in.scratch);
    sw_arena_free(in.arena);
    return row;
}

static void expect(const char *maker, const char *name, size_t count, int first, int score) {
    sw_price_row row = propose(maker, name);
    cr_expect_eq(row.proposal_count, count, "%s: %zu", name, row.proposal_count);
    if (count > 0 && row.proposal_count > 0) {
        cr_expect_eq(row.proposals[0].part, first, "%s: part %d", name, row.proposals[0].part);
        cr_expect_eq(row.proposals[0].score, score, "%s: %d", name, row.proposals[0].score);
    }
}

Test(price_words, scores) {
    expect("Otter", "Reed 120 black", 1, 0, 100); /* 9 of 9 and 9 */
    expect("Otter", "REED-120, Black!", 1, 0, 100);
    expect("", "reed120black", 1, 0, 94);    /* 8: 1600 / 17 */
    expect("", "Reed 120", 1, 0, 80);        /* 6: 1200 / 15 */
    expect("", "Reed", 1, 0, 50);            /* 3: 600 / 12 */
    expect("", "black", 0, 0, 0);            /* 2: 400 / 11 = 36 */
    expect("Otter", "Fern green", 1, 2, 88); /* 4: 800 / 9; green weighs 1 */
    expect("Otter", "Fern green green GREEN", 1, 2, 88);
    expect("", "kettle", 0, 0, 0);
    expect("", "", 0, 0, 0);
    expect("Heron", "Reed 120 black", 1, 0, 88); /* a maker that no part has is a word: 16 / 18 */
}
