/* Whether a file that is to be written belongs to a folder, and what a folder is called elsewhere.
 */
#include "read/folders.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static bool is_same(const struct stat *a, const struct stat *b) {
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* `folder` with `name` behind it, to be freed; NULL when memory is out. */
static char *join(const char *folder, const char *name) {
    size_t length = strlen(folder), room = length + strlen(name) + 2;
    char *path = malloc(room);
    if (path != NULL)
        snprintf(path, room, "%s/%s", folder, name);
    return path;
}

/* Does a name in `folder` stand for that file, by a link or its own? */
static bool holds(const char *folder, const struct stat *file, bool *no_memory) {
    DIR *open = opendir(folder);
    bool found = false;
    if (open == NULL) {
        *no_memory |= errno == ENOMEM;
        return false;
    }
    for (const struct dirent *entry; !found && (entry = readdir(open)) != NULL;) {
        struct stat about;
        char *path = join(folder, entry->d_name);
        found = path != NULL && stat(path, &about) == 0 && is_same(&about, file);
        *no_memory |= path == NULL;
        free(path);
    }
    closedir(open);
    return found;
}

/* The folder that `path` ends in, without links, to be freed; NULL where there is none. */
static char *real_folder_of(const char *path, bool *no_memory) {
    char *copy = join(path[0] == '/' ? "" : ".", path);
    if (copy == NULL) {
        *no_memory = true;
        return NULL;
    }
    *strrchr(copy, '/') = '\0';
    char *real = realpath(copy[0] == '\0' ? "/" : copy, NULL);
    *no_memory |= real == NULL && errno == ENOMEM;
    free(copy);
    return real;
}

/* Is `path` somewhere below the folder? */
static bool lies_below(const char *path, const struct stat *folder, bool *no_memory) {
    char *above = real_folder_of(path, no_memory);
    struct stat about;
    bool found = false;
    while (above != NULL && !found) {
        found = stat(above[0] == '\0' ? "/" : above, &about) == 0 && is_same(&about, folder);
        if (above[0] == '\0')
            break;
        *strrchr(above, '/') = '\0';
    }
    free(above);
    return found;
}

bool sw_path_changes_folder(const char *folder, const char *path, bool *no_memory) {
    struct stat about, file;
    if (path == NULL || stat(folder, &about) != 0)
        return false;
    bool is_there = stat(path, &file) == 0;
    if (is_there && !S_ISREG(file.st_mode))
        return false;
    if (lies_below(path, &about, no_memory))
        return true;
    char *parts = is_there ? join(folder, "parts") : NULL;
    *no_memory |= is_there && parts == NULL;
    bool found = is_there && (holds(folder, &file, no_memory) ||
                              (parts != NULL && holds(parts, &file, no_memory)));
    free(parts);
    return found;
}

/* ---- as another file names it ------------------------------------------------------------------
 */

/* `to` as seen from the folder `from`, both without links; to be freed. Where they share nothing
 * but the root: `to` itself. */
static char *seen_from(const char *from, const char *to) {
    size_t same = 0, up = 0;
    for (size_t i = 0;; i++) {
        bool ends_from = from[i] == '\0' || from[i] == '/', ends_to = to[i] == '\0' || to[i] == '/';
        if (ends_from && ends_to)
            same = i;
        if (from[i] != to[i] || from[i] == '\0')
            break;
    }
    if (same == 0)
        return strdup(to);
    for (const char *at = from + same; *at != '\0'; at++)
        up += *at == '/' && at[1] != '\0';
    const char *rest = to[same] == '/' ? to + same + 1 : to + same;
    size_t length = strlen(rest);
    if (up == 0 && length == 0)
        return strdup(".");
    char *path = malloc(3 * up + length + 1);
    if (path == NULL)
        return NULL;
    for (size_t i = 0; i < up; i++)
        memcpy(path + 3 * i, "../", 3);
    memcpy(path + 3 * up, rest, length + 1);
    if (length == 0)
        path[3 * up - 1] = '\0';
    return path;
}

char *sw_folder_seen_from(const char *folder, const char *path) {
    bool no_memory = false;
    char *to = realpath(folder, NULL);
    no_memory = to == NULL && errno == ENOMEM;
    char *from = path == NULL || strcmp(path, "-") == 0 ? NULL : real_folder_of(path, &no_memory);
    char *named = no_memory                    ? NULL
                  : to == NULL || from == NULL ? strdup(folder)
                                               : seen_from(from, to);
    free(to);
    free(from);
    return named;
}
