/* The workers: each answers one thing in a process of its own, with limits, so that nothing that
 * goes wrong there reaches the desk, and so that it can be stopped at any moment. */
#ifndef SW_DESK_WORKERS_H
#define SW_DESK_WORKERS_H

#include "base/base.h"

#include <event2/event.h>

typedef struct sw_workers sw_workers;
typedef struct sw_work sw_work; /* one thing to be worked out, waiting or begun */

/* What became of it. */
typedef struct sw_outcome {
    int exit;        /* -1: it came to an end by itself */
    const char *why; /* then: a plain sentence without a full stop */
    int output;      /* a file with all that was printed on standard output; -1: none */
    size_t output_length;
    const char *told;   /* the beginning of what was said on standard error */
    const char *folder; /* where it worked; goes when `done` returns */
} sw_outcome;

typedef struct sw_task {
    /* In the worker: its exit code. The working folder is a private one of its own. */
    int (*run)(void *context);
    /* In the desk, once, when it is over; not after sw_work_stop. */
    void (*done)(void *context, const sw_outcome *outcome);
    void *context;
    /* A file that is made in the folder first: a name without a slash; NULL: none. Copied. */
    const char *name, *text;
    size_t length;
} sw_task;

/* `folder`: private, for the files of the work; must outlive it. `seconds`: what the command takes
 * behind --seconds; limits follow from it. NULL: memory is out. */
sw_workers *sw_workers_new(struct event_base *base, const char *folder, int seconds);
/* Kills what is at work and waits for it. */
void sw_workers_free(sw_workers *workers);

/* Begins it, or lets it wait. SW_CANNOT_WRITE: too many wait already; SW_NO_MEMORY. */
sw_status sw_workers_begin(sw_work **out, sw_workers *workers, const sw_task *task);
void sw_work_stop(sw_work *work);

/* A folder with all that is in it. */
void sw_folder_remove(const char *path);

#endif
