/* bounded REPORT MIB nobody|- COMMAND..: runs it with at most so much address space (0: no bound),
 * if asked as a user without rights, and writes into REPORT what it took: "CODE MICROSECONDS
 * KIBIBYTES", of its processor and of its memory. A signal is told as 1000 and its number. */
#define _GNU_SOURCE
#include <grp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#define NOBODY 65534
#define MOST_SECONDS 60

static void become(char **words) {
    struct rlimit space = {0}, work = {.rlim_cur = MOST_SECONDS, .rlim_max = MOST_SECONDS};
    space.rlim_cur = space.rlim_max = (rlim_t)strtoul(words[2], NULL, 10) << 20;
    if ((space.rlim_cur > 0 && setrlimit(RLIMIT_AS, &space) != 0) ||
        setrlimit(RLIMIT_CPU, &work) != 0)
        _exit(126);
    if (strcmp(words[3], "nobody") == 0 && getuid() == 0 &&
        (setgroups(0, NULL) != 0 || setgid(NOBODY) != 0 || setuid(NOBODY) != 0))
        _exit(126);
    execv(words[4], words + 4);
    _exit(127);
}

int main(int argc, char **argv) {
    struct rusage used;
    int status = 0;
    if (argc < 5)
        return 64;
    pid_t child = fork();
    if (child == 0)
        become(argv);
    if (child < 0 || wait4(child, &status, 0, &used) != child)
        return 70;
    FILE *report = fopen(argv[1], "w");
    if (report == NULL)
        return 73;
    long long took = (used.ru_utime.tv_sec + used.ru_stime.tv_sec) * 1000000LL +
                     used.ru_utime.tv_usec + used.ru_stime.tv_usec;
    fprintf(report, "%d %lld %ld\n",
            WIFEXITED(status) ? WEXITSTATUS(status) : 1000 + WTERMSIG(status), took,
            used.ru_maxrss);
    return fclose(report) == 0 ? 0 : 74;
}
