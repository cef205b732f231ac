/* Reads a copied job, its catalog's files beside it, and writes it back. */
#include "job.h"

#include <dirent.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

_Noreturn void die(const char *form, ...) {
    va_list args;
    va_start(args, form);
    fputs("metamorphic: ", stderr);
    vfprintf(stderr, form, args);
    fputc('\n', stderr);
    va_end(args);
    exit(2);
}

void *grown(void *old, size_t size) {
    void *all = realloc(old, size > 0 ? size : 1);
    if (all == NULL)
        die("out of memory");
    return all;
}

char *joined(const char *a, const char *b, const char *c) {
    size_t size = strlen(a) + strlen(b) + strlen(c) + 1;
    char *all = grown(NULL, size);
    snprintf(all, size, "%s%s%s", a, b, c);
    return all;
}

int64_t thousandths(const char *text) {
    const char *at = text;
    bool minus = *at == '-';
    int64_t sum = 0;
    int digits = -1;
    for (at += minus; *at != '\0'; at++) {
        if (*at == '.' && digits < 0) {
            digits = 0;
            continue;
        }
        if (*at < '0' || *at > '9' || digits == 3 || sum > INT64_MAX / 20000)
            die("\"%s\" is no amount", text);
        sum = sum * 10 + (*at - '0');
        digits += digits >= 0;
    }
    for (digits = digits < 0 ? 0 : digits; digits < 3; digits++)
        sum *= 10;
    return minus ? -sum : sum;
}

/* Without trailing zeros: no currency is then given more digits than it has. */
char *amount(int64_t sum) {
    char text[48];
    int end = snprintf(text, sizeof text, "%" PRId64 ".%03" PRId64, sum / 1000, sum % 1000);
    while (text[end - 1] == '0')
        end--;
    end -= text[end - 1] == '.';
    text[end] = '\0';
    return joined(text, "", "");
}

static char *whole_file(const char *path) {
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        die("cannot read %s", path);
    char *text = NULL;
    size_t length = 0, got;
    do {
        text = grown(text, length + 65537);
        got = fread(text + length, 1, 65536, file);
        length += got;
    } while (got > 0);
    text[length] = '\0';
    fclose(file);
    return text;
}

cJSON *json_file(const char *path) {
    char *text = whole_file(path);
    cJSON *root = cJSON_Parse(text);
    if (root == NULL)
        die("%s is not JSON", path);
    free(text);
    return root;
}

static void append_field(char ***fields, size_t *count, char *text, size_t length) {
    *fields = grown(*fields, (*count + 2) * sizeof **fields);
    text[length] = '\0';
    (*fields)[(*count)++] = joined(text, "", "");
    (*fields)[*count] = NULL;
}

/* One row from *from on; RFC 4180. */
static char **csv_row(const char **from) {
    char **fields = NULL, *field = grown(NULL, strlen(*from) + 1);
    size_t count = 0, length = 0;
    bool quoted = false;
    const char *at = *from;
    for (; *at != '\0' && (quoted || *at != '\n'); at++) {
        if (*at == '"' && quoted && at[1] == '"')
            field[length++] = *at++;
        else if (*at == '"')
            quoted = !quoted;
        else if (*at == ',' && !quoted) {
            append_field(&fields, &count, field, length);
            length = 0;
        } else if (quoted || *at != '\r')
            field[length++] = *at;
    }
    append_field(&fields, &count, field, length);
    free(field);
    *from = at + (*at == '\n');
    return fields;
}

void append_row(Table *table, char **row) {
    table->rows = grown(table->rows, (table->count + 1) * sizeof *table->rows);
    table->rows[table->count++] = row;
}

static void read_listings(Job *job) {
    char *path = joined(job->folder, "/", "listings.csv"), *text = whole_file(path);
    for (const char *at = text; *at != '\0';)
        append_row(&job->listings, csv_row(&at));
    const char *const head[] = {"part", "seller", "price"};
    for (size_t i = 0; i < 3; i++)
        if (job->listings.count == 0 || job->listings.rows[0][i] == NULL ||
            strcmp(job->listings.rows[0][i], head[i]) != 0)
            die("%s has another header", path);
    for (size_t r = 1; r < job->listings.count; r++)
        for (size_t i = 0; i < 3; i++)
            if (job->listings.rows[r][i] == NULL)
                die("%s: row %zu is too short", path, r + 1);
    free(text);
    free(path);
}

static void write_field(FILE *file, const char *text) {
    if (strpbrk(text, ",\"\r\n") == NULL) {
        fputs(text, file);
        return;
    }
    fputc('"', file);
    for (; *text != '\0'; text++)
        fprintf(file, *text == '"' ? "\"%c" : "%c", *text);
    fputc('"', file);
}

void write_job(const Job *job) {
    char *path = joined(job->folder, "/", "listings.csv");
    FILE *file = fopen(path, "wb");
    if (file == NULL)
        die("cannot write %s", path);
    for (size_t r = 0; r < job->listings.count; r++)
        for (char **field = job->listings.rows[r]; *field != NULL; field++) {
            write_field(file, *field);
            fputc(field[1] == NULL ? '\n' : ',', file);
        }
    if (fclose(file) != 0)
        die("cannot write %s", path);
    free(path);
    for (size_t i = 0; i < job->count; i++) {
        char *text = cJSON_Print(job->docs[i].root);
        file = fopen(job->docs[i].path, "wb");
        if (text == NULL || file == NULL || fputs(text, file) < 0 || fclose(file) != 0)
            die("cannot write %s", job->docs[i].path);
        cJSON_free(text);
    }
}

static int is_json(const struct dirent *entry) {
    size_t length = strlen(entry->d_name);
    return length > 5 && strcmp(entry->d_name + length - 5, ".json") == 0;
}

static void read_folder(Job *job, const char *inside) {
    char *folder = joined(job->folder, inside, "/");
    struct dirent **found;
    int count = scandir(folder, &found, is_json, alphasort);
    if (count < 0)
        die("cannot list %s", folder);
    job->docs = grown(job->docs, (job->count + (size_t)count) * sizeof *job->docs);
    for (int i = 0; i < count; i++) {
        Doc *doc = &job->docs[job->count++];
        doc->path = joined(folder, found[i]->d_name, "");
        doc->root = json_file(doc->path);
        free(found[i]);
    }
    free(found);
    free(folder);
}

void open_job(Job *job, const char *folder) {
    *job = (Job){.folder = joined(folder, "", "")};
    read_folder(job, "");
    read_folder(job, "/parts");
    read_listings(job);
}

void close_job(Job *job) {
    for (size_t i = 0; i < job->count; i++) {
        cJSON_Delete(job->docs[i].root);
        free(job->docs[i].path);
    }
    for (size_t r = 0; r < job->listings.count; r++) {
        for (char **field = job->listings.rows[r]; *field != NULL; field++)
            free(*field);
        free(job->listings.rows[r]);
    }
    free(job->listings.rows);
    free(job->docs);
    free(job->folder);
}

cJSON *member(const cJSON *in, const char *name) {
    return in == NULL ? NULL : cJSON_GetObjectItemCaseSensitive(in, name);
}

cJSON *in_job(const Job *job, const char *name, const char *list) {
    char *path = joined(job->folder, "/", name);
    cJSON *root = NULL;
    for (size_t i = 0; i < job->count; i++)
        if (strcmp(job->docs[i].path, path) == 0)
            root = job->docs[i].root;
    if (root == NULL)
        die("there is no %s", path);
    free(path);
    return list == NULL ? root : member(root, list);
}

const char *text_of(const cJSON *in, const char *name) {
    const cJSON *text = member(in, name);
    return cJSON_IsString(text) ? text->valuestring : "";
}
