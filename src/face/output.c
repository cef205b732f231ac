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
    else /* no memory: what is surely plain, letter by letter */
        for (size_t i = 0; i < SAID_BYTES && text[i] != '\0'; i++)
            fputc(text[i] >= ' ' && text[i] <= '~' ? text[i] : '?', stderr);
    sw_text_free(&said);
}

void sw_say_around(const char *before, const char *text, const char *after) {
    fputs(before, stderr);
    sw_say_plain(text);
    fputs(after, stderr);
}

static int cannot(const char *what, const char *path, int code) {
    if (errno == ENOMEM)
        return sw_say_complaints(NULL, SW_NO_MEMORY);
    const char *why = strerror(errno);
    fprintf(stderr, "swapworth: cannot %s ", what);
    sw_say_plain(path);
    fprintf(stderr, ": %s.\n", why);
    return code;
}

int sw_end_output(int code) {
    return sw_close_output(stdout) ? code
                                   : cannot("write to", "standard output", SW_EXIT_CANNOT_WRITE);
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

int sw_give_out(const sw_words *words, const char *text, int code) {
    if (words->output != NULL && strcmp(words->output, "-") != 0)
        return sw_write_file(words->output, text, code);
    let_large_writes_fail();
    bool good = fputs(text, stdout) >= 0;
    return good ? sw_end_output(code) : cannot("write to", "standard output", SW_EXIT_CANNOT_WRITE);
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
    if (sw_complaints_lack_memory(complaints))
        status = SW_NO_MEMORY;
    if (status == SW_NO_MEMORY)
        count = 0; /* those that are kept are not all */
    for (const sw_complaint *c; said < count && (c = sw_complaints_get(complaints, said)) != NULL;
         said++) {
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
