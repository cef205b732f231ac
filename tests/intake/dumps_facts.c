/* Dumps against the table of facts, and folders of dumps. */
#include "dumps.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- the table ---------------------------------------------------------------------------- */

typedef struct block {
    char *file, *kind;
    lines statements, privates, faults;
} block;

static void compare(const char *file, const char *what, lines *wanted, lines *found) {
    sort_lines(wanted);
    sort_lines(found);
    for (size_t i = 0; i < wanted->count; i++)
        check(has_line(found, wanted->all[i]), "%s: %s missing: %s", file, what, wanted->all[i]);
    for (size_t i = 0; i < found->count; i++)
        check(has_line(wanted, found->all[i]), "%s: %s too many: %s", file, what, found->all[i]);
    check(wanted->count == found->count, "%s: %zu of %s, not %zu", file, found->count, what,
          wanted->count);
}

/* A fault has the place, and holds the text. */
static bool is_fault(const char *wanted, const char *found) {
    const char *text =
        strstr(wanted, " | ") != NULL ? strstr(wanted, " | ") + 3 : strchr(wanted, '|') + 2;
    size_t place = (size_t)(text - wanted);
    if (strncmp(wanted, "! |", 3) == 0)
        return strncmp(found, "!  | ", 5) == 0 && strstr(found, text) != NULL;
    return strncmp(wanted, found, place) == 0 && strstr(found, text) != NULL;
}

static void compare_faults(const block *of, const lines *found) {
    for (size_t i = 0; i < of->faults.count; i++) {
        bool met = false;
        for (size_t j = 0; j < found->count; j++)
            met |= is_fault(of->faults.all[i], found->all[j]);
        check(met, "%s: not told: %s", of->file, of->faults.all[i]);
    }
    for (size_t j = 0; j < found->count && found->count != of->faults.count; j++)
        check(false, "%s: told %s", of->file, found->all[j]);
}

static void settle(block *of, const char *folder) {
    if (of->file == NULL)
        return;
    char *path = joined("%s/%s", folder, of->file);
    size_t length = 0;
    char *bytes = whole_file(&length, path);
    said is;
    ask(&is, bytes, length, true);
    check(strcmp(sw_dump_kind_name(is.kind), of->kind) == 0, "%s is taken for \"%s\"", of->file,
          sw_dump_kind_name(is.kind));
    compare(of->file, "statements", &of->statements, &is.statements);
    compare(of->file, "private things", &of->privates, &is.privates);
    compare_faults(of, &is.faults);
    free_said(&is);
    free(bytes);
    free(path);
    free(of->file);
    free(of->kind);
    free_lines(&of->statements);
    free_lines(&of->privates);
    free_lines(&of->faults);
    *of = (block){0};
}

static void take(block *into, const char *line, const char *folder) {
    if (line[0] == '=') {
        settle(into, folder);
        const char *bar = strstr(line, " |");
        into->file = joined("%.*s", (int)(bar - line - 2), line + 2);
        into->kind = joined("%s", bar[2] == '\0' ? "" : bar + 3);
    } else if (line[0] == '-') {
        add_line(&into->privates, joined("%s", line));
    } else if (line[0] == '!') {
        add_line(&into->faults, joined("%s", line));
    } else if (line[0] != '#' && line[0] != '\0') {
        add_line(&into->statements, joined("%s", line));
    }
}

void test_facts(const char *table, const char *folder) {
    size_t length = 0;
    char *bytes = whole_file(&length, table);
    block into = {0};
    for (size_t at = 0; at < length;) {
        char *end = memchr(bytes + at, '\n', length - at);
        size_t here = end == NULL ? length - at : (size_t)(end - bytes - (long)at);
        char *line = joined("%.*s", (int)here, bytes + at);
        take(&into, line, folder);
        free(line);
        at += here + 1;
    }
    settle(&into, folder);
    free(bytes);
}

/* ---- folders -------------------------------------------------------------------------------- */

static void write_file(const char *folder, const char *name, const char *bytes, size_t length) {
    char *path = joined("%s/%s", folder, name);
    FILE *file = fopen(path, "wb");
    if (file == NULL || fwrite(bytes, 1, length, file) != length || fclose(file) != 0) {
        fprintf(stderr, "%s cannot be written\n", path);
        exit(2);
    }
    free(path);
}

static void write_text(const char *folder, const char *name, const char *text) {
    write_file(folder, name, text, strlen(text));
}

typedef struct asked {
    sw_arena *arena;
    sw_complaints *faults, *complaints;
    sw_dumps dumps;
    sw_status status;
} asked;

static asked read_paths(const char *const *paths, size_t count) {
    asked is = {
        .arena = sw_arena_new(), .faults = sw_complaints_new(), .complaints = sw_complaints_new()};
    if (is.arena == NULL || is.faults == NULL || is.complaints == NULL)
        exit(2);
    is.status = sw_dumps_read(&is.dumps, is.arena, paths, count, is.faults, is.complaints);
    return is;
}

static void done(asked *is) {
    sw_complaints_free(is->faults);
    sw_complaints_free(is->complaints);
    sw_arena_free(is->arena);
}

static bool is_told(const sw_complaints *of, const char *file, const char *text) {
    const sw_complaint *one = NULL;
    for (size_t i = 0; (one = sw_complaints_get(of, i)) != NULL; i++)
        if (strstr(one->file, file) != NULL &&
            (strstr(one->what, text) != NULL || strstr(one->why, text) != NULL) &&
            one->mend[0] != '\0')
            return true;
    return false;
}

static void test_conflict(const char *folder) {
    const char *paths[] = {folder};
    write_text(folder, "b.json",
               "{\"blockdevices\":[{\"name\":\"sda\",\"type\":\"disk\",\"size\":2000}]}");
    write_text(folder, "a.json",
               "{\"blockdevices\":[{\"name\":\"sda\",\"type\":\"disk\",\"size\":1000}]}");
    write_text(folder, ".hidden",
               "{\"blockdevices\":[{\"name\":\"sdb\",\"type\":\"disk\",\"size\":1000}]}");
    write_text(folder, "letter.txt", "Dear shop, my computer is slow.\n");
    write_text(folder, "nothing.edid", "");
    asked is = read_paths(paths, 1);
    const sw_statement *all = is.dumps.statements.all;
    check(is.status == SW_OK && is.dumps.count == 4, "a folder of five: %zu files", is.dumps.count);
    check(is.dumps.statements.count == 2 && all[0].milli == 1000000 && all[1].milli == 2000000 &&
              strcmp(all[0].file, "a.json") == 0 && strcmp(all[1].file, "b.json") == 0,
          "of a conflict both are kept, in the order of names, named without the folder");
    check(is_told(is.faults, "letter.txt", "none of the dumps"), "an unknown file is told");
    check(is_told(is.faults, "nothing.edid", "empty"), "an empty file is told");
    check(sw_complaints_count(is.faults) == 2, "and nothing else");
    done(&is);
}

static void test_names(const char *folder, const char *data) {
    char *inner = joined("%s/inner", folder), *first = joined("%s/survey/display.edid", data);
    char *second = joined("%s/display.edid", inner);
    size_t length = 0;
    char *bytes = whole_file(&length, first);
    mkdir(inner, 0700);
    write_file(inner, "display.edid", bytes, length);
    const char *paths[] = {first, second};
    asked is = read_paths(paths, 2);
    check(is.status == SW_OK && is.dumps.count == 2 &&
              strcmp(is.dumps.files[0].name, "display.edid") == 0 &&
              strcmp(is.dumps.files[1].name, "display.edid #2") == 0 &&
              is.dumps.files[1].statements > 0,
          "two files of one name are two displays");
    done(&is);
    free(bytes);
    free(inner);
    free(first);
    free(second);
}

static void test_refused(const char *folder) {
    char *pipe_path = joined("%s/pipe", folder), *missing = joined("%s/missing", folder);
    const char *pipes[] = {pipe_path}, *none[] = {missing}, *folders[] = {folder};
    mkfifo(pipe_path, 0600);
    asked is = read_paths(pipes, 1);
    check(is.status == SW_CANNOT_READ && is_told(is.complaints, "pipe", "neither a file"),
          "a pipe is not waited for");
    done(&is);
    is = read_paths(none, 1);
    check(is.status == SW_CANNOT_READ && is_told(is.complaints, "missing", "No such file"),
          "a path that is not there is told");
    done(&is);
    is = read_paths(folders, 1);
    check(is.status == SW_OK && is.dumps.count == 4, "a pipe in a folder is no file of it");
    done(&is);
    free(pipe_path);
    free(missing);
}

static void test_limits(const char *folder) {
    char *many = joined("%s/many", folder), *large = joined("%s/large", folder);
    const char *paths[] = {many}, *larges[] = {large};
    mkdir(many, 0700);
    mkdir(large, 0700);
    for (int i = 0; i < 1000; i++) {
        char *name = joined("%04d", i);
        write_text(many, name, "{}");
        free(name);
    }
    asked is = read_paths(paths, 1);
    check(is.status == SW_OK && is.dumps.count == 1000, "1,000 files are read");
    done(&is);
    write_text(many, "one-more", "{}");
    is = read_paths(paths, 1);
    check(is.status == SW_BAD_DATA && is_told(is.complaints, "many", "1,000"), "1,001 are not");
    done(&is);
    char *path = joined("%s/over", large);
    write_text(large, "over", "{\"lscpu\":[]}");
    if (truncate(path, (off_t)20 * 1024 * 1024 + 1) != 0)
        exit(2);
    write_text(large, "small", "{\"lscpu\":[{\"field\":\"Model name:\",\"data\":\"EX\"}]}");
    is = read_paths(larges, 1);
    check(is.status == SW_OK && is.dumps.statements.count == 1 &&
              is_told(is.faults, "over", "20 MiB"),
          "a file over 20 MiB is left aside, its neighbour is read");
    done(&is);
    free(path);
    free(many);
    free(large);
}

/* Everything the survey holds, of all kinds, in one reading. */
static void test_survey(const char *data) {
    char *survey = joined("%s/survey", data);
    const char *paths[] = {survey};
    asked is = read_paths(paths, 1);
    size_t kinds[SW_DUMP_KINDS] = {0}, sum = 0;
    for (size_t i = 0; i < is.dumps.count; i++) {
        const sw_dumps_file *file = &is.dumps.files[i];
        kinds[file->kind]++;
        sum += file->statements;
        check(i == 0 || strcmp(is.dumps.files[i - 1].name, file->name) < 0, "byte order of names");
        check((file->kind == SW_DUMP_NONE) == (strcmp(file->name, "nvmesmart.json") == 0) &&
                  (file->statements > 0) == (file->kind != SW_DUMP_NONE),
              "survey/%s: %zu statements", file->name, file->statements);
    }
    check(is.status == SW_OK && is.dumps.count == 14 && sum == is.dumps.statements.count,
          "the survey is read whole");
    check(kinds[SW_DUMP_SMBIOS] == 2 && kinds[SW_DUMP_EDID] == 2 && kinds[SW_DUMP_SMARTCTL] == 2 &&
              kinds[SW_DUMP_DMIDECODE] == 1 && kinds[SW_DUMP_LSHW] == 1 && kinds[SW_DUMP_NONE] == 1,
          "the survey is told by what it holds");
    done(&is);
    free(survey);
}

void test_folders(const char *data) {
    char folder[] = "/tmp/dumps-XXXXXX";
    if (mkdtemp(folder) == NULL)
        exit(2);
    test_survey(data);
    test_conflict(folder);
    test_names(folder, data);
    test_refused(folder);
    test_limits(folder);
    char *remove = joined("rm -rf '%s'", folder);
    check(system(remove) == 0, "the folder is gone");
    free(remove);
}
