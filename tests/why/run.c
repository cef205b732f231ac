/* Files, and running the generator, the checker and the program. */
#include "driver.h"

#include <errno.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

enum { MOST_WORDS = 96 };

void give_up(const char *what) {
    fprintf(stderr, "why: %s: %s\n", what, errno ? strerror(errno) : "not as expected");
    exit(2);
}

char *read_text(const char *path) {
    size_t have = 0, room = 65536;
    char *text = malloc(room);
    FILE *f = fopen(path, "rb");
    if (!f || !text)
        give_up(path);
    for (;;) {
        have += fread(text + have, 1, room - have - 1, f);
        if (have + 1 < room)
            break;
        char *more = realloc(text, room *= 2);
        if (!more)
            give_up("memory");
        text = more;
    }
    fclose(f);
    text[have] = '\0';
    return text;
}

void write_text(const char *path, const char *text) {
    FILE *f = fopen(path, "w");
    if (!f || fputs(text, f) < 0 || fclose(f) != 0)
        give_up(path);
}

cJSON *read_json(const char *path) {
    char *text = read_text(path);
    cJSON *json = cJSON_Parse(text);
    free(text);
    if (!json)
        give_up(path);
    return json;
}

void write_json(const char *path, const cJSON *json) {
    char *text = cJSON_Print(json);
    if (!text)
        give_up("memory");
    write_text(path, text);
    cJSON_free(text);
}

void path_of(const Setup *s, const char *name, char *out, size_t size) {
    if (snprintf(out, size, "%s/%s", s->work, name) >= (int)size)
        give_up("the work folder's name is too long");
}

/* Runs a program; its exit code, or -1. */
static int run(char *const argv[], const char *out, const char *err) {
    posix_spawn_file_actions_t files;
    pid_t child;
    int status;
    if (posix_spawn_file_actions_init(&files) != 0 ||
        posix_spawn_file_actions_addopen(&files, 1, out, O_WRONLY | O_CREAT | O_TRUNC, 0666) != 0 ||
        posix_spawn_file_actions_addopen(&files, 2, err, O_WRONLY | O_CREAT | O_TRUNC, 0666) != 0)
        give_up("files for a child");
    if (posix_spawn(&child, argv[0], &files, NULL, argv, environ) != 0)
        give_up(argv[0]);
    posix_spawn_file_actions_destroy(&files);
    while (waitpid(child, &status, 0) < 0)
        if (errno != EINTR)
            give_up("waiting");
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

/* posix_spawn takes words that may be written to. */
static int run_words(const char *const words[], const char *out, const char *err) {
    char *copy[MOST_WORDS + 1] = {NULL};
    int n = 0;
    for (; words[n]; n++) {
        if (n == MOST_WORDS)
            give_up("too many words");
        copy[n] = strdup(words[n]);
        if (!copy[n])
            give_up("memory");
    }
    int code = run(copy, out, err);
    for (int i = 0; i < n; i++)
        free(copy[i]);
    return code;
}

bool ask(const Setup *s, const char *const words[], cJSON **out, int *code, Talk *t) {
    char to[2048], err[2048];
    path_of(s, "answer.json", to, sizeof to);
    path_of(s, "answer.err", err, sizeof err);
    *code = run_words(words, to, err);
    char *text = read_text(to);
    *out = cJSON_Parse(text);
    free(text);
    if (*out)
        return true;
    snprintf(t->why, t->size, "%s ended with %d and gave no JSON", words[0], *code);
    return false;
}

bool draw(const Setup *s, long seed, const char *folder, Talk *t) {
    char number[32], path[2048], err[2048];
    snprintf(number, sizeof number, "%ld", seed);
    path_of(s, folder, path, sizeof path);
    path_of(s, "draw.err", err, sizeof err);
    const char *words[] = {s->generate, number, path, "--waivers", NULL};
    if (run_words(words, "/dev/null", err) == 0)
        return true;
    snprintf(t->why, t->size, "the generator failed");
    return false;
}

bool ask_why(const Setup *s, bool program, const Question *q, cJSON **out, int *code, Talk *t) {
    const char *words[9] = {NULL};
    int n = 0;
    if (program && !s->stand_in) {
        words[n++] = s->program;
        words[n++] = "why";
        words[n++] = q->scenario;
        words[n++] = q->part;
        words[n++] = "--json";
    } else {
        words[n++] = s->brute;
        words[n++] = "--why";
        words[n++] = q->part;
        words[n++] = q->scenario;
    }
    if (q->over) {
        words[n++] = "--over";
        words[n++] = q->over;
    }
    return ask(s, words, out, code, t);
}
