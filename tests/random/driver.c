/*
 * driver FIRST COUNT [--generate P] [--brute P] [--plan P] [--work FOLDER] [ARG..]:
 * for each seed draws an instance, lets the checker try every bundle, lets the
 * program plan, and compares. ARGs go to generate. Says which seeds differ.
 *
 * driver --published FOLDER [--plan P] [--work FOLDER]: plans every row of
 * FOLDER/expected.txt and compares with the published answer. With --brute P and
 * no --plan the checker is asked in the program's place.
 */
#include <errno.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "driver_compare.h"

extern char **environ;

enum { MOST_ARGS = 16 };

typedef struct Setup {
    char *generate, *brute, *plan;
    const char *work, *published;
    char *extra[MOST_ARGS];
    int extras;
    long first, count;
} Setup;

static void give_up(const char *what) {
    fprintf(stderr, "driver: %s: %s\n", what, strerror(errno));
    exit(2);
}

/* Runs a program with its output in a file; its exit code, or -1. */
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

static char *read_text(const char *path) {
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

static void path_of(const Setup *s, const char *name, char *out, size_t size) {
    if (snprintf(out, size, "%s%s%s", s->work, *name ? "/" : "", name) >= (int)size) {
        fputs("driver: the work folder's name is too long\n", stderr);
        exit(2);
    }
}

static bool draw(const Setup *s, long seed, char *why, size_t size) {
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

/* Asks the program, or else the checker, about one scenario. */
static bool answer(const Setup *s, bool program, char *scenario, char *budget, char **text,
                   int *code) {
    char out[2048], err[2048], plan[] = "plan", json[] = "--json", at[] = "--budget";
    char *brute_argv[] = {s->brute, scenario, budget ? at : NULL, budget, NULL};
    char *plan_argv[] = {s->plan, plan, json, scenario, budget ? at : NULL, budget, NULL};
    path_of(s, program ? "plan.json" : "brute.json", out, sizeof out);
    path_of(s, program ? "plan.err" : "brute.err", err, sizeof err);
    *code = run(program ? plan_argv : brute_argv, out, err);
    *text = read_text(out);
    return *code == 0 || *code == 1;
}

static bool check_seed(const Setup *s, long seed, char *why, size_t size) {
    char *oracle = NULL, *plan = NULL;
    int a = 0, b = 0;
    bool same = false;
    char scenario[2048];
    path_of(s, "job/scenario.json", scenario, sizeof scenario);
    if (!draw(s, seed, why, size))
        return false;
    if (!answer(s, false, scenario, NULL, &oracle, &a))
        snprintf(why, size, "the checker ended with %d", a);
    else if (!answer(s, true, scenario, NULL, &plan, &b))
        snprintf(why, size, "the program ended with %d", b);
    else if (a != b)
        snprintf(why, size, "exit codes: the checker %d, the program %d", a, b);
    else
        same = same_answer(oracle, plan, why, size);
    free(oracle);
    free(plan);
    return same;
}

/* A row: folder, budget, points, cost, items; blank lines and comments pass. */
static bool check_row(const Setup *s, char *row, char *why, size_t size) {
    char scenario[4096], *field[5], *text = NULL, *rest = NULL;
    int n = 0, code = 0;
    bool same = false;
    for (char *p = strtok_r(row, " \n", &rest); p && n < 5; p = strtok_r(NULL, " \n", &rest))
        field[n++] = p;
    if (n < 5) {
        snprintf(why, size, "a row needs five fields");
        return false;
    }
    snprintf(scenario, sizeof scenario, "%s/%s/scenario.json", s->published, field[0]);
    if (answer(s, s->plan != NULL, scenario, field[1], &text, &code))
        same = same_row(text, field[2], field[3], field[4], why, size);
    else
        snprintf(why, size, "the program ended with %d", code);
    free(text);
    return same;
}

static int check_published(const Setup *s) {
    char path[4096], why[1024], name[256];
    long passed = 0, failed = 0;
    snprintf(path, sizeof path, "%s/expected.txt", s->published);
    char *text = read_text(path);
    for (char *line = text, *next; line && *line; line = next) {
        next = strchr(line, '\n');
        if (next)
            *next++ = '\0';
        if (*line == '#' || !*line)
            continue;
        snprintf(name, sizeof name, "%s", line);
        if (check_row(s, line, why, sizeof why)) {
            passed++;
            continue;
        }
        failed++;
        printf("%s\n    %s\n", name, why);
    }
    free(text);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}

static Setup read_setup(int argc, char **argv) {
    static char generate[] = "build/tests/generate", brute[] = "build/tests/brute";
    Setup s = {.generate = generate, .brute = brute, .work = "/tmp/swapworth-driver"};
    int i = 3;
    if (argc < 3) {
        fputs("driver FIRST COUNT [--generate P] [--brute P] [--plan P] [--work FOLDER] [ARG..]\n"
              "driver --published FOLDER [--brute P] [--plan P] [--work FOLDER]\n",
              stderr);
        exit(2);
    }
    if (!strcmp(argv[1], "--published")) {
        s.published = argv[2];
    } else {
        s.first = strtol(argv[1], NULL, 10);
        s.count = strtol(argv[2], NULL, 10);
    }
    for (; i < argc; i++) {
        bool more = i + 1 < argc;
        if (more && !strcmp(argv[i], "--generate"))
            s.generate = argv[++i];
        else if (more && !strcmp(argv[i], "--brute"))
            s.brute = argv[++i];
        else if (more && !strcmp(argv[i], "--plan"))
            s.plan = argv[++i];
        else if (more && !strcmp(argv[i], "--work"))
            s.work = argv[++i];
        else if (s.extras < MOST_ARGS)
            s.extra[s.extras++] = argv[i];
    }
    return s;
}

static int check_seeds(Setup *s) {
    static char program[] = "build/swapworth";
    char why[512];
    long passed = 0, failed = 0;
    if (!s->plan)
        s->plan = program;
    for (long seed = s->first; seed < s->first + s->count; seed++) {
        why[0] = '\0';
        if (check_seed(s, seed, why, sizeof why)) {
            passed++;
            continue;
        }
        failed++;
        printf("seed %ld: %s\n", seed, why);
        fflush(stdout);
    }
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}

int main(int argc, char **argv) {
    Setup s = read_setup(argc, argv);
    if (mkdir(s.work, 0777) != 0 && errno != EEXIST)
        give_up(s.work);
    return s.published ? check_published(&s) : check_seeds(&s);
}
