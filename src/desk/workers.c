/* The queue of the workers, their limits and their end. */
#include "desk/workers.h"

#include "base/whole_file.h"
#include "desk/worker_child.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define AT_ONCE 3
#define WAITING_MOST 8
#define TOLD_MOST 4096
#define SECONDS_MORE 10 /* of the clock, beside what the command is given */

struct sw_work {
    sw_workers *workers;
    sw_task task;
    char *name, *text, *folder;
    pid_t pid; /* 0: waiting */
    int output, errors;
    struct event *late;
    bool stopped, was_late;
    sw_work *next;
};

struct sw_workers {
    struct event_base *base;
    struct event *ended; /* a child has */
    struct event *next;  /* begins what waits */
    const char *folder;
    int seconds;
    sw_work *first; /* those that wait in the order in which they came */
};

/* ---- one work ------------------------------------------------------------------------------- */

static void work_free(sw_work *work) {
    if (work->late != NULL)
        event_free(work->late);
    if (work->output >= 0)
        close(work->output);
    if (work->errors >= 0)
        close(work->errors);
    if (work->folder != NULL)
        sw_folder_remove(work->folder);
    free(work->folder);
    free(work->name);
    free(work->text);
    free(work);
}

static void unlink_work(sw_work *work) {
    for (sw_work **at = &work->workers->first; *at != NULL; at = &(*at)->next)
        if (*at == work) {
            *at = work->next;
            return;
        }
}

/* A file that has no name: gone when the last who holds it ends. */
static int nameless(const char *folder) {
    sw_text path = {0};
    sw_text_addf(&path, "%s/out-XXXXXX", folder);
    int file = path.failed ? -1 : mkstemp(path.bytes);
    if (file >= 0)
        unlink(path.bytes);
    sw_text_free(&path);
    return file;
}

/* The text as a file that its owner alone may read. */
static bool put_file(const sw_work *work) {
    sw_text path = {0};
    sw_text_addf(&path, "%s/%s", work->folder, work->name);
    int file = path.failed ? -1 : open(path.bytes, O_WRONLY | O_CREAT | O_EXCL, 0600);
    sw_text_free(&path);
    bool good = file >= 0 && sw_bytes_write(file, work->text, work->task.length);
    return file >= 0 && close(file) == 0 && good;
}

static bool set_out(sw_work *work) {
    sw_text folder = {0};
    sw_text_addf(&folder, "%s/work-XXXXXX", work->workers->folder);
    if (folder.failed || mkdtemp(folder.bytes) == NULL) {
        sw_text_free(&folder);
        return false;
    }
    work->folder = folder.bytes;
    work->output = nameless(work->workers->folder);
    work->errors = nameless(work->workers->folder);
    return work->output >= 0 && work->errors >= 0 && (work->name == NULL || put_file(work));
}

static void finish(sw_work *work, sw_outcome *outcome) {
    char told[TOLD_MOST + 1] = "";
    struct stat info;
    outcome->output = -1;
    outcome->folder = work->folder;
    outcome->told = told;
    if (work->errors >= 0) {
        ssize_t length = pread(work->errors, told, TOLD_MOST, 0);
        told[length < 0 ? 0 : length] = '\0';
    }
    if (work->output >= 0 && fstat(work->output, &info) == 0 &&
        lseek(work->output, 0, SEEK_SET) == 0) {
        outcome->output = work->output;
        outcome->output_length = (size_t)info.st_size;
    }
    work->task.done(work->task.context, outcome);
    work_free(work);
}

/* How a worker ended that did not come to its own end. */
static const char *why_it_died(const sw_work *work, int status) {
    int by = WIFSIGNALED(status) ? WTERMSIG(status) : 0;
    if (work->was_late)
        return "it took longer than it may";
    if (by == SIGXCPU)
        return "it used more of the processor's time than it may";
    if (by == SIGKILL)
        return "it was stopped from outside, or the machine's memory ran out";
    return "a fault of the program, or not enough memory for a job of this size";
}

/* ---- the clock, and the ends ---------------------------------------------------------------- */

static void on_late(evutil_socket_t none, short what, void *context) {
    sw_work *work = context;
    (void)none;
    (void)what;
    work->was_late = true;
    kill(work->pid, SIGKILL);
}

static void wake(sw_workers *workers) { event_active(workers->next, EV_TIMEOUT, 0); }

static bool begin(sw_work *work) {
    sw_workers *workers = work->workers;
    if (!set_out(work))
        return false;
    work->late = evtimer_new(workers->base, on_late, work);
    if (work->late == NULL)
        return false;
    sw_child child = {.run = work->task.run,
                      .context = work->task.context,
                      .folder = work->folder,
                      .output = work->output,
                      .errors = work->errors,
                      .seconds = workers->seconds};
    work->pid = sw_child_begin(&child);
    if (work->pid < 0) {
        work->pid = 0;
        return false;
    }
    event_add(work->late, &(struct timeval){.tv_sec = workers->seconds + SECONDS_MORE});
    return true;
}

static int at_work(const sw_workers *workers) {
    int count = 0;
    for (const sw_work *work = workers->first; work != NULL; work = work->next)
        count += work->pid > 0;
    return count;
}

/* The one that waits longest, out of the list; NULL: none does. */
static sw_work *take_waiting(sw_workers *workers) {
    for (sw_work **at = &workers->first; *at != NULL; at = &(*at)->next) {
        sw_work *work = *at;
        if (work->pid > 0)
            continue;
        *at = work->next;
        return work;
    }
    return NULL;
}

/* Begins what waits, as far as there is room. */
static void on_next(evutil_socket_t none, short what, void *context) {
    sw_workers *workers = context;
    (void)none;
    (void)what;
    while (at_work(workers) < AT_ONCE) {
        sw_work *work = take_waiting(workers);
        if (work == NULL)
            return;
        if (begin(work)) {
            work->next = workers->first;
            workers->first = work;
            continue;
        }
        finish(
            work,
            &(sw_outcome){
                .exit = -1,
                .why = "the system gave no room for its files (is the disk full?), or no process"});
    }
}

/* A work whose process has ended, out of the list; NULL: there is none. */
static sw_work *take_ended(sw_workers *workers, int *status) {
    for (sw_work **at = &workers->first; *at != NULL; at = &(*at)->next) {
        sw_work *work = *at;
        if (work->pid <= 0 || waitpid(work->pid, status, WNOHANG) != work->pid)
            continue;
        *at = work->next;
        return work;
    }
    return NULL;
}

static void on_ended(evutil_socket_t none, short what, void *context) {
    sw_workers *workers = context;
    int status = 0;
    (void)none;
    (void)what;
    for (sw_work *work; (work = take_ended(workers, &status)) != NULL;) {
        if (work->stopped) {
            work_free(work);
            continue;
        }
        bool came_to_end = WIFEXITED(status);
        finish(work, &(sw_outcome){.exit = came_to_end ? WEXITSTATUS(status) : -1,
                                   .why = came_to_end ? "" : why_it_died(work, status)});
    }
    wake(workers);
}

/* ---- all of them ---------------------------------------------------------------------------- */

static int all(const sw_workers *workers) {
    int count = 0;
    for (const sw_work *work = workers->first; work != NULL; work = work->next)
        count++;
    return count;
}

static char *copied(const char *bytes, size_t length) {
    char *copy = malloc(length + 1);
    if (copy == NULL)
        return NULL;
    if (length > 0)
        memcpy(copy, bytes, length);
    copy[length] = '\0';
    return copy;
}

sw_status sw_workers_begin(sw_work **out, sw_workers *workers, const sw_task *task) {
    if (all(workers) >= AT_ONCE + WAITING_MOST)
        return SW_CANNOT_WRITE;
    sw_work *work = calloc(1, sizeof *work);
    if (work == NULL)
        return SW_NO_MEMORY;
    *work = (sw_work){.workers = workers, .task = *task, .output = -1, .errors = -1};
    if (task->name != NULL) {
        work->name = copied(task->name, strlen(task->name));
        work->text = copied(task->text, task->length);
        if (work->name == NULL || work->text == NULL) {
            work_free(work);
            return SW_NO_MEMORY;
        }
    }
    sw_work **last = &workers->first;
    while (*last != NULL)
        last = &(*last)->next;
    *last = work;
    wake(workers);
    *out = work;
    return SW_OK;
}

void sw_work_stop(sw_work *work) {
    if (work->pid > 0) {
        work->stopped = true; /* freed when it has ended */
        kill(work->pid, SIGKILL);
        return;
    }
    unlink_work(work);
    work_free(work);
}

sw_workers *sw_workers_new(struct event_base *base, const char *folder, int seconds) {
    sw_workers *workers = calloc(1, sizeof *workers);
    if (workers == NULL)
        return NULL;
    *workers = (sw_workers){.base = base, .folder = folder, .seconds = seconds};
    workers->ended = evsignal_new(base, SIGCHLD, on_ended, workers);
    workers->next = evtimer_new(base, on_next, workers);
    if (workers->ended == NULL || workers->next == NULL || event_add(workers->ended, NULL) != 0) {
        sw_workers_free(workers);
        return NULL;
    }
    return workers;
}

void sw_workers_free(sw_workers *workers) {
    if (workers == NULL)
        return;
    for (sw_work *work = workers->first; work != NULL; work = work->next)
        if (work->pid > 0)
            kill(work->pid, SIGKILL);
    while (workers->first != NULL) {
        sw_work *work = workers->first;
        workers->first = work->next;
        while (work->pid > 0 && waitpid(work->pid, NULL, 0) < 0 && errno == EINTR)
            continue;
        if (!work->stopped)
            work->task.done(work->task.context, &(sw_outcome){.exit = -1,
                                                              .why = "the desk was closed",
                                                              .output = -1,
                                                              .told = "",
                                                              .folder = work->folder});
        work_free(work);
    }
    if (workers->ended != NULL)
        event_free(workers->ended);
    if (workers->next != NULL)
        event_free(workers->next);
    free(workers);
}
