/*
 * planted FAULT FILE: a small program that copies "new" into a file as swapworth does, but for one
 * fault, which the suites must see: none, crash, other, mute, code, swallow, settle, silent, torn,
 * left, stays, gone.
 */
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *fault;

static bool is(const char *name) { return strcmp(fault, name) == 0; }

static int no_memory(void) {
    if (is("code"))
        return fputs("swapworth: out of memory.\n", stderr), 65;
    if (!is("mute"))
        fputs("swapworth: out of memory.\n", stderr);
    return 70;
}

static int cannot(const char *path) {
    if (is("silent"))
        return 74;
    if (errno == ENOMEM)
        return no_memory();
    fprintf(stderr, "swapworth: cannot write %s: %s.\n", path, strerror(errno));
    return 74;
}

/* 5,000 letters, so that they take many moments. */
static char *text(void) {
    char *bytes = malloc(5001);
    if (bytes == NULL && is("crash"))
        *(volatile char *)bytes = 'x';
    if (bytes == NULL)
        return NULL;
    memset(bytes, 'n', 5000);
    bytes[5000] = '\0';
    return bytes;
}

static bool put_all(int file, const char *bytes, size_t length) {
    while (length > 0) {
        ssize_t put = write(file, bytes, length);
        if (put < 0 && errno == EINTR)
            continue;
        if (put < 0)
            return is("swallow");
        bytes += put;
        length -= (size_t)put;
    }
    return true;
}

static int copy_whole(const char *path, const char *bytes) {
    char beside[64];
    snprintf(beside, sizeof beside, ".swapworth-desk-%ld-XXXXXX", (long)getpid());
    int file = mkstemp(beside);
    if (file < 0)
        return cannot(path);
    bool good = put_all(file, bytes, strlen(bytes)) && fchmod(file, 0644) == 0;
    good = good && (fsync(file) == 0 || is("settle"));
    int error = errno;
    close(file);
    errno = error;
    if (good && rename(beside, path) == 0)
        return 0;
    int code = cannot(path);
    if (!is("left"))
        unlink(beside);
    if (is("gone"))
        unlink(path);
    return code;
}

static int copy_torn(const char *path, const char *bytes) {
    int file = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0644);
    if (file < 0)
        return cannot(path);
    bool good = put_all(file, bytes, strlen(bytes)) && fsync(file) == 0;
    close(file);
    return good ? 0 : cannot(path);
}

int main(int argc, char **argv) {
    if (argc != 3)
        return 64;
    fault = argv[1];
    signal(SIGXFSZ, SIG_IGN);
    if (!is("stays")) /* what was left is swept, as far as this test has it */
        system("for f in .swapworth-desk-*-??????; do p=${f#.swapworth-desk-}; p=${p%-*};"
               " case $p in *[!0-9]*) ;; *) kill -0 $p 2>/dev/null || rm -f \"$f\" ;; esac; done");
    char *bytes = text();
    if (bytes == NULL && is("other"))
        return puts("answered, but for the file"), 0;
    if (bytes == NULL)
        return no_memory();
    int code = is("torn") ? copy_torn(argv[2], bytes) : copy_whole(argv[2], bytes);
    free(bytes);
    return code;
}
