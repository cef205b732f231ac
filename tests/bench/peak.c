/* peak COMMAND..: runs it, and tells on standard error how long it took and how much memory it had
 * at most: "seconds 1.23 mib 45". */
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double now(void) {
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    return (double)at.tv_sec + (double)at.tv_nsec / 1e9;
}

int main(int argc, char **argv) {
    struct rusage used;
    int status = 0;
    double begun = now();
    if (argc < 2)
        return 64;
    pid_t child = fork();
    if (child == 0) {
        execv(argv[1], argv + 1);
        _exit(127);
    }
    if (child < 0 || waitpid(child, &status, 0) != child ||
        getrusage(RUSAGE_CHILDREN, &used) != 0) {
        perror("peak");
        return 70;
    }
    fprintf(stderr, "seconds %.2f mib %ld\n", now() - begun, (used.ru_maxrss + 1023) / 1024);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 70;
}
