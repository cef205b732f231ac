/* What was measured when the work was done: what is read and refused (catalog/FORMATS.md
 * section 27), against a small catalog. */
#include <criterion/criterion.h>

#include "check/measurements.h"
#include "shelf.h"

static const char good[] =
    "{\"schema\":1,\"job\":\"desk-7\",\"date\":\"2026-03-12\",\"left_out\":[\"profile\",\"clean\"],"
    "\"before\":[{\"check\":\"seat-level\",\"value\":41.5}],"
    "\"after\":[{\"check\":\"seat-level\",\"value\":36.12345},"
    "{\"check\":\"rates\",\"use\":\"photos\",\"value\":88},"
    "{\"check\":\"rates\",\"use\":\"talk\",\"value\":0},"
    "{\"check\":\"drives\",\"done\":true},{\"check\":\"leaks\",\"done\":false}],"
    "\"notes\":[\"dust\",\"a loose foot\"],\"note\":\"by hand\"}";

typedef struct taken {
    sw_status status;
    sw_measurements *is;
    sw_complaints *complaints;
} taken;

/* Reads `text` as a file beside the shelf's job, with the shelf's catalog or with none. */
static taken take(const char *text, bool with_catalog) {
    shelf made = shelf_make(NULL, NULL, NULL);
    taken out = {.complaints = sw_complaints_new()};
    char path[160];
    shelf_write(&made, "jobs/measured.json", text, strlen(text));
    snprintf(path, sizeof path, "%s/jobs/measured.json", made.folder);
    shelf_read(&made);
    cr_assert_eq(made.status, SW_OK, "%s", shelf_said(&made));
    out.status = sw_measurements_read(&out.is, path, with_catalog ? made.scenario->catalog : NULL,
                                      out.complaints);
    shelf_free(&made);
    return out;
}

static void drop(taken *is) {
    sw_measurements_free(is->is);
    sw_complaints_free(is->complaints);
}

static const sw_complaint *first_of(const taken *is) {
    static const sw_complaint none = {"", "", "nothing", "", ""};
    const sw_complaint *first = sw_complaints_get(is->complaints, 0);
    return first == NULL ? &none : first;
}

/* ---- what is read --------------------------------------------------------------------------- */

Test(measurements, every_member) {
    taken t = take(good, true);
    cr_assert_eq(t.status, SW_OK, "%s", first_of(&t)->what);
    const sw_measurements *is = t.is;
    cr_expect_str_eq(is->job, "desk-7");
    cr_expect_str_eq(is->date, "2026-03-12");
    cr_expect_eq(is->day, 739686, "days from 0001-01-01");
    cr_assert(is->left_out_count == 2 && is->before_count == 1 && is->after_count == 5);
    cr_expect_str_eq(is->left_out[0], "profile");
    /* In the catalog tasks stand in byte order of id. */
    cr_expect(is->left_out_tasks[0] == 1 && is->left_out_tasks[1] == 0);
    cr_expect_str_eq(is->before[0].check, "seat-level");
    cr_expect_str_eq(is->before[0].place, "$.before[0]");
    cr_expect(is->before[0].value == 41.5 && !is->before[0].says_done);
    cr_expect(is->after[0].value == 36.12345 && is->after[0].use == NULL &&
              is->after[0].use_index == SW_NONE);
    cr_expect_str_eq(is->after[1].use, "photos");
    cr_expect(is->after[1].use_index == 0 && is->after[2].use_index == 1);
    cr_expect(is->after[3].says_done && is->after[3].done);
    cr_expect(is->after[4].says_done && !is->after[4].done);
    cr_expect_str_eq(is->after[4].place, "$.after[4]");
    cr_assert_eq(is->note_count, 2);
    cr_expect_str_eq(is->notes[1], "a loose foot");
    drop(&t);
    sw_measurements_free(NULL);
}

Test(measurements, what_must_be_there) {
    taken t = take("{\"schema\":1,\"job\":\"a\",\"after\":[]}", true);
    cr_assert_eq(t.status, SW_OK, "%s", first_of(&t)->what);
    cr_expect(t.is->date == NULL && t.is->day == -1);
    cr_expect(t.is->left_out_count == 0 && t.is->before_count == 0 && t.is->after_count == 0 &&
              t.is->note_count == 0);
    drop(&t);
}

/* Without a catalog its names are taken as they are. */
Test(measurements, without_a_catalog) {
    taken t = take("{\"schema\":1,\"job\":\"a\",\"left_out\":[\"no-such\"],"
                   "\"after\":[{\"check\":\"c\",\"use\":\"none\",\"value\":1}]}",
                   false);
    cr_assert_eq(t.status, SW_OK, "%s", first_of(&t)->what);
    cr_expect_str_eq(t.is->left_out[0], "no-such");
    cr_expect_eq(t.is->left_out_tasks[0], SW_NONE);
    cr_expect_str_eq(t.is->after[0].use, "none");
    cr_expect_eq(t.is->after[0].use_index, SW_NONE);
    drop(&t);
}

/* ---- what is refused --------------------------------------------------------------------------
 */

typedef struct row {
    const char *from, *to; /* in the file, the first time it is there */
    const char *place, *what, *mend;
} row;

static bool has(const char *text, const char *part) {
    return part == NULL || strstr(text, part) != NULL;
}

static void expect_refused_text(const char *text, const row *is) {
    taken t = take(text, true);
    const sw_complaint *first = first_of(&t);
    cr_expect_eq(t.status, SW_BAD_DATA, "%s -> %s", is->from, is->to);
    cr_expect_null(t.is);
    cr_expect_eq(sw_complaints_count(t.complaints), 1, "%s -> %s: %zu complaints", is->from, is->to,
                 sw_complaints_count(t.complaints));
    cr_expect_str_eq(first->place, is->place, "%s -> %s: at %s", is->from, is->to, first->place);
    cr_expect(has(first->what, is->what), "%s -> %s: %s", is->from, is->to, first->what);
    cr_expect(has(first->mend, is->mend), "%s -> %s: %s", is->from, is->to, first->mend);
    cr_expect(first->why[0] != '\0' && first->mend[0] != '\0', "%s", first->what);
    cr_expect(has(first->file, "/jobs/measured.json"), "%s", first->file);
    drop(&t);
}

static const row rows[] = {
    {"\"schema\":1,", "", "$", "has no \"schema\"", NULL},
    {"\"job\":\"desk-7\",", "", "$", "has no \"job\"", NULL},
    {"desk-7", "Desk 7", "$.job", "is no id: \"Desk 7\"", NULL},
    {"\"desk-7\"", "7", "$.job", "is a number, not a text", NULL},
    {"2026-03-12", "12.3.2026", "$.date", "is no date", "year-month-day"},
    {"\"profile\"", "\"profil\"", "$.left_out[0]", "names the task \"profil\"",
     "did you mean \"profile\"?"},
    {"\"profile\"", "\"zzz\"", "$.left_out[0]", "names the task \"zzz\"", "tasks.json"},
    {"\"profile\"", "\"clean\"", "$.left_out[1]", "leaves \"clean\" out a second time", NULL},
    {"\"profile\"", "3", "$.left_out[0]", "is a number, not a text", NULL},
    {"[\"profile\",\"clean\"]", "\"profile\"", "$.left_out", "is a text, not a list", NULL},
    {"photos", "photo", "$.after[1].use", "names the use \"photo\"", "did you mean \"photos\"?"},
    {"\"talk\"", "\"photos\"", "$.after[2]",
     "is about \"rates\" and its use \"photos\" a second time", NULL},
    {"\"leaks\",\"done\":false", "\"drives\",\"done\":false", "$.after[4]",
     "is about \"drives\" a second time", NULL},
    {",\"done\":true", "", "$.after[3]", "says nothing of the outcome", "\"value\""},
    {"\"done\":true", "\"done\":true,\"value\":1", "$.after[3]", "has a value and says", NULL},
    {"\"done\":true", "\"done\":1", "$.after[3].done", "is a number, not true or false", NULL},
    {"\"value\":88", "\"value\":\"88\"", "$.after[1].value", "is a text, not a number", NULL},
    {"\"value\":88", "\"value\":null", "$.after[1].value", "is null", NULL},
    {"\"value\":88", "\"value\":2e12", "$.after[1].value", "is too large", NULL},
    {"\"value\":88", "\"value\":1e400", "line 1", "too large", NULL},
    {"\"value\":88", "\"valu\":88,\"value\":88", "$.after[1].valu", "unknown name \"valu\"",
     "did you mean \"value\"?"},
    {"\"check\":\"drives\",", "", "$.after[3]", "has no \"check\"", NULL},
    {"{\"check\":\"drives\",\"done\":true}", "\"drives\"", "$.after[3]", "is a text, not an object",
     NULL},
    {"\"before\":[{\"check\":\"seat-level\",\"value\":41.5}]", "\"before\":41.5", "$.before",
     "is a number, not a list", NULL},
    {"\"value\":41.5", "\"value\":41.5,\"foretold\":40", "$.before[0].foretold", "unknown name",
     NULL},
    {"\"dust\"", "\"\"", "$.notes[0]", "is empty", NULL},
    {"\"dust\"", "1", "$.notes[0]", "is a number, not a text", NULL},
    {"\"notes\"", "\"remarks\"", "$.remarks", "unknown name", NULL},
    {"}", "", "line 1", "comma", NULL},
};

Test(measurements, members_that_are_wrong) {
    for (size_t i = 0; i < COUNT(rows); i++) {
        char *text = shelf_changed(good, rows[i].from, rows[i].to);
        cr_assert_not_null(text, "%s", rows[i].from);
        expect_refused_text(text, &rows[i]);
        free(text);
    }
}

Test(measurements, after_must_be_there) {
    static const row is = {"", "no after", "$", "has no \"after\"", "add it"};
    expect_refused_text("{\"schema\":1,\"job\":\"a\"}", &is);
}

Test(measurements, a_file_that_is_not_there) {
    sw_measurements *is = NULL;
    sw_complaints *complaints = sw_complaints_new();
    cr_expect_eq(sw_measurements_read(&is, "/no/such/file", NULL, complaints), SW_CANNOT_READ);
    cr_expect_null(is);
    cr_expect_eq(sw_complaints_count(complaints), 1);
    sw_complaints_free(complaints);
}

/* Every mistake of a file is told at once. */
Test(measurements, all_at_once) {
    taken t = take("{\"schema\":1,\"job\":\"A\",\"left_out\":[\"zzz\"],\"after\":["
                   "{\"check\":\"c\"},{\"check\":\"d\",\"use\":\"q\",\"value\":1}],\"notes\":[1]}",
                   true);
    static const char *const places[] = {"$.job", "$.left_out[0]", "$.after[0]", "$.after[1].use",
                                         "$.notes[0]"};
    cr_assert_eq(sw_complaints_count(t.complaints), COUNT(places));
    for (size_t i = 0; i < COUNT(places); i++)
        cr_expect_str_eq(sw_complaints_get(t.complaints, i)->place, places[i]);
    drop(&t);
}
