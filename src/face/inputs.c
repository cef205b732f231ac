/* Which files a job reads beside its scenario: those of its catalog. Nothing may be written over
 * them. */
#include "face/commands.h"

#include "check/scenario.h"
#include "read/bytes.h"
#include "read/json.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* ---- is it one of the folder's? ---------------------------------------------------------- */

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
static bool holds(const char *folder, const struct stat *file) {
    DIR *open = opendir(folder);
    bool found = false;
    if (open == NULL)
        return false;
    for (const struct dirent *entry; !found && (entry = readdir(open)) != NULL;) {
        struct stat about;
        char *path = join(folder, entry->d_name);
        found = path != NULL && stat(path, &about) == 0 && is_same(&about, file);
        free(path);
    }
    closedir(open);
    return found;
}

/* The folder that `path` ends in, without links, to be freed; NULL where there is none. */
static char *real_folder_of(const char *path) {
    char *copy = join(path[0] == '/' ? "" : ".", path);
    if (copy == NULL)
        return NULL;
    *strrchr(copy, '/') = '\0';
    char *real = realpath(copy[0] == '\0' ? "/" : copy, NULL);
    free(copy);
    return real;
}

/* Is `path` somewhere below the folder? */
static bool lies_below(const char *path, const struct stat *folder) {
    char *above = real_folder_of(path);
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

/* Would writing to `path` change what the folder holds? Devices and pipes are no part of it. */
static bool would_change(const char *folder, const char *path) {
    struct stat about, file;
    if (path == NULL || stat(folder, &about) != 0)
        return false;
    bool is_there = stat(path, &file) == 0;
    if (is_there && !S_ISREG(file.st_mode))
        return false;
    if (lies_below(path, &about))
        return true;
    char *parts = is_there ? join(folder, "parts") : NULL;
    bool found = is_there && (holds(folder, &file) || (parts != NULL && holds(parts, &file)));
    free(parts);
    return found;
}

/* ---- the catalog of a job ----------------------------------------------------------------- */

/* As the scenario at `path` names it; NULL: not known. Only files can be read a second time. */
static const char *named_catalog(sw_arena *arena, const char *path) {
    struct stat about;
    sw_complaints *unheard = sw_complaints_new();
    const char *bytes = NULL, *slash = strrchr(path, '/');
    size_t length = 0;
    const sw_json *root = NULL, *named = NULL;
    if (unheard != NULL && stat(path, &about) == 0 && S_ISREG(about.st_mode) &&
        sw_bytes_read(&bytes, &length, arena, path, unheard) == SW_OK &&
        sw_json_read(&root, arena, path, bytes, length, unheard) == SW_OK)
        named = sw_json_get(root, "catalog");
    sw_complaints_free(unheard);
    if (named == NULL || named->kind != SW_JSON_TEXT)
        return NULL;
    return named->text[0] == '/' || slash == NULL
               ? named->text
               : sw_arena_format(arena, "%.*s/%s", (int)(slash - path), path, named->text);
}

bool sw_would_change_folder(const sw_words *words, const char *folder) {
    return would_change(folder, words->output) || would_change(folder, words->svg) ||
           would_change(folder, words->record);
}

bool sw_would_change_catalog(const sw_words *words, const char *path, const sw_scenario *scenario) {
    if (words->output == NULL && words->svg == NULL && words->record == NULL)
        return false;
    if ((scenario != NULL && sw_would_change_folder(words, scenario->catalog->folder)) ||
        (words->catalog != NULL && sw_would_change_folder(words, words->catalog)))
        return true;
    /* The one that it names, even where it was not read: another was asked for, or it is faulty. */
    sw_arena *arena = sw_arena_new();
    const char *folder = arena == NULL ? NULL : named_catalog(arena, path);
    bool would = folder != NULL && sw_would_change_folder(words, folder);
    sw_arena_free(arena);
    return would;
}

bool sw_has_wishes(const char *path) {
    struct stat about;
    sw_arena *arena = sw_arena_new();
    sw_complaints *unheard = sw_complaints_new();
    const char *bytes = NULL;
    size_t length = 0;
    const sw_json *root = NULL;
    bool has = arena != NULL && unheard != NULL && stat(path, &about) == 0 &&
               S_ISREG(about.st_mode) &&
               sw_bytes_read(&bytes, &length, arena, path, unheard) == SW_OK &&
               sw_json_read(&root, arena, path, bytes, length, unheard) == SW_OK &&
               sw_json_get(root, "wishes") != NULL;
    sw_complaints_free(unheard);
    sw_arena_free(arena);
    return has;
}
