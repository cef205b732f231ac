/* How a curve is told that ended early, and what was proved again: words, JSON and CSV of one
 * answer made up here. CSV by RFC 4180. */
#include <criterion/criterion.h>
#include <cjson/cJSON.h>
#include <stdlib.h>
#include <string.h>

#include "answer/answer.h"

static void make(sw_answer *answer) {
    static const int64_t costs[] = {0, 1250, 5000}, points[] = {0, 2500, 4000};
    static const int64_t open[] = {0, 4321, INT64_MAX};
    *answer = (sw_answer){.arena = sw_arena_new(),
                          .status = SW_STOPPED_EARLY,
                          .title = "",
                          .currency = "EUR",
                          .digits = 2,
                          .budget = 3000,
                          .curve_to = -1,
                          .bundle_count = 3};
    cr_assert(answer->arena != NULL);
    answer->bundles = SW_NEW(answer->arena, sw_answer_bundle, 3);
    for (int i = 0; i < 3; i++) {
        answer->bundles[i].rank = i + 1;
        answer->bundles[i].cost = costs[i];
        answer->bundles[i].points = points[i];
        answer->bundles[i].open = open[i];
    }
    cr_assert_eq(sw_find_envelope(answer), SW_OK);
}

static char *text_of(const sw_answer *answer, sw_picture picture) {
    char *text = NULL;
    sw_text_style style = {.width = 100, .picture = picture};
    cr_assert_eq(sw_render_curve_text(&text, answer, style), SW_OK);
    return text;
}

static void says(const sw_answer *answer, const char *words, bool wanted) {
    char *text = text_of(answer, SW_PICTURE_PLAIN);
    cr_assert_eq(strstr(text, words) != NULL, wanted, "\"%s\" in:\n%s", words, text);
    free(text);
}

Test(curve_told, open_steps_in_words) {
    sw_answer answer;
    make(&answer);
    says(&answer, "Up to 4.4 points more may be possible here.", true);
    says(&answer, "how much more may be possible here is not known", true);
    says(&answer, "of the 3 steps above 1 is proved", true);
    says(&answer, "Dotted: not proved.", true);
    says(&answer, "The time ran out", true);
    answer.asked_to_stop = true;
    says(&answer, "The time ran out", false);
    says(&answer, "It was stopped on request", true);
    for (int i = 0; i < 3; i++)
        answer.bundles[i].open = 0;
    answer.status = SW_OPTIMAL;
    says(&answer, "may be possible", false);
    says(&answer, "Dotted", false);
    says(&answer, "stopped", false);
    sw_arena_free(answer.arena);
}

Test(curve_told, price_of_a_point_in_words) {
    sw_answer answer;
    make(&answer);
    /* 12.50 for 2.5 points: 5.00, 20 per 100; 37.50 for 1.5 points: 25.0, 4.00 per 100. */
    char *text = text_of(&answer, SW_PICTURE_NONE);
    const char *first = strstr(text, " 0.00      12.50       5.00       20.0\n");
    cr_assert(first != NULL, "%s", text);
    cr_assert(strstr(first, "12.50      50.00       25.0       4.00\n") != NULL, "%s", text);
    cr_assert(strstr(text, "points\n") == NULL, "no picture was asked for");
    free(text);
    sw_arena_free(answer.arena);
}

/* Prices along the steps found so far are told as such, in every form; whole curves have no word
 * of it. */
Test(curve_told, prices_so_far) {
    sw_answer answer;
    make(&answer);
    for (int whole = 0; whole < 2; whole++) {
        char *json = NULL, *svg = NULL;
        answer.status = whole ? SW_OPTIMAL : SW_STOPPED_EARLY;
        for (int i = 0; i < 3 && whole; i++)
            answer.bundles[i].open = 0;
        says(&answer, "Price of a point so far", !whole);
        says(&answer, "all steps found so far", !whole);
        cr_assert_eq(sw_render_curve_json(&json, &answer), SW_OK);
        cJSON *root = cJSON_Parse(json);
        cr_assert_eq(cJSON_IsTrue(cJSON_GetObjectItem(root, "envelope_so_far")), !whole);
        cr_assert_eq(cJSON_HasObjectItem(root, "envelope_so_far"), !whole);
        cr_assert_eq(sw_render_curve_svg(&svg, &answer), SW_OK);
        cr_assert_eq(strstr(svg, ">Price of a point so far, in EUR<") != NULL, !whole);
        cr_assert_eq(strstr(svg, ">Price of a point, in EUR<") != NULL, whole);
        cr_assert_eq(strstr(svg, "a point costs 25.0 EUR so far.") != NULL, !whole);
        cr_assert_eq(strstr(svg, "so far") != NULL, !whole);
        cJSON_Delete(root);
        free(json);
        free(svg);
    }
    sw_arena_free(answer.arena);
}

/* Nothing up to the cost asked for: told with that cost, and with the least that is needed where
 * that is known. */
Test(curve_told, nothing_fits) {
    sw_answer answer;
    make(&answer);
    answer.status = SW_NOTHING_FITS;
    answer.bundle_count = answer.envelope_count = 0;
    answer.curve_to = 1230;
    says(&answer, "Nothing fits up to 12.30 EUR.", true);
    answer.needed = 4567;
    says(&answer, "Nothing fits up to 12.30 EUR: it takes at least 45.67 EUR.", true);
    char *svg = NULL, *json = NULL;
    cr_assert_eq(sw_render_curve_svg(&svg, &answer), SW_OK);
    cr_assert(strstr(svg, "nothing fits up to 12.30 EUR; it takes at least 45.67 EUR.") != NULL);
    cr_assert_eq(sw_render_curve_json(&json, &answer), SW_OK);
    cr_assert(strstr(json, "\"needed\":\t\"45.67\"") != NULL, "%s", json);
    free(svg);
    free(json);
    sw_arena_free(answer.arena);
}

Test(curve_told, as_json) {
    sw_answer answer;
    make(&answer);
    static const char *const stopped[] = {"time", "asked"};
    for (int asked = 0; asked < 2; asked++) {
        char *text = NULL;
        answer.asked_to_stop = asked == 1;
        cr_assert_eq(sw_render_curve_json(&text, &answer), SW_OK);
        cJSON *root = cJSON_Parse(text);
        cr_assert(root != NULL);
        cr_assert_str_eq(cJSON_GetObjectItem(root, "stopped")->valuestring, stopped[asked]);
        cr_assert(cJSON_GetObjectItem(root, "verified") == NULL);
        const cJSON *steps = cJSON_GetObjectItem(root, "steps");
        cr_assert_str_eq(cJSON_GetObjectItem(cJSON_GetArrayItem(steps, 0), "open")->valuestring,
                         "0.000");
        cr_assert_str_eq(cJSON_GetObjectItem(cJSON_GetArrayItem(steps, 1), "open")->valuestring,
                         "4.321");
        cr_assert(cJSON_IsNull(cJSON_GetObjectItem(cJSON_GetArrayItem(steps, 2), "open")));
        const cJSON *envelope = cJSON_GetObjectItem(root, "envelope");
        cr_assert_eq(cJSON_GetArraySize(envelope), 2);
        const cJSON *piece = cJSON_GetArrayItem(envelope, 1);
        static const char *const fields[][2] = {{"from", "12.50"},
                                                {"to", "50.00"},
                                                {"price_of_point", "25"},
                                                {"points_per_100", "4.000"}};
        for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
            cr_assert_str_eq(cJSON_GetObjectItem(piece, fields[i][0])->valuestring, fields[i][1]);
        cJSON_Delete(root);
        free(text);
    }
    sw_arena_free(answer.arena);
}

Test(curve_told, as_csv) {
    sw_answer answer;
    make(&answer);
    char *text = NULL;
    cr_assert_eq(sw_render_curve_csv(&text, &answer), SW_OK);
    cr_assert_str_eq(text, "cost_EUR,points,in,out,tasks,open_points\r\n"
                           "0.00,0.000,\"\",\"\",\"\",0.000\r\n"
                           "12.50,2.500,\"\",\"\",\"\",4.321\r\n"
                           "50.00,4.000,\"\",\"\",\"\",\r\n");
    free(text);
    sw_arena_free(answer.arena);
}

Test(curve_told, what_was_proved_again) {
    static const struct {
        sw_verified verified;
        size_t proved;
        const char *words, *verdict;
    } cases[] = {
        {SW_VERIFIED_ALL, 3, "Every bundle above was proved again by the linear solver (GLPK).",
         "all"},
        {SW_VERIFIED_SOME, 2, "(GLPK): 2 of the 3 bundles above", "some"},
        {SW_VERIFIED_NONE, 0, "None of the bundles above was proved again", "none"},
    };
    sw_answer answer;
    make(&answer);
    says(&answer, "GLPK", false);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        answer.verified = cases[i].verified;
        answer.verify_count = 3;
        answer.verified_count = cases[i].proved;
        says(&answer, cases[i].words, true);
        char *text = NULL;
        cr_assert_eq(sw_render_curve_json(&text, &answer), SW_OK);
        cJSON *root = cJSON_Parse(text);
        const cJSON *verified = cJSON_GetObjectItem(root, "verified");
        cr_assert_str_eq(cJSON_GetObjectItem(verified, "verdict")->valuestring, cases[i].verdict);
        cr_assert_eq(cJSON_GetObjectItem(verified, "bundles")->valueint, 3);
        cr_assert_eq(cJSON_GetObjectItem(verified, "proved")->valueint, (int)cases[i].proved);
        cJSON_Delete(root);
        free(text);
    }
    sw_arena_free(answer.arena);
}

/* Whatever the width, no line of the picture is wider than the page, and its rows are twelve. */
Test(curve_told, picture_keeps_to_the_page) {
    sw_answer answer;
    make(&answer);
    static const char *const corners[] = {
        [SW_PICTURE_PLAIN] = "\n0+", [SW_PICTURE_BRAILLE] = "\n0\u2524"};
    for (int width = 30; width <= 120; width++)
        for (int picture = SW_PICTURE_PLAIN; picture <= SW_PICTURE_BRAILLE; picture++) {
            char *text = NULL;
            sw_text_style style = {.width = width, .picture = (sw_picture)picture};
            cr_assert_eq(sw_render_curve_text(&text, &answer, style), SW_OK);
            int most = width < 40 ? 40 : width > 100 ? 100 : width, lines = 0;
            cr_assert(strstr(text, corners[picture]) != NULL);
            for (char *at = strstr(text, "points\n"), *end; strncmp(at, "\nStep", 5) != 0;
                 at = end + 1, lines++) {
                end = strchr(at, '\n');
                int columns = 0;
                for (const char *byte = at; byte < end; byte++)
                    columns += ((unsigned char)*byte & 0xC0) != 0x80;
                cr_assert_leq(columns, most, "%.*s", (int)(end - at), at);
            }
            /* "points", twelve rows, the axis, its numbers, the budget, "Dotted". */
            cr_assert_eq(lines, 17, "%d lines at %d", lines, width);
            free(text);
        }
    sw_arena_free(answer.arena);
}
