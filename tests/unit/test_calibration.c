/* The calibration file: what is read, refused and written anew (catalog/FORMATS.md section 28).
 * What is learnt from it is in test_learnt.c. */
#include <criterion/criterion.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "render/calibration.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const char good[] =
    "{\"schema\":1,\"jobs\":["
    "{\"job\":\"first\",\"date\":\"2026-03-12\",\"pairs\":["
    "{\"check\":\"seat-level\",\"foretold\":36.2,\"measured\":38.9},"
    "{\"check\":\"rates\",\"use\":\"fast-play\",\"foretold\":80,\"measured\":88},"
    "{\"check\":\"rates\",\"use\":\"photos\",\"foretold\":0.12345678,\"measured\":-1e-7}]},"
    "{\"job\":\"second\",\"pairs\":[]}]}";

static sw_calibration *parse(const char *text) {
    sw_calibration *made = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_status status = sw_calibration_parse(&made, "c.json", text, strlen(text), complaints);
    const sw_complaint *first = sw_complaints_get(complaints, 0);
    cr_assert_eq(status, SW_OK, "%s: %s", first == NULL ? "" : first->place,
                 first == NULL ? "no complaint" : first->what);
    cr_assert_eq(sw_complaints_count(complaints), 0);
    sw_complaints_free(complaints);
    return made;
}

static char *render(const sw_calibration *calibration, const sw_past_job *job) {
    char *text = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_status status = sw_render_calibration(&text, calibration, job, complaints);
    const sw_complaint *first = sw_complaints_get(complaints, 0);
    cr_assert_eq(status, SW_OK, "%s", first == NULL ? "no complaint" : first->what);
    sw_complaints_free(complaints);
    return text;
}

/* ---- what is read --------------------------------------------------------------------------- */

Test(calibration, every_member) {
    sw_calibration *is = parse(good);
    cr_assert_eq(is->job_count, 2);
    cr_expect_str_eq(is->file, "c.json");
    cr_expect_null(is->note);
    const sw_past_job *job = &is->jobs[0];
    cr_expect_str_eq(job->id, "first");
    cr_expect_str_eq(job->date, "2026-03-12");
    cr_assert_eq(job->pair_count, 3);
    cr_expect_str_eq(job->pairs[0].check, "seat-level");
    cr_expect_null(job->pairs[0].use);
    cr_expect(job->pairs[0].foretold == 36.2 && job->pairs[0].measured == 38.9);
    cr_expect_str_eq(job->pairs[1].use, "fast-play");
    cr_expect(job->pairs[2].foretold == 0.12345678 && job->pairs[2].measured == -1e-7,
              "more than three decimals");
    cr_expect_str_eq(is->jobs[1].id, "second");
    cr_expect(is->jobs[1].date == NULL && is->jobs[1].pair_count == 0);
    sw_calibration_free(is);
    sw_calibration_free(NULL);
}

/* ---- what is refused ------------------------------------------------------------------------- */

/* That these bytes are complained of once, in words, at that place. */
static void expect_refused(const char *bytes, size_t length, const char *place, const char *what) {
    sw_calibration *made = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_status status = sw_calibration_parse(&made, "c.json", bytes, length, complaints);
    const sw_complaint *first = sw_complaints_get(complaints, 0);
    cr_expect_eq(status, SW_BAD_DATA, "%.60s", bytes);
    cr_expect_null(made);
    cr_expect_eq(sw_complaints_count(complaints), 1, "%.60s: %zu complaints", bytes,
                 sw_complaints_count(complaints));
    if (first != NULL) {
        cr_expect_str_eq(first->file, "c.json");
        cr_expect_str_eq(first->place, place, "%.60s: at %s", bytes, first->place);
        cr_expect_not_null(strstr(first->what, what), "%.60s: %s", bytes, first->what);
        cr_expect(first->why[0] != '\0' && first->mend[0] != '\0', "%s", first->what);
    }
    sw_complaints_free(complaints);
}

/* The same of the good file with its first `from` turned into `to`. */
static void expect_change_refused(const char *from, const char *to, const char *place,
                                  const char *what) {
    const char *at = strstr(good, from);
    cr_assert_not_null(at, "%s", from);
    sw_text text = {0};
    sw_text_add_bytes(&text, good, (size_t)(at - good));
    sw_text_add(&text, to);
    sw_text_add(&text, at + strlen(from));
    expect_refused(text.bytes, text.length, place, what);
    sw_text_free(&text);
}

Test(calibration, members_that_are_wrong) {
    static const struct {
        const char *from, *to, *place, *what;
    } rows[] = {
        {"\"schema\":1,", "", "$", "has no \"schema\""},
        {"\"schema\":1", "\"schema\":2", "$.schema", "is not 1"},
        {"\"schema\":1", "\"schema\":\"1\"", "$.schema", "is not 1"},
        {"36.2", "\"36.2\"", "$.jobs[0].pairs[0].foretold", "is a text, not a number"},
        {"36.2", "null", "$.jobs[0].pairs[0].foretold", "is null"},
        {"36.2", "[36.2]", "$.jobs[0].pairs[0].foretold", "is a list"},
        {"38.9", "1e13", "$.jobs[0].pairs[0].measured", "is too large"},
        {"38.9", "-1000000000001", "$.jobs[0].pairs[0].measured", "is too large"},
        {"38.9", "1e307", "$.jobs[0].pairs[0].measured", "is too large"},
        {"38.9", "1e999", "line 1", "too large"},
        {"38.9", "-1e999", "line 1", "too large"},
        {"38.9", "1e99999999999999999999", "line 1", "too large"},
        {"38.9", "NaN", "line 1", "is no value"},
        {"38.9", "nan", "line 1", "holds a word"},
        {"38.9", "Infinity", "line 1", "is no value"},
        {"38.9", "-Infinity", "line 1", "is no value"},
        {"38.9", "38,9", "line 1", "no name where one is due"},
        {"38.9", "0x26", "line 1", "no comma"},
        {",\"measured\":38.9", "", "$.jobs[0].pairs[0]", "has no \"measured\""},
        {"\"foretold\":36.2,", "", "$.jobs[0].pairs[0]", "has no \"foretold\""},
        {"\"check\":\"seat-level\",", "", "$.jobs[0].pairs[0]", "has no \"check\""},
        {"\"measured\":38.9", "\"measured\":38.9,\"mesured\":1", "$.jobs[0].pairs[0].mesured",
         "unknown name"},
        {"seat-level", "Seat level", "$.jobs[0].pairs[0].check", "is no id"},
        {"\"seat-level\"", "7", "$.jobs[0].pairs[0].check", "is a number"},
        {"\"fast-play\"", "\"\"", "$.jobs[0].pairs[1].use", "is no id"},
        {"\"fast-play\"", "null", "$.jobs[0].pairs[1].use", "is null"},
        {"photos", "fast-play", "$.jobs[0].pairs[2]",
         "is about \"rates\" and its use \"fast-play\" a second time"},
        {"\"rates\",\"use\":\"fast-play\"", "\"seat-level\"", "$.jobs[0].pairs[1]",
         "is about \"seat-level\" a second time"},
        {"\"second\"", "\"first\"", "$.jobs[1].job", "gives \"first\" a second time"},
        {"\"second\"", "\"\"", "$.jobs[1].job", "is no id"},
        {"\"job\":\"second\",", "", "$.jobs[1]", "has no \"job\""},
        {",\"pairs\":[]", "", "$.jobs[1]", "has no \"pairs\""},
        {"\"pairs\":[]", "\"pairs\":{}", "$.jobs[1].pairs", "is an object, not a list"},
        {"\"pairs\":[]", "\"pairs\":[1]", "$.jobs[1].pairs[0]", "is a number, not an object"},
        {"2026-03-12", "2026-02-30", "$.jobs[0].date", "is no date"},
        {"\"2026-03-12\"", "20260312", "$.jobs[0].date", "is a number"},
        {"\"schema\":1", "\"schema\":1,\"note\":5", "$.note", "is a number, not a text"},
        {"\"schema\":1", "\"schema\":1,\"schema\":1", "line 1", "gives the name \"schema\" twice"},
        {"\"first\"", "\"first\",\"job\":\"x\"", "line 1", "gives the name \"job\" twice"},
        {"{\"job\":\"second\",\"pairs\":[]}", "null", "$.jobs[1]", "is null, not an object"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        expect_change_refused(rows[i].from, rows[i].to, rows[i].place, rows[i].what);
}

/* The nearest known name is offered. */
Test(calibration, slips_of_names) {
    static const char text[] = "{\"schema\":1,\"jbs\":[]}";
    sw_calibration *made = NULL;
    sw_complaints *complaints = sw_complaints_new();
    cr_expect_eq(sw_calibration_parse(&made, "c.json", text, strlen(text), complaints),
                 SW_BAD_DATA);
    cr_assert_eq(sw_complaints_count(complaints), 2);
    cr_expect_str_eq(sw_complaints_get(complaints, 0)->mend, "did you mean \"jobs\"?");
    cr_expect_str_eq(sw_complaints_get(complaints, 1)->what, "has no \"jobs\"");
    sw_complaints_free(complaints);
}

Test(calibration, bytes_that_are_no_file_of_ours) {
    static const struct {
        const char *bytes;
        size_t length;
        const char *place, *what;
    } rows[] = {
        {"", 0, "line 1", "ends too early"},
        {"\0", 1, "line 1", "is no value"},
        {" \n\n", 3, "line 3", "ends too early"},
        {"[]", 2, "$", "is not an object"},
        {"null", 4, "$", "is not an object"},
        {"1", 1, "$", "is not an object"},
        {"{}{}", 4, "line 1", "goes on behind its end"},
        {"{\"schema\":1,\"jobs\":[]", 21, "line 1", "ends too early"},
        {"{\"schema\":1,\"jobs\":[],}", 23, "line 1", "no name where one is due"},
        {"\xEF\xBB\xBF{\"schema\":1,\"jobs\":[]}", 25, "line 1", "byte order mark"},
        {"{\"schema\":1,\"note\":\"\xFF\",\"jobs\":[]}", 33, "line 1", "not UTF-8"},
        {"{\"schema\":1,\"note\":\"\\u0000\",\"jobs\":[]}", 38, "line 1", "\\u0000"},
        {"\x7F"
         "ELF\x02\x01\x01",
         7, "line 1", "is no value"},
        {"job,check,foretold\r\n", 20, "line 1", "is no value"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        expect_refused(rows[i].bytes, rows[i].length, rows[i].place, rows[i].what);
}

Test(calibration, nesting_and_size) {
    sw_text deep = {0};
    for (int i = 0; i < 100000; i++)
        sw_text_add(&deep, "[");
    expect_refused(deep.bytes, deep.length, "line 1", "nested too deep");
    sw_text_free(&deep);
    sw_text pairs = {0};
    sw_text_add(&pairs, "{\"schema\":1,\"jobs\":[{\"job\":\"a\",\"pairs\":[");
    for (int i = 0; i <= 1000; i++)
        sw_text_addf(&pairs, "%s{\"check\":\"c-%d\",\"foretold\":1,\"measured\":2}",
                     i == 0 ? "" : ",", i);
    sw_text_add(&pairs, "]}]}");
    expect_refused(pairs.bytes, pairs.length, "$.jobs[0].pairs", "has 1001 entries");
    sw_text_free(&pairs);
    sw_text jobs = {0};
    sw_text_add(&jobs, "{\"schema\":1,\"jobs\":[");
    for (int i = 0; i < 10000; i++)
        sw_text_addf(&jobs, "%s{\"job\":\"j-%d\",\"pairs\":[]}", i == 0 ? "" : ",", i);
    sw_text_add(&jobs, "]}");
    sw_calibration *full = parse(jobs.bytes);
    cr_expect_eq(full->job_count, 10000);
    /* One more finds no room, and is told before anything is written. */
    sw_past_job more = {.id = "more"};
    char *text = NULL;
    sw_complaints *complaints = sw_complaints_new();
    cr_expect_eq(sw_render_calibration(&text, full, &more, complaints), SW_BAD_DATA);
    cr_expect_null(text);
    cr_assert_eq(sw_complaints_count(complaints), 1);
    cr_expect_str_eq(sw_complaints_get(complaints, 0)->what, "has 10001 entries");
    sw_complaints_free(complaints);
    sw_calibration_free(full);
    sw_text_free(&jobs);
}

/* What could not be read again is not written. */
Test(calibration, a_file_that_is_full) {
    size_t length = (size_t)20 * 1024 * 1024;
    char *note = malloc(length + 1), *text = NULL;
    memset(note, 'x', length);
    note[length] = '\0';
    sw_calibration large = {.file = "c.json", .note = note};
    sw_complaints *complaints = sw_complaints_new();
    cr_expect_eq(sw_render_calibration(&text, &large, NULL, complaints), SW_BAD_DATA);
    cr_expect_null(text);
    cr_assert_eq(sw_complaints_count(complaints), 1);
    cr_expect_str_eq(sw_complaints_get(complaints, 0)->what, "would be too large with this job");
    sw_complaints_free(complaints);
    free(note);
}

/* ---- files -------------------------------------------------------------------------------------
 */

typedef struct place {
    char folder[40], path[64];
} place;

static place make_place(void) {
    place is = {.folder = "/tmp/swapworth-learnt-XXXXXX"};
    cr_assert_not_null(mkdtemp(is.folder));
    snprintf(is.path, sizeof is.path, "%s/c.json", is.folder);
    return is;
}

static sw_status read_path(const char *path, bool begin, const char **what) {
    static char said[200];
    sw_calibration *made = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_status status = begin ? sw_calibration_begin(&made, path, complaints)
                             : sw_calibration_read(&made, path, complaints);
    const sw_complaint *first = sw_complaints_get(complaints, 0);
    snprintf(said, sizeof said, "%s", first == NULL ? "" : first->what);
    *what = said;
    cr_expect_eq(first == NULL, status == SW_OK);
    cr_expect_eq(made != NULL, status == SW_OK);
    cr_expect(made == NULL || strcmp(made->file, path) == 0);
    sw_calibration_free(made);
    sw_complaints_free(complaints);
    return status;
}

Test(calibration, files) {
    place is = make_place();
    const char *what = "";
    cr_expect_eq(read_path(is.path, false, &what), SW_CANNOT_READ, "not there: %s", what);
    cr_expect_eq(read_path(is.path, true, &what), SW_OK, "begun: %s", what);
    cr_expect_eq(read_path(is.folder, true, &what), SW_CANNOT_READ, "a folder: %s", what);
    FILE *file = fopen(is.path, "w");
    cr_assert_eq(fclose(file), 0);
    cr_expect_eq(read_path(is.path, true, &what), SW_BAD_DATA, "empty");
    cr_expect_str_eq(what, "ends too early");
    char below[80];
    snprintf(below, sizeof below, "%s/x", is.path);
    cr_expect_eq(read_path(below, true, &what), SW_CANNOT_READ, "below a file: %s", what);
    file = fopen(is.path, "w");
    cr_assert(fputs(good, file) >= 0);
    cr_assert_eq(fclose(file), 0);
    cr_expect_eq(read_path(is.path, false, &what), SW_OK, "%s", what);
    cr_expect_eq(read_path(is.path, true, &what), SW_OK, "%s", what);
    remove(is.path);
    rmdir(is.folder);
}

/* ---- what is written ----------------------------------------------------------------------------
 */

static bool are_equal(const char *a, const char *b) {
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static void expect_same_job(const sw_past_job *a, const sw_past_job *b) {
    cr_expect(are_equal(a->id, b->id) && are_equal(a->date, b->date) &&
              are_equal(a->note, b->note));
    cr_assert_eq(a->pair_count, b->pair_count);
    for (size_t i = 0; i < a->pair_count; i++) {
        const sw_pair *p = &a->pairs[i], *q = &b->pairs[i];
        cr_expect(are_equal(p->check, q->check) && are_equal(p->use, q->use) &&
                  are_equal(p->note, q->note));
        cr_expect(p->foretold == q->foretold && p->measured == q->measured, "%.17g, %.17g",
                  p->foretold, p->measured);
    }
}

Test(calibration, a_job_is_added_or_takes_its_place) {
    sw_calibration *is = parse(good);
    static const sw_pair pairs[] = {{.check = "seat-level", .foretold = 30.1, .measured = 1.0 / 3},
                                    {.check = "rates", .use = "a", .foretold = 1, .measured = 2}};
    sw_past_job third = {.id = "third", .date = "2026-04-01", .pairs = pairs, .pair_count = 2};
    char *text = render(is, &third);
    sw_calibration *more = parse(text);
    cr_assert_eq(more->job_count, 3);
    expect_same_job(&more->jobs[0], &is->jobs[0]);
    expect_same_job(&more->jobs[1], &is->jobs[1]);
    expect_same_job(&more->jobs[2], &third);
    /* The same job once more: no trace of its pairs of before, and no other order. */
    sw_past_job first = {.id = "first", .pairs = pairs, .pair_count = 1};
    char *again = render(more, &first);
    sw_calibration *last = parse(again);
    cr_assert_eq(last->job_count, 3);
    expect_same_job(&last->jobs[0], &first);
    expect_same_job(&last->jobs[1], &is->jobs[1]);
    expect_same_job(&last->jobs[2], &third);
    free(text);
    free(again);
    sw_calibration_free(is);
    sw_calibration_free(more);
    sw_calibration_free(last);
}

Test(calibration, notes_stay) {
    static const char noted[] =
        "{\"schema\":1,\"note\":\"of the \\\"front\\\" bench\\n\\u00e4\",\"jobs\":["
        "{\"job\":\"a\",\"note\":\"hot day\",\"pairs\":[{\"check\":\"c\",\"foretold\":1,"
        "\"measured\":2,\"note\":\"by ear\"}]},{\"job\":\"b\",\"note\":\"\",\"pairs\":[]}]}";
    sw_calibration *is = parse(noted);
    sw_past_job job = {.id = "a"};
    char *text = render(is, &job), *untouched = render(is, NULL);
    sw_calibration *with = parse(text), *same = parse(untouched);
    cr_expect_str_eq(with->note, "of the \"front\" bench\n\xC3\xA4");
    cr_expect_str_eq(with->jobs[0].note, "hot day", "it is about the job, not about its pairs");
    cr_expect_eq(with->jobs[0].pair_count, 0);
    cr_expect_str_eq(with->jobs[1].note, "");
    cr_expect_str_eq(same->jobs[0].pairs[0].note, "by ear");
    sw_calibration_free(is);
    sw_calibration_free(with);
    sw_calibration_free(same);
    free(text);
    free(untouched);
}

/* A generator of our own (SplitMix64, S. Vigna), so that every run has the same numbers. */
static uint64_t next_bits(uint64_t *state) {
    uint64_t z = *state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ z >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ z >> 27) * UINT64_C(0x94D049BB133111EB);
    return z ^ z >> 31;
}

/* Finite doubles of all sizes that are taken. */
static double any_number(uint64_t *state) {
    for (;;) {
        uint64_t bits = next_bits(state);
        double number = 0;
        if (next_bits(state) % 2 == 0) /* as people write them */
            number = (double)(int64_t)(bits % 2000001) / 1000 - 1000;
        else
            memcpy(&number, &bits, sizeof number);
        if (number >= -SW_MEASURED_LIMIT && number <= SW_MEASURED_LIMIT)
            return number;
    }
}

/* A job with all sorts of numbers reads back equal, and the file of it is written the same again.
 */
static void expect_numbers_kept(uint64_t seed, size_t count) {
    sw_calibration *none = parse("{\"schema\":1,\"jobs\":[]}");
    sw_pair *pairs = calloc(count, sizeof *pairs);
    char(*ids)[32] = calloc(count, sizeof *ids);
    for (size_t i = 0; i < count; i++) {
        snprintf(ids[i], sizeof ids[i], "check-%zu", i);
        pairs[i] = (sw_pair){.check = ids[i],
                             .foretold = any_number(&seed),
                             .measured = i == 0 ? 5e-324 : any_number(&seed)};
    }
    sw_past_job job = {.id = "job", .pairs = pairs, .pair_count = count};
    char *text = render(none, &job);
    sw_calibration *back = parse(text);
    cr_assert_eq(back->job_count, 1);
    expect_same_job(&back->jobs[0], &job);
    char *again = render(back, NULL);
    cr_expect_str_eq(again, text);
    sw_calibration_free(none);
    sw_calibration_free(back);
    free(text);
    free(again);
    free(pairs);
    free(ids);
}

Test(calibration, numbers_read_back_equal) {
    for (uint64_t seed = 1; seed <= 20; seed++)
        expect_numbers_kept(seed, 1000);
}

Test(calibration, numbers_are_written_short) {
    sw_calibration *is = parse(good);
    char *text = render(is, NULL);
    cr_expect_not_null(strstr(text, "\t36.2,"), "%s", text);
    cr_expect_not_null(strstr(text, "\t38.9\n"), "%s", text);
    cr_expect_not_null(strstr(text, "\t0.12345678,"), "%s", text);
    sw_calibration_free(is);
    free(text);
}

/* A caller that sets its locale has a comma in its numbers; files have a point. */
Test(calibration, locale_of_the_caller) {
    char number[16];
    if (setlocale(LC_ALL, "de_DE.UTF-8") == NULL && setlocale(LC_ALL, "de_DE") == NULL)
        cr_skip_test("no locale with a comma is installed");
    snprintf(number, sizeof number, "%.1f", 0.5);
    cr_assert_str_eq(number, "0,5");
    sw_calibration *is = parse(good);
    cr_expect_eq(is->jobs[0].pairs[0].foretold, 36.2);
    char *text = render(is, NULL);
    cr_expect_not_null(strstr(text, "\t36.2,"), "%s", text);
    sw_calibration_free(is);
    free(text);
    expect_numbers_kept(77, 1000);
}

/* ---- broken files
 * ---------------------------------------------------------------------------------- */

/* Bytes changed, left out or doubled at random: it is taken and written the same again, or it is
 * complained of. */
Test(calibration, bytes_at_random) {
    uint64_t state = 20261128;
    size_t taken = 0, refused = 0, length = strlen(good);
    char changed[2 * sizeof good];
    for (int i = 0; i < 4000; i++) {
        size_t room = length;
        memcpy(changed, good, length);
        for (uint64_t k = next_bits(&state) % 3; k < 3; k++) {
            size_t at = next_bits(&state) % room;
            static const char likely[] = "{}[]\",:0123456789.eE+-tfn\\u \xC3";
            if (next_bits(&state) % 3 == 0) {
                memmove(changed + at, changed + at + 1, --room - at);
            } else {
                changed[at] = likely[next_bits(&state) % (sizeof likely - 1)];
            }
        }
        sw_calibration *made = NULL;
        sw_complaints *complaints = sw_complaints_new();
        sw_status status = sw_calibration_parse(&made, "c.json", changed, room, complaints);
        cr_expect_eq(status == SW_OK, sw_complaints_count(complaints) == 0);
        cr_expect(status == SW_OK || status == SW_BAD_DATA);
        if (status == SW_OK) {
            char *once = render(made, NULL);
            sw_calibration *back = parse(once);
            char *twice = render(back, NULL);
            cr_expect_str_eq(once, twice);
            sw_calibration_free(back);
            free(once);
            free(twice);
        }
        taken += status == SW_OK;
        refused += status != SW_OK;
        sw_calibration_free(made);
        sw_complaints_free(complaints);
    }
    cr_expect(taken > 100 && refused > 1000, "%zu taken, %zu refused", taken, refused);
}
