/* The small catalog in a folder, and one of its files as the fuzzer has it. */
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "../unit/shelf_files.h"
#include "check/scenario.h"
#include "fuzz.h"
#include "read/json_text.h"

#define FILES (sizeof shelf_files / sizeof *shelf_files)

static char folder[] = "/tmp/swapworth-fuzz-XXXXXX";
static bool made;

static int take_away(const char *path, const struct stat *about, int what, struct FTW *where) {
    (void)about;
    (void)what;
    (void)where;
    return remove(path);
}

static void clean(void) { nftw(folder, take_away, 8, FTW_DEPTH | FTW_PHYS); }

char *fuzz_path(const char *name) {
    size_t length = strlen(fuzz_folder()) + strlen(name) + 2;
    char *path = malloc(length);
    if (path == NULL)
        abort();
    snprintf(path, length, "%s/%s", folder, name);
    return path;
}

void fuzz_write(const char *name, const char *bytes, size_t length) {
    char *path = fuzz_path(name);
    FILE *file = fopen(path, "wb");
    bool good = file != NULL && fwrite(bytes, 1, length, file) == length;
    if (file == NULL || fclose(file) != 0 || !good) {
        perror(path);
        exit(70);
    }
    free(path);
}

void fuzz_restore(const char *name) {
    for (size_t i = 0; i < FILES; i++)
        if (strcmp(shelf_files[i].name, name) == 0)
            fuzz_write(name, shelf_files[i].text, strlen(shelf_files[i].text));
}

static void make_folder(const char *name) {
    char *path = fuzz_path(name);
    if (mkdir(path, 0700) != 0)
        exit(70);
    free(path);
}

const char *fuzz_folder(void) {
    if (made)
        return folder;
    made = true;
    if (mkdtemp(folder) == NULL)
        exit(70);
    atexit(clean);
    make_folder("catalog");
    make_folder("catalog/parts");
    make_folder("catalog/profiles");
    make_folder("jobs");
    for (size_t i = 0; i < FILES; i++)
        fuzz_write(shelf_files[i].name, shelf_files[i].text, strlen(shelf_files[i].text));
    return folder;
}

/* ---- one file of it ------------------------------------------------------------------------- */

static sw_status read_job(sw_complaints *complaints) {
    sw_scenario *scenario = NULL;
    char *path = fuzz_path("jobs/job.json");
    sw_status status = sw_scenario_read(&scenario, path, NULL, complaints);
#ifdef FUZZ_FAULT
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) >= 2)
        status = SW_OK;
#endif
    fuzz_complaints(status, complaints);
    sw_scenario_free(scenario);
    free(path);
    return status;
}

/* What is JSON, written anew in another layout, says the same. */
static void read_anew(const char *name, const char *bytes, size_t length, sw_status status,
                      const sw_complaints *before) {
    sw_arena *arena = sw_arena_new();
    const sw_json *json = NULL;
    char *text = NULL;
    if (sw_json_read(&json, arena, name, bytes, length, NULL) == SW_OK) {
        fuzz_hold(sw_sketch_write(&text, sw_sketch_of(arena, json)) == SW_OK, "not written anew");
        fuzz_write(name, text, strlen(text));
        sw_complaints *after = sw_complaints_new();
        fuzz_hold(read_job(after) == status && fuzz_same_complaints(before, after),
                  "another layout says something else");
        sw_complaints_free(after);
    }
    free(text);
    sw_arena_free(arena);
}

void fuzz_shelf_file(const uint8_t *data, size_t size, const char *const *names, size_t count) {
    char *text = fuzz_text(data, size);
    char *bytes = fuzz_rest(text);
    const char *name = NULL;
    for (size_t i = 0; i < count && bytes != NULL; i++)
        name = strcmp(names[i], text) == 0 ? names[i] : name;
    if (name != NULL) {
        fuzz_folder();
        size_t length = size - (size_t)(bytes - text);
        sw_complaints *complaints = sw_complaints_new();
        fuzz_write(name, bytes, length);
        sw_status status = read_job(complaints);
        read_anew(name, bytes, length, status, complaints);
        fuzz_restore(name);
        sw_complaints_free(complaints);
    }
    free(text);
}
