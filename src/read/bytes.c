/* Files and standard input as bytes, and the names in a folder. */
#include "read/bytes.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define BLOCK_BYTES ((size_t)64 * 1024)
#define NAMES_LIMIT 10000
/* A named pipe: so often it is asked whether anybody writes into it, 20 ms apart. */
#define PIPE_TRIES 150

static sw_status cannot_read(const char *path, int error, sw_complaints *complaints) {
    if (error == ENOMEM)
        return SW_NO_MEMORY;
    const char *mend = error == ENOENT ? "check the path, or put the file there"
                                       : "check that it is a file that you may read";
    char room[SW_ERROR_ROOM];
    const char *why =
        error == EPIPE ? "it is a pipe, and nobody writes into it" : sw_error_words(room, error);
    sw_complain(complaints, path, "", why, mend, "cannot be read");
    return SW_CANNOT_READ;
}

static sw_status too_large(const char *path, sw_complaints *complaints) {
    sw_complain(complaints, path, "", "files of at most 20 MiB are read",
                "split it, or check that it is the file that was meant", "is too large");
    return SW_BAD_DATA;
}

/* A file that says how large it is need not be read to be refused; what grows meanwhile, or does
 * not say, is stopped at the limit. */
static bool says_too_large(FILE *file) {
    struct stat about;
    return fstat(fileno(file), &about) == 0 && S_ISREG(about.st_mode) &&
           about.st_size > (off_t)SW_FILE_LIMIT;
}

static sw_status read_all(sw_text *out, FILE *file, const char *path, sw_complaints *complaints) {
    char block[BLOCK_BYTES];
    if (says_too_large(file))
        return too_large(path, complaints);
    for (;;) {
        errno = 0;
        size_t got = fread(block, 1, sizeof block, file);
        sw_text_add_bytes(out, block, got);
        if (out->failed)
            return SW_NO_MEMORY;
        if (out->length > SW_FILE_LIMIT)
            return too_large(path, complaints);
        if (ferror(file))
            return cannot_read(path, errno != 0 ? errno : EIO, complaints);
        if (got < sizeof block && feof(file))
            return SW_OK;
    }
}

/* Nobody may ever write into a named pipe, and opening it would wait for ever. A writer that is
 * there may take its time. */
static bool somebody_writes(int pipe, sw_text *begun) {
    for (int tries = 0; tries < PIPE_TRIES; tries++) {
        char byte;
        ssize_t got = read(pipe, &byte, 1);
        if (got > 0)
            sw_text_add_bytes(begun, &byte, 1);
        if (got != 0)
            return true;
        nanosleep(&(struct timespec){.tv_nsec = 20000000}, NULL);
    }
    return false;
}

static FILE *open_named(const char *path, sw_text *begun) {
    struct stat about;
    int file = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
    if (file < 0)
        return NULL;
    bool is_pipe = fstat(file, &about) == 0 && S_ISFIFO(about.st_mode);
    if (is_pipe && !somebody_writes(file, begun)) {
        close(file);
        errno = EPIPE;
        return NULL;
    }
    int flags = fcntl(file, F_GETFL);
    FILE *stream =
        flags >= 0 && fcntl(file, F_SETFL, flags & ~O_NONBLOCK) == 0 ? fdopen(file, "rb") : NULL;
    if (stream == NULL) {
        int error = errno;
        close(file);
        errno = error;
    }
    return stream;
}

sw_status sw_bytes_read(const char **out, size_t *length, sw_arena *arena, const char *path,
                        sw_complaints *complaints) {
    bool from_input = strcmp(path, "-") == 0;
    sw_text text = {0};
    FILE *file = from_input ? stdin : open_named(path, &text);
    if (file == NULL) {
        int error = errno;
        sw_text_free(&text);
        return cannot_read(path, error, complaints);
    }
    sw_status status = read_all(&text, file, path, complaints);
    if (!from_input)
        fclose(file);
    if (status == SW_OK) {
        const char *bytes = sw_arena_text(arena, text.bytes, text.length);
        if (bytes == NULL) {
            status = SW_NO_MEMORY;
        } else {
            *out = bytes;
            *length = text.length;
        }
    }
    sw_text_free(&text);
    return status;
}

/* ---- folders ------------------------------------------------------------------ */

static int by_text(const void *left, const void *right) {
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

static bool is_wanted(const char *folder, const char *name, const char *suffix, sw_arena *arena,
                      bool *no_memory) {
    size_t length = strlen(name), tail = strlen(suffix);
    if (name[0] == '.' || length < tail || strcmp(name + length - tail, suffix) != 0)
        return false;
    const char *path = sw_arena_format(arena, "%s/%s", folder, name);
    struct stat about;
    *no_memory = path == NULL;
    return path != NULL && stat(path, &about) == 0 && S_ISREG(about.st_mode);
}

typedef struct name_list {
    const char **names;
    size_t room, count;
} name_list;

static sw_status list_names(name_list *list, sw_arena *arena, DIR *open, const char *folder,
                            const char *suffix) {
    for (struct dirent *entry = readdir(open); entry != NULL; entry = readdir(open)) {
        bool no_memory = false;
        if (!is_wanted(folder, entry->d_name, suffix, arena, &no_memory) && !no_memory)
            continue;
        const char *name = no_memory ? NULL : sw_arena_copy(arena, entry->d_name);
        if (name == NULL || !SW_GROW(list->names, list->room, list->count))
            return SW_NO_MEMORY;
        list->names[list->count++] = name;
        if (list->count > NAMES_LIMIT)
            return SW_BAD_DATA;
    }
    return SW_OK;
}

sw_status sw_folder_list(const char *const **out, size_t *count, sw_arena *arena,
                         const char *folder, const char *suffix, sw_complaints *complaints) {
    DIR *open = opendir(folder);
    if (open == NULL)
        return cannot_read(folder, errno, complaints);
    name_list list = {0};
    sw_status status = list_names(&list, arena, open, folder, suffix);
    closedir(open);
    if (status == SW_BAD_DATA)
        sw_complain(complaints, folder, "", "at most 10,000 files of one folder are read",
                    "put more parts into each file", "holds too many files");
    const char **kept = status == SW_OK ? SW_NEW(arena, const char *, list.count) : NULL;
    if (status == SW_OK && kept == NULL)
        status = SW_NO_MEMORY;
    if (status == SW_OK) {
        if (list.count > 0) {
            memcpy(kept, list.names, list.count * sizeof *kept);
            qsort(kept, list.count, sizeof *kept, by_text);
        }
        *out = kept;
        *count = list.count;
    }
    free(list.names);
    return status;
}

sw_status sw_folder_others(size_t *out, sw_arena *arena, const char *folder) {
    DIR *open = opendir(folder);
    bool no_memory = false;
    *out = 0;
    if (open == NULL)
        return SW_OK;
    for (struct dirent *entry = readdir(open); entry != NULL && !no_memory; entry = readdir(open))
        if (entry->d_name[0] != '.' && !is_wanted(folder, entry->d_name, "", arena, &no_memory))
            (*out)++;
    closedir(open);
    return no_memory ? SW_NO_MEMORY : SW_OK;
}
