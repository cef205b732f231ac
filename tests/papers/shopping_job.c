/* One drawn job with its paper, and both answers to an errand in it. */
#include "shopping.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

cJSON *must_have(cJSON *pointer) {
    if (!pointer)
        give_up("memory");
    return pointer;
}

static void path_of(const Setup *s, const char *name, char *out, size_t size) {
    if (snprintf(out, size, "%s/%s", s->work, name) >= (int)size)
        give_up("the work folder's name is too long");
}

static int run(const Setup *s, const char *const words[], const char *out) {
    char to[2048], err[2048], text[16][2048], *argv[17] = {NULL};
    path_of(s, out, to, sizeof to);
    path_of(s, "answer.err", err, sizeof err);
    for (int i = 0; words[i]; i++) {
        if (i == 16 || snprintf(text[i], sizeof text[i], "%s", words[i]) >= (int)sizeof text[i])
            give_up("too many or too long words");
        argv[i] = text[i];
    }
    return run_child(argv, to, err);
}

static char *whole(const Setup *s, const char *name) {
    char path[2048];
    path_of(s, name, path, sizeof path);
    return read_whole(path);
}

static cJSON *tree(const Setup *s, const char *name) {
    char *text = whole(s, name);
    cJSON *json = cJSON_Parse(text);
    free(text);
    return json;
}

static void write_tree(const char *path, const cJSON *json) {
    char *text = cJSON_Print(json);
    FILE *f = fopen(path, "wb");
    if (!text || !f || fputs(text, f) < 0 || fclose(f) != 0)
        give_up(path);
    free(text);
}

static bool has_file(const Setup *s, const char *name) {
    char path[2048];
    path_of(s, name, path, sizeof path);
    FILE *f = fopen(path, "rb");
    if (f)
        fclose(f);
    return f != NULL;
}

static void put(cJSON *object, const char *name, cJSON *value) {
    cJSON_DeleteItemFromObjectCaseSensitive(object, name);
    cJSON_AddItemToObject(object, name, must_have(value));
}

static size_t length_to(const char *text, char end) {
    const char *found = strchr(text, end);
    return found ? (size_t)(found - text) : strlen(text);
}

static const char *behind_comma(const char *text) {
    const char *found = strchr(text, ',');
    return found ? found + 1 : text + strlen(text);
}

/* Of a part that two list, one behind the other, the second asks what the first does (`all`: and
 * has as many, as soon, with the same warranty and return): only then is another seller no worse.
 */
static void level_listings(Case *c, bool all) {
    char path[2048];
    const char *before = NULL;
    path_of(c->s, "job/listings.csv", path, sizeof path);
    FILE *f = fopen(path, "wb");
    if (!f)
        give_up(path);
    for (const char *at = c->listings; *at;) {
        size_t whole = length_to(at, '\n'), part = length_to(at, ',');
        const char *price = behind_comma(behind_comma(at)), *rest = price + length_to(price, ',');
        if (before && length_to(before, ',') == part && !strncmp(before, at, part)) {
            const char *asked = behind_comma(behind_comma(before));
            fprintf(f, "%.*s%.*s%.*s\n", (int)(price - at), at,
                    (int)length_to(asked, all ? '\n' : ','), asked,
                    all ? 0 : (int)(at + whole - rest), rest);
        } else {
            fprintf(f, "%.*s\n", (int)whole, at);
            before = at;
        }
        at += whole + (at[whole] == '\n');
    }
    if (fclose(f) != 0)
        give_up(path);
    free(c->listings);
    c->listings = read_whole(path);
}

/* What the generator does not draw: what may be done without asking, in every way over the seeds;
 * other days of the calendar; names that a spreadsheet would take for formulas. */
static void dress(Case *c, long seed) {
    static const char *const allowed[] = {"seller", "as-good", "part"};
    static const char *const dates[] = {NULL, "2024-01-31", "2026-02-26", "2027-12-31",
                                        "2028-02-29"};
    char path[2048];
    long which = seed / 4; /* levelled listings and allowances go through all pairs */
    cJSON *one;
    cJSON_ArrayForEach(one, get(c->paper, "surprises")) {
        cJSON *list = must_have(cJSON_CreateArray());
        for (int i = 0; i < 3; i++)
            if (which >> i & 1)
                cJSON_AddItemToArray(list, must_have(cJSON_CreateString(allowed[i])));
        which += 3;
        put(one, "allows", list);
    }
    const char *date = dates[seed % 5];
    if (date && !get(c->job, "given"))
        put(c->job, "date", cJSON_CreateString(date));
    if (!date && !get(c->job, "given") && !get(c->job, "phases"))
        cJSON_DeleteItemFromObjectCaseSensitive(c->job, "date");
    one = cJSON_GetArrayItem(get(c->sellers, "sellers"), 0);
    put(one, "name", cJSON_CreateString(seed % 2 ? "=2+5, \"the\" shop" : "-1 Street"));
    path_of(c->s, "job/sellers.json", path, sizeof path);
    write_tree(path, c->sellers);
    path_of(c->s, "job/proposal.json", path, sizeof path);
    if (c->paper)
        write_tree(path, c->paper);
    write_tree(c->scenario, c->job);
    if (seed % 2 == 0)
        level_listings(c, seed % 4 == 0);
}

bool draw_case(Case *c, const Setup *s, long seed, Talk *t) {
    char number[32], folder[2048];
    *c = (Case){.s = s};
    snprintf(number, sizeof number, "%ld", seed);
    path_of(s, "job", folder, sizeof folder);
    path_of(s, "job/scenario.json", c->scenario, sizeof c->scenario);
    path_of(s, "job/today.json", c->today, sizeof c->today);
    const char *draw[] = {
        s->generate, number, folder, "--options", seed % 3 == 0 ? "--waivers" : NULL, NULL};
    if (run(s, draw, "draw.out") != 0)
        return fail(t, "the generator failed");
    c->job = tree(s, "job/scenario.json");
    c->sellers = tree(s, "job/sellers.json");
    c->tasks = tree(s, "job/tasks.json");
    c->roles = tree(s, "job/roles.json");
    c->listings = whole(s, "job/listings.csv");
    c->paper = has_file(s, "job/proposal.json") ? tree(s, "job/proposal.json") : NULL;
    if (!c->job || !c->sellers || !c->tasks || !c->roles)
        return fail(t, "the job is no JSON");
    dress(c, seed);
    const char *ask[] = {s->program, "options", c->scenario, "--json", NULL};
    c->code = run(s, ask, "options.json");
    c->options = tree(s, "options.json");
    return c->options != NULL || fail(t, "the options are no JSON (%d)", c->code);
}

static bool ask_program(Case *c, const Errand *e, Talk *t) {
    char option[16];
    const char *words[16] = {c->s->program, "shopping", c->scenario, "--option", option, NULL};
    int n = 5;
    snprintf(option, sizeof option, "%d", e->option);
    for (int i = 0; e->words[i]; i++)
        words[n++] = e->words[i];
    if (e->take) {
        words[n++] = "--take";
        words[n++] = e->take;
    }
    words[n] = "--csv";
    if (run(c->s, words, "answer.csv") > 1)
        return fail(t, "the CSV ended badly");
    c->csv = whole(c->s, "answer.csv");
    words[n] = "--json";
    c->code = run(c->s, words, "answer.json");
    c->answer = tree(c->s, "answer.json");
    return c->answer != NULL || fail(t, "no JSON (%d)", c->code);
}

bool ask_errand(Case *c, const Errand *e, Talk *t) {
    char option[16];
    c->agreed = get(cJSON_GetArrayItem(get(c->options, "options"), e->option - 1), "bundle");
    write_tree(c->today, c->now);
    snprintf(option, sizeof option, "%d", e->option);
    const char *words[] = {c->s->brute, c->today, "--agreed", c->scenario,
                           "--option",  option,   NULL};
    if (e->changed) {
        run(c->s, words, "checker.json");
        c->oracle = tree(c->s, "checker.json");
        if (!c->oracle)
            return fail(t, "the checker gave no JSON");
    }
    return ask_program(c, e, t);
}

void end_errand(Case *c) {
    cJSON_Delete(c->oracle);
    cJSON_Delete(c->answer);
    cJSON_Delete(c->now);
    free(c->csv);
    c->oracle = c->answer = c->now = NULL;
    c->csv = NULL;
}

void end_case(Case *c) {
    end_errand(c);
    cJSON_Delete(c->job);
    cJSON_Delete(c->sellers);
    cJSON_Delete(c->tasks);
    cJSON_Delete(c->roles);
    cJSON_Delete(c->paper);
    cJSON_Delete(c->options);
    free(c->listings);
}
