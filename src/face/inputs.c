/* Which files a job reads beside its scenario: those of its catalog. Nothing may be written over
 * them. */
#include "face/commands.h"

#include "check/scenario.h"
#include "read/bytes.h"
#include "read/folders.h"
#include "read/json.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* Of the process, which runs one command. */
static bool lacked_memory;

bool sw_looks_lacked_memory(void) { return lacked_memory; }

bool sw_yes_without_memory(void) {
    lacked_memory = true;
    return true;
}

/* ---- the catalog of a job ----------------------------------------------------------------- */

/* The file at `path` as a tree; NULL: it holds none. Only files can be read a second time. */
static sw_status read_again(const sw_json **out, sw_arena *arena, const char *path) {
    struct stat about;
    const char *bytes = NULL;
    size_t length = 0;
    *out = NULL;
    if (stat(path, &about) != 0 || !S_ISREG(about.st_mode))
        return SW_OK;
    sw_complaints *unheard = sw_complaints_new();
    sw_status status =
        unheard == NULL ? SW_NO_MEMORY : sw_bytes_read(&bytes, &length, arena, path, unheard);
    if (status == SW_OK)
        status = sw_json_read(out, arena, path, bytes, length, unheard);
    sw_complaints_free(unheard);
    if (status != SW_OK)
        *out = NULL;
    return status == SW_NO_MEMORY ? status : SW_OK;
}

/* As the scenario at `path` names it; NULL: not known. */
static sw_status named_catalog(const char **out, sw_arena *arena, const char *path) {
    const char *slash = strrchr(path, '/');
    const sw_json *root = NULL;
    sw_status status = read_again(&root, arena, path);
    const sw_json *named = root == NULL ? NULL : sw_json_get(root, "catalog");
    *out = NULL;
    if (status != SW_OK || named == NULL || named->kind != SW_JSON_TEXT)
        return status;
    *out = named->text[0] == '/' || slash == NULL
               ? named->text
               : sw_arena_format(arena, "%.*s/%s", (int)(slash - path), path, named->text);
    return *out == NULL ? SW_NO_MEMORY : SW_OK;
}

bool sw_would_change_folder(const sw_words *words, const char *folder) {
    bool no_memory = false;
    bool would = sw_path_changes_folder(folder, words->output, &no_memory) ||
                 sw_path_changes_folder(folder, words->svg, &no_memory) ||
                 sw_path_changes_folder(folder, words->record, &no_memory);
    return no_memory ? sw_yes_without_memory() : would;
}

bool sw_would_change_catalog(const sw_words *words, const char *path, const sw_scenario *scenario) {
    if (words->output == NULL && words->svg == NULL && words->record == NULL)
        return false;
    if ((scenario != NULL && sw_would_change_folder(words, scenario->catalog->folder)) ||
        (words->catalog != NULL && sw_would_change_folder(words, words->catalog)))
        return true;
    /* The one that it names, even where it was not read: another was asked for, or it is faulty. */
    sw_arena *arena = sw_arena_new();
    const char *folder = NULL;
    sw_status status = arena == NULL ? SW_NO_MEMORY : named_catalog(&folder, arena, path);
    bool would = folder != NULL && sw_would_change_folder(words, folder);
    sw_arena_free(arena);
    return status == SW_OK ? would : sw_yes_without_memory();
}

bool sw_has_wishes(const char *path) {
    sw_arena *arena = sw_arena_new();
    const sw_json *root = NULL;
    sw_status status = arena == NULL ? SW_NO_MEMORY : read_again(&root, arena, path);
    bool has = root != NULL && sw_json_get(root, "wishes") != NULL;
    sw_arena_free(arena);
    return status == SW_OK ? has : sw_yes_without_memory();
}

/* ---- two names of one file --------------------------------------------------------------------
 */

/* The folder that the name ends in, as the system knows it. */
static sw_status folder_of(struct stat *out, bool *known, const char *path) {
    const char *slash = strrchr(path, '/');
    size_t length = slash == NULL ? 0 : (size_t)(slash - path) + 1;
    char *folder = malloc(length + 2);
    if (folder == NULL)
        return SW_NO_MEMORY;
    memcpy(folder, path, length);
    memcpy(folder + length, ".", sizeof ".");
    *known = stat(folder, out) == 0;
    free(folder);
    return SW_OK;
}

static const char *last_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash == NULL ? path : slash + 1;
}

bool sw_is_same_file(const char *path, const char *other) {
    struct stat a, b;
    bool is_there = stat(path, &a) == 0, is_known = false, other_is_known = false;
    if (is_there != (stat(other, &b) == 0))
        return false;
    if (is_there)
        return S_ISREG(a.st_mode) && a.st_dev == b.st_dev && a.st_ino == b.st_ino;
    if (strcmp(last_name(path), last_name(other)) != 0)
        return false;
    if (folder_of(&a, &is_known, path) != SW_OK || folder_of(&b, &other_is_known, other) != SW_OK)
        return sw_yes_without_memory();
    return is_known && other_is_known && a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}
