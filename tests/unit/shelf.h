/* A small catalog and a job on it, in a temporary folder. Tests change one place
 * of one file and look at what is said about it. */
#ifndef SHELF_H
#define SHELF_H

#include <criterion/criterion.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "check/scenario.h"
#include "shelf_files.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

typedef struct shelf {
    char folder[64], catalog[80], job[80];
    sw_complaints *complaints;
    sw_scenario *scenario;
    sw_status status;
} shelf;

static void shelf_write(const shelf *is, const char *name, const char *text, size_t length) {
    char path[160];
    snprintf(path, sizeof path, "%s/%s", is->folder, name);
    FILE *file = fopen(path, "wb");
    cr_assert_not_null(file, "%s", path);
    cr_assert_eq(fwrite(text, 1, length, file), length);
    cr_assert_eq(fclose(file), 0);
}

/* `text` with its one `from` turned into `to`; NULL when it is not there once. */
static char *shelf_changed(const char *text, const char *from, const char *to) {
    const char *at = strstr(text, from);
    if (at == NULL)
        return NULL;
    size_t length = strlen(text) + strlen(to) + 1;
    char *changed = malloc(length);
    snprintf(changed, length, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
    return changed;
}

/* Writes every file, the one called `name` with `from` turned into `to`. */
static shelf shelf_make(const char *name, const char *from, const char *to) {
    shelf is = {.folder = "/tmp/swapworth-check-XXXXXX"};
    char path[160];
    cr_assert_not_null(mkdtemp(is.folder));
    snprintf(is.catalog, sizeof is.catalog, "%s/catalog", is.folder);
    snprintf(is.job, sizeof is.job, "%s/jobs/job.json", is.folder);
    static const char *const folders[] = {"catalog", "catalog/parts", "jobs"};
    for (size_t i = 0; i < COUNT(folders); i++) {
        snprintf(path, sizeof path, "%s/%s", is.folder, folders[i]);
        cr_assert_eq(mkdir(path, 0700), 0);
    }
    for (size_t i = 0; i < COUNT(shelf_files); i++) {
        const shelf_file *file = &shelf_files[i];
        char *changed = NULL;
        if (name != NULL && strcmp(name, file->name) == 0) {
            changed = shelf_changed(file->text, from, to);
            cr_assert_not_null(changed, "%s holds %s", name, from);
        }
        const char *text = changed == NULL ? file->text : changed;
        shelf_write(&is, file->name, text, strlen(text));
        free(changed);
    }
    is.complaints = sw_complaints_new();
    return is;
}

static void shelf_remove(const char *folder) {
    char path[512];
    DIR *open = opendir(folder);
    if (open == NULL)
        return;
    for (struct dirent *entry = readdir(open); entry != NULL; entry = readdir(open)) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        if (remove(path) != 0)
            shelf_remove(path);
    }
    closedir(open);
    rmdir(folder);
}

static void shelf_read(shelf *is) {
    is->status = sw_scenario_read(&is->scenario, is->job, NULL, is->complaints);
}

static void shelf_free(shelf *is) {
    sw_scenario_free(is->scenario);
    sw_complaints_free(is->complaints);
    shelf_remove(is->folder);
}

/* The first complaint in words, for messages. */
static const char *shelf_said(const shelf *is) {
    const sw_complaint *first = sw_complaints_get(is->complaints, 0);
    return first == NULL ? "(nothing)" : first->what;
}

#endif
