/* A file beside its place, settled, put there, and the folder settled. */
#include "base/leftovers.h"
#include "base/whole_file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

bool sw_bytes_write(int file, const char *bytes, size_t length) {
    while (length > 0) {
        ssize_t wrote = write(file, bytes, length);
        if (wrote < 0 && errno == EINTR)
            continue;
        if (wrote <= 0)
            return false;
        bytes += wrote;
        length -= (size_t)wrote;
    }
    return true;
}

/* mkstemp makes files for their owner alone: a file gets the rights of the one that it takes the
 * place of, or those of an ordinary new file. */
static bool give_rights(int file, const char *path) {
    struct stat old;
    if (stat(path, &old) == 0)
        return fchmod(file, old.st_mode & 07777) == 0;
    mode_t mask = umask(0);
    umask(mask);
    return fchmod(file, 0666 & ~mask) == 0;
}

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

/* Some file systems have no such thing, and a folder may be written to that may not be read. */
static bool settle_folder(const char *folder) {
    int open_folder = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (open_folder < 0)
        return errno == EACCES;
    bool good = fsync(open_folder) == 0 || errno == EINVAL || errno == ENOTSUP;
    int why = errno;
    close(open_folder);
    errno = why;
    return good;
}

/* Sweeps of left-over files that cannot see this process see that the file is held. */
static void hold(int file) {
    struct flock lock = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    fcntl(file, F_SETLK, &lock);
}

static bool put(const sw_whole_file *whole, const char *beside) {
    return whole->put != NULL ? whole->put(whole->context, beside)
                              : rename(beside, whole->path) == 0;
}

static sw_file_end write_beside(const sw_whole_file *whole, char *beside, const char *folder) {
    int file = mkstemp(beside);
    if (file < 0)
        return SW_FILE_NOT_BEGUN;
    hold(file);
    bool good = sw_bytes_write(file, whole->bytes, whole->length) &&
                (whole->is_private || give_rights(file, whole->path)) && fsync(file) == 0 &&
                put(whole, beside);
    int why = errno;
    if (close(file) != 0 && good) {
        good = false;
        why = errno;
    }
    if (!good) {
        unlink(beside);
        errno = why;
        return SW_FILE_NOT_WRITTEN;
    }
    return settle_folder(folder) ? SW_FILE_WRITTEN : SW_FILE_NOT_WRITTEN;
}

sw_file_end sw_whole_file_write(const sw_whole_file *whole) {
    char *folder = folder_of(whole->path);
    char *beside = folder == NULL ? NULL : sw_leftover_name(folder, SW_LEFTOVER_SAVE);
    sw_file_end end = SW_FILE_NOT_BEGUN;
    if (beside != NULL) {
        sw_sweep_leftovers(folder, SW_LEFTOVER_SAVE);
        end = write_beside(whole, beside, folder);
    } else {
        errno = ENOMEM;
    }
    int why = errno;
    free(beside);
    free(folder);
    errno = why;
    return end;
}
