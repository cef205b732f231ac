/*
 * early SCENARIO PART OTHER GONE STOPS: every question to the library about the scenario, whole and
 * then stopped at STOPS moments of its work, by whoever waits and by the clock in turn. Prints a
 * line of JSON for each run: {"question","after" (-1:
 * whole),"by","status","complaints","text","json","picture"}. GONE is a PART@SELLER of option 1;
 * "-" where there is none. Uses the public header alone.
 */
#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "swapworth.h"

typedef struct job {
    const sw_scenario *scenario;
    const char *part, *other, *gone;
} job;

typedef struct said {
    char *text, *json, *picture;
} said;

/* A clock has no context: this program has one. */
static long looks, looks_most;

static bool enough(void *context) {
    (void)context;
    return ++looks > looks_most;
}

static double clock_that_jumps(void) { return ++looks > looks_most ? 1e9 : 0; }

/* ---- the questions ------------------------------------------------------------------------ */

#define QUESTION(name, type, render, release, ask, more)                                           \
    static sw_status name(said *s, const job *j, const sw_plan_options *o, sw_complaints *c) {     \
        type *got = NULL;                                                                          \
        (void)j;                                                                                   \
        sw_status status = ask;                                                                    \
        if (status == SW_OK)                                                                       \
            status = render##_text(&s->text, got, (sw_text_style){.width = 80});                   \
        if (status == SW_OK)                                                                       \
            status = render##_json(&s->json, got);                                                 \
        if (status == SW_OK)                                                                       \
            status = more;                                                                         \
        if (status == SW_OK)                                                                       \
            release(got);                                                                          \
        return status;                                                                             \
    }

QUESTION(plan, sw_answer, sw_render_plan, sw_answer_free, sw_plan(&got, j->scenario, o, c), SW_OK)
QUESTION(curve, sw_answer, sw_render_curve, sw_answer_free, sw_curve(&got, j->scenario, o, c),
         sw_render_curve_svg(&s->picture, got))
QUESTION(fits, sw_fits, sw_render_fits, sw_fits_free,
         sw_ask_fits(&got, j->scenario, &j->part, 1, o, c), SW_OK)
QUESTION(why, sw_why, sw_render_why, sw_why_free,
         sw_ask_why(&got, j->scenario, j->part, NULL, o, c), SW_OK)
QUESTION(why_over, sw_why, sw_render_why, sw_why_free,
         sw_ask_why(&got, j->scenario, j->part, j->other, o, c), SW_OK)
QUESTION(first, sw_first, sw_render_first, sw_first_free, sw_ask_first(&got, j->scenario, o, c),
         SW_OK)
QUESTION(phases, sw_phases, sw_render_phases, sw_phases_free,
         sw_ask_phases(&got, j->scenario, o, c), SW_OK)
QUESTION(ranges, sw_ranges, sw_render_ranges, sw_ranges_free,
         sw_ask_ranges(&got, j->scenario, &j->part, 1, o, c), SW_OK)
QUESTION(next, sw_next, sw_render_next, sw_next_free, sw_ask_next(&got, j->scenario, o, c), SW_OK)
QUESTION(map, sw_map, sw_render_map, sw_map_free, sw_ask_map(&got, j->scenario, o, c),
         sw_render_map_svg(&s->picture, got))
QUESTION(options, sw_options, sw_render_options, sw_options_free,
         sw_ask_options(&got, j->scenario, o, c), sw_render_options_page(&s->picture, got, NULL))
QUESTION(bench, sw_bench, sw_render_bench, sw_bench_free, sw_ask_bench(&got, j->scenario, 1, o, c),
         sw_render_bench_page(&s->picture, got))
QUESTION(look, sw_look, sw_render_look, sw_look_free, sw_ask_look(&got, j->scenario, o, c), SW_OK)
QUESTION(shopping, sw_shopping, sw_render_shopping, sw_shopping_free,
         sw_ask_shopping(&got, j->scenario, &(sw_errands){.option = 1}, o, c),
         sw_render_shopping_csv(&s->picture, got))
QUESTION(gone, sw_shopping, sw_render_shopping, sw_shopping_free,
         sw_ask_shopping(&got, j->scenario,
                         &(sw_errands){.option = 1, .gone = &j->gone, .gone_count = 1}, o, c),
         sw_render_shopping_csv(&s->picture, got))
QUESTION(sure, sw_sure, sw_render_sure, sw_sure_free,
         sw_ask_sure(&got, j->scenario, &(sw_sure_job){5, 10, false}, o, c), SW_OK)
QUESTION(sure_options, sw_sure, sw_render_sure, sw_sure_free,
         sw_ask_sure(&got, j->scenario, &(sw_sure_job){0, 0, true}, o, c), SW_OK)

QUESTION(whatif, sw_whatif, sw_render_whatif, sw_whatif_free,
         sw_ask_whatif(&got, j->scenario, &(const char *){"budget.total=1,50"}, 1, o, c), SW_OK)

static const struct {
    const char *name;
    sw_status (*ask)(said *, const job *, const sw_plan_options *, sw_complaints *);
} questions[] = {
    {"plan", plan},     {"curve", curve},       {"fits", fits},
    {"why", why},       {"first", first},       {"why-over", why_over},
    {"phases", phases}, {"ranges", ranges},     {"next", next},
    {"map", map},       {"options", options},   {"bench", bench},
    {"look", look},     {"shopping", shopping}, {"gone", gone},
    {"sure", sure},     {"whatif", whatif},     {"sure-options", sure_options},
};

/* ---- one run ------------------------------------------------------------------------------- */

static bool add_text(cJSON *line, const char *name, const char *text) {
    return text == NULL || cJSON_AddStringToObject(line, name, text) != NULL;
}

/* Who ends it. Without a clock, so many nodes of a search stand for a second. */
typedef enum ender { ASKED, CLOCK, NODES } ender;

static bool tell(size_t which, long after, ender by, sw_status status, const said *s,
                 const sw_complaints *c) {
    cJSON *line = cJSON_CreateObject();
    bool good =
        cJSON_AddStringToObject(line, "question", questions[which].name) != NULL &&
        cJSON_AddNumberToObject(line, "after", (double)after) != NULL &&
        cJSON_AddBoolToObject(line, "has_clock", by != NODES) != NULL &&
        cJSON_AddStringToObject(line, "by", by == ASKED ? "asked" : "time") != NULL &&
        cJSON_AddNumberToObject(line, "status", (double)status) != NULL &&
        cJSON_AddNumberToObject(line, "complaints", (double)sw_complaints_count(c)) != NULL &&
        add_text(line, "text", s->text) && add_text(line, "json", s->json) &&
        add_text(line, "picture", s->picture);
    char *bytes = good ? cJSON_PrintUnformatted(line) : NULL;
    if (bytes != NULL)
        puts(bytes);
    cJSON_free(bytes);
    cJSON_Delete(line);
    return bytes != NULL;
}

/* `after` -1: not stopped. Without a clock it is in thousandths of a second. */
static bool run(size_t which, const job *j, long after, ender by) {
    said s = {0};
    sw_complaints *c = sw_complaints_new();
    sw_plan_options o = sw_plan_options_default();
    looks = 0;
    looks_most = after < 0 ? 1000000000 : after;
    o.best = 2;
    o.verify = true;
    o.seconds = by == NODES && after >= 0 ? (double)after / 1000 : 1000;
    if (by == CLOCK)
        o.now = clock_that_jumps;
    else if (by == ASKED)
        o.halt = enough;
    bool good = c != NULL;
    if (good)
        good = tell(which, after, by, questions[which].ask(&s, j, &o, c), &s, c);
    free(s.text);
    free(s.json);
    free(s.picture);
    sw_complaints_free(c);
    return good;
}

int main(int argc, char **argv) {
    if (argc != 6) {
        fprintf(stderr, "early SCENARIO PART OTHER GONE STOPS\n");
        return 64;
    }
    sw_scenario *scenario = NULL;
    sw_complaints *c = sw_complaints_new();
    if (c == NULL || sw_scenario_read(&scenario, argv[1], NULL, c) != SW_OK)
        return 65;
    sw_complaints_free(c);
    job j = {scenario, argv[2], argv[3], argv[4]};
    long stops = strtol(argv[5], NULL, 10);
    bool good = true;
    for (size_t q = 0; good && q < sizeof questions / sizeof *questions; q++) {
        if (strcmp(questions[q].name, "gone") == 0 && strcmp(j.gone, "-") == 0)
            continue;
        static const long thousandths[] = {-1, 0, 1, 5, 20, 100};
        for (size_t k = 0; good && k < sizeof thousandths / sizeof *thousandths; k++)
            good = run(q, &j, thousandths[k], NODES);
        for (int by = ASKED; good && by <= CLOCK; by++) {
            good = run(q, &j, -1, (ender)by);
            long all = looks;
            /* Close together at the beginning, where one step follows the other. */
            for (long k = 0, last = -1; good && k < stops; k++) {
                long after = all <= stops ? k : k * k * all / (stops * stops);
                if (after >= all || after == last)
                    continue;
                last = after;
                good = run(q, &j, after, (ender)by);
            }
        }
    }
    sw_scenario_free(scenario);
    return good ? 0 : 70;
}
