/* Paths to files, files to statements. */
#include "intake/dumps.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "read/bytes.h"

typedef struct work {
    sw_dumps *out;
    sw_arena *arena;
    sw_dumps_file *files;
    const char **names;
    size_t count, room, name_room;
    sw_complaints *faults, *complaints;
} work;

/* ---- which files --------------------------------------------------------------------------- */

static sw_status too_many(work *in, const char *path) {
    sw_complain(in->complaints, path, "", "at most 1,000 dumps of one machine are read",
                "give the folder of one machine", "holds too many files");
    return SW_BAD_DATA;
}

static sw_status cannot(work *in, const char *path, const char *why, const char *mend) {
    sw_complain(in->complaints, path, "", why, mend, "cannot be read");
    return SW_CANNOT_READ;
}

static sw_status add_file(work *in, const char *path) {
    const char *slash = strrchr(path, '/');
    if (in->count == SW_DUMPS_LIMIT)
        return too_many(in, path);
    if (!SW_GROW(in->files, in->room, in->count) || !SW_GROW(in->names, in->name_room, in->count))
        return SW_NO_MEMORY;
    sw_dumps_file file = {.path = sw_arena_copy(in->arena, path)};
    const char *last = slash == NULL ? path : slash + 1;
    const char *clean = sw_statement_clean(&in->out->statements, last, strlen(last));
    file.name = sw_statement_key_apart(&in->out->statements, clean == NULL ? "file" : clean,
                                       in->names, in->count);
    if (file.path == NULL || file.name == NULL)
        return SW_NO_MEMORY;
    file.name = sw_arena_copy(in->arena, file.name);
    in->files[in->count] = file;
    in->names[in->count++] = file.name;
    return file.name == NULL ? SW_NO_MEMORY : SW_OK;
}

static sw_status add_folder(work *in, const char *folder) {
    const char *const *names = NULL;
    size_t count = 0, length = strlen(folder);
    sw_status status = sw_folder_list(&names, &count, in->arena, folder, "", in->complaints);
    const char *slash = length > 0 && folder[length - 1] == '/' ? "" : "/";
    size_t others = 0;
    if (status == SW_OK)
        status = sw_folder_others(&others, in->arena, folder);
    if (status == SW_OK && others > 0)
        sw_complain(in->faults, folder, "", "a folder's own files are read, and nothing below it",
                    "give a folder below it by its name too, where it holds dumps",
                    "holds %zu thing%s that %s no file", others, others == 1 ? "" : "s",
                    others == 1 ? "is" : "are");
    for (size_t i = 0; i < count && status == SW_OK; i++) {
        const char *path = sw_arena_format(in->arena, "%s%s%s", folder, slash, names[i]);
        status = path == NULL ? SW_NO_MEMORY : add_file(in, path);
    }
    return status;
}

/* Pipes and devices are not opened: they could let us wait for ever. */
static sw_status add_path(work *in, const char *path) {
    struct stat about;
    char room[SW_ERROR_ROOM];
    if (stat(path, &about) != 0)
        return cannot(in, path, sw_error_words(room, errno),
                      "check the path, or put the file there");
    if (S_ISDIR(about.st_mode))
        return add_folder(in, path);
    if (!S_ISREG(about.st_mode))
        return cannot(in, path, "it is neither a file nor a folder",
                      "write the dump into a file first, and give that");
    return add_file(in, path);
}

/* ---- reading ------------------------------------------------------------------------------- */

static sw_status read_one(work *in, sw_dumps_file *file) {
    sw_arena *held = sw_arena_new(); /* the file's bytes, which go when it is done */
    const char *bytes = NULL;
    size_t length = 0, before = in->out->statements.count;
    if (held == NULL)
        return SW_NO_MEMORY;
    /* Too large or not to be read: that is told as a fault, and the others are read. */
    sw_status status = sw_bytes_read(&bytes, &length, held, file->path, in->faults);
    if (status == SW_OK)
        status =
            sw_dump_tell(&file->kind, &in->out->statements, file->name, bytes, length, in->faults);
    else if (status != SW_NO_MEMORY)
        status = SW_OK;
    file->statements = in->out->statements.count - before;
    sw_arena_free(held);
    return status;
}

static sw_status read_all(work *in, const char *const *paths, size_t count) {
    sw_status status = SW_OK;
    for (size_t i = 0; i < count && status == SW_OK; i++)
        status = add_path(in, paths[i]);
    for (size_t i = 0; i < in->count && status == SW_OK; i++)
        status = read_one(in, &in->files[i]);
    if (status == SW_OK)
        status = sw_statements_end(&in->out->statements, in->complaints);
    if (status != SW_OK)
        return status;
    sw_dumps_file *kept = SW_NEW(in->arena, sw_dumps_file, in->count);
    if (kept == NULL)
        return SW_NO_MEMORY;
    if (in->count > 0)
        memcpy(kept, in->files, in->count * sizeof *kept);
    in->out->files = kept;
    in->out->count = in->count;
    return SW_OK;
}

sw_status sw_dumps_read(sw_dumps *out, sw_arena *arena, const char *const *paths, size_t count,
                        sw_complaints *faults, sw_complaints *complaints) {
    sw_dumps made = {0};
    work in = {.out = &made, .arena = arena, .faults = faults, .complaints = complaints};
    sw_statements_begin(&made.statements, arena);
    sw_status status = read_all(&in, paths, count);
    free(in.files);
    free(in.names);
    if (status == SW_OK)
        *out = made;
    return status;
}
