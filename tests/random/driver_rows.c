/* Puts an answer into the words of a published row, and compares the two texts. */
#include "driver_compare.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Words {
    char *text;
    size_t have, room;
} Words;

static void say(Words *w, const char *format, ...) {
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    size_t length = (size_t)vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (w->have + length + 1 > w->room) {
        w->room = 2 * (w->have + length + 1);
        w->text = realloc(w->text, w->room);
        if (!w->text) {
            fputs("driver: no memory\n", stderr);
            exit(2);
        }
    }
    vsnprintf(w->text + w->have, w->room - w->have, format, again);
    va_end(again);
    w->have += length;
}

/* The parts put in, less the first so many letters of each; "none" where none. */
static void say_items(Words *w, const cJSON *swaps, const char *between, size_t skip) {
    const cJSON *swap, *in;
    bool any = false;
    cJSON_ArrayForEach(swap, swaps) cJSON_ArrayForEach(in, get(swap, "in")) {
        const char *part = text_of(in, "part");
        say(w, "%s%s", any ? between : "", strlen(part) > skip ? part + skip : part);
        any = true;
    }
    if (!any)
        say(w, "none");
}

static bool agrees(const char *published, const char *said) {
    return !strcmp(published, "-") || !strcmp(published, said);
}

bool same_row(const char *answer, const char *points, const char *cost, const char *items,
              char *why, size_t size) {
    Words taken = {0};
    cJSON *json = cJSON_Parse(answer);
    const cJSON *bundles = get(json, "bundles");
    const cJSON *bundle = bundles ? cJSON_GetArrayItem(bundles, 0) : json;
    say_items(&taken, get(bundle, "swaps"), ",", 0);
    bool same = agrees(points, text_of(bundle, "points")) &&
                agrees(cost, text_of(bundle, "cost")) && agrees(items, taken.text);
    if (!same)
        snprintf(why, size, "got %s %s %s", text_of(bundle, "points"), text_of(bundle, "cost"),
                 taken.text);
    free(taken.text);
    cJSON_Delete(json);
    return same;
}

bool same_ranking(const char *answer, const char *points, const char *costs, const char *items,
                  char *why, size_t size) {
    Words p = {0}, c = {0}, i = {0};
    cJSON *json = cJSON_Parse(answer);
    const cJSON *list = get(json, get(json, "ranked") ? "ranked" : "bundles"), *bundle;
    const char *between = "";
    say(&p, "%s", "");
    say(&c, "%s", "");
    say(&i, "%s", "");
    cJSON_ArrayForEach(bundle, list) {
        say(&p, "%s%s", between, text_of(bundle, "points"));
        say(&c, "%s%s", between, text_of(bundle, "cost"));
        say(&i, "%s", between);
        say_items(&i, get(bundle, "swaps"), "+", strlen("item-"));
        between = ",";
    }
    bool same = agrees(points, p.text) && agrees(costs, c.text) && agrees(items, i.text);
    if (!same)
        snprintf(why, size, "got %s %s %s", p.text, c.text, i.text);
    free(p.text);
    free(c.text);
    free(i.text);
    cJSON_Delete(json);
    return same;
}

bool same_steps(const char *answer, const char *steps, char *why, size_t size) {
    Words w = {0};
    cJSON *json = cJSON_Parse(answer);
    const cJSON *step;
    say(&w, "%s", "");
    cJSON_ArrayForEach(step, get(json, "steps"))
        say(&w, "%s%s:%s", w.have ? "," : "", text_of(step, "cost"), text_of(step, "points"));
    bool same = !strcmp(steps, w.text);
    if (!same)
        snprintf(why, size, "got %s", w.text);
    free(w.text);
    cJSON_Delete(json);
    return same;
}
