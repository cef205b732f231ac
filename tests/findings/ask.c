/* The program is asked to look at every case. */
#include "findings.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

enum { AT_ONCE = 2, LIMIT_SECONDS = 60 };

/* In the child: answers to DIR/LINE.out, complaints to DIR/LINE.err. */
static void become(const char *program, const char *catalog, const char *folder,
                   const table_line *line) {
    char *scenario = case_path(folder, line, ".json");
    int out = open(case_path(folder, line, ".out"), O_WRONLY | O_CREAT | O_TRUNC, 0644);
    int err = open(case_path(folder, line, ".err"), O_WRONLY | O_CREAT | O_TRUNC, 0644);
    if (out < 0 || err < 0 || dup2(out, STDOUT_FILENO) < 0 || dup2(err, STDERR_FILENO) < 0)
        _exit(127);
    alarm(LIMIT_SECONDS);
    execl(program, program, "look", scenario, "--catalog", catalog, "--json", (char *)NULL);
    _exit(127);
}

typedef struct asked {
    pid_t child;
    const table_line *line;
} asked;

static asked begin(const char *program, const char *catalog, const char *folder,
                   const table_line *line) {
    fflush(NULL);
    pid_t child = fork();
    if (child == 0)
        become(program, catalog, folder, line);
    if (child < 0)
        give_up("no process for line %d", line->number);
    return (asked){child, line};
}

/* An answer counts only where the program says that it answered. */
static void wait_for(asked one, const char *folder) {
    int status = 0;
    while (waitpid(one.child, &status, 0) < 0)
        if (errno != EINTR)
            give_up("a process was lost");
    if (WIFEXITED(status) && WEXITSTATUS(status) == 0)
        return;
    char *out = case_path(folder, one.line, ".out");
    unlink(out);
    free(out);
}

void ask_cases(const table *t, const char *program, const char *catalog, const char *folder) {
    asked running[AT_ONCE];
    int count = 0;
    for (size_t i = 0; i < t->count; i++) {
        if (!is_case(&t->lines[i]))
            continue;
        if (count == AT_ONCE) {
            wait_for(running[0], folder);
            running[0] = running[1];
            count--;
        }
        running[count++] = begin(program, catalog, folder, &t->lines[i]);
    }
    for (int i = 0; i < count; i++)
        wait_for(running[i], folder);
}
