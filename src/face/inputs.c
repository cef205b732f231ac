/* Which files a job reads beside its scenario: those of its catalog. Nothing may be written over
 * them. */
#include "face/commands.h"

#include "check/scenario.h"
#include "read/bytes.h"
#include "read/folders.h"
#include "read/json.h"

#include <string.h>
#include <sys/stat.h>

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
    return sw_path_changes_folder(folder, words->output) ||
           sw_path_changes_folder(folder, words->svg) ||
           sw_path_changes_folder(folder, words->record);
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
