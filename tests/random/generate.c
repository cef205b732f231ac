/*
 * generate SEED FOLDER [--untaxed] [--waivers] [--rich] [--crowded] [--tight]
 * [--options] [--bench] [--size small|middling]: writes a random, valid catalog and a scenario. The
 * same seed gives the same files everywhere.
 */
#include "generate.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static void free_draw(Draw *d) {
    cJSON *files[] = {d->roles_file,        d->facts_file,   d->rules_file,    d->tasks_file,
                      d->observations_file, d->charges_file, d->criteria_file, d->uses_file,
                      d->parts_file,        d->sellers_file, d->scenario,      d->complaints_file,
                      d->paper_file,        d->hazards_file, d->bench_file};
    for (size_t i = 0; i < sizeof files / sizeof *files; i++)
        cJSON_Delete(files[i]);
    free(d->listings);
}

static void draw_all(Draw *d) {
    static const char *const currencies[] = {"EUR", "EUR", "EUR", "JPY", "TND"};
    int which = below(d, 5);
    d->currency = currencies[which];
    d->digits = which == 3 ? 0 : which == 4 ? 3 : 2;
    d->close = chance(d, 35);
    d->scenario = object();
    draw_roles(d);
    draw_facts(d);
    draw_derived(d);
    draw_sellers(d);
    draw_parts(d);
    draw_observations(d);
    draw_tasks(d);
    draw_rules(d);
    draw_charges(d);
    draw_criteria(d);
    draw_machine(d);
    draw_scenario(d);
}

/* Draws until the count of bundles is small enough to try them all, yet mostly not tiny. */
static void draw_small(Draw *d, uint64_t seed, bool untaxed, bool rich, bool options) {
    double most = seed % 8 == 0 ? 200000 : 40000, least = seed % 5 == 0 ? 0 : options ? 8000 : 400;
    uint64_t state = seed * UINT64_C(0xD1342543DE82EF95) + 1;
    for (int tries = 0;; tries++) {
        memset(d, 0, sizeof *d);
        d->state = state;
        d->untaxed = untaxed;
        d->focus = rich && seed % 3 == 0 ? PLACES : seed % 2 ? ANYTHING : (Focus)(1 + seed / 2 % 3);
        d->lavish = tries < 20 ? 6 : tries < 40 ? 4 : 2;
        draw_all(d);
        double all = combinations(d);
        if (all <= most && (all >= least || tries > 50))
            return;
        state = d->state;
        free_draw(d);
    }
}

static void write_text(const char *folder, const char *name, const char *text) {
    char path[4096];
    if (snprintf(path, sizeof path, "%s/%s", folder, name) >= (int)sizeof path) {
        fputs("generate: the folder's name is too long\n", stderr);
        exit(2);
    }
    FILE *f = fopen(path, "w");
    if (!f || fputs(text, f) < 0 || fclose(f) != 0) {
        fprintf(stderr, "generate: %s: %s\n", path, strerror(errno));
        exit(2);
    }
}

static void write_json(const char *folder, const char *name, const cJSON *json) {
    char *text = must(cJSON_Print(json));
    write_text(folder, name, text);
    cJSON_free(text);
}

/* A folder may hold an older job, whose file must not count. */
static void write_if_any(const char *folder, const char *name, const cJSON *json) {
    char path[4096];
    if (json) {
        write_json(folder, name, json);
        return;
    }
    snprintf(path, sizeof path, "%s/%s", folder, name);
    if (remove(path) != 0 && errno != ENOENT) {
        fprintf(stderr, "generate: %s: %s\n", path, strerror(errno));
        exit(2);
    }
}

static void make_folder(const char *path) {
    if (mkdir(path, 0777) != 0 && errno != EEXIST) {
        fprintf(stderr, "generate: %s: %s\n", path, strerror(errno));
        exit(2);
    }
}

static void write_all(const Draw *d, const char *folder) {
    char parts[4096];
    snprintf(parts, sizeof parts, "%s/parts", folder);
    make_folder(folder);
    make_folder(parts);
    write_json(folder, "roles.json", d->roles_file);
    write_json(folder, "facts.json", d->facts_file);
    write_json(folder, "rules.json", d->rules_file);
    write_json(folder, "tasks.json", d->tasks_file);
    write_json(folder, "observations.json", d->observations_file);
    write_json(folder, "charges.json", d->charges_file);
    write_json(folder, "criteria.json", d->criteria_file);
    write_json(folder, "uses.json", d->uses_file);
    write_json(folder, "parts/parts.json", d->parts_file);
    write_json(folder, "sellers.json", d->sellers_file);
    write_json(folder, "scenario.json", d->scenario);
    write_text(folder, "listings.csv", d->listings);
    write_if_any(folder, "complaints.json", d->complaints_file);
    write_if_any(folder, "proposal.json", d->paper_file);
    write_if_any(folder, "hazards.json", d->hazards_file);
    write_if_any(folder, "bench.json", d->bench_file);
}

int main(int argc, char **argv) {
    bool untaxed = false, waivers = false, rich = false, crowded = false, tight = false;
    bool options = false, bench = false;
    Size size = SMALL;
    for (int i = 3; i < argc; i++) {
        if (!strcmp(argv[i], "--untaxed"))
            untaxed = true;
        else if (!strcmp(argv[i], "--waivers"))
            waivers = true;
        else if (!strcmp(argv[i], "--rich"))
            rich = true;
        else if (!strcmp(argv[i], "--crowded"))
            crowded = true;
        else if (!strcmp(argv[i], "--tight"))
            tight = true;
        else if (!strcmp(argv[i], "--options"))
            options = true;
        else if (!strcmp(argv[i], "--bench"))
            bench = true;
        else if (!strcmp(argv[i], "--size") && i + 1 < argc)
            size = !strcmp(argv[++i], "middling") ? MIDDLING : SMALL;
        else
            argc = 0;
    }
    if (argc < 3) {
        fputs("generate SEED FOLDER [--untaxed] [--waivers] [--rich] [--crowded] [--tight]"
              " [--options] [--bench] [--size small|middling]\n",
              stderr);
        return 2;
    }
    static Draw d;
    uint64_t seed = strtoull(argv[1], NULL, 10);
    if (size == SMALL) {
        draw_small(&d, seed, untaxed, rich, options);
    } else {
        d.state = seed;
        d.size = size;
        d.untaxed = untaxed;
        draw_all(&d);
    }
    if (waivers)
        draw_waivers(&d);
    if (crowded)
        draw_crowd(&d);
    if (rich)
        draw_rich(&d);
    if (tight)
        draw_tight(&d);
    draw_sound(&d);
    draw_told(&d);
    if (options)
        draw_options(&d);
    if (bench)
        draw_bench(&d, seed);
    write_all(&d, argv[2]);
    free_draw(&d);
    return 0;
}
