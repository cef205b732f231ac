/*
 * driver FIRST COUNT [--generate P] [--brute P] [--plan P] [--work FOLDER] [ARG..]:
 * for each seed draws an instance, lets the checker try every bundle, lets the
 * program plan, and compares. ARGs go to generate. Says which seeds differ.
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
    const char *work;
    char *extra[MOST_ARGS];
    int extras;
    long first, count;
} Setup;

static void give_up(const char *what)
{
    fprintf(stderr, "driver: %s: %s\n", what, strerror(errno));
    exit(2);
}

/* Runs a program with its output in a file; its exit code, or -1. */
static int run(char *const argv[], const char *out, const char *err)
{
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

static char *read_text(const char *path)
{
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

static void path_of(const Setup *s, const char *name, char *out, size_t size)
{
    if (snprintf(out, size, "%s%s%s", s->work, *name ? "/" : "", name) >= (int)size) {
        fputs("driver: the work folder's name is too long\n", stderr);
        exit(2);
    }
}

static bool draw(const Setup *s, long seed, char *why, size_t size)
{
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

static bool answer(const Setup *s, bool program, char **text, int *code)
{
    char scenario[2048], out[2048], err[2048], plan[] = "plan", json[] = "--json";
    char *brute_argv[] = {s->brute, scenario, NULL};
    char *plan_argv[] = {s->plan, plan, json, scenario, NULL};
    path_of(s, "job/scenario.json", scenario, sizeof scenario);
    path_of(s, program ? "plan.json" : "brute.json", out, sizeof out);
    path_of(s, program ? "plan.err" : "brute.err", err, sizeof err);
    *code = run(program ? plan_argv : brute_argv, out, err);
    *text = read_text(out);
    return *code == 0 || *code == 1;
}

static bool check_seed(const Setup *s, long seed, char *why, size_t size)
{
    char *oracle = NULL, *plan = NULL;
    int a = 0, b = 0;
    bool same = false;
    if (!draw(s, seed, why, size))
        return false;
    if (!answer(s, false, &oracle, &a))
        snprintf(why, size, "the checker ended with %d", a);
    else if (!answer(s, true, &plan, &b))
        snprintf(why, size, "the program ended with %d", b);
    else if (a != b)
        snprintf(why, size, "exit codes: the checker %d, the program %d", a, b);
    else
        same = same_answer(oracle, plan, why, size);
    free(oracle);
    free(plan);
    return same;
}

static Setup read_setup(int argc, char **argv)
{
    static char generate[] = "build/tests/generate", brute[] = "build/tests/brute";
    static char plan[] = "build/swapworth";
    Setup s = {.generate = generate, .brute = brute, .plan = plan, .work = "/tmp/swapworth-random"};
    if (argc < 3) {
        fputs("driver FIRST COUNT [--generate P] [--brute P] [--plan P] [--work FOLDER] [ARG..]\n",
              stderr);
        exit(2);
    }
    s.first = strtol(argv[1], NULL, 10);
    s.count = strtol(argv[2], NULL, 10);
    for (int i = 3; i < argc; i++) {
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

int main(int argc, char **argv)
{
    Setup s = read_setup(argc, argv);
    char why[512];
    long passed = 0, failed = 0;
    if (mkdir(s.work, 0777) != 0 && errno != EEXIST)
        give_up(s.work);
    for (long seed = s.first; seed < s.first + s.count; seed++) {
        why[0] = '\0';
        if (check_seed(&s, seed, why, sizeof why)) {
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
