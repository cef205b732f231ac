/* Printing: answers whole or not at all, complaints as sentences. */
#include "face/commands.h"

#include "base/whole_file.h"
#include "read/plain.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

bool sw_close_output(FILE *stream) { return fflush(stream) == 0 && ferror(stream) == 0; }

double sw_steady_seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* Longer texts are cut: five of them are a complaint. */
#define SAID_BYTES 380

void sw_say_plain(const char *text) {
    sw_text said = {0};
    sw_plain_add_most(&said, text, SAID_BYTES);
    if (!said.failed && said.bytes != NULL)
        fputs(said.bytes, stderr);
    sw_text_free(&said);
}

void sw_say_around(const char *before, const char *text, const char *after) {
    fputs(before, stderr);
    sw_say_plain(text);
    fputs(after, stderr);
}

static int cannot(const char *what, const char *path, int code) {
    const char *why = strerror(errno);
    fprintf(stderr, "swapworth: cannot %s ", what);
    sw_say_plain(path);
    fprintf(stderr, ": %s.\n", why);
    return code;
}

/* Past the largest size that files may have a write must fail, so that it can be told and what was
 * begun taken away; by default the system would end the program there. */
static void let_large_writes_fail(void) { signal(SIGXFSZ, SIG_IGN); }

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

static int replace_file(const char *path, const char *text, bool is_private, int code) {
    switch (sw_whole_file_write(&(sw_whole_file){
        .path = path, .bytes = text, .length = strlen(text), .is_private = is_private})) {
    case SW_FILE_WRITTEN:
        return code;
    case SW_FILE_NOT_BEGUN:
        return cannot("create", path, SW_EXIT_CANNOT_CREATE);
    case SW_FILE_NOT_WRITTEN:
        break;
    }
    return cannot("write", path, SW_EXIT_CANNOT_WRITE);
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

/* The folder that the name ends in, as the system knows it. */
static bool folder_of(struct stat *out, const char *path) {
    const char *slash = strrchr(path, '/');
    size_t length = slash == NULL ? 0 : (size_t)(slash - path) + 1;
    char *folder = malloc(length + 2);
    if (folder == NULL)
        return false;
    memcpy(folder, path, length);
    strcpy(folder + length, ".");
    bool known = stat(folder, out) == 0;
    free(folder);
    return known;
}

static const char *last_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash == NULL ? path : slash + 1;
}

bool sw_is_same_file(const char *path, const char *other) {
    struct stat a, b;
    bool is_there = stat(path, &a) == 0;
    if (is_there != (stat(other, &b) == 0))
        return false;
    if (is_there)
        return S_ISREG(a.st_mode) && a.st_dev == b.st_dev && a.st_ino == b.st_ino;
    return strcmp(last_name(path), last_name(other)) == 0 && folder_of(&a, path) &&
           folder_of(&b, other) && a.st_dev == b.st_dev && a.st_ino == b.st_ino;
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

static void say_sentence(const char *text) {
    size_t length = strlen(text);
    sw_say_plain(text);
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
    for (const sw_complaint *c; (c = sw_complaints_get(complaints, said)) != NULL; said++) {
        sw_say_plain(strcmp(c->file, "-") == 0 ? "standard input" : c->file);
        sw_say_plain(c->place[0] != '\0' ? ": " : "");
        sw_say_plain(c->place);
        sw_say_plain(": ");
        say_sentence(c->what);
        if (c->why[0] != '\0') {
            sw_say_plain("    Why: ");
            say_sentence(c->why);
        }
        if (c->mend[0] != '\0') {
            sw_say_plain("    To mend it: ");
            say_sentence(c->mend);
        }
    }
    if (count > said)
        fprintf(stderr, "... and %zu more complaints.\n", count - said);
    if (status == SW_NO_MEMORY)
        fprintf(stderr, "swapworth: out of memory.\n");
    return codes[status];
}
