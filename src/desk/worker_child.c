/* The other side of a fork. Nothing of the desk is left open here, so that a connection ends when
 * the desk closes it and no worker can speak to a client by itself. */
#include "desk/worker_child.h"

#include "desk/workers.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <ftw.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

#define MEMORY_MOST ((rlim_t)2 * 1024 * 1024 * 1024)
#define FILE_MOST ((rlim_t)256 * 1024 * 1024)

/* AddressSanitizer takes an address space far above the limit. */
#if defined(__SANITIZE_ADDRESS__)
#define LIMITS_MEMORY 0
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define LIMITS_MEMORY 0
#endif
#endif
#ifndef LIMITS_MEMORY
#define LIMITS_MEMORY 1
#endif

/* Whoever began the desk may have set less: then that holds. */
static bool limit(int what, rlim_t most, rlim_t hard) {
    struct rlimit now;
    if (getrlimit(what, &now) != 0)
        return false;
    rlim_t over = hard < now.rlim_max ? hard : now.rlim_max;
    now = (struct rlimit){.rlim_cur = most < over ? most : over, .rlim_max = over};
    return setrlimit(what, &now) == 0;
}

/* At the first limit of the processor's time a signal tells why; a second later nothing helps. */
static bool limit_all(int seconds) {
    rlim_t cpu = (rlim_t)seconds * 2 + 10;
    return (!LIMITS_MEMORY || limit(RLIMIT_AS, MEMORY_MOST, MEMORY_MOST)) &&
           limit(RLIMIT_CPU, cpu, cpu + 1) && limit(RLIMIT_FSIZE, FILE_MOST, FILE_MOST);
}

static void close_all_above(int last) {
    int open_files[256];
    size_t count = 0;
    DIR *folder = opendir("/proc/self/fd");
    if (folder == NULL) {
        for (int file = last + 1; file < 1024; file++)
            close(file);
        return;
    }
    for (const struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        char *end = NULL;
        long file = strtol(entry->d_name, &end, 10);
        if (end != entry->d_name && file > last && file != dirfd(folder) &&
            count < sizeof open_files / sizeof *open_files)
            open_files[count++] = (int)file;
    }
    closedir(folder);
    while (count > 0)
        close(open_files[--count]);
}

static const int usual[] = {SIGINT, SIGTERM, SIGCHLD, SIGPIPE, SIGHUP, SIGQUIT};

static void usual_signals(void) {
    sigset_t none;
    sigemptyset(&none);
    for (size_t i = 0; i < sizeof usual / sizeof *usual; i++)
        signal(usual[i], SIG_DFL);
    sigprocmask(SIG_SETMASK, &none, NULL);
}

static _Noreturn void work(const sw_child *child, pid_t desk) {
    bool no_core = limit(RLIMIT_CORE, 0, 0); /* first: a core file would lie where the desk began */
    int nothing = open("/dev/null", O_RDONLY);
    usual_signals();
    setpgid(0, 0); /* a key pressed at the terminal is the desk's */
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    bool good = no_core && getppid() == desk && nothing >= 0 && dup2(nothing, STDIN_FILENO) >= 0 &&
                dup2(child->output, STDOUT_FILENO) >= 0 &&
                dup2(child->errors, STDERR_FILENO) >= 0 && chdir(child->folder) == 0 &&
                limit_all(child->seconds);
    close_all_above(STDERR_FILENO);
    int code = good ? child->run(child->context) : 70;
    if (fflush(stdout) != 0)
        code = 74;
    fflush(stderr);
    _exit(code);
}

pid_t sw_child_begin(const sw_child *child) {
    pid_t desk = getpid();
    fflush(stdout);
    fflush(stderr);
    /* The handlers are the desk's until the worker has its own: what arrives between would be told
     * to the desk. */
    sigset_t all, before;
    sigfillset(&all);
    sigprocmask(SIG_SETMASK, &all, &before);
    pid_t pid = fork();
    if (pid == 0)
        work(child, desk);
    int why = errno;
    sigprocmask(SIG_SETMASK, &before, NULL);
    errno = why;
    return pid;
}

/* ---- folders -------------------------------------------------------------------------------- */

static int remove_one(const char *path, const struct stat *info, int kind, struct FTW *at) {
    (void)info;
    (void)kind;
    (void)at;
    remove(path);
    return 0;
}

void sw_folder_remove(const char *path) { nftw(path, remove_one, 8, FTW_DEPTH | FTW_PHYS); }
