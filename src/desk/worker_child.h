/* The other side of a fork: what a worker may use, and what it sees. */
#ifndef SW_DESK_WORKER_CHILD_H
#define SW_DESK_WORKER_CHILD_H

#include <sys/types.h>

typedef struct sw_child {
    int (*run)(void *context); /* its result is the exit code */
    void *context;
    const char *folder; /* where it works */
    int output, errors; /* files for standard output and standard error */
    int seconds;
} sw_child;

/* The process id, -1 where there is none to be had. */
pid_t sw_child_begin(const sw_child *child);

#endif
