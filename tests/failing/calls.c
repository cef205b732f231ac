/* The calls that may fail, and which of them is due. */
#include "failing.h"

#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define BYTES_A_MOMENT 512

setup failing = {.off = true};

static void *next(const char *name) { return dlsym(RTLD_NEXT, name); }

#define REAL(result, name, ...)                                                                    \
    static result (*real_##name)(__VA_ARGS__);                                                     \
    if (real_##name == NULL)                                                                       \
    *(void **)&real_##name = next(#name)

/* ---- which call is due ----------------------------------------------------------------------- */

static const struct {
    const char *name;
    int error;
} ways[][5] = {
    [CALL_ALLOC] = {{"once", ENOMEM}, {"from then on", ENOMEM}, {NULL, -1}},
    [CALL_OPEN] = {{"EIO", EIO}, {"EMFILE", EMFILE}, {"EACCES", EACCES}, {NULL, -1}},
    [CALL_READ] = {{"EIO", EIO}, {"EINTR", EINTR}, {"short", FALLS_SHORT}, {NULL, -1}},
    [CALL_WRITE] =
        {{"ENOSPC", ENOSPC}, {"EIO", EIO}, {"EINTR", EINTR}, {"short", FALLS_SHORT}, {NULL, -1}},
    [CALL_SETTLE] = {{"EIO", EIO}, {"ENOSPC", ENOSPC}, {NULL, -1}},
    [CALL_CHANGE] = {{"EIO", EIO}, {"EROFS", EROFS}, {"ENOSPC", ENOSPC}, {NULL, -1}},
};

const char *failing_way_name(call of, int way) { return ways[of][way].name; }

int failing_way(call of, int way) { return ways[of][way].name == NULL ? 0 : ways[of][way].error; }

static int way_count(call of) {
    int count = 0;
    while (ways[of][count].name != NULL)
        count++;
    return count;
}

void failing_writes(void) {
    if (failing.off || failing.begun)
        return;
    failing.written = failing.count;
    failing.begun = true;
}

/* What was off before stays off. */
void failing_rest(bool rests) {
    static bool before;
    if (rests)
        before = failing.off;
    failing.off = rests || before;
}

/* Between two calls, and within a long write. */
static void moment(void) {
    if (failing.kill > 0 && failing.begun && !failing.off && ++failing.moments == failing.kill)
        kill(getpid(), SIGKILL);
}

int failing_now(call of, uintptr_t caller) {
    if (failing.off || (of == CALL_ALLOC ? !failing.allocs : !failing.io))
        return GOES_ON;
    failing.count++;
    if (failing.lasting != 0)
        return failing.lasting;
    if (failing.is_child)
        return GOES_ON;
    if (failing.each && !failing.begun)
        return failing_fork(of, caller);
    if (failing.count != failing.at || failing.as >= way_count(of))
        return GOES_ON;
    int way = failing_way(of, (int)failing.as);
    failing.failed_so = failing_way_name(of, (int)failing.as);
    if (of == CALL_ALLOC && failing.as == 1)
        failing.lasting = way;
    return way;
}

static bool due(call of, const char *name) {
    int way = failing_now(of, 0);
    moment();
    if (way == GOES_ON || way == FALLS_SHORT)
        return false;
    failing.failed = name;
    errno = way;
    return true;
}

/* ---- memory ---------------------------------------------------------------------------------- */

/* dlsym may ask for memory before it has found ours. */
static _Alignas(16) char early[4096];
static size_t early_used;
static bool looks_up;

static void *early_bytes(size_t bytes) {
    size_t at = early_used;
    early_used += (bytes + 15) / 16 * 16;
    return early_used > sizeof early ? NULL : early + at;
}

static bool is_early(const void *bytes) {
    return (uintptr_t)bytes >= (uintptr_t)early &&
           (uintptr_t)bytes < (uintptr_t)early + sizeof early;
}

static void *(*real_malloc)(size_t);
static void *(*real_calloc)(size_t, size_t);
static void *(*real_realloc)(void *, size_t);
static void (*real_free)(void *);

#define CALLER ((uintptr_t)__builtin_return_address(0))

static bool lacks(uintptr_t caller) {
    bool lacking = failing_now(CALL_ALLOC, caller) != GOES_ON;
    errno = lacking ? ENOMEM : errno;
    return lacking;
}

static bool found(void) {
    if (real_free != NULL)
        return true;
    if (looks_up)
        return false;
    looks_up = true;
    *(void **)&real_malloc = next("malloc");
    *(void **)&real_calloc = next("calloc");
    *(void **)&real_realloc = next("realloc");
    *(void **)&real_free = next("free");
    looks_up = false;
    return true;
}

void *malloc(size_t bytes) {
    if (!found())
        return early_bytes(bytes);
    return lacks(CALLER) ? NULL : real_malloc(bytes);
}

void *calloc(size_t count, size_t size) {
    if (!found())
        return early_bytes(count * size);
    return lacks(CALLER) ? NULL : real_calloc(count, size);
}

void *realloc(void *old, size_t bytes) {
    if (!found() || is_early(old))
        return NULL;
    return lacks(CALLER) ? NULL : real_realloc(old, bytes);
}

void free(void *bytes) {
    if (bytes != NULL && !is_early(bytes) && found())
        real_free(bytes);
}

/* ---- streams: the C library's own reads and writes cannot be reached, so that a stream is made
 * over ours ------------------------------------------------------------------------------------ */

static ssize_t one_read(int file, void *bytes, size_t count) {
    REAL(ssize_t, read, int, void *, size_t);
    int way = failing_now(CALL_READ, 0);
    failing.failed = way != GOES_ON ? "read" : failing.failed;
    if (way != GOES_ON && way != FALLS_SHORT) {
        errno = way;
        return -1;
    }
    return real_read(file, bytes, way == FALLS_SHORT && count > 1 ? 1 : count);
}

static ssize_t one_write(int file, const void *bytes, size_t count) {
    REAL(ssize_t, write, int, const void *, size_t);
    int way = failing_now(CALL_WRITE, 0);
    failing.failed = way != GOES_ON ? "write" : failing.failed;
    if (way != GOES_ON && way != FALLS_SHORT) {
        errno = way;
        return -1;
    }
    if (failing.kill > 0 && file > STDERR_FILENO) {
        moment();
        count = count > BYTES_A_MOMENT ? BYTES_A_MOMENT : count;
    }
    return real_write(file, bytes, way == FALLS_SHORT && count > 1 ? 1 : count);
}

static ssize_t stream_read(void *cookie, char *bytes, size_t count) {
    return one_read((int)(intptr_t)cookie, bytes, count);
}

/* As the C library does: what is left is written again, until there is an error. */
static ssize_t stream_write(void *cookie, const char *bytes, size_t count) {
    size_t done = 0;
    while (done < count) {
        ssize_t put = one_write((int)(intptr_t)cookie, bytes + done, count - done);
        if (put < 0)
            return (ssize_t)done;
        done += (size_t)put;
    }
    return (ssize_t)done;
}

static int stream_close(void *cookie) {
    REAL(int, close, int);
    int code = real_close((int)(intptr_t)cookie);
    return due(CALL_SETTLE, "close") ? -1 : code;
}

static FILE *stream_over(int file, const char *mode) {
    cookie_io_functions_t calls = {
        .read = stream_read, .write = stream_write, .close = stream_close};
    return fopencookie((void *)(intptr_t)file, mode, calls);
}

FILE *fdopen(int file, const char *mode) {
    REAL(FILE *, fdopen, int, const char *);
    if (!failing.io || failing.off)
        return real_fdopen(file, mode);
    return due(CALL_OPEN, "fdopen") ? NULL : stream_over(file, mode);
}

FILE *fopen(const char *path, const char *mode) {
    REAL(FILE *, fopen, const char *, const char *);
    if (mode[0] != 'r')
        failing_writes();
    if (!failing.io || failing.off)
        return real_fopen(path, mode);
    if (due(CALL_OPEN, "fopen"))
        return NULL;
    failing.off = true;
    int file = mode[0] == 'r' ? open(path, O_RDONLY | O_CLOEXEC)
                              : open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    failing.off = false;
    return file < 0 ? NULL : stream_over(file, mode);
}

ssize_t read(int file, void *bytes, size_t count) { return one_read(file, bytes, count); }

ssize_t write(int file, const void *bytes, size_t count) {
    REAL(ssize_t, write, int, const void *, size_t);
    return file == STDERR_FILENO ? real_write(file, bytes, count) : one_write(file, bytes, count);
}

/* ---- files ----------------------------------------------------------------------------------- */

DIR *opendir(const char *path) {
    REAL(DIR *, opendir, const char *);
    return due(CALL_OPEN, "opendir") ? NULL : real_opendir(path);
}

int open(const char *path, int flags, ...) {
    REAL(int, open, const char *, int, ...);
    mode_t mode = 0;
    if ((flags & O_CREAT) != 0) {
        va_list rest;
        va_start(rest, flags);
        mode = va_arg(rest, mode_t);
        va_end(rest);
    }
    if ((flags & O_ACCMODE) != O_RDONLY)
        failing_writes();
    return due(CALL_OPEN, "open") ? -1 : real_open(path, flags, mode);
}

int mkstemp(char *name) {
    REAL(int, mkstemp, char *);
    failing_writes();
    return due(CALL_OPEN, "mkstemp") ? -1 : real_mkstemp(name);
}

int fsync(int file) {
    REAL(int, fsync, int);
    return due(CALL_SETTLE, "fsync") ? -1 : real_fsync(file);
}

int close(int file) {
    REAL(int, close, int);
    int code = real_close(file);
    return due(CALL_SETTLE, "close") ? -1 : code;
}

int fchmod(int file, mode_t mode) {
    REAL(int, fchmod, int, mode_t);
    return due(CALL_CHANGE, "fchmod") ? -1 : real_fchmod(file, mode);
}

int rename(const char *from, const char *to) {
    REAL(int, rename, const char *, const char *);
    failing_writes();
    return due(CALL_CHANGE, "rename") ? -1 : real_rename(from, to);
}

int link(const char *from, const char *to) {
    REAL(int, link, const char *, const char *);
    failing_writes();
    return due(CALL_CHANGE, "link") ? -1 : real_link(from, to);
}

int mkdir(const char *path, mode_t mode) {
    REAL(int, mkdir, const char *, mode_t);
    failing_writes();
    return due(CALL_CHANGE, "mkdir") ? -1 : real_mkdir(path, mode);
}

/* ---- time: while a fork is judged none passes -------------------------------------------------
 */

int clock_gettime(clockid_t clock, struct timespec *now) {
    REAL(int, clock_gettime, clockid_t, struct timespec *);
    int code = real_clock_gettime(clock, now);
    if (code == 0 && clock == CLOCK_MONOTONIC && !failing.off) {
        long long left = now->tv_sec * 1000000000LL + now->tv_nsec - failing.waited;
        *now = (struct timespec){.tv_sec = left / 1000000000, .tv_nsec = left % 1000000000};
    }
    return code;
}

/* ---- beginning and end ----------------------------------------------------------------------- */

static long number_of(const char *name, long otherwise) {
    const char *text = getenv(name);
    return text == NULL ? otherwise : strtol(text, NULL, 10);
}

__attribute__((constructor)) static void begin(void) {
    const char *what = getenv("FAILING_WHAT");
    if (what == NULL)
        return;
    failing.allocs = strcmp(what, "alloc") == 0;
    failing.io = strcmp(what, "io") == 0;
    failing.report = getenv("FAILING_EACH");
    failing.each = failing.report != NULL;
    failing.seen = getenv("FAILING_SEEN");
    failing.right = getenv("FAILING_RIGHT");
    failing.told = getenv("FAILING_COUNT");
    failing.kill = number_of("FAILING_KILL", 0);
    failing.at = number_of("FAILING_AT", 0);
    failing.as = number_of("FAILING_AS", 0);
    failing.share = number_of("FAILING_SHARE", 1);
    failing.stride = number_of("FAILING_STRIDE", 1);
    if (failing.io) {
        stdin = stream_over(STDIN_FILENO, "r");
        stdout = stream_over(STDOUT_FILENO, "w");
    }
    if (failing.each)
        failing_ways_read();
    unsetenv("LD_PRELOAD");
    failing.off = false;
}

__attribute__((destructor)) static void end(void) {
    if (failing.is_child || failing.off)
        return;
    fflush(stdout);
    failing.off = true;
    if (failing.each) {
        failing_ways_keep();
        failing_judged();
    }
    FILE *told = failing.told == NULL ? NULL : fopen(failing.told, "w");
    if (told != NULL) {
        fprintf(told, "%ld %ld %ld %s %s\n", failing.count, failing.begun ? failing.written : -1,
                failing.moments, failing.failed == NULL ? "none" : failing.failed,
                failing.failed == NULL ? "none" : failing.failed_so);
        fclose(told);
    }
}
