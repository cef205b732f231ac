/* The generator, the checker and the program as children of the driver. */
#include "options.h"

#include <stdio.h>
#include <stdlib.h>

static void path_of(const Setup *s, const char *name, char *out, size_t size) {
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
    char to[2048], err[2048], text[12][2048], *argv[13] = {NULL};
    path_of(s, out, to, sizeof to);
    path_of(s, "answer.err", err, sizeof err);
    for (int i = 0; words[i]; i++) {
        if (i == 12 || snprintf(text[i], sizeof text[i], "%s", words[i]) >= (int)sizeof text[i])
            give_up("too many or too long words");
        argv[i] = text[i];
    }
    return run_child(argv, to, err);
}

bool draw_job(const Setup *s, long seed, char *scenario, size_t size, Talk *t) {
    char number[32], folder[2048];
    snprintf(number, sizeof number, "%ld", seed);
    path_of(s, "job", folder, sizeof folder);
    path_of(s, "job/scenario.json", scenario, size);
    /* Waived deliveries make the curve uneven; in every third job. */
    const char *words[] = {
        s->generate, number, folder, "--options", seed % 3 == 0 ? "--waivers" : NULL, NULL};
    return run(s, words, "draw.out") == 0 || fail(t, "the generator failed");
}

static cJSON *ask(const Setup *s, const char *const words[], const char *out, int *code, Talk *t) {
    char path[2048];
    *code = run(s, words, out);
    path_of(s, out, path, sizeof path);
    cJSON *json = read_tree(path);
    if (!json)
        fail(t, "%s ended with %d and gave no JSON", words[0], *code);
    return json;
}

cJSON *ask_checker(const Setup *s, const char *scenario, int *code, Talk *t) {
    const char *words[] = {s->brute, "--options", scenario, NULL};
    return ask(s, words, "checker.json", code, t);
}

cJSON *ask_program(const Setup *s, const char *scenario, int *code, Talk *t) {
    const char *words[] = {s->program, "options", scenario, "--json", NULL};
    return ask(s, words, "program.json", code, t);
}
