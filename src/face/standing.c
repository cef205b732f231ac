/* Which catalog is used where none is named. */
#include "face/commands.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define HERE "catalog"
#define INSTALLED "/../share/swapworth/catalog"

static bool is_folder(const char *path) {
    struct stat info;
    return stat(path, &info) == 0 && S_ISDIR(info.st_mode);
}

/* The program's own file, links followed: so an installed tree may be moved. NULL: not known. */
static char *own_path(void) {
    for (size_t room = 256; room <= 65536; room *= 2) {
        char *path = malloc(room + sizeof INSTALLED);
        ssize_t length = path == NULL ? -1 : readlink("/proc/self/exe", path, room);
        if (length >= 0 && (size_t)length < room) {
            path[length] = '\0';
            return path;
        }
        free(path);
        if (length < 0)
            return NULL;
    }
    return NULL;
}

char *sw_standing_catalog(void) {
    if (is_folder(HERE))
        return strdup(HERE);
    char *path = own_path(), *slash = path == NULL ? NULL : strrchr(path, '/');
    if (slash != NULL)
        memcpy(slash, INSTALLED, sizeof INSTALLED);
    char *real = slash != NULL && is_folder(path) ? realpath(path, NULL) : NULL;
    free(path);
    return real != NULL ? real : strdup(HERE);
}
