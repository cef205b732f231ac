/* Names of temporary files by their maker, and the sweep of those whose maker is gone. */
#include "base/leftovers.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#define DEPTH_MOST 8

static const char *const heads[] = {".swapworth-desk-", "swapworth-desk-"};

char *sw_leftover_name(const char *folder, sw_leftover kind) {
    size_t room = strlen(folder) + strlen(heads[kind]) + sizeof "/18446744073709551615-XXXXXX";
    char *name = malloc(room);
    if (name != NULL)
        snprintf(name, room, "%s/%s%lu-XXXXXX", folder, heads[kind], (unsigned long)getpid());
    return name;
}

/* The maker in a name that is made like ours; 0: it is not. */
static long maker_of(const char *name, sw_leftover kind) {
    size_t head = strlen(heads[kind]), digits = 0;
    long maker = 0;
    if (strncmp(name, heads[kind], head) != 0)
        return 0;
    for (name += head; name[digits] >= '0' && name[digits] <= '9' && digits < 9; digits++)
        maker = maker * 10 + (name[digits] - '0');
    name += digits;
    return digits > 0 && name[0] == '-' && strlen(name) == sizeof "-XXXXXX" - 1 ? maker : 0;
}

/* At the start nothing is ours yet: one with our own number is of a process before us. */
static bool is_gone(long maker) {
    return maker == (long)getpid() || (kill((pid_t)maker, 0) != 0 && errno == ESRCH);
}

/* A save holds its file locked: also one whose process cannot be seen from here. */
static bool is_held(int folder, const char *name) {
    int file = openat(folder, name, O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0)
        return false;
    struct flock lock = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    bool held = fcntl(file, F_GETLK, &lock) == 0 && lock.l_type != F_UNLCK;
    close(file);
    return held;
}

int sw_leftover_hold(const char *folder) {
    int file = open(folder, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    if (file >= 0)
        flock(file, LOCK_SH | LOCK_NB);
    return file;
}

static bool is_held_folder(int above, const char *name) {
    int folder = openat(above, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    if (folder < 0)
        return false;
    bool held = flock(folder, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
    close(folder);
    return held;
}

/* A folder with all below it; links are taken away, never followed. */
static void remove_folder(int above, const char *name, int depth) {
    int inside = openat(above, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    DIR *open = inside < 0 ? NULL : fdopendir(inside);
    if (open == NULL) {
        if (inside >= 0)
            close(inside);
        return;
    }
    for (const struct dirent *entry; (entry = readdir(open)) != NULL;) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        if (unlinkat(inside, entry->d_name, 0) != 0 && depth > 0)
            remove_folder(inside, entry->d_name, depth - 1);
    }
    closedir(open);
    unlinkat(above, name, AT_REMOVEDIR);
}

static void sweep_one(int folder, const char *name, sw_leftover kind) {
    struct stat about;
    long maker = maker_of(name, kind);
    if (maker == 0 || fstatat(folder, name, &about, AT_SYMLINK_NOFOLLOW) != 0 ||
        about.st_uid != geteuid() || !is_gone(maker))
        return;
    if (kind == SW_LEFTOVER_SAVE && S_ISREG(about.st_mode) && !is_held(folder, name))
        unlinkat(folder, name, 0);
    if (kind == SW_LEFTOVER_FOLDER && S_ISDIR(about.st_mode) && !is_held_folder(folder, name))
        remove_folder(folder, name, DEPTH_MOST);
}

void sw_sweep_leftovers(const char *folder, sw_leftover kind) {
    DIR *open = opendir(folder);
    if (open == NULL)
        return;
    for (const struct dirent *entry; (entry = readdir(open)) != NULL;)
        sweep_one(dirfd(open), entry->d_name, kind);
    closedir(open);
}
