/*
 * Loaded before the C library: SWAPWORTH_FAULT names a call and how it fails.
 *
 *     write:ENOSPC fsync:EIO mkstemp:EACCES rename:EROFS link:EPERM  the call fails
 *     rename:slow                                      the file stands beside its place for a while
 *     rename:torn                                      a planted fault: written into its place,
 * slowly
 */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <unistd.h>

static const char *how(const char *call) {
    const char *fault = getenv("SWAPWORTH_FAULT");
    size_t length = strlen(call);
    return fault != NULL && strncmp(fault, call, length) == 0 && fault[length] == ':'
               ? fault + length + 1
               : "";
}

static int error_of(const char *name) {
    static const struct {
        const char *name;
        int error;
    } known[] = {
        {"ENOSPC", ENOSPC}, {"EIO", EIO}, {"EACCES", EACCES}, {"EROFS", EROFS}, {"EPERM", EPERM}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (strcmp(known[i].name, name) == 0)
            return known[i].error;
    return 0;
}

static int fails(const char *call) {
    int error = error_of(how(call));
    errno = error != 0 ? error : errno;
    return error != 0;
}

static void *next(const char *name) { return dlsym(RTLD_NEXT, name); }

/* Answers of the program go through stdout: only files beside jobs and trays are meant. */
ssize_t write(int file, const void *bytes, size_t count) {
    ssize_t (*real)(int, const void *, size_t);
    *(void **)&real = next("write");
    return file > 2 && fails("write") ? -1 : real(file, bytes, count);
}

int fsync(int file) {
    int (*real)(int);
    *(void **)&real = next("fsync");
    return fails("fsync") ? -1 : real(file);
}

int mkstemp(char *name) {
    int (*real)(char *);
    *(void **)&real = next("mkstemp");
    return fails("mkstemp") ? -1 : real(name);
}

int link(const char *from, const char *to) {
    int (*real)(const char *, const char *);
    *(void **)&real = next("link");
    return fails("link") ? -1 : real(from, to);
}

/* The old file is cut off and filled bit by bit: what a kill leaves then is torn. */
static int torn(const char *from, const char *to) {
    char block[64];
    ssize_t got;
    int in = open(from, O_RDONLY), out = open(to, O_WRONLY | O_TRUNC);
    while (in >= 0 && out >= 0 && (got = read(in, block, sizeof block)) > 0) {
        if (write(out, block, (size_t)got) != got)
            break;
        usleep(200);
    }
    close(in);
    close(out);
    return unlink(from);
}

int rename(const char *from, const char *to) {
    int (*real)(const char *, const char *);
    *(void **)&real = next("rename");
    if (strcmp(how("rename"), "slow") == 0)
        usleep(4000);
    if (strcmp(how("rename"), "torn") == 0)
        return torn(from, to);
    return fails("rename") ? -1 : real(from, to);
}
