/* Printing: answers whole or not at all, complaints as sentences. */
#include "face/commands.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "desk/leftovers.h"

bool sw_close_output(FILE *stream) { return fflush(stream) == 0 && ferror(stream) == 0; }

double sw_steady_seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static int cannot(const char *what, const char *path, int code) {
    if (errno == ENOMEM)
        return sw_say_complaints(NULL, SW_NO_MEMORY);
    fprintf(stderr, "swapworth: cannot %s %s: %s.\n", what, path, strerror(errno));
    return code;
}

/* Past the largest size that files may have a write must fail, so that it can be told and what was
 * begun taken away; by default the system would end the program there. */
static void let_large_writes_fail(void) { signal(SIGXFSZ, SIG_IGN); }

/* mkstemp makes files for their owner alone: an answer gets the rights of the file
 * it replaces, or those of an ordinary new file. */
static bool give_usual_rights(int file, const char *path) {
    struct stat old;
    if (stat(path, &old) == 0)
        return fchmod(file, old.st_mode & 07777) == 0;
    mode_t mask = umask(0);
    umask(mask);
    return fchmod(file, 0666 & ~mask) == 0;
}

/* Devices, pipes and the like are written to; only files are replaced. */
static int write_through(const char *path, const char *text, int code) {
    FILE *stream = fopen(path, "w");
    if (stream == NULL)
        return cannot("create", path, SW_EXIT_CANNOT_CREATE);
    bool good = fputs(text, stream) >= 0 && sw_close_output(stream);
    if (fclose(stream) != 0 || !good)
        return cannot("write", path, SW_EXIT_CANNOT_WRITE);
    return code;
}

static bool write_all(int file, const char *text) {
    size_t left = strlen(text);
    while (left > 0) {
        ssize_t put = write(file, text, left);
        if (put < 0 && errno != EINTR)
            return false;
        if (put > 0) {
            text += put;
            left -= (size_t)put;
        }
    }
    return true;
}

/* The folder of a file, to be freed. */
static char *folder_of(const char *path) {
    const char *slash = strrchr(path, '/');
    size_t length = slash == NULL || slash == path ? 1 : (size_t)(slash - path);
    char *folder = malloc(length + 1);
    if (folder != NULL) {
        memcpy(folder, slash == NULL ? "." : path, length);
        folder[length] = '\0';
    }
    return folder;
}

/* So that the name is there after a power cut too. Some file systems have no such thing. */
static bool settle_folder(const char *folder) {
    int open_folder = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (open_folder < 0)
        return errno == EACCES;
    bool good = fsync(open_folder) == 0 || errno == EINVAL || errno == ENOTSUP;
    int error = errno;
    close(open_folder);
    errno = error;
    return good;
}

static bool fill(int file, const char *path, const char *text, bool is_private) {
    struct flock lock = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    fcntl(file, F_SETLK, &lock); /* for sweeps that cannot see this process */
    return write_all(file, text) && (is_private || give_usual_rights(file, path)) &&
           fsync(file) == 0;
}

/* A new file beside the old one takes its place only when it is whole. What programs that were
 * ended by force have left there goes first. */
static int replace_file(const char *path, const char *text, bool is_private, int code) {
    char *folder = folder_of(path);
    char *beside = folder == NULL ? NULL : sw_leftover_name(folder, SW_LEFTOVER_SAVE);
    if (beside != NULL)
        sw_sweep_leftovers(folder, SW_LEFTOVER_SAVE);
    int file = beside == NULL ? -1 : mkstemp(beside);
    if (file < 0) {
        code = cannot("create", path, SW_EXIT_CANNOT_CREATE);
    } else {
        bool good = fill(file, path, text, is_private);
        int error = errno;
        if (close(file) != 0 && good) {
            good = false;
            error = errno;
        }
        errno = error;
        bool placed = good && rename(beside, path) == 0;
        if (!placed || !settle_folder(folder))
            code = cannot("write", path, SW_EXIT_CANNOT_WRITE);
        if (!placed)
            unlink(beside);
    }
    free(beside);
    free(folder);
    return code;
}

/* A link is followed, so that it stays a link. */
static int write_file(const char *path, const char *text, bool is_private, int code) {
    struct stat info;
    let_large_writes_fail();
    if (stat(path, &info) != 0)
        return replace_file(path, text, is_private, code);
    if (!S_ISREG(info.st_mode))
        return write_through(path, text, code);
    char *real = realpath(path, NULL);
    if (real == NULL)
        return cannot("write", path, SW_EXIT_CANNOT_WRITE);
    code = replace_file(real, text, is_private, code);
    free(real);
    return code;
}

int sw_write_file(const char *path, const char *text, int code) {
    return write_file(path, text, false, code);
}

int sw_write_private_file(const char *path, const char *text, int code) {
    return write_file(path, text, true, code);
}

int sw_give_out(const sw_words *words, const char *text, int code) {
    if (words->output != NULL && strcmp(words->output, "-") != 0)
        return sw_write_file(words->output, text, code);
    let_large_writes_fail();
    bool good = fputs(text, stdout) >= 0;
    if (!sw_close_output(stdout) || !good)
        return cannot("write to", "standard output", SW_EXIT_CANNOT_WRITE);
    return code;
}

/* Control characters of file names must not reach a terminal. */
static void say_plain(const char *text) {
    for (; *text != '\0'; text++) {
        unsigned char byte = (unsigned char)*text;
        fputc(byte < 0x20 || byte == 0x7F ? '?' : byte, stderr);
    }
}

static void say_sentence(const char *text) {
    size_t length = strlen(text);
    say_plain(text);
    fputs(length > 0 && text[length - 1] == '?' ? "\n" : ".\n", stderr);
}

int sw_say_complaints(const sw_complaints *complaints, sw_status status) {
    static const int codes[] = {[SW_OK] = SW_EXIT_ANSWERED,
                                [SW_BAD_DATA] = SW_EXIT_BAD_DATA,
                                [SW_CANNOT_READ] = SW_EXIT_CANNOT_READ,
                                [SW_CANNOT_WRITE] = SW_EXIT_CANNOT_WRITE,
                                [SW_NO_MEMORY] = SW_EXIT_INTERNAL,
                                [SW_INTERNAL] = SW_EXIT_INTERNAL};
    size_t count = sw_complaints_count(complaints), said = 0;
    if (sw_complaints_lack_memory(complaints))
        status = SW_NO_MEMORY;
    if (status == SW_NO_MEMORY)
        count = 0; /* those that are kept are not all */
    for (const sw_complaint *c; said < count && (c = sw_complaints_get(complaints, said)) != NULL;
         said++) {
        say_plain(strcmp(c->file, "-") == 0 ? "standard input" : c->file);
        say_plain(c->place[0] != '\0' ? ": " : "");
        say_plain(c->place);
        say_plain(": ");
        say_sentence(c->what);
        if (c->why[0] != '\0') {
            say_plain("    Why: ");
            say_sentence(c->why);
        }
        if (c->mend[0] != '\0') {
            say_plain("    To mend it: ");
            say_sentence(c->mend);
        }
    }
    if (count > said)
        fprintf(stderr, "... and %zu more complaints.\n", count - said);
    if (status == SW_NO_MEMORY)
        fprintf(stderr, "swapworth: out of memory.\n");
    return codes[status];
}
