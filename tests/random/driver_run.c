/* Runs the generator, the checker and the program, each with its output in a file. */
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

typedef struct Line { /* a command line in the making; ends with NULL */
    char *at[MOST_ARGS + 8];
    int n;
} Line;

void give_up(const char *what) {
    fprintf(stderr, "driver: %s: %s\n", what, strerror(errno));
    exit(2);
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

void path_of(const Setup *s, const char *name, char *out, size_t size) {
    if (snprintf(out, size, "%s%s%s", s->work, *name ? "/" : "", name) >= (int)size) {
        fputs("driver: the work folder's name is too long\n", stderr);
        exit(2);
    }
}

bool draw(const Setup *s, long seed, char *why, size_t size) {
    char number[32], folder[2048], err[2048], *argv[MOST_ARGS + 4] = {s->generate, number, folder};
    snprintf(number, sizeof number, "%ld", seed);
    path_of(s, "job", folder, sizeof folder);
    path_of(s, "draw.err", err, sizeof err);
    for (int i = 0; i < s->extras; i++)
        argv[3 + i] = s->extra[i];
    if (run(argv, "/dev/null", err) == 0)
        return true;
    snprintf(why, size, "the generator failed");
    return false;
}

static void add(Line *line, char *word) { line->at[line->n++] = word; }

static void add_valued(Line *line, char *name, char *value) {
    if (!value)
        return;
    add(line, name);
    add(line, value);
}

bool answer(const Setup *s, bool program, const Question *q, char **text, int *code) {
    char out[2048], err[2048], plan[] = "plan", json[] = "--json", budget[] = "--budget";
    char curve[] = "curve", as_option[] = "--curve", groups[] = "--groups", best[] = "--best";
    char apart[] = "--apart", from[] = "--from", to[] = "--to";
    Line line = {.n = 0};
    add(&line, program ? s->plan : s->brute);
    if (program) {
        add(&line, q->curve ? curve : plan);
        add(&line, json);
    }
    add(&line, q->scenario);
    if (!program && q->curve)
        add(&line, as_option);
    if (!program && q->groups)
        add(&line, groups);
    add_valued(&line, budget, q->budget);
    add_valued(&line, best, q->best);
    add_valued(&line, apart, q->apart);
    add_valued(&line, from, q->from);
    add_valued(&line, to, q->to);
    path_of(s, program ? "plan.json" : "brute.json", out, sizeof out);
    path_of(s, program ? "plan.err" : "brute.err", err, sizeof err);
    *code = run(line.at, out, err);
    *text = read_text(out);
    return *code == 0 || *code == 1;
}
