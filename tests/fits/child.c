/* Runs another program with its output in a file, and reads what it wrote. */
#include "child.h"

#include <errno.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

extern char **environ;

void give_up(const char *what) {
    fprintf(stderr, "driver: %s: %s\n", what, strerror(errno));
    exit(2);
}

int run_child(char *const argv[], const char *out, const char *err) {
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

char *read_whole(const char *path) {
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

cJSON *read_tree(const char *path) {
    char *text = read_whole(path);
    cJSON *tree = cJSON_Parse(text);
    free(text);
    return tree;
}
