/* The generator, the checker and the program as children of the driver. */
#include "papers.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

void path_in(const Setup *s, const char *name, char *out, size_t size) {
    if (snprintf(out, size, "%s/%s", s->work, name) >= (int)size)
        give_up("the work folder's name is too long");
}

cJSON *must_have(cJSON *pointer) {
    if (!pointer)
        give_up("memory");
    return pointer;
}

/* argv's words may be written to. */
static int run(const Setup *s, const char *const words[], const char *out) {
    char to[2048], err[2048], text[8][2048], *argv[9] = {NULL};
    path_in(s, out, to, sizeof to);
    path_in(s, "answer.err", err, sizeof err);
    for (int i = 0; words[i]; i++) {
        if (i == 8 || snprintf(text[i], sizeof text[i], "%s", words[i]) >= (int)sizeof text[i])
            give_up("too many or too long words");
        argv[i] = text[i];
    }
    return run_child(argv, to, err);
}

cJSON *answer_in(const Setup *s, const char *out) {
    char path[2048];
    path_in(s, out, path, sizeof path);
    return read_tree(path);
}

static cJSON *file_of(const Setup *s, const char *name) {
    char path[2048];
    if (snprintf(path, sizeof path, "%s/job/%s", s->work, name) >= (int)sizeof path)
        give_up("the work folder's name is too long");
    return access(path, R_OK) == 0 ? must_have(read_tree(path)) : NULL;
}

bool read_job(const Setup *s, const char *scenario, Job *j, Talk *t) {
    *j = (Job){.code = 0};
    snprintf(j->scenario, sizeof j->scenario, "%s", scenario);
    const char *words[] = {s->program, "options", j->scenario, "--json", NULL};
    j->code = run(s, words, "options.json");
    j->options = answer_in(s, "options.json");
    j->job = must_have(read_tree(j->scenario));
    j->bench = file_of(s, "bench.json");
    j->facts = file_of(s, "facts.json");
    j->parts = file_of(s, "parts/parts.json");
    j->roles = file_of(s, "roles.json");
    j->tasks = file_of(s, "tasks.json");
    j->charges = file_of(s, "charges.json");
    j->rules = file_of(s, "rules.json");
    return j->options || fail(t, "options ended with %d and gave no JSON", j->code);
}

bool draw_job(const Setup *s, long seed, Job *j, Talk *t) {
    char number[32], folder[2048], scenario[2048];
    snprintf(number, sizeof number, "%ld", seed);
    path_in(s, "job", folder, sizeof folder);
    path_in(s, "job/scenario.json", scenario, sizeof scenario);
    /* In every third job there is more to be placed, and more that is not known. */
    const char *words[] = {
        s->generate, number, folder, "--options", "--bench", seed % 3 == 0 ? "--rich" : NULL, NULL};
    *j = (Job){.code = 0};
    if (run(s, words, "draw.out") != 0)
        return fail(t, "the generator failed");
    return read_job(s, scenario, j, t);
}

void free_job(Job *j) {
    cJSON *all[] = {j->job,   j->bench,   j->facts, j->parts,  j->roles,
                    j->tasks, j->charges, j->rules, j->options};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        cJSON_Delete(all[i]);
    *j = (Job){.code = 0};
}

static void write_tree(const char *path, const cJSON *json) {
    char *text = cJSON_Print(json);
    FILE *f = fopen(path, "w");
    if (!text || !f || fputs(text, f) < 0 || fclose(f) != 0)
        give_up(path);
    cJSON_free(text);
}

cJSON *ask_checker(const Setup *s, const Job *j, const cJSON *machine, Talk *t) {
    char path[2048];
    path_in(s, "machine.json", path, sizeof path);
    write_tree(path, machine);
    const char *words[] = {s->brute, "--work", path, j->scenario, NULL};
    int code = run(s, words, "checker.json");
    cJSON *json = answer_in(s, "checker.json");
    if (!json)
        fail(t, "the checker ended with %d and gave no JSON", code);
    return json;
}

cJSON *ask_program(const Setup *s, const Job *j, int option, int *code) {
    char number[32];
    snprintf(number, sizeof number, "%d", option);
    const char *words[] = {s->program, "bench", j->scenario, "--option", number, "--json", NULL};
    *code = run(s, words, "program.json");
    return answer_in(s, "program.json");
}
