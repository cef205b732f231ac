/* The picture of a curve, from curves made up here: what may never be wrong with it, whatever
 * the curve. Contrast: W3C, Web Content Accessibility Guidelines 2.1, relative luminance and
 * success criteria 1.4.3 (text, 4.5) and 1.4.11 (graphics, 3), from memory. */
#include <criterion/criterion.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "answer/answer.h"

#define STEPS_MOST 1500
#define TEXTS_MOST 400
#define WIDTH 600.0

typedef struct curve {
    const char *title, *currency;
    int digits;
    int64_t budget, from, to;
    sw_answer_status status;
    size_t count;
    int64_t first_cost, cost_step, points_step; /* steps rise ever more slowly */
    size_t open_from, open_to;                  /* these steps are not proved */
    int64_t open;
} curve;

static const curve curves[] = {
    {"Usual", "EUR", 2, 45000, 0, -1, SW_OPTIMAL, 90, 8182, 1300, 6000, 0, 0, 0},
    {"No digits", "JPY", 0, 60000, 0, -1, SW_OPTIMAL, 40, 0, 2600, 6000, 0, 0, 0},
    {"Three digits", "KWD", 3, 120500, 0, -1, SW_OPTIMAL, 60, 12345, 3000, 4000, 0, 0, 0},
    {"Large money", "JPY", 0, 6000000, 0, -1, SW_OPTIMAL, 30, 1000000, 250000, 5000, 0, 0, 0},
    {"One step for nothing", "EUR", 2, 25000, 0, -1, SW_OPTIMAL, 1, 0, 1, 1, 0, 0, 0},
    {"One step", "EUR", 2, 25000, 0, -1, SW_OPTIMAL, 1, 12000, 1, 1, 0, 0, 0},
    {"Very many", "EUR", 2, 150000, 0, -1, SW_OPTIMAL, 1500, 4000, 150, 400, 0, 0, 0},
    {"None", "EUR", 2, 100, 0, -1, SW_NOTHING_FITS, 0, 0, 0, 0, 0, 0, 0},
    {"Open", "EUR", 2, 60000, 0, -1, SW_STOPPED_EARLY, 25, 5000, 4500, 6000, 8, 17, 4321},
    {"Open, nobody knows how far", "EUR", 2, 60000, 0, -1, SW_STOPPED_EARLY, 25, 5000, 4500, 6000,
     3, 9, INT64_MAX},
    {"A window", "EUR", 2, 30000, 20000, 40000, SW_OPTIMAL, 12, 20100, 1200, 900, 0, 0, 0},
    {"Budget below", "EUR", 2, 3000, 0, -1, SW_OPTIMAL, 10, 9000, 2500, 6000, 0, 0, 0},
    {"Budget unasked", "EUR", 2, 61200, 0, 12000, SW_OPTIMAL, 20, 3843, 300, 900, 0, 0, 0},
    {"No budget", "EUR", 2, 0, 0, -1, SW_OPTIMAL, 20, 0, 300, 900, 0, 0, 0},
    {"Cents", "EUR", 2, 30, 0, -1, SW_OPTIMAL, 3, 1, 3, 300, 0, 0, 0},
    {"A title so long that it goes on over far more than the three lines there are for it, and has "
     "to be cut, which is better than to push all else down, and with aWordThatIsLongerThanAnyLine"
     "CouldEverHoldBecauseNobodyPressedTheSpaceBarWhenItWasWritten at that",
     "EUR", 2, 45000, 0, -1, SW_OPTIMAL, 9, 100, 1300, 6000, 0, 0, 0},
    {"", "EUR", 2, 45000, 0, -1, SW_OPTIMAL, 9, 100, 1300, 6000, 0, 0, 0},
    {"<b>&\"'</title><script>alert(1)</script>\x01\xE2\x80\xAE ]]> \xEF\xBF\xBE", "EUR", 2, 45000,
     0, -1, SW_OPTIMAL, 9, 100, 1300, 6000, 0, 0, 0},
};
#define CURVES (sizeof curves / sizeof *curves)

static char *draw(const curve *c) {
    sw_answer answer = {.arena = sw_arena_new(),
                        .status = c->status,
                        .title = c->title,
                        .currency = c->currency,
                        .digits = c->digits,
                        .budget = c->budget,
                        .curve_from = c->from,
                        .curve_to = c->to,
                        .bundle_count = c->count};
    cr_assert(answer.arena != NULL);
    answer.bundles = SW_NEW(answer.arena, sw_answer_bundle, c->count);
    int64_t cost = c->first_cost, points = c->from > 0 ? 58000 : 0;
    for (size_t i = 0; i < c->count; i++) {
        answer.bundles[i].rank = (int)i + 1;
        answer.bundles[i].cost = cost;
        answer.bundles[i].points = points;
        answer.bundles[i].open = i >= c->open_from && i < c->open_to ? c->open : 0;
        cost += c->cost_step * (1 + (int64_t)(i % 3)) / 2 + 1;
        double left = 1 - (double)i / (double)c->count;
        points += 1 + (int64_t)((double)c->points_step * left * left * left);
    }
    cr_assert_eq(sw_find_envelope(&answer), SW_OK);
    char *svg = NULL;
    cr_assert_eq(sw_render_curve_svg(&svg, &answer), SW_OK);
    sw_arena_free(answer.arena);
    return svg;
}

/* ---- contrast -------------------------------------------------------------------------- */

static double channel(const char *hex) {
    char two[3] = {hex[0], hex[1], '\0'};
    double c = (double)strtol(two, NULL, 16) / 255;
    return c <= 0.03928 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4);
}

static double contrast_on_white(const char *hex) {
    double light = 0.2126 * channel(hex) + 0.7152 * channel(hex + 2) + 0.0722 * channel(hex + 4);
    return 1.05 / (light + 0.05);
}

Test(curve_svg, contrast) {
    /* The grey that is just dark enough for text, and one that is just not. */
    cr_assert_gt(contrast_on_white("767676"), 4.5);
    cr_assert_lt(contrast_on_white("777777"), 4.5);
    for (size_t i = 0; i < CURVES; i++) {
        char *svg = draw(&curves[i]);
        int fills = 0;
        for (const char *at = svg; (at = strchr(at, '#')) != NULL; at++) {
            bool white = strncmp(at, "#ffffff", 7) == 0;
            bool stroke = strncmp(at - 8, "stroke=\"", 8) == 0;
            bool fill = strncmp(at - 6, "fill=\"", 6) == 0;
            cr_assert(stroke || fill, "a colour that is neither: %.20s", at - 8);
            cr_assert(!white || fill, "a white line");
            fills += fill;
            if (!white)
                cr_assert_geq(contrast_on_white(at + 1), stroke ? 3.0 : 4.5, "%.7s", at);
        }
        cr_assert_gt(fills, 0);
        free(svg);
    }
}

/* ---- nothing over anything else ------------------------------------------------------------- */

typedef struct box {
    double left, right, top, bottom;
    char words[60];
} box;

static double attribute(const char *tag, const char *name) {
    const char *at = strstr(tag, name);
    cr_assert(at != NULL && at < strchr(tag, '>'), "no %s in %.80s", name, tag);
    return strtod(at + strlen(name), NULL);
}

/* About how wide the letters of a common face are: half their height and a little. */
static size_t boxes_of(box *out, const char *svg) {
    size_t count = 0;
    for (const char *at = svg; (at = strstr(at, "<text ")) != NULL; at++) {
        const char *words = strchr(at, '>') + 1;
        size_t length = strcspn(words, "<"), letters = 0;
        for (size_t i = 0; i < length; i++) {
            letters++;
            if (words[i] == '&')
                i += strcspn(words + i, ";");
        }
        bool title = strstr(at, "font-size") != NULL && strstr(at, "font-size") < words;
        double width = (double)letters * (title ? 9.5 : 7);
        double x = attribute(at, " x=\""), y = attribute(at, " y=\"");
        const char *anchor = strstr(at, "text-anchor=\"");
        char kind = anchor != NULL && anchor < words ? anchor[13] : 's';
        double left = kind == 'm' ? x - width / 2 : kind == 'e' ? x - width : x;
        cr_assert_lt(count, TEXTS_MOST);
        out[count] = (box){left, left + width, y - 10, y + 2, ""};
        snprintf(out[count++].words, sizeof out->words, "%.*s", (int)length, words);
    }
    return count;
}

Test(curve_svg, texts_stand_apart_and_inside) {
    static box boxes[TEXTS_MOST];
    for (size_t i = 0; i < CURVES; i++) {
        char *svg = draw(&curves[i]);
        double height = attribute(strstr(svg, "<svg "), " height=\"");
        cr_assert_eq(attribute(strstr(svg, "<svg "), " width=\""), WIDTH);
        size_t count = boxes_of(boxes, svg);
        cr_assert_geq(count, curves[i].count > 0 ? 12 : 2, "%s: %zu texts", curves[i].title, count);
        for (size_t a = 0; a < count; a++) {
            const box *one = &boxes[a];
            cr_assert(one->left >= 0 && one->right <= WIDTH && one->top >= 0 &&
                          one->bottom <= height,
                      "%s: \"%s\" leaves the picture", curves[i].title, one->words);
            for (size_t b = 0; b < a; b++)
                cr_assert(one->left >= boxes[b].right || boxes[b].left >= one->right ||
                              one->top >= boxes[b].bottom || boxes[b].top >= one->bottom,
                          "%s: \"%s\" over \"%s\"", curves[i].title, one->words, boxes[b].words);
        }
        free(svg);
    }
}

/* ---- what is said -------------------------------------------------------------------------- */

static bool says(const char *svg, const char *words) { return strstr(svg, words) != NULL; }

Test(curve_svg, says_what_is_open) {
    char *open = draw(&curves[8]), *unknown = draw(&curves[9]), *proved = draw(&curves[0]);
    cr_assert(says(open, "25 steps, 16 of them proved"));
    cr_assert(says(open, "up to 4.4 points more may be possible"), "4.321 is rounded up");
    cr_assert(says(open, "stroke-dasharray=\"1.5 3\""), "a dotted line for what may be possible");
    cr_assert(says(unknown, "it is not known how much more may be possible"));
    cr_assert(!says(unknown, "stroke-dasharray=\"1.5 3\" stroke-linejoin"));
    cr_assert(says(proved, "90 steps, proved"));
    cr_assert(!says(proved, "may be possible"));
    free(open);
    free(unknown);
    free(proved);
}

Test(curve_svg, says_where_the_budget_stands) {
    static const struct {
        size_t curve;
        const char *words;
    } cases[] = {{10, "The budget, 300.00 EUR: "},
                 {11, "less than the first step costs"},
                 {12, "lies outside what was asked for"},
                 {5, "lies beyond the picture: 0.0 points"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char *svg = draw(&curves[cases[i].curve]);
        cr_assert(says(svg, cases[i].words), "%s", cases[i].words);
        free(svg);
    }
}

Test(curve_svg, stands_alone) {
    for (size_t i = 0; i < CURVES; i++) {
        char *svg = draw(&curves[i]);
        const char *const never[] = {"href",   "url(",     "<script", "<style",
                                     "<image", "<foreign", " onload="};
        for (size_t n = 0; n < sizeof never / sizeof *never; n++)
            cr_assert(!says(svg, never[n]), "%s in %s", never[n], curves[i].title);
        for (const unsigned char *at = (const unsigned char *)svg; *at != '\0'; at++)
            cr_assert(*at >= 0x20 || *at == '\n', "a control character");
        cr_assert(says(svg, "role=\"img\" aria-labelledby=\"title desc\""));
        free(svg);
    }
}
